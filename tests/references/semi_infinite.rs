//! The first minutes of a thick plate: only the surface knows of the cold.
//!
//! # Source
//! H. S. Carslaw and J. C. Jaeger, *Conduction of Heat in Solids*, 2nd ed., Oxford
//! (1959), section 2.7. The error function by its series with positive terms:
//! M. Abramowitz and I. A. Stegun, *Handbook of Mathematical Functions* (1964), 7.1.6.

/// (T - start) / (air - start) below a face with a film.
///
/// * `depth` — below the surface [m]
/// * `film_over_conductivity` — [m⁻¹]
/// * `spread` — diffusivity times time [m²]
pub(crate) fn change(depth: f64, film_over_conductivity: f64, spread: f64) -> f64 {
    let s = depth / (2.0 * spread.sqrt());
    let b = film_over_conductivity * spread.sqrt();
    erfc(s) - (film_over_conductivity * depth + b * b).exp() * erfc(s + b)
}

/// Complementary error function, for arguments up to 3: beyond, 1 - erf loses its digits.
fn erfc(x: f64) -> f64 {
    assert!((0.0..=3.0).contains(&x), "erfc by series at {x}");
    let (mut term, mut sum) = (x, x);
    for n in 1..100 {
        term *= 2.0 * x * x / (2.0 * f64::from(n) + 1.0);
        sum += term;
    }
    1.0 - 2.0 / std::f64::consts::PI.sqrt() * (-x * x).exp() * sum
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;
    use crate::table::rows;

    /// Abramowitz and Stegun, table 7.1 (recalled from memory, re-computed with scipy 1.17).
    #[test]
    fn the_error_function_has_its_tabled_values() {
        assert_relative_eq!(erfc(0.5), 0.479_500_122_186_953, max_relative = 1e-12);
        assert_relative_eq!(erfc(2.0), 0.004_677_734_981_047, max_relative = 1e-10);
    }

    #[test]
    fn changes_are_those_of_the_table() {
        for row in rows("semi-infinite-change") {
            let conductivity = row.input("conductivity");
            let diffusivity = conductivity / (row.input("density") * row.input("specific_heat"));
            let spread = diffusivity * row.input("time");
            row.check(change(row.input("depth"), row.input("film") / conductivity, spread));
        }
    }
}
