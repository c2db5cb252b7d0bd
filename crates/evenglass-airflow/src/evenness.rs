//! How evenly a slot blows along its length.

use std::f64::consts::PI;

use crate::{Estimate, Validity};

/// One standard deviation of either rule [-]: recovery alone is known to ± 50 %, and what
/// the feeding jet strikes is not known at all.
const SIGMA: f64 = 0.6;

/// Share of its velocity head that a stream in a plenum gets back as pressure while it
/// leaves through the slot [-]; ours, 0.4 to 1.2.
const RECOVERY: f64 = 0.8;

/// Difference of the slot's speed from end to end of a plenum fed at one end, as a share
/// of the speed [-] (eq. N-45).
///
/// * `slot_area` — of the whole slot, `plenum_area` — across the plenum \[m²\]
///
/// In range to 0.2: a fifth of the speed.
///
/// # Source
/// I. E. Idelchik, *Handbook of Hydraulic Resistance*, rule for headers, from memory:
/// all of the velocity head at the feed turns into pressure at the far end.
#[must_use]
pub fn end_fed(slot_area: f64, plenum_area: f64) -> Estimate {
    let ratio = if plenum_area > 0.0 { slot_area / plenum_area } else { f64::INFINITY };
    let value = 0.5 * ratio * ratio;
    Estimate { value, validity: Validity::of(value, 0.0..=0.2), relative_sigma: SIGMA }
}

/// A ring slot fed by a ring plenum into which air comes at one point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RingFeed {
    /// Of the whole slot \[m²\].
    pub slot_area: f64,
    /// Discharge or velocity coefficient of the slot [-].
    pub discharge: f64,
    /// Across the plenum, one side \[m²\].
    pub plenum_area: f64,
    /// Hydraulic diameter of the plenum \[m\].
    pub hydraulic: f64,
    /// Of the ring \[m\].
    pub radius: f64,
    /// Darcy's, in the plenum [-].
    pub friction: f64,
}

/// First and second harmonic of the slot's speed around the ring, as shares of its mean:
/// u = ū (1 + first cos θ + second cos 2θ + …), θ from the feed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Harmonics {
    /// Of cos θ [-]; negative if the far side blows faster.
    pub first: Estimate,
    /// Of cos 2θ [-].
    pub second: Estimate,
}

impl RingFeed {
    /// How the speed varies around the ring (eqs. N-46 and N-47).
    ///
    /// Half the flow goes each way round and leaves evenly, to first order: the speed in
    /// the plenum falls straight to nothing on the far side. Pressure is recovered with
    /// its square and lost by friction with the integral of that; the slot answers with
    /// the square root of pressure. Their cosine series is exact. In range to 0.2.
    #[must_use]
    pub fn harmonics(&self) -> Harmonics {
        let ratio = self.slot_area / self.plenum_area;
        let strength = 0.125 * (self.discharge * ratio).powi(2);
        let rubbing = self.friction * PI * self.radius / self.hydraulic;
        let square = PI * PI;
        let first = -4.0 * RECOVERY / square + rubbing * (2.0 / square - 8.0 / (square * square));
        let second = -RECOVERY / square + 0.5 * rubbing / square;
        let estimate = |share: f64| {
            let value = strength * share;
            let validity = Validity::of(value, -0.2..=0.2);
            Estimate { value, validity, relative_sigma: SIGMA }
        };
        Harmonics { first: estimate(first), second: estimate(second) }
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    const FEED: RingFeed = RingFeed {
        slot_area: 0.012,
        discharge: 0.95,
        plenum_area: 0.006,
        hydraulic: 0.07,
        radius: 0.3,
        friction: 0.03,
    };

    #[test]
    fn a_plenum_of_three_slot_areas_is_even_to_a_twentieth() {
        assert_relative_eq!(end_fed(1.0, 3.0).value, 0.055_556, epsilon = 1e-6);
        assert_eq!(end_fed(1.0, 1.0).validity, Validity::Extrapolated);
        assert!(end_fed(1.0, 0.0).value.is_infinite());
    }

    /// The cosine series of the speed, summed over 10⁵ points of the half ring.
    #[test]
    fn the_harmonics_are_those_of_the_pressure_along_the_plenum() {
        let ratio = FEED.slot_area / FEED.plenum_area / 2.0;
        let head = 0.5 * (FEED.discharge * ratio).powi(2);
        let rubbing = FEED.friction * PI * FEED.radius / FEED.hydraulic;
        let deviation = |x: f64| {
            let left = 1.0 - x;
            let recovered = RECOVERY * (1.0 - left.powi(2));
            head * (recovered - rubbing * (1.0 - left.powi(3)) / 3.0)
        };
        let count = 100_000;
        let harmonic = |m: f64| -> f64 {
            let middles = (0..count).map(|i| (f64::from(i) + 0.5) / f64::from(count));
            let sum: f64 = middles.map(|x| deviation(x) * (m * PI * x).cos()).sum();
            2.0 * sum / f64::from(count)
        };
        let Harmonics { first, second } = FEED.harmonics();
        assert_relative_eq!(first.value, harmonic(1.0), max_relative = 1e-6);
        assert_relative_eq!(second.value, harmonic(2.0), max_relative = 1e-6);
    }

    #[test]
    fn without_friction_the_far_side_blows_faster_and_with_much_the_near_one() {
        let smooth = RingFeed { friction: 0.0, ..FEED }.harmonics();
        let rough = RingFeed { friction: 1.0, ..FEED }.harmonics();
        assert!(smooth.first.value < 0.0 && rough.first.value > 0.0);
        let narrow = RingFeed { slot_area: 0.5 * FEED.slot_area, ..FEED }.harmonics();
        assert_relative_eq!(narrow.first.value, 0.25 * FEED.harmonics().first.value);
    }

    #[test]
    fn a_fifth_of_the_speed_is_the_end_of_the_range() {
        assert_eq!(end_fed(0.63, 1.0).validity, Validity::InRange);
        assert_eq!(end_fed(0.64, 1.0).validity, Validity::Extrapolated);
    }
}
