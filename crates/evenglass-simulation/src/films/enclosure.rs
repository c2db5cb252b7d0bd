//! What stands around the glass: a wall with a temperature of its own and the air inside.
//!
//! One lumped wall and one lumped volume of air (eqs. V-20 to V-26): the wall holds more
//! heat than the glass and warms the fans' air for half an hour, and outside it is
//! colder than the air under a clear sky.

use std::f64::consts::PI;

use evenglass_convection::{mixed, plate};
use evenglass_disc::{Body, BodyExchange, FaceName};
use evenglass_materials::moist_air::{AirProperties, dew_point};
use evenglass_materials::sky;
use evenglass_scenario::scenario::{Conditions, Cover};
use evenglass_scenario::telescope::{Form, Telescope};
use evenglass_scenario::ventilation::Arrangement;
use evenglass_scenario::{Scenario, Side};
use evenglass_units::{Length, Pressure, Temperature};

use super::skin::Skin;
use super::{STEFAN_BOLTZMANN, Shape, Straight, Stretch};

/// Index of the wall among the bodies.
pub(super) const WALL: usize = 0;
/// Index of the air inside.
pub(super) const INSIDE: usize = 1;

/// Film of still air on a wall, inside or out, at a few kelvin [W m⁻² K⁻¹]
/// (Churchill–Chu at 2 K and 0.5 to 1 m).
const STILL_FILM: f64 = 2.6;

/// Speed with which air trades places through an open mouth, over its whole area, of a
/// closed tube and of an open truss [m/s]: estimates, within a factor of two.
const MOUTH_CLOSED_WALLS: f64 = 0.03;
const MOUTH_OPEN_TRUSS: f64 = 0.3;

/// The same through a vented cover, over the open share of the mouth, and through the
/// cracks of a closed one [m/s].
const MOUTH_VENTED: f64 = 0.01;
const MOUTH_COVERED: f64 = 5e-4;

/// Share of its view that is sky for an upright wall [-]; the board behind looks at the
/// ground.
const WALL_SEES_SKY: f64 = 0.5;

/// Relative humidity taken for the sky where the scenario has none.
const USUAL_HUMIDITY: f64 = 0.6;

/// Wall and inside air, with what they exchange in one stretch.
pub(super) struct Enclosure {
    form: Form,
    sealed: bool,
    size: Size,
    shelter: f64,
    wall_per_side: f64,
    wall_capacity: f64,
    wall_start: f64,
    outside_emission: f64,
    /// Share of the front's view that is the open mouth [-].
    mouth_view: f64,
    settled: Settled,
}

/// Lengths and areas \[m, m², m³\].
#[derive(Debug, Clone, Copy)]
struct Size {
    /// Width across: inner diameter of a tube, side of a box.
    width: f64,
    /// Along the axis.
    height: f64,
    mouth: f64,
    /// Wall above the glass, which the light path's air touches.
    above: f64,
    /// Wall beside and behind the glass, which the fans' air touches.
    below: f64,
    /// Upright walls.
    upright: f64,
    air_volume: f64,
    /// Cross-section that moved air fills.
    section: f64,
}

/// What holds in one stretch.
#[derive(Debug, Clone, Copy)]
struct Settled {
    /// Wall to inside air [W/K].
    inside: f64,
    /// Wall to night air [W/K].
    outside: f64,
    /// Inside air to night air through the mouth [W/K].
    mouth: f64,
    air_capacity: f64,
    sky: Straight,
    covered: bool,
}

/// What the glass and its streams do to the enclosure at one instant \[W\].
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct FromGlass {
    /// Radiated to the wall.
    pub(super) radiated: f64,
    /// Given up to the inside air.
    pub(super) to_air: f64,
    /// Taken from the wall by moved air before it meets the glass.
    pub(super) preheated: f64,
    /// Its derivative by the wall's temperature [W/K].
    pub(super) preheating: f64,
}

impl Size {
    fn of(telescope: &Telescope, shape: Shape) -> Self {
        let across = shape.diameter + 2.0 * telescope.clearance.metres();
        let (above, behind) = (telescope.length.metres(), telescope.behind.metres());
        let round = telescope.form == Form::Tube;
        let (perimeter, section) = if round {
            (PI * across, 0.25 * PI * across * across)
        } else {
            (4.0 * across, across * across)
        };
        let beside = shape.rim_height + behind;
        let glass = 0.25 * PI * shape.diameter.powi(2) * shape.rim_height;
        Self {
            width: across,
            height: above + beside,
            mouth: section,
            above: perimeter * above,
            below: perimeter * beside + section,
            upright: perimeter * (above + beside),
            air_volume: (section * (above + beside) - glass).max(1e-4),
            section,
        }
    }
}

