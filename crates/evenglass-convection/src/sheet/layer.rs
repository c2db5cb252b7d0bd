//! The sheet between the lip and the column's foot, at one distance from the lip.

use std::f64::consts::PI;

use super::Sheet;
use crate::disturbed::{unheated_start_laminar, unheated_start_turbulent};
use crate::laminar_jet::{flow_ratio, momentum_ratio, plane_distance};
use crate::wall_jet;

/// Peak speed times flow over momentum flux [-]: 1.417 of Glauert's laminar profile,
/// 1.40 of a turbulent one.
pub(super) const PROFILE: f64 = 1.41;

/// Flow over peak speed and half depth [-], turbulent and laminar.
const TURBULENT_FULLNESS: f64 = 1.08;
const LAMINAR_FULLNESS: f64 = 0.87;

/// State of the sheet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Layer {
    /// From the lip \[m\].
    pub(super) distance: f64,
    pub(super) radius: f64,
    /// [m³/s]
    pub(super) flow: f64,
    /// Peak [m/s].
    pub(super) speed: f64,
    pub(super) intermittency: f64,
}

impl Layer {
    pub(super) fn half_depth(&self) -> f64 {
        let fullness =
            LAMINAR_FULLNESS + self.intermittency * (TURBULENT_FULLNESS - LAMINAR_FULLNESS);
        self.depth_for(fullness)
    }

    /// That of the turbulent profile, whatever the intermittency.
    pub(super) fn turbulent_half_depth(&self) -> f64 {
        self.depth_for(TURBULENT_FULLNESS)
    }

    fn depth_for(&self, fullness: f64) -> f64 {
        self.flow / (2.0 * PI * self.radius * fullness * self.speed)
    }
}

impl Sheet {
    /// The sheet at `distance` from the lip, as long as it has not turned up.
    pub(super) fn layer(&self, distance: f64) -> Layer {
        let distance = distance.clamp(0.0, self.nozzle.radius);
        let (flow, momentum) = if distance <= self.transition {
            self.laminar_fluxes(distance)
        } else {
            self.stations.fluxes(distance)
        };
        Layer {
            distance,
            radius: self.nozzle.radius - distance,
            flow,
            speed: self.peak_speed(flow, momentum),
            intermittency: self.intermittency_at(distance),
        }
    }

    /// Flow and momentum flux of the sheet while it is laminar.
    pub(super) fn laminar_fluxes(&self, distance: f64) -> (f64, f64) {
        let relative = self.jet.relative(plane_distance(self.nozzle.radius, distance));
        let flow = self.nozzle.flow;
        (flow * flow_ratio(relative), flow * self.slot_speed * momentum_ratio(relative))
    }

    pub(super) fn peak_speed(&self, flow: f64, momentum: f64) -> f64 {
        (PROFILE * momentum / flow).min(self.slot_speed)
    }

    pub(super) fn intermittency_at(&self, distance: f64) -> f64 {
        intermittency(distance, self.transition)
    }

    /// Film outside the column's foot.
    pub(super) fn layer_film(&self, layer: &Layer) -> f64 {
        let (laminar, turbulent) = self.films(layer);
        let gamma = layer.intermittency;
        let along = (1.0 - gamma) * laminar + gamma * turbulent.max(laminar);
        along * self.offset_share(layer.distance)
    }

    /// The films the layer would have if it were laminar and turbulent.
    pub(super) fn films(&self, layer: &Layer) -> (f64, f64) {
        let start = self.start_of_glass();
        let radius = self.nozzle.radius;
        // The film has no business rising without limit toward the lip.
        let heated = layer.distance.max(start + self.lip_cut()).min(radius);
        let plane = plane_distance(radius, heated);
        let prandtl = self.air.prandtl();
        let laminar = layer.radius / radius
            * self.jet.film(plane, self.air.conductivity, prandtl)
            * unheated_start_laminar(plane_distance(radius, start) / plane);
        let depth = layer.turbulent_half_depth();
        let reynolds = layer.speed * depth / self.air.kinematic_viscosity;
        let stanton = self.constants.analogy / wall_jet::ANALOGY
            * wall_jet::layer_stanton(reynolds, prandtl).value;
        let turbulent = self.air.density
            * self.air.specific_heat
            * layer.speed
            * stanton
            * unheated_start_turbulent(start / heated);
        (laminar, turbulent)
    }

    /// From the lip to the glass \[m\].
    pub(super) fn start_of_glass(&self) -> f64 {
        (self.nozzle.radius - self.nozzle.glass_radius).max(0.0)
    }

    /// Not longer than what is left of the glass behind its edge.
    pub(super) fn lip_cut(&self) -> f64 {
        self.constants.lip_cut.unwrap_or(self.jet.thickness)
    }

    /// Where a jet that leaves above the glass touches it, from the lip \[m\] (eq. C-46).
    pub(super) fn reattachment(&self) -> f64 {
        let thickness = self.jet.thickness;
        2.63 * thickness * (self.nozzle.lip_height.max(0.0) / thickness).powf(0.855)
    }

    /// Half of the wall jet's film before the jet touches the glass, all of it behind, and a
    /// smooth rise over the last half of the way.
    fn offset_share(&self, distance: f64) -> f64 {
        let touch = self.reattachment();
        if distance >= touch {
            return 1.0;
        }
        let rise = (2.0 * distance / touch - 1.0).max(0.0);
        0.5 + 0.5 * rise * rise * (3.0 - 2.0 * rise)
    }
}

/// Share of time that a layer is turbulent (eq. C-40).
pub(super) fn intermittency(distance: f64, transition: f64) -> f64 {
    if distance <= transition {
        return 0.0;
    }
    let spread = (distance - transition) / (0.4 * transition);
    -(-0.412 * spread * spread).exp_m1()
}
