//! Free convection in a closed shallow gap: under a cover, before a back board.

use crate::{Estimate, Validity};

/// Nusselt number on the gap's depth of a gap heated from below (eq. C-10).
///
/// * `rayleigh` — on the gap's depth, with the difference between the two plates [-], to 10⁸
/// * `tilt` — from horizontal \[rad\], 0 to 60°
///
/// Heated from above and nearly level, the air only conducts: Nu = 1.
///
/// # Source
/// K. G. T. Hollands, T. E. Unny, G. D. Raithby and L. Konicek, "Free convective
/// heat transfer across inclined air layers", J. Heat Transfer 98 (1976) 189–193.
#[must_use]
pub fn heated_from_below(rayleigh: f64, tilt: f64) -> Estimate {
    let across = rayleigh * tilt.cos();
    let value = if across > 0.0 {
        let onset = (1.0 - 1708.0 / across).max(0.0);
        let tilted = 1.0 - 1708.0 * (1.8 * tilt).sin().max(0.0).powf(1.6) / across;
        let turbulent = ((across / 5830.0).cbrt() - 1.0).max(0.0);
        1.0 + 1.44 * onset * tilted + turbulent
    } else {
        1.0
    };
    let tilt_validity = Validity::of(tilt.to_degrees(), 0.0..=60.0);
    Estimate {
        value: value.max(1.0),
        validity: Validity::of(rayleigh, 0.0..=1e8).and(tilt_validity),
        relative_sigma: 0.05,
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// The Pr-dependent form by one of the same authors gives 2.360, 3.961 and 7.011
    /// at Ra = 10⁴, 10⁵, 10⁶ (library `ht` 1.2.0, `Nu_Nusselt_Rayleigh_Hollands`);
    /// the two agree within 1.4 %.
    #[test]
    fn the_gap_agrees_with_a_second_form_in_a_library() {
        for (rayleigh, library) in [(1e4, 2.360), (1e5, 3.961), (1e6, 7.011)] {
            let ours = heated_from_below(rayleigh, 0.0).value;
            assert_relative_eq!(ours, library, max_relative = 0.014);
        }
    }

    #[test]
    fn air_in_a_shallow_gap_stays_at_rest_below_the_critical_rayleigh_number() {
        assert_relative_eq!(heated_from_below(1700.0, 0.0).value, 1.0);
        assert!(heated_from_below(1720.0, 0.0).value > 1.0);
        assert_relative_eq!(heated_from_below(0.0, 0.3).value, 1.0);
    }

    #[test]
    fn a_steep_gap_is_outside_the_tested_range() {
        assert_eq!(heated_from_below(1e5, 1.2).validity, Validity::Extrapolated);
        assert_eq!(heated_from_below(1e5, 1.0).validity, Validity::InRange);
    }
}
