//! Ends, steps and bends of ducts: published coefficients. [`super::Loss::of`] makes a
//! law of one.

use std::f64::consts::PI;

use crate::{Estimate, Validity};

/// One standard deviation of a fitting's coefficient [-]; fittings close to one another
/// differ more.
const FITTING_SIGMA: f64 = 0.15;

/// A sharp-edged entry from a wide space, on the speed in the duct (eq. A-20).
///
/// # Source
/// D. C. Rennels and H. M. Hudson, *Pipe Flow* (2012), as in the library fluids 1.3.1.
pub const SHARP_ENTRY: Estimate =
    Estimate { value: 0.57, validity: Validity::InRange, relative_sigma: FITTING_SIGMA };

/// A discharge into a wide space: all kinetic energy is lost.
pub const DISCHARGE: Estimate =
    Estimate { value: 1.0, validity: Validity::InRange, relative_sigma: 0.05 };

/// A sharp step from a `wide` area to a `narrow` one, on the speed in the latter
/// (eq. A-21). Without a step, 0.
///
/// * `narrow`, `wide` — [m²]
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
/// (eq. A-22).
///
/// * `narrow`, `wide` — [m²]
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

/// A smooth bend of a round duct (eq. A-23).
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

/// A mitre bend: a corner without a radius (eq. A-24).
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
