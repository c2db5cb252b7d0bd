//! One night from start to end, and many nights at once.
//!
//! The only crate that knows the whole story: scenario, air, films and glass
//! meet here and nowhere else.

pub mod result;

pub use evenglass_scenario as scenario;
pub use result::Night;