impl Enclosure {
    pub(super) fn of(scenario: &Scenario, shape: Shape) -> Option<Self> {
        let telescope = scenario.telescope.as_ref()?;
        let wall = &telescope.wall;
        let size = Size::of(telescope, shape);
        let mass = wall.density.kg_per_m3() * wall.thickness.metres() * (size.above + size.below);
        let night = &scenario.night;
        let mouth_radius = Length::from_metres((size.mouth / PI).sqrt());
        let front_radius = Length::from_metres(0.5 * shape.diameter);
        let still = Straight { start: 0.0, end: 0.0 };
        Some(Self {
            form: telescope.form,
            sealed: scenario
                .ventilation
                .as_ref()
                .is_some_and(|v| v.main.arrangement == Arrangement::Sealed),
            size,
            shelter: telescope.shelter,
            wall_per_side: 0.5 * wall.thickness.metres() / wall.conductivity.w_per_m_k(),
            wall_capacity: mass * wall.specific_heat.j_per_kg_k(),
            wall_start: wall.start.kelvin(),
            outside_emission: wall.outside_emissivity * STEFAN_BOLTZMANN,
            mouth_view: sky::disc_view_factor(front_radius, mouth_radius, telescope.length),
            settled: Settled {
                inside: 0.0,
                outside: 0.0,
                mouth: 0.0,
                air_capacity: air_capacity(size.air_volume, night),
                sky: still,
                covered: false,
            },
        })
    }

    /// The bodies at the start of the night: wall, then the air inside.
    pub(super) fn bodies(&self) -> [Body; 2] {
        let body = |heat_capacity_j_per_k| Body { heat_capacity_j_per_k, start_k: self.wall_start };
        [body(self.wall_capacity), body(self.settled.air_capacity)]
    }

    /// Brings everything to a stretch in which fans move air past the glass, and some of it
    /// through the mouth [m³/s].
    pub(super) fn settle(
        &mut self,
        night: &Conditions,
        stretch: Stretch,
        air: &AirProperties,
        (moved, flushed): (f64, f64),
    ) {
        let cover = self.cover(night, stretch.from);
        let wind = night.wind.as_ref().map_or(0.0, |wind| stretch.straight(wind).at(0.5));
        let volume_heat = air.density * air.specific_heat;
        let exchanged = match (cover, self.form) {
            (Cover::On, _) => MOUTH_COVERED,
            (Cover::Vented, _) => MOUTH_VENTED,
            (Cover::Off, Form::Truss) => MOUTH_OPEN_TRUSS + self.shelter * wind,
            (Cover::Off, _) => MOUTH_CLOSED_WALLS + 0.3 * self.shelter * wind,
        };
        let indoors = self.film(moved / self.size.section, air);
        let outdoors = self.film(wind, air);
        let through = |film: f64| 1.0 / (1.0 / film + self.wall_per_side);
        self.settled = Settled {
            inside: through(indoors) * self.size.above,
            outside: through(outdoors) * (self.size.above + self.size.below),
            mouth: volume_heat * (exchanged * self.size.mouth + flushed),
            sky: sky_temperature(night, stretch),
            covered: cover != Cover::Off,
            ..self.settled
        };
    }

    /// Share of the way to the wall's temperature that `flow` m³/s is brought on the way
    /// to the glass [-] (eq. V-24).
    pub(super) fn preheating(&self, flow: f64, air: &AirProperties) -> f64 {
        let film = self.film(flow / self.size.section, air);
        let met = self.size.below / (1.0 / film + self.wall_per_side);
        1.0 - (-met / (air.density * air.specific_heat * flow)).exp()
    }

    /// The state of the cover at a time \[s\]; a sealed box is always covered.
    pub(super) fn cover(&self, night: &Conditions, time: f64) -> Cover {
        if self.sealed { Cover::On } else { cover_at(night, time) }
    }

    /// Fraction of the wind that reaches the front [-].
    pub(super) fn shelter(&self) -> f64 {
        if self.settled.covered { 0.0 } else { self.shelter }
    }

    /// Whether a cover keeps the moved air inside.
    pub(super) fn is_covered(&self) -> bool {
        self.settled.covered
    }

    /// Film of a wall in air of a speed [W m⁻² K⁻¹].
    fn film(&self, speed: f64, air: &AirProperties) -> f64 {
        let length = self.size.width.min(self.size.height);
        let reynolds = speed.max(0.0) * length / air.kinematic_viscosity();
        let nusselt =
            if reynolds > 10.0 { plate::parallel(reynolds, air.prandtl()).value } else { 0.0 };
        mixed::assisting(nusselt * air.conductivity / length, STILL_FILM)
    }

