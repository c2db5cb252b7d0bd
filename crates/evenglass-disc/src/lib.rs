//! Transient heat conduction in an axisymmetric mirror.
//!
//! A [`Section`] is cut into points by a [`Grid`], which holds everything that
//! depends on the shape alone. A [`Stepper`] then carries the glass of a
//! [`Material`] from one time to the next, asking its [`Surroundings`] for the heat
//! that leaves each boundary point; what it asks for is a flux and its slope, so
//! that it never knows what cools the glass. Every accepted step is a [`Span`],
//! from which the state at any time within it can be read.
//!
//! Temperatures may vary around the axis: a [`Variation`] says how, and the stepper then
//! carries, beside the mean, an amplitude for each of its [`Part`]s and asks for the heat
//! that leaves in sectors around the axis.
//!
//! The method and the measurements behind it: docs/physics/conduction.md. Not here:
//! air, film laws, clocks, files.

mod blocks;
mod bodies;
mod boundary;
mod fields;
mod grid;
mod layout;
mod material;
mod mesh;
mod order;
mod points;
mod resolution;
mod rosenbrock;
mod section;
mod sectors;
mod skyline;
mod span;
mod step;
mod surface;
mod thermal;
mod variation;

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
pub use variation::{Part, Variation, Wave};
