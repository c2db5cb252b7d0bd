//! Where a fan's curve meets the resistance it blows through, and what follows:
//! flow, local speeds, warming by the fan, noise.
//!
//! A [`Network`] is a bank of fans, layers in series behind it, and branches that part
//! behind those, each with layers of its own and an outlet to the open. [`Network::operate`]
//! finds where pressure and flow balance.
//!
//! * [`fan`] — pressure against flow, fans side by side and behind one another, motors
//! * [`loss`] — filters, plates, openings, fittings, gaps
//! * [`network`] — the balance
//! * [`noise`] — level against speed, count and distance
//! * [`exchange`] — how far a stream comes to the temperature of the surface it passes
//! * [`mod@column`] — the jet that rises from the middle of a mirror
//! * [`curtain`] — a sheet of air against a breeze
//! * [`evenness`] — slots fed from a plenum at one end, or from one point
//!
//! Pure numbers in SI; nothing is printed, nothing stops a calculation. Equation numbers
//! (N-) refer to `docs/physics/airflow.md`, symbols to `docs/physics/nomenclature.md`.

mod air;
pub mod column;
pub mod curtain;
pub mod evenness;
pub mod exchange;
pub mod fan;
pub mod loss;
pub mod network;
pub mod noise;
mod root;

pub use air::{Air, REFERENCE_DENSITY, REFERENCE_VISCOSITY};
pub use evenglass_units::{Estimate, Validity};
pub use network::Network;
