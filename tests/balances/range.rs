//! Without radiation nothing becomes colder or warmer than what it started from or met.

use evenglass_disc::Resolution;
use evenglass_simulation::simulate;
use proptest::prelude::*;

use crate::case::Case;

/// What the default resolution promises, as a share of the largest step [-].
const HELD: f64 = 5e-4;

/// The same at the fine resolution [-].
const HELD_FINE: f64 = 1e-4;

fn films() -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop_oneof![
        (0.0_f64..50.0).prop_map(|film| vec![(0.0, film)]),
        (0.002_f64..0.15, 0.0_f64..50.0, 0.0_f64..50.0).prop_map(|(at, inside, outside)| vec![
            (0.0, inside),
            (at, inside),
            (at, outside),
            (1.0, outside)
        ]),
    ]
}

fn cases() -> impl Strategy<Value = Case> {
    let shape = (0.15_f64..0.8, 0.05_f64..0.2, prop::option::of(3.0_f64..8.0), any::<bool>());
    let air = (-10.0_f64..20.0, -10.0_f64..20.0, -10.0_f64..20.0);
    (shape, air, films(), films(), films()).prop_map(|(shape, air, front, back, rim)| {
        let (diameter_m, aspect, focal_ratio, has_hole) = shape;
        Case {
            diameter_m,
            edge_thickness_m: diameter_m * aspect,
            focal_ratio,
            hole_m: has_hole.then_some(0.2 * diameter_m),
            start_c: 15.0,
            // A fall or rise, then a jump, then steady.
            air: vec![(0.0, air.0), (1800.0, air.1), (1800.0, air.2)],
            front,
            back,
            rim,
            hole: vec![(0.0, 5.0)],
            ..Case::flat()
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_temperature_leaves_the_range_of_start_and_air_so_far(case in cases()) {
        let mut scenario = case.scenario();
        scenario.output.fields_at = vec![300.0, 900.0, 1800.0, 2100.0, 3600.0];
        let air = |time: f64| scenario.night.air.at(time, evenglass_simulation::scenario::Side::After);
        let night = simulate(&scenario, &Resolution::default()).unwrap();
        let (mut low, mut high) = (288.15_f64, 288.15_f64);
        // The air runs straight between its points, so these and the present one bound it.
        let mut met = vec![0.0, 1_799.999_999];
        for field in &night.fields {
            met.push(field.time_s);
            for &time in met.iter().filter(|&&time| time <= field.time_s) {
                low = low.min(air(time));
                high = high.max(air(time));
            }
            let slack = HELD * (high - low).max(1.0);
            // A jump at 1800 s leaves five minutes in which nothing is promised.
            if (1800.0..2100.0).contains(&field.time_s) {
                continue;
            }
            for &value in &field.temperature_k {
                prop_assert!(
                    value > low - slack && value < high + slack,
                    "{} s: {value} K outside {low} to {high} by more than {slack}", field.time_s
                );
            }
        }
    }
}

#[test]
fn the_fine_resolution_keeps_the_range_five_times_closer() {
    let case = Case {
        start_c: 20.0,
        air: vec![(0.0, 0.0)],
        focal_ratio: Some(4.0),
        front: vec![(0.0, 50.0), (0.1, 50.0), (0.1, 0.0)],
        rim: vec![(0.0, 25.0)],
        ..Case::flat()
    };
    let mut scenario = case.scenario();
    scenario.output.fields_at = vec![300.0, 900.0, 3600.0];
    let night = simulate(&scenario, &Resolution::fine()).unwrap();
    let slack = HELD_FINE * 20.0;
    for field in &night.fields {
        for &value in &field.temperature_k {
            assert!(value > 273.15 - slack && value < 293.15 + slack, "{value} K");
        }
    }
}
