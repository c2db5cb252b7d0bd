//! Which displacements of which nodes are unknown, and their numbers.

use crate::mesh::Mesh;

/// Displacements of a node: radial, axial, tangential.
pub(crate) const DIRECTIONS: usize = 3;

/// How a displacement of a node follows from the unknowns.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Unknown {
    /// Number of the unknown; none where the displacement is zero.
    pub(crate) index: Option<usize>,
    /// 1, or -1 where it is the unknown's opposite.
    pub(crate) sign: f64,
}

/// The unknowns of all nodes, numbered node by node.
#[derive(Debug, Clone)]
pub(crate) struct Unknowns {
    /// `[nodes]`
    at: Vec<[Unknown; DIRECTIONS]>,
    /// Unknowns before each node, and all, `[nodes + 1]`.
    before: Vec<usize>,
}

impl Unknowns {
    /// For an order around the axis: smooth where there is an axis (eq. E-4), and pinned
    /// where the order has motions that strain nothing (eq. E-5).
    pub(crate) fn new(mesh: &Mesh, order: usize) -> Self {
        let mut at = Vec::with_capacity(mesh.nodes());
        let mut before = vec![0];
        let mut count = 0;
        let [radial_pin, axial_pin] = pins(mesh, order);
        for column in 0..mesh.radii.len() {
            let on_axis = column == 0 && !mesh.blank.has_hole();
            for row in 0..mesh.rows() {
                let node = Some(mesh.node(column, row));
                let mut next = |free: bool| {
                    let index = free.then_some(count);
                    count += usize::from(free);
                    Unknown { index, sign: 1.0 }
                };
                let radial = next((!on_axis || order == 1) && node != radial_pin);
                let axial = next((!on_axis || order == 0) && node != axial_pin);
                let tangential = if on_axis && order == 1 {
                    Unknown { sign: -1.0, ..radial }
                } else {
                    next(!on_axis && order > 0)
                };
                at.push([radial, axial, tangential]);
                before.push(count);
            }
        }
        Self { at, before }
    }

    pub(crate) fn count(&self) -> usize {
        self.before[self.at.len()]
    }

    pub(crate) fn at(&self, node: usize) -> [Unknown; DIRECTIONS] {
        self.at[node]
    }

    /// Unknowns before those of a node.
    pub(crate) fn before(&self, node: usize) -> usize {
        self.before[node]
    }

    /// The first unknown that each is coupled to, `[unknowns]`.
    pub(crate) fn outline(&self, mesh: &Mesh) -> Vec<usize> {
        let mut outline = Vec::with_capacity(self.count());
        for column in 0..mesh.radii.len() {
            for row in 0..mesh.rows() {
                let corner = |index: usize| index.saturating_sub(1) / 2 * 2;
                let first = self.before(mesh.node(corner(column), corner(row)));
                let node = mesh.node(column, row);
                outline.extend((self.before(node)..self.before(node + 1)).map(|_| first));
            }
        }
        outline
    }
}

/// Nodes whose radial and whose axial displacement are held at zero.
///
/// They stop exactly the motions that strain nothing: sliding along the axis for order 0,
/// sliding across it and tilting for order 1. Warm glass is in balance with itself, so the
/// pins carry no force, and [`RigidMotion`](super::rigid::RigidMotion) takes out what
/// they impose.
fn pins(mesh: &Mesh, order: usize) -> [Option<usize>; 2] {
    let outermost = mesh.node(mesh.radii.len() - 1, 0);
    match order {
        0 => [None, Some(outermost)],
        1 => [Some(0), Some(outermost)],
        _ => [None, None],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Blank, MeshSize};

    fn mesh(inner_radius_m: f64) -> Mesh {
        let blank = Blank {
            outer_radius_m: 0.2,
            inner_radius_m,
            edge_thickness_m: 0.05,
            curvature_per_m: 0.0,
        };
        Mesh::new(blank, MeshSize { radial: 2, axial: 1 })
    }

    /// Three nodes on the axis, fifteen in all.
    #[test]
    fn the_axis_allows_what_is_smooth_there() {
        let mesh = mesh(0.0);
        // Order 0 slides along the axis only and pins one node; order 1 moves across, once
        // for both directions, and pins twice; higher orders keep the axis still.
        for (order, on_axis, all) in [(0, 3, 26), (1, 2, 37), (2, 0, 36), (4, 0, 36)] {
            let unknowns = Unknowns::new(&mesh, order);
            assert_eq!(unknowns.before(3), on_axis, "order {order}");
            assert_eq!(unknowns.count(), all, "order {order}");
        }
        let [radial, axial, tangential] = Unknowns::new(&mesh, 1).at(1);
        assert_eq!(radial.index, tangential.index);
        assert!(radial.sign * tangential.sign < 0.0, "across the axis u_r = −u_θ");
        assert_eq!(axial.index, None);
    }

    #[test]
    fn a_hole_frees_its_wall() {
        let mesh = mesh(0.05);
        for (order, all) in [(0, 29), (1, 43), (2, 45)] {
            assert_eq!(Unknowns::new(&mesh, order).count(), all, "order {order}");
        }
    }
}
