//! Many nights on a grid of varied keys: what is kept of each, and the best of them.

use std::cmp::Ordering;

use evenglass_simulation::Night;
use evenglass_simulation::result::COLUMNS;

use crate::axis::Axis;
use crate::text::{aligned, short, wrap};
use crate::wording::{hours, minutes, plain, signed};

/// Rows of the table on the terminal; `sweep.csv` has them all.
const SHOWN: usize = 20;

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
}

impl From<&Night> for Outcome {
    fn from(night: &Night) -> Self {
        let last = night.history.last();
        Self {
            good_hours: night.good_hours(),
            ready_at_s: night.ready_at_s,
            ready_at: night.ready_at_s.map(|t| night.scenario.night.start.hm(t)),
            end: COLUMNS.iter().filter_map(|c| last.map(c.value)).collect(),
            min: night.minima.iter().map(|m| m.0).collect(),
            max: night.maxima.iter().map(|m| m.0).collect(),
        }
    }
}

impl Outcome {
    /// The largest value of a column; NaN if it is not there.
    pub(crate) fn largest(&self, column: &str) -> f64 {
        value(&self.max, column)
    }

    /// The last value of a column; NaN if it is not there.
    pub(crate) fn last(&self, column: &str) -> f64 {
        value(&self.end, column)
    }

    /// Better first: more good hours, then ready earlier, then less spread.
    fn rank(&self, other: &Self) -> Ordering {
        let ready = |o: &Self| o.ready_at_s.unwrap_or(f64::INFINITY);
        other
            .good_hours
            .total_cmp(&self.good_hours)
            .then(ready(self).total_cmp(&ready(other)))
            .then(self.largest("spread_k").total_cmp(&other.largest("spread_k")))
    }
}

fn value(values: &[f64], column: &str) -> f64 {
    let at = COLUMNS.iter().position(|c| c.name == column);
    at.and_then(|at| values.get(at)).copied().unwrap_or(f64::NAN)
}

/// A finished sweep.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepTable {
    /// The varied keys.
    pub axes: Vec<Axis>,
    /// One outcome, or the reason there is none, for each point of the grid; the
    /// last axis runs fastest.
    pub rows: Vec<Result<Outcome, String>>,
}

impl SweepTable {
    /// The value of each axis at a row, as written.
    pub(crate) fn values_at(&self, row: usize) -> Vec<&str> {
        let places = self.axes.iter().zip(self.places(row));
        places.map(|(axis, at)| axis.values.get(at).map_or("", String::as_str)).collect()
    }

    /// The value of each axis at a row, as people read it; `shown` is [`Axis::shown`] of each.
    pub(crate) fn shown_at<'s>(&self, shown: &'s [Vec<String>], row: usize) -> Vec<&'s str> {
        let places = shown.iter().zip(self.places(row));
        places.map(|(values, at)| values.get(at).map_or("", String::as_str)).collect()
    }

    /// The place of a row along each axis.
    fn places(&self, row: usize) -> Vec<usize> {
        let mut rest = row;
        let mut places: Vec<usize> = Vec::with_capacity(self.axes.len());
        for axis in self.axes.iter().rev() {
            let count = axis.values.len().max(1);
            places.push(rest % count);
            rest /= count;
        }
        places.reverse();
        places
    }

    /// Indices and outcomes of the nights that were computed, best first.
    pub(crate) fn ranked(&self) -> Vec<(usize, &Outcome)> {
        let mut ranked: Vec<(usize, &Outcome)> =
            self.rows.iter().enumerate().filter_map(|(i, r)| Some((i, r.as_ref().ok()?))).collect();
        ranked.sort_by(|a, b| a.1.rank(b.1));
        ranked
    }
}

/// The best nights of a sweep as an aligned table, best first.
///
/// Ranked by good hours, then by readiness, then by the largest spread. There is
/// no final newline.
#[must_use]
pub fn sweep_text(table: &SweepTable) -> String {
    let ranked = table.ranked();
    let mut head: Vec<String> = table.axes.iter().map(|axis| short(&axis.key, 30)).collect();
    head.extend(
        ["good", "ready", "after", "largest spread", "front − air at the end"].map(str::to_owned),
    );
    let mut rows = vec![head];
    let shown: Vec<Vec<String>> = table.axes.iter().map(Axis::shown).collect();
    for (index, outcome) in ranked.iter().take(SHOWN) {
        let values = table.shown_at(&shown, *index).into_iter();
        let mut row: Vec<String> = values.map(|value| short(value, 30)).collect();
        row.extend([
            hours(outcome.good_hours),
            outcome.ready_at.clone().unwrap_or("never".to_owned()),
            outcome.ready_at_s.map_or("–".to_owned(), minutes),
            format!("{} K", plain(outcome.largest("spread_k"))),
            format!("{} K", signed(outcome.last("front_minus_air_k"))),
        ]);
        rows.push(row);
    }
    let mut text = aligned(&rows);
    text.push('\n');
    text += &wrap(&closing(table, &ranked), 0);
    text
}

/// How many there are, how the order was made, and what failed.
fn closing(table: &SweepTable, ranked: &[(usize, &Outcome)]) -> String {
    let failed = table.rows.len() - ranked.len();
    let mut text = match ranked.len() {
        0 => "No night could be computed.".to_owned(),
        n if n > SHOWN => {
            format!("The best {SHOWN} of {n} nights, by good hours, then readiness, then spread.")
        }
        n => format!("{n} nights, by good hours, then readiness, then spread."),
    };
    if !ranked.is_empty() && ranked.iter().all(|(_, o)| o.ready_at_s.is_none()) {
        text.push_str(" None of them becomes good.");
    }
    if table.axes.iter().any(|axis| axis.key == "night.duration") {
        text.push_str(
            " The runs are not equally long, and good hours count only what each covers.",
        );
    }
    let reason = table.rows.iter().find_map(|row| row.as_ref().err()).map(|reason| {
        format!(" {failed} could not be computed, the first because: {}", short(reason, 200))
    });
    text.extend(reason);
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_axis_runs_fastest() {
        let axis = |key: &str, values: &[&str]| Axis {
            key: key.to_owned(),
            values: values.iter().map(|&v| v.to_owned()).collect(),
        };
        let table = SweepTable {
            axes: vec![axis("a", &["1", "2"]), axis("b", &["x", "y", "z"])],
            rows: vec![],
        };
        assert_eq!(table.values_at(0), ["1", "x"]);
        assert_eq!(table.values_at(2), ["1", "z"]);
        assert_eq!(table.values_at(3), ["2", "x"]);
    }
}
