//! The committed tables: rows of inputs, value, tolerance and source.

use std::collections::BTreeSet;
use std::path::PathBuf;

/// One line of `data/conduction.csv`, or of a table with the same columns.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    pub(crate) quantity: String,
    pub(crate) inputs: String,
    pub(crate) value: f64,
    pub(crate) tolerance_rel: f64,
}

/// Where a value is exactly 0, this much is allowed (in the value's unit).
const TOLERANCE_AT_ZERO: f64 = 1e-9;

impl Row {
    /// An input by name.
    pub(crate) fn input(&self, name: &str) -> f64 {
        number(self.word(name))
    }

    /// An input by name, as written.
    pub(crate) fn word(&self, name: &str) -> &str {
        self.find(name).unwrap_or_else(|| panic!("no `{name}` in: {}", self.inputs))
    }

    /// Whether an input is there.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.find(name).is_some()
    }

    /// Asserts that `computed` is the row's value within the row's own tolerance.
    pub(crate) fn check(&self, computed: f64) {
        let allowed = self.own_tolerance();
        self.check_within(computed, allowed);
    }

    /// Asserts that `computed` is the row's value within `allowed`, or the row's own tolerance if wider.
    pub(crate) fn check_within(&self, computed: f64, allowed: f64) {
        let allowed = allowed.max(self.own_tolerance());
        let gap = computed - self.value;
        assert!(
            gap.abs() <= allowed,
            "{} at {}: computed {computed}, expected {}, off by {gap:.3e}, allowed {allowed:.1e}",
            self.quantity,
            self.inputs,
            self.value
        );
    }

    fn own_tolerance(&self) -> f64 {
        if self.value == 0.0 { TOLERANCE_AT_ZERO } else { self.tolerance_rel * self.value.abs() }
    }

    fn find(&self, name: &str) -> Option<&str> {
        self.inputs.split(' ').find_map(|word| word.strip_prefix(name)?.strip_prefix('='))
    }
}

/// The rows of one quantity; there is at least one.
pub(crate) fn rows(quantity: &str) -> Vec<Row> {
    let rows: Vec<Row> = all().into_iter().filter(|row| row.quantity == quantity).collect();
    assert!(!rows.is_empty(), "no rows of `{quantity}`");
    rows
}

/// Path of a file in `data`.
pub(crate) fn data(name: &str) -> PathBuf {
    PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/references/data")).join(name)
}

/// A number of a table.
pub(crate) fn number(cell: &str) -> f64 {
    cell.parse().unwrap_or_else(|_| panic!("`{cell}` is not a number"))
}

fn all() -> Vec<Row> {
    rows_of("conduction.csv")
}

/// The rows of a table with the same columns, in its order.
pub(crate) fn rows_of(file: &str) -> Vec<Row> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(data(file))
        .expect("the table is in the repository");
    let columns =
        ["quantity", "inputs", "value", "unit", "source", "tolerance_rel", "how_obtained"];
    let headers = reader.headers().expect("the table has headers");
    assert_eq!(headers, columns.as_slice(), "the columns this reads");
    reader
        .records()
        .map(|record| {
            let record = record.expect("the table is well formed");
            Row {
                quantity: record[0].to_owned(),
                inputs: record[1].to_owned(),
                value: number(&record[2]),
                tolerance_rel: number(&record[5]),
            }
        })
        .collect()
}

/// A row nobody reads checks nothing.
#[test]
fn every_quantity_of_the_table_has_its_test() {
    let checked = BTreeSet::from([
        "asymmetric-slab-excess",
        "curved-disc-excess",
        "cylinder-excess",
        "cylinder-first-coefficient",
        "cylinder-first-root",
        "falling-asymmetric-slab-lag",
        "falling-disc-face-edge-minus-centre",
        "falling-disc-lag",
        "falling-slab-lag-centre",
        "falling-slab-lag-mean",
        "falling-slab-lag-surface",
        "falling-slab-lag-transient",
        "finite-cylinder-excess",
        "finite-cylinder-face-edge-minus-centre",
        "lumped-time-constant",
        "semi-infinite-change",
        "slab-excess",
        "slab-first-coefficient",
        "slab-first-root",
        "slab-time-constant",
        "steady-disc-warm-rim",
        "thin-disc-lag",
    ]);
    let rows = all();
    let there: BTreeSet<&str> = rows.iter().map(|row| row.quantity.as_str()).collect();
    assert_eq!(there, checked);
    assert_eq!(rows.len(), 326);
}
