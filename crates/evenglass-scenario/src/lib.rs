//! Scenario and weather files: text in, a checked scenario in SI out.

mod clock;
mod fault;
mod profile;
pub mod scenario;
mod weather;

pub use clock::Clock;
pub use fault::{Fault, Place, ScenarioError};
pub use profile::{Profile, Side};
pub use scenario::Scenario;
