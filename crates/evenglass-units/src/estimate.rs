//! What a correlation answers: a value, whether it may be trusted, and how far.

use std::ops::RangeInclusive;

/// The answer of a correlation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The value; its unit is in the function's doc.
    pub value: f64,
    /// Whether the inputs lie in the published range.
    pub validity: Validity,
    /// One standard deviation as a share of the value [-].
    pub relative_sigma: f64,
}

/// How the inputs lie to the published range; ordered from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Validity {
    /// Inside.
    InRange,
    /// Outside; the formula, or the continuation its doc states, was used there.
    Extrapolated,
    /// Outside; the nearest input inside was used instead.
    Clamped,
}

impl Validity {
    /// In range if the value is, extrapolated if not.
    #[must_use]
    pub fn of(value: f64, range: RangeInclusive<f64>) -> Self {
        if range.contains(&value) { Self::InRange } else { Self::Extrapolated }
    }

    /// The worse of two.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        self.max(other)
    }
}

impl Estimate {
    /// The same trust in a value derived from this one.
    #[must_use]
    pub fn map(self, f: impl FnOnce(f64) -> f64) -> Self {
        Self { value: f(self.value), ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_worse_of_two_validities_is_kept() {
        let inside = Validity::of(1.0, 0.0..=2.0);
        let outside = Validity::of(3.0, 0.0..=2.0);
        assert_eq!(inside, Validity::InRange);
        assert_eq!(inside.and(outside), Validity::Extrapolated);
        assert_eq!(Validity::Clamped.and(outside), Validity::Clamped);
    }
}
