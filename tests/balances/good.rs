//! Good stretches, the focus and the rows of the history say the same.

use std::path::Path;

use evenglass_disc::Resolution;
use evenglass_simulation::result::{COLUMNS, Criterion, Ending, Record};
use evenglass_simulation::scenario::{Scenario, load};
use evenglass_simulation::{Night, simulate};
use evenglass_units::{Duration, Length, TemperatureDifference};

/// Between rows \[s\]: criteria change between two of them.
const DENSE: f64 = 10.0;

/// Nights as makers write them, with limits that are met and missed again.
fn nights() -> Vec<Night> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    let limits = [
        ("first-night", 15e-9, 0.3, None),
        ("fan-steps", 6e-9, 0.4, Some(1.2)),
        ("silica-with-hole", 1e-9, 0.3, Some(0.6)),
        ("bare-rim", 10e-9, 0.5, None),
        ("plenum-610mm", 12e-9, 0.4, None),
    ];
    limits
        .into_iter()
        .map(|(name, figure_m, arcsec, front)| {
            let mut scenario: Scenario =
                load(&folder.join(format!("{name}.toml")), &[]).expect("a scenario of ours");
            scenario.good.figure_rms = Length::from_metres(figure_m);
            scenario.good.shimmer_arcsec = arcsec;
            scenario.good.front_minus_air = front.map(TemperatureDifference::from_kelvins);
            scenario.output.interval = Duration::from_seconds(DENSE);
            simulate(&scenario, &Resolution::default()).unwrap()
        })
        .collect()
}

fn meets(night: &Night, row: &Record, criterion: Criterion) -> bool {
    let good = &night.scenario.good;
    if criterion == Criterion::Figure {
        row.image.total_rms_m <= good.figure_rms.metres()
    } else if criterion == Criterion::Shimmer {
        row.image.seeing.value <= good.shimmer_arcsec
    } else if criterion == Criterion::FrontMinusAir {
        let most = good.front_minus_air.expect("nobody asked for it");
        row.front_minus_air.kelvins().abs() <= most.kelvins()
    } else {
        let margins = COLUMNS.iter().filter(|column| column.name.starts_with("dew_margin"));
        let mut known = margins.map(|column| (column.value)(row)).filter(|margin| !margin.is_nan());
        known.all(|margin| margin >= good.dew_margin.kelvins())
    }
}

fn meets_all(night: &Night, row: &Record) -> bool {
    night.passing.iter().all(|passing| meets(night, row, passing.criterion))
}

/// From and to \[s\] of the runs of rows for which something holds.
fn runs(night: &Night, holds: impl Fn(&Record) -> bool) -> Vec<(f64, f64)> {
    let mut runs: Vec<(f64, f64)> = vec![];
    for row in night.history.iter().filter(|row| holds(row)) {
        match runs.last_mut().filter(|run| row.time_s - run.1 < 1.5 * DENSE) {
            Some(run) => run.1 = row.time_s,
            None => runs.push((row.time_s, row.time_s)),
        }
    }
    runs
}

/// Every run lies in a stretch whose ends are at most a row away, and the other way about.
fn assert_alike(title: &str, rows: &[(f64, f64)], stretches: &[(f64, f64)]) {
    assert_eq!(rows.len(), stretches.len(), "{title}: rows {rows:?}, stretches {stretches:?}");
    for (run, stretch) in rows.iter().zip(stretches) {
        let ends = [run.0 - stretch.0, stretch.1 - run.1];
        assert!(
            ends.iter().all(|gap| (-0.1..=DENSE + 0.1).contains(gap)),
            "{title}: rows {run:?}, stretch {stretch:?}"
        );
    }
}

#[test]
fn each_criterion_passes_where_its_rows_do() {
    let mut changes = 0;
    for night in nights() {
        for passing in &night.passing {
            let rows = runs(&night, |row| meets(&night, row, passing.criterion));
            let title = format!("{}, {:?}", night.scenario.title, passing.criterion);
            assert_alike(&title, &rows, &passing.stretches);
            let end = night.scenario.night.duration.seconds();
            changes += passing.stretches.iter().filter(|s| s.0 > 0.0).count();
            changes += passing.stretches.iter().filter(|s| s.1 < end).count();
        }
        let asked = |criterion| night.passing.iter().any(|p| p.criterion == criterion);
        assert!(asked(Criterion::Figure) && asked(Criterion::Shimmer), "{:?}", night.passing);
        let limit = night.scenario.good.front_minus_air;
        assert_eq!(asked(Criterion::FrontMinusAir), limit.is_some(), "{:?}", night.passing);
    }
    assert!(changes > 8, "only {changes} criteria came or went");
}

