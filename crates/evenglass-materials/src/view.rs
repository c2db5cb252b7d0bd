//! What share of its view a small flat sees of a round opening.
//!
//! Disc to disc: [`crate::sky::disc_view_factor`].

use std::f64::consts::{FRAC_1_PI, FRAC_PI_2};

use evenglass_units::Length;

/// Share of what leaves a small flat that goes through a round opening whose axis it faces
/// [-] (eq. D-20).
///
/// * `opening` — its radius; `distance` — from the flat, along the axis
#[must_use]
pub fn element_to_disc(opening: Length, distance: Length) -> f64 {
    let (r, d) = (opening.metres(), distance.metres().max(0.0));
    if d > 0.0 { r * r / (r * r + d * d) } else { 1.0 }
}

/// The same where the flat is tilted against the axis (eq. D-21).
///
/// * `tilt` — between the normal of the flat and the axis \[rad\], 0 to π/2
///
/// As long as the whole opening lies before the plane of the flat, the tilt just takes its
/// cosine; of an opening that covers the half-space a plane cuts off a share.
///
/// # Source
/// The factor of a sphere of the same apparent size, from a tilted plate, in the closed form
/// of J. R. Howell's catalogue (see [`crate::sky::disc_view_factor`]), recalled from memory
/// and held against direct integration.
#[must_use]
pub fn tilted_element_to_disc(opening: Length, distance: Length, tilt: f64) -> f64 {
    let tilt = tilt.clamp(0.0, FRAC_PI_2);
    // Of half the apparent size: sine, and cotangent over sine's inverse.
    let sine_squared = element_to_disc(opening, distance);
    let facing = tilt.cos() * sine_squared;
    let (r, d) = (opening.metres(), distance.metres().max(0.0));
    if r <= 0.0 || r.atan2(d) <= FRAC_PI_2 - tilt {
        return facing;
    }
    let (sin, cos) = tilt.sin_cos();
    // √(H² − 1) with H the inverse of the sine of half the apparent size.
    let root = d / r;
    let h_squared = 1.0 / sine_squared;
    let edge = (root / (h_squared.sqrt() * sin)).clamp(-1.0, 1.0).asin();
    let turn = (-root * cos / sin).clamp(-1.0, 1.0).acos();
    let rest = root * (1.0 - h_squared * cos * cos).max(0.0).sqrt();
    0.5 - FRAC_1_PI * edge + FRAC_1_PI * sine_squared * (cos * turn - rest)
}

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};
    use std::f64::consts::{FRAC_PI_4, PI, TAU};

    use super::*;

    fn tilted(radius: f64, distance: f64, tilt: f64) -> f64 {
        tilted_element_to_disc(Length::from_metres(radius), Length::from_metres(distance), tilt)
    }

    /// Direct integration of cos/π over the directions through the opening.
    fn integrated(half_angle: f64, tilt: f64) -> f64 {
        let (rings, spokes) = (2000_u32, 2000_u32);
        let (d_ring, d_spoke) = (half_angle / f64::from(rings), TAU / f64::from(spokes));
        let mut sum = 0.0;
        for ring in 0..rings {
            let (sin, cos) = ((f64::from(ring) + 0.5) * d_ring).sin_cos();
            for spoke in 0..spokes {
                let along = ((f64::from(spoke) + 0.5) * d_spoke).cos();
                let facing = cos * tilt.cos() + sin * tilt.sin() * along;
                sum += facing.max(0.0) * sin * d_ring * d_spoke;
            }
        }
        sum / PI
    }

    #[test]
    fn a_tilted_flat_sees_what_direct_integration_gives() {
        for (half_angle, tilt) in
            [(0.5, FRAC_PI_4), (1.0, FRAC_PI_4), (1.4, FRAC_PI_4), (1.2, 0.9), (0.8, 1.3)]
        {
            let seen = tilted(f64::tan(half_angle), 1.0, tilt);
            assert_abs_diff_eq!(seen, integrated(half_angle, tilt), epsilon = 2e-5);
        }
    }

    #[test]
    fn under_an_open_sky_a_tilted_flat_sees_the_known_share() {
        assert_relative_eq!(tilted(1.0, 0.0, FRAC_PI_4), 0.5 * (1.0 + FRAC_PI_4.cos()));
        assert_relative_eq!(tilted(1.0, 0.0, FRAC_PI_2), 0.5, max_relative = 1e-12);
        assert_relative_eq!(tilted(1.0, 0.0, 0.0), 1.0);
    }

    #[test]
    fn the_two_forms_meet_where_the_plane_touches_the_opening() {
        let touching = tilted(1.0, 1.0, FRAC_PI_4);
        assert_relative_eq!(tilted(1.000_001, 1.0, FRAC_PI_4), touching, max_relative = 1e-5);
        assert_relative_eq!(touching, FRAC_PI_4.cos() * 0.5, max_relative = 1e-12);
    }
}
