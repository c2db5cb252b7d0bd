//! How much of the image's peak is left.
//!
//! Equation numbers refer to docs/physics/image.md.

use crate::front::Front;

/// The wavelength at which image quality is stated \[m\]: the middle of what the eye sees in
/// moderate light.
pub const WAVELENGTH_M: f64 = 550e-9;

/// Below this the exponential no longer tells the peak.
pub const STREHL_LIMIT: f64 = 0.3;

/// Variance of the phase \[rad²\] of a wavefront of this RMS \[m\] (eq. I-14).
#[must_use]
pub fn phase_variance(wavefront_rms_m: f64, wavelength_m: f64) -> f64 {
    (std::f64::consts::TAU * wavefront_rms_m / wavelength_m).powi(2)
}

/// Strehl ratio at a variance of the phase \[rad²\], tilt and defocus removed; `None` below
/// [`STREHL_LIMIT`], where it would be a guess (eq. I-15).
///
/// Variances of independent causes add, so figure and air together are the exponential of
/// their sum: the product of their Strehl ratios.
///
/// # Source
/// V. N. Mahajan, "Strehl ratio for primary aberrations in terms of their aberration
/// variance", J. Opt. Soc. Am. 73 (1983) 860–861: better than Maréchal's square down to
/// about 0.3. From memory. doi:10.1364/JOSA.73.000860
#[must_use]
pub fn strehl(phase_variance: f64) -> Option<f64> {
    let strehl = (-phase_variance).exp();
    (strehl > STREHL_LIMIT).then_some(strehl)
}

/// Maréchal's own form, (1 − σ²/2)²: the source of the "0.8" at a 14th wave, for comparison
/// only (eq. I-16).
///
/// # Source
/// M. Born, E. Wolf, *Principles of Optics*, 7th ed. (1999), section 9.3; from memory.
#[must_use]
pub fn marechal_square(phase_variance: f64) -> f64 {
    (1.0 - 0.5 * phase_variance).powi(2)
}

/// Turns the figure of a mirror into the wavefront that its pupil passes on.
#[derive(Debug, Clone)]
pub struct Pupil {
    front: Front,
    /// Wavefront over figure at the nodes.
    factors: Vec<f64>,
}

impl Pupil {
    /// The pupil between two radii \[m\]: the larger of hole and obstruction, and the smaller of
    /// glass and mask.
    ///
    /// * `radii_m` — nodes of the front, as for [`Front::annulus`]
    /// * `curvature_per_m` — of the front at its vertex, 1/R \[m⁻¹\]
    ///
    /// # Panics
    /// As [`Front::annulus`].
    #[must_use]
    pub fn new(radii_m: &[f64], curvature_per_m: f64, inner_m: f64, outer_m: f64) -> Self {
        let front = Front::annulus(radii_m, inner_m, outer_m);
        let factors = radii_m.iter().map(|r| wavefront_factor(curvature_per_m * r)).collect();
        Self { front, factors }
    }

    /// RMS of the wavefront \[m\] that the round part of a figure makes, at its best focus
    /// (eqs. I-1, I-13).
    ///
    /// * `figure_m` — one height per node \[m\]
    ///
    /// # Panics
    /// If there is not one value per node.
    #[must_use]
    pub fn round_rms(&self, figure_m: &[f64]) -> f64 {
        assert_eq!(figure_m.len(), self.factors.len(), "one value per node of the front");
        self.front.round_of(|node| self.factors[node] * figure_m[node]).rms_m
    }

    /// RMS of the wavefront \[m\] that one part of one order of a figure makes, tilt removed.
    ///
    /// * `order` — 1 to 4
    /// * `figure_m` — one height per node \[m\], along the direction in which it is largest
    ///
    /// # Panics
    /// If the order is another, or if there is not one value per node.
    #[must_use]
    pub fn lopsided_rms(&self, order: usize, figure_m: &[f64]) -> f64 {
        assert_eq!(figure_m.len(), self.factors.len(), "one value per node of the front");
        self.front.lopsided_of(order, |node| self.factors[node] * figure_m[node]).rms_m
    }
}

/// Wavefront over figure where the front has this slope dz/dr: the light comes along the axis
/// and leaves towards the focus (eq. I-1).
#[must_use]
pub fn wavefront_factor(slope: f64) -> f64 {
    2.0 / (1.0 + slope * slope)
}
