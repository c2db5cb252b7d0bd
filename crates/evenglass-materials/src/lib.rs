//! Moist air and telescope glasses, each value with its source.
//!
//! [`glass`] holds the named glasses and the law by which they store heat;
//! [`moist_air`] the saturation pressure, dew and frost point, and the
//! properties that films need; [`sky`] how the night sky radiates and [`view`] what is seen of it; [`wall`]
//! what tubes and boxes are made of. Nothing here knows what a mirror or a night is.
//!
//! Equation numbers refer to `docs/physics/glass.md` (G-) and
//! `docs/physics/moist-air.md` (A-); those of dew are in `docs/physics/dew.md` (D-).

pub mod glass;
pub mod moist_air;
pub mod sky;
pub mod view;
pub mod wall;

pub use glass::{Glass, SpecificHeatLaw};
