//! Does the error fall as the method says, and is it as small as promised?
//!
//! Orders are observed on the curved, holed section: against an exact harmonic
//! solution, and by refinement in space and time. The promise made for each
//! resolution is then checked on mirrors at the ends of what a scenario may hold.

#![allow(clippy::unwrap_used, reason = "a night that cannot be computed has failed the test")]

mod accuracy;
#[path = "../references/case.rs"]
mod case;
mod coupling;
mod deviation;
mod disc;
mod figure;
mod lopsided;
mod space;
mod time;
