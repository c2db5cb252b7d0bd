//! What is kept of a night among many.

use std::cmp::Ordering;

use evenglass_simulation::Night;
use evenglass_simulation::result::{COLUMNS, Record, Warning};

use crate::criteria::{mean_from, worst};

/// What is kept of a night in a sweep.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Hours of good image.
    pub good_hours: f64,
    /// Start of the first good stretch, in s from the start; `None` if there is none.
    pub ready_at_s: Option<f64>,
    /// The same as "HH:MM" of that night's clock.
    pub ready_at: Option<String>,
    /// Value of each of [`COLUMNS`] at the end of the night.
    pub end: Vec<f64>,
    /// Smallest value of each of [`COLUMNS`].
    pub min: Vec<f64>,
    /// Largest value of each of [`COLUMNS`].
    pub max: Vec<f64>,
    /// Value of each of [`COLUMNS`] halfway through the run.
    pub halfway: Vec<f64>,
    /// Figure error of all orders, RMS, mean over the second half of the run \[nm\].
    pub figure_nm: f64,
    /// The value that is largest over its limit, mean over the second half of the run [-].
    pub over_limit: f64,
    /// What the reader should know.
    pub warnings: Vec<Warning>,
}

/// Good hours within this are no reason to rank one night before another \[h\].
const SAME_HOURS: f64 = 0.01;

impl From<&Night> for Outcome {
    fn from(night: &Night) -> Self {
        Self::at(night, 0.5 * night.scenario.night.duration.seconds())
    }
}

impl Outcome {
    /// With another time \[s\] as halfway through, from which the second half is taken; outside
    /// the run its values are NaN.
    pub(crate) fn at(night: &Night, seconds: f64) -> Self {
        let columns = |row: Option<&Record>| -> Vec<f64> {
            COLUMNS.iter().map(|c| row.map_or(f64::NAN, c.value)).collect()
        };
        let halfway = night.history.iter().find(|row| row.time_s >= seconds && seconds >= 0.0);
        Self {
            good_hours: night.good_hours(),
            ready_at_s: night.ready_at_s,
            ready_at: night.ready_at_s.map(|t| night.scenario.night.start.hm(t)),
            end: columns(night.history.last()),
            min: night.minima.iter().map(|m| m.0).collect(),
            max: night.maxima.iter().map(|m| m.0).collect(),
            halfway: columns(halfway),
            figure_nm: mean_from(night, seconds, |row| 1e9 * row.image.total_rms_m),
            over_limit: mean_from(night, seconds, |row| worst(night, row)),
            warnings: night.warnings.clone(),
        }
    }

    /// The last value of a column; NaN if it is not there.
    pub(crate) fn last(&self, column: &str) -> f64 {
        value(&self.end, column)
    }

    /// The value of a column halfway through; NaN if it is not there.
    pub(crate) fn halfway(&self, column: &str) -> f64 {
        value(&self.halfway, column)
    }

    /// Better first: more good hours, then the better figure (the smaller excess over the limits
    /// where neither is ever good), then ready earlier.
    ///
    /// * `later` — by how much \[s\] the other starts later on the clock
    pub(crate) fn rank(&self, other: &Self, later: f64) -> Ordering {
        let bin = |outcome: &Self| (outcome.good_hours / SAME_HOURS).round();
        let never = self.ready_at_s.is_none() && other.ready_at_s.is_none();
        let ready = |outcome: &Self| outcome.ready_at_s.unwrap_or(f64::INFINITY);
        let excess =
            if never { self.over_limit.total_cmp(&other.over_limit) } else { Ordering::Equal };
        bin(other)
            .total_cmp(&bin(self))
            .then(excess)
            .then(self.figure_nm.total_cmp(&other.figure_nm))
            .then(ready(self).total_cmp(&(ready(other) + later)))
    }
}

fn value(values: &[f64], column: &str) -> f64 {
    let at = COLUMNS.iter().position(|c| c.name == column);
    at.and_then(|at| values.get(at)).copied().unwrap_or(f64::NAN)
}
