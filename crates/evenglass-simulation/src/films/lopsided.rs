//! What makes films differ around the axis, and in which orders.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use evenglass_airflow::fan::Rotor;
use evenglass_disc::{BoundaryPoint, FaceName, Part, Variation};
use evenglass_scenario::Scenario;
use evenglass_scenario::scenario::{Face, Film, Harmonic};

use super::{faces_of, usual_air};
use crate::ventilation::field::Around;
use crate::ventilation::front;
use crate::ventilation::moved::{Planned, plan};

/// A film that varies by less than this share of its mean is even [-]: all over a back it makes
/// half a nanometre where the figure is at 20. Between the fans of seven on a circle the angles
/// at which films are sampled make 0.3 % of order 4 that is not there.
const EVEN: f64 = 4e-3;

/// A sine this small is rounding [-].
const SMALL: f64 = 1e-9;

/// Radii at which moved air is looked at.
const LOOKED_AT: u32 = 12;

/// Tilt of the mirror below which it lies level \[rad\].
const LEVEL: f64 = 0.05;

/// Least film as a share of its mean [-], where orders 1 to 4 alone would make it vanish.
const LEAST: f64 = 0.05;

/// Radius of the circle on which three pads carry the mirror, in radii of the glass [-]:
/// between the 0.58 that halves the glass's weight inside and outside and the 0.7 of common
/// practice.
const PAD_CIRCLE: f64 = 0.65;

/// Share of the back under pads from which on it is reckoned where they are [-]. A mirror of 250
/// or 406 mm that has cooled by 10 K to a figure of 20 nm shows 2 nm of trefoil on pads of 2 %,
/// if they keep the air off and take up nothing: felt conducts as much as air takes.
const BROAD_PADS: f64 = 0.03;

/// Share of the wind below which what reaches the glass is taken to be stirred, and even [-]:
/// that of tubes and closed boxes, where it would make a nanometre.
const STIRRED: f64 = 0.15;

/// Where around the axis films are taken, and how temperatures may vary there.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turn {
    /// \[rad\]
    pub(super) angle: f64,
    pub(super) variation: Variation,
}

/// The points of a face, and what their place around the axis makes of films.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place<'a> {
    /// Of each point in the caller's arrays.
    pub(super) index: &'a [usize],
    /// Film over its mean around the axis [-]; empty where it is even.
    pub(super) shape: &'a [f64],
    /// The same of the wind's film.
    pub(super) wind_shape: &'a [f64],
    /// The same of still air's convection, where the glass is warmer and where it is colder.
    pub(super) rising: &'a [[f64; 2]],
}

/// What a shape makes of a film at a point [-].
#[inline]
pub(super) fn shaped(shape: &[f64], point: usize) -> f64 {
    shape.get(point).copied().unwrap_or(1.0)
}

/// Film of a face at an angle over its mean, as its author wrote it [-].
pub(super) fn uneven(face: &Face, angle: f64) -> f64 {
    let part = |h: &Harmonic| h.amplitude * (f64::from(h.harmonic) * (angle - h.angle)).cos();
    1.0 + face.uneven.iter().map(part).sum::<f64>()
}

impl Turn {
    /// Of a film around the axis, what temperatures that vary in few parts can answer to: an
    /// order that is not followed would be taken for another, or for the mean. Nowhere does
    /// the film vanish.
    pub(super) fn followed(&self, around: &Around) -> Around {
        let parts = self.variation.parts();
        let kept = |part: Part, value: f64| if parts.contains(&part) { value } else { 0.0 };
        let mut orders = around.orders;
        for (order, (cosine, sine)) in (1..).zip(&mut orders) {
            *cosine = kept(Part::cosine(order), *cosine);
            *sine = kept(Part::sine(order), *sine);
        }
        Around { orders, ..*around }.at_least(LEAST)
    }
}

/// What makes the films of front and back differ around the axis, at each of their points,
/// over the mean there.
pub(crate) struct Shapes {
    pub(super) variation: Variation,
    faces: [(FaceName, FaceShapes); 2],
}

/// Those of a face; empty where it is even. `[points of the face]`.
#[derive(Debug, Default)]
pub(super) struct FaceShapes {
    /// Of every film beside the pads of the support.
    pub(super) pads: Vec<Around>,
    /// Of the wind's film.
    pub(super) wind: Vec<Around>,
    /// Of still air that runs along the face from angle 0.
    pub(super) rising: Vec<Around>,
}

