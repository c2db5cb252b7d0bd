//! Flow that meets a face head on: a disc in a stream, the stagnation point of a jet.

use crate::{Estimate, Validity};

/// Mean Nusselt number, on the diameter, of a disc that faces a stream (eq. C-61).
///
/// * `reynolds` — on the diameter [-], 5 × 10³ to 5 × 10⁴; the square root is kept beyond
/// * `prandtl` — [-]
///
/// # Source
/// E. M. Sparrow and G. T. Geiger, "Local and average heat transfer characteristics for
/// a disk situated perpendicular to a uniform flow", J. Heat Transfer 107 (1985)
/// 321–326; constants from memory.
#[must_use]
pub fn disc(reynolds: f64, prandtl: f64) -> Estimate {
    Estimate {
        value: 1.05 * prandtl.powf(0.36) * reynolds.sqrt(),
        validity: Validity::of(reynolds, 5e3..=5e4),
        relative_sigma: 0.10,
    }
}

/// Nusselt number, on the nozzle's diameter, of the stagnation point of a round jet whose
/// air is turbulent (eq. C-62).
///
/// * `reynolds` — on nozzle diameter and speed [-], 6 × 10³ to 7 × 10⁴
/// * `prandtl` — [-]
/// * `turbulence` — fluctuation over mean speed on the axis [-]; held where the law has
///   its largest value, at turbulence · √Re = 41
///
/// # Source
/// C. J. Hoogendoorn, "The effect of turbulence on heat transfer at a stagnation point",
/// Int. J. Heat Mass Transfer 20 (1977) 1333–1338; constants from memory. The group is
/// a hundredth of turbulence · √Re, as in the same law for cylinders.
#[must_use]
pub fn jet_stagnation(reynolds: f64, prandtl: f64, turbulence: f64) -> Estimate {
    const LARGEST: f64 = 2.03 / (2.0 * 2.46);
    let group = turbulence * reynolds.sqrt() / 100.0;
    let held = group.min(LARGEST);
    let range = Validity::of(reynolds, 6e3..=7e4);
    Estimate {
        value: reynolds.sqrt()
            * (0.65 + 2.03 * held - 2.46 * held * held)
            // The measurements are in air; the power carries them to its neighbours.
            * (prandtl / 0.7).powf(0.4),
        validity: if group > LARGEST { Validity::Clamped } else { range },
        relative_sigma: 0.10,
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn turbulence_beyond_the_tested_range_is_held_and_reported() {
        let at = |turbulence| jet_stagnation(1e4, 0.71, turbulence);
        assert_relative_eq!(at(0.6).value, at(0.9).value);
        assert_eq!(at(0.6).validity, Validity::Clamped);
        assert_eq!(at(0.1).validity, Validity::InRange);
    }

    /// Measured stagnation points of air jets lie between Nu/√Re = 0.65 (quiet) and about
    /// 1.1 (fluctuations of 15 to 20 % eight diameters away): Hoogendoorn (1977), from memory.
    #[test]
    fn turbulence_raises_the_stagnation_point_by_two_thirds_at_most() {
        let quiet = jet_stagnation(6.6e4, 0.7, 0.0).value / 6.6e4f64.sqrt();
        let rough = jet_stagnation(6.6e4, 0.7, 0.16).value / 6.6e4f64.sqrt();
        assert_relative_eq!(quiet, 0.65, max_relative = 1e-12);
        assert!((1.0..=1.1).contains(&rough), "{rough}");
    }

    #[test]
    fn a_slow_stream_is_outside_the_tested_range() {
        assert_eq!(disc(1e3, 0.71).validity, Validity::Extrapolated);
        assert_eq!(disc(2e4, 0.71).validity, Validity::InRange);
    }
}
