//! Free convection: air moved only by its own warmth, over discs and plates.
//!
//! Rayleigh numbers are Ra = g β |ΔT| L³ / (ν α), with β of the air far away and
//! everything else at the film temperature. For horizontal faces L is area over
//! perimeter, a quarter of the diameter of a disc (R. J. Goldstein, E. M. Sparrow
//! and D. C. Jones, Int. J. Heat Mass Transfer 16 (1973) 1025–1035).
//!
//! A face is *unstable* when it is warm and looks up or cold and looks down:
//! the film then rises or falls away from it. It is *stable* the other way round:
//! the film clings to it, as on a mirror that is colder than the air.

use std::f64::consts::{FRAC_2_PI, FRAC_PI_2, PI};

use crate::{Estimate, Validity};

/// Nusselt number on D/4 of one face of an isothermal disc that only conducts
/// into still air: 8/π on the diameter (eq. C-5), exact.
///
/// # Source
/// The potential of a charged disc; H. S. Carslaw and J. C. Jaeger, *Conduction of
/// Heat in Solids*, 2nd ed. (1959), section 8.2.
pub const DISC_CONDUCTION: f64 = FRAC_2_PI;

/// Mean Nusselt number of a horizontal plate on its unstable side (eq. C-1),
/// without the conduction that remains as Ra → 0.
///
/// * `rayleigh` — on area over perimeter [-], 1 to 10¹⁰
/// * `prandtl` — at the film temperature [-]
///
/// Published laws for this side differ by 30 to 50 % around Ra = 10⁶.
///
/// # Source
/// G. D. Raithby and K. G. T. Hollands, "Natural convection", in *Handbook of Heat
/// Transfer*, 3rd ed. (1998), chapter 4; also printed in G. Nellis and S. Klein,
/// *Heat Transfer* (2009), eqs. 6-49 and 6-55 to 6-58.
#[must_use]
pub fn unstable_horizontal(rayleigh: f64, prandtl: f64) -> Estimate {
    let laminar_factor = 0.671 / (1.0 + (0.492 / prandtl).powf(9.0 / 16.0)).powf(4.0 / 9.0);
    let thin_layer = 0.835 * laminar_factor * rayleigh.powf(0.25);
    let laminar = thick_layer(thin_layer, 1.4);
    let turbulent_factor = 0.14 * (1.0 + 0.0107 * prandtl) / (1.0 + 0.01 * prandtl);
    let turbulent = turbulent_factor * rayleigh.cbrt();
    Estimate {
        value: (laminar.powi(10) + turbulent.powi(10)).powf(0.1),
        validity: Validity::of(rayleigh, 1.0..=1e10),
        relative_sigma: 0.15,
    }
}

/// Mean Nusselt number of a horizontal plate on its stable side (eq. C-2),
/// without the conduction that remains as Ra → 0.
///
/// * `rayleigh` — on area over perimeter [-], 10³ to 10¹⁰
/// * `prandtl` — at the film temperature [-]
///
/// The edge must be free for the film to spill over; a wall around the plate
/// makes the film weaker (see [`gap`](crate::gap)).
///
/// # Source
/// Raithby and Hollands (1998), as for [`unstable_horizontal`].
#[must_use]
pub fn stable_horizontal(rayleigh: f64, prandtl: f64) -> Estimate {
    let prandtl_factor = (1.0 + (1.9 / prandtl).powf(0.9)).powf(2.0 / 9.0);
    let thin_layer = 0.527 * rayleigh.powf(0.2) / prandtl_factor;
    Estimate {
        value: thick_layer(thin_layer, 2.5),
        validity: Validity::of(rayleigh, 1e3..=1e10),
        relative_sigma: 0.20,
    }
}

/// Correction of a thin-layer Nusselt number for layers as thick as the plate is
/// wide; zero at zero, where a quotient would be undefined.
fn thick_layer(thin_layer: f64, width: f64) -> f64 {
    if thin_layer > 0.0 { width / (width / thin_layer).ln_1p() } else { 0.0 }
}

/// Adds the conduction of a disc to a convective Nusselt number on D/4 (eq. C-4).
///
/// # Source
/// Form and exponent near 1.07: A. V. Hassani and K. G. T. Hollands, J. Heat
/// Transfer 111 (1989) 363–371; the exponent is recalled from memory.
#[must_use]
pub fn with_disc_conduction(nusselt: f64) -> f64 {
    (nusselt.powf(1.07) + DISC_CONDUCTION.powf(1.07)).powf(1.0 / 1.07)
}

