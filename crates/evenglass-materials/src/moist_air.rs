//! Moist air: saturation, dew and frost point, and the properties films need.
//!
//! Relative humidity is over liquid water at every temperature, also below 0 °C.
//! Vapour pressures are those of the moist air itself; the pure-water saturation
//! pressure is raised by the enhancement factor where it meets air.
//!
//! Left out: transport properties below 243 K and above 313 K are the same fits
//! continued; compressibility of air (below 0.05 % here).

mod properties;
mod saturation;
mod vapour;

pub use properties::{AirProperties, pressure_at_altitude, properties};
pub use saturation::{
    dew_point, dew_point_from_vapour_pressure, enhancement_factor, frost_point,
    frost_point_from_vapour_pressure, humidity_ratio, saturation_pressure_ice,
    saturation_pressure_water, vapour_pressure, vapour_pressure_from_dew_point,
};
pub use vapour::{
    heat_of_condensation, heat_of_deposition, heat_of_wetting, lewis_number, vapour_at_surface,
    vapour_density, vapour_diffusivity, wetting_point,
};
