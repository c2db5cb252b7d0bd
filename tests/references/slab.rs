//! A wide plate with the same film on both faces, suddenly in colder air.
//!
//! # Source
//! H. S. Carslaw and J. C. Jaeger, *Conduction of Heat in Solids*, 2nd ed., Oxford
//! (1959), section 3.11; F. P. Incropera et al., *Fundamentals of Heat and Mass
//! Transfer*, chapter 5.

use crate::roots;

/// Positive roots of ζ tan ζ = Bi.
pub(crate) fn eigenvalues(biot: f64, count: usize) -> Vec<f64> {
    // ζ sin ζ - Bi cos ζ has one sign change in every half turn and no pole.
    roots::first(count, 1e-9, 0.5, |z| z * z.sin() - biot * z.cos())
}

/// Weight of an eigenfunction in a uniform start.
pub(crate) fn coefficient(zeta: f64) -> f64 {
    4.0 * zeta.sin() / (2.0 * zeta + (2.0 * zeta).sin())
}

/// (T - air) / (start - air).
///
/// * `biot` — film times half thickness over conductivity
/// * `fourier` — diffusivity times time over the square of the half thickness
/// * `position` — from the middle, in half thicknesses
pub(crate) fn excess(biot: f64, fourier: f64, position: f64) -> f64 {
    if biot == 0.0 {
        return 1.0;
    }
    eigenvalues(biot, 200)
        .into_iter()
        .map(|z| coefficient(z) * (z * position).cos() * (-z * z * fourier).exp())
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::rows;

    #[test]
    fn first_roots_and_coefficients_are_those_of_the_table() {
        for row in rows("slab-first-root") {
            row.check(eigenvalues(row.input("biot"), 1)[0]);
        }
        for row in rows("slab-first-coefficient") {
            row.check(coefficient(eigenvalues(row.input("biot"), 1)[0]));
        }
    }

    #[test]
    fn temperatures_are_those_of_the_table() {
        for row in rows("slab-excess") {
            row.check(excess(row.input("biot"), row.input("fourier"), row.input("position")));
        }
    }

    /// The slowest mode, and the two lumped estimates it is compared with:
    /// stored heat over what leaves through all faces, or through the two wide ones.
    #[test]
    fn time_constants_are_those_of_the_table() {
        for row in rows("slab-time-constant") {
            let half = 0.5 * row.input("thickness");
            let zeta = eigenvalues(row.input("film") * half / row.input("conductivity"), 1)[0];
            let capacity = row.input("density") * row.input("specific_heat");
            row.check(half * half * capacity / row.input("conductivity") / (zeta * zeta));
        }
        for row in rows("lumped-time-constant") {
            let thickness = row.input("thickness");
            let rim =
                if row.has("diameter") { 4.0 * thickness / row.input("diameter") } else { 0.0 };
            let area_per_face = 2.0 + rim;
            let capacity = row.input("density") * row.input("specific_heat") * thickness;
            row.check(capacity / (row.input("film") * area_per_face));
        }
    }
}
