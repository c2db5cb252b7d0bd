//! Moved air past the rim of the glass.

use std::f64::consts::PI;

use evenglass_convection::duct;
use evenglass_materials::moist_air::AirProperties;

use super::field::{Field, Local};

/// One standard deviation of a gap's film [-].
const GAP_SIGMA: f64 = 0.20;

/// The gap past the rim in one state \[m, m³/s\].
#[derive(Debug, Clone, Copy)]
pub(crate) struct Gap<'a> {
    pub(crate) flow: f64,
    pub(crate) depth: f64,
    pub(crate) height: f64,
    pub(crate) radius: f64,
    pub(crate) air: &'a AirProperties,
}

/// Film of the air in the gap (eq. C-18), the same all along the rim.
pub(crate) fn gap(gap: Gap<'_>) -> Field<'static> {
    let area = PI * gap.depth * (2.0 * gap.radius + gap.depth);
    let speed = gap.flow / area;
    let hydraulic = 2.0 * gap.depth;
    let reynolds = speed * hydraulic / gap.air.kinematic_viscosity();
    let nusselt = duct::gap_flow(reynolds, gap.air.prandtl(), hydraulic / gap.height).value;
    let gain = 1.0 / (gap.air.density * gap.air.specific_heat * gap.flow);
    let local = Local {
        film: nusselt * gap.air.conductivity / hydraulic,
        sluggishness: gap.depth / (speed * speed),
        arriving: gain,
        gain,
        relative_sigma: GAP_SIGMA,
    };
    Field::round(move |_| local, vec![])
}
