//! What disturbs or delays a layer along a wall: turbulence around it, buffeting, a
//! start of heating behind the start of the flow.

use crate::{Estimate, Validity};

/// Film that fluctuations of the air near a wall keep up, whatever the mean flow
/// [W m⁻² K⁻¹] (eq. C-57).
///
/// * `volumetric_heat` — density times specific heat of the air [J m⁻³ K⁻¹]
/// * `fluctuation` — largest root mean square of the speed near the wall [m/s]
///
/// # Source
/// P. K. Maciejewski and R. J. Moffat, "Heat transfer with very high free-stream
/// turbulence", J. Heat Transfer 114 (1992) 827–833 and 834–839: a Stanton number on the
/// fluctuation, ± 15 %; the constant 0.024 is recalled from memory.
#[must_use]
pub fn buffeted(volumetric_heat: f64, fluctuation: f64) -> Estimate {
    Estimate {
        value: 0.024 * volumetric_heat * fluctuation,
        validity: Validity::of(fluctuation, 0.1..=10.0),
        relative_sigma: 0.15,
    }
}

/// Factor of a turbulent film for turbulence of the air outside the layer (eq. C-58), at
/// most 1.5.
///
/// * `turbulence` — fluctuation over mean speed [-], to 0.07; the law is known to fail
///   far above
///
/// # Source
/// J. C. Simonich and P. Bradshaw, "Effect of free-stream turbulence on heat transfer
/// through a turbulent boundary layer", J. Heat Transfer 100 (1978) 671–677; the factor,
/// 2 to 5 per cent for each per cent, is recalled from memory, the middle of it is used.
#[must_use]
pub fn turbulence_factor(turbulence: f64) -> Estimate {
    let value = 1.0 + 3.5 * turbulence;
    let validity =
        if value > 1.5 { Validity::Clamped } else { Validity::of(turbulence, 0.0..=0.07) };
    Estimate { value: value.min(1.5), validity, relative_sigma: 0.10 }
}

/// Factor of a laminar film where heating starts behind the start of the flow
/// (eq. C-59).
///
/// * `start` — distance of the start of heating over that of the place, both from the start
///   of the flow [-], below 1
///
/// # Source
/// W. M. Kays and M. E. Crawford, *Convective Heat and Mass Transfer*, 3rd ed. (1993),
/// chapter 10; derived from the integral energy equation.
#[must_use]
pub fn unheated_start_laminar(start: f64) -> f64 {
    (1.0 - start.max(0.0).powf(0.75)).cbrt().recip()
}

/// Factor of a turbulent film where heating starts behind the start of the flow
/// (eq. C-60).
///
/// * `start` — as for [`unheated_start_laminar`]
///
/// # Source
/// Kays and Crawford (1993), chapter 13.
#[must_use]
pub fn unheated_start_turbulent(start: f64) -> f64 {
    (1.0 - start.max(0.0).powf(0.9)).powf(-1.0 / 9.0)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// 0.024 · 1256.1 · 0.4 = 12.0586, by hand.
    #[test]
    fn buffeting_conducts_as_worked_by_hand_and_not_without_fluctuation() {
        assert_relative_eq!(buffeted(1256.1, 0.4).value, 12.058_56, max_relative = 1e-6);
        assert_relative_eq!(buffeted(1256.1, 0.0).value, 0.0);
    }

    #[test]
    fn turbulence_helps_by_half_at_most() {
        assert_relative_eq!(turbulence_factor(0.0).value, 1.0);
        assert_relative_eq!(turbulence_factor(0.06).value, 1.21, max_relative = 1e-12);
        assert_relative_eq!(turbulence_factor(0.9).value, 1.5);
        assert_eq!(turbulence_factor(0.9).validity, Validity::Clamped);
        assert_eq!(turbulence_factor(0.1).validity, Validity::Extrapolated);
    }

    /// Heating that starts halfway: (1 − 0.5^0.75)^(−1/3) = 1.35116 and
    /// (1 − 0.5^0.9)^(−1/9) = 1.08903, by hand.
    #[test]
    fn a_late_start_of_heating_raises_the_film_as_worked_by_hand() {
        assert_relative_eq!(unheated_start_laminar(0.5), 1.351_16, max_relative = 1e-5);
        assert_relative_eq!(unheated_start_turbulent(0.5), 1.089_03, max_relative = 1e-5);
        assert_relative_eq!(unheated_start_laminar(0.0), 1.0);
        assert_relative_eq!(unheated_start_turbulent(0.0), 1.0);
    }
}
