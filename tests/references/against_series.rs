//! The solver against the series solutions' table.
//!
//! A sealed rim makes a disc a wide plate, sealed faces make it a long rod. The
//! tolerance is the program's own promise: 0.05 % of a step in temperature from five
//! minutes after it (0.01 % with `--fine`), the same share of the lag behind falling air.

use evenglass_simulation::scenario::scenario::Film;
use evenglass_units::{Temperature, TemperatureDifference};

use crate::case::Case;
use crate::solver::{Accuracy, temperatures};
use crate::table::{Row, rows};

/// The step [K] and the temperature it leads to [°C].
const STEP: f64 = 10.0;
const AIR: f64 = 5.0;
/// Before this, after a jump, nothing is promised [s].
const SETTLING: f64 = 300.0;
const HOUR: f64 = 3600.0;

/// A probe: time, radius, height above the back.
type Probe = (f64, f64, f64);

fn celsius(kelvin: f64) -> f64 {
    Temperature::from_kelvin(kelvin).celsius()
}

/// The disc of a row, flat, with nothing but its glass and size.
fn disc_of(row: &Row) -> Case {
    Case {
        diameter_m: row.input("diameter"),
        edge_thickness_m: row.input("thickness"),
        ..glass_of(row)
    }
}

fn glass_of(row: &Row) -> Case {
    Case {
        density: row.input("density"),
        specific_heat: row.input("specific_heat"),
        conductivity: row.input("conductivity"),
        ..Case::flat()
    }
}

fn even(film: f64) -> Vec<(f64, f64)> {
    vec![(0.0, film)]
}

/// Shares of the step left at the probes.
fn step(mut case: Case, probes: &[Probe], accuracy: Accuracy) -> Vec<f64> {
    assert!(probes.iter().all(|p| p.0 >= SETTLING), "nothing is promised so early: {probes:?}");
    case.start_c = AIR + STEP;
    case.air = even(AIR);
    case.duration_s = probes.iter().fold(0.0, |last: f64, p| last.max(p.0));
    let kelvin = temperatures(&case.scenario(), probes, accuracy);
    kelvin.into_iter().map(|t| (celsius(t) - AIR) / STEP).collect()
}

/// Lags [K] behind air that has fallen by 1 K/h for so long that the start is forgotten.
fn settled_lags(mut case: Case, places: &[(f64, f64)], accuracy: Accuracy) -> Vec<f64> {
    /// At least 9 of the slowest time constant of every case here.
    const LONG: f64 = 40.0 * HOUR;
    case.start_c = 41.5;
    case.air = vec![(0.0, 40.0), (LONG, 0.0)];
    case.duration_s = LONG;
    let probes: Vec<Probe> = places.iter().map(|&(r, z)| (LONG, r, z)).collect();
    temperatures(&case.scenario(), &probes, accuracy).into_iter().map(celsius).collect()
}

#[test]
fn a_wide_plate_cools_as_the_series_says() {
    // Thick enough that the earliest row comes after five minutes.
    let thickness = 0.12;
    for row in rows("slab-excess") {
        let half = 0.5 * thickness;
        let mut case = Case { edge_thickness_m: thickness, ..Case::flat() };
        let film = row.input("biot") * case.conductivity / half;
        (case.front, case.back) = (even(film), even(film));
        let diffusivity = case.conductivity / (case.density * case.specific_heat);
        let time = row.input("fourier") * half * half / diffusivity;
        let height = half + row.input("position") * half;
        for accuracy in Accuracy::BOTH {
            let left = step(case.clone(), &[(time, 0.05, height)], accuracy);
            row.check_within(left[0], accuracy.per_ten_kelvin() / STEP);
        }
    }
}

#[test]
fn a_long_rod_cools_as_the_series_says() {
    for row in rows("cylinder-excess") {
        let mut case = Case::flat();
        let radius = 0.5 * case.diameter_m;
        case.rim = even(row.input("biot") * case.conductivity / radius);
        let diffusivity = case.conductivity / (case.density * case.specific_heat);
        let time = row.input("fourier") * radius * radius / diffusivity;
        let probe = (time, row.input("position") * radius, 0.02);
        for accuracy in Accuracy::BOTH {
            let left = step(case.clone(), &[probe], accuracy);
            row.check_within(left[0], accuracy.per_ten_kelvin() / STEP);
        }
    }
}

#[test]
fn a_plate_with_a_fan_behind_cools_as_the_series_says() {
    let thickness = 0.12;
    for row in rows("asymmetric-slab-excess") {
        let mut case = Case { edge_thickness_m: thickness, ..Case::flat() };
        let film = |biot: f64| even(biot * case.conductivity / thickness);
        (case.back, case.front) = (film(row.input("biot_back")), film(row.input("biot_front")));
        let diffusivity = case.conductivity / (case.density * case.specific_heat);
        let time = row.input("fourier") * thickness * thickness / diffusivity;
        let probe = (time, 0.11, row.input("position") * thickness);
        for accuracy in Accuracy::BOTH {
            let left = step(case.clone(), &[probe], accuracy);
            row.check_within(left[0], accuracy.per_ten_kelvin() / STEP);
        }
    }
}

