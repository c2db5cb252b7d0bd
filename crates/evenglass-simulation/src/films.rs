//! Films: from a scenario's faces to the heat each point of the glass exchanges.
//!
//! [`Films`] is what surrounds the glass between two neighbouring [`event_times`].
//! Inside such a stretch every input runs straight, so that [`Films::enter`]
//! can do all the physics that costs powers, and [`Surroundings::exchange`] is left
//! with a table look-up and a handful of products for each point.
//!
//! * `law` — `given`, `still`, `fan-behind`, `breeze`: which law acts on a face
//! * `natural` — free convection from tables in the fourth root of the Rayleigh number
//! * `forced` — what a fan or the wind adds
//! * `skin` — radiation and insulation around all of them
//! * `timing` — when and where films jump or have kinks
//!
//! Left out, and said in `docs/physics/films.md`: the warming of the air along its
//! way, the heat of the fan's motor, lopsided films (their angular mean acts).

mod forced;
mod law;
mod natural;
mod notes;
mod skin;
mod timing;

use evenglass_disc::{BoundaryPoint, Exchange, FaceName, Surroundings};
use evenglass_scenario::scenario::{Conditions, Face, Film, RadiantSurroundings};
use evenglass_scenario::{Profile, Scenario, Side};
use evenglass_units::Length;

use crate::result::Warning;
use law::{Instant, Law};
use natural::{AirCurve, Tables};
use notes::Notes;
use skin::Skin;
pub(crate) use timing::{breaks, event_times};

/// Stefan–Boltzmann constant [W m⁻² K⁻⁴], exact in the SI of 2019.
const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// What surrounds the glass during one stretch of the night.
pub(crate) struct Films {
    night: Conditions,
    shape: Shape,
    faces: Vec<FaceFilms>,
    stretch: Stretch,
    /// Night air \[K\].
    night_air: Straight,
    air: AirCurve,
    tables: Tables,
    notes: Notes,
}

/// The lengths film laws ask for \[m\].
#[derive(Debug, Clone, Copy)]
struct Shape {
    diameter: f64,
    hole_diameter: f64,
    rim_height: f64,
    hole_height: f64,
}

/// A stretch of time in which every input runs straight \[s\].
#[derive(Debug, Clone, Copy)]
struct Stretch {
    from: f64,
    to: f64,
}

/// A quantity at the two ends of the stretch.
#[derive(Debug, Clone, Copy)]
struct Straight {
    start: f64,
    end: f64,
}

/// One face, the points on it, and the law that acts there now.
struct FaceFilms {
    name: FaceName,
    face: Face,
    /// Index of each of the face's points in the caller's arrays, `[points of the face]`.
    index: Vec<usize>,
    /// Radius (front, back) or height (rim, hole) of each \[m\], `[points of the face]`.
    position: Vec<f64>,
    law: Law,
    /// Temperature of what the face radiates to \[K\]; the night air's where absent.
    radiant: Option<Straight>,
}

impl Shape {
    fn of(scenario: &Scenario) -> Self {
        let mirror = &scenario.mirror;
        let diameter = mirror.diameter.metres();
        let hole_diameter = mirror.hole_diameter.map_or(0.0, Length::metres);
        let rim_height = mirror.edge_thickness.metres();
        let sag = mirror.focal_ratio.map_or(0.0, |focal_ratio| {
            let radius_of_curvature = 2.0 * focal_ratio * diameter;
            (diameter.powi(2) - hole_diameter.powi(2)) / (8.0 * radius_of_curvature)
        });
        Self { diameter, hole_diameter, rim_height, hole_height: (rim_height - sag).max(0.0) }
    }
}

impl Stretch {
    /// The part of the stretch that has passed at a time, 0 to 1.
    fn part(self, time: f64) -> f64 {
        if self.to > self.from { (time - self.from) / (self.to - self.from) } else { 0.0 }
    }

    /// A profile within the stretch, jumps at its ends resolved to the inside.
    fn straight(self, profile: &Profile) -> Straight {
        let start = profile.at(self.from, Side::After);
        let end = if self.to > self.from { profile.at(self.to, Side::Before) } else { start };
        Straight { start, end }
    }
}

impl Straight {
    fn at(self, part: f64) -> f64 {
        self.start + (self.end - self.start) * part
    }
}

