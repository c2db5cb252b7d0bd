//! How sure a night is: the same night computed many times with everything that is not
//! known drawn from its spread.
//!
//! * [`Unknown`] — what is not known, how badly, and how a maker could find out
//! * [`draw`] — a night with one draw of all unknowns
//! * [`Doubt`] — bands, chances, and which unknown matters most
//!
//! Draws are quasi-random and seeded: draw n is the same for every scenario, so that
//! alternatives meet the same luck, and the same seed gives the same numbers.
//! docs/physics/doubt.md says where the spreads come from.

mod bands;
mod draw;
mod ranking;
mod unknown;

pub use bands::{Band, Doubt, RowBand, Told, doubt};
pub use draw::{Draw, draw};
pub use ranking::{Importance, rank};
pub use unknown::{Unknown, applying};

#[cfg(test)]
mod tests;
