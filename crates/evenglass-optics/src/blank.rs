//! The shape of the glass: flat back, concave paraboloidal or flat front, optional hole.

/// A glass disc about its axis; the back lies in the plane z = 0.
///
/// Whoever makes one vouches for a shape that leaves glass everywhere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blank {
    /// Radius of the rim \[m\].
    pub outer_radius_m: f64,
    /// Radius of the hole \[m\]; 0 is a solid disc.
    pub inner_radius_m: f64,
    /// Thickness at the rim \[m\].
    pub edge_thickness_m: f64,
    /// Curvature of the front at its vertex [m⁻¹], 1/R; 0 is a flat front.
    pub curvature_per_m: f64,
}

impl Blank {
    /// Height of the front above the back's plane \[m\] at a radius \[m\].
    #[must_use]
    pub fn thickness(&self, radius: f64) -> f64 {
        let edge = self.outer_radius_m;
        self.edge_thickness_m - 0.5 * self.curvature_per_m * (edge * edge - radius * radius)
    }

    /// Slope dz/dr of the front [-] at a radius \[m\].
    #[must_use]
    pub fn slope(&self, radius: f64) -> f64 {
        self.curvature_per_m * radius
    }

    /// Whether there is a hole.
    #[must_use]
    pub fn has_hole(&self) -> bool {
        self.inner_radius_m > 0.0
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn the_front_is_a_paraboloid_through_the_edge() {
        let blank = Blank {
            outer_radius_m: 0.2,
            inner_radius_m: 0.0,
            edge_thickness_m: 0.05,
            curvature_per_m: 1.0 / 3.2,
        };
        assert_relative_eq!(blank.thickness(0.2), 0.05, max_relative = 1e-15);
        // Sag r²/(2R) of 200 mm at R = 3.2 m.
        assert_relative_eq!(blank.thickness(0.0), 0.05 - 0.00625, max_relative = 1e-12);
        assert_relative_eq!(blank.slope(0.1), 0.03125, max_relative = 1e-12);
        assert!(!blank.has_hole(), "a solid disc");
    }
}
