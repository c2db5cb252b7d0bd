//! One nine-node ring element: its elastic energy and its thermal load.
//!
//! Displacements and shape are biquadratic; temperatures enter at the Gauss points.
//! Everything an order around the axis needs is made of nine integrals for each pair of
//! nodes, and of the gradients at the points (eq. E-6, E-7 in docs/physics/figure.md).

use crate::mesh::Mesh;

/// Nodes of an element.
pub(crate) const NODES: usize = 9;

/// Gauss points of an element.
pub(crate) const POINTS: usize = 9;

/// What a shape function gives at a point: value over radius, slope along the radius,
/// slope along the axis [m⁻¹].
pub(crate) type Gradient = [f64; 3];

/// Products of the gradients of two nodes, integrated over the section with weight r.
pub(crate) type Products = [[f64; 3]; 3];

/// Integrals over one element.
pub(crate) struct Integrals {
    /// By node and node; only pairs with the second not below the first are filled.
    pub(crate) products: [[Products; NODES]; NODES],
    /// Gradient of each node at each point, times the point's weight \[m²\]: by point and node.
    pub(crate) gradients: [[Gradient; NODES]; POINTS],
    /// Value of each node times 1, r and z \[m³, m⁴\].
    pub(crate) moments: [[f64; 3]; NODES],
}

/// Points and weights of Gauss's rule of order 5 on -1 to 1.
const GAUSS: [(f64, f64); 3] =
    [(-0.774_596_669_241_483_4, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483_4, 5.0 / 9.0)];

impl Integrals {
    /// Of the element whose inner corner on the back's side is given.
    pub(crate) fn new(mesh: &Mesh, corner: (usize, usize)) -> Self {
        let mut integrals = Self {
            products: [[[[0.0; 3]; 3]; NODES]; NODES],
            gradients: [[[0.0; 3]; NODES]; POINTS],
            moments: [[0.0; 3]; NODES],
        };
        for (index, point) in points(mesh, corner).into_iter().enumerate() {
            let Point { radius, height, weight, .. } = point;
            let (value, gradient) = point.shapes();
            integrals.gradients[index] = gradient.map(|parts| parts.map(|part| weight * part));
            let weighted = &integrals.gradients[index];
            for (first, own) in weighted.iter().enumerate() {
                let products = integrals.products[first].iter_mut().zip(gradient);
                for (products, other) in products.skip(first) {
                    for (row, part) in products.iter_mut().zip(own) {
                        for (product, other) in row.iter_mut().zip(other) {
                            *product += part * other;
                        }
                    }
                }
            }
            for (moments, value) in integrals.moments.iter_mut().zip(value) {
                for (moment, arm) in moments.iter_mut().zip([1.0, radius, height]) {
                    *moment += weight * arm * value;
                }
            }
        }
        integrals
    }
}

/// A Gauss point of an element.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Point {
    pub(crate) radius: f64,
    /// Above the back \[m\].
    pub(crate) height: f64,
    /// Area of the section that it stands for, times its radius \[m³\].
    weight: f64,
    /// Coordinates in the element, -1 to 1, along the radius and through the thickness.
    place: [f64; 2],
    /// Half the element's extent along the radius, and along the axis here \[m\].
    half: [f64; 2],
    /// Slope dz/dr of the line of equal fraction of the thickness [-].
    slope: f64,
}

/// The Gauss points of the element whose inner corner on the back's side is given.
pub(crate) fn points(mesh: &Mesh, (column, row): (usize, usize)) -> [Point; POINTS] {
    let radii = [mesh.radii[column], mesh.radii[column + 2]];
    let fractions = [mesh.fractions[row], mesh.fractions[row + 2]];
    std::array::from_fn(|index| {
        let ((radial, radial_weight), (axial, axial_weight)) = (GAUSS[index / 3], GAUSS[index % 3]);
        let radius = at(radii, radial);
        let fraction = at(fractions, axial);
        let thickness = mesh.blank.thickness(radius);
        let half = [0.5 * (radii[1] - radii[0]), 0.5 * (fractions[1] - fractions[0]) * thickness];
        Point {
            radius,
            height: fraction * thickness,
            weight: radius * half[0] * half[1] * radial_weight * axial_weight,
            place: [radial, axial],
            half,
            slope: fraction * mesh.blank.slope(radius),
        }
    })
}

