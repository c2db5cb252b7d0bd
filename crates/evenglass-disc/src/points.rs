//! Points, weights and difference matrices of one block along one direction.
//!
//! A block carries Gauss–Lobatto points: both ends and, between them, the roots
//! of a Jacobi polynomial. On them the widest finite difference the block
//! allows, together with the Lobatto quadrature, satisfies summation by parts
//! exactly, so that what leaves one block enters the next (docs/physics/conduction.md,
//! eq. K-5). The block on the axis uses the Lobatto rule for the weight r
//! instead of 1 (Bernardi, Dauge and Maday 1999), or its first point would
//! stand for no volume at all.

use nalgebra::{DMatrix, SymmetricEigen};

/// The weight under the integral.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weight {
    /// ∫ f(s) ds
    Plain,
    /// ∫ f(s) s ds, for the block that touches the axis.
    Radius,
}

/// Points of the unit interval.
#[derive(Debug, Clone)]
pub(crate) struct Points {
    /// Ascending, `[order + 1]`; the first is 0, the last 1.
    pub(crate) position: Vec<f64>,
    /// Quadrature weights for the given [`Weight`], `[order + 1]`.
    pub(crate) weight: Vec<f64>,
    /// Difference matrix, `[order + 1, order + 1]`: row i gives df/ds at point i.
    pub(crate) difference: DMatrix<f64>,
}

impl Points {
    /// `order + 1` Lobatto points for `weight`.
    pub(crate) fn lobatto(order: usize, weight: Weight) -> Self {
        assert!(order >= 2, "a block needs at least one point between its ends");
        let beta = match weight {
            Weight::Plain => 1.0,
            Weight::Radius => 2.0,
        };
        let mut position = vec![0.0];
        position.extend(jacobi_rule(order - 1, 1.0, beta).0.iter().map(|x| 0.5 * (1.0 + x)));
        position.push(1.0);
        if weight == Weight::Plain {
            mirror(&mut position);
        }
        let quadrature_weight = interpolatory_weights(&position, weight);
        let difference = difference_matrix(&position);
        Self { position, weight: quadrature_weight, difference }
    }

    /// Values of the block's cardinal polynomials at `s`, `[order + 1]`.
    pub(crate) fn cardinal(&self, s: f64) -> Vec<f64> {
        cardinal(&self.position, s)
    }
}

/// Gauss–Legendre points and weights of the unit interval.
pub(crate) fn gauss(count: usize) -> (Vec<f64>, Vec<f64>) {
    let (x, w) = jacobi_rule(count, 0.0, 0.0);
    (x.iter().map(|x| 0.5 * (1.0 + x)).collect(), w.iter().map(|w| 0.5 * w).collect())
}

/// Gauss rule of `count` points on [-1, 1] for the weight (1-x)^alpha (1+x)^beta,
/// by the eigenvalues of its recurrence (Golub and Welsch 1969). The weights are
/// scaled to sum to 2 and are meant for alpha = beta = 0.
fn jacobi_rule(count: usize, alpha: f64, beta: f64) -> (Vec<f64>, Vec<f64>) {
    let sum = alpha + beta;
    let mut recurrence = DMatrix::<f64>::zeros(count, count);
    for k in 0..count {
        let n = k as f64;
        recurrence[(k, k)] = if k == 0 {
            (beta - alpha) / (sum + 2.0)
        } else {
            (beta * beta - alpha * alpha) / ((2.0 * n + sum) * (2.0 * n + sum + 2.0))
        };
        if k > 0 {
            let ratio = if k == 1 { 1.0 } else { (n + sum) / (2.0 * n + sum - 1.0) };
            let square = 4.0 * n * (n + alpha) * (n + beta) * ratio
                / ((2.0 * n + sum).powi(2) * (2.0 * n + sum + 1.0));
            recurrence[(k, k - 1)] = square.sqrt();
            recurrence[(k - 1, k)] = square.sqrt();
        }
    }
    let eigen = SymmetricEigen::new(recurrence);
    let mut rule: Vec<(f64, f64)> = (0..count)
        .map(|k| (eigen.eigenvalues[k], 2.0 * eigen.eigenvectors[(0, k)].powi(2)))
        .collect();
    rule.sort_by(|a, b| a.0.total_cmp(&b.0));
    rule.into_iter().unzip()
}

/// Makes the points exactly symmetric about the middle, so that a symmetric
/// disc stays symmetric to the last bits.
fn mirror(position: &mut [f64]) {
    let last = position.len() - 1;
    for i in 0..=last / 2 {
        let mean = 0.5 * (position[i] + (1.0 - position[last - i]));
        position[i] = mean;
        position[last - i] = 1.0 - mean;
    }
    if last.is_multiple_of(2) {
        position[last / 2] = 0.5;
    }
}