impl Shapes {
    /// * `points` — of the glass
    pub(crate) fn new(scenario: &Scenario, points: &[BoundaryPoint], variation: Variation) -> Self {
        let rim = 0.5 * scenario.mirror.diameter.metres();
        let turn = Turn { angle: 0.0, variation };
        let along = |name: FaceName, shape: &dyn Fn(f64) -> Around| -> Vec<Around> {
            let face = points.iter().filter(|point| point.face == name);
            face.map(|point| turn.followed(&shape(point.radius_m).relative())).collect()
        };
        let faces = [(FaceName::Front, &scenario.front), (FaceName::Back, &scenario.back)];
        let faces = faces.map(|(name, face)| {
            let mut shapes = FaceShapes::default();
            if let Some(share) = pads(scenario).filter(|_| name == FaceName::Back) {
                shapes.pads = along(name, &|radius| beside_pads(share, radius / rim));
            }
            if let Some(shelter) = feels_wind(scenario, (name, face)) {
                shapes.wind = along(name, &|radius| windward(shelter, rim, radius));
            }
            if is_tilted(scenario, (name, face)) {
                shapes.rising = along(name, &|radius| upslope(rim, radius));
            }
            (name, shapes)
        });
        Self { variation, faces }
    }

    /// Those of a face, if anything but its author makes it differ.
    pub(super) fn of(&self, name: FaceName) -> Option<&FaceShapes> {
        self.faces.iter().find(|(face, _)| *face == name).map(|(_, shapes)| shapes)
    }
}

/// Film beside three pads, one of them at angle 0, over its mean around the axis, order 3
/// alone [-] (eq. F-12): no air reaches the back under a pad.
///
/// * `share` — of the back under the pads [-]
/// * `radius` — in radii of the glass [-]
fn beside_pads(share: f64, radius: f64) -> Around {
    let mut around = Around { mean: 1.0, ..Around::default() };
    let size = (share / 3.0).sqrt();
    let across = 1.0 - ((radius - PAD_CIRCLE) / size).powi(2);
    if across > 0.0 && radius > 0.0 {
        let covered = (6.0 * size * across.sqrt() / (TAU * radius)).min(1.0);
        // Order 3 of a comb of three teeth over the mean of the gaps between them.
        let order = 2.0 * (PI * covered).sin() / PI / (1.0 - covered).max(LEAST);
        around.orders[2].0 = -order;
    }
    around
}

/// Film of the wind behind a shelter over its mean (eq. F-14): what comes over a wall is
/// stirred, and comes down on all sides alike.
fn windward(shelter: f64, rim: f64, radius: f64) -> Around {
    let open = front::breeze(rim).around(radius).relative();
    let orders = open.orders.map(|(cosine, sine)| (shelter * cosine, shelter * sine));
    Around { orders, ..open }
}

/// Film of still air that runs along a tilted face from angle 0 (eq. F-13): its layer grows
/// with the fourth root of the way it has come, a breeze's with the square root.
fn upslope(rim: f64, radius: f64) -> Around {
    Around::of(|angle| front::along_chord(rim, (radius, angle)).powf(-0.25))
}

/// Share of the back under pads, if they are broad and the film not given as it is [-].
fn pads(scenario: &Scenario) -> Option<f64> {
    let given = matches!(scenario.back.film, Film::Given { .. });
    let share = scenario.telescope.as_ref()?.pads;
    (!given && share >= BROAD_PADS).then_some(share)
}

/// How temperatures vary around the axis of a scenario's mirror.
pub(crate) fn variation(scenario: &Scenario) -> Variation {
    let mut causes = Causes::default();
    for face in faces_of(scenario) {
        for part in face.1.uneven.iter().filter(|part| part.amplitude != 0.0) {
            let order = usize::from(part.harmonic);
            causes.add(order, (order as f64 * part.angle).sin().abs() > SMALL);
        }
        if feels_wind(scenario, face).is_some() || is_tilted(scenario, face) {
            causes.add(1, false);
        }
    }
    if pads(scenario).is_some() {
        causes.add(3, false);
    }
    for planned in plan(scenario) {
        causes.add_moved(&planned, scenario);
    }
    causes.variation()
}

