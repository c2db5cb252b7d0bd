//! A plane jet from a single slot at an angle to a plate.
//!
//! Lengths are in slot widths S = 2 w, twice the slot, as published: the hydraulic
//! diameter of a long slot.

use crate::{Estimate, Validity};

/// Distance along the plate from which Martin's mean is published [-].
const INNERMOST: f64 = 2.0;

/// Smallest Reynolds number of the published range [-].
const SLOWEST: f64 = 3000.0;

/// Slot and plate, in twice the slot's width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlotJet {
    /// On twice the slot's width and its mean speed [-]; 3000 to 9 × 10⁴. Below, the film
    /// falls with the square root.
    pub reynolds: f64,
    /// [-]
    pub prandtl: f64,
    /// From slot to plate [-]; 2 to 10, held beyond
    pub distance: f64,
}

impl SlotJet {
    /// Mean Nusselt number between the stagnation line and `along` (eq. C-54).
    ///
    /// * `along` — along the plate on either side [-], 2 to 25; inside 2 the mean of
    ///   [`SlotJet::local`]
    ///
    /// # Source
    /// H. Martin, Adv. Heat Transfer 13 (1977) 1–60; also F. P. Incropera et al.,
    /// *Fundamentals of Heat and Mass Transfer*, section 7.7.
    #[must_use]
    pub fn mean(&self, along: f64) -> Estimate {
        let value = if along >= INNERMOST {
            self.published_mean(along)
        } else {
            let (stagnation, inner) = self.inner_ends();
            stagnation + (inner - stagnation) * (along / INNERMOST).powi(2) / 3.0
        };
        self.estimate(value, along)
    }

    /// Local Nusselt number at `along` (eq. C-55).
    ///
    /// From 2 outward the exact derivative of the published mean; inward a parabola that
    /// keeps the mean to 2.
    ///
    /// # Source
    /// Derived from Martin (1977), see [`SlotJet::mean`].
    #[must_use]
    pub fn local(&self, along: f64) -> Estimate {
        let value = if along >= INNERMOST {
            self.derived_local(along)
        } else {
            let (stagnation, inner) = self.inner_ends();
            stagnation + (inner - stagnation) * (along / INNERMOST).powi(2)
        };
        self.estimate(value, along)
    }

    fn inner_ends(&self) -> (f64, f64) {
        let inner = self.derived_local(INNERMOST);
        (0.5 * (3.0 * self.published_mean(INNERMOST) - inner), inner)
    }

    fn published_mean(&self, along: f64) -> f64 {
        let (fast, slow) = self.split();
        let power = fast.powf(0.695 - self.spread(along).recip());
        1.53 * power * slow * self.prandtl.powf(0.42) / (along + self.distance() + 1.39)
    }

    /// d(along · mean)/d(along).
    fn derived_local(&self, along: f64) -> f64 {
        let (fast, _) = self.split();
        let rate = fast.ln() / self.spread(along).powi(2) - 1.0 / (along + self.distance() + 1.39);
        self.published_mean(along) * (1.0 + along * rate)
    }

    fn spread(&self, along: f64) -> f64 {
        along + self.distance().powf(1.33) + 3.06
    }

    fn distance(&self) -> f64 {
        self.distance.clamp(2.0, 10.0)
    }

    /// A Reynolds number of the published range and what a slower one leaves of the film.
    fn split(&self) -> (f64, f64) {
        (self.reynolds.max(SLOWEST), (self.reynolds / SLOWEST).sqrt().min(1.0))
    }

    fn estimate(&self, value: f64, along: f64) -> Estimate {
        let held = (self.distance() - self.distance).abs() > 0.0;
        let validity = Validity::of(self.reynolds, SLOWEST..=9e4)
            .and(Validity::of(along, INNERMOST..=25.0))
            .and(if held { Validity::Clamped } else { Validity::InRange });
        let relative_sigma = if self.reynolds < SLOWEST { 0.30 } else { 0.15 };
        Estimate { value, validity, relative_sigma }
    }
}

/// Share of a plane jet's flow that goes on forward when it meets a plate (eq. C-56).
///
/// * `angle` — between jet and plate \[rad\]: 0 along it, π/2 at right angles
///
/// # Source
/// Momentum along the plate of an inviscid jet, a textbook result.
#[must_use]
pub fn forward_share(angle: f64) -> f64 {
    0.5 * (1.0 + angle.cos())
}

/// Factor of the film on the side that receives `share` of the flow (eq. C-56): 1 at right
/// angles.
///
/// # Source
/// The exponent is ours, between a laminar and a turbulent layer's.
#[must_use]
pub fn obliquity_factor(share: f64) -> f64 {
    (2.0 * share).powf(0.6)
}

#[cfg(test)]
mod tests {
    use std::f64::consts::FRAC_PI_2;

    use approx::assert_relative_eq;

    use super::*;

    const JET: SlotJet = SlotJet { reynolds: 1e4, prandtl: 0.71, distance: 5.0 };

    #[test]
    fn the_local_film_is_the_derivative_of_the_mean() {
        for jet in [JET, SlotJet { reynolds: 1400.0, ..JET }] {
            for along in [0.3, 1.1, 2.5, 8.0, 24.0] {
                let step = 1e-4;
                let sum = |x: f64| x * jet.mean(x).value;
                let slope = (sum(along + step) - sum(along - step)) / (2.0 * step);
                assert_relative_eq!(jet.local(along).value, slope, max_relative = 1e-7);
            }
        }
    }

    #[test]
    fn the_film_has_no_jump_where_the_published_range_begins() {
        for reynolds in [1400.0, 1e4] {
            let jet = SlotJet { reynolds, ..JET };
            let [inside, outside] = [-1e-9, 1e-9].map(|d| jet.local(INNERMOST + d).value);
            assert_relative_eq!(inside, outside, max_relative = 1e-7);
        }
        let [below, above] =
            [2999.999, 3000.0].map(|reynolds| SlotJet { reynolds, ..JET }.local(4.0).value);
        assert_relative_eq!(below, above, max_relative = 1e-6);
    }

    #[test]
    fn a_jet_at_right_angles_splits_evenly_and_a_glancing_one_not_at_all() {
        assert_relative_eq!(forward_share(FRAC_PI_2), 0.5, max_relative = 1e-12);
        assert_relative_eq!(obliquity_factor(forward_share(FRAC_PI_2)), 1.0, max_relative = 1e-12);
        assert_relative_eq!(forward_share(0.0), 1.0);
    }

    #[test]
    fn what_is_held_or_continued_says_so() {
        let near = SlotJet { distance: 0.5, ..JET };
        assert_relative_eq!(near.mean(5.0).value, SlotJet { distance: 2.0, ..JET }.mean(5.0).value);
        assert_eq!(near.mean(5.0).validity, Validity::Clamped);
        assert_eq!(SlotJet { reynolds: 1400.0, ..JET }.mean(5.0).validity, Validity::Extrapolated);
        assert_relative_eq!(SlotJet { reynolds: 0.0, ..JET }.local(5.0).value, 0.0);
    }
}
