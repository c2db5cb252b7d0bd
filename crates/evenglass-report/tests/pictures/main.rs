//! Pictures of computed nights, looked at pixel by pixel.
//!
//! They stay under cargo's folder for test files, in `nights`, so that a person can look at them.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod nights;
mod pixels;
mod shown;
