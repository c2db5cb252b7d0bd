//! Published film correlations: pure numbers in, Nusselt numbers out.
//!
//! One correlation is one function with one source and one range, and tells
//! whether its answer lies inside that range ([`Estimate`]). Nothing here knows
//! what the surface is made of or what it is for; nothing is printed and nothing
//! stops a calculation.
//!
//! * [`free`] — air moved by its own warmth over discs and plates; [`gap`] — in a closed gap
//! * [`jet`] — a round jet at right angles to a plate; [`wall_jet`] — what it becomes;
//!   [`array`](mod@array) — many of them; [`slot`] — a plane one; [`facing`] — where they meet the plate
//! * [`sheet`] — air sent inward over a face from a ring of nozzle; [`laminar_jet`] — its
//!   beginning; [`cross`] — air sent across from the side
//! * [`duct`] — flow forced through a gap or outward between discs; [`radial`] — inward
//! * [`plate`] — wind over a plate
//! * [`disturbed`] — turbulence around a layer, buffeting, heating that starts late
//! * [`mixed`] — two mechanisms at one place; [`mass`] — what a film carries besides heat
//!
//! Equation numbers (C-) refer to `docs/physics/convection.md`. Symbols in
//! formulas are those of `docs/physics/nomenclature.md`.

pub mod array;
pub mod cross;
pub mod disturbed;
pub mod duct;
pub mod facing;
pub mod free;
pub mod gap;
pub mod jet;
pub mod laminar_jet;
pub mod mass;
pub mod mixed;
pub mod plate;
pub mod radial;
pub mod sheet;
pub mod slot;
pub mod wall_jet;

pub use evenglass_units::{Estimate, Validity};
