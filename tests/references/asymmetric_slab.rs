//! A wide plate with different films on its faces: the fan is behind.
//!
//! # Source
//! H. S. Carslaw and J. C. Jaeger, *Conduction of Heat in Solids*, 2nd ed., Oxford
//! (1959), section 3.11; M. N. Özışık, *Heat Conduction*, Wiley.

use crate::roots;

/// A plate from back (x = 0) to front (x = 1).
pub(crate) struct Plate {
    biot_back: f64,
    /// Eigenvalue and weight in a uniform start.
    modes: Vec<(f64, f64)>,
}

impl Plate {
    /// Films times the whole thickness over the conductivity.
    pub(crate) fn new(biot_back: f64, biot_front: f64) -> Self {
        let (sum, product) = (biot_back + biot_front, biot_back * biot_front);
        // tan β = β (B0 + B1) / (β² - B0 B1), without its poles.
        let condition = |b: f64| (b * b - product) * b.sin() - b * sum * b.cos();
        let modes = roots::first(60, 1e-6, 0.05, condition)
            .into_iter()
            .enumerate()
            .map(|(index, beta)| {
                let panels = 400 * (u32::try_from(index).expect("60 modes") + 1);
                let shape = |x: f64| shape(biot_back, beta, x);
                let mean = roots::integral(0.0, 1.0, panels, shape);
                let square = roots::integral(0.0, 1.0, panels, |x| shape(x).powi(2));
                (beta, mean / square)
            })
            .collect();
        Self { biot_back, modes }
    }

    /// (T - air) / (start - air).
    ///
    /// * `fourier` — diffusivity times time over the square of the thickness
    /// * `position` — from the back, in thicknesses
    pub(crate) fn excess(&self, fourier: f64, position: f64) -> f64 {
        self.modes
            .iter()
            .map(|&(beta, weight)| {
                weight * shape(self.biot_back, beta, position) * (-beta * beta * fourier).exp()
            })
            .sum()
    }
}

fn shape(biot_back: f64, beta: f64, x: f64) -> f64 {
    (beta * x).cos() + biot_back / beta * (beta * x).sin()
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;
    use crate::slab;
    use crate::table::rows;

    #[test]
    fn temperatures_are_those_of_the_table() {
        for row in rows("asymmetric-slab-excess") {
            let plate = Plate::new(row.input("biot_back"), row.input("biot_front"));
            row.check(plate.excess(row.input("fourier"), row.input("position")));
        }
    }

    #[test]
    fn equal_films_give_the_symmetric_slab() {
        let plate = Plate::new(0.5, 0.5);
        let slab = slab::excess(0.25, 4.0 * 0.05, 1.0);
        assert_abs_diff_eq!(plate.excess(0.05, 0.0), slab, epsilon = 1e-9);
        assert_abs_diff_eq!(plate.excess(0.05, 1.0), slab, epsilon = 1e-9);
    }
}
