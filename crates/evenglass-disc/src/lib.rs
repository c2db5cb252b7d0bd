//! Transient heat conduction in an axisymmetric mirror.

mod boundary;

pub use boundary::{BoundaryPoint, Breaks, Exchange, FaceName, Surroundings};
