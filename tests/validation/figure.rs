//! Figures beside what a general-purpose finite-element library makes of the same nights.

use std::collections::BTreeMap;

use evenglass_disc::Resolution;
use evenglass_simulation::result::COLUMNS;
use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::simulate;

use crate::end_to_end::nights;
use crate::figure_table::{Kind, Mirror, Stated, mirrors};
use crate::page::Comparison;
use crate::table::{Row, data};

/// The promise: this share, or this much \[nm\].
const SHARE: f64 = 5e-3;
const NANOMETRES: f64 = 0.2;

/// What is compared, by its column, and what it is in words.
const NUMBERS: [(&str, &str); 7] = [
    ("defocus_nm", "focus as height of the edge [nm]"),
    ("figure_rms_nm", "RMS [nm]"),
    ("figure_pv_nm", "peak to valley [nm]"),
    ("spherical_nm", "spherical aberration, Noll 11 [nm]"),
    ("coma_nm", "coma [nm]"),
    ("astigmatism_nm", "astigmatism [nm]"),
    ("trefoil_nm", "trefoil [nm]"),
];

/// Every figure of both kinds of tables.
pub(crate) fn compared() -> Vec<Comparison> {
    let mut all = ends_of_nights();
    all.extend(bent_mirrors());
    all
}

fn comparison(words: String, inputs: String, source: String, numbers: [f64; 4]) -> Comparison {
    let [published, error, ours, finely] = numbers;
    let allowed = (SHARE * published.abs()).max(NANOMETRES) + error;
    Comparison {
        quantity: words,
        inputs,
        source,
        published: format!("{published:.3}"),
        ours: format!("{ours:.3}"),
        gap: ours - published,
        allowed,
        fine: Some((finely - published, allowed)),
        unit: "nm",
    }
}

/// One curved mirror of two glasses in falling air and after a step.
fn ends_of_nights() -> Vec<Comparison> {
    let nights: Vec<_> = nights()
        .into_iter()
        .map(|night| {
            let [usual, fine] =
                [Resolution::default(), Resolution::fine()].map(|r| night.computed(&r));
            (night, usual, fine)
        })
        .collect();
    let mut all = vec![];
    for (column, words) in NUMBERS {
        for (night, usual, fine) in &nights {
            let rows = night.rows.iter().zip(usual.iter().zip(fine));
            for (row, (ours, finely)) in rows.filter(|(row, _)| row.quantity == column) {
                let inputs = described(row);
                let words = format!("figure of a 400 mm mirror, f/5, 50 mm: {words}");
                let source = "scikit-fem 12.0.2".to_owned();
                all.push(comparison(words, inputs, source, [row.value, 0.0, *ours, *finely]));
            }
        }
    }
    all
}

/// What differs from row to row.
fn described(row: &Row) -> String {
    let glass = if row.input("expansion") > 5e-6 { "soda-lime" } else { "borosilicate" };
    let [back, front, rim] = ["film_back", "film_front", "film_rim"].map(|name| row.input(name));
    let when = if row.has("step") {
        format!("{} s after a step of {} K", row.input("time"), row.input("step"))
    } else {
        format!("air falls by {} K/h", row.input("fall"))
    };
    format!("{glass}; films: back {back}, front {front}, rim {rim}; {when}")
}

/// What the numbers of each case's name stand for, as the case's own remark says it.
fn remarks(kind: Kind) -> BTreeMap<String, String> {
    let file = match kind {
        Kind::Even => "figure_cases.csv",
        Kind::Lopsided => "lopsided_cases.csv",
    };
    let text = std::fs::read_to_string(data(file)).expect("the table is there");
    let remarks = text.lines().filter_map(|line| line.strip_prefix("# ")?.split_once(": "));
    remarks
        .map(|(name, remark)| {
            let words = remark.split(';').next().expect("a remark begins with the case");
            (name.to_owned(), words.to_owned())
        })
        .collect()
}

fn last_row(scenario: &Scenario, resolution: &Resolution) -> BTreeMap<&'static str, f64> {
    let night = simulate(scenario, resolution).expect("the case can be computed");
    let last = night.history.last().expect("a night has rows");
    COLUMNS.iter().map(|column| (column.name, (column.value)(last))).collect()
}

/// Thirteen mirrors of all sorts, three of them lopsided.
fn bent_mirrors() -> Vec<Comparison> {
    let kinds = [Kind::Even, Kind::Lopsided];
    let computed = kinds.iter().flat_map(|&kind| {
        let remarks = remarks(kind);
        mirrors(kind).into_iter().map(move |mirror| {
            let scenario = mirror.scenario();
            let [usual, fine] =
                [Resolution::default(), Resolution::fine()].map(|r| last_row(&scenario, &r));
            let at = inputs(&mirror, &remarks);
            let how = if kind == Kind::Even { "" } else { ", three dimensions" };
            (mirror, at, format!("scikit-fem 12.0.2{how}"), usual, fine)
        })
    });
    let computed: Vec<_> = computed.collect();
    let mut all = vec![];
    for (column, words) in NUMBERS {
        for (mirror, at, source, usual, fine) in &computed {
            let Some(&Stated { value, error }) = mirror.numbers.get(column) else { continue };
            let words = format!("figures of thirteen mirrors: {words}");
            let numbers = [value, error, usual[column], fine[column]];
            all.push(comparison(words, at.clone(), source.clone(), numbers));
        }
    }
    all
}

fn inputs(mirror: &Mirror, remarks: &BTreeMap<String, String>) -> String {
    let remark = remarks.get(&mirror.name).map(|remark| format!(": {remark}"));
    format!("{}{}", mirror.name, remark.unwrap_or_default())
}
