//! A long rod, suddenly in colder air.
//!
//! # Source
//! H. S. Carslaw and J. C. Jaeger, *Conduction of Heat in Solids*, 2nd ed., Oxford
//! (1959), section 7.7; F. P. Incropera et al., *Fundamentals of Heat and Mass
//! Transfer*, chapter 5.

use crate::bessel::{j0, j1};
use crate::roots;

/// Positive roots of ζ J1(ζ) = Bi J0(ζ).
pub(crate) fn eigenvalues(biot: f64, count: usize) -> Vec<f64> {
    roots::first(count, 1e-9, 0.5, |z| z * j1(z) - biot * j0(z))
}

/// Weight of an eigenfunction in a uniform start.
pub(crate) fn coefficient(zeta: f64) -> f64 {
    2.0 * j1(zeta) / (zeta * (j0(zeta).powi(2) + j1(zeta).powi(2)))
}

/// (T - air) / (start - air).
///
/// * `biot` — film times radius over conductivity
/// * `fourier` — diffusivity times time over the square of the radius
/// * `position` — from the axis, in radii
pub(crate) fn excess(biot: f64, fourier: f64, position: f64) -> f64 {
    if biot == 0.0 {
        return 1.0;
    }
    eigenvalues(biot, 40)
        .into_iter()
        .map(|z| coefficient(z) * j0(z * position) * (-z * z * fourier).exp())
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::rows;

    #[test]
    fn first_roots_and_coefficients_are_those_of_the_table() {
        for row in rows("cylinder-first-root") {
            row.check(eigenvalues(row.input("biot"), 1)[0]);
        }
        for row in rows("cylinder-first-coefficient") {
            row.check(coefficient(eigenvalues(row.input("biot"), 1)[0]));
        }
    }

    #[test]
    fn temperatures_are_those_of_the_table() {
        for row in rows("cylinder-excess") {
            row.check(excess(row.input("biot"), row.input("fourier"), row.input("position")));
        }
    }
}
