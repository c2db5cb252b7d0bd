//! The elastic problem of one order around the axis, factored, and what is read off it.

use ndarray::{Array2, Axis, Slice};

use crate::band::{Band, Factor};
use crate::deflection::rigid::RigidMotion;
use crate::deflection::unknowns::{DIRECTIONS, Unknown, Unknowns};
use crate::element::{Gradient, Integrals, Lame, NODES, POINTS, expansion};
use crate::mesh::Mesh;

/// A number read off the displacements: their product with `weights` at a node.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Reading {
    pub(crate) node: usize,
    /// Of the radial, axial and tangential displacement [-].
    pub(crate) weights: [f64; DIRECTIONS],
}

/// A glass that rests on nothing, for temperatures that go with cos mθ.
#[derive(Debug, Clone)]
pub(crate) struct FreeBody<'m> {
    mesh: &'m Mesh,
    unknowns: Unknowns,
    factor: Factor,
    /// Stress where expansion is held back, over Young's modulus [-].
    held: f64,
    order: f64,
    /// Weighted gradients of each element by point and node, `[elements]`.
    gradients: Vec<[[Gradient; NODES]; POINTS]>,
    rigid: Vec<RigidMotion>,
}

impl<'m> FreeBody<'m> {
    /// `None` if rounding spoils the problem.
    pub(crate) fn new(mesh: &'m Mesh, poisson_ratio: f64, order: usize) -> Option<Self> {
        let lame = Lame::new(poisson_ratio);
        let m = order as f64;
        let unknowns = Unknowns::new(mesh, order);
        let mut matrix = Band::zeros(&unknowns.outline(mesh));
        let mut moments = vec![[0.0; 3]; mesh.nodes()];
        let mut gradients = Vec::with_capacity(mesh.size.radial * mesh.size.axial);
        for element in mesh.elements() {
            let integrals = Integrals::new(mesh, element);
            let nodes = mesh.element_nodes(element);
            let own = nodes.map(|node| unknowns.at(node));
            stiffen(&mut matrix, &own, |first, second| {
                lame.stiffness(m, &integrals.products[first][second])
            });
            gradients.push(integrals.gradients);
            for (node, moment) in nodes.into_iter().zip(integrals.moments) {
                for (total, part) in moments[node].iter_mut().zip(moment) {
                    *total += part;
                }
            }
        }
        let rigid = RigidMotion::all(mesh, order, &moments);
        let factor = matrix.factor()?;
        Some(Self { mesh, unknowns, factor, held: lame.held(), order: m, gradients, rigid })
    }

    /// Readings per kelvin at each point and unit of expansion \[m\], `[readings, points]`,
    /// rigid motion left out.
    ///
    /// The readings' weights stand where a solver for one temperature would have its
    /// loads; one solution for each gives its answer to every temperature (eq. E-8).
    pub(crate) fn influence(&self, readings: &[Reading]) -> Array2<f64> {
        let motions = self.rigid.len();
        let mut start = vec![0; motions];
        start.extend(readings.iter().map(|reading| self.unknowns.before(reading.node)));
        let mut sides = Array2::zeros((self.unknowns.count(), start.len()));
        for (side, motion) in self.rigid.iter().enumerate() {
            for (node, &weights) in motion.measure.iter().enumerate() {
                self.place(&mut sides, side, Reading { node, weights });
            }
        }
        for (side, reading) in readings.iter().enumerate() {
            self.place(&mut sides, motions + side, *reading);
        }
        self.factor.solve(&mut sides, &start);
        let answers = self.answers(&sides);
        let mut influence = Array2::zeros((readings.len(), answers.nrows()));
        influence.assign(&answers.slice_axis(Axis(1), Slice::from(motions..)).t());
        for (side, motion) in self.rigid.iter().enumerate() {
            for (mut row, reading) in influence.outer_iter_mut().zip(readings) {
                row.scaled_add(-motion.share(reading), &answers.column(side));
            }
        }
        influence
    }

    /// Adds a reading's weights to a side of the system.
    fn place(&self, sides: &mut Array2<f64>, side: usize, reading: Reading) {
        for (unknown, weight) in self.unknowns.at(reading.node).iter().zip(reading.weights) {
            if let Some(row) = unknown.index {
                sides[[row, side]] += unknown.sign * weight;
            }
        }
    }

    /// What the solved sides say to a kelvin at each point, `[points, sides]`: the
    /// expansion there, held back (eq. E-7).
    fn answers(&self, sides: &Array2<f64>) -> Array2<f64> {
        let mut answers = Array2::zeros((POINTS * self.gradients.len(), sides.ncols()));
        let mut rows = answers.outer_iter_mut();
        for (element, gradients) in self.mesh.elements().zip(&self.gradients) {
            let unknowns = self.mesh.element_nodes(element).map(|node| self.unknowns.at(node));
            for (gradients, mut answer) in gradients.iter().zip(rows.by_ref()) {
                for (gradient, unknowns) in gradients.iter().zip(&unknowns) {
                    for (part, unknown) in expansion(self.order, *gradient).iter().zip(unknowns) {
                        if let Some(row) = unknown.index {
                            let weight = self.held * unknown.sign * part;
                            answer.scaled_add(weight, &sides.row(row));
                        }
                    }
                }
            }
        }
        answers
    }
}

/// Adds the stiffness between all nodes of an element to the matrix.
fn stiffen(
    matrix: &mut Band,
    unknowns: &[[Unknown; DIRECTIONS]; NODES],
    block: impl Fn(usize, usize) -> [[f64; DIRECTIONS]; DIRECTIONS],
) {
    for first in 0..NODES {
        for second in first..NODES {
            let block = block(first, second);
            for (i, row) in unknowns[first].iter().enumerate() {
                for (j, column) in unknowns[second].iter().enumerate() {
                    let (Some(row_index), Some(column_index)) = (row.index, column.index) else {
                        continue;
                    };
                    // The matrix takes each pair of unknowns once; a node pairs with itself
                    // both ways, and so do two displacements that are one unknown.
                    if first != second || row_index >= column_index {
                        let value = row.sign * column.sign * block[i][j];
                        matrix.add(row_index, column_index, value);
                    }
                }
            }
        }
    }
}
