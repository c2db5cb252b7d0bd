//! Films: from a scenario's faces to the heat each point of the glass exchanges.
//!
//! [`Films`] is what surrounds the glass between two neighbouring [`event_times`].
//! Inside such a stretch every input runs straight, so that [`Films::enter`]
//! can do all the physics that costs powers, and [`Surroundings::exchange`] is left
//! with a table look-up and a handful of products for each point.
//!
//! * `law` — `given`, `still`, `fan-behind`, `breeze`: which law acts on a face
//! * `natural` — free convection from tables in the fourth root of the Rayleigh number
//! * `still` — the same on one plate, for a single temperature
//! * `forced` — what a fan or the wind adds
//! * `stream`, `moved_air` — air that fans move along the glass, warmed on its way
//! * `enclosure` — the wall around the mirror and the air inside
//! * `skin` — radiation and insulation around all of them
//! * `timing` — when and where films jump or have kinks
//! * `sectors`, `lopsided` — films that differ around the axis, and why they do

mod air_state;
mod change;
mod enclosure;
mod face;
mod following;
pub(crate) mod forced;
mod law;
mod lopsided;
mod moved_air;
mod natural;
mod notes;
mod sectors;
mod skin;
mod still;
mod stream;
mod timing;

use std::sync::Arc;

use evenglass_disc::{
    Body, BoundaryPoint, Exchange, ExchangeState, Exchanges, FaceName, Surroundings, Temperatures,
};
use evenglass_scenario::scenario::{Conditions, Face, Film};
use evenglass_scenario::{Profile, Scenario, Side};
use evenglass_units::Length;

use crate::result::Warning;
pub(crate) use air_state::AirState;
use enclosure::{Enclosure, FromGlass};
use face::FaceFilms;
pub(crate) use law::usual_air;
use law::{Instant, Law};
use lopsided::Turn;
pub(crate) use lopsided::{Shapes, variation};
use moved_air::MovedAir;
use natural::{AirCurve, Tables};
use notes::Notes;
pub(crate) use sectors::Sectors;
pub(crate) use still::free_film;
use stream::{Along, End, Stream, Taken};
pub(crate) use timing::{breaks, event_times, fan_breaks};

/// Stefan–Boltzmann constant [W m⁻² K⁻⁴], exact in the SI of 2019.
pub(crate) const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// What surrounds the glass during one stretch of the night.
pub(crate) struct Films {
    night: Conditions,
    shape: Shape,
    faces: Vec<FaceFilms>,
    stretch: Stretch,
    /// Night air \[K\].
    night_air: Straight,
    air: AirCurve,
    tables: Arc<Tables>,
    moved: Option<MovedAir>,
    enclosure: Option<Enclosure>,
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

/// Temperatures around the glass at one instant \[K\].
#[derive(Debug, Clone, Copy)]
struct Around {
    night: f64,
    /// Air at the glass: that inside the tube or box, or the night's.
    air: f64,
    /// What back, rim and hole look at.
    wall: f64,
    /// What the front looks at.
    above: f64,
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
    /// * `areas` — true surface that each answers for \[m²\], `[points]`
    /// * `sector` — angle around the axis \[rad\] at which films are taken, and what makes them
    ///   differ there; `None` is their mean
    pub(crate) fn new(
        scenario: &Scenario,
        (points, areas): (&[BoundaryPoint], &[f64]),
        sector: Option<(f64, &Shapes)>,
    ) -> Self {
        let mut notes = Notes::default();
        let night = scenario.night.clone();
        let shape = Shape::of(scenario);
        let faces = faces_of(scenario)
            .map(|(name, face)| {
                notes.about_face(name, face, &night);
                let films = FaceFilms::new(name, face, (points, areas));
                let films = match sector {
                    Some((angle, shapes)) => films.at_angle(angle, shapes),
                    None => films,
                };
                notes.about_windward(&films);
                films
            })
            .collect();
        notes.about_cover(scenario);
        notes.about_arrangement(scenario);
        notes.about_glass(night.glass_temperature);
        let stretch = Stretch { from: 0.0, to: 0.0 };
        let air = AirCurve::of(&night, stretch);
        let tables = Arc::new(Tables::new(shape, air.prandtl()));
        let night_air = stretch.straight(&night.air);
        let turn = sector.map(|(angle, shapes)| Turn { angle, variation: shapes.variation });
        let moved = MovedAir::of(scenario, turn);
        let enclosure = Enclosure::of(scenario, shape);
        Self { night, shape, faces, stretch, night_air, air, tables, moved, enclosure, notes }
    }

