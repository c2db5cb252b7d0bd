//! The air that flows.

/// Density at which fan curves and quadratic resistances are stated [kg/m³]
/// (standard air of ISO 5801).
pub const REFERENCE_DENSITY: f64 = 1.2;

/// Viscosity at which linear resistances are stated [Pa s]: air of 20 °C.
pub const REFERENCE_VISCOSITY: f64 = 1.81e-5;

/// Properties of the air that flows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// [kg/m³]
    pub density: f64,
    /// Dynamic viscosity [Pa s].
    pub viscosity: f64,
    /// At constant pressure [J/(kg K)].
    pub specific_heat: f64,
}

impl Air {
    /// The air to which curves and resistances refer: 1.2 kg/m³, 20 °C.
    pub const REFERENCE: Self =
        Self { density: REFERENCE_DENSITY, viscosity: REFERENCE_VISCOSITY, specific_heat: 1006.0 };

    /// Whether every property is a positive finite number.
    #[must_use]
    pub fn is_physical(&self) -> bool {
        [self.density, self.viscosity, self.specific_heat]
            .iter()
            .all(|property| property.is_finite() && *property > 0.0)
    }
}