/// The law of `McAdams` for the unstable side of a horizontal plate (eq. C-6), an
/// alternative to [`unstable_horizontal`].
///
/// * `rayleigh` — [-], 10⁴ to 10⁷ laminar, to 10¹¹ turbulent
///
/// # Source
/// W. H. `McAdams`, *Heat Transmission*, 3rd ed. (1954), as in the library `ht` 1.2.0.
#[must_use]
pub fn unstable_horizontal_mcadams(rayleigh: f64) -> Estimate {
    let laminar = 0.54 * rayleigh.powf(0.25);
    let turbulent = 0.15 * rayleigh.cbrt();
    Estimate {
        value: if rayleigh <= 1e7 { laminar } else { turbulent },
        validity: Validity::of(rayleigh, 1e4..=1e11),
        relative_sigma: 0.20,
    }
}

/// The law of `McAdams` for the stable side of a horizontal plate (eq. C-7), an
/// alternative to [`stable_horizontal`].
///
/// * `rayleigh` — [-], 10⁵ to 10¹⁰
///
/// # Source
/// As for [`unstable_horizontal_mcadams`].
#[must_use]
pub fn stable_horizontal_mcadams(rayleigh: f64) -> Estimate {
    Estimate {
        value: 0.27 * rayleigh.powf(0.25),
        validity: Validity::of(rayleigh, 1e5..=1e10),
        relative_sigma: 0.30,
    }
}

/// The VDI Heat Atlas' law for the unstable side of a horizontal plate (eq. C-8),
/// an alternative to [`unstable_horizontal`].
///
/// * `rayleigh` — on area over perimeter [-]
/// * `prandtl` — at the film temperature [-]
///
/// # Source
/// *VDI Heat Atlas*, 2nd ed. (2010), section F2. The library `ht` 1.2.0 differs by
/// the sign of an exponent and is no witness here.
#[must_use]
pub fn unstable_horizontal_vdi(rayleigh: f64, prandtl: f64) -> Estimate {
    let prandtl_factor = (1.0 + (0.322 / prandtl).powf(11.0 / 20.0)).powf(-20.0 / 11.0);
    let effective = rayleigh * prandtl_factor;
    Estimate {
        value: if effective < 7e4 { 0.766 * effective.powf(0.2) } else { 0.15 * effective.cbrt() },
        validity: Validity::of(rayleigh, 1.0..=1e11),
        relative_sigma: 0.20,
    }
}

/// Mean Nusselt number of an isothermal vertical plate (eq. C-3), laminar and
/// turbulent in one expression.
///
/// * `rayleigh` — on the plate's height [-], up to 10¹²
/// * `prandtl` — at the film temperature [-]
///
/// # Source
/// S. W. Churchill and H. H. S. Chu, "Correlating equations for laminar and
/// turbulent free convection from a vertical plate", Int. J. Heat Mass Transfer
/// 18 (1975) 1323–1329, eq. 9. doi:10.1016/0017-9310(75)90243-4
#[must_use]
pub fn vertical_plate(rayleigh: f64, prandtl: f64) -> Estimate {
    let prandtl_factor = (1.0 + (0.492 / prandtl).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    Estimate {
        value: (0.825 + 0.387 * rayleigh.powf(1.0 / 6.0) / prandtl_factor).powi(2),
        validity: Validity::of(rayleigh, 0.0..=1e12),
        relative_sigma: 0.10,
    }
}

/// How a face stands to the buoyancy of its own film.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stability {
    /// Warm and looking up, or cold and looking down.
    Unstable,
    /// Cold and looking up, or warm and looking down.
    Stable,
}

