//! Wind over a plate.

use crate::{Estimate, Validity};

/// Mean Nusselt number of a plate set obliquely to the wind (eq. C-22), whatever its
/// angle.
///
/// * `reynolds` — on the plate's size [-], 2 × 10⁴ to 10⁵; the square root is kept beyond
/// * `prandtl` — [-]
///
/// # Source
/// E. M. Sparrow and K. K. Tien, "Forced convection heat transfer at an inclined and
/// yawed square plate", J. Heat Transfer 99 (1977) 507–512. The square root and the
/// independence of the angle between 25 and 90° are confirmed by E. M. Sparrow,
/// J. W. Ramsey and E. A. Mass, J. Heat Transfer 101 (1979) 199–204; the range of the
/// first paper is recalled from memory.
#[must_use]
pub fn oblique(reynolds: f64, prandtl: f64) -> Estimate {
    Estimate {
        value: 0.931 * reynolds.sqrt() * prandtl.cbrt(),
        validity: Validity::of(reynolds, 2e4..=1e5),
        relative_sigma: 0.20,
    }
}

/// Mean Nusselt number of a plate along the wind, laminar (eq. C-23).
///
/// * `reynolds` — on the plate's length [-], to 5 × 10⁵
///
/// # Source
/// E. Pohlhausen, Z. angew. Math. Mech. 1 (1921) 115–121.
#[must_use]
pub fn parallel_laminar(reynolds: f64, prandtl: f64) -> Estimate {
    Estimate {
        value: 0.664 * reynolds.sqrt() * prandtl.cbrt(),
        validity: Validity::of(reynolds, 1e3..=5e5),
        relative_sigma: 0.05,
    }
}

/// Mean Nusselt number of a plate along a gusty wind, laminar and turbulent in one
/// expression (eq. C-24).
///
/// * `reynolds` — on the plate's length [-], 10 to 10⁷
///
/// # Source
/// V. Gnielinski, Forsch. Ingenieurwes. 41 (1975) 145–153; *VDI Heat Atlas*, 2nd ed.
/// (2010), section G4.
#[must_use]
pub fn parallel(reynolds: f64, prandtl: f64) -> Estimate {
    let laminar = parallel_laminar(reynolds, prandtl).value;
    let loss = 2.443 * reynolds.powf(-0.1) * (prandtl.powf(2.0 / 3.0) - 1.0);
    let turbulent = 0.037 * reynolds.powf(0.8) * prandtl / (1.0 + loss);
    Estimate {
        value: laminar.hypot(turbulent),
        validity: Validity::of(reynolds, 10.0..=1e7),
        relative_sigma: 0.15,
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn every_law_says_when_its_reynolds_number_leaves_the_tested_range() {
        assert_eq!(oblique(1e4, 0.71).validity, Validity::Extrapolated);
        assert_eq!(oblique(5e4, 0.71).validity, Validity::InRange);
        assert_eq!(parallel_laminar(1e6, 0.71).validity, Validity::Extrapolated);
        assert_eq!(parallel(1.0, 0.71).validity, Validity::Extrapolated);
    }

    #[test]
    fn in_a_light_wind_the_turbulent_part_fades() {
        let ratio = parallel(20.0, 0.71).value / parallel_laminar(20.0, 0.71).value;
        assert_relative_eq!(ratio, 1.0, max_relative = 0.05);
    }
}
