//! Scenario and weather files: text in, a checked scenario in SI out.
//!
//! [`load`] reads a TOML file, [`parse`] a text; both report every fault at once,
//! each with its line, the fact and the remedy. `overrides` are changes typed on
//! the command line; they are checked like the file itself.

mod axis;
mod check;
mod clock;
mod codes;
mod described;
mod fault;
mod file;
mod guide;
mod keys;
mod ledger;
mod moment;
mod overrides;
mod profile;
mod read;
mod remedy;
pub mod scenario;
mod schema;
mod suggest;
pub mod telescope;
mod tree;
pub mod ventilation;
mod weather;

pub use axis::{Axis, parse_axis};
pub use clock::Clock;
pub use codes::CODES;
pub use described::{KeyText, keys_of, kinds_of, words_of};
pub use fault::{Fault, Place, ScenarioError};
pub use file::{events, load, parse};
pub use guide::key_guide;
pub use overrides::{Override, Variant, parse_override, parse_variant};
pub use profile::{Profile, Side};
pub use scenario::Scenario;
pub use schema::schema;