#[test]
fn good_stretches_are_the_rows_that_meet_everything_for_long_enough() {
    for night in nights() {
        let least = night.scenario.good.held_for.seconds();
        let mut rows = runs(&night, |row| meets_all(&night, row));
        let mut stretches: Vec<_> =
            night.good_intervals.iter().map(|i| (i.from_s, i.to_s)).collect();
        assert_eq!(night.ready_at_s, stretches.first().map(|stretch| stretch.0));
        assert!(stretches.iter().all(|stretch| stretch.1 - stretch.0 >= least), "{stretches:?}");
        rows.retain(|run| run.1 - run.0 > least - 2.0 * DENSE);
        // Within two rows of the least it may go either way.
        let doubtful = |run: &(f64, f64)| run.1 - run.0 < least + 2.0 * DENSE;
        let unsure: Vec<_> = rows.iter().copied().filter(doubtful).collect();
        rows.retain(|run| !doubtful(run));
        stretches
            .retain(|stretch| !unsure.iter().any(|run| (stretch.0 - run.0).abs() < 2.0 * DENSE));
        assert_alike(&night.scenario.title, &rows, &stretches);
        let sure = |row: &&Record| {
            !unsure.iter().any(|run| run.0 - DENSE < row.time_s && row.time_s < run.1 + DENSE)
        };
        for row in night.history.iter().filter(sure) {
            let inside = rows.iter().any(|run| run.0 <= row.time_s && row.time_s <= run.1);
            assert_eq!(row.good, inside, "{} at {} s", night.scenario.title, row.time_s);
        }
    }
}

/// What is said to end a stretch is met just before and missed just after.
#[test]
fn what_ends_a_good_stretch_is_missed_after_it() {
    for night in nights() {
        let end = night.scenario.night.duration.seconds();
        for interval in &night.good_intervals {
            let after = night.history.iter().find(|row| row.time_s > interval.to_s);
            match interval.ended_by {
                Ending::EndOfRun => assert!((interval.to_s - end).abs() < 1e-6, "{interval:?}"),
                Ending::Missed(criterion) => {
                    assert!(!meets(&night, after.unwrap(), criterion), "{interval:?}");
                }
            }
            let before = night.history.iter().rfind(|row| row.time_s < interval.from_s);
            match interval.begun_by {
                None => assert!(interval.from_s == 0.0, "{interval:?}"),
                Some(criterion) => {
                    assert!(!meets(&night, before.unwrap(), criterion), "{interval:?}");
                }
            }
        }
    }
}

/// The depth of focus, 2 λ N² at 550 nm, over how fast rows show the focus to move.
#[test]
fn the_time_to_refocus_is_what_neighbouring_rows_show() {
    const DAY: f64 = 86_400.0;
    let mut compared = 0;
    for night in nights() {
        let focal_ratio = night.scenario.mirror.focal_ratio.expect("none of these is flat");
        let depth = 2.0 * 550e-9 * focal_ratio * focal_ratio;
        let focus = |row: &Record| {
            let tube = row.image.tube_focus_m;
            row.image.focus_shift_m + if tube.is_nan() { 0.0 } else { tube }
        };
        for rows in night.history.windows(3).filter(|rows| rows[0].time_s >= 300.0) {
            let halves = [0, 1].map(|n| (focus(&rows[n + 1]) - focus(&rows[n])) / DENSE);
            // Where the rate itself changes within two rows, as at a step of the fans, there is
            // nothing to compare.
            if (halves[0] - halves[1]).abs() > 0.01 * halves[0].abs().max(1e-12) {
                continue;
            }
            let expected = (depth / (0.5 * (halves[0] + halves[1])).abs()).min(DAY);
            let own = rows[1].image.refocus_s;
            compared += 1;
            assert!(
                (own / expected - 1.0).abs() < 0.02,
                "{} at {} s: {own} s, rows {expected} s",
                night.scenario.title,
                rows[1].time_s
            );
        }
    }
    assert!(compared > 1000, "only {compared} rows compared");
}
