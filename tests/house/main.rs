//! The rules of the house, tested: who may use whom, where a package lives, how
//! long a file may grow, and that what the code cites exists.
#![allow(clippy::unwrap_used, reason = "a test that cannot read the workspace has failed")]

mod arrows;
mod citations;
mod codes;
mod commands;
mod files;
mod pictures;
mod workspace;