    /// Temperature that radiates to the front as its mouth and walls do \[K\] (eq. V-23).
    pub(super) fn seen_by_front(&self, part: f64, wall: f64) -> f64 {
        let sky = self.settled.sky.at(part);
        let wall_view = self.wall_view();
        ((1.0 - wall_view) * sky.powi(4) + wall_view * wall.powi(4)).sqrt().sqrt()
    }

    /// The sky, over a hemisphere \[K\].
    pub(super) fn sky(&self, part: f64) -> f64 {
        self.settled.sky.at(part)
    }

    /// Cross-section that moved air fills \[m²\].
    pub(super) fn section(&self) -> f64 {
        self.size.section
    }

    /// Share of the front's view that is wall or cover [-].
    fn wall_view(&self) -> f64 {
        if self.settled.covered { 1.0 } else { 1.0 - self.mouth_view }
    }

    /// The part of a face's radiation that the wall receives: through the mouth the front
    /// radiates to the sky.
    pub(super) fn received(&self, face: FaceName, skin: &Skin, wall: f64) -> Skin {
        let share = if face == FaceName::Front { self.wall_view() } else { 1.0 };
        Skin { emission: share * skin.emission, radiant: wall, ..*skin }
    }

    /// Change of [`Enclosure::seen_by_front`] with the wall \[K\].
    pub(super) fn seen_change(&self, part: f64, wall: f64, change: f64) -> f64 {
        self.wall_view() * (wall / self.seen_by_front(part, wall)).powi(3) * change
    }

    /// Changes of the heat flowing into wall and inside air, beyond those of their own
    /// slopes, for a change of each and of what the glass does.
    pub(super) fn follow(&self, change: &[f64], glass: &FromGlass, body: &mut [BodyExchange]) {
        let (wall, inside) = (change[WALL], change[INSIDE]);
        body[WALL].flow_w = self.settled.inside * inside + glass.radiated - glass.preheated
            + glass.preheating * wall;
        body[INSIDE].flow_w = self.settled.inside * wall + glass.to_air;
    }

    /// Heat flowing into wall and inside air (eqs. V-21 and V-22).
    pub(super) fn exchange(
        &self,
        part: f64,
        night: f64,
        (bodies, body): (&[f64], &mut [BodyExchange]),
        glass: &FromGlass,
    ) {
        let (wall, inside) = (bodies[WALL], bodies[INSIDE]);
        let settled = &self.settled;
        let area = self.size.above + self.size.below;
        let emission = self.outside_emission * area;
        let view = WALL_SEES_SKY * self.size.upright / area;
        let sky = view * settled.sky.at(part).powi(4);
        let ground = (1.0 - view) * night.powi(4);
        let flow = settled.inside * (inside - wall)
            + settled.outside * (night - wall)
            + emission * (sky + ground - wall.powi(4))
            + glass.radiated
            - glass.preheated;
        let slope =
            settled.inside + settled.outside + 4.0 * emission * wall.powi(3) + glass.preheating;
        body[WALL] = BodyExchange { flow_w: flow, slope_w_per_k: -slope };
        let flow =
            settled.inside * (wall - inside) + settled.mouth * (night - inside) + glass.to_air;
        let slope = settled.inside + settled.mouth;
        body[INSIDE] = BodyExchange { flow_w: flow, slope_w_per_k: -slope };
    }
}

/// Heat that warms the air inside by a kelvin [J/K].
fn air_capacity(volume: f64, night: &Conditions) -> f64 {
    let pressure = night.pressure.at(0.0, Side::After);
    let kelvin = night.air.at(0.0, Side::After);
    volume * 1005.7 * pressure / (287.055 * kelvin)
}

fn cover_at(night: &Conditions, time: f64) -> Cover {
    night
        .cover
        .iter()
        .rev()
        .find(|&&(from, _)| from <= time)
        .map_or(Cover::Off, |&(_, state)| state)
}

/// Temperature of the sky over a stretch \[K\].
fn sky_temperature(night: &Conditions, stretch: Stretch) -> Straight {
    let at = |time: f64, side: Side| {
        let air = Temperature::from_kelvin(night.air.at(time, side));
        let dew = night.dew_point.as_ref().map_or_else(
            || dew_point(air, USUAL_HUMIDITY),
            |dew| Temperature::from_kelvin(dew.at(time, side)),
        );
        let pressure = Pressure::from_pascals(night.pressure.at(time, side));
        let cloud = night.cloud.as_ref().map_or(0.0, |cloud| cloud.at(time, side));
        let clock = night.start.at(time);
        let hour = f64::from(clock.hour()) + f64::from(clock.minute()) / 60.0;
        sky::temperature(air, dew, pressure, cloud, hour).kelvin()
    };
    Straight { start: at(stretch.from, Side::After), end: at(stretch.to, Side::Before) }
}