impl Point {
    /// Values and gradients of the nine shape functions.
    fn shapes(&self) -> ([f64; NODES], [Gradient; NODES]) {
        let (r, r_slope) = quadratic(self.place[0]);
        let (z, z_slope) = quadratic(self.place[1]);
        let value = std::array::from_fn(|node| r[node / 3] * z[node % 3]);
        let gradient = std::array::from_fn(|node| {
            let (i, j) = (node / 3, node % 3);
            let axial = r[i] * z_slope[j] / self.half[1];
            let radial = r_slope[i] * z[j] / self.half[0] - self.slope * axial;
            [value[node] / self.radius, radial, axial]
        });
        (value, gradient)
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

/// Values and slopes of the quadratics that are one at -1, 0, 1 in turn and zero at the
/// other two.
fn quadratic(x: f64) -> ([f64; 3], [f64; 3]) {
    ([0.5 * x * (x - 1.0), 1.0 - x * x, 0.5 * x * (x + 1.0)], [x - 0.5, -2.0 * x, x + 0.5])
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;
    use crate::Blank;
    use crate::mesh::MeshSize;

    /// A mirror with a deep front and a hole.
    fn mesh() -> Mesh {
        let blank = Blank {
            outer_radius_m: 0.2,
            inner_radius_m: 0.03,
            edge_thickness_m: 0.04,
            curvature_per_m: 0.5,
        };
        Mesh::new(blank, MeshSize { radial: 3, axial: 2 })
    }

    /// Energy of a displacement \[J/Pa\] and its product with another, over all elements.
    fn energy(mesh: &Mesh, order: f64, first: Motion, second: Motion) -> f64 {
        let lame = Lame::new(0.22);
        let positions = mesh.positions();
        let mut sum = 0.0;
        for element in mesh.elements() {
            let integrals = Integrals::new(mesh, element);
            let nodes = mesh.element_nodes(element).map(|node| positions[node]);
            for i in 0..NODES {
                for j in 0..NODES {
                    let products = if i <= j {
                        integrals.products[i][j]
                    } else {
                        transposed(&integrals.products[j][i])
                    };
                    let block = lame.stiffness(order, &products);
                    let (a, b) = (first(nodes[i]), second(nodes[j]));
                    for (row, a) in block.iter().zip(a) {
                        sum += a * row.iter().zip(b).map(|(k, b)| k * b).sum::<f64>();
                    }
                }
            }
        }
        sum
    }

    type Motion = fn((f64, f64)) -> [f64; 3];

    fn transposed(products: &Products) -> Products {
        std::array::from_fn(|i| std::array::from_fn(|j| products[j][i]))
    }

    /// Sliding along the axis, sliding across it, tilting and turning strain nothing.
    #[test]
    fn rigid_motions_cost_no_energy() {
        let mesh = mesh();
        let stretch: Motion = |(r, z)| [r, 0.3 * z, 0.0];
        let motions: [(f64, Motion); 4] = [
            (0.0, |_| [0.0, 1.0, 0.0]),
            (0.0, |(r, _)| [0.0, 0.0, r]),
            (1.0, |_| [1.0, 0.0, -1.0]),
            (1.0, |(r, z)| [z, -r, -z]),
        ];
        for (order, motion) in motions {
            assert!(energy(&mesh, order, stretch, stretch) > 1e-4, "a stretch costs energy");
            // What rounding leaves of terms near one.
            assert_abs_diff_eq!(energy(&mesh, order, motion, motion), 0.0, epsilon = 1e-13);
            assert_abs_diff_eq!(energy(&mesh, order, stretch, motion), 0.0, epsilon = 1e-13);
        }
    }

    /// A stretch of one in every direction needs the stress 3 K in each, K = E/(3 (1 − 2ν))
    /// being the bulk modulus, and so twice the energy 9 K per volume.
    #[test]
    fn a_uniform_stretch_stores_what_the_bulk_modulus_says() {
        let mesh = mesh();
        let grown: Motion = |(r, z)| [r, z, 0.0];
        let volume: f64 = mesh
            .elements()
            .flat_map(|element| Integrals::new(&mesh, element).moments)
            .map(|moment| moment[0])
            .sum();
        // ∫ t r dr by hand: (e − c a²/2)(a² − b²)/2 + c (a⁴ − b⁴)/8.
        let expected = (0.04 - 0.01) * (0.04 - 0.0009) / 2.0 + 0.5 * (0.0016 - 0.000_000_81) / 8.0;
        assert_abs_diff_eq!(volume, expected, epsilon = 1e-15);
        let bulk = 1.0 / (3.0 * (1.0 - 2.0 * 0.22));
        let stored = energy(&mesh, 0.0, grown, grown);
        assert_abs_diff_eq!(stored, 9.0 * bulk * volume, epsilon = 1e-14);
        assert_abs_diff_eq!(Lame::new(0.22).held(), 3.0 * bulk, epsilon = 1e-14);
    }

    /// What expands under load is what a load expands: a front and a back pair of nodes.
    #[test]
    fn stiffness_is_symmetric() {
        let mesh = mesh();
        let integrals = Integrals::new(&mesh, (2, 0));
        let lame = Lame::new(0.17);
        for order in [0.0, 1.0, 3.0] {
            let there = lame.stiffness(order, &integrals.products[1][7]);
            let back = lame.stiffness(order, &transposed(&integrals.products[1][7]));
            for i in 0..3 {
                for j in 0..3 {
                    assert_abs_diff_eq!(there[i][j], back[j][i], epsilon = 1e-18);
                }
            }
        }
    }
}
