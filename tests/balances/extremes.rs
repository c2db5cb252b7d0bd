//! Extremes are those of the night, not of the rows that happen to be written.

use std::path::Path;

use evenglass_disc::Resolution;
use evenglass_simulation::result::COLUMNS;
use evenglass_simulation::scenario::scenario::Film;
use evenglass_simulation::scenario::{Scenario, load};
use evenglass_simulation::{Night, simulate};
use evenglass_units::Duration;

use crate::case::{Case, profile};

/// Air that falls, rises and falls again, with a jump; a front film that falls to a
/// third and comes back: extremes of both signs, turns inside steps and at jumps.
fn restless() -> Scenario {
    let case = Case {
        diameter_m: 0.406,
        edge_thickness_m: 0.041,
        focal_ratio: Some(4.5),
        start_c: 12.0,
        air: vec![(0.0, 14.0), (5400.0, 8.0), (9000.0, 15.0), (9000.0, 13.0), (21_600.0, 6.0)],
        front: vec![(0.0, 8.0)],
        back: vec![(0.0, 12.0)],
        rim: vec![(0.0, 30.0)],
        duration_s: 21_600.0,
        ..Case::flat()
    };
    let mut scenario = case.scenario();
    if let Film::Given { factor, .. } = &mut scenario.front.film {
        *factor = profile(&[(0.0, 1.0), (4000.0, 1.0), (4000.0, 0.3333), (7000.0, 0.3333)]);
    }
    scenario
}

/// Nights as makers write them: computed films, a hole, insulation, fan steps.
fn written() -> impl Iterator<Item = Scenario> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    ["first-night", "fan-steps", "silica-with-hole", "insulated-rim"].into_iter().map(move |name| {
        load(&folder.join(format!("{name}.toml")), &[]).expect("a scenario of ours")
    })
}

/// Extremes of the columns that have a value in this night.
fn known(extremes: &[(f64, f64)]) -> Vec<Option<(f64, f64)>> {
    extremes.iter().map(|&extreme| (!extreme.0.is_nan()).then_some(extreme)).collect()
}

fn night(mut scenario: Scenario, interval_s: f64) -> Night {
    scenario.output.interval = Duration::from_seconds(interval_s);
    simulate(&scenario, &Resolution::default()).unwrap()
}

#[test]
fn the_output_interval_does_not_move_an_extreme() {
    for scenario in written().chain([restless()]) {
        let often = night(scenario.clone(), 60.0);
        for interval in [300.0, 420.0, 3600.0] {
            let seldom = night(scenario.clone(), interval);
            assert_eq!(known(&often.minima), known(&seldom.minima), "{interval} s");
            assert_eq!(known(&often.maxima), known(&seldom.maxima), "{interval} s");
            assert_eq!(often.worst_late_edge, seldom.worst_late_edge, "{interval} s");
        }
    }
}

/// Rows every second see the extremes to a fraction of a millikelvin; the time of
/// a flat one they see less well.
#[test]
fn rows_written_very_often_see_the_same_extremes() {
    for scenario in written().chain([restless()]) {
        let night = night(scenario, 1.0);
        let named = COLUMNS.iter().zip(night.minima.iter().zip(&night.maxima));
        for (column, (&least, &most)) in named.skip(1) {
            if least.0.is_nan() {
                assert!(
                    night.history.iter().all(|row| (column.value)(row).is_nan()),
                    "{}",
                    column.name
                );
                continue;
            }
            let values = || night.history.iter().map(|row| ((column.value)(row), row.time_s));
            let seen = [
                (least, values().min_by(|a, b| a.0.total_cmp(&b.0)).unwrap()),
                (most, values().max_by(|a, b| a.0.total_cmp(&b.0)).unwrap()),
            ];
            // A second before the jump the air has 2 mK to go; 50 J are nothing to a mirror.
            let off = if column.name.ends_with("_j") { 50.0 } else { 1e-3 };
            let before_a_jump = if column.name.contains("air") { 0.002 } else { 0.0 };
            for (extreme, row) in seen {
                let what =
                    format!("{} of {}: {extreme:?} {row:?}", column.name, night.scenario.title);
                assert!((extreme.0 - row.0).abs() <= off + before_a_jump, "{what}");
                let same_time = (extreme.1 - row.1).abs() <= 3.0;
                let flat = values().filter(|v| (v.1 - extreme.1).abs() < 1.0);
                let flat = flat.map(|v| (v.0 - row.0).abs()).fold(f64::MAX, f64::min) < 1e-4;
                assert!(same_time || flat, "{what}");
            }
        }
    }
}

#[test]
fn the_worst_late_edge_is_that_of_the_rows_from_readiness_on() {
    for scenario in written().chain([restless()]) {
        let night = night(scenario, 5.0);
        let half = 0.5 * night.scenario.night.duration.seconds();
        let from = night.ready_at_s.unwrap_or(half);
        let late = night.history.iter().filter(|row| row.time_s >= from);
        let edges = late.map(|row| (row.mid_edge - row.mid_centre).kelvins().abs());
        let seen = edges.fold(0.0, f64::max);
        let (worst, time) = night.worst_late_edge;
        assert!(time >= from, "{time}");
        assert!((worst.abs() - seen).abs() < 1e-3, "{worst} K, rows {seen} K");
    }
}

/// A jump of the air by 2 K: the warmest air is that just before it, at its time.
#[test]
fn what_is_reached_just_before_a_jump_counts_and_carries_its_time() {
    let night = night(restless(), 700.0);
    let air = COLUMNS.iter().position(|column| column.name == "air_c").unwrap();
    assert!((night.maxima[air].0 - 15.0).abs() < 1e-9, "{:?}", night.maxima[air]);
    assert!((night.maxima[air].1 - 9000.0).abs() < 1e-9, "{:?}", night.maxima[air]);
    assert!((night.minima[air].0 - 6.0).abs() < 1e-9, "{:?}", night.minima[air]);
}
