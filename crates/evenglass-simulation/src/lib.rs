//! One night from start to end, and many nights at once.
//!
//! The only crate that knows the whole story: scenario, air, films and glass
//! meet here and nowhere else. [`simulate`] takes a checked scenario and returns
//! a [`Night`] of plain data; it does no input or output.

mod beam;
pub mod dew;
pub mod doubt;
mod extremes;
mod figure;
mod films;
pub mod geometry;
mod good;
pub mod image;
mod media;
mod night;
pub mod picture;
mod probes;
mod reading;
mod recorder;
pub mod result;
mod secondary;
pub mod sweep;
mod unused;
pub mod ventilation;

pub use evenglass_disc::{Resolution, ResolutionError};
pub use evenglass_scenario as scenario;
pub use geometry::Geometries;
pub use media::typical_drop;
pub use night::{SimulationError, simulate, simulate_with, temperatures_with};
pub use result::Night;
