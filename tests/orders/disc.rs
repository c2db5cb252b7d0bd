//! A disc whose surroundings are written as functions of place and time.

use evenglass_disc::{
    BoundaryPoint, Exchange, FaceName, Grid, Material, Resolution, Section, Surroundings,
};
use evenglass_units::{Conductivity, Density, Length, SpecificHeat};

/// Conductivity of the glass [W m⁻¹ K⁻¹].
pub(crate) const CONDUCTIVITY: f64 = 1.1;

pub(crate) fn glass() -> Material {
    Material::constant(
        Density::from_kg_per_m3(2400.0),
        SpecificHeat::from_j_per_kg_k(750.0),
        Conductivity::from_w_per_m_k(CONDUCTIVITY),
    )
}

/// A fast mirror with a hole, so that the front is steep: 400 by 60 mm, f/2, 80 mm hole.
pub(crate) fn curved_and_holed() -> Section {
    let mm = |millimetres: f64| Length::from_metres(millimetres / 1000.0);
    Section::new(mm(400.0), mm(60.0), Some(2.0), Some(mm(80.0))).expect("a mirror")
}

/// Blocks of the same order in both directions, `blocks` along the radius and through
/// the thickness.
pub(crate) fn blocks(order: usize, blocks: usize) -> Resolution {
    Resolution {
        radial_order: order,
        axial_order: order,
        blocks: Some((blocks, blocks)),
        ..Resolution::default()
    }
}

/// One film everywhere, driven by air whose temperature [K] depends on place and time.
pub(crate) struct Driven<'g, F> {
    pub(crate) grid: &'g Grid,
    /// [W m⁻² K⁻¹]
    pub(crate) film: f64,
    pub(crate) air: F,
}

impl<F: Fn(&BoundaryPoint, f64) -> f64> Surroundings for Driven<'_, F> {
    fn exchange(&self, time_s: f64, temperature: &[f64], exchange: &mut [Exchange]) {
        let points = self.grid.boundary().iter().zip(temperature);
        for ((point, surface), heat) in points.zip(exchange) {
            let flux = self.film * (surface - (self.air)(point, time_s));
            *heat = Exchange { flux, slope: self.film };
        }
    }
}

/// Outward normal (radial, axial) of the surface at a boundary point.
pub(crate) fn normal(section: &Section, point: &BoundaryPoint) -> (f64, f64) {
    match point.face {
        FaceName::Front => {
            let slope = section.slope(point.radius_m);
            let length = slope.hypot(1.0);
            (-slope / length, 1.0 / length)
        }
        FaceName::Back => (0.0, -1.0),
        FaceName::Rim => (1.0, 0.0),
        FaceName::Hole => (-1.0, 0.0),
    }
}
