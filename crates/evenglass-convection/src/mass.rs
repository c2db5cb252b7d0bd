//! Vapour through a film: what carries heat to a surface carries vapour too.

use crate::{Estimate, Validity};

/// Mass-transfer coefficient of a film [m s⁻¹] (eq. D-7): mass per area and time over the
/// difference of vapour density.
///
/// * `film` — of heat [W m⁻² K⁻¹]
/// * `volume_heat` — heat per volume of air and kelvin, ρ c [J m⁻³ K⁻¹]
/// * `lewis` — thermal over vapour diffusivity [-]; near 1 in air
///
/// # Source
/// T. H. Chilton and A. P. Colburn, "Mass transfer (absorption) coefficients", Ind. Eng.
/// Chem. 26 (1934) 1183–1187; F. P. Incropera et al., *Fundamentals of Heat and Mass
/// Transfer*, eq. 6.60.
#[must_use]
pub fn coefficient(film: f64, volume_heat: f64, lewis: f64) -> Estimate {
    Estimate {
        value: film / (volume_heat * lewis.powf(2.0 / 3.0)),
        validity: Validity::of(lewis, 0.6..=3.0),
        relative_sigma: 0.10,
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// 5/(1256 · 0.8614^(2/3)) = 5/(1256 · 0.905355) = 4.39703 × 10⁻³ m/s, by hand.
    #[test]
    fn a_film_carries_vapour_as_worked_by_hand() {
        assert_relative_eq!(coefficient(5.0, 1256.0, 0.8614).value, 4.397e-3, max_relative = 1e-4);
    }

    #[test]
    fn gases_far_from_the_analogy_are_reported() {
        assert_eq!(coefficient(5.0, 1256.0, 0.86).validity, Validity::InRange);
        assert_eq!(coefficient(5.0, 1256.0, 100.0).validity, Validity::Extrapolated);
    }
}
