//! Glass that follows falling air: how far it lags behind.
//!
//! # Source
//! H. S. Carslaw and J. C. Jaeger, *Conduction of Heat in Solids*, 2nd ed., Oxford
//! (1959), section 1.14 (Duhamel); the quasi-steady forms are derived: in step
//! with the air everywhere, k ∇²T = -ρ c G with G the fall of the air.

use crate::bessel::{i0_scaled, i1_scaled};
use crate::finite_cylinder::Disc;
use crate::slab;

/// ρ c G / k [K m⁻²]: what bends the profile.
fn source(heat_capacity: f64, conductivity: f64, fall: f64) -> f64 {
    heat_capacity * fall / conductivity
}

/// Lag of a slab once it falls as fast as the air [K], `position` from the middle
/// in half thicknesses.
pub(crate) fn slab_lag(source: f64, half: f64, biot: f64, position: f64) -> f64 {
    source * half * half * (0.5 * (1.0 - position * position) + 1.0 / biot)
}

/// Lag of a slab that was in balance with the air until it began to fall [K].
pub(crate) fn slab_lag_from_rest(source: f64, half: f64, biot: f64, fourier: f64, x: f64) -> f64 {
    let missing: f64 = slab::eigenvalues(biot, 100)
        .into_iter()
        .map(|z| slab::coefficient(z) * (z * x).cos() * (-z * z * fourier).exp() / (z * z))
        .sum();
    slab_lag(source, half, biot, x) - source * half * half * missing
}

/// Lag of a plate with different films [K]: A + B x - S x²/2 with the films' balance at both faces.
///
/// `back`, `front` — film over conductivity [m⁻¹]; `height` above the back [m]
pub(crate) fn plate_lag(source: f64, thickness: f64, back: f64, front: f64, height: f64) -> f64 {
    // back A = B;  -(B - S t) = front (A + B t - S t²/2)
    let t = thickness;
    let a = source * t * (1.0 + 0.5 * front * t) / (back + front + back * front * t);
    a + back * a * height - 0.5 * source * height * height
}

/// Lag of a flat disc with one film on both faces and another on the rim [K].
pub(crate) fn disc_lag(disc: &Disc, fall: f64, radius: f64, height: f64) -> f64 {
    let (half, outer) = (0.5 * disc.thickness, 0.5 * disc.diameter);
    let source = source(disc.heat_capacity, disc.conductivity, fall);
    let biot = disc.film_faces * half / disc.conductivity;
    slab::eigenvalues(biot, 400)
        .into_iter()
        .map(|z| {
            let q = z / half;
            let growth = (q * (radius - outer)).exp();
            let at_rim =
                disc.film_rim * i0_scaled(q * outer) + disc.conductivity * q * i1_scaled(q * outer);
            let rim = disc.film_rim * i0_scaled(q * radius) * growth / at_rim;
            let shape = (z * (height - half) / half).cos();
            source * slab::coefficient(z) / (q * q) * shape * (1.0 - rim)
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::{Row, rows};

    const HOUR: f64 = 3600.0;

    struct Slab {
        half: f64,
        biot: f64,
        source: f64,
        diffusivity: f64,
    }

    fn slab_of(row: &Row) -> Slab {
        let half = 0.5 * row.input("thickness");
        let heat_capacity = row.input("density") * row.input("specific_heat");
        let conductivity = row.input("conductivity");
        Slab {
            half,
            biot: row.input("film") * half / conductivity,
            source: source(heat_capacity, conductivity, row.input("fall") / HOUR),
            diffusivity: conductivity / heat_capacity,
        }
    }

    #[test]
    fn lags_of_a_slab_are_those_of_the_table() {
        for row in rows("falling-slab-lag-surface") {
            let slab = slab_of(&row);
            row.check(slab_lag(slab.source, slab.half, slab.biot, 1.0));
        }
        for row in rows("falling-slab-lag-centre") {
            let slab = slab_of(&row);
            row.check(slab_lag(slab.source, slab.half, slab.biot, 0.0));
        }
        for row in rows("falling-slab-lag-mean") {
            let slab = slab_of(&row);
            let lag = |x| slab_lag(slab.source, slab.half, slab.biot, x);
            row.check(crate::roots::integral(0.0, 1.0, 4, lag));
        }
    }

    #[test]
    fn lags_of_a_slab_that_starts_at_rest_are_those_of_the_table() {
        for row in rows("falling-slab-lag-transient") {
            let slab = slab_of(&row);
            let fourier = slab.diffusivity * row.input("time") / (slab.half * slab.half);
            let x = row.input("position");
            row.check(slab_lag_from_rest(slab.source, slab.half, slab.biot, fourier, x));
        }
    }

    #[test]
    fn lags_of_a_plate_with_a_fan_behind_are_those_of_the_table() {
        for row in rows("falling-asymmetric-slab-lag") {
            let conductivity = row.input("conductivity");
            let heat_capacity = row.input("density") * row.input("specific_heat");
            let thickness = row.input("thickness");
            row.check(plate_lag(
                source(heat_capacity, conductivity, row.input("fall") / HOUR),
                thickness,
                row.input("film_back") / conductivity,
                row.input("film_front") / conductivity,
                row.input("position") * thickness,
            ));
        }
    }

    #[test]
    fn lags_of_a_disc_are_those_of_the_table() {
        for row in rows("falling-disc-lag") {
            let disc = Disc::of(&row);
            let fall = row.input("fall") / HOUR;
            row.check(disc_lag(&disc, fall, row.input("radius"), row.input("height")));
        }
        for row in rows("falling-disc-face-edge-minus-centre") {
            let disc = Disc::of(&row);
            let face = |r| disc_lag(&disc, row.input("fall") / HOUR, r, disc.thickness);
            row.check(face(0.5 * disc.diameter) - face(0.0));
        }
    }
}