impl Films {
    /// Films of a scenario at the boundary points of a disc, within no stretch yet:
    /// [`Films::enter`] comes before the first exchange.
    ///
    /// * `points` — in the order in which temperatures will be given, `[points]`
    pub(crate) fn new(scenario: &Scenario, points: &[BoundaryPoint]) -> Self {
        let mut notes = Notes::default();
        let night = scenario.night.clone();
        let shape = Shape::of(scenario);
        let faces = faces_of(scenario)
            .map(|(name, face)| {
                notes.about_face(name, face, &night);
                FaceFilms::new(name, face, points)
            })
            .collect();
        notes.about_cover(&night);
        notes.about_glass(night.glass_temperature);
        let stretch = Stretch { from: 0.0, to: 0.0 };
        let air = AirCurve::of(&night, stretch);
        let tables = Tables::new(shape, air.prandtl());
        let night_air = stretch.straight(&night.air);
        let mut films = Self { night, shape, faces, stretch, night_air, air, tables, notes };
        films.settle();
        films
    }

    /// Moves to the stretch between two neighbouring event times; what jumps there has
    /// its value after the jump at `from_s` and before the jump at `to_s`.
    pub(crate) fn enter(&mut self, from_s: f64, to_s: f64) {
        self.stretch = Stretch { from: from_s, to: to_s };
        self.night_air = self.stretch.straight(&self.night.air);
        self.air = AirCurve::of(&self.night, self.stretch);
        self.settle();
        self.notes.about_air(self.night_air);
        for face in &self.faces {
            let rim = face.position.iter().copied().reduce(f64::max);
            self.notes.about_law(&face.law, rim, &self.air, &self.tables);
        }
    }

    /// What left its range so far: each code once, with the number of stretches and
    /// faces in which it happened.
    pub(crate) fn warnings(&self) -> Vec<Warning> {
        self.notes.warnings()
    }

    /// Brings tables and laws to the present stretch.
    fn settle(&mut self) {
        let altitude = self.stretch.straight(&self.night.altitude).at(0.5);
        if self.faces.iter().any(|face| !matches!(face.face.film, Film::Given { .. })) {
            self.tables.tilt_to(altitude);
        }
        for face in &mut self.faces {
            face.settle(self.stretch, &self.night, self.shape, &self.air);
        }
    }
}

impl Surroundings for Films {
    fn exchange(&self, time_s: f64, temperature: &[f64], exchange: &mut [Exchange]) {
        let part = self.stretch.part(time_s);
        let air = self.night_air.at(part);
        let instant = Instant { part, air, free: self.air.at(part), tables: &self.tables };
        for face in &self.faces {
            let skin = face.skin(part, air);
            face.law.fill(&instant, &skin, &face.index, (temperature, exchange));
        }
    }
}

impl FaceFilms {
    fn new(name: FaceName, face: &Face, points: &[BoundaryPoint]) -> Self {
        let on_face = points.iter().enumerate().filter(|(_, point)| point.face == name);
        let (index, position) = on_face
            .map(|(index, point)| match name {
                FaceName::Front | FaceName::Back => (index, point.radius_m),
                FaceName::Rim | FaceName::Hole => (index, point.height_m),
            })
            .unzip();
        Self { name, face: face.clone(), index, position, law: Law::Absent, radiant: None }
    }

    fn settle(&mut self, stretch: Stretch, night: &Conditions, shape: Shape, air: &AirCurve) {
        self.radiant = match self.face.radiation.as_ref().map(|radiation| &radiation.surroundings) {
            Some(RadiantSurroundings::Temperature(profile)) => Some(stretch.straight(profile)),
            Some(RadiantSurroundings::Air) | None => None,
        };
        let before = std::mem::replace(&mut self.law, Law::Absent);
        let site = law::Site { name: self.name, position: &self.position, shape };
        self.law =
            Law::settled(before, &self.face.film, &site, &law::Weather { stretch, night, air });
    }

    fn skin(&self, part: f64, air: f64) -> Skin {
        let emissivity = self.face.radiation.as_ref().map_or(0.0, |radiation| radiation.emissivity);
        let radiant = self.radiant.map_or(air, |straight| straight.at(part));
        let layer = self.face.insulation.filter(|layer| layer.thickness.metres() > 0.0);
        Skin {
            emission: emissivity * STEFAN_BOLTZMANN,
            radiant,
            layer: layer.map(|l| l.conductivity.w_per_m_k() / l.thickness.metres()),
        }
    }
}

/// The faces of a scenario by name.
fn faces_of(scenario: &Scenario) -> impl Iterator<Item = (FaceName, &Face)> {
    let solid = [
        (FaceName::Front, &scenario.front),
        (FaceName::Back, &scenario.back),
        (FaceName::Rim, &scenario.rim),
    ];
    solid.into_iter().chain(scenario.hole.as_ref().map(|face| (FaceName::Hole, face)))
}

#[cfg(test)]
mod tests;
