//! Warm air that stands or rises in the beam.

use std::f64::consts::{PI, TAU};

use crate::seeing::PhaseVariance;
use crate::strehl::WAVELENGTH_M;

/// RMS of the temperature of a plume over its mean excess; 0.2 to 0.5 are found.
///
/// # Source
/// P. N. Papanicolaou, E. J. List, "Investigations of round vertical turbulent buoyant jets",
/// J. Fluid Mech. 195 (1988) 341–391: about 0.4 on the axis. From memory.
const FLUCTUATION: f64 = 0.3;

/// Eddies over the width of the column.
const EDDY: f64 = 0.5;

/// Either way, by what the variance may be wrong.
const BAND: f64 = 3.0;

/// Three Gauss–Legendre points on 0 to 1 and their weights.
const POINTS: [(f64, f64); 3] = [
    (0.112_701_665_379_258_3, 0.277_777_777_777_777_8),
    (0.5, 0.444_444_444_444_444_4),
    (0.887_298_334_620_741_7, 0.277_777_777_777_777_8),
];

/// A slice of the warm column, across the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slice {
    /// Height of its middle above the mirror \[m\].
    pub height_m: f64,
    /// Its thickness along the axis \[m\].
    pub thickness_m: f64,
    /// Its mean excess over the air around \[K\], on the axis.
    pub excess_k: f64,
    /// Width across the axis \[m\]; wider than the beam is allowed.
    pub diameter_m: f64,
}

/// The light on its way to the mirror and back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beam {
    /// Radius of the obstruction \[m\].
    pub inner_radius_m: f64,
    /// Radius of the aperture \[m\], larger than that of the obstruction.
    pub outer_radius_m: f64,
    /// Focal length of the mirror \[m\]; infinite for a flat one.
    pub focal_length_m: f64,
    /// Height above the mirror at which the light coming back leaves the column \[m\]: that
    /// of the secondary mirror.
    pub turn_m: f64,
}

/// Phase variance over the pupil of warm air in the beam, piston and tilt removed
/// (eqs. S-14 to S-20).
///
/// * `slices` — from the mirror upward; empty is no column
/// * `slope_per_k` — dn/dT of the air, as [`thermal_slope`](crate::thermal_slope) gives it
#[must_use]
pub fn column_seeing(slices: &[Slice], beam: &Beam, slope_per_k: f64) -> PhaseVariance {
    let length: f64 = slices.iter().map(|slice| slice.thickness_m).sum();
    let phase_per_k = TAU / WAVELENGTH_M * slope_per_k;
    let mut variance = 0.0;
    for slice in slices {
        let eddy = EDDY * slice.diameter_m;
        if slice.diameter_m > 0.0 && length > 0.0 {
            let fluctuation = phase_per_k * FLUCTUATION * slice.excess_k;
            let path = 2.0 * eddy * slice.thickness_m * ends(length / eddy);
            variance += fluctuation * fluctuation * path * passes(slice, beam, eddy);
        }
    }
    PhaseVariance { value: variance, low: variance / BAND, high: variance * BAND }
}

/// What is left of the variance of a path if it is not long against the eddies (eq. S-15).
fn ends(lengths: f64) -> f64 {
    1.0 - (1.0 - (-lengths).exp()) / lengths
}

/// How many single passes the two ways through a slice are worth, mean over the pupil
/// (eq. S-19).
fn passes(slice: &Slice, beam: &Beam, eddy: f64) -> f64 {
    let radius = 0.5 * slice.diameter_m;
    let (shut, open) = (beam.inner_radius_m, beam.outer_radius_m);
    // How far the light that comes back has drawn together.
    let narrowing = (1.0 - slice.height_m / beam.focal_length_m).max(0.0);
    let returns = slice.height_m < beam.turn_m && narrowing > 0.0;
    let share = |reach: f64| {
        let reach = reach.clamp(shut, open);
        (reach * reach - shut * shut) / (open * open - shut * shut)
    };
    let left = |share: f64, width: f64| {
        1.0 - share * (1.0 - left_by_tilt(width.min(slice.diameter_m) / eddy))
    };
    let down = share(radius);
    let down_left = left(down, 2.0 * open);
    if !returns {
        return down * down_left;
    }
    let up = share(radius / narrowing);
    let up_left = left(up, 2.0 * open * narrowing);
    // Whoever goes down through the slice comes back through it, nearer to the axis.
    let reach = radius.clamp(shut, open);
    let shared: f64 = POINTS
        .iter()
        .map(|(place, weight)| {
            let square = shut * shut + place * (reach * reach - shut * shut);
            weight * coherence(square.sqrt() * (1.0 - narrowing) / eddy)
        })
        .sum();
    down * down_left + up * up_left + 2.0 * down * shared * (down_left * up_left).sqrt()
}

/// Correlation of two parallel paths through eddies whose temperatures correlate as
/// exp(−distance/size), the paths being so many sizes apart (eq. S-17).
///
/// # Source
/// Derived: u K₁(u), K₁ being a modified Bessel function; here by √(1 + πu/2) e^(−u), its
/// form far out continued to 1, within 0.019 of it everywhere.
#[must_use]
pub fn coherence(sizes_apart: f64) -> f64 {
    (1.0 + 0.5 * PI * sizes_apart).sqrt() * (-sizes_apart).exp()
}

/// Share of the variance of such a phase that is left on a disc so many sizes wide when its
/// mean and tilt are removed (eq. S-18).
///
/// # Source
/// Integrated over all pairs of points of the disc, and put as a fraction within 4 % of it
/// up to 10 sizes.
#[must_use]
pub fn left_by_tilt(sizes_wide: f64) -> f64 {
    let square = sizes_wide * sizes_wide;
    square / (square + 2.0 * sizes_wide + 21.2)
}