/// Mean Nusselt number on D/4 of one face of a disc at any tilt (eq. C-9): the
/// horizontal law in g cos τ and the vertical law in g sin τ over the mean chord
/// πD/4, joined by a sharp power mean; conduction included.
///
/// * `rayleigh` — on D/4 with full gravity [-]; zero gives conduction
/// * `prandtl` — at the film temperature [-]
/// * `tilt` — of the face from horizontal \[rad\], tested to 60°, continued to 90°
///
/// # Source
/// Taking the larger of the two laws: Raithby and Hollands (1998); g cos τ and
/// g sin τ: T. Fujii and H. Imura, Int. J. Heat Mass Transfer 15 (1972) 755–767.
/// The power 6 that rounds the corner is ours.
#[must_use]
pub fn inclined_disc(rayleigh: f64, prandtl: f64, tilt: f64, stability: Stability) -> Estimate {
    let tilt = tilt.clamp(0.0, FRAC_PI_2);
    let across = rayleigh * tilt.cos().max(0.0);
    let horizontal = match stability {
        Stability::Unstable => unstable_horizontal(across, prandtl),
        Stability::Stable => stable_horizontal(across, prandtl),
    };
    let horizontal_value = with_disc_conduction(horizontal.value);
    // The chord is π times the quarter diameter: its Rayleigh number π³ times larger,
    // its Nusselt number π times larger for the same film.
    let along = rayleigh * PI.powi(3) * tilt.sin();
    let vertical = vertical_plate(along, prandtl).value / PI;
    let tilt_validity = Validity::of(tilt.to_degrees(), 0.0..=60.0);
    Estimate {
        value: (horizontal_value.powi(6) + vertical.powi(6)).powf(1.0 / 6.0),
        validity: horizontal.validity.and(tilt_validity),
        relative_sigma: if tilt > 0.0 { 0.20 } else { horizontal.relative_sigma },
    }
}

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};

    use super::*;

    /// Bergman, Lavine, Incropera and DeWitt, *Introduction to Heat Transfer*, 6th
    /// ed., example 9.2 (a glass fire screen): Gr = 2.63 × 10⁹, Pr = 0.69, printed
    /// answer Nu = 147, as quoted by the documentation of the library `ht`
    /// (`Nu_vertical_plate_Churchill`), which prints 147.1619 for it.
    #[test]
    fn vertical_plate_reproduces_the_fire_screen_example() {
        let nusselt = vertical_plate(0.69 * 2.63e9, 0.69).value;
        assert_abs_diff_eq!(nusselt, 147.0, epsilon = 0.5);
        assert_relative_eq!(nusselt, 147.161_852_237_706, max_relative = 1e-9);
    }

    /// The library `ht` prints 181.731212744 for Pr = 5.54, Gr = 3.21 × 10⁸ in the
    /// documentation of `Nu_horizontal_plate_McAdams` (from memory): the turbulent branch.
    #[test]
    fn the_turbulent_branch_gives_the_value_a_library_documents() {
        let nusselt = unstable_horizontal_mcadams(5.54 * 3.21e8).value;
        assert_relative_eq!(nusselt, 181.731_212_744, max_relative = 1e-9);
    }

    #[test]
    fn a_disc_without_buoyancy_only_conducts() {
        for stability in [Stability::Unstable, Stability::Stable] {
            let flat = inclined_disc(0.0, 0.71, 0.0, stability).value;
            // The vertical law's own conduction adds 0.03 % through the power mean.
            assert_relative_eq!(flat, DISC_CONDUCTION, max_relative = 5e-4);
        }
    }

    #[test]
    fn every_law_says_when_its_rayleigh_number_leaves_the_tested_range() {
        assert_eq!(unstable_horizontal(1e5, 0.71).validity, Validity::InRange);
        assert_eq!(unstable_horizontal(1e11, 0.71).validity, Validity::Extrapolated);
        assert_eq!(stable_horizontal(1e2, 0.71).validity, Validity::Extrapolated);
        assert_eq!(vertical_plate(1e13, 0.71).validity, Validity::Extrapolated);
        assert_eq!(unstable_horizontal_mcadams(1e3).validity, Validity::Extrapolated);
        assert_eq!(stable_horizontal_mcadams(1e4).validity, Validity::Extrapolated);
        let steep = inclined_disc(1e5, 0.71, 75_f64.to_radians(), Stability::Unstable);
        assert_eq!(steep.validity, Validity::Extrapolated);
    }

    #[test]
    fn a_warm_face_up_loses_more_than_a_warm_face_down() {
        // At smaller Rayleigh numbers both sides approach the same conduction.
        for rayleigh in [1e5, 1e6, 1e7] {
            let up = inclined_disc(rayleigh, 0.71, 0.0, Stability::Unstable).value;
            let down = inclined_disc(rayleigh, 0.71, 0.0, Stability::Stable).value;
            assert!(up > 1.2 * down, "Ra = {rayleigh}: {up} and {down}");
        }
    }

    #[test]
    fn an_upright_disc_does_not_know_up_from_down() {
        let up = inclined_disc(1e6, 0.71, FRAC_PI_2, Stability::Unstable).value;
        let down = inclined_disc(1e6, 0.71, FRAC_PI_2, Stability::Stable).value;
        // cos 90° is not quite zero in floating point.
        assert_relative_eq!(up, down, max_relative = 1e-7);
    }
}
