//! Where the answer is known without a solver: thin, sealed, drowned, bare and empty limits.

#![allow(clippy::unwrap_used, reason = "a night that cannot be computed has failed the test")]

mod bounds;
#[path = "../references/case.rs"]
mod case;
mod film;
mod shape;
mod tables;
