//! Transient heat conduction in an axisymmetric mirror.
//!
//! A [`Section`] is cut into points by a [`Grid`], which holds everything that
//! depends on the shape alone. A [`Stepper`] then carries the glass of a
//! [`Material`] from one time to the next, asking its [`Surroundings`] for the heat
//! that leaves each boundary point; what it asks for is a flux and its slope, so
//! that it never knows what cools the glass. Every accepted step is a [`Span`],
//! from which the state at any time within it can be read.
//!
//! The method and the measurements behind it: docs/physics/conduction.md. Not here:
//! air, film laws, clocks, files; temperatures that vary around the axis.

mod blocks;
mod bodies;
mod boundary;
mod grid;
mod layout;
mod material;
mod mesh;
mod points;
mod resolution;
mod rosenbrock;
mod section;
mod skyline;
mod span;
mod step;
mod surface;
mod thermal;

pub use blocks::Line;
pub use bodies::Body;
pub use boundary::{
    BodyExchange, BoundaryPoint, Breaks, Exchange, ExchangeState, Exchanges, FaceName,
    FacePositions, Surroundings, Temperatures,
};
pub use grid::Grid;
pub use material::Material;
pub use resolution::{Resolution, ResolutionError};
pub use section::{Section, SectionError};
pub use span::Span;
pub use step::{Effort, StepError, Stepper};
