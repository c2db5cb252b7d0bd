//! CSV tables; the column names are the contract.

mod sizing;

use std::io::{self, Write};

use evenglass_simulation::Night;
use evenglass_simulation::result::COLUMNS;

use crate::outcome::Outcome;
use crate::sweep::SweepTable;

pub(crate) use sizing::{films, reach, sizing, state};

/// `value` with ten significant digits, trailing zeros dropped; empty if it is not finite.
pub(crate) fn number(value: f64) -> String {
    if !value.is_finite() {
        return String::new();
    }
    let rounded: f64 = format!("{value:.9e}").parse().unwrap_or(value);
    // Adding zero turns −0 into 0.
    let rounded = rounded + 0.0;
    if rounded != 0.0 && rounded.abs() < 1e-6 {
        format!("{rounded:e}")
    } else {
        format!("{rounded}")
    }
}

/// `history.csv`: one row per output interval.
pub(crate) fn history(night: &Night, out: &mut impl Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(out);
    let mut header: Vec<&str> = COLUMNS.iter().map(|c| c.name).collect();
    header.insert(1, "clock");
    header.insert(good_after() + 2, "good");
    csv.write_record(header)?;
    for record in &night.history {
        let mut row: Vec<String> = COLUMNS.iter().map(|c| number((c.value)(record))).collect();
        row.insert(1, night.scenario.night.start.hms(record.time_s));
        row.insert(good_after() + 2, record.good.to_string());
        csv.write_record(row)?;
    }
    csv.flush()
}

/// The numeric column after which `good` stands.
fn good_after() -> usize {
    let at = |name: &str| COLUMNS.iter().position(|c| c.name == name);
    let margins = at("dew_margin_secondary_k").or_else(|| at("column_excess_k"));
    margins.unwrap_or(COLUMNS.len() - 1)
}

/// `fields.csv`: every point of every field, radius by radius, from the back up.
pub(crate) fn fields(night: &Night, out: &mut impl Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(out);
    csv.write_record(["time_s", "r_m", "z_m", "temperature_c"])?;
    for field in &night.fields {
        let time = number(field.time_s);
        for (i, &radius) in night.points.radius_m.iter().enumerate() {
            let radius = number(radius);
            let heights = night.points.height_m.row(i);
            for (&height, &kelvin) in heights.iter().zip(field.temperature_k.row(i)) {
                let celsius = evenglass_units::Temperature::from_kelvin(kelvin).celsius();
                csv.write_record([&time, &radius, &number(height), &number(celsius)])?;
            }
        }
    }
    csv.flush()
}

/// `compare.csv`: one row per alternative.
pub(crate) fn comparison(nights: &[(String, Night)], out: &mut impl Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(out);
    let mut header = vec!["alternative".to_owned()];
    header.extend(outcome_header());
    csv.write_record(header)?;
    for (label, night) in nights {
        let mut row = vec![label.clone()];
        row.extend(outcome_cells(&Outcome::from(night)));
        csv.write_record(row)?;
    }
    csv.flush()
}

/// `sweep.csv`: the varied keys and the outcome; a night that failed has empty
/// cells and its reason in a last column, which is there only if one failed.
pub(crate) fn sweep(table: &SweepTable, out: &mut impl Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(out);
    let failed = table.rows.iter().any(Result::is_err);
    let mut header: Vec<String> = table.axes.iter().map(|axis| axis.key.clone()).collect();
    let outcome = outcome_header();
    let width = outcome.len();
    header.extend(outcome);
    if failed {
        header.push("error".to_owned());
    }
    csv.write_record(header)?;
    for (index, result) in table.rows.iter().enumerate() {
        let mut row: Vec<String> = table.values_at(index).into_iter().map(str::to_owned).collect();
        match result {
            Ok(outcome) => row.extend(outcome_cells(outcome)),
            Err(_) => row.extend(std::iter::repeat_n(String::new(), width)),
        }
        if failed {
            row.push(result.as_ref().err().cloned().unwrap_or_default());
        }
        csv.write_record(row)?;
    }
    csv.flush()
}

/// Indices of the columns that have an end and extremes worth telling; time has none.
pub(crate) fn told_columns() -> impl Iterator<Item = usize> {
    (0..COLUMNS.len()).filter(|&c| COLUMNS[c].name != "time_s")
}

fn outcome_header() -> Vec<String> {
    let mut names = vec!["good_hours".to_owned(), "ready_at".to_owned()];
    for prefix in ["end", "min", "max"] {
        names.extend(told_columns().map(|c| format!("{prefix}.{}", COLUMNS[c].name)));
    }
    names
}

fn outcome_cells(outcome: &Outcome) -> Vec<String> {
    let mut cells = vec![number(outcome.good_hours), outcome.ready_at.clone().unwrap_or_default()];
    for values in [&outcome.end, &outcome.min, &outcome.max] {
        cells.extend(told_columns().map(|c| values.get(c).map_or(String::new(), |&v| number(v))));
    }
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_ten_digits_and_have_no_negative_zero() {
        assert_eq!(number(11.283_746_592_019), "11.28374659");
        assert_eq!(number(300.0), "300");
        assert_eq!(number(-0.0), "0");
        assert_eq!(number(1.5e-9), "1.5e-9");
        assert_eq!(number(f64::NAN), "");
    }
}
