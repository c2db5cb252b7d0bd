//! Whether warmed glass bends as elasticity says: closed forms, plates, another program's
//! finite elements, and the mesh's own limit. Equations: docs/physics/figure.md.
#![allow(clippy::unwrap_used, reason = "a mirror that cannot be solved has failed its test")]

mod against_exact;
mod against_finite_elements;
mod against_plates;
mod falling_air;
mod mesh;
mod refusals;
mod warmed;
