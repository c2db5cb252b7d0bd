//! Coefficients of the time integrator.
//!
//! RODASP: a six-stage, stiffly accurate, L-stable Rosenbrock method of order 4
//! with an embedded method of order 3 and dense output, whose coefficients also
//! meet the order conditions for parabolic problems: films that change in time
//! cost it no accuracy.
//!
//! # Source
//! G. Steinebach, "Order-reduction of ROW-methods for DAEs and method of lines
//! applications", Preprint 1741, TH Darmstadt (1995); the formulation is that of
//! E. Hairer and G. Wanner, *Solving Ordinary Differential Equations II*, 2nd
//! ed., sections IV.7 and VI.4. The digits are those of the open integrator
//! libraries that carry the method. The tests below hold them to the order
//! conditions, which no wrong digit meets.

/// Number of stages.
pub(crate) const STAGES: usize = 6;

/// Diagonal coefficient γ.
pub(crate) const GAMMA: f64 = 0.25;

/// Weights of earlier stages in the state of a stage.
pub(crate) const A: [[f64; 5]; STAGES] = [
    [0.0; 5],
    [3.0, 0.0, 0.0, 0.0, 0.0],
    [1.831_036_793_486_759, 0.495_518_396_743_379_5, 0.0, 0.0, 0.0],
    [2.304_376_582_692_669, -0.052_492_752_457_430_01, -1.176_798_761_832_782, 0.0, 0.0],
    [
        -7.170_454_962_423_024,
        -4.741_636_671_481_785,
        -16.310_026_313_309_71,
        -1.062_004_044_111_401,
        0.0,
    ],
    [
        -7.170_454_962_423_024,
        -4.741_636_671_481_785,
        -16.310_026_313_309_71,
        -1.062_004_044_111_401,
        1.0,
    ],
];

/// Weights of earlier stages in the right-hand side of a stage, over the step.
pub(crate) const C: [[f64; 5]; STAGES] = [
    [0.0; 5],
    [-12.0, 0.0, 0.0, 0.0, 0.0],
    [-8.791_795_173_947_035, -2.207_865_586_973_518, 0.0, 0.0, 0.0],
    [10.817_930_568_571_53, 6.780_270_611_428_266, 19.534_859_446_424_1, 0.0, 0.0],
    [
        34.190_950_067_496_76,
        15.496_711_537_259_63,
        54.747_608_759_641_3,
        14.160_053_921_485_34,
        0.0,
    ],
    [
        34.626_058_309_305_32,
        15.300_849_761_145_03,
        56.999_555_786_626_67,
        18.408_070_097_930_95,
        -5.714_285_714_285_717,
    ],
];

/// Time of each stage, in steps.
pub(crate) const TIME: [f64; STAGES] = [0.0, 0.75, 0.21, 0.63, 1.0, 1.0];

/// Weight of the right-hand side's own change in time, in steps.
pub(crate) const TIME_SLOPE: [f64; STAGES] = [0.25, -0.5, -0.023_504, -0.0362, 0.0, 0.0];

