//! Who may use whom, and which package lives where.
//!
//! The tables here are those of `DEVELOPERS.md`: a new arrow or a new home changes
//! both in one commit.

use std::collections::BTreeSet;

use crate::workspace::{Package, packages};

/// Crate, and the crates of the house it may use. Each uses only crates above it.
const ARROWS: [(&str, &[&str]); 10] = [
    ("units", &[]),
    ("convection", &[]),
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
    ("schemars", &["scenario"]),
    ("serde", &["scenario", "report"]),
    ("serde_json", &["scenario", "report"]),
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
