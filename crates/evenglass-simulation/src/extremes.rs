//! The smallest and largest value of every column, wherever in the night they lie.
//!
//! A time step spans many rows of the history or a fraction of one, so that rows
//! see extremes by chance. Inside a step every temperature is a cubic of time, but
//! for the slope of the specific heat: four readings tell where it turns, and a
//! fifth is taken there.

use crate::result::{COLUMNS, Record};

/// What a turning point must add to an extreme before it is looked at, in the
/// column's unit: less is a rounding error.
const LEAST_GAIN: f64 = 1e-6;

/// Smallest and largest value of each of [`COLUMNS`] so far, each with its time \[s\].
#[derive(Debug)]
pub(crate) struct Extremes {
    pub(crate) least: Vec<(f64, f64)>,
    pub(crate) most: Vec<(f64, f64)>,
}

impl Extremes {
    pub(crate) fn new(start: &Record) -> Self {
        let values: Vec<(f64, f64)> =
            COLUMNS.iter().map(|column| ((column.value)(start), start.time_s)).collect();
        Self { least: values.clone(), most: values }
    }

    /// Takes a reading into account; what is NaN was not read.
    pub(crate) fn offer(&mut self, record: &Record) {
        for ((column, least), most) in COLUMNS.iter().zip(&mut self.least).zip(&mut self.most) {
            let value = (column.value)(record);
            if value < least.0 || least.0.is_nan() {
                *least = (value, record.time_s);
            }
            if value > most.0 || most.0.is_nan() {
                *most = (value, record.time_s);
            }
        }
    }

    /// Follows a step of which `records` are the readings at its start, thirds and
    /// end; `read` takes another one.
    pub(crate) fn follow(&mut self, records: [&Record; 4], mut read: impl FnMut(f64) -> Record) {
        for record in records {
            self.offer(record);
        }
        let ends = (records[0].time_s, records[3].time_s);
        for (n, column) in COLUMNS.iter().enumerate() {
            let course = Course::through(ends, records.map(column.value));
            for (time, value) in course.turning_points() {
                if value < self.least[n].0 - LEAST_GAIN || value > self.most[n].0 + LEAST_GAIN {
                    self.offer(&read(time));
                }
            }
        }
    }

    /// Largest value of a column, and its time \[s\].
    pub(crate) fn most(&self, name: &str) -> (f64, f64) {
        let at = COLUMNS.iter().position(|column| column.name == name);
        self.most[at.expect("only columns are asked for")]
    }
}

/// How a quantity runs through a step: a cubic.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Course {
    /// Start and end of the step \[s\].
    ends: (f64, f64),
    /// At its start.
    start: f64,
    /// Forward differences of the first, second and third order over thirds of the step.
    differences: [f64; 3],
}

impl Course {
    /// Through the values at the start, thirds and end of a step between `ends` \[s\].
    pub(crate) fn through(ends: (f64, f64), [a, b, c, d]: [f64; 4]) -> Self {
        let differences = [b - a, c - 2.0 * b + a, d - 3.0 * c + 3.0 * b - a];
        Self { ends, start: a, differences }
    }

    /// The value at `thirds` thirds of the step, by Newton's forward differences.
    fn value(&self, thirds: f64) -> f64 {
        let [d1, d2, d3] = self.differences;
        let x = thirds;
        self.start + x * (d1 + (x - 1.0) / 2.0 * (d2 + (x - 2.0) / 3.0 * d3))
    }

    /// Change per second at a time \[s\] within the step.
    pub(crate) fn slope(&self, time: f64) -> f64 {
        let [d1, d2, d3] = self.differences;
        let third = (self.ends.1 - self.ends.0) / 3.0;
        let x = (time - self.ends.0) / third;
        (d1 + (x - 0.5) * d2 + (0.5 * x * x - x + 1.0 / 3.0) * d3) / third
    }

