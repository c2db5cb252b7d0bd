//! Is heat conserved, symmetry kept, and the answer independent of what it may not depend on?

#![allow(clippy::unwrap_used, reason = "a night that cannot be computed has failed the test")]

mod boxed;
#[path = "../references/case.rs"]
mod case;
mod crossing;
mod energy;
mod extremes;
mod good;
mod independence;
mod lopsided;
mod range;
mod surfaces;
mod symmetry;
