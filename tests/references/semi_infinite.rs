//! The first minutes of a thick plate: only the surface knows of the cold.
//!
//! # Source
//! H. S. Carslaw and J. C. Jaeger, *Conduction of Heat in Solids*, 2nd ed., Oxford
//! (1959), section 2.7.

use libm::erfc;

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::rows;

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
