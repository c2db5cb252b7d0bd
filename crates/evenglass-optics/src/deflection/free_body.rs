//! The elastic problem of one order around the axis, factored, and what is read off it.

use ndarray::{Array2, Axis, Slice};

use crate::band::{Band, Factor, LANES, Sides};
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
        let mut sides = Sides::zeros(self.unknowns.count(), readings.len() + self.rigid.len());
        for (side, reading) in readings.iter().enumerate() {
            self.place(&mut sides, side, *reading);
        }
        for (side, motion) in (readings.len()..).zip(&self.rigid) {
            for (node, &weights) in motion.measure.iter().enumerate() {
                self.place(&mut sides, side, Reading { node, weights });
            }
        }
        self.factor.solve(&mut sides);
        let mut influence = self.answers(&sides, readings.len() + self.rigid.len());
        let (mut rows, motions) = influence.view_mut().split_at(Axis(0), readings.len());
        for (motion, answer) in self.rigid.iter().zip(motions.outer_iter()) {
            for (mut row, reading) in rows.outer_iter_mut().zip(readings) {
                row.scaled_add(-motion.share(reading), &answer);
            }
        }
        influence.slice_axis_inplace(Axis(0), Slice::from(..readings.len()));
        influence
    }

    /// Adds a reading's weights to a side of the system.
    fn place(&self, sides: &mut Sides, side: usize, reading: Reading) {
        for (unknown, weight) in self.unknowns.at(reading.node).iter().zip(reading.weights) {
            if let Some(row) = unknown.index {
                sides.add(row, side, unknown.sign * weight);
            }
        }
    }

    /// What the solved sides say to a kelvin at each point, `[sides, points]`: the
    /// expansion there, held back (eq. E-7).
    fn answers(&self, sides: &Sides, count: usize) -> Array2<f64> {
        let mut answers = Array2::zeros((count, POINTS * self.gradients.len()));
        let mut point = 0;
        for (element, gradients) in self.mesh.elements().zip(&self.gradients) {
            let unknowns = self.mesh.element_nodes(element).map(|node| self.unknowns.at(node));
            for gradients in gradients {
                let terms = self.expansion_terms(gradients, &unknowns);
                for (block, mut answers) in
                    sides.blocks().iter().zip(answers.axis_chunks_iter_mut(Axis(0), LANES))
                {
                    let mut sums = [0.0; LANES];
                    for &(row, weight) in &terms {
                        for (sum, value) in sums.iter_mut().zip(block[row]) {
                            *sum += weight * value;
                        }
                    }
                    for (answer, sum) in answers.column_mut(point).iter_mut().zip(sums) {
                        *answer = sum;
                    }
                }
                point += 1;
            }
        }
        answers
    }

    /// The expansion at a point as a sum over unknowns, held back and weighted.
    fn expansion_terms(
        &self,
        gradients: &[Gradient; NODES],
        unknowns: &[[Unknown; DIRECTIONS]; NODES],
    ) -> Vec<(usize, f64)> {
        let mut terms = Vec::with_capacity(NODES * DIRECTIONS);
        for (gradient, unknowns) in gradients.iter().zip(unknowns) {
            for (part, unknown) in expansion(self.order, *gradient).iter().zip(unknowns) {
                if let Some(row) = unknown.index {
                    terms.push((row, self.held * unknown.sign * part));
                }
            }
        }
        terms
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

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};

    use super::*;
    use crate::{Blank, MeshSize};

    type Temperature = fn(f64, f64) -> f64;

    fn blank(inner_radius_m: f64, curvature_per_m: f64) -> Blank {
        Blank { outer_radius_m: 0.2, inner_radius_m, edge_thickness_m: 0.05, curvature_per_m }
    }

    /// Loads of a temperature on every displacement of every node, held or not.
    fn loads(body: &FreeBody<'_>, temperature: &[f64]) -> Vec<[f64; DIRECTIONS]> {
        let mut loads = vec![[0.0; DIRECTIONS]; body.mesh.nodes()];
        let mut kelvins = temperature.iter();
        for (element, gradients) in body.mesh.elements().zip(&body.gradients) {
            for (gradients, kelvin) in gradients.iter().zip(kelvins.by_ref()) {
                for (node, gradient) in body.mesh.element_nodes(element).iter().zip(gradients) {
                    let parts = expansion(body.order, *gradient);
                    for (load, part) in loads[*node].iter_mut().zip(parts) {
                        *load += body.held * part * kelvin;
                    }
                }
            }
        }
        loads
    }

    /// A lively temperature of the order.
    fn lively(mesh: &Mesh, order: usize) -> Vec<f64> {
        let kelvin = |&(r, z): &(f64, f64)| {
            let lopsided = (r / 0.2).powi(i32::try_from(order).unwrap());
            lopsided * (1.0 + (40.0 * r).sin() * (90.0 * z).cos() + 30.0 * z * r)
        };
        mesh.temperature_points().iter().map(kelvin).collect()
    }

    /// Warm glass pushes nobody: its loads do no work on a motion of the whole, so that the
    /// pins that hold it carry no force.
    #[test]
    fn warm_glass_is_in_balance_with_itself() {
        for (inner, curvature) in [(0.0, 0.3), (0.04, 0.0), (0.04, 0.3)] {
            for order in [0, 1] {
                let mesh = Mesh::new(blank(inner, curvature), MeshSize { radial: 5, axial: 3 });
                let body = FreeBody::new(&mesh, 0.22, order).unwrap();
                let loads = loads(&body, &lively(&mesh, order));
                let size: f64 = loads.iter().flatten().map(|load| load.abs()).sum();
                for motion in &body.rigid {
                    let work: f64 = loads
                        .iter()
                        .enumerate()
                        .map(|(node, &weights)| motion.share(&Reading { node, weights }))
                        .sum();
                    assert!(work.abs() * motion.square < 1e-14 * size, "order {order}: {work}");
                }
            }
        }
    }

    /// One temperature solved for directly, its mean motion taken out afterwards, gives what
    /// the influence of every reading says (Betti's reciprocity).
    #[test]
    fn influence_agrees_with_solving_for_a_temperature() {
        for (inner, order) in [(0.0, 0), (0.04, 0), (0.0, 1), (0.04, 1), (0.0, 2), (0.0, 4)] {
            let mesh = Mesh::new(blank(inner, 0.3), MeshSize { radial: 5, axial: 3 });
            let body = FreeBody::new(&mesh, 0.22, order).unwrap();
            let temperature = lively(&mesh, order);
            let mut side = Sides::zeros(body.unknowns.count(), 1);
            for (node, weights) in loads(&body, &temperature).into_iter().enumerate() {
                body.place(&mut side, 0, Reading { node, weights });
            }
            body.factor.solve(&mut side);
            let displacement = |node: usize| {
                let of = |unknown: &Unknown| {
                    unknown.index.map_or(0.0, |row| unknown.sign * side.blocks()[0][row][0])
                };
                body.unknowns.at(node).each_ref().map(of)
            };
            let readings: Vec<Reading> =
                (0..mesh.nodes()).map(|node| Reading { node, weights: [-0.3, 1.0, 0.2] }).collect();
            let influence = body.influence(&readings);
            let kelvins = ndarray::Array1::from(temperature);
            for (reading, row) in readings.iter().zip(influence.outer_iter()) {
                let of = |weights: [f64; 3], u: [f64; 3]| {
                    weights.iter().zip(u).map(|(a, b)| a * b).sum::<f64>()
                };
                let moved: f64 = body
                    .rigid
                    .iter()
                    .map(|motion| {
                        let measured: f64 = motion
                            .measure
                            .iter()
                            .enumerate()
                            .map(|(node, &weights)| of(weights, displacement(node)))
                            .sum();
                        motion.share(reading) * measured
                    })
                    .sum();
                let expected = of(reading.weights, displacement(reading.node)) - moved;
                assert_abs_diff_eq!(row.dot(&kelvins), expected, epsilon = 1e-12);
            }
        }
    }

    /// Radial growth of the front's rim of a flat disc of 400 × 50 mm, soda-lime, 1 K, in
    /// micrometres: α a t/t exactly for T = z/t; scikit-fem 12.0.2 for (r/a)² and a rim layer
    /// of 20 mm.
    #[test]
    fn the_rim_grows_with_the_warmth() {
        let mesh = Mesh::new(blank(0.0, 0.0), MeshSize { radial: 40, axial: 12 });
        let body = FreeBody::new(&mesh, 0.22, 0).unwrap();
        let node = mesh.nodes() - 1;
        let influence = body.influence(&[Reading { node, weights: [1.0, 0.0, 0.0] }]);
        let cases: [(Temperature, f64); 3] = [
            (|_, z| z / 0.05, 1.8),
            (|r, _| (r / 0.2).powi(2), 0.879_49),
            (|r, _| (-(0.2 - r) / 0.02).exp(), 0.267_91),
        ];
        for (temperature, expected) in cases {
            let kelvins: ndarray::Array1<f64> =
                mesh.temperature_points().iter().map(|&(r, z)| temperature(r, z)).collect();
            let growth = 9.0e-6 * 1e6 * influence.row(0).dot(&kelvins);
            assert_relative_eq!(growth, expected, max_relative = 1e-4);
        }
    }
}
