//! Telescope glasses: named ones with sources and spreads, or the user's own constants.

use evenglass_units::{Conductivity, Density, Expansion, Pressure};

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

/// Specific heat as a mean from 0 °C, in the form of Sharp and Ginther:
/// c_mean(0..t) = (a t + c) / (b t + 1), t in °C, in J kg⁻¹ K⁻¹.
///
/// The stored heat is then c_mean · t, a closed form that inverts in closed
/// form. A constant specific heat has a = b = 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpecificHeatLaw {
    /// [J kg⁻¹ K⁻²]
    pub a: f64,
    /// [K⁻¹]
    pub b: f64,
    /// [J kg⁻¹ K⁻¹]
    pub c: f64,
}
