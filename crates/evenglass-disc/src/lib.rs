//! Transient heat conduction in an axisymmetric mirror.

mod blocks;
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
pub use boundary::{BoundaryPoint, Breaks, Exchange, FaceName, FacePositions, Surroundings};
pub use grid::Grid;
pub use material::Material;
pub use resolution::{Resolution, ResolutionError};
pub use section::{Section, SectionError};
pub use span::Span;
pub use step::{Effort, StepError, Stepper};
