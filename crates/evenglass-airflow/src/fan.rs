//! Fans: pressure against flow, alone and together, and the motors that turn them.
//!
//! Speeds are shares of the speed at which the curve was measured.

mod bank;
mod curve;
mod motor;

pub use bank::{Bank, Shutter};
pub use curve::{Curve, CurveError, STALL_SHARE};
pub use motor::{Motor, MotorPlace, Rotor, speed_at_voltage};
