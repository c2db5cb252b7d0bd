//! What warm air in the beam costs: the blur it makes, and the phase it disturbs.
//!
//! Nothing here is known to better than tens of percent, most of it to a factor of three.
//! Every result is therefore a value with a low and a high end, never a lone number.
//!
//! [`face_seeing`] is the air on the mirror's face, [`column_seeing`] the warm air that stands
//! or rises in the beam. Not here: the sky's own seeing, and where warm air comes from.
//!
//! Equation numbers refer to docs/physics/image.md.

mod column;
mod face;

use std::f64::consts::PI;
use std::ops::Add;

pub use column::{Beam, Slice, coherence, column_seeing, left_by_tilt};
pub use face::{
    FaceAir, FaceSeeing, FaceState, critical_speed, face_seeing, natural_blur, sheared_blur,
};

use crate::strehl::WAVELENGTH_M;

/// A radian in seconds of arc.
pub const ARCSEC_PER_RADIAN: f64 = 648_000.0 / PI;

/// Phase variance without tilt over (D/r₀)^(5/3), for Kolmogorov's spectrum.
///
/// # Source
/// R. J. Noll, "Zernike polynomials and atmospheric turbulence", J. Opt. Soc. Am. 66 (1976)
/// 207–211, table IV, Δ₃. doi:10.1364/JOSA.66.000207
const WITHOUT_TILT: f64 = 0.134;

/// Whole phase variance over (L₀/r₀)^(5/3), for von Kármán's spectrum with outer scale L₀.
///
/// # Source
/// Derived: 2π · 0.0229 ∫ f (f² + L₀⁻²)^(−11/6) df = (6π/5) · 0.0229. 0.0229 is Noll's.
const SATURATED: f64 = 0.0863;

/// Width of a long exposure at half its peak over λ/r₀.
///
/// # Source
/// D. L. Fried, "Optical resolution through a randomly inhomogeneous medium for very long and
/// very short exposures", J. Opt. Soc. Am. 56 (1966) 1372–1379; the number as in F. Roddier,
/// "The effects of atmospheric turbulence in optical astronomy", Prog. Opt. 19 (1981)
/// 281–376. From memory; a test integrates it.
const WIDTH: f64 = 0.98;

/// A blur, full width at half the peak \[arcsec\], and between what it may lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blur {
    /// The best guess \[arcsec\].
    pub value: f64,
    /// The low end \[arcsec\].
    pub low: f64,
    /// The high end \[arcsec\].
    pub high: f64,
}

impl Blur {
    /// No blur at all.
    pub const NONE: Self = Self { value: 0.0, low: 0.0, high: 0.0 };

    /// Several independent blurs together: r₀^(−5/3) adds up (eq. S-6).
    #[must_use]
    pub fn together(blurs: &[Self]) -> Self {
        let sum = |end: fn(&Self) -> f64| {
            blurs.iter().map(|blur| end(blur).powf(5.0 / 3.0)).sum::<f64>().powf(0.6)
        };
        Self {
            value: sum(|blur| blur.value),
            low: sum(|blur| blur.low),
            high: sum(|blur| blur.high),
        }
    }
}

/// Variance of the phase over the pupil \[rad²\] at 550 nm, piston and tilt removed, and
/// between what it may lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhaseVariance {
    /// The best guess \[rad²\].
    pub value: f64,
    /// The low end \[rad²\].
    pub low: f64,
    /// The high end \[rad²\].
    pub high: f64,
}

impl PhaseVariance {
    /// An undisturbed pupil.
    pub const NONE: Self = Self { value: 0.0, low: 0.0, high: 0.0 };

    /// The blur that would cost the same Strehl ratio: that of Kolmogorov's turbulence with
    /// this variance on this aperture \[m\], tilt removed (eqs. S-4, S-5).
    #[must_use]
    pub fn blur(self, aperture_m: f64) -> Blur {
        let width = |variance: f64| {
            let coherence = aperture_m * (WITHOUT_TILT / variance).powf(0.6);
            width_arcsec(coherence)
        };
        Blur { value: width(self.value), low: width(self.low), high: width(self.high) }
    }
}

impl Add for PhaseVariance {
    type Output = Self;

    /// Variances of independent causes add.
    fn add(self, other: Self) -> Self {
        Self {
            value: self.value + other.value,
            low: self.low + other.low,
            high: self.high + other.high,
        }
    }
}

/// Width at half the peak \[arcsec\] of a long exposure through turbulence of this r₀ \[m\]
/// at 550 nm (eq. S-3).
#[must_use]
pub fn width_arcsec(coherence_m: f64) -> f64 {
    WIDTH * WAVELENGTH_M / coherence_m * ARCSEC_PER_RADIAN
}

/// Fried's coherence length r₀ \[m\] of a long exposure of this width \[arcsec\] at 550 nm; infinite
/// for no blur (eq. S-3).
#[must_use]
pub fn coherence_length(width_arcsec: f64) -> f64 {
    WIDTH * WAVELENGTH_M * ARCSEC_PER_RADIAN / width_arcsec
}

/// Phase variance \[rad²\] at 550 nm, tilt removed, that Kolmogorov's turbulence of this blur
/// \[arcsec\] makes on an aperture \[m\] (eq. S-4).
#[must_use]
pub fn variance_without_tilt(blur_arcsec: f64, aperture_m: f64) -> f64 {
    WITHOUT_TILT * (aperture_m / coherence_length(blur_arcsec)).powf(5.0 / 3.0)
}

/// Whole phase variance \[rad²\] at 550 nm of turbulence with this blur \[arcsec\] at small
/// distances, whose eddies are no wider than an outer scale \[m\] (eq. S-7).
#[must_use]
pub fn saturated_variance(blur_arcsec: f64, outer_scale_m: f64) -> f64 {
    SATURATED * (outer_scale_m / coherence_length(blur_arcsec)).powf(5.0 / 3.0)
}
