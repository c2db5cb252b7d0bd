//! From `[ventilation]` to flow, local speeds and films on every face of the glass.
//!
//! * `network` — the layers an arrangement's air passes, as the balance of fans sees them
//! * `moved` — one state of the fans: flows, fields, the way of the air
//! * `field` — a film at every radius and angle of a face, its mean and lopsided orders
//! * `back`, `rim`, `front` — which correlations make the field of each arrangement
//! * [`sizing`] — the same numbers, as a builder wants them; [`wish`] — the inverse
//!
//! Equations V-n are in `docs/physics/ventilation.md`.

pub(crate) mod back;
pub(crate) mod field;
pub(crate) mod front;
pub(crate) mod moved;
pub(crate) mod network;
pub(crate) mod rim;
pub mod sizing;
pub mod wish;

pub use field::{Around, ORDERS};

#[cfg(test)]
pub(crate) mod tests;
