//! Extremes are those of the night, not of the rows that happen to be written.

use std::path::Path;

use evenglass_disc::Resolution;
use evenglass_simulation::result::COLUMNS;
use evenglass_simulation::scenario::scenario::{Film, Harmonic};
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
    ["first-night", "fan-steps", "silica-with-hole", "insulated-rim"].into_iter().map(shipped)
}

/// Nights of moved air, walls and wind.
fn arranged() -> impl Iterator<Item = Scenario> {
    ["bare-rim", "plenum-610mm", "truss-400mm", "tube-250mm"].into_iter().map(shipped)
}

fn shipped(name: &str) -> Scenario {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    load(&folder.join(format!("{name}.toml")), &[]).expect("a scenario of ours")
}

/// The restless night with films that vary around the axis, each in its own direction.
fn lopsided() -> Scenario {
    let mut scenario = restless();
    let uneven = |harmonic, angle| Harmonic { harmonic, amplitude: 0.3, angle };
    scenario.back.uneven = vec![uneven(1, 0.4), uneven(2, 1.0)];
    scenario.front.uneven = vec![uneven(1, 2.0), uneven(3, 0.2)];
    scenario
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

/// How far rows a second apart may be from an extreme (value, time \[s\]), in the column's unit.
fn allowed(name: &str, extreme: (f64, f64)) -> f64 {
    match name {
        // 50 J are nothing to a mirror.
        "heat_lost_j" => 50.0,
        // Lowest where it leaves the range in which it is told, and readings lie a third of a
        // step apart there.
        "strehl" => 0.03,
        // As long as the focus nearly rests.
        "refocus_minutes" => 1e-3 * extreme.0.abs(),
        // A second before the jump the air has 2 mK to go.
        _ if name.contains("air") => 3e-3,
        // In the first second a film is felt a third of a millimetre deep, which no grid
        // resolves: a nanometre of focus.
        "defocus_nm" | "focus_shift_um" if extreme.1 < 1.0 => 1.0,
        // Kelvins, nanometres, micrometres, percent, arcseconds and litres alike.
        _ => f64::max(1e-3, 1e-5 * extreme.0.abs()),
    }
}

/// Whether the value is held at an end of its range, where it has no time of its own.
fn is_held(name: &str, value: f64) -> bool {
    const DAY: f64 = 1440.0;
    (name == "refocus_minutes" && value >= DAY) || (name == "strehl" && value < 0.33)
}

/// Rows every second see the extremes to a thousandth of the unit; the time of a flat one
/// they see less well. Peak to valley and magnitudes, which are no cubics within a step, are
/// found as well as the others.
#[test]
fn rows_written_very_often_see_the_same_extremes() {
    for scenario in written().chain(arranged()).chain([restless(), lopsided()]) {
        let night = night(scenario, 1.0);
        let named = COLUMNS.iter().zip(night.minima.iter().zip(&night.maxima));
        for (column, (&least, &most)) in named.skip(1) {
            let rows = night.history.iter().map(|row| ((column.value)(row), row.time_s));
            let values: Vec<(f64, f64)> = rows.filter(|value| !value.0.is_nan()).collect();
            if least.0.is_nan() {
                assert!(values.is_empty(), "{}", column.name);
                continue;
            }
            let seen = [
                (least, values.iter().min_by(|a, b| a.0.total_cmp(&b.0)).unwrap()),
                (most, values.iter().max_by(|a, b| a.0.total_cmp(&b.0)).unwrap()),
            ];
            for (extreme, row) in seen {
                let what =
                    format!("{} of {}: {extreme:?} {row:?}", column.name, night.scenario.title);
                let off = allowed(column.name, extreme);
                assert!((extreme.0 - row.0).abs() <= off, "{what}");
                let same_time = (extreme.1 - row.1).abs() <= 3.0;
                let near = values.iter().filter(|v| (v.1 - extreme.1).abs() < 1.0);
                let flat = near.map(|v| (v.0 - row.0).abs()).fold(f64::MAX, f64::min) < 1e-4;
                assert!(same_time || flat || is_held(column.name, row.0), "{what}");
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
