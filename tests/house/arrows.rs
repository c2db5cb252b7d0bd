//! Who may use whom, and which package lives where.
//!
//! The tables here are those of `DEVELOPERS.md`: a new arrow or a new home changes
//! both in one commit.

use std::collections::BTreeSet;

use crate::workspace::{Package, packages, root};

/// Crate, and the crates of the house it may use. Each uses only crates above it.
const ARROWS: [(&str, &[&str]); 10] = [
    ("units", &[]),
    ("convection", &["units"]),
    ("materials", &["units"]),
    ("airflow", &["units"]),
    ("disc", &["units"]),
    ("optics", &["units"]),
    ("scenario", &["units", "materials"]),
    ("simulation", &["units", "convection", "materials", "airflow", "disc", "optics", "scenario"]),
    ("report", &["units", "simulation"]),
    ("cli", &["units", "materials", "scenario", "simulation", "report"]),
];

/// Package from outside, and the only crates that may use it.
const HOMES: &[(&str, &[&str])] = &[
    ("ab_glyph", &["report"]),
    ("annotate-snippets", &["cli"]),
    ("anstream", &["cli"]),
    ("clap", &["cli"]),
    ("clap_complete", &["cli"]),
    ("clap_mangen", &["cli"]),
    ("colorous", &["report"]),
    ("csv", &["scenario", "report"]),
    ("ctrlc", &["cli"]),
    ("indicatif", &["cli"]),
    ("jiff", &["scenario"]),
    ("nalgebra", &["disc", "optics", "simulation"]),
    ("ndarray", &["disc", "optics", "simulation", "report"]),
    ("notosans", &["report"]),
    ("plotters", &["report"]),
    ("plotters-backend", &["report"]),
    ("png", &["report"]),
    ("rayon", &["simulation"]),
    ("rustfft", &["optics"]),
    ("serde", &["scenario", "report"]),
    ("serde_json", &["scenario", "report"]),
    ("sobol_burley", &["simulation"]),
    ("statrs", &["simulation"]),
    ("strsim", &["scenario"]),
    ("tiny-skia", &["report"]),
    ("toml", &["scenario"]),
];

/// Packages any crate may use.
const ANYWHERE: [&str; 1] = ["thiserror"];

/// Packages for tests and benches only.
const ONLY_FOR_TESTS: [&str; 6] = ["approx", "assert_cmd", "divan", "libm", "proptest", "tempfile"];

const PREFIX: &str = "evenglass-";

/// What is wrong with the dependencies of a package, in words.
fn trespasses(package: &Package) -> Vec<String> {
    let Some(name) = package.name.strip_prefix(PREFIX) else {
        return vec![format!("`{}` is not named {PREFIX}…", package.name)];
    };
    let Some((_, allowed)) = ARROWS.iter().find(|(crate_name, _)| *crate_name == name) else {
        return vec![format!("`{name}` has no row in the table of arrows")];
    };
    let refuse = |used: &String| {
        let fine = match used.strip_prefix(PREFIX) {
            Some(inside) => allowed.contains(&inside),
            None => ANYWHERE.contains(&used.as_str()) || lives_in(used, name),
        };
        (!fine).then(|| format!("`{name}` may not use `{used}`"))
    };
    package.dependencies.iter().filter_map(refuse).collect()
}

fn lives_in(package: &str, crate_name: &str) -> bool {
    HOMES.iter().any(|(housed, homes)| *housed == package && homes.contains(&crate_name))
}

#[test]
fn every_crate_uses_only_what_its_row_of_the_table_allows() {
    let found: Vec<String> = packages().iter().flat_map(trespasses).collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn a_forbidden_arrow_and_a_package_away_from_home_would_be_found() {
    let package = Package {
        name: "evenglass-disc".to_owned(),
        dependencies: ["evenglass-units", "evenglass-convection", "rayon", "thiserror", "approx"]
            .map(str::to_owned)
            .to_vec(),
        dev_dependencies: Vec::new(),
    };
    assert_eq!(
        trespasses(&package),
        [
            "`disc` may not use `evenglass-convection`",
            "`disc` may not use `rayon`",
            "`disc` may not use `approx`"
        ]
    );
}

#[test]
fn the_table_of_arrows_has_no_way_round() {
    for (row, (name, allowed)) in ARROWS.iter().enumerate() {
        let above: BTreeSet<&str> = ARROWS[..row].iter().map(|(name, _)| *name).collect();
        for used in *allowed {
            assert!(above.contains(used), "`{name}` uses `{used}`, which does not stand above it");
        }
    }
}

#[test]
fn packages_for_tests_reach_no_user() {
    for package in packages() {
        for used in &package.dev_dependencies {
            let known = ONLY_FOR_TESTS.contains(&used.as_str())
                || used.starts_with(PREFIX)
                || HOMES.iter().any(|(housed, _)| housed == used);
            assert!(known, "`{}` tests with `{used}`, which has no row", package.name);
        }
    }
}

/// Cells of the rows of `DEVELOPERS.md` between one heading cell and the table's end.
fn table(heading: &str) -> Vec<Vec<String>> {
    let page = std::fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let start = page.find(heading).unwrap_or_else(|| panic!("no table that starts `{heading}`"));
    let rows = page[start..].lines().skip(2).take_while(|line| line.starts_with('|'));
    let cells = |row: &str| row.trim_matches('|').split('|').map(|c| c.trim().to_owned()).collect();
    rows.map(cells).collect()
}

#[test]
fn the_developers_page_shows_these_arrows() {
    let shown = table("| crate | role | may use |");
    assert_eq!(shown.len(), ARROWS.len(), "a row for each crate: {shown:?}");
    for (row, (at, (name, allowed))) in shown.iter().zip(ARROWS.iter().enumerate()) {
        assert!(row[0].starts_with(&format!("`{name}`")), "row {at} is of `{name}`: {row:?}");
        let expected = match row[2].as_str() {
            "—" => vec![],
            "all above" => ARROWS[..at].iter().map(|(name, _)| *name).collect(),
            list => list.split(", ").collect(),
        };
        assert_eq!(expected, *allowed, "`{name}`");
    }
}

#[test]
fn the_developers_page_shows_these_homes() {
    let mut shown: Vec<(String, String)> = vec![];
    for row in table("| packages | home |") {
        shown.extend(row[0].split(", ").map(|package| (package.to_owned(), row[1].clone())));
    }
    let housed = HOMES.iter().map(|(package, homes)| (*package, homes.join(", ")));
    let anywhere = ANYWHERE.iter().map(|package| (*package, "anywhere".to_owned()));
    let tests = ONLY_FOR_TESTS.iter().map(|package| (*package, "tests and benches".to_owned()));
    let mut expected: Vec<(String, String)> =
        housed.chain(anywhere).chain(tests).map(|(p, home)| (p.to_owned(), home)).collect();
    shown.sort();
    expected.sort();
    assert_eq!(shown, expected);
}
