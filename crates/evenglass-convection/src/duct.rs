//! Flow forced through a gap: behind a mirror, or around its rim.
//!
//! Reynolds and Nusselt numbers are on the hydraulic diameter, twice the gap.

use std::f64::consts::PI;

use crate::{Estimate, Validity};

/// Reynolds number below which the flow is laminar [-].
const LAMINAR_BELOW: f64 = 2300.0;

/// Reynolds number above which the flow is fully turbulent [-].
const TURBULENT_ABOVE: f64 = 4000.0;

/// Mean Nusselt number of a gap one of whose walls is heated, the other adiabatic
/// (eq. C-18).
///
/// * `reynolds` — [-], to 10⁶
/// * `prandtl` — [-]
/// * `diameter_over_length` — hydraulic diameter over the length flowed since the entry [-]
///
/// Laminar below 2300, turbulent above 4000, a straight line in Re between.
///
/// # Source
/// Laminar: R. K. Shah and A. L. London, *Laminar Flow Forced Convection in Ducts*
/// (1978), limit 4.861 in Hausen's form, not below the plate's developing layer.
/// Turbulent: [`turbulent`].
#[must_use]
pub fn gap_flow(reynolds: f64, prandtl: f64, diameter_over_length: f64) -> Estimate {
    let laminar = |re: f64| laminar_gap(re, prandtl, diameter_over_length);
    let turbulent = |re: f64| {
        let entry = 1.0 + diameter_over_length.powf(2.0 / 3.0);
        turbulent(re, prandtl, smooth_friction(re)).value * entry
    };
    let (value, relative_sigma) = if reynolds <= LAMINAR_BELOW {
        (laminar(reynolds), 0.10)
    } else if reynolds >= TURBULENT_ABOVE {
        (turbulent(reynolds), 0.15)
    } else {
        let share = (reynolds - LAMINAR_BELOW) / (TURBULENT_ABOVE - LAMINAR_BELOW);
        let value = (1.0 - share) * laminar(LAMINAR_BELOW) + share * turbulent(TURBULENT_ABOVE);
        (value, 0.20)
    };
    Estimate { value, validity: Validity::of(reynolds, 0.0..=1e6), relative_sigma }
}

pub(crate) fn laminar_gap(reynolds: f64, prandtl: f64, diameter_over_length: f64) -> f64 {
    let graetz = reynolds * prandtl * diameter_over_length;
    let hausen = 4.861 + 0.03 * graetz / (1.0 + 0.016 * graetz.powf(2.0 / 3.0));
    let developing = 0.664 * prandtl.cbrt() * (reynolds * diameter_over_length).sqrt();
    // At rest nothing is carried; the walls' own conduction is free convection's affair.
    if reynolds > 0.0 { hausen.max(developing) } else { 0.0 }
}

/// Nusselt number of fully turbulent duct flow for a given friction (eq. C-19).
///
/// * `reynolds` — [-], 3000 to 5 × 10⁶
/// * `prandtl` — [-], 0.5 to 2000
/// * `friction` — Darcy's [-]
///
/// # Source
/// V. Gnielinski, "New equations for heat and mass transfer in turbulent pipe and
/// channel flow", Int. Chem. Eng. 16 (1976) 359–368.
#[must_use]
pub fn turbulent(reynolds: f64, prandtl: f64, friction: f64) -> Estimate {
    let eighth = friction / 8.0;
    let denominator = 1.0 + 12.7 * eighth.sqrt() * (prandtl.powf(2.0 / 3.0) - 1.0);
    Estimate {
        value: eighth * (reynolds - 1000.0) * prandtl / denominator,
        validity: Validity::of(reynolds, 3e3..=5e6).and(Validity::of(prandtl, 0.5..=2000.0)),
        relative_sigma: 0.10,
    }
}

/// Darcy friction factor of a smooth duct (eq. C-20).
///
/// # Source
/// B. S. Petukhov, Adv. Heat Transfer 6 (1970) 503–564, as used by Gnielinski.
#[must_use]
pub fn smooth_friction(reynolds: f64) -> f64 {
    (0.79 * reynolds.ln() - 1.64).powi(-2)
}

/// Reynolds number on twice the gap of a flow leaving radially between two discs
/// (eq. C-21): independent of the gap.
///
/// * `flow` — [m³/s], `radius` — \[m\], `kinematic_viscosity` — [m²/s]
#[must_use]
pub fn radial_reynolds(flow: f64, radius: f64, kinematic_viscosity: f64) -> f64 {
    flow / (PI * radius * kinematic_viscosity)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// The library `ht` prints 254.62682749 for Re = 10⁵, Pr = 1.2, f = 0.0185 in the
    /// documentation of `turbulent_Gnielinski` (from memory).
    #[test]
    fn turbulent_flow_gives_the_value_a_library_documents() {
        let nusselt = turbulent(1e5, 1.2, 0.0185).value;
        assert_relative_eq!(nusselt, 254.626_827_49, max_relative = 1e-9);
    }

    #[test]
    fn gap_flow_has_no_step_between_laminar_and_turbulent() {
        for edge in [LAMINAR_BELOW, TURBULENT_ABOVE] {
            let below = gap_flow(edge - 1e-6, 0.71, 0.3).value;
            let above = gap_flow(edge + 1e-6, 0.71, 0.3).value;
            assert_relative_eq!(below, above, max_relative = 1e-7);
        }
    }

    #[test]
    fn the_blend_runs_straight_from_2300_to_4000_and_is_the_least_sure() {
        let at = |reynolds| gap_flow(reynolds, 0.71, 0.3);
        let (laminar, turbulent) = (at(2300.0), at(4000.0));
        let middle = 0.5 * (laminar.value + turbulent.value);
        assert_relative_eq!(at(3150.0).value, middle, max_relative = 1e-12);
        let sigmas = [laminar, at(2301.0), at(3999.0), turbulent].map(|e| e.relative_sigma);
        for (sigma, wanted) in sigmas.into_iter().zip([0.10, 0.20, 0.20, 0.15]) {
            assert_relative_eq!(sigma, wanted);
        }
    }

    #[test]
    fn a_long_laminar_gap_reaches_the_fully_developed_limit() {
        assert_relative_eq!(gap_flow(500.0, 0.71, 1e-7).value, 4.861, max_relative = 1e-6);
        assert_relative_eq!(gap_flow(0.0, 0.71, 0.1).value, 0.0);
    }

    /// Continuity between discs: u = Q/(2π r H), on the hydraulic diameter 2H.
    #[test]
    fn the_reynolds_number_between_discs_does_not_know_the_gap() {
        let (flow, radius, viscosity, gap) = (0.02, 0.305, 1.42e-5, 0.05);
        let speed = flow / (2.0 * PI * radius * gap);
        let expected = speed * 2.0 * gap / viscosity;
        assert_relative_eq!(radial_reynolds(flow, radius, viscosity), expected);
    }
}