    /// (Time \[s\], value) where the quantity turns inside the step.
    pub(crate) fn turning_points(&self) -> impl Iterator<Item = (f64, f64)> {
        let [d1, d2, d3] = self.differences;
        // Slope a x² + b x + c in thirds x, by the root formula that does not cancel.
        let (a, b, c) = (0.5 * d3, d2 - d3, d1 - d2 / 2.0 + d3 / 3.0);
        let q = -0.5 * (b + (b * b - 4.0 * a * c).sqrt().copysign(b));
        let (from, to) = self.ends;
        let course = *self;
        [q / a, c / q]
            .into_iter()
            .filter(|x| (0.0..3.0).contains(x))
            .map(move |x| (from + (to - from) * x / 3.0, course.value(x)))
    }

    /// (Value, time \[s\]) that is largest in size from a time \[s\] on; `None` if the
    /// step ends before.
    pub(crate) fn largest_from(&self, time: f64) -> Option<(f64, f64)> {
        let (from, to) = self.ends;
        let at = |time: f64| (self.value(3.0 * (time - from) / (to - from)), time);
        let turns = self.turning_points().map(|(time, value)| (value, time));
        let ends = [time.max(from), to].map(at);
        let all = ends.into_iter().chain(turns).filter(|&(_, t)| t >= time && t <= to);
        all.max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn course(ends: (f64, f64), value: impl Fn(f64) -> f64) -> Course {
        let third = (ends.1 - ends.0) / 3.0;
        Course::through(ends, [0.0, 1.0, 2.0, 3.0].map(|n| value(ends.0 + n * third)))
    }

    #[test]
    fn both_turns_of_a_cubic_are_found_exactly() {
        // Slope 3 (t - 12) (t - 18).
        let cubic = |t: f64| t.powi(3) - 45.0 * t.powi(2) + 648.0 * t;
        let mut turns: Vec<_> = course((10.0, 20.0), cubic).turning_points().collect();
        turns.sort_by(|a, b| a.0.total_cmp(&b.0));
        assert_eq!(turns.len(), 2);
        for (turn, time) in turns.iter().zip([12.0, 18.0]) {
            assert_abs_diff_eq!(turn.0, time, epsilon = 1e-9);
            assert_abs_diff_eq!(turn.1, cubic(time), epsilon = 1e-9);
        }
    }

    #[test]
    fn straight_lines_and_parabolas_turn_as_they_should() {
        assert_eq!(course((0.0, 9.0), |t| 2.0 * t).turning_points().count(), 0);
        assert_eq!(course((0.0, 9.0), |_| 5.0).turning_points().count(), 0);
        let turns: Vec<_> = course((0.0, 9.0), |t| (t - 4.0).powi(2)).turning_points().collect();
        assert_eq!(turns.len(), 1);
        assert_abs_diff_eq!(turns[0].0, 4.0, epsilon = 1e-9);
    }

    #[test]
    fn the_slope_of_a_cubic_is_exact() {
        let course = course((2.0, 8.0), |t| t.powi(3) - 5.0 * t.powi(2) + t);
        for t in [2.0_f64, 3.7, 8.0] {
            let slope = 3.0 * t.powi(2) - 10.0 * t + 1.0;
            assert_abs_diff_eq!(course.slope(t), slope, epsilon = 1e-9);
        }
    }

    #[test]
    fn the_largest_in_size_counts_only_from_the_time_asked_for() {
        let course = course((0.0, 9.0), |t| (t - 5.0).powi(2) - 20.0);
        for (from, value, time) in [(0.0, -20.0, 5.0), (5.5, -19.75, 5.5), (9.0, -4.0, 9.0)] {
            let found = course.largest_from(from).unwrap();
            assert_abs_diff_eq!(found.0, value, epsilon = 1e-9);
            assert_abs_diff_eq!(found.1, time, epsilon = 1e-9);
        }
        assert_eq!(course.largest_from(9.5), None);
    }
}
