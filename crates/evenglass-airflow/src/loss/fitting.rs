//! Ends, steps and bends of ducts: published coefficients. [`super::Loss::of`] makes a
//! law of one.

use std::f64::consts::PI;

use crate::{Estimate, Validity};

/// One standard deviation of a fitting's coefficient [-]; fittings close to one another
/// differ more.
const FITTING_SIGMA: f64 = 0.15;

/// A sharp-edged entry from a wide space, on the speed in the duct (eq. N-20).
///
/// # Source
/// D. C. Rennels and H. M. Hudson, *Pipe Flow* (2012), as in the library fluids 1.3.1.
pub const SHARP_ENTRY: Estimate =
    Estimate { value: 0.57, validity: Validity::InRange, relative_sigma: FITTING_SIGMA };

/// A discharge into a wide space: all kinetic energy is lost.
pub const DISCHARGE: Estimate =
    Estimate { value: 1.0, validity: Validity::InRange, relative_sigma: 0.05 };

/// A sharp step from a `wide` area to a `narrow` one, on the speed in the latter
/// (eq. N-21). Without a step, 0.
///
/// * `narrow`, `wide` — \[m²\]
///
/// # Source
/// Rennels and Hudson (2012), as [`SHARP_ENTRY`].
#[must_use]
pub fn contraction(narrow: f64, wide: f64) -> Estimate {
    let share = share_of(narrow, wide);
    let beta = share.sqrt();
    let jet = 1.0 + 0.622 * (1.0 - 0.215 * share - 0.785 * beta.powi(5));
    let value = 0.0696 * (1.0 - beta.powi(5)) * jet * jet + (jet - 1.0).powi(2);
    Estimate { value, ..SHARP_ENTRY }
}

/// A sharp step from a `narrow` area to a `wide` one, on the speed in the former
/// (eq. N-22).
///
/// * `narrow`, `wide` — \[m²\]
///
/// # Source
/// Borda and Carnot: what momentum leaves of the kinetic energy.
#[must_use]
pub fn expansion(narrow: f64, wide: f64) -> Estimate {
    Estimate { value: (1.0 - share_of(narrow, wide)).powi(2), ..SHARP_ENTRY }
}

fn share_of(narrow: f64, wide: f64) -> f64 {
    if wide > narrow && narrow > 0.0 { narrow / wide } else { 1.0 }
}

/// A smooth bend of a round duct (eq. N-23).
///
/// * `friction` — Darcy's, of the duct [-]
/// * `radius` — of the bend's axis over the duct's diameter [-], from 0.5
/// * `angle` — turned \[rad\], to π
///
/// The friction of the bend's own length is part of it.
///
/// # Source
/// Rennels and Hudson (2012), as [`SHARP_ENTRY`].
#[must_use]
pub fn rounded_bend(friction: f64, radius: f64, angle: f64) -> Estimate {
    let held = radius.max(0.5);
    let angle = angle.clamp(0.0, PI);
    let half = (0.5 * angle).sin();
    let secondary = (0.10 + 2.4 * friction) * half;
    let separation = 6.6 * friction * (half.sqrt() + half) / held.powf(4.0 * angle / PI);
    let validity = if held > radius { Validity::Clamped } else { Validity::InRange };
    let value = friction * angle * held + secondary + separation;
    Estimate { value, validity, relative_sigma: 0.20 }
}

/// A mitre bend: a corner without a radius (eq. N-24).
///
/// * `angle` — turned \[rad\], to 150°
///
/// # Source
/// Rennels and Hudson (2012), as [`SHARP_ENTRY`].
#[must_use]
pub fn mitre_bend(angle: f64) -> Estimate {
    let half = (0.5 * angle.clamp(0.0, PI)).sin();
    let value = 0.42 * half + 2.56 * half.powi(3);
    let validity = Validity::of(angle, 0.0..=150f64.to_radians());
    Estimate { value, validity, relative_sigma: 0.20 }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::FRAC_PI_2;

    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn a_step_from_a_very_wide_space_is_a_sharp_entry_and_into_one_a_discharge() {
        assert_relative_eq!(contraction(1e-12, 1.0).value, SHARP_ENTRY.value, epsilon = 5e-4);
        assert_relative_eq!(expansion(1e-12, 1.0).value, DISCHARGE.value, epsilon = 1e-9);
    }

    #[test]
    fn without_a_step_nothing_is_lost() {
        for step in [contraction(0.1, 0.1), expansion(0.1, 0.1), contraction(0.2, 0.1)] {
            assert_relative_eq!(step.value, 0.0);
        }
    }

    #[test]
    fn a_bend_of_no_angle_loses_nothing_and_a_tight_one_is_held() {
        assert_relative_eq!(rounded_bend(0.02, 2.0, 0.0).value, 0.0);
        assert_relative_eq!(mitre_bend(0.0).value, 0.0);
        let tight = rounded_bend(0.02, 0.2, FRAC_PI_2);
        assert_eq!(tight.validity, Validity::Clamped);
        assert_relative_eq!(tight.value, rounded_bend(0.02, 0.5, FRAC_PI_2).value);
        assert!(mitre_bend(FRAC_PI_2).value > tight.value);
    }
}
