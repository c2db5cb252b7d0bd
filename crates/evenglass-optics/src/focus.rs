//! Where the image lies: what refocusing has to follow, and how far off a figure is from a
//! sphere's.
//!
//! Equation numbers refer to docs/physics/image.md.

/// How far the focus moves \[m\], positive away from the mirror, for a defocus of the surface
/// (coefficient of (r/a)²) (eq. I-8).
///
/// * `defocus_m` — surface, positive where the rim stands high: the mirror is more concave
/// * `curvature_radius_m` — of the front at its vertex, twice the focal length
/// * `radius_m` — a, radius of the glass
///
/// # Source
/// Derived: z = r²/(2R) + c (r/a)² has 1/R′ = 1/R + 2c/a².
#[must_use]
pub fn focus_shift(defocus_m: f64, curvature_radius_m: f64, radius_m: f64) -> f64 {
    -defocus_m * (curvature_radius_m / radius_m).powi(2)
}

/// How far the image may lie off either way \[m\] before the wavefront of a perfect mirror is
/// a quarter wave deep (eq. I-9).
///
/// * `focal_ratio` — focal length over aperture in use
/// * `wavelength_m` — of the light
///
/// # Source
/// M. Born, E. Wolf, *Principles of Optics*, 7th ed. (1999), section 8.8.2; from memory.
/// Derived again on the page: a shift δ makes the edge of the wavefront lag by δ/(8N²).
#[must_use]
pub fn depth_of_focus(focal_ratio: f64, wavelength_m: f64) -> f64 {
    2.0 * wavelength_m * focal_ratio * focal_ratio
}

/// How long \[s\] until the image has moved by the depth of focus \[m\] at this rate [m s⁻¹],
/// either way; `None` if it stands still.
#[must_use]
pub fn refocus_interval(depth_m: f64, rate_m_s: f64) -> Option<f64> {
    let seconds = depth_m / rate_m_s.abs();
    seconds.is_finite().then_some(seconds)
}

/// How far the focus moves in the focuser \[m\], positive away from the mirror, because the
/// tube changes its length (eq. I-10).
///
/// The image stands at a fixed distance from the mirror, the focuser at the end of the tube.
/// A tube that cools carries the focuser towards the mirror: seen from the focuser the
/// image moves away from the mirror, hence the minus sign.
///
/// * `expansion_per_k` — of the tube along its axis \[K⁻¹\]
/// * `length_m` — of the tube between the mirror's support and where it carries the focuser
///   or the secondary mirror
/// * `warming_k` — of the tube since focusing, negative as it cools
///
/// # Source
/// Derived on the page.
#[must_use]
pub fn tube_share(expansion_per_k: f64, length_m: f64, warming_k: f64) -> f64 {
    -expansion_per_k * length_m * warming_k
}

/// Noll 11 of a paraboloid less the sphere of the same vertex \[m\]: negative, for its rim
/// lies lower; third order (eq. I-11).
///
/// # Source
/// Derived: z = r²/(2R) lies r⁴/(8R³) below the sphere, and Noll 11 of (r/a)⁴ is 1/(6√5).
/// The next order adds 3/4 (a/R)² = 3/(64 N²) of it, at N = f/(2a).
#[must_use]
pub fn parabolising(curvature_radius_m: f64, radius_m: f64) -> f64 {
    -radius_m.powi(4) / (48.0 * 5f64.sqrt() * curvature_radius_m.powi(3))
}

/// Error of correction [%]: spherical aberration of the surface in percent of the step from
/// sphere to paraboloid, positive where over-corrected (eq. I-12).
///
/// * `spherical_m` — Noll 11 of the surface, as [`RoundFit`](crate::RoundFit) has it
#[must_use]
pub fn correction_percent(spherical_m: f64, curvature_radius_m: f64, radius_m: f64) -> f64 {
    100.0 * spherical_m / parabolising(curvature_radius_m, radius_m)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn a_warm_front_bulges_and_sends_the_focus_out() {
        // D 400 f/5: R = 4 m, a = 0.2 m; −3600 nm over 50 mm of soda-lime per kelvin.
        assert_relative_eq!(focus_shift(-3.6e-6, 4.0, 0.2), 1.44e-3, max_relative = 1e-12);
        assert!(focus_shift(1e-7, 4.0, 0.2) < 0.0, "a high rim draws the focus in");
        // A paraboloid stays one: the radius of curvature of z = r²/2R + c (r/a)².
        let (r, a, c) = (4.0_f64, 0.2_f64, -1e-6);
        let changed = 1.0 / (1.0 / r + 2.0 * c / (a * a));
        assert_relative_eq!(focus_shift(c, r, a), 0.5 * (changed - r), max_relative = 1e-3);
    }

    #[test]
    fn the_depth_of_focus_is_a_quarter_wave_at_the_edge() {
        let (f, n, wavelength) = (2.0_f64, 5.0_f64, 550e-9_f64);
        let depth = depth_of_focus(n, wavelength);
        assert_relative_eq!(depth, 27.5e-6, max_relative = 1e-12);
        // Difference of the sags of two spheres about points a depth apart, at the edge.
        let h = f / (2.0 * n);
        let lag = 0.5 * h * h * (1.0 / f - 1.0 / (f + depth));
        assert_relative_eq!(lag, wavelength / 4.0, max_relative = 1e-4);
    }

    #[test]
    fn a_still_image_needs_no_refocusing() {
        assert_eq!(refocus_interval(2e-5, 0.0), None);
        assert_eq!(refocus_interval(f64::NAN, 1.0), None);
        assert_relative_eq!(refocus_interval(2e-5, -1e-8).unwrap(), 2000.0, max_relative = 1e-12);
    }

    #[test]
    fn a_cooling_tube_pushes_the_image_out_of_the_focuser() {
        // 1.5 m of aluminium, 23 × 10⁻⁶ per kelvin, 10 K colder.
        assert_relative_eq!(tube_share(23e-6, 1.5, -10.0), 345e-6, max_relative = 1e-12);
    }

    #[test]
    fn a_sphere_lacks_all_of_the_correction() {
        let sphere = -parabolising(4.0, 0.2);
        assert_relative_eq!(correction_percent(sphere, 4.0, 0.2), -100.0, max_relative = 1e-12);
        assert!(correction_percent(-1e-9, 4.0, 0.2) > 0.0, "a low rim is over-corrected");
    }
}
