//! What every picture of a sweep shows, and what its axes are.

use crate::axis::{Axis, number_and_unit};
use crate::outcome::Outcome;
use crate::plot::scale::Ticks;
use crate::style::{BLUE, GREEN, Rgb, VERMILION};
use crate::sweep::SweepTable;

/// Something a sweep is judged by.
#[derive(Debug, Clone, Copy)]
pub(super) struct Measure {
    pub(super) name: &'static str,
    pub(super) unit: &'static str,
    pub(super) colour: Rgb,
    /// NaN where a night has no such value.
    pub(super) value: fn(&Outcome) -> f64,
    /// Smallest range its axis covers.
    pub(super) least: f64,
}

/// What every picture of a sweep shows.
pub(super) const MEASURES: [Measure; 3] = [
    Measure { name: "Good image", unit: "h", colour: GREEN, value: |o| o.good_hours, least: 0.5 },
    Measure {
        name: "Ready",
        unit: "h after the start",
        colour: BLUE,
        value: |o| o.ready_at_s.map_or(f64::NAN, |s| s / 3600.0),
        least: 0.5,
    },
    Measure {
        name: "Figure error",
        unit: "nm RMS, mean of the second half",
        colour: VERMILION,
        value: |o| o.figure_nm,
        least: 1.0,
    },
];

/// An axis whose values are numbers that rise or fall.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Numbers {
    pub(super) values: Vec<f64>,
    pub(super) unit: Unit,
}

/// What the numbers of an axis are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Unit {
    /// Written behind each; empty for bare numbers.
    Written(String),
    /// Clock times, as hours that go on counting after midnight.
    Clock,
}

/// The values of an axis as numbers, if they are, with one unit and one direction.
pub(super) fn numbers(axis: &Axis) -> Option<Numbers> {
    let numbers = clock_times(axis).or_else(|| with_unit(axis))?;
    let pairs = || numbers.values.windows(2);
    let one_way = pairs().all(|w| w[0] < w[1]) || pairs().all(|w| w[0] > w[1]);
    (one_way && numbers.values.len() > 1).then_some(numbers)
}

/// "19:00", "23:30", "00:30" as 19, 23.5, 24.5.
fn clock_times(axis: &Axis) -> Option<Numbers> {
    let mut values: Vec<f64> = Vec::with_capacity(axis.values.len());
    for text in &axis.values {
        let (hours, minutes) = text.trim().split_once(':')?;
        let (hours, minutes): (u8, u8) = (hours.parse().ok()?, minutes.parse().ok()?);
        let mut value = f64::from(hours) + f64::from(minutes) / 60.0;
        // Only a step back over more than half a day can mean the next morning.
        if values.last().is_some_and(|last| last - value > 12.0) {
            value += 24.0;
        }
        values.push(value);
    }
    Some(Numbers { values, unit: Unit::Clock })
}

fn with_unit(axis: &Axis) -> Option<Numbers> {
    let parts: Option<Vec<(f64, &str)>> = axis.values.iter().map(|v| number_and_unit(v)).collect();
    let parts = parts?;
    let (_, unit) = parts.first()?;
    let values = parts.iter().map(|p| p.0).collect();
    let unit_of_all = Unit::Written((*unit).to_owned());
    parts.iter().all(|p| p.1 == *unit).then_some(Numbers { values, unit: unit_of_all })
}

impl Numbers {
    /// A position on the axis as text.
    pub(super) fn text(&self, value: f64, ticks: &Ticks) -> String {
        match self.unit {
            Unit::Written(_) => ticks.text(value),
            Unit::Clock => {
                let minutes = (value * 60.0).round().rem_euclid(1440.0);
                format!("{:02.0}:{:02.0}", (minutes / 60.0).floor(), minutes % 60.0)
            }
        }
    }

    /// The key with the unit.
    pub(super) fn name(&self, key: &str) -> String {
        match &self.unit {
            Unit::Written(unit) if !unit.is_empty() => format!("{key}, {unit}"),
            _ => key.to_owned(),
        }
    }
}

/// "12 nights computed, 1 failed".
pub(super) fn tally(table: &SweepTable) -> String {
    let failed = table.rows.iter().filter(|row| row.is_err()).count();
    let computed = table.rows.len() - failed;
    let nights = if computed == 1 { "night" } else { "nights" };
    if failed == 0 {
        format!("{computed} {nights}")
    } else {
        format!("{computed} {nights}, {failed} more could not be computed")
    }
}

/// "back.film.coefficient" as it stands in a title.
pub(super) fn keys(table: &SweepTable) -> String {
    let keys: Vec<&str> = table.axes.iter().map(|axis| axis.key.as_str()).collect();
    keys.join(" × ")
}

#[cfg(test)]
mod tests {
    use crate::plot::scale::Range;

    use super::*;

    fn axis(values: &[&str]) -> Axis {
        Axis { key: "k".to_owned(), values: values.iter().map(|&v| v.to_owned()).collect() }
    }

    #[test]
    fn an_axis_of_numbers_with_one_unit_is_told_from_a_list_of_names() {
        let films = numbers(&axis(&["6 W/m2/K", "12 W/m2/K", "2.4e1 W/m2/K"])).unwrap();
        assert_eq!(films.values, [6.0, 12.0, 24.0]);
        assert_eq!(films.name("film"), "film, W/m2/K");
        let times = numbers(&axis(&["19:00", "23:30", "00:30"])).unwrap();
        assert_eq!(times.values, [19.0, 23.5, 24.5]);
        assert_eq!(times.text(24.5, &Ticks::in_range(Range { low: 0.0, high: 1.0 }, 2)), "00:30");
        assert!(numbers(&axis(&["soda-lime", "borosilicate"])).is_none(), "names");
        assert!(numbers(&axis(&["6 mm", "1 in"])).is_none(), "two units");
        assert!(numbers(&axis(&["6", "1", "3"])).is_none(), "no direction");
        assert!(numbers(&axis(&["6"])).is_none(), "a single point is no curve");
        assert!(numbers(&axis(&["e mm", "é"])).is_none(), "no number at all");
    }
}