fn cardinal(position: &[f64], s: f64) -> Vec<f64> {
    (0..position.len())
        .map(|i| {
            let others = position.iter().enumerate().filter(|&(j, _)| j != i);
            others.map(|(_, &x)| (s - x) / (position[i] - x)).product()
        })
        .collect()
}

/// Weights that integrate the interpolating polynomial exactly.
fn interpolatory_weights(position: &[f64], weight: Weight) -> Vec<f64> {
    let (s, w) = gauss(position.len() + 1);
    let mut total = vec![0.0; position.len()];
    for (&s, &w) in s.iter().zip(&w) {
        let factor = match weight {
            Weight::Plain => w,
            Weight::Radius => w * s,
        };
        for (sum, value) in total.iter_mut().zip(cardinal(position, s)) {
            *sum += factor * value;
        }
    }
    total
}

/// Derivatives of the cardinal polynomials at the points, by barycentric weights;
/// the diagonal is minus the sum of its row, so that a constant has no slope
/// to the last bit.
fn difference_matrix(position: &[f64]) -> DMatrix<f64> {
    let n = position.len();
    let barycentric: Vec<f64> = (0..n)
        .map(|i| {
            let others = position.iter().enumerate().filter(|&(j, _)| j != i);
            1.0 / others.map(|(_, &x)| position[i] - x).product::<f64>()
        })
        .collect();
    let mut matrix = DMatrix::zeros(n, n);
    for i in 0..n {
        for j in (0..n).filter(|&j| j != i) {
            matrix[(i, j)] = barycentric[j] / barycentric[i] / (position[i] - position[j]);
        }
        matrix[(i, i)] = -matrix.row(i).sum();
    }
    matrix
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// Abramowitz and Stegun, *Handbook of Mathematical Functions*, table 25.6
    /// (Lobatto, n = 5): points 0, ±0.65465367, ±1; weights 0.71111111,
    /// 0.54444444, 0.10000000.
    #[test]
    fn five_lobatto_points_are_those_of_the_handbook() {
        let points = Points::lobatto(4, Weight::Plain);
        for (s, x) in points.position.iter().zip([-1.0, -0.654_653_67, 0.0, 0.654_653_67, 1.0]) {
            assert_abs_diff_eq!(2.0 * s - 1.0, x, epsilon = 5e-9);
        }
        let weights = [0.1, 0.544_444_44, 0.711_111_11, 0.544_444_44, 0.1];
        for (w, expected) in points.weight.iter().zip(weights) {
            assert_abs_diff_eq!(2.0 * w, expected, epsilon = 5e-9);
        }
    }

    #[test]
    fn the_rule_on_the_axis_integrates_powers_of_radius_exactly_and_gives_the_axis_a_share() {
        for order in 2..=10 {
            let points = Points::lobatto(order, Weight::Radius);
            for power in 0..2 * order {
                let sum: f64 = points
                    .position
                    .iter()
                    .zip(&points.weight)
                    .map(|(s, w)| w * s.powi(i32::try_from(power).unwrap()))
                    .sum();
                assert_abs_diff_eq!(sum, 1.0 / (power as f64 + 2.0), epsilon = 1e-13);
            }
            assert!(points.weight.iter().all(|&w| w > 0.0), "every point stands for some volume");
        }
    }

    #[test]
    fn differences_are_exact_for_every_polynomial_the_block_holds() {
        for order in 2..=9 {
            let points = Points::lobatto(order, Weight::Plain);
            for power in 0..=order {
                let power = i32::try_from(power).unwrap();
                for i in 0..=order {
                    let slope: f64 = (0..=order)
                        .map(|j| points.difference[(i, j)] * points.position[j].powi(power))
                        .sum();
                    let exact = if power == 0 {
                        0.0
                    } else {
                        f64::from(power) * points.position[i].powi(power - 1)
                    };
                    assert_abs_diff_eq!(slope, exact, epsilon = 1e-11);
                }
            }
        }
    }

    #[test]
    fn summation_by_parts_holds_exactly() {
        let points = Points::lobatto(6, Weight::Plain);
        let n = points.position.len();
        for i in 0..n {
            for j in 0..n {
                let sum = points.weight[i] * points.difference[(i, j)]
                    + points.weight[j] * points.difference[(j, i)];
                let boundary = f64::from(u8::from(i == n - 1 && j == n - 1))
                    - f64::from(u8::from(i == 0 && j == 0));
                assert_abs_diff_eq!(sum, boundary, epsilon = 1e-13);
            }
        }
    }
}
