//! Flow that converges between two discs, as when a fan draws air away from behind a
//! mirror through the middle of its cell.

use std::f64::consts::PI;

use crate::{Estimate, Validity, duct};

/// Acceleration above which a turbulent layer becomes laminar again, and half of it,
/// where it begins to [-].
const LAMINAR_AGAIN: f64 = 3e-6;
const BEGINS: f64 = 1.5e-6;

/// Air drawn inward between two discs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inflow {
    /// [m³/s]
    pub flow: f64,
    /// Between the discs \[m\]
    pub gap: f64,
    /// Where the air enters \[m\]
    pub entry_radius: f64,
    /// Of the air [m²/s]
    pub kinematic_viscosity: f64,
    /// [-]
    pub prandtl: f64,
}

impl Inflow {
    /// Nusselt number, on twice the gap, of one heated wall at `radius` (eq. C-63).
    ///
    /// As [`duct::gap_flow`], but laminar at any Reynolds number where the flow gains speed
    /// so fast that turbulence does not live.
    ///
    /// # Source
    /// Acceleration: W. P. Jones and B. E. Launder, "The prediction of laminarization
    /// with a two-equation model of turbulence", Int. J. Heat Mass Transfer 15 (1972)
    /// 301–314. That it begins to act at half the limit is ours, so that the film has no
    /// step.
    #[must_use]
    pub fn nusselt(&self, radius: f64) -> Estimate {
        let reynolds = duct::radial_reynolds(self.flow, radius, self.kinematic_viscosity);
        // The entry itself would be an infinite rise: one hydraulic diameter behind it.
        let way = (self.entry_radius - radius).max(2.0 * self.gap);
        let over_length = 2.0 * self.gap / way;
        let by_reynolds = duct::gap_flow(reynolds, self.prandtl, over_length);
        let laminar = duct::laminar_gap(reynolds, self.prandtl, over_length);
        let share = ((self.acceleration() - BEGINS) / (LAMINAR_AGAIN - BEGINS)).clamp(0.0, 1.0);
        Estimate {
            value: share * laminar + (1.0 - share) * by_reynolds.value,
            validity: by_reynolds.validity.and(Validity::of(radius, 0.0..=self.entry_radius)),
            relative_sigma: if share < 1.0 { by_reynolds.relative_sigma } else { 0.15 },
        }
    }

    /// Acceleration ν/u² du/ds of the converging flow, the same at every radius [-].
    #[must_use]
    pub fn acceleration(&self) -> f64 {
        2.0 * PI * self.kinematic_viscosity * self.gap / self.flow
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    const INFLOW: Inflow = Inflow {
        flow: 0.01,
        gap: 0.03,
        entry_radius: 0.3,
        kinematic_viscosity: 1.42e-5,
        prandtl: 0.71,
    };

    /// 2π · 1.42 × 10⁻⁵ · 0.03 / 0.01 = 2.6766 × 10⁻⁴, by hand: far above 3 × 10⁻⁶.
    #[test]
    fn suction_behind_a_mirror_is_laminar_though_its_reynolds_number_is_not() {
        assert_relative_eq!(INFLOW.acceleration(), 2.676_6e-4, max_relative = 1e-4);
        let radius = 0.05;
        assert!(duct::radial_reynolds(0.01, radius, 1.42e-5) > 4000.0);
        let inward = INFLOW.nusselt(radius).value;
        assert!(inward < duct::gap_flow(4484.0, 0.71, 0.06 / 0.25).value, "{inward}");
    }

    #[test]
    fn turbulence_returns_without_a_step_when_the_flow_grows() {
        let at = |acceleration: f64| {
            let flow = 2.0 * PI * 1.42e-5 * 0.001 / acceleration;
            Inflow { flow, gap: 0.001, ..INFLOW }.nusselt(0.1).value
        };
        for edge in [BEGINS, LAMINAR_AGAIN] {
            let (below, above) = (at(edge * (1.0 - 1e-9)), at(edge * (1.0 + 1e-9)));
            assert_relative_eq!(below, above, max_relative = 1e-6);
        }
    }

    #[test]
    fn no_flow_carries_no_heat_and_the_entry_is_finite() {
        assert_relative_eq!(Inflow { flow: 0.0, ..INFLOW }.nusselt(0.1).value, 0.0);
        assert!(INFLOW.nusselt(0.3).value.is_finite());
    }
}
