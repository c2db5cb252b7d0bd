//! One dimension of a chart, as plotters asks for it.

use plotters::coord::ranged1d::{DefaultFormatting, KeyPointHint, Ranged};

use crate::plot::scale::Range;

/// A range with the ticks chosen for it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Axis {
    pub(super) range: Range,
    pub(super) ticks: Vec<f64>,
}

impl Ranged for Axis {
    type FormatOption = DefaultFormatting;
    type ValueType = f64;

    #[expect(clippy::cast_possible_truncation, reason = "clamped far inside the type's range")]
    fn map(&self, value: &f64, (low, high): (i32, i32)) -> i32 {
        let (low, high) = (f64::from(low), f64::from(high));
        (low + self.range.share(*value) * (high - low)).round().clamp(-1e8, 1e8) as i32
    }

    /// The ticks, however many were hinted at: all of them bold, none light.
    fn key_points<Hint: KeyPointHint>(&self, hint: Hint) -> Vec<f64> {
        if hint.weight().allow_light_points() { Vec::new() } else { self.ticks.clone() }
    }

    fn range(&self) -> std::ops::Range<f64> {
        self.range.low..self.range.high
    }
}

#[cfg(test)]
mod tests {
    use plotters::coord::ranged1d::BoldPoints;

    use super::*;

    #[test]
    fn a_value_lies_where_its_share_of_the_range_says_also_on_an_axis_turned_round() {
        let axis = Axis { range: Range { low: -1.0, high: 3.0 }, ticks: vec![0.0, 2.0] };
        assert_eq!(axis.map(&0.0, (100, 500)), 200);
        assert_eq!(axis.map(&0.0, (500, 100)), 400, "upward on the sheet");
        assert_eq!(axis.map(&1e300, (0, 16)), 100_000_000, "far away, but a place");
        assert_eq!(axis.key_points(BoldPoints(1)), [0.0, 2.0]);
        assert!(axis.key_points(50).is_empty(), "no light lines between them");
    }
}
