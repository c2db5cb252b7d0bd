//! A single round jet at right angles to a plate.

use crate::{Estimate, Validity};

/// Radius in nozzle diameters from which Martin's mean is published [-].
const INNERMOST: f64 = 2.5;

/// Smallest Reynolds number of the published range [-].
const SLOWEST: f64 = 2000.0;

/// Nozzle and plate, in nozzle diameters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundJet {
    /// On the nozzle's diameter and its mean speed [-]; 2000 to 4 × 10⁵. Below, the
    /// film falls with the square root, as a laminar jet's.
    pub reynolds: f64,
    /// [-]
    pub prandtl: f64,
    /// From nozzle to plate over nozzle diameter [-]; 2 to 12, held beyond.
    pub distance: f64,
}

impl RoundJet {
    /// Mean Nusselt number on the nozzle's diameter over the disc of radius `radius`
    /// (eq. C-11).
    ///
    /// * `radius` — over nozzle diameter [-], 2.5 to 7.5; inside 2.5 the area mean of
    ///   [`RoundJet::local`]
    ///
    /// # Source
    /// H. Martin, "Heat and mass transfer between impinging gas jets and solid
    /// surfaces", Adv. Heat Transfer 13 (1977) 1–60; also F. P. Incropera et al.,
    /// *Fundamentals of Heat and Mass Transfer*, section 7.7.
    #[must_use]
    pub fn mean(&self, radius: f64) -> Estimate {
        let value = if radius >= INNERMOST {
            self.published_mean(radius)
        } else {
            let (stagnation, inner) = self.inner_ends();
            stagnation + 0.5 * (inner - stagnation) * (radius / INNERMOST).powi(2)
        };
        self.estimate(value, radius)
    }

    /// Local Nusselt number on the nozzle's diameter at `radius` (eq. C-12).
    ///
    /// * `radius` — over nozzle diameter [-]
    ///
    /// From 2.5 outward the exact derivative of Martin's mean; inward a parabola that
    /// keeps the mean over the disc of radius 2.5 exactly Martin's.
    ///
    /// # Source
    /// Derived from Martin (1977), see [`RoundJet::mean`].
    #[must_use]
    pub fn local(&self, radius: f64) -> Estimate {
        let value = if radius >= INNERMOST {
            self.derived_local(radius)
        } else {
            let (stagnation, inner) = self.inner_ends();
            stagnation + (inner - stagnation) * (radius / INNERMOST).powi(2)
        };
        self.estimate(value, radius)
    }

    /// Local Nusselt numbers on the axis and at the innermost published radius.
    fn inner_ends(&self) -> (f64, f64) {
        let inner = self.derived_local(INNERMOST);
        (2.0 * self.published_mean(INNERMOST) - inner, inner)
    }

    fn published_mean(&self, radius: f64) -> f64 {
        let inverse = 1.0 / radius;
        self.strength() * inverse * (1.0 - 1.1 * inverse) / (1.0 + self.spread() * inverse)
    }

    /// (1/2r) d(r² mean)/dr.
    fn derived_local(&self, radius: f64) -> f64 {
        let c = self.spread();
        let numerator = radius * radius + 2.0 * c * radius - 1.1 * c;
        self.strength() * numerator / (2.0 * radius * (radius + c).powi(2))
    }

    fn spread(&self) -> f64 {
        0.1 * (self.distance.clamp(2.0, 12.0) - 6.0)
    }

    /// Martin's F(Re), times the power of the Prandtl number.
    fn strength(&self) -> f64 {
        let martin = |re: f64| 2.0 * re.sqrt() * (1.0 + 0.005 * re.powf(0.55)).sqrt();
        let strength = if self.reynolds >= SLOWEST {
            martin(self.reynolds)
        } else {
            martin(SLOWEST) * (self.reynolds / SLOWEST).sqrt()
        };
        strength * self.prandtl.powf(0.42)
    }

    fn estimate(&self, value: f64, radius: f64) -> Estimate {
        let distance = if (2.0..=12.0).contains(&self.distance) {
            Validity::InRange
        } else {
            Validity::Clamped
        };
        let reynolds = Validity::of(self.reynolds, SLOWEST..=4e5);
        let radius = Validity::of(radius, INNERMOST..=7.5);
        Estimate { value, validity: distance.and(reynolds).and(radius), relative_sigma: 0.15 }
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    const JET: RoundJet = RoundJet { reynolds: 2.4e4, prandtl: 0.71, distance: 4.0 };

    #[test]
    fn the_local_film_is_the_derivative_of_the_mean() {
        for radius in [0.4, 1.7, 2.6, 4.0, 7.5] {
            let step = 1e-4;
            let sum = |r: f64| r * r * JET.mean(r).value;
            let slope = (sum(radius + step) - sum(radius - step)) / (2.0 * step);
            let expected = slope / (2.0 * radius);
            assert_relative_eq!(JET.local(radius).value, expected, max_relative = 1e-7);
        }
    }

    #[test]
    fn the_mean_over_the_inner_disc_is_the_published_one() {
        let inside = JET.mean(INNERMOST - 1e-9).value;
        assert_relative_eq!(inside, JET.mean(INNERMOST).value, max_relative = 1e-7);
    }

    #[test]
    fn the_film_has_no_jump_at_the_innermost_published_radius() {
        let inside = JET.local(INNERMOST - 1e-9).value;
        let outside = JET.local(INNERMOST + 1e-9).value;
        assert_relative_eq!(inside, outside, max_relative = 1e-7);
    }

    /// Stagnation of air jets at Re near 2.4 × 10⁴ and distances of 2 to 8 diameters:
    /// Nu between 100 (laminar) and 165 (turbulent nozzle flow), after
    /// C. J. Hoogendoorn, Int. J. Heat Mass Transfer 20 (1977) 1333–1338 (from memory).
    #[test]
    fn the_stagnation_point_lies_between_laminar_and_turbulent_measurements() {
        let nusselt = RoundJet { distance: 2.0, ..JET }.local(0.0).value;
        assert!((100.0..=165.0).contains(&nusselt), "{nusselt}");
    }

    #[test]
    fn a_distance_outside_the_published_range_is_held_and_reported() {
        let near = RoundJet { distance: 0.5, ..JET };
        let limit = RoundJet { distance: 2.0, ..JET };
        assert_relative_eq!(near.mean(3.0).value, limit.mean(3.0).value);
        assert_eq!(near.mean(3.0).validity, Validity::Clamped);
        assert_eq!(limit.mean(3.0).validity, Validity::InRange);
        let at = |distance| RoundJet { distance, ..JET }.mean(3.0);
        assert_relative_eq!(at(30.0).value, at(12.0).value);
        assert!(at(11.99).value > at(12.0).value);
        assert_eq!(at(12.0).validity, Validity::InRange);
        assert_eq!(at(12.01).validity, Validity::Clamped);
    }

    #[test]
    fn a_slow_jet_continues_without_a_step() {
        let below = RoundJet { reynolds: SLOWEST - 1e-6, ..JET };
        let above = RoundJet { reynolds: SLOWEST + 1e-6, ..JET };
        assert_relative_eq!(below.mean(3.0).value, above.mean(3.0).value, max_relative = 1e-8);
        assert_eq!(below.mean(3.0).validity, Validity::Extrapolated);
        let still = RoundJet { reynolds: 0.0, ..JET };
        assert_relative_eq!(still.local(1.0).value, 0.0);
    }
}