/// Orders of all that varies, and whether anything differs between the sides of angle 0.
#[derive(Debug, Default)]
struct Causes {
    orders: Vec<usize>,
    one_sided: bool,
}

impl Causes {
    fn add(&mut self, order: usize, one_sided: bool) {
        self.orders.push(order);
        self.one_sided |= one_sided;
    }

    /// The films of moved air at full speed; at others they have the same orders.
    fn add_moved(&mut self, planned: &Planned, scenario: &Scenario) {
        let moved = planned.moved(1.0, &first_air(scenario));
        let radius = 0.5 * scenario.mirror.diameter.metres();
        for (name, face) in [(FaceName::Back, &scenario.back), (FaceName::Front, &scenario.front)] {
            let field = moved.field(name).filter(|field| field.is_lopsided());
            let blown = field.filter(|_| !matches!(face.film, Film::Given { .. }));
            let Some(field) = blown else { continue };
            let places = (1..=LOOKED_AT).map(|n| radius * f64::from(n) / f64::from(LOOKED_AT));
            let around: Vec<Around> = places.map(|radius| field.around(radius)).collect();
            for order in 1..=around[0].orders.len() {
                let largest = around.iter().map(|around| around.share(order)).fold(0.0, f64::max);
                let sine = |around: &Around| around.orders[order - 1].1.abs();
                if largest > EVEN {
                    self.add(order, around.iter().any(|a| sine(a) > EVEN * a.mean));
                }
            }
        }
    }

    fn variation(&self) -> Variation {
        match (&self.orders[..], self.one_sided) {
            ([], _) => Variation::round(),
            (orders, true) => Variation::any(orders),
            (orders, false) => Variation::even(orders),
        }
    }
}

/// Air as the night begins.
fn first_air(scenario: &Scenario) -> evenglass_materials::moist_air::AirProperties {
    usual_air(scenario.night.air.values()[0], scenario.night.pressure.values()[0])
}

/// Share of the wind that reaches a face from one side, where that matters [-].
fn feels_wind(scenario: &Scenario, (name, face): (FaceName, &Face)) -> Option<f64> {
    let wind = scenario.night.wind.as_ref();
    let blows = wind.is_some_and(|wind| wind.values().iter().any(|&speed| speed > 0.0));
    let shelter = match (name, &face.film, &scenario.telescope) {
        (FaceName::Front | FaceName::Back, Film::Breeze { shelter }, _) => *shelter,
        (FaceName::Front, Film::Still | Film::FanBehind(_), Some(telescope)) => telescope.shelter,
        _ => 0.0,
    };
    (blows && shelter >= STIRRED).then_some(shelter)
}

/// Whether still air runs along a tilted face at some time.
fn is_tilted(scenario: &Scenario, (name, face): (FaceName, &Face)) -> bool {
    let level = matches!(name, FaceName::Front | FaceName::Back);
    let night = &scenario.night;
    let tilted = night.altitude.values().iter().any(|&altitude| tilt(altitude) > LEVEL);
    let still = match (name, &face.film) {
        (_, Film::Still) => true,
        (name, Film::FanBehind(_)) => name != FaceName::Back,
        _ => false,
    };
    // Where the wind is known it is reckoned with at all times.
    let windy = name == FaceName::Front
        && night.wind.is_some()
        && scenario.telescope.as_ref().is_some_and(|telescope| telescope.shelter > 0.0);
    level && tilted && still && !windy && !is_always_blown(scenario, name)
}

/// Whether moved air reaches a face all night.
fn is_always_blown(scenario: &Scenario, name: FaceName) -> bool {
    let speeds = scenario.night.fan_speed.values();
    plan(scenario).iter().any(|planned| {
        let turns = |&speed: &f64| planned.running_speed(speed, 0.0, Rotor::Standing) > 0.0;
        let reaches =
            |&speed: &f64| planned.moved(speed, &first_air(scenario)).field(name).is_some();
        speeds.iter().all(turns) && speeds.first().is_some_and(reaches)
    })
}

/// Of the mirror from the level \[rad\].
pub(super) fn tilt(altitude: f64) -> f64 {
    FRAC_PI_2 - altitude
}