#[test]
fn a_flat_disc_cools_as_the_product_of_both_says() {
    for accuracy in Accuracy::BOTH {
        for row in rows("finite-cylinder-excess") {
            let mut case = disc_of(&row);
            (case.front, case.back) =
                (even(row.input("film_faces")), even(row.input("film_faces")));
            case.rim = even(row.input("film_rim"));
            let probe = (row.input("time"), row.input("radius"), row.input("height"));
            let left = step(case, &[probe], accuracy);
            row.check_within(left[0], accuracy.per_ten_kelvin() / STEP);
        }
    }
}

#[test]
fn the_edge_runs_ahead_of_the_centre_as_the_product_says_and_not_at_all_when_sealed() {
    for accuracy in Accuracy::BOTH {
        for row in rows("finite-cylinder-face-edge-minus-centre") {
            let mut case = disc_of(&row);
            (case.front, case.back) =
                (even(row.input("film_faces")), even(row.input("film_faces")));
            case.rim = even(row.input("film_rim"));
            let (time, top) = (row.input("time"), case.edge_thickness_m);
            let edge = 0.5 * case.diameter_m;
            let left = step(case, &[(time, 0.0, top), (time, edge, top)], accuracy);
            // Two temperatures, each with its own error.
            row.check_within(left[1] - left[0], 2.0 * accuracy.per_ten_kelvin() / STEP);
        }
    }
}

#[test]
fn a_thick_plate_feels_the_cold_as_if_it_had_no_end() {
    let thickness = 0.12;
    for row in rows("semi-infinite-change").iter().filter(|row| row.input("time") >= SETTLING) {
        let mut case = Case { edge_thickness_m: thickness, ..glass_of(row) };
        case.front = even(row.input("film"));
        let time = row.input("time");
        let spread = case.conductivity / (case.density * case.specific_heat) * time;
        assert!(spread < 0.1 * thickness * thickness, "the far side has begun to feel it");
        let probe = (time, 0.07, thickness - row.input("depth"));
        for accuracy in Accuracy::BOTH {
            let left = step(case.clone(), &[probe], accuracy);
            row.check_within(1.0 - left[0], accuracy.per_ten_kelvin() / STEP);
        }
    }
}

#[test]
fn a_plate_lags_behind_falling_air_as_derived() {
    for (quantity, places) in [
        ("falling-slab-lag-surface", vec![(0.1, 0.05)]),
        ("falling-slab-lag-centre", vec![(0.1, 0.025)]),
        // Simpson's rule is exact for a parabola.
        ("falling-slab-lag-mean", vec![(0.1, 0.0), (0.1, 0.025), (0.1, 0.05)]),
    ] {
        for row in rows(quantity) {
            let mut case = Case { edge_thickness_m: row.input("thickness"), ..glass_of(&row) };
            (case.front, case.back) = (even(row.input("film")), even(row.input("film")));
            for accuracy in Accuracy::BOTH {
                let lags = settled_lags(case.clone(), &places, accuracy);
                let lag = match lags[..] {
                    [back, middle, front] => (back + 4.0 * middle + front) / 6.0,
                    _ => lags[0],
                };
                row.check_within(lag, per_kelvin(accuracy) * row.value);
            }
        }
    }
}

/// Promised error per kelvin of lag.
fn per_kelvin(accuracy: Accuracy) -> f64 {
    accuracy.per_ten_kelvin() / 10.0
}

#[test]
fn a_plate_at_rest_begins_to_lag_as_the_series_says() {
    for row in rows("falling-slab-lag-transient") {
        let mut case = Case { edge_thickness_m: row.input("thickness"), ..glass_of(&row) };
        (case.front, case.back) = (even(row.input("film")), even(row.input("film")));
        let time = row.input("time");
        case.start_c = 20.0;
        case.air = vec![(0.0, 20.0), (time, 20.0 - row.input("fall") * time / HOUR)];
        case.duration_s = time;
        let half = 0.5 * case.edge_thickness_m;
        let probe = (time, 0.05, half + row.input("position") * half);
        let air = case.air[1].1;
        for accuracy in Accuracy::BOTH {
            let kelvin = temperatures(&case.scenario(), &[probe], accuracy);
            row.check_within(celsius(kelvin[0]) - air, per_kelvin(accuracy) * row.value);
        }
    }
}

#[test]
fn a_plate_with_a_fan_behind_lags_as_derived() {
    for row in rows("falling-asymmetric-slab-lag") {
        let mut case = Case { edge_thickness_m: row.input("thickness"), ..glass_of(&row) };
        (case.back, case.front) = (even(row.input("film_back")), even(row.input("film_front")));
        let place = (0.13, row.input("position") * case.edge_thickness_m);
        for accuracy in Accuracy::BOTH {
            let lag = settled_lags(case.clone(), &[place], accuracy)[0];
            row.check_within(lag, per_kelvin(accuracy) * row.value);
        }
    }
}

