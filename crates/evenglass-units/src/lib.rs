//! SI quantities, and the text a maker writes for them.
//!
//! [`Temperature`] and [`TemperatureDifference`] are different types; the other
//! newtypes keep a length from being taken for a flow. Nothing in this crate
//! knows what a mirror is. [`Estimate`] is what every correlation answers.
//!
//! ```
//! use evenglass_units::{Length, VolumeRate};
//!
//! let mirror: Length = "24 in".parse()?;
//! assert!((mirror.metres() - 0.6096).abs() < 1e-12);
//! let wrong = "60 kg".parse::<VolumeRate>().unwrap_err();
//! assert_eq!(wrong.to_string(), "`60 kg` measures mass, a flow is wanted");
//! assert_eq!(wrong.remedy(), "write it as \"60 cfm\" or \"100 m3/h\"");
//! # Ok::<(), evenglass_units::UnitError>(())
//! ```

mod error;
mod estimate;
mod kind;
mod parse;
mod quantity;
mod spelling;

pub use error::{UnitError, UnitFault};
pub use estimate::{Estimate, Validity};
pub use kind::{Kind, all_symbols};
pub use parse::{parse, split_number};
pub use quantity::{
    Angle, Area, Conductivity, Density, Duration, Expansion, FilmCoefficient, Length, Power,
    Pressure, SpecificHeat, Speed, Temperature, TemperatureDifference, TemperatureRate, Voltage,
    VolumeRate,
};
