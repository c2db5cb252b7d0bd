//! Every film correlation in `tests/references/data/air_checks.csv`.

#[path = "../../../tests/references/check_table.rs"]
mod check_table;
#[path = "../../../tests/references/film_checks.rs"]
mod film_checks;

use check_table::{compare, rows};
use film_checks::film;

#[test]
fn every_film_gives_the_published_and_library_values() {
    assert_eq!(compare(film), 89);
}

#[test]
fn no_row_of_the_table_goes_untested() {
    // The first are compared in evenglass-materials, the last in evenglass-simulation.
    let elsewhere =
        ["moist_air_", "humidity_ratio", "psat_", "dew_point", "pressure_ISA", "h_nat_disc"];
    for row in rows() {
        let there = elsewhere.iter().any(|start| row.quantity.starts_with(start));
        assert!(there || film(&row).is_some(), "{} {}", row.quantity, row.inputs);
    }
}