    /// Moves to the stretch between two neighbouring event times; what jumps there has
    /// its value after the jump at `from_s` and before the jump at `to_s`.
    pub(crate) fn enter(&mut self, from_s: f64, to_s: f64) {
        self.move_to(Stretch { from: from_s, to: to_s });
        let altitude = self.stretch.straight(&self.night.altitude).at(0.5);
        let free = |face: &FaceFilms| !matches!(face.face.film, Film::Given { .. });
        if self.faces.iter().any(free) && !self.tables.are_at(altitude) {
            Arc::make_mut(&mut self.tables).tilt_to(altitude);
        }
        if let Some(moved) = &mut self.moved {
            let requested = self.stretch.straight(&self.night.fan_speed).at(0.5);
            moved.enter(self.stretch, (requested, self.air.pressure()), &self.faces);
        }
        self.settle();
        self.notes.about_air(self.night_air);
        for face in &self.faces {
            let rim = face.position.iter().copied().reduce(f64::max);
            self.notes.about_law(&face.law, rim, &self.air, &self.tables);
        }
        if let Some(moved) = &self.moved {
            let requested = self.stretch.straight(&self.night.fan_speed).at(0.5);
            let shelter = self.enclosure.as_ref().map_or(1.0, Enclosure::shelter);
            let wind =
                self.night.wind.as_ref().map_or(0.0, |wind| self.stretch.straight(wind).at(0.5));
            self.notes.about_moved_air(moved, requested, shelter * wind);
        }
    }

    /// The bodies beside the glass at the start of the night.
    pub(crate) fn start_of_bodies(&self) -> Vec<Body> {
        self.enclosure.as_ref().map_or_else(Vec::new, |enclosure| enclosure.bodies().to_vec())
    }

    /// What left its range so far: each code once, with the number of stretches and
    /// faces in which it happened.
    pub(crate) fn warnings(&self) -> Vec<Warning> {
        self.notes.warnings()
    }

    /// The same at another angle than `first`, which has moved there: what is alike around the
    /// axis is taken from it.
    pub(crate) fn enter_beside(&mut self, first: &Self) {
        self.move_to(first.stretch);
        self.tables = Arc::clone(&first.tables);
        if let (Some(moved), Some(first)) = (&mut self.moved, &first.moved) {
            moved.enter_beside(first, &self.faces);
        }
        self.settle();
    }

    fn move_to(&mut self, stretch: Stretch) {
        self.stretch = stretch;
        self.night_air = stretch.straight(&self.night.air);
        self.air = AirCurve::of(&self.night, stretch);
    }

    /// Brings laws, walls and the way of moved air to the present stretch.
    fn settle(&mut self) {
        let middle = self.air.middle();
        if let (Some(moved), Some(enclosure)) = (&mut self.moved, &self.enclosure) {
            let cover = enclosure.cover(&self.night, self.stretch.from);
            moved.settle(cover, |flow| enclosure.preheating(flow, middle));
        }
        let moved = self.moved.as_ref();
        let flows = moved.map_or((0.0, 0.0), |moved| (moved.running().flow, moved.through_mouth()));
        if let Some(enclosure) = &mut self.enclosure {
            enclosure.settle(&self.night, self.stretch, middle, flows);
        }
        let weather = law::Weather { stretch: self.stretch, night: &self.night, air: &self.air };
        let sheltered = self.enclosure.as_ref().map(Enclosure::shelter);
        for face in &mut self.faces {
            face.settle(&weather, self.shape, (self.moved.as_ref(), sheltered));
        }
    }

    /// What stands around the glass at one instant.
    fn around(&self, part: f64, bodies: &[f64]) -> Around {
        let night = self.night_air.at(part);
        match &self.enclosure {
            None => Around { night, air: night, wall: night, above: night },
            Some(enclosure) => {
                let (wall, air) = (bodies[enclosure::WALL], bodies[enclosure::INSIDE]);
                Around { night, air, wall, above: enclosure.seen_by_front(part, wall) }
            }
        }
    }

