//! What makes films differ around the axis, and in which orders.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use evenglass_disc::{FaceName, Variation};
use evenglass_scenario::Scenario;
use evenglass_scenario::scenario::{Face, Film};

use super::{faces_of, usual_air};
use crate::ventilation::field::Around;
use crate::ventilation::front;
use crate::ventilation::moved::{Planned, plan};

/// A film that varies by less than this share of its mean is even [-].
const EVEN: f64 = 2e-3;

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

/// The points of a face, and what their place around the axis makes of films.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place<'a> {
    /// Of each point in the caller's arrays.
    pub(super) index: &'a [usize],
    /// Film over its mean around the axis [-]; empty where it is even.
    pub(super) shape: &'a [f64],
    /// The same of the wind's film.
    pub(super) wind_shape: &'a [f64],
}

/// What a shape makes of a film at a point [-].
#[inline]
pub(super) fn shaped(shape: &[f64], point: usize) -> f64 {
    shape.get(point).copied().unwrap_or(1.0)
}

/// Film of a face at an angle over its mean, as its author wrote it [-].
pub(super) fn uneven(face: &Face, angle: f64) -> f64 {
    let part = |h: &evenglass_scenario::scenario::Harmonic| {
        h.amplitude * (f64::from(h.harmonic) * (angle - h.angle)).cos()
    };
    1.0 + face.uneven.iter().map(part).sum::<f64>()
}

/// A film at an angle from its mean and orders 1 to 4 [W m⁻² K⁻¹].
pub(super) fn summed(around: &Around, angle: f64) -> f64 {
    let parts = (1_u32..).zip(&around.orders).map(|(order, (cosine, sine))| {
        let (s, c) = (f64::from(order) * angle).sin_cos();
        cosine * c + sine * s
    });
    (around.mean + parts.sum::<f64>()).max(LEAST * around.mean)
}

/// Film of the wind from angle 0 over its mean around the axis [-] (eq. V-15).
pub(super) fn windward(rim: f64, radius: f64, angle: f64) -> f64 {
    let around = front::breeze(rim).around(radius);
    summed(&around, angle) / around.mean
}

/// Film beside three pads, one of them at angle 0, over its mean around the axis, order 3
/// alone [-] (eq. F-12): no air reaches the back under a pad.
///
/// * `share` — of the back under the pads [-]
/// * `radius` — in radii of the glass [-]
pub(super) fn beside_pads(share: f64, radius: f64, angle: f64) -> f64 {
    let size = (share / 3.0).sqrt();
    let across = 1.0 - ((radius - PAD_CIRCLE) / size).powi(2);
    if across <= 0.0 || radius <= 0.0 {
        return 1.0;
    }
    let covered = (6.0 * size * across.sqrt() / (TAU * radius)).min(1.0);
    // Order 3 of a comb of three teeth over its mean: 2 sin(π c)/(π c) times c.
    let order = 2.0 * (PI * covered).sin() / PI / (1.0 - covered).max(LEAST);
    (1.0 - order * (3.0 * angle).cos()).max(LEAST)
}

/// Share of the back under pads that a moving film has to flow around [-].
pub(super) fn pads(scenario: &Scenario) -> Option<f64> {
    let given = matches!(scenario.back.film, Film::Given { .. });
    let share = scenario.telescope.as_ref()?.pads;
    (!given && share > 0.0).then_some(share)
}

/// How temperatures vary around the axis of a scenario's mirror.
pub(crate) fn variation(scenario: &Scenario) -> Variation {
    let mut causes = Causes::default();
    for (_, face) in faces_of(scenario) {
        for part in face.uneven.iter().filter(|part| part.amplitude != 0.0) {
            let order = usize::from(part.harmonic);
            causes.add(order, (order as f64 * part.angle).sin().abs() > SMALL);
        }
    }
    if pads(scenario).is_some() {
        causes.add(3, false);
    }
    if feels_wind(scenario) || is_tilted(scenario) {
        causes.add(1, false);
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

    /// The films of moved air at full speed.
    fn add_moved(&mut self, planned: &Planned, scenario: &Scenario) {
        let air = usual_air(scenario.night.air.values()[0], scenario.night.pressure.values()[0]);
        let moved = planned.moved(1.0, &air);
        let radius = 0.5 * scenario.mirror.diameter.metres();
        for face in [FaceName::Back, FaceName::Front] {
            let Some(field) = moved.field(face).filter(|field| field.is_lopsided()) else {
                continue;
            };
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

/// Whether wind from one side reaches the front.
fn feels_wind(scenario: &Scenario) -> bool {
    let blows = scenario
        .night
        .wind
        .as_ref()
        .is_some_and(|wind| wind.values().iter().any(|&speed| speed > 0.0));
    let open = match (&scenario.front.film, &scenario.telescope) {
        (Film::Breeze { shelter }, _) => *shelter > 0.0,
        (Film::Given { .. }, _) | (_, None) => false,
        (_, Some(telescope)) => telescope.shelter > 0.0,
    };
    blows && open
}

/// Whether warm air runs along a tilted face.
fn is_tilted(scenario: &Scenario) -> bool {
    let tilted = scenario.night.altitude.values().iter().any(|&a| FRAC_PI_2 - a > LEVEL);
    let still = |face: &Face| matches!(face.film, Film::Still);
    tilted && scenario.ventilation.is_none() && (still(&scenario.front) || still(&scenario.back))
}

/// Film of still air on a face at an angle over its mean around the axis [-] (eq. F-13): on a
/// tilted face warm air runs up from the low side, and its layer grows with the fourth root
/// of the way it has come.
///
/// * `tilt` — of the face from the level \[rad\]
pub(super) fn upslope(rim: f64, radius: f64, (angle, tilt): (f64, f64)) -> f64 {
    if tilt <= LEVEL {
        return 1.0;
    }
    // The square root of what a breeze from the low side makes, see `windward`.
    let share = |angle: f64| windward(rim, radius, PI - angle).sqrt();
    let turns = (0..ANGLES).map(|n| TAU * f64::from(n) / f64::from(ANGLES));
    let mean = turns.map(share).sum::<f64>() / f64::from(ANGLES);
    1.0 + tilt.sin() * (share(angle) / mean - 1.0)
}

/// Angles over which a film's mean is taken.
const ANGLES: u32 = 16;
