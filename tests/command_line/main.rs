//! The program as a maker meets it: what it prints, what it writes, how it ends.
#![allow(clippy::unwrap_used, reason = "a test whose folder or child cannot be had has failed")]

mod answers;
mod disk;
mod explanations;
mod faults;
mod help;
mod interrupt;
mod place;
mod results;
mod size;
mod starting;
mod streams;
mod sweeps;
