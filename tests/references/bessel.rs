//! Bessel functions; the modified ones scaled by their growth so that none overflows.
//!
//! # Source
//! M. Abramowitz and I. A. Stegun, *Handbook of Mathematical Functions*, National
//! Bureau of Standards (1964): integral 9.1.21, series 9.6.10 and 9.6.13, asymptotic
//! series 9.7.1, Wronskian 9.6.15 (formulas recalled from memory; checked below
//! against printed values and against each other).

use std::f64::consts::PI;

/// Euler's constant.
const EULER: f64 = 0.577_215_664_901_532_9;
/// Above this the asymptotic series is exact to the last digits.
const LARGE: f64 = 30.0;

/// J0(x).
pub(crate) fn j0(x: f64) -> f64 {
    mean_over_a_half_turn(x, |angle| (x * angle.sin()).cos())
}

/// J1(x).
pub(crate) fn j1(x: f64) -> f64 {
    mean_over_a_half_turn(x, |angle| (angle - x * angle.sin()).cos())
}

/// The trapezium rule, which is exact to the last digits for a periodic function
/// once its points outnumber the turns of the cosine.
fn mean_over_a_half_turn(x: f64, function: impl Fn(f64) -> f64) -> f64 {
    let mut points = 40.0;
    while points < x + 40.0 {
        points *= 2.0;
    }
    let mut sum = 0.5 * (function(0.0) + function(PI));
    let mut point = 1.0;
    while point < points {
        sum += function(PI * point / points);
        point += 1.0;
    }
    sum / points
}

/// e^-x I0(x).
pub(crate) fn i0_scaled(x: f64) -> f64 {
    if x > LARGE { asymptotic(0.0, x) } else { (-x).exp() * series(x, 0) }
}

/// e^-x I1(x).
pub(crate) fn i1_scaled(x: f64) -> f64 {
    if x > LARGE { asymptotic(1.0, x) } else { (-x).exp() * 0.5 * x * series(x, 1) }
}

/// K0(x), to about ten digits up to x = 7; not for larger arguments, where the
/// series loses its digits by cancellation.
pub(crate) fn k0(x: f64) -> f64 {
    assert!(x > 0.0 && x <= 7.0, "K0 by series at {x}");
    let square = 0.25 * x * x;
    let (mut term, mut harmonic, mut sum) = (1.0, 0.0, 0.0);
    for k in 1..60 {
        let k = f64::from(k);
        term *= square / (k * k);
        harmonic += 1.0 / k;
        sum += harmonic * term;
    }
    sum - ((0.5 * x).ln() + EULER) * series(x, 0)
}

/// K1(x) from the Wronskian I0 K1 + I1 K0 = 1/x; the same range as [`k0`].
pub(crate) fn k1(x: f64) -> f64 {
    (1.0 / x - 0.5 * x * series(x, 1) * k0(x)) / series(x, 0)
}

/// Sum of (x²/4)^k / (k! (k + order)!).
fn series(x: f64, order: u32) -> f64 {
    let square = 0.25 * x * x;
    let (mut term, mut sum) = (1.0, 1.0);
    for k in 1..100 {
        term *= square / (f64::from(k) * f64::from(k + order));
        sum += term;
    }
    sum
}

/// 9.7.1 divided by e^x.
fn asymptotic(order: f64, x: f64) -> f64 {
    let mu = 4.0 * order * order;
    let (mut term, mut sum) = (1.0, 1.0);
    for k in 1..15 {
        let k = f64::from(k);
        term *= -(mu - (2.0 * k - 1.0).powi(2)) / (k * 8.0 * x);
        sum += term;
    }
    sum / (2.0 * PI * x).sqrt()
}

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};

    use super::*;

    /// Abramowitz and Stegun, tables 9.8: e^-x I0, e^-x I1 and K0, K1 at 1 and 5
    /// (values recalled from memory, re-computed with scipy 1.17).
    #[test]
    fn tabled_values_are_reproduced() {
        assert_relative_eq!(i0_scaled(1.0), 0.465_759_607_6, max_relative = 1e-9);
        assert_relative_eq!(i1_scaled(1.0), 0.207_910_415_3, max_relative = 1e-9);
        assert_relative_eq!(i0_scaled(5.0), 0.183_540_812_6, max_relative = 1e-9);
        assert_relative_eq!(i1_scaled(5.0), 0.163_972_266_9, max_relative = 1e-9);
        assert_relative_eq!(k0(1.0), 0.421_024_438_2, max_relative = 1e-9);
        assert_relative_eq!(k1(1.0), 0.601_907_230_2, max_relative = 1e-9);
        assert_relative_eq!(k0(5.0), 0.003_691_098_334, max_relative = 1e-9);
    }

    /// The first zeros of J0 and J1, and the largest value of J1 (recalled from memory,
    /// re-computed with scipy 1.17).
    #[test]
    fn zeros_and_largest_values_are_reproduced() {
        assert_abs_diff_eq!(j0(2.404_825_557_695_773), 0.0, epsilon = 1e-14);
        assert_abs_diff_eq!(j0(30.634_606_468_431_976), 0.0, epsilon = 1e-14);
        assert_abs_diff_eq!(j1(3.831_705_970_207_512), 0.0, epsilon = 1e-14);
        assert_relative_eq!(j1(1.841_183_781_340_659), 0.581_865_224_282, max_relative = 1e-11);
        assert_relative_eq!(j0(100.0), 0.019_985_850_304_223, max_relative = 1e-11);
    }

    #[test]
    fn series_and_asymptotic_series_meet() {
        for order in [0, 1] {
            let by_series = (-LARGE).exp()
                * if order == 0 { series(LARGE, 0) } else { 0.5 * LARGE * series(LARGE, 1) };
            assert_relative_eq!(
                by_series,
                asymptotic(f64::from(order), LARGE),
                max_relative = 1e-12
            );
        }
    }
}
