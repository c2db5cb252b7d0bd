//! Many nights on a grid of varied keys: what is kept of each, and the best of them.

use crate::axis::Axis;
use crate::outcome::Outcome;
use crate::text::{aligned, notes_text, short, wrap};
use crate::wording::{hours, plain, signed, two_digits};

/// Rows of the table on the terminal; `sweep.csv` has them all.
const SHOWN: usize = 20;

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
        ranked.sort_by(|a, b| a.1.rank(b.1, 0.0));
        ranked
    }
}

/// The best nights of a sweep as an aligned table, best first, and what to know of them.
///
/// Ranked by good hours, then by the figure, then by readiness. There is no final newline.
#[must_use]
pub fn sweep_text(table: &SweepTable) -> String {
    let ranked = table.ranked();
    let keys = || table.axes.iter();
    let mut head: Vec<String> = keys().map(|axis| short(&axis.key, 30)).collect();
    head.extend(["good", "ready", "figure", "correction", "shimmer"].map(str::to_owned));
    let mut units: Vec<String> = keys().map(|_| String::new()).collect();
    units.extend(["", "", "nm RMS", "%", "arcsec"].map(str::to_owned));
    let mut rows = vec![head, units];
    let shown: Vec<Vec<String>> = table.axes.iter().map(Axis::shown).collect();
    for (index, outcome) in ranked.iter().take(SHOWN) {
        let values = table.shown_at(&shown, *index).into_iter();
        let mut row: Vec<String> = values.map(|value| short(value, 30)).collect();
        row.extend([
            hours(outcome.good_hours),
            outcome.ready_at.clone().unwrap_or("never".to_owned()),
            plain(two_digits(outcome.figure_nm)),
            signed(two_digits(outcome.halfway("correction_percent"))),
            plain(two_digits(outcome.halfway("seeing_arcsec"))),
        ]);
        rows.push(row);
    }
    let mut text = aligned(&rows);
    text.push('\n');
    text += &wrap(&closing(table, &ranked), 0);
    text.extend(notes_text(ranked.iter().map(|(_, outcome)| &outcome.warnings[..])));
    text
}

/// How many there are, how the order was made, and what failed.
fn closing(table: &SweepTable, ranked: &[(usize, &Outcome)]) -> String {
    let failed = table.rows.len() - ranked.len();
    let mut text = match ranked.len() {
        0 => "No night could be computed.".to_owned(),
        n if n > SHOWN => {
            format!("The best {SHOWN} of {n} nights, by good hours, then figure, then readiness.")
        }
        n => format!("{n} nights, by good hours, then figure, then readiness."),
    };
    if !ranked.is_empty() {
        text.push_str(
            " Figure: mean of the second half of the run; correction (+ is over-corrected) and \
             shimmer: halfway through.",
        );
        if ranked.iter().all(|(_, o)| o.ready_at_s.is_none()) {
            text.push_str(" None of them becomes good.");
        }
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
