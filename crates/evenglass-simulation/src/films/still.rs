//! Still air on a plate whose temperature is known: one film, without the tables.

use evenglass_convection::free::{self, Stability};
use evenglass_materials::moist_air::AirProperties;

use super::natural::GRAVITY;

/// Film of free convection [W m⁻² K⁻¹] on a plate with this length \[m\], for a temperature
/// difference of this size \[K\], tilted from the level by an angle \[rad\].
pub(crate) fn free_film(
    air: &AirProperties,
    length: f64,
    difference: f64,
    (tilt, stability): (f64, Stability),
) -> f64 {
    let rayleigh = GRAVITY * air.expansion() * difference * length.powi(3)
        / (air.kinematic_viscosity() * air.thermal_diffusivity());
    let nusselt = free::inclined_disc(rayleigh, air.prandtl(), tilt, stability).value;
    nusselt * air.conductivity / length
}
