//! Flow and momentum of the sheet from the start of transition inward.

use std::f64::consts::PI;

use super::layer::intermittency;
use super::{Column, Sheet};
use crate::wall_jet;

/// Stations of the march: the mean film differs by less than 10⁻⁴ from that on 3000.
pub(super) const STATIONS: usize = 96;

/// The sheet at distances from the lip that grow in equal ratios.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Stations {
    /// Distance of the first from the lip \[m\].
    first: f64,
    /// Logarithm of the ratio of two neighbours' distances.
    step: f64,
    /// Flow [m³/s] and momentum flux [m⁴/s²].
    fluxes: Vec<(f64, f64)>,
}

impl Stations {
    fn distance(&self, index: f64) -> f64 {
        self.first * (self.step * index).exp()
    }

    /// Flow and momentum flux at `distance`, which lies on the march.
    pub(super) fn fluxes(&self, distance: f64) -> (f64, f64) {
        let last = self.fluxes.len() - 1;
        let position = ((distance / self.first).ln() / self.step).clamp(0.0, last as f64);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to last")]
        let below = (position as usize).min(last.saturating_sub(1));
        let share = position - below as f64;
        let (low, high) = (self.fluxes[below], self.fluxes[(below + 1).min(last)]);
        (low.0 + share * (high.0 - low.0), low.1 + share * (high.1 - low.1))
    }
}

/// A point of the march.
#[derive(Clone, Copy)]
struct Point {
    distance: f64,
    fluxes: (f64, f64),
    /// What the fluxes would be without transition.
    laminar: (f64, f64),
}

impl Sheet {
    /// Marches until the sheet has to turn up and finds where that is.
    pub(super) fn march(&mut self, stations: usize) {
        let laminar_end = self.transition.min(self.nozzle.radius);
        let bracket = if self.turned_up(laminar_end) {
            (0.0, laminar_end)
        } else {
            self.march_turbulent(stations)
        };
        self.column = self.column_between(bracket);
    }

    /// Returns the distances between which the sheet turns up.
    fn march_turbulent(&mut self, stations: usize) -> (f64, f64) {
        let radius = self.nozzle.radius;
        self.stations = Stations {
            first: self.transition,
            step: (radius / self.transition).ln() / stations as f64,
            fluxes: Vec::with_capacity(stations + 1),
        };
        let mut point = self.laminar_point(self.transition);
        self.stations.fluxes.push(point.fluxes);
        for index in 0..stations {
            let place = |part: f64| self.stations.distance(index as f64 + part).min(radius);
            let [middle, next] = [place(0.5), place(1.0)].map(|x| self.laminar_point(x));
            let halfway = Point { fluxes: self.advance(&point, &point, &middle), ..middle };
            let arrived = Point { fluxes: self.advance(&point, &halfway, &next), ..next };
            self.stations.fluxes.push(arrived.fluxes);
            if self.turned_up(arrived.distance) {
                return (point.distance, arrived.distance);
            }
            point = arrived;
        }
        (point.distance, radius)
    }

    fn laminar_point(&self, distance: f64) -> Point {
        let laminar = self.laminar_fluxes(distance);
        Point { distance, fluxes: laminar, laminar }
    }

    /// Fluxes at `to` when those at `from` change as they do at `rates` (eqs. C-41).
    fn advance(&self, from: &Point, rates: &Point, to: &Point) -> (f64, f64) {
        let gamma = intermittency(rates.distance, self.transition);
        let (drawn_in, drag) = self.turbulent_rates(rates);
        let length = to.distance - from.distance;
        let flow = (1.0 - gamma) * (to.laminar.0 - from.laminar.0) + gamma * drawn_in * length;
        let lost = (1.0 - gamma) * (from.laminar.1 - to.laminar.1) + gamma * drag * length;
        // As a share, so that no step can take more than there is.
        let kept = (-lost / rates.fluxes.1).exp();
        (from.fluxes.0 + flow, from.fluxes.1 * kept)
    }

    /// What a turbulent sheet draws in [m²/s] and what the glass drags away [m³/s²], per
    /// length of path.
    fn turbulent_rates(&self, point: &Point) -> (f64, f64) {
        let (flow, momentum) = point.fluxes;
        let speed = self.peak_speed(flow, momentum);
        let girth = 2.0 * PI * (self.nozzle.radius - point.distance);
        // On the peak speed and the half depth; finite on the axis, where the girth is not.
        let reynolds = flow / (girth * 1.08 * self.air.kinematic_viscosity);
        let drag = 0.5 * wall_jet::layer_friction(reynolds).value;
        (girth * self.constants.entrainment * speed, girth * drag * speed * speed)
    }

    /// Whether the sheet needs more room than the disc inside it has (eq. C-43).
    fn turned_up(&self, distance: f64) -> bool {
        let layer = self.layer(distance);
        let room = PI * layer.radius * layer.radius * self.constants.column_share * layer.speed;
        room <= layer.flow
    }

    fn column_between(&self, (mut outside, mut inside): (f64, f64)) -> Column {
        for _ in 0..48 {
            let middle = 0.5 * (outside + inside);
            if self.turned_up(middle) {
                inside = middle;
            } else {
                outside = middle;
            }
        }
        let layer = self.layer(outside);
        Column {
            radius: layer.radius,
            speed: layer.speed,
            flow: layer.flow,
            film: self.layer_film(&layer),
            intermittency: layer.intermittency,
        }
    }
}