#[test]
fn a_flat_disc_lags_as_the_series_says() {
    let cooled = |row: &Row| {
        let mut case = disc_of(row);
        (case.front, case.back) = (even(row.input("film_faces")), even(row.input("film_faces")));
        case.rim = even(row.input("film_rim"));
        case
    };
    for accuracy in Accuracy::BOTH {
        for row in rows("falling-disc-lag") {
            let place = (row.input("radius"), row.input("height"));
            let lag = settled_lags(cooled(&row), &[place], accuracy)[0];
            row.check_within(lag, per_kelvin(accuracy) * row.value);
        }
        for row in rows("falling-disc-face-edge-minus-centre") {
            let case = cooled(&row);
            let (top, edge) = (case.edge_thickness_m, 0.5 * case.diameter_m);
            let lags = settled_lags(case, &[(0.0, top), (edge, top)], accuracy);
            row.check_within(lags[1] - lags[0], per_kelvin(accuracy) * (lags[0] + lags[1]));
        }
    }
}

#[test]
fn warm_air_around_the_rim_reaches_inward_as_the_series_says() {
    for row in rows("steady-disc-warm-rim") {
        let mut case = Case {
            diameter_m: row.input("diameter"),
            edge_thickness_m: row.input("thickness"),
            conductivity: row.input("conductivity"),
            // Rest does not depend on what is stored; little of it comes to rest sooner.
            density: 250.0,
            start_c: AIR,
            air: even(AIR),
            duration_s: 4.0 * HOUR,
            ..Case::flat()
        };
        (case.front, case.back) = (even(row.input("film_faces")), even(row.input("film_faces")));
        case.rim = even(row.input("film_rim"));
        let mut scenario = case.scenario();
        let Film::Given { air_offset, .. } = &mut scenario.rim.film else {
            panic!("the rim's film is given")
        };
        *air_offset = TemperatureDifference::from_kelvins(STEP);
        let probe = (case.duration_s, row.input("radius"), row.input("height"));
        for accuracy in Accuracy::BOTH {
            let kelvin = temperatures(&scenario, &[probe], accuracy);
            row.check_within((celsius(kelvin[0]) - AIR) / STEP, accuracy.per_ten_kelvin() / STEP);
        }
    }
}

/// The fin equation knows one temperature, the one the films see: that of the faces.
/// What it leaves out is of the order of (thickness / fin length)² = 1 %, hence 2 %.
#[test]
fn a_thin_disc_in_two_zones_lags_as_the_fin_equation_says() {
    const LIMIT_OF_THIN: f64 = 0.02;
    for row in rows("thin-disc-lag") {
        let border = row.input("border");
        // Half of the sum of both films on each face.
        let (inside, outside) = (0.5 * row.input("films_inside"), 0.5 * row.input("films_outside"));
        let film = vec![(0.0, inside), (border, inside), (border, outside)];
        let case = Case {
            diameter_m: row.input("diameter"),
            edge_thickness_m: row.input("thickness"),
            conductivity: row.input("conductivity"),
            specific_heat: row.input("heat_capacity") / 2500.0,
            front: film.clone(),
            back: film,
            ..Case::flat()
        };
        let (r, t) = (row.input("radius"), case.edge_thickness_m);
        for accuracy in Accuracy::BOTH {
            for lag in settled_lags(case.clone(), &[(r, 0.0), (r, t)], accuracy) {
                row.check_within(lag, LIMIT_OF_THIN * row.value);
            }
        }
    }
}

/// These rows come from finite elements, with their own tolerance of 0.1 %.
#[test]
fn a_curved_disc_agrees_with_finite_elements_of_the_table() {
    for row in rows("curved-disc-excess") {
        let mut case = disc_of(&row);
        case.focal_ratio = Some(row.input("focal_ratio"));
        case.back = even(row.input("film_back"));
        case.front = even(row.input("film_front"));
        case.rim = even(row.input("film_rim"));
        let place = place_on_curved(&case, row.word("place"));
        for accuracy in Accuracy::BOTH {
            if row.has("step") {
                let probe = (row.input("time"), place.0, place.1);
                let left = step(case.clone(), &[probe], accuracy)[0];
                row.check_within(left * row.input("step"), accuracy.per_ten_kelvin());
            } else {
                let lag = settled_lags(case.clone(), &[place], accuracy)[0];
                row.check_within(lag, per_kelvin(accuracy) * row.value);
            }
        }
    }
}

/// Radius and height of a named place.
fn place_on_curved(case: &Case, name: &str) -> (f64, f64) {
    let focal_ratio = case.focal_ratio.expect("the disc is curved");
    let outer = 0.5 * case.diameter_m;
    let depth = outer * outer / (4.0 * focal_ratio * case.diameter_m);
    let centre = case.edge_thickness_m - depth;
    match name {
        "back-centre" => (0.0, 0.0),
        "back-edge" => (outer, 0.0),
        "front-centre" => (0.0, centre),
        "front-edge" => (outer, case.edge_thickness_m),
        "mid-centre" => (0.0, 0.5 * centre),
        other => panic!("no place `{other}`"),
    }
}
