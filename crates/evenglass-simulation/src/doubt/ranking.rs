//! Which unknown matters most.

use nalgebra::{DMatrix, DVector};

use super::draw::Draw;
use super::unknown::Unknown;

/// How much of a spread comes from one unknown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Importance {
    /// Which.
    pub unknown: Unknown,
    /// Share of the variance that goes with it in a straight line [-].
    pub share: f64,
    /// Change of the response by one standard deviation upward, in its own unit.
    pub slope: f64,
}

/// Ranks unknowns by the share of the response's variance that goes with each, the largest
/// first: the squares of the coefficients of a linear regression on the standard deviates.
///
/// What is not straight, or comes of two unknowns together, is in nobody's share.
///
/// # Source
/// Standardised regression coefficients: A. Saltelli et al., *Global Sensitivity Analysis: The
/// Primer* (2008), section 1.2.5; from memory.
#[must_use]
pub fn rank(draws: &[&Draw], response: &[f64]) -> Vec<Importance> {
    let Some(first) = draws.first() else { return vec![] };
    let unknowns = first.deviates.len();
    if draws.len() <= unknowns + 1 {
        return vec![];
    }
    let design = DMatrix::from_fn(draws.len(), unknowns + 1, |row, column| {
        if column == 0 { 1.0 } else { draws[row].deviates[column - 1].1 }
    });
    let values = DVector::from_column_slice(response);
    let mean = values.mean();
    let variance = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / response.len() as f64;
    let fit = design.svd(true, true).solve(&values, 1e-12);
    let Ok(fit) = fit else { return vec![] };
    let share = |slope: f64| if variance > 0.0 { slope * slope / variance } else { 0.0 };
    let mut ranked: Vec<Importance> = first
        .deviates
        .iter()
        .enumerate()
        .map(|(n, (unknown, _))| {
            let slope = fit[n + 1];
            Importance { unknown: *unknown, share: share(slope), slope }
        })
        .collect();
    ranked.sort_by(|a, b| b.share.total_cmp(&a.share));
    ranked
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    /// y = 3 a − 4 b + 1: of its variance 9/25 goes with a and 16/25 with b, whatever else
    /// was drawn.
    #[test]
    fn the_shares_of_a_linear_response_are_those_of_its_squares() {
        let unknowns = [Unknown::Expansion, Unknown::BackFilm, Unknown::Wind];
        let draws: Vec<Draw> = (0..512).map(|n| Draw::of(&unknowns, n, 7)).collect();
        let draws: Vec<&Draw> = draws.iter().collect();
        let y = |draw: &&Draw| 3.0 * draw.deviates[0].1 - 4.0 * draw.deviates[1].1 + 1.0;
        let response: Vec<f64> = draws.iter().map(y).collect();
        let ranked = rank(&draws, &response);
        assert_eq!(ranked[0].unknown, Unknown::BackFilm);
        assert_eq!(ranked[1].unknown, Unknown::Expansion);
        assert_abs_diff_eq!(ranked[0].share, 0.64, epsilon = 0.02);
        assert_abs_diff_eq!(ranked[1].share, 0.36, epsilon = 0.02);
        assert_abs_diff_eq!(ranked[0].slope, -4.0, epsilon = 1e-9);
        assert_abs_diff_eq!(ranked[2].share, 0.0, epsilon = 1e-9);
    }

    #[test]
    fn too_few_draws_rank_nothing() {
        let draw = Draw::of(&Unknown::ALL, 0, 1);
        assert!(rank(&[&draw, &draw], &[1.0, 2.0]).is_empty(), "two nights tell nothing");
    }
}
