//! What an answer may not depend on: threads, output times, and when one looks.

use evenglass_disc::Resolution;
use evenglass_simulation::result::{COLUMNS, Record};
use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::scenario::scenario::Film;
use evenglass_simulation::sweep::in_parallel;
use evenglass_simulation::{Geometries, Night, simulate, simulate_with};
use evenglass_units::Duration;

use crate::case::{Case, profile};

fn bench_mirror() -> Case {
    Case {
        diameter_m: 0.406,
        edge_thickness_m: 0.041,
        focal_ratio: Some(4.5),
        start_c: 20.0,
        air: vec![(0.0, 18.0), (7200.0, 15.0)],
        front: vec![(0.0, 8.0)],
        back: vec![(0.0, 12.0)],
        rim: vec![(0.0, 6.0)],
        duration_s: 7200.0,
        ..Case::flat()
    }
}

/// The mirror whose front film falls to a third at `at` seconds.
fn stepped(at: f64, interval: f64) -> Scenario {
    let mut scenario = bench_mirror().scenario();
    if let Film::Given { factor, .. } = &mut scenario.front.film {
        *factor = profile(&[(0.0, 1.0), (at, 1.0), (at, 0.3333), (7200.0, 0.3333)]);
    }
    scenario.output.interval = Duration::from_seconds(interval);
    scenario
}

fn bits(night: &Night) -> Vec<u64> {
    let numbers =
        night.history.iter().flat_map(|row| COLUMNS.iter().map(|column| (column.value)(row)));
    let fields = night.fields.iter().flat_map(|field| field.temperature_k.iter().copied());
    numbers.chain(fields).map(f64::to_bits).collect()
}

#[test]
fn the_same_bits_come_from_one_thread_and_from_two_or_three() {
    let scenarios: Vec<Scenario> =
        (0..24).map(|n| stepped(1000.0 + 37.0 * f64::from(n % 8), 300.0)).collect();
    let all = |threads| {
        let geometries = Geometries::new();
        let work = |n: usize| {
            let night = simulate_with(&scenarios[n], &Resolution::default(), &geometries);
            bits(&night.expect("a night"))
        };
        in_parallel(scenarios.len(), Some(threads), work, || {})
    };
    let single = all(1);
    assert_ne!(single[0], single[1], "the nights differ from one another");
    assert_eq!(single[0], single[8], "equal scenarios have equal bits");
    assert_eq!(single, all(2));
    assert_eq!(single, all(3));
}

#[test]
fn a_shared_geometry_gives_the_bits_of_an_own_one() {
    let geometries = Geometries::new();
    for at in [900.0, 2000.0] {
        let scenario = stepped(at, 300.0);
        let own = simulate(&scenario, &Resolution::default()).unwrap();
        let shared = simulate_with(&scenario, &Resolution::default(), &geometries).unwrap();
        assert_eq!(bits(&own), bits(&shared), "a factor step at {at} s");
    }
}

fn at(night: &Night, time: f64) -> &Record {
    let found = night.history.iter().find(|row| (row.time_s - time).abs() < 1e-9);
    found.unwrap_or_else(|| panic!("no row at {time} s"))
}

#[test]
fn the_output_interval_does_not_move_the_solution() {
    let coarse = simulate(&stepped(1234.5, 600.0), &Resolution::default()).unwrap();
    for interval in [60.0, 120.0, 150.0, 300.0] {
        let night = simulate(&stepped(1234.5, interval), &Resolution::default()).unwrap();
        for row in &coarse.history {
            let other = at(&night, row.time_s);
            for column in &COLUMNS {
                let (a, b) = ((column.value)(row), (column.value)(other));
                assert_eq!(a.to_bits(), b.to_bits(), "{} at {} s", column.name, row.time_s);
            }
        }
        assert_eq!(coarse.energy, night.energy);
        assert_eq!(coarse.good_intervals, night.good_intervals);
    }
}

/// A step between two outputs is landed on: the answer is that of a run whose step happens
/// on an output, shifted by nothing else. Seen from outside, the heat flow right after it is
/// a third on the front only.
#[test]
fn a_factor_step_between_outputs_is_landed_on() {
    const STEP: f64 = 3717.3;
    let night = simulate(&stepped(STEP, 600.0), &Resolution::default()).unwrap();
    let close = simulate(&stepped(STEP, STEP / 4.0), &Resolution::default()).unwrap();
    let end = (night.history.last().unwrap(), close.history.last().unwrap());
    for column in &COLUMNS {
        let (a, b) = ((column.value)(end.0), (column.value)(end.1));
        assert_eq!(a.to_bits(), b.to_bits(), "{}", column.name);
    }
    // Without the step all is alike until then and not after.
    let mut unstepped = stepped(STEP, 600.0);
    unstepped.front = bench_mirror().scenario().front;
    let even = simulate(&unstepped, &Resolution::default()).unwrap();
    let front = |night: &Night, time| at(night, time).front_centre.kelvin();
    let before = (front(&night, 3600.0) - front(&even, 3600.0)).abs();
    // The steps before differ only in where the last one is cut.
    assert!(before < 1e-3, "{before} K before the step");
    let after = front(&night, 4200.0) - front(&even, 4200.0);
    assert!(after > 0.05, "{after} K eight minutes after the front film fell to a third");
}

#[test]
fn a_factor_step_moved_by_a_second_moves_the_answer_by_a_second_of_cooling() {
    let end = |at| {
        let night = simulate(&stepped(at, 600.0), &Resolution::fine()).unwrap();
        night.history.last().unwrap().mean.kelvin()
    };
    let rate = (end(3717.3 + 60.0) - end(3717.3)) / 60.0;
    let second = end(3717.3 + 1.0) - end(3717.3);
    // Front film 8 → 2.7 with 2 K of excess over 2500 · 720 · 0.04: -1e-4 K/s, less what
    // the smaller excess saves until the end.
    assert!((-2e-4..-1e-5).contains(&rate), "{rate} K/s");
    assert!((second / rate - 1.0).abs() < 0.2, "{second} K for one second, {rate} K/s");
}
