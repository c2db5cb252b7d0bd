//! SI quantities, and the text a maker writes for them.
//!
//! [`Temperature`] and [`TemperatureDifference`] are different types; the other
//! newtypes keep a length from being taken for a flow. Nothing in this crate
//! knows what a mirror is.

mod quantity;

pub use quantity::{
    Angle, Conductivity, Density, Duration, Expansion, FilmCoefficient, Length, Pressure,
    SpecificHeat, Speed, Temperature, TemperatureDifference, TemperatureRate, VolumeRate,
};
