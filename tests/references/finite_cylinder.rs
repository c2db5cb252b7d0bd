//! A flat disc with one film on both faces and another on the rim, suddenly in
//! colder air: the product of a slab and a rod.
//!
//! # Source
//! H. S. Carslaw and J. C. Jaeger, *Conduction of Heat in Solids*, 2nd ed., Oxford
//! (1959), section 1.15.

use crate::table::Row;
use crate::{cylinder, slab};

/// A disc of constant properties.
pub(crate) struct Disc {
    pub(crate) diameter: f64,
    pub(crate) thickness: f64,
    pub(crate) conductivity: f64,
    /// Density times specific heat [J m⁻³ K⁻¹].
    pub(crate) heat_capacity: f64,
    pub(crate) film_faces: f64,
    pub(crate) film_rim: f64,
}

impl Disc {
    /// The disc a row describes.
    pub(crate) fn of(row: &Row) -> Self {
        Self {
            diameter: row.input("diameter"),
            thickness: row.input("thickness"),
            conductivity: row.input("conductivity"),
            heat_capacity: row.input("density") * row.input("specific_heat"),
            film_faces: row.input("film_faces"),
            film_rim: row.input("film_rim"),
        }
    }

    /// (T - air) / (start - air) at a time [s], radius and height above the back [m].
    pub(crate) fn excess(&self, time: f64, radius: f64, height: f64) -> f64 {
        let (half, outer) = (0.5 * self.thickness, 0.5 * self.diameter);
        let spread = self.conductivity / self.heat_capacity * time;
        let through = slab::excess(
            self.film_faces * half / self.conductivity,
            spread / (half * half),
            (height - half) / half,
        );
        let across = cylinder::excess(
            self.film_rim * outer / self.conductivity,
            spread / (outer * outer),
            radius / outer,
        );
        through * across
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::rows;

    #[test]
    fn temperatures_are_those_of_the_table() {
        for row in rows("finite-cylinder-excess") {
            let disc = Disc::of(&row);
            row.check(disc.excess(row.input("time"), row.input("radius"), row.input("height")));
        }
    }

    #[test]
    fn edge_minus_centre_is_that_of_the_table_and_nothing_with_a_sealed_rim() {
        for row in rows("finite-cylinder-face-edge-minus-centre") {
            let disc = Disc::of(&row);
            let face = |radius| disc.excess(row.input("time"), radius, disc.thickness);
            row.check(face(0.5 * disc.diameter) - face(0.0));
        }
    }
}
