//! The solid of the mirror: what its dimensions imply.

use std::f64::consts::PI;

use evenglass_scenario::scenario::Mirror;

/// A disc with a flat back and a paraboloidal or flat front, in metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Shape {
    pub(crate) diameter_m: f64,
    pub(crate) edge_thickness_m: f64,
    /// Zero where there is no hole.
    pub(crate) hole_radius_m: f64,
    focal_ratio: Option<f64>,
}

impl Shape {
    /// The outline of a mirror.
    pub(crate) fn of(mirror: &Mirror) -> Self {
        Self {
            diameter_m: mirror.diameter.metres(),
            edge_thickness_m: mirror.edge_thickness.metres(),
            hole_radius_m: mirror.hole_diameter.map_or(0.0, |hole| hole.metres() / 2.0),
            focal_ratio: mirror.focal_ratio,
        }
    }

    /// Vertex radius of the front, twice the focal length \[m\]; `None` when flat.
    pub(crate) fn radius_of_curvature_m(&self) -> Option<f64> {
        self.focal_ratio.map(|ratio| 2.0 * ratio * self.diameter_m)
    }

    /// Thickness on the axis, or at the wall of the hole \[m\].
    pub(crate) fn inner_thickness_m(&self) -> f64 {
        self.thickness_m(self.hole_radius_m)
    }

    /// Volume of the glass \[m³\].
    pub(crate) fn volume_m3(&self) -> f64 {
        let (inner, outer) = (self.hole_radius_m, self.diameter_m / 2.0);
        // The thickness is linear in r², so its mean over the ring is the mean of its ends.
        let mean_thickness = f64::midpoint(self.thickness_m(inner), self.edge_thickness_m);
        PI * (outer.powi(2) - inner.powi(2)) * mean_thickness
    }

    /// Local thickness \[m\]: the edge less what the paraboloid r²/2R falls short of it.
    fn thickness_m(&self, radius: f64) -> f64 {
        let fall = (self.diameter_m / 2.0).powi(2) - radius.powi(2);
        self.edge_thickness_m - self.radius_of_curvature_m().map_or(0.0, |r| fall / (2.0 * r))
    }
}

/// Mass of the glass \[kg\].
pub(crate) fn glass_mass_kg(mirror: &Mirror) -> f64 {
    Shape::of(mirror).volume_m3() * mirror.glass.density.kg_per_m3()
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIXTEEN_INCH: Shape = Shape {
        diameter_m: 0.406,
        edge_thickness_m: 0.041,
        hole_radius_m: 0.0,
        focal_ratio: Some(4.5),
    };

    /// Depth of a paraboloid: D / (16 N), by hand 406 mm / 72 = 5.6389 mm.
    #[test]
    fn a_faster_mirror_is_thinner_in_the_middle_by_its_sagitta() {
        let depth = SIXTEEN_INCH.edge_thickness_m - SIXTEEN_INCH.inner_thickness_m();
        assert!((depth - 0.406 / 72.0).abs() < 1e-12, "{depth}");
    }

    /// By midpoint rule over fine rings.
    #[test]
    fn the_volume_is_that_of_its_rings() {
        for shape in [SIXTEEN_INCH, Shape { hole_radius_m: 0.03, ..SIXTEEN_INCH }] {
            let rings = 20_000_u32;
            let width = (0.203 - shape.hole_radius_m) / f64::from(rings);
            let sum: f64 = (0..rings)
                .map(|ring| shape.hole_radius_m + (f64::from(ring) + 0.5) * width)
                .map(|radius| 2.0 * PI * radius * width * shape.thickness_m(radius))
                .sum();
            assert!((shape.volume_m3() / sum - 1.0).abs() < 1e-8, "{shape:?}");
        }
    }

    #[test]
    fn a_flat_front_is_as_thick_in_the_middle_as_at_the_rim() {
        let flat = Shape { focal_ratio: None, ..SIXTEEN_INCH };
        assert!((flat.inner_thickness_m() - 0.041).abs() < 1e-15, "{flat:?}");
        assert_eq!(flat.radius_of_curvature_m(), None);
    }
}
