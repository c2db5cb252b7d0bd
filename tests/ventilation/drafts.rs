//! Whatever may be written comes to an end with finite numbers.

use evenglass_disc::Resolution;
use evenglass_simulation::result::COLUMNS;
use evenglass_simulation::simulate;
use proptest::prelude::*;

use crate::arranged::{Draft, every};

const INSULATED: &str =
    "[rim]\ninsulation = { thickness = \"6 mm\", conductivity = \"0.035 W/m/K\" }\n";

fn drafts() -> impl Strategy<Value = Draft> {
    let shape = (
        prop::sample::select(vec![100.0, 152.0, 250.0, 406.0, 610.0, 1200.0]),
        0.04_f64..0.25,
        prop::option::of(3.0_f64..10.0),
        any::<bool>(),
    );
    let night = (-15.0_f64..35.0, -20.0_f64..30.0, -3.0_f64..0.0, 0.0_f64..15.0);
    let around = (
        prop::sample::select(vec!["off", "vented", "on"]),
        prop::sample::select(vec!["tube", "truss", "shrouded-truss", "box"]),
        // Sea level and 3000 m.
        prop::sample::select(vec![1013.25, 701.0]),
        any::<bool>(),
    );
    let speeds = (0.0_f64..1.0, prop::sample::select(vec![0.0, 1e-6, 0.02, 0.17, 1.5]));
    let kinds = every(406.0).len();
    (shape, night, around, speeds, 0..kinds).prop_map(|(shape, night, around, speeds, kind)| {
        let (diameter, aspect, focal_ratio, hole) = shape;
        let (glass, air, rate, wind) = night;
        let (cover, form, pressure, insulated) = around;
        Draft {
            diameter,
            thickness: aspect * diameter,
            // What the mirror's own checks refuse is not the question here.
            focal_ratio: focal_ratio.filter(|ratio| aspect * 16.0 * ratio > 1.3),
            hole,
            glass,
            air,
            rate,
            wind,
            pressure,
            cover,
            speeds: [speeds.0, speeds.1],
            form,
            hours: 5.0,
            ventilation: every(diameter)[kind].1.clone(),
            more: if insulated { INSULATED.to_owned() } else { String::new() },
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_draft_comes_to_an_end_with_finite_numbers(draft in drafts()) {
        let night = simulate(&draft.scenario(), &Resolution::default())
            .map_err(|error| TestCaseError::fail(format!("{error}\n{}", draft.text())))?;
        prop_assert!(
            night.energy.residual <= 1e-9,
            "residual {:e}\n{}", night.energy.residual, draft.text()
        );
        let coldest = draft.air.min(draft.glass) - 15.0 - 40.0;
        for record in &night.history {
            for column in COLUMNS {
                let value = (column.value)(record);
                // A flat has no focus, and below its range no Strehl ratio is told.
                let nothing = [
                    "column_excess_k",
                    "focus_shift_um",
                    "refocus_minutes",
                    "correction_percent",
                    "tube_focus_um",
                    "strehl",
                    "dew_margin_primary_k",
                    "dew_margin_secondary_k",
                    "secondary_c",
                ];
                let allowed = value.is_finite() || (nothing.contains(&column.name) && value.is_nan());
                prop_assert!(allowed, "{} = {value}\n{}", column.name, draft.text());
                if column.name.ends_with("_c") && value.is_finite() {
                    prop_assert!(
                        value > coldest && value < draft.air.max(draft.glass) + 25.0,
                        "{} = {value}\n{}", column.name, draft.text()
                    );
                }
            }
        }
    }
}

/// −20 °C at 3000 m, a thin flat 1.2 m with a hole, and 100 mm: the corners, each with
/// everything that moves air.
#[test]
fn the_corners_of_what_may_be_written_are_computed() {
    for diameter in [100.0, 1200.0] {
        for (name, ventilation) in every(diameter) {
            let draft = Draft {
                diameter,
                thickness: 0.05 * diameter,
                focal_ratio: None,
                hole: true,
                air: -20.0,
                glass: 5.0,
                pressure: 701.0,
                ventilation,
                ..Draft::usual()
            };
            let night = simulate(&draft.scenario(), &Resolution::default()).unwrap();
            let last = night.history.last().unwrap();
            let mean = last.mean.celsius();
            assert!(mean > -30.0 && mean < 5.0, "{name}, {diameter} mm: {mean} °C");
        }
    }
}