    /// Fills in every face; returns what glass and moved air do to the enclosure, and the
    /// heat with which each body of moved air leaves the glass \[W\].
    fn fill(
        &self,
        part: f64,
        around: Around,
        (temperature, exchange): (&[f64], &mut [Exchange]),
    ) -> (FromGlass, [f64; 2]) {
        let instant = self.instant(part, around);
        let mut from_glass = FromGlass::default();
        for face in &self.faces {
            if !matches!(face.law, Law::Stream { .. }) {
                let skin = face.skin(part, around);
                face.law.fill(&instant, &skin, &face.place(), (temperature, &mut *exchange));
                if self.enclosure.is_some() {
                    from_glass.to_air += face.heat_to_air(&skin, (temperature, exchange));
                }
            }
        }
        let mut leaving = [0.0; 2];
        let routes = self.moved.iter().flat_map(MovedAir::routes);
        for (route, leaving) in routes.zip(&mut leaving) {
            let mut heat = route.arriving(around.night, around.air, around.wall);
            for face in route.faces.iter().filter_map(|name| self.face(*name)) {
                let Some((stream, along)) = self.along(face, &instant, around) else { continue };
                let Taken { carried, given_up } =
                    stream.fill(heat, &along, (temperature, &mut *exchange));
                heat += carried;
                from_glass.to_air += given_up;
            }
            *leaving = heat;
            from_glass.preheated += route.wall_heat(around.night, around.air, around.wall);
            from_glass.preheating += route.capacity * route.preheating;
            let covered = self.enclosure.as_ref().is_some_and(Enclosure::is_covered);
            if covered && route.end == End::Above {
                from_glass.to_air += heat;
            }
        }
        if let Some(enclosure) = &self.enclosure {
            for face in &self.faces {
                if face.looks_at_wall() {
                    let skin = enclosure.received(face.name, &face.skin(part, around), around.wall);
                    from_glass.radiated += face.radiated(&skin, (temperature, exchange));
                }
            }
        }
        (from_glass, leaving)
    }

    /// The stream along a face, if there is one, and what its points need.
    fn along<'a>(
        &'a self,
        face: &'a FaceFilms,
        instant: &'a Instant<'_>,
        around: Around,
    ) -> Option<(&'a Stream, Along<'a>)> {
        let Law::Stream { outlook, stream, wind } = &face.law else { return None };
        let along = Along {
            outlook: *outlook,
            skin: face.skin(instant.part, around),
            place: face.place(),
            area: &face.area,
            wind: wind.as_ref().map(|wind| wind.at(instant.part)),
            around: around.air,
            night: around.night,
            free: &instant.free,
            tables: &self.tables,
        };
        Some((stream, along))
    }

    fn instant(&self, part: f64, around: Around) -> Instant<'_> {
        Instant {
            part,
            night: around.night,
            air: around.air,
            free: self.air.at(part),
            tables: &self.tables,
        }
    }

    fn face(&self, name: FaceName) -> Option<&FaceFilms> {
        self.faces.iter().find(|face| face.name == name)
    }

    /// Whether `[ventilation]` moves the air.
    pub(crate) fn moves_air(&self) -> bool {
        self.moved.is_some()
    }
}

impl Surroundings for Films {
    fn exchange(&self, time_s: f64, temperature: &[f64], exchange: &mut [Exchange]) {
        let part = self.stretch.part(time_s);
        let around = self.around(part, &[]);
        self.fill(part, around, (temperature, exchange));
    }

    fn bodies(&self) -> usize {
        if self.enclosure.is_some() { 2 } else { 0 }
    }

    fn is_coupled(&self) -> bool {
        self.moved.as_ref().is_some_and(|moved| moved.routes().next().is_some())
    }

    fn exchange_with_bodies(
        &self,
        time_s: f64,
        temperatures: &Temperatures<'_>,
        exchanges: Exchanges<'_>,
    ) {
        let part = self.stretch.part(time_s);
        let around = self.around(part, temperatures.bodies);
        let (from_glass, _) = self.fill(part, around, (temperatures.surface, exchanges.surface));
        if let Some(enclosure) = &self.enclosure {
            let bodies = (temperatures.bodies, exchanges.bodies);
            enclosure.exchange(part, around.night, bodies, &from_glass);
        }
    }

    fn follow(
        &self,
        time_s: f64,
        state: &ExchangeState<'_>,
        change: &Temperatures<'_>,
        flows: Exchanges<'_>,
    ) -> bool {
        let part = self.stretch.part(time_s);
        let from_glass = self.follow_glass(part, state, change, flows.surface);
        if let Some(enclosure) = &self.enclosure {
            enclosure.follow(change.bodies, &from_glass, flows.bodies);
        }
        true
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
