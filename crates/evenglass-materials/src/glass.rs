//! Telescope glasses: named ones with sources and spreads, or the user's own constants.
//!
//! Heat stored by glass grows with temperature: between −10 and 25 °C the
//! specific heat changes by a tenth, so it is a law here, not a number. The
//! values are those of a night near 10 °C; catalogue means over 20 to 100 °C or
//! 20 to 300 °C are given in the sources beside them.

mod table;

use evenglass_units::{Conductivity, Density, Expansion, Pressure};

pub use table::{Property, describe, named, names};

/// A glass as the solver needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct Glass {
    /// Name as written in a scenario, or "custom".
    pub name: String,
    /// Mass per volume.
    pub density: Density,
    /// Stored heat against temperature.
    pub heat: SpecificHeatLaw,
    /// Conductivity at 0 °C.
    pub conductivity: Conductivity,
    /// Change of conductivity per kelvin [W m⁻¹ K⁻²].
    pub conductivity_slope: f64,
    /// Linear expansion near 10 °C.
    pub expansion: Expansion,
    /// Young's modulus.
    pub youngs_modulus: Pressure,
    /// Poisson's ratio [-].
    pub poisson_ratio: f64,
    /// Total hemispherical emissivity of the bare surface [-].
    pub emissivity: f64,
}

impl Glass {
    /// Conductivity at a temperature in °C [W m⁻¹ K⁻¹] (eq. G-3).
    #[must_use]
    pub fn conductivity_at(&self, celsius: f64) -> f64 {
        self.conductivity.w_per_m_k() + self.conductivity_slope * celsius
    }
}

/// Specific heat as a mean from 0 °C, in the form of Sharp and Ginther:
/// `c_mean(0..t) = (a t + c) / (b t + 1)`, t in °C, in J kg⁻¹ K⁻¹ (eq. G-1).
///
/// The stored heat is then `c_mean · t`, a closed form that inverts in closed
/// form. A constant specific heat has a = b = 0.
///
/// # Source
/// D. E. Sharp and L. B. Ginther, "Effect of composition and temperature on the
/// specific heat of glass", J. Am. Ceram. Soc. 34 (1951) 260–271.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpecificHeatLaw {
    /// [J kg⁻¹ K⁻²]
    pub a: f64,
    /// [K⁻¹]
    pub b: f64,
    /// [J kg⁻¹ K⁻¹]
    pub c: f64,
}

impl SpecificHeatLaw {
    /// The same specific heat at every temperature [J kg⁻¹ K⁻¹].
    #[must_use]
    pub const fn constant(c: f64) -> Self {
        Self { a: 0.0, b: 0.0, c }
    }

    /// A specific heat linear in temperature, `at_zero + slope · t` with t in °C.
    ///
    /// * `at_zero` — at 0 °C [J kg⁻¹ K⁻¹]
    /// * `slope` — [J kg⁻¹ K⁻²]
    #[must_use]
    pub const fn linear(at_zero: f64, slope: f64) -> Self {
        Self { a: 0.5 * slope, b: 0.0, c: at_zero }
    }

    /// True specific heat at a temperature in °C [J kg⁻¹ K⁻¹]: the derivative of
    /// the stored heat (eq. G-2).
    #[must_use]
    pub fn specific_heat(&self, celsius: f64) -> f64 {
        let Self { a, b, c } = *self;
        let t = celsius;
        (a * b * t * t + 2.0 * a * t + c) / (b * t + 1.0).powi(2)
    }

    /// Heat stored between 0 °C and a temperature in °C [J kg⁻¹], negative below 0 °C.
    #[must_use]
    pub fn stored_heat(&self, celsius: f64) -> f64 {
        let t = celsius;
        (self.a * t + self.c) / (self.b * t + 1.0) * t
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn specific_heat_is_the_slope_of_the_stored_heat() {
        for name in names() {
            let heat = named(name).unwrap().heat;
            for t in [-40.0, -3.0, 0.0, 11.0, 60.0] {
                let step = 1e-2;
                let slope =
                    (heat.stored_heat(t + step) - heat.stored_heat(t - step)) / (2.0 * step);
                assert_relative_eq!(heat.specific_heat(t), slope, max_relative = 1e-8);
            }
        }
    }

    #[test]
    fn a_constant_law_stores_in_proportion_to_temperature() {
        let heat = SpecificHeatLaw::constant(720.0);
        assert_relative_eq!(heat.specific_heat(-20.0), 720.0);
        assert_relative_eq!(heat.stored_heat(-20.0), -14_400.0);
    }

    #[test]
    fn a_linear_law_has_the_slope_it_was_given() {
        let heat = SpecificHeatLaw::linear(780.0, 2.0);
        assert_relative_eq!(heat.specific_heat(25.0), 830.0);
        assert_relative_eq!(heat.stored_heat(10.0), 7_900.0);
    }
}
