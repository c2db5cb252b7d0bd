//! The section's points and its geometry factors: volumes, conduction, surface.

use evenglass_units::Length;
use ndarray::Array2;

use crate::blocks::{Block, Line, holding};
use crate::boundary::{BoundaryPoint, Breaks, FaceName};
use crate::mesh::Mesh;
use crate::resolution::Resolution;
use crate::section::Section;
use crate::skyline::Skyline;
use crate::surface::Surface;

/// Everything about a mirror's shape that the time steps need; independent of
/// glass, films and night.
#[derive(Debug, Clone)]
pub struct Grid {
    pub(crate) mesh: Mesh,
    /// Volume each point stands for \[m³\]; index = column · axial points + axial point.
    pub(crate) volume: Vec<f64>,
    /// Conduction between the points per unit of conductivity \[m\].
    pub(crate) conduction: Skyline,
    pub(crate) surface: Surface,
}

impl Grid {
    /// Cuts the section into points and computes its geometry factors.
    ///
    /// `breaks` are where the films jump or have a kink; the boundary integrals
    /// are split there, whatever the points.
    #[must_use]
    pub fn new(section: &Section, resolution: &Resolution, breaks: &Breaks) -> Self {
        let mesh = Mesh::new(section, resolution, breaks);
        let mut grid = Self {
            volume: vec![0.0; mesh.len()],
            conduction: Skyline::zeros(mesh.profile()),
            surface: Surface::of(&mesh, breaks),
            mesh,
        };
        grid.integrate_volume();
        grid.conduction.fill_lanes();
        grid
    }

    /// Number of points.
    #[must_use]
    pub fn len(&self) -> usize {
        self.volume.len()
    }

