//! The half section of the glass: flat back, concave paraboloidal or flat front, optional hole.

use evenglass_units::Length;
use thiserror::Error;

/// Shape of the glass in the half plane through its axis.
///
/// The back lies in the plane z = 0, the front at z = [`Section::thickness`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    outer_radius: f64,
    inner_radius: f64,
    edge_thickness: f64,
    /// 1 / (2 R), zero for a flat front [m⁻¹].
    sag_coefficient: f64,
}

/// Why a shape is not a mirror.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum SectionError {
    /// A dimension is not a positive number.
    #[error("the {name} of the glass must be a positive length, not {metres} m")]
    NotPositive {
        /// Which dimension.
        name: &'static str,
        /// Its value \[m\].
        metres: f64,
    },
    /// The hole leaves no glass.
    #[error("a hole of {hole} m leaves no glass in a disc of {diameter} m")]
    HoleTooWide {
        /// Diameter of the hole \[m\].
        hole: f64,
        /// Diameter of the disc \[m\].
        diameter: f64,
    },
    /// The concave front meets the back.
    #[error(
        "the front is {sagitta} m deep, the edge only {edge} m thick: no glass is left at the centre"
    )]
    NoGlass {
        /// Depth of the front below its edge, at the centre or the hole's wall \[m\].
        sagitta: f64,
        /// Thickness at the rim \[m\].
        edge: f64,
    },
}

impl Section {
    /// A disc of `diameter` whose front is a paraboloid of vertex radius
    /// 2 · `focal_ratio` · `diameter`, or flat, with an optional hole.
    ///
    /// # Errors
    /// If a dimension is not positive or no glass is left.
    pub fn new(
        diameter: Length,
        edge_thickness: Length,
        focal_ratio: Option<f64>,
        hole_diameter: Option<Length>,
    ) -> Result<Self, SectionError> {
        let diameter = positive("diameter", diameter.metres())?;
        let edge_thickness = positive("edge thickness", edge_thickness.metres())?;
        let hole = match hole_diameter {
            Some(hole) => positive("hole", hole.metres())?,
            None => 0.0,
        };
        if hole >= diameter {
            return Err(SectionError::HoleTooWide { hole, diameter });
        }
        let sag_coefficient = match focal_ratio {
            Some(ratio) => 1.0 / (4.0 * positive("focal ratio", ratio)? * diameter),
            None => 0.0,
        };
        let section = Self {
            outer_radius: 0.5 * diameter,
            inner_radius: 0.5 * hole,
            edge_thickness,
            sag_coefficient,
        };
        if section.thickness(section.inner_radius) <= 0.0 {
            let sagitta = edge_thickness - section.thickness(section.inner_radius);
            return Err(SectionError::NoGlass { sagitta, edge: edge_thickness });
        }
        Ok(section)
    }

    /// Radius of the rim \[m\].
    #[must_use]
    pub fn outer_radius(&self) -> f64 {
        self.outer_radius
    }

    /// Radius of the hole \[m\]; 0 is a solid disc.
    #[must_use]
    pub fn inner_radius(&self) -> f64 {
        self.inner_radius
    }

    /// Whether there is a hole.
    #[must_use]
    pub fn has_hole(&self) -> bool {
        self.inner_radius > 0.0
    }

    /// Local thickness at `radius` \[m\].
    #[must_use]
    pub fn thickness(&self, radius: f64) -> f64 {
        self.edge_thickness
            - self.sag_coefficient * (self.outer_radius * self.outer_radius - radius * radius)
    }

    /// Slope of the front at `radius` [-].
    #[must_use]
    pub fn slope(&self, radius: f64) -> f64 {
        2.0 * self.sag_coefficient * radius
    }
}

fn positive(name: &'static str, metres: f64) -> Result<f64, SectionError> {
    if metres.is_finite() && metres > 0.0 {
        Ok(metres)
    } else {
        Err(SectionError::NotPositive { name, metres })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn mm(millimetres: f64) -> Length {
        Length::from_metres(millimetres / 1000.0)
    }

    #[test]
    fn the_centre_is_thinner_than_the_edge_by_the_sagitta() {
        let section = Section::new(mm(400.0), mm(50.0), Some(4.0), None).unwrap();
        // r² / (2 R) with R = 3.2 m and r = 0.2 m.
        assert_abs_diff_eq!(section.thickness(0.0), 0.050 - 0.04 / 6.4, epsilon = 1e-15);
        assert_abs_diff_eq!(section.slope(0.2), 0.2 / 3.2, epsilon = 1e-15);
    }

    #[test]
    fn impossible_shapes_are_refused() {
        let hole = Section::new(mm(100.0), mm(10.0), None, Some(mm(100.0)));
        assert!(matches!(hole, Err(SectionError::HoleTooWide { .. })), "{hole:?}");
        let thin = Section::new(mm(800.0), mm(20.0), Some(2.0), None);
        assert!(matches!(thin, Err(SectionError::NoGlass { .. })), "{thin:?}");
        let negative = Section::new(mm(-1.0), mm(20.0), None, None);
        assert!(matches!(negative, Err(SectionError::NotPositive { .. })), "{negative:?}");
        let nan = Section::new(mm(100.0), mm(f64::NAN), None, None);
        assert!(matches!(nan, Err(SectionError::NotPositive { .. })), "{nan:?}");
    }
}
