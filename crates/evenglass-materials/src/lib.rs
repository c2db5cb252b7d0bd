//! Dry and moist air and telescope glasses, each value with its source.

mod glass;

pub use glass::{Glass, SpecificHeatLaw};
