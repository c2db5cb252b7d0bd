//! A flat disc at rest between cold air on its faces and warm air around its rim.
//!
//! # Source
//! H. S. Carslaw and J. C. Jaeger, *Conduction of Heat in Solids*, 2nd ed., Oxford
//! (1959), section 8.3: cosines through the thickness, I0 across.

use crate::bessel::{i0_scaled, i1_scaled};
use crate::finite_cylinder::Disc;
use crate::slab;

/// (T - face air) / (rim air - face air).
pub(crate) fn excess(disc: &Disc, radius: f64, height: f64) -> f64 {
    let (half, outer) = (0.5 * disc.thickness, 0.5 * disc.diameter);
    slab::eigenvalues(disc.film_faces * half / disc.conductivity, 2000)
        .into_iter()
        .map(|z| {
            let q = z / half;
            let growth = (q * (radius - outer)).exp();
            let at_rim =
                disc.film_rim * i0_scaled(q * outer) + disc.conductivity * q * i1_scaled(q * outer);
            let across = disc.film_rim * i0_scaled(q * radius) * growth / at_rim;
            slab::coefficient(z) * (z * (height - half) / half).cos() * across
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::rows;

    #[test]
    fn temperatures_are_those_of_the_table() {
        for row in rows("steady-disc-warm-rim") {
            let disc = Disc {
                diameter: row.input("diameter"),
                thickness: row.input("thickness"),
                conductivity: row.input("conductivity"),
                heat_capacity: f64::NAN, // nothing is stored at rest
                film_faces: row.input("film_faces"),
                film_rim: row.input("film_rim"),
            };
            row.check(excess(&disc, row.input("radius"), row.input("height")));
        }
    }
}
