//! What the glass is made of, as the conduction sees it.

use evenglass_units::{Conductivity, Density, SpecificHeat};

/// Stored heat and conductivity against temperature, in closed form both ways.
///
/// With t in °C the heat stored above 0 °C per kilogram is
/// t (a t + c) / (b t + 1), the conductivity k₀ + k₁ t. The conduction is
/// solved for the heat potential θ = ∫ k dt = k₀ t + k₁ t²/2 (Kirchhoff's
/// transformation), for which it is linear whatever k₁ is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    density: f64,
    heat_a: f64,
    heat_b: f64,
    heat_c: f64,
    conductivity: f64,
    conductivity_slope: f64,
}

impl Material {
    /// A material whose properties do not change with temperature.
    #[must_use]
    pub fn constant(density: Density, heat: SpecificHeat, conductivity: Conductivity) -> Self {
        Self {
            density: density.kg_per_m3(),
            heat_a: 0.0,
            heat_b: 0.0,
            heat_c: heat.j_per_kg_k(),
            conductivity: conductivity.w_per_m_k(),
            conductivity_slope: 0.0,
        }
    }

    /// The same material with stored heat t (a t + c) / (b t + 1) per kilogram:
    /// `a` in J kg⁻¹ K⁻², `b` in K⁻¹, `c` in J kg⁻¹ K⁻¹.
    #[must_use]
    pub fn with_stored_heat(self, a: f64, b: f64, c: f64) -> Self {
        Self { heat_a: a, heat_b: b, heat_c: c, ..self }
    }

    /// The same material whose conductivity changes by `slope` [W m⁻¹ K⁻²].
    #[must_use]
    pub fn with_conductivity_slope(self, slope: f64) -> Self {
        Self { conductivity_slope: slope, ..self }
    }

    /// Whether specific heat and conductivity are constant.
    #[must_use]
    pub fn is_constant(&self) -> bool {
        self.heat_a == 0.0 && self.heat_b == 0.0 && self.conductivity_slope == 0.0
    }

    /// Heat stored above 0 °C [J m⁻³] at `celsius`.
    #[must_use]
    pub fn stored_heat(&self, celsius: f64) -> f64 {
        self.density * celsius * (self.heat_a * celsius + self.heat_c)
            / (self.heat_b * celsius + 1.0)
    }

    /// Temperature [°C] at which `heat` [J m⁻³] is stored above 0 °C.
    #[must_use]
    pub fn celsius(&self, heat: f64) -> f64 {
        let per_mass = heat / self.density;
        // a t² + (c - b e) t - e = 0, in the form that does not cancel.
        let linear = self.heat_c - self.heat_b * per_mass;
        2.0 * per_mass / (linear + (linear * linear + 4.0 * self.heat_a * per_mass).sqrt())
    }

    /// Heat capacity per volume [J m⁻³ K⁻¹] at `celsius`.
    #[must_use]
    pub fn heat_capacity(&self, celsius: f64) -> f64 {
        let base = self.heat_b * celsius + 1.0;
        let numerator = self.heat_a * celsius * (self.heat_b * celsius + 2.0) + self.heat_c;
        self.density * numerator / (base * base)
    }

    /// Change of the heat capacity per volume by temperature [J m⁻³ K⁻²] at `celsius`.
    pub(crate) fn heat_capacity_slope(&self, celsius: f64) -> f64 {
        let base = self.heat_b * celsius + 1.0;
        2.0 * (self.density * self.heat_a - self.heat_b * self.heat_capacity(celsius)) / base
    }

    /// Change of the conductivity by temperature [W m⁻¹ K⁻²].
    pub(crate) fn conductivity_slope(&self) -> f64 {
        self.conductivity_slope
    }

    /// Conductivity [W m⁻¹ K⁻¹] at `celsius`.
    #[must_use]
    pub fn conductivity(&self, celsius: f64) -> f64 {
        self.conductivity + self.conductivity_slope * celsius
    }

    /// Heat potential θ [W m⁻¹] at `celsius`.
    #[must_use]
    pub fn potential(&self, celsius: f64) -> f64 {
        celsius * (self.conductivity + 0.5 * self.conductivity_slope * celsius)
    }

    /// Temperature [°C] at which the heat potential is `potential` [W m⁻¹].
    #[must_use]
    pub fn celsius_at_potential(&self, potential: f64) -> f64 {
        let root =
            self.conductivity * self.conductivity + 2.0 * self.conductivity_slope * potential;
        2.0 * potential / (self.conductivity + root.sqrt())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn glass() -> Material {
        Material::constant(
            Density::from_kg_per_m3(2230.0),
            SpecificHeat::from_j_per_kg_k(722.0),
            Conductivity::from_w_per_m_k(1.1),
        )
        .with_stored_heat(2.0, 0.001_46, 722.0)
        .with_conductivity_slope(0.0015)
    }

    #[test]
    fn heat_and_potential_are_inverted_exactly() {
        let glass = glass();
        for celsius in [-40.0, -0.01, 1e-9, 12.5, 60.0] {
            assert_relative_eq!(
                glass.celsius(glass.stored_heat(celsius)),
                celsius,
                max_relative = 1e-13
            );
            let potential = glass.potential(celsius);
            assert_relative_eq!(
                glass.celsius_at_potential(potential),
                celsius,
                max_relative = 1e-13
            );
        }
    }

    #[test]
    fn heat_capacity_and_conductivity_are_the_slopes_of_heat_and_potential() {
        let glass = glass();
        for celsius in [-30.0, 0.0, 25.0] {
            let slope =
                (glass.stored_heat(celsius + 1e-3) - glass.stored_heat(celsius - 1e-3)) / 2e-3;
            assert_relative_eq!(glass.heat_capacity(celsius), slope, max_relative = 1e-8);
            let slope =
                (glass.heat_capacity(celsius + 1e-3) - glass.heat_capacity(celsius - 1e-3)) / 2e-3;
            assert_relative_eq!(glass.heat_capacity_slope(celsius), slope, max_relative = 1e-6);
            let slope = (glass.potential(celsius + 1e-3) - glass.potential(celsius - 1e-3)) / 2e-3;
            assert_relative_eq!(glass.conductivity(celsius), slope, max_relative = 1e-8);
        }
    }
}
