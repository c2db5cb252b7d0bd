//! How long the files of a night, a comparison and a sweep take.

#![allow(clippy::unwrap_used, reason = "a bench that cannot go on has failed")]
#![allow(dead_code, reason = "the toy nights have more knobs than a bench turns")]

use evenglass_report::{
    Axis, Outcome, ResultFolder, SweepTable, write_comparison, write_night, write_sweep,
};

#[path = "../tests/report/toy.rs"]
mod toy;

use toy::Toy;

fn main() {
    divan::main();
}

/// Everything `evenglass run` writes, with four sections.
#[divan::bench]
fn a_night(bencher: divan::Bencher) {
    let more = "[output]\nfields_at = ['1 h', '23:00', '01:00', '03:00']";
    let night = Toy { more, ..Toy::default() }.night();
    let dir = tempfile::tempdir().unwrap();
    bencher.bench(|| {
        let folder = ResultFolder::prepare(&dir.path().join("out")).unwrap();
        write_night(&folder, &night).unwrap();
        folder.commit().unwrap();
    });
}

/// Everything `evenglass compare` writes for three alternatives.
#[divan::bench]
fn a_comparison(bencher: divan::Bencher) {
    let night = |follow_h| Toy { follow_h, ..Toy::default() }.night();
    let nights = [("a".into(), night(0.8)), ("b".into(), night(1.1)), ("c".into(), night(2.0))];
    let dir = tempfile::tempdir().unwrap();
    bencher.bench(|| {
        let folder = ResultFolder::prepare(&dir.path().join("out")).unwrap();
        write_comparison(&folder, &nights).unwrap();
        folder.commit().unwrap();
    });
}

/// Everything `evenglass sweep` writes for a grid of 2500 nights.
#[divan::bench]
fn a_sweep(bencher: divan::Bencher) {
    let outcome = Outcome::from(&Toy::default().night());
    let axis = |key: &str| Axis {
        key: key.to_owned(),
        values: (0..50).map(|i| format!("{i} W/m2/K")).collect(),
    };
    let table = SweepTable {
        axes: vec![axis("back.film.coefficient"), axis("front.film.coefficient")],
        rows: vec![Ok(outcome); 2500],
    };
    let dir = tempfile::tempdir().unwrap();
    bencher.bench(|| {
        let folder = ResultFolder::prepare(&dir.path().join("out")).unwrap();
        write_sweep(&folder, &table).unwrap();
        folder.commit().unwrap();
    });
}
