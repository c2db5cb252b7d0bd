//! One nine-node ring element: its elastic energy and its thermal load.
//!
//! Displacements, temperature and shape are biquadratic. Everything an order around the
//! axis needs is made of nine integrals for each pair of nodes, and three for its load
//! (eq. E-6, E-7 in docs/physics/figure.md).

use crate::mesh::Mesh;

/// Nodes of an element.
pub(crate) const NODES: usize = 9;

/// What a shape function gives at a point: value over radius, slope along the radius,
/// slope along the axis [m⁻¹].
type Gradient = [f64; 3];

/// Products of the gradients of two nodes, integrated over the section with weight r.
pub(crate) type Products = [[f64; 3]; 3];

/// Integrals over one element.
pub(crate) struct Integrals {
    /// By node and node; only pairs with the second not below the first are filled.
    pub(crate) products: [[Products; NODES]; NODES],
    /// Gradient of the first node times value of the second \[m\].
    pub(crate) loads: [[Gradient; NODES]; NODES],
    /// Value of each node, times one, r and z: `[9, 3]` \[m³, m⁴\].
    pub(crate) moments: [[f64; 3]; NODES],
}

/// Points and weights of Gauss's rule of order 5 on -1 to 1.
const GAUSS: [(f64, f64); 3] =
    [(-0.774_596_669_241_483_4, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483_4, 5.0 / 9.0)];

impl Integrals {
    /// Of the element whose inner corner on the back's side is given.
    pub(crate) fn new(mesh: &Mesh, (column, row): (usize, usize)) -> Self {
        let mut integrals = Self {
            products: [[[[0.0; 3]; 3]; NODES]; NODES],
            loads: [[[0.0; 3]; NODES]; NODES],
            moments: [[0.0; 3]; NODES],
        };
        let radii = [mesh.radii[column], mesh.radii[column + 2]];
        let fractions = [mesh.fractions[row], mesh.fractions[row + 2]];
        for (radial, radial_weight) in GAUSS {
            for (axial, axial_weight) in GAUSS {
                let radius = at(radii, radial);
                let fraction = at(fractions, axial);
                let thickness = mesh.blank.thickness(radius);
                let half = [0.5 * (radii[1] - radii[0]), 0.5 * (fractions[1] - fractions[0])];
                let area = half[0] * half[1] * thickness * radial_weight * axial_weight;
                let slope = fraction * mesh.blank.slope(radius);
                let (value, gradient) = shapes(radial, axial, |along, across| {
                    let axial_slope = across / (half[1] * thickness);
                    [along / half[0] - slope * axial_slope, axial_slope]
                });
                let gradient: [Gradient; NODES] = std::array::from_fn(|node| {
                    [value[node] / radius, gradient[node][0], gradient[node][1]]
                });
                integrals.add(&value, &gradient, [radius, fraction * thickness, radius * area]);
            }
        }
        integrals
    }

    /// Adds what one point contributes; `place` is its radius, height and weight.
    fn add(&mut self, value: &[f64; NODES], gradient: &[Gradient; NODES], place: [f64; 3]) {
        let [radius, height, weight] = place;
        for first in 0..NODES {
            let weighted = gradient[first].map(|part| weight * part);
            let products = self.products[first].iter_mut().zip(gradient);
            for (products, other_gradient) in products.skip(first) {
                for (row, part) in products.iter_mut().zip(weighted) {
                    for (product, other) in row.iter_mut().zip(other_gradient) {
                        *product += part * other;
                    }
                }
            }
            for (loads, value) in self.loads[first].iter_mut().zip(value) {
                for (load, part) in loads.iter_mut().zip(weighted) {
                    *load += part * value;
                }
            }
            for (moment, arm) in self.moments[first].iter_mut().zip([1.0, radius, height]) {
                *moment += weight * arm * value[first];
            }
        }
    }
}

/// Lamé's constants over Young's modulus [-].
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lame {
    first: f64,
    shear: f64,
}

impl Lame {
    pub(crate) fn new(poisson_ratio: f64) -> Self {
        let first = poisson_ratio / ((1.0 + poisson_ratio) * (1.0 - 2.0 * poisson_ratio));
        Self { first, shear: 0.5 / (1.0 + poisson_ratio) }
    }

    /// Stress in every direction where a unit of expansion is held back [-].
    pub(crate) fn held(self) -> f64 {
        3.0 * self.first + 2.0 * self.shear
    }

    /// Stiffness between two nodes: rows the first node's radial, axial and tangential
    /// displacement, columns the second's (eq. E-6).
    pub(crate) fn stiffness(self, order: f64, products: &Products) -> [[f64; 3]; 3] {
        let Self { first: lam, shear: mu } = self;
        let two = 2.0 * mu;
        let m = order;
        let [[tt, tr, tz], [rt, rr, rz], [zt, zr, zz]] = *products;
        [
            [
                lam * (rr + rt + tr + tt) + two * (rr + tt) + mu * (zz + m * m * tt),
                lam * (rz + tz) + mu * zr,
                m * (lam * (rt + tt) + two * tt - mu * (tr - tt)),
            ],
            [
                lam * (zr + zt) + mu * rz,
                (lam + two) * zz + mu * (rr + m * m * tt),
                m * (lam * zt - mu * tz),
            ],
            [
                m * (lam * (tr + tt) + two * tt - mu * (rt - tt)),
                m * (lam * tz - mu * zt),
                m * m * (lam + two) * tt + mu * (rr - rt - tr + tt + zz),
            ],
        ]
    }
}

/// Expansion of the volume by a node's radial, axial and tangential displacement, from
/// its integrated gradient.
pub(crate) fn expansion(order: f64, [t, r, z]: Gradient) -> [f64; 3] {
    [r + t, z, order * t]
}

/// The point between two ends at a coordinate from -1 to 1.
fn at([start, end]: [f64; 2], coordinate: f64) -> f64 {
    0.5 * (start * (1.0 - coordinate) + end * (1.0 + coordinate))
}

/// Values of the nine shape functions and whatever is made of their two slopes.
fn shapes<T>(radial: f64, axial: f64, made: impl Fn(f64, f64) -> T) -> ([f64; NODES], [T; NODES]) {
    let (r, r_slope) = quadratic(radial);
    let (z, z_slope) = quadratic(axial);
    let value = std::array::from_fn(|node| r[node / 3] * z[node % 3]);
    let gradient = std::array::from_fn(|node| {
        let (i, j) = (node / 3, node % 3);
        made(r_slope[i] * z[j], r[i] * z_slope[j])
    });
    (value, gradient)
}

/// Values and slopes of the quadratics that are one at -1, 0, 1 in turn and zero at the
/// other two.
fn quadratic(x: f64) -> ([f64; 3], [f64; 3]) {
    ([0.5 * x * (x - 1.0), 1.0 - x * x, 0.5 * x * (x + 1.0)], [x - 0.5, -2.0 * x, x + 0.5])
}
