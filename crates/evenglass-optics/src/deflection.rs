//! How temperatures bend the front: influence rows of a free, unsupported glass.
//!
//! The glass is one elastic material that rests on nothing; what bends it is expansion
//! that its own cold parts hold back. The problem is linear, so it is solved once for
//! each order around the axis, by finite elements, with the front's points in the place of
//! loads; afterwards a figure is a product of a matrix with temperatures. Young's modulus
//! drops out.
//!
//! Equation numbers: docs/physics/figure.md. Not here: weight, supports, a coating.

use ndarray::Array2;
use thiserror::Error;

mod free_body;
mod rigid;
mod unknowns;

use crate::Blank;
use crate::mesh::{Mesh, MeshSize};
use free_body::{FreeBody, Reading};

/// The highest order around the axis that is offered.
pub const HIGHEST_ORDER: usize = 4;

/// Influence of temperatures on the figure of the front, for one order around the axis.
///
/// For order m the temperature is T(r, z) cos mθ and the figure the amplitude of cos mθ;
/// the same holds for sines. The figure is `u_z − z′ u_r`, the height by which the surface
/// has moved at a fixed radius. What the glass does as a whole is left out: its mean
/// displacement and mean rotation are zero.
#[derive(Debug, Clone)]
pub struct Deflection {
    order: usize,
    front_radii: Vec<f64>,
    temperature_points: Vec<(f64, f64)>,
    influence: Array2<f64>,
}

/// Why no influence was computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum DeflectionError {
    /// The shape leaves no glass somewhere, or is not a number.
    #[error("no glass of this shape: rim {outer_m} m, hole {inner_m} m, thinnest {thinnest_m} m")]
    Shape {
        /// Radius of the rim \[m\].
        outer_m: f64,
        /// Radius of the hole \[m\].
        inner_m: f64,
        /// Thickness where the glass is thinnest \[m\].
        thinnest_m: f64,
    },
    /// Poisson's ratio is not one of an isotropic solid.
    #[error("Poisson's ratio must lie above -1 and below 0.5: {0}")]
    PoissonRatio(f64),
    /// The order is not offered.
    #[error("orders around the axis go from 0 to {HIGHEST_ORDER}: {0}")]
    Order(usize),
    /// A mesh without elements, or with more than fit in memory.
    #[error("a mesh needs 1 to 1000 elements each way: {} × {}", .0.radial, .0.axial)]
    Mesh(MeshSize),
    /// The shape is so extreme that rounding spoils the solution.
    #[error("the elastic problem of this shape cannot be solved to any accuracy")]
    IllConditioned,
}

impl Deflection {
    /// Solves for a blank with the elements, Poisson's ratio [-] and order given.
    ///
    /// # Errors
    /// If the shape holds no glass, Poisson's ratio is not between -1 and 0.5, the order is
    /// above [`HIGHEST_ORDER`] or the mesh empty or beyond reason.
    ///
    /// # Source
    /// Equations E-1 to E-9 in docs/physics/figure.md, with the sources named there.
    pub fn new(
        blank: &Blank,
        size: MeshSize,
        poisson_ratio: f64,
        order: usize,
    ) -> Result<Self, DeflectionError> {
        check_shape(blank)?;
        if !(poisson_ratio > -1.0 && poisson_ratio < 0.5) {
            return Err(DeflectionError::PoissonRatio(poisson_ratio));
        }
        if order > HIGHEST_ORDER {
            return Err(DeflectionError::Order(order));
        }
        if !(1..=1000).contains(&size.radial) || !(1..=1000).contains(&size.axial) {
            return Err(DeflectionError::Mesh(size));
        }
        let mesh = Mesh::new(*blank, size);
        let body = FreeBody::new(&mesh, poisson_ratio, order);
        let influence = body.ok_or(DeflectionError::IllConditioned)?.influence(&front(&mesh));
        Ok(Self {
            order,
            temperature_points: mesh.temperature_points(),
            front_radii: mesh.radii,
            influence,
        })
    }

    /// Order around the axis.
    #[must_use]
    pub fn order(&self) -> usize {
        self.order
    }

    /// Nodes on the front \[m\], ascending: corners and middles of the elements, an odd
    /// number. The figure between them is the quadratic through an element's three.
    #[must_use]
    pub fn front_radii(&self) -> &[f64] {
        &self.front_radii
    }

    /// Radius and height above the back \[m\] of the points at which temperatures are
    /// wanted, `[points]`: three by three inside each element, where expansion is summed.
    #[must_use]
    pub fn temperature_points(&self) -> &[(f64, f64)] {
        &self.temperature_points
    }

    /// Figure at each front node per kelvin at each point and unit of expansion \[m\],
    /// `[front nodes, points]`.
    #[must_use]
    pub fn influence(&self) -> &Array2<f64> {
        &self.influence
    }
}

/// Refuses shapes without glass.
fn check_shape(blank: &Blank) -> Result<(), DeflectionError> {
    let (outer_m, inner_m) = (blank.outer_radius_m, blank.inner_radius_m);
    let thinnest_m = blank.thickness(inner_m).min(blank.thickness(outer_m));
    let numbers = [outer_m, inner_m, blank.edge_thickness_m, blank.curvature_per_m];
    let finite = numbers.iter().all(|number| number.is_finite());
    if finite && inner_m >= 0.0 && outer_m > inner_m && thinnest_m > 0.0 {
        Ok(())
    } else {
        Err(DeflectionError::Shape { outer_m, inner_m, thinnest_m })
    }
}

/// The figure `u_z − z′ u_r` at every node of the front, from the axis or hole to the rim.
fn front(mesh: &Mesh) -> Vec<Reading> {
    let reading = |(column, &radius): (usize, &f64)| Reading {
        node: mesh.node(column, mesh.rows() - 1),
        weights: [-mesh.blank.slope(radius), 1.0, 0.0],
    };
    mesh.radii.iter().enumerate().map(reading).collect()
}