/// Weights of the stages in the two bending terms of the dense output.
pub(crate) const DENSE: [[f64; 5]; 2] = [
    [
        25.098_767_037_085_89,
        11.620_131_043_618_67,
        28.491_483_077_146_26,
        -5.664_021_568_594_133,
        0.0,
    ],
    [
        1.638_054_557_396_973,
        -0.737_361_980_667_874_8,
        8.477_918_219_238_99,
        15.992_531_487_795_2,
        -1.882_352_941_176_471,
    ],
];

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;
    use nalgebra::{SMatrix, SVector};

    type Square = SMatrix<f64, STAGES, STAGES>;
    type Stages = SVector<f64, STAGES>;

    /// The method in the form in which order conditions are stated (Hairer and
    /// Wanner, eqs. IV.7.4 and IV.7.15): α, Γ, and the weights of the step, of the
    /// embedded step and of the dense output halfway.
    struct Classical {
        alpha: Square,
        gamma: Square,
        step: Stages,
        embedded: Stages,
        halfway: Stages,
    }

    fn classical() -> Classical {
        let square = |rows: &[[f64; 5]; STAGES]| {
            Square::from_fn(|i, j| if j < 5 { rows[i][j] } else { 0.0 })
        };
        let inverse = Square::identity() / GAMMA - square(&C);
        let gamma = inverse.try_inverse().unwrap();
        let row = |weights: &[f64; 5], last: f64| {
            Stages::from_fn(|i, _| if i < 5 { weights[i] } else { last })
        };
        let (whole, embedded) = (row(&A[STAGES - 1], 1.0), row(&A[STAGES - 1], 0.0));
        // Halfway: y0 / 2 + y1 / 2 + 1/4 of the first bend + 1/8 of the second.
        let halfway = 0.5 * whole + 0.25 * row(&DENSE[0], 0.0) + 0.125 * row(&DENSE[1], 0.0);
        Classical {
            alpha: square(&A) * gamma,
            step: gamma.transpose() * whole,
            embedded: gamma.transpose() * embedded,
            halfway: gamma.transpose() * halfway,
            gamma,
        }
    }

    /// Residuals of the order conditions at `t`, in the order of the table of
    /// Hairer and Wanner, section IV.7: one of order 1, one of 2, two of 3, four of 4.
    fn residuals(method: &Classical, weights: &Stages, t: f64) -> [f64; 8] {
        let ones = Stages::repeat(1.0);
        let (alpha, beta) = (&method.alpha, method.alpha + method.gamma);
        let (a, b) = (alpha * ones, beta * ones);
        let square = a.component_mul(&a);
        [
            weights.dot(&ones) - t,
            weights.dot(&b) - t.powi(2) / 2.0,
            weights.dot(&square) - t.powi(3) / 3.0,
            weights.dot(&(beta * b)) - t.powi(3) / 6.0,
            weights.dot(&square.component_mul(&a)) - t.powi(4) / 4.0,
            weights.dot(&a.component_mul(&(alpha * b))) - t.powi(4) / 8.0,
            weights.dot(&(beta * square)) - t.powi(4) / 12.0,
            weights.dot(&(beta * (beta * b))) - t.powi(4) / 24.0,
        ]
    }

    #[test]
    fn times_and_time_slopes_are_the_row_sums() {
        let method = classical();
        for stage in 0..STAGES {
            assert_abs_diff_eq!(method.alpha.row(stage).sum(), TIME[stage], epsilon = 1e-12);
            assert_abs_diff_eq!(method.gamma.row(stage).sum(), TIME_SLOPE[stage], epsilon = 1e-12);
        }
    }

    #[test]
    fn the_step_has_order_four_and_the_embedded_step_order_three() {
        let method = classical();
        for residual in residuals(&method, &method.step, 1.0) {
            assert_abs_diff_eq!(residual, 0.0, epsilon = 1e-12);
        }
        let embedded = residuals(&method, &method.embedded, 1.0);
        for residual in &embedded[..4] {
            assert_abs_diff_eq!(*residual, 0.0, epsilon = 1e-12);
        }
        // Of order 4 it would not estimate an error.
        assert!(embedded[4..].iter().any(|residual| residual.abs() > 1e-3), "{embedded:?}");
    }

    #[test]
    fn the_dense_output_has_order_three_within_the_step() {
        let method = classical();
        for residual in &residuals(&method, &method.halfway, 0.5)[..4] {
            assert_abs_diff_eq!(*residual, 0.0, epsilon = 1e-12);
        }
    }

    #[test]
    fn the_step_is_stiffly_accurate() {
        // The last stage solves at the end of the step: an infinitely fast mode is
        // gone after one step, which with the order makes the method L-stable.
        let method = classical();
        let beta = method.alpha + method.gamma;
        for stage in 0..STAGES {
            assert_abs_diff_eq!(method.step[stage], beta[(STAGES - 1, stage)], epsilon = 1e-12);
        }
        assert_abs_diff_eq!(TIME[STAGES - 1], 1.0);
    }
}
