//! Newtypes in SI: a private number each, so that no unit can be mistaken.
//!
//! Kernels compute on bare `f64` in SI; these types stand where numbers cross
//! from one crate to another.

use std::fmt;
use std::ops::Sub;
use std::str::FromStr;

use crate::error::UnitError;
use crate::kind::Kind;
use crate::parse::parse;

/// The one place that knows where the Celsius scale starts \[K\].
pub(crate) const CELSIUS_ZERO: f64 = 273.15;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $from:ident, $get:ident, $unit:literal, $kind:ident) => {
        $(#[$doc])*
        ///
        /// `FromStr` reads a number with its unit; `Display` writes SI that reads back the same.
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("From a number in ", $unit, ".")]
            #[must_use]
            pub const fn $from(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("The number in ", $unit, ".")]
            #[must_use]
            pub const fn $get(self) -> f64 {
                self.0
            }
        }

        text!($name, $unit, $kind);
    };
}

macro_rules! text {
    ($name:ident, $unit:literal, $kind:ident) => {
        impl FromStr for $name {
            type Err = UnitError;

            fn from_str(text: &str) -> Result<Self, UnitError> {
                parse(text, Kind::$kind).map(Self)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{} {}", self.0, $unit)
            }
        }
    };
}

quantity!(
    /// A distance.
    Length, from_metres, metres, "m", LENGTH
);
quantity!(
    /// A span of time, or a time since the start of the run.
    Duration, from_seconds, seconds, "s", DURATION
);
quantity!(
    /// A difference of two temperatures. 0 °C is not 0 K, but 1 K of difference is 1 °C of difference.
    TemperatureDifference, from_kelvins, kelvins, "K", TEMPERATURE_DIFFERENCE
);
quantity!(
    /// How fast a temperature changes.
    TemperatureRate, from_kelvins_per_second, kelvins_per_second, "K/s", TEMPERATURE_RATE
);
quantity!(
    /// Heat per area and kelvin of difference, by moving air.
    FilmCoefficient, from_w_per_m2_k, w_per_m2_k, "W m⁻² K⁻¹", FILM_COEFFICIENT
);
quantity!(
    /// Air moved per time, at the local density.
    VolumeRate, from_m3_per_s, m3_per_s, "m³/s", VOLUME_RATE
);
quantity!(
    /// A speed.
    Speed, from_metres_per_second, metres_per_second, "m/s", SPEED
);
quantity!(
    /// A pressure, or a modulus of elasticity.
    Pressure, from_pascals, pascals, "Pa", PRESSURE
);
quantity!(
    /// Mass per volume.
    Density, from_kg_per_m3, kg_per_m3, "kg m⁻³", DENSITY
);
quantity!(
    /// Heat per mass and kelvin.
    SpecificHeat, from_j_per_kg_k, j_per_kg_k, "J kg⁻¹ K⁻¹", SPECIFIC_HEAT
);
quantity!(
    /// Thermal conductivity.
    Conductivity, from_w_per_m_k, w_per_m_k, "W m⁻¹ K⁻¹", CONDUCTIVITY
);
quantity!(
    /// Linear thermal expansion.
    Expansion, from_per_kelvin, per_kelvin, "K⁻¹", EXPANSION
);
quantity!(
    /// An area.
    Area, from_m2, m2, "m²", AREA
);
quantity!(
    /// Energy per time.
    Power, from_watts, watts, "W", POWER
);
quantity!(
    /// An electric voltage.
    Voltage, from_volts, volts, "V", VOLTAGE
);
quantity!(
    /// A plane angle.
    Angle, from_radians, radians, "rad", ANGLE
);

/// A thermodynamic temperature \[K\].
///
/// Two temperatures subtract to a [`TemperatureDifference`] and cannot be added:
/// 20 °C + 20 °C is 586 K, and nobody ever meant that.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature(f64);

text!(Temperature, "K", TEMPERATURE);

impl Temperature {
    /// From kelvin.
    #[must_use]
    pub const fn from_kelvin(kelvin: f64) -> Self {
        Self(kelvin)
    }

    /// From degrees Celsius.
    #[must_use]
    pub const fn from_celsius(celsius: f64) -> Self {
        Self(celsius + CELSIUS_ZERO)
    }

    /// The number in kelvin.
    #[must_use]
    pub const fn kelvin(self) -> f64 {
        self.0
    }

    /// The number in degrees Celsius.
    #[must_use]
    pub const fn celsius(self) -> f64 {
        self.0 - CELSIUS_ZERO
    }
}

impl Sub for Temperature {
    type Output = TemperatureDifference;

    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference(self.0 - other.0)
    }
}

impl Duration {
    /// From hours.
    #[must_use]
    pub const fn from_hours(hours: f64) -> Self {
        Self(hours * 3600.0)
    }

    /// The number in hours.
    #[must_use]
    pub const fn hours(self) -> f64 {
        self.0 / 3600.0
    }
}