    /// Never true: a grid has points.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.volume.is_empty()
    }

    /// Points along the radius and through the thickness.
    #[must_use]
    pub fn shape(&self) -> (usize, usize) {
        (self.mesh.radius.len(), self.mesh.fraction.len())
    }

    /// Radius of each column of points \[m\], ascending.
    #[must_use]
    pub fn radii(&self) -> &[f64] {
        &self.mesh.radius
    }

    /// Height of each point above the back \[m\], `[radial points, axial points]`.
    #[must_use]
    pub fn heights(&self) -> Array2<f64> {
        Array2::from_shape_fn(self.shape(), |(i, j)| {
            self.mesh.fraction[j] * self.mesh.section.thickness(self.mesh.radius[i])
        })
    }

    /// The boundary points, in the order in which [`crate::Surroundings`] meets them.
    #[must_use]
    pub fn boundary(&self) -> &[BoundaryPoint] {
        &self.surface.points
    }

    /// True (sloped) surface that each boundary point answers for \[m²\], `[boundary points]`.
    #[must_use]
    pub fn boundary_areas_m2(&self) -> &[f64] {
        &self.surface.area
    }

    /// Volume of the glass \[m³\].
    #[must_use]
    pub fn total_volume(&self) -> f64 {
        self.volume.iter().sum()
    }

    /// The blocks along the radius, resolved into `fineness` steps for each cell.
    #[must_use]
    pub fn radial_lines(&self, fineness: usize) -> Vec<Line> {
        self.mesh.radial.iter().map(|block| Line::of(block, fineness)).collect()
    }

    /// The blocks through the thickness, resolved into `fineness` steps for each cell.
    #[must_use]
    pub fn axial_lines(&self, fineness: usize) -> Vec<Line> {
        self.mesh.axial.iter().map(|block| Line::of(block, fineness)).collect()
    }

    /// (grid point, share of the volume): the weights of the volume mean.
    pub fn volume_shares(&self) -> impl Iterator<Item = (usize, f64)> {
        let total = self.total_volume();
        self.volume.iter().enumerate().map(move |(point, volume)| (point, volume / total))
    }

    /// (grid point, share of the true surface) of a face: the weights of its area mean.
    #[must_use]
    pub fn face_shares(&self, face: FaceName) -> Vec<(usize, f64)> {
        let mut shares = vec![0.0; self.len()];
        let mut total = 0.0;
        for (n, (point, area)) in self.surface.points.iter().zip(&self.surface.area).enumerate() {
            if point.face == face {
                total += area;
                for &(node, weight) in self.surface.terms(n) {
                    shares[node] += weight * area;
                }
            }
        }
        let used = shares.into_iter().enumerate().filter(|share| share.1 != 0.0);
        used.map(|(node, share)| (node, share / total)).collect()
    }

    /// The shape this grid was made for.
    #[must_use]
    pub fn section(&self) -> &Section {
        &self.mesh.section
    }

    /// Volumes and conduction, block by block (docs/physics/conduction.md, eq. K-4).
    fn integrate_volume(&mut self) {
        for across in 0..self.mesh.radial.len() {
            for through in 0..self.mesh.axial.len() {
                let (r, z) = (self.mesh.radial[across].clone(), self.mesh.axial[through].clone());
                for i in 0..=r.order() {
                    for j in 0..=z.order() {
                        self.integrate_point(&r, &z, (i, j));
                    }
                }
            }
        }
    }

    /// Adds the share of one quadrature point. With η = z / t(r) the gradient is
    /// (∂T/∂r - η t'/t ∂T/∂η, 1/t ∂T/∂η) and dV = 2π r dr t dη: the cross terms
    /// of the sloped front are in the first component.
    fn integrate_point(&mut self, r: &Block, z: &Block, (i, j): (usize, usize)) {
        let radius = self.mesh.radius[r.first + i];
        let thickness = self.mesh.section.thickness(radius);
        let slope = self.mesh.section.slope(radius);
        let fraction = self.mesh.fraction[z.first + j];
        let volume = std::f64::consts::TAU
            * self.mesh.radial_measure(r, i)
            * z.length
            * z.points.weight[j]
            * thickness;
        let here = self.mesh.index(r.first + i, z.first + j);
        self.volume[here] += volume;

        let mut gradient: Vec<(usize, f64, f64)> = Vec::with_capacity(r.order() + z.order() + 2);
        for a in 0..=r.order() {
            let along = r.points.difference[(i, a)] / r.length;
            gradient.push((self.mesh.index(r.first + a, z.first + j), along, 0.0));
        }
        for b in 0..=z.order() {
            let up = z.points.difference[(j, b)] / (z.length * thickness);
            let along = -fraction * slope * up;
            gradient.push((self.mesh.index(r.first + i, z.first + b), along, up));
        }
        for (n, &(row, row_along, row_up)) in gradient.iter().enumerate() {
            for (m, &(column, along, up)) in gradient.iter().enumerate() {
                // Each symmetric pair once; a pair of terms of the same point twice.
                if column < row || (column == row && m <= n) {
                    let twice = if column == row && m < n { 2.0 } else { 1.0 };
                    let value = twice * volume * (row_along * along + row_up * up);
                    self.conduction.add(row, column, value);
                }
            }
        }
    }

    /// Weights of the grid points whose sum is the value at a place inside the glass.
    ///
    /// `radius` and `height` are clamped into the section.
    #[must_use]
    pub fn interpolation(&self, radius: Length, height: Length) -> Vec<(usize, f64)> {
        let r = radius
            .metres()
            .clamp(self.mesh.section.inner_radius(), self.mesh.section.outer_radius());
        let eta = (height.metres() / self.mesh.section.thickness(r)).clamp(0.0, 1.0);
        let across = holding(&self.mesh.radial, r);
        let through = holding(&self.mesh.axial, eta);
        let along = across.points.cardinal((r - across.from) / across.length);
        let up = through.points.cardinal((eta - through.from) / through.length);
        let mut terms = vec![];
        for (i, a) in along.iter().enumerate() {
            for (j, b) in up.iter().enumerate() {
                if a * b != 0.0 {
                    terms.push((self.mesh.index(across.first + i, through.first + j), a * b));
                }
            }
        }
        terms
    }
}
