//! Reads tables of check values: one published or library value a row.

/// A value to reproduce.
pub(crate) struct Check {
    pub(crate) quantity: String,
    pub(crate) inputs: String,
    pub(crate) value: f64,
    pub(crate) source: String,
    pub(crate) tolerance: f64,
}

impl Check {
    /// The input named `key`.
    pub(crate) fn input(&self, key: &str) -> f64 {
        let pair =
            self.inputs.split(' ').find_map(|pair| pair.split_once('=').filter(|p| p.0 == key));
        let (_, number) = pair.unwrap_or_else(|| panic!("`{}` has no `{key}`", self.inputs));
        number.parse().unwrap_or_else(|_| panic!("`{number}` is not a number"))
    }
}

/// The rows of `tests/references/data/air_checks.csv`, in its order.
pub(crate) fn rows() -> Vec<Check> {
    rows_of(include_str!("data/air_checks.csv"))
}

/// The rows of a table, in its order.
pub(crate) fn rows_of(table: &str) -> Vec<Check> {
    let lines = table.lines().filter(|line| !line.starts_with('#')).skip(1);
    let rows = lines.map(|line| {
        let cells: Vec<&str> = line.split(',').collect();
        assert_eq!(cells.len(), 7, "seven columns in `{line}`");
        Check {
            quantity: cells[0].to_owned(),
            inputs: cells[1].to_owned(),
            value: cells[2].parse().expect("the value is a number"),
            source: cells[4].to_owned(),
            tolerance: cells[5].parse().expect("the tolerance is a number"),
        }
    });
    rows.collect()
}

/// Compares every row of `air_checks.csv` for which `ours` has an answer with it, and
/// returns how many those were.
pub(crate) fn compare(ours: impl Fn(&Check) -> Option<f64>) -> usize {
    compare_rows(rows(), ours)
}

/// Compares every row for which `ours` has an answer with it, and returns how many those
/// were. Rows are given to six digits: where the stated tolerance is tighter, half a unit
/// of the sixth digit counts instead.
pub(crate) fn compare_rows(rows: Vec<Check>, ours: impl Fn(&Check) -> Option<f64>) -> usize {
    let mut compared = 0;
    let mut wrong = Vec::new();
    for row in rows {
        let Some(value) = ours(&row) else { continue };
        compared += 1;
        let allowed = row.value.abs() * row.tolerance.max(5e-6);
        if value.is_nan() || (value - row.value).abs() > allowed {
            let Check { quantity, inputs, value: wanted, source, .. } = row;
            wrong.push(format!("{quantity} {inputs}: {wanted} by {source}, ours {value}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    compared
}
