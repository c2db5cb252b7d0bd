//! Scenarios at the bounds of every key: they are computed, without panic and without NaN.

use std::path::Path;

use evenglass_disc::Resolution;
use evenglass_simulation::result::COLUMNS;
use evenglass_simulation::scenario::parse;
use evenglass_simulation::simulate;

/// Coarse, so that the largest and longest take no time.
fn coarse() -> Resolution {
    Resolution { radial_order: 4, axial_order: 4, tolerance: 1e-3, ..Resolution::default() }
}

/// Computes a night; what cannot be read here is a fault of this test.
fn run(mirror: &str, night: &str, faces: &str) {
    let text = format!("[mirror]\n{mirror}\n[night]\nstart = \"20:00\"\n{night}\n{faces}\n");
    let scenario = parse("bounds.toml", &text, Path::new(""), &[]).unwrap_or_else(|error| {
        let said: Vec<&str> = error.faults.iter().map(|fault| fault.message.as_str()).collect();
        panic!("{said:?}\n{text}")
    });
    let night = simulate(&scenario, &coarse()).unwrap_or_else(|error| panic!("{error}\n{text}"));
    assert!(night.history.len() >= 2, "a start and an end");
    for row in &night.history {
        for column in &COLUMNS {
            let value = (column.value)(row);
            let known = match column.name {
                // No air is moved into a column here, no wall stands around the mirror, and the
                // night does not tell its humidity.
                "column_excess_k"
                | "wall_c"
                | "tube_focus_um"
                | "secondary_c"
                | "dew_margin_primary_k"
                | "dew_margin_secondary_k" => false,
                // A flat has no focus.
                "focus_shift_um" | "refocus_minutes" | "correction_percent" => {
                    mirror.contains("focal_ratio")
                }
                // Below its range no Strehl ratio is told.
                "strehl" => value.is_finite(),
                _ => true,
            };
            assert!(
                value.is_finite() == known,
                "{} is {value} at {} s\n{text}",
                column.name,
                row.time_s
            );
        }
        // Between the coldest and the warmest a scenario can name, radiation included.
        let mean = row.mean.celsius();
        assert!((-61.0..=61.0).contains(&mean), "a mean of {mean} °C\n{text}");
    }
    // Glass at the temperature of its air exchanges nothing but rounding: 13 kg at -60 °C
    // hold 6e5 J, known to 1e-12 J a joule.
    let (lost, stored) = (night.energy.lost_j, night.energy.stored_j);
    let gap = (lost + stored).abs() / lost.abs().max(600.0);
    assert!(gap < 1e-9, "lost {lost} J, stored {stored} J\n{text}");
}

const NIGHT: &str = "duration = \"3 h\"\nglass_temperature = \"20 degC\"\nair = { kind = \"steady\", temperature = \"5 degC\" }";

const GLASS: &str = "glass = \"borosilicate\"";

#[test]
fn mirrors_of_every_size_and_thickness_cool() {
    for diameter in [20.0, 150.0, 2000.0] {
        for thickness in [2.0, 41.0, 500.0] {
            let size = format!(
                "diameter = \"{diameter} mm\"\nedge_thickness = \"{thickness} mm\"\n{GLASS}"
            );
            run(&size, NIGHT, "");
            if diameter < 100.0 {
                continue;
            }
            let hole = format!("{size}\nhole_diameter = \"{} mm\"", 0.4 * diameter);
            run(&hole, NIGHT, "[back]\nfilm = { kind = \"given\", coefficient = \"1000 W/m2K\" }");
        }
    }
}

#[test]
fn a_front_that_almost_meets_the_back_cools() {
    // The sagitta of 400 mm at f/2 is 12.5 mm.
    for edge in ["14 mm", "12.6 mm", "13 mm"] {
        let mirror =
            format!("diameter = \"400 mm\"\nedge_thickness = \"{edge}\"\nfocal_ratio = 2\n{GLASS}");
        let text = format!("[mirror]\n{mirror}\n[night]\nstart = \"20:00\"\n{NIGHT}\n");
        // The thinnest may be refused as a slip; what is accepted must be computed.
        if parse("thin.toml", &text, Path::new(""), &[]).is_ok() {
            run(&mirror, NIGHT, "");
        }
    }
    run(
        &format!("diameter = \"400 mm\"\nedge_thickness = \"15 mm\"\nfocal_ratio = 2\n{GLASS}"),
        NIGHT,
        "",
    );
}

#[test]
fn the_longest_night_and_the_coldest_and_the_warmest_air_are_computed() {
    let mirror = format!("diameter = \"406 mm\"\nedge_thickness = \"41 mm\"\n{GLASS}");
    for (glass, air) in [(-60, 60), (60, -60), (-60, -60), (60, 60)] {
        let night = format!(
            "duration = \"72 h\"\nglass_temperature = \"{glass} degC\"\n\
             air = {{ kind = \"steady\", temperature = \"{air} degC\" }}"
        );
        run(&mirror, &night, "[output]\ninterval = \"1 h\"");
        let fan = "[back]\nfilm = { kind = \"fan-behind\", fan_diameter = \"120 mm\", hub_diameter = \"40 mm\", distance = \"60 mm\", flow = \"20 L/s\", cell = \"open\" }";
        run(&mirror, &night, fan);
    }
}

#[test]
fn a_night_of_seconds_and_rows_of_seconds_are_computed() {
    let mirror = format!("diameter = \"406 mm\"\nedge_thickness = \"41 mm\"\n{GLASS}");
    let night = |duration: &str| {
        format!(
            "duration = \"{duration}\"\nglass_temperature = \"20 degC\"\n\
             air = {{ kind = \"steady\", temperature = \"5 degC\" }}"
        )
    };
    for (duration, interval) in [("1 h", "1 s"), ("1 min", "7 s"), ("10 min", "10 min")] {
        run(&mirror, &night(duration), &format!("[output]\ninterval = \"{interval}\""));
    }
}

#[test]
fn films_at_their_bounds_and_radiation_of_a_black_face_to_a_cold_sky_are_computed() {
    let mirror = format!("diameter = \"406 mm\"\nedge_thickness = \"41 mm\"\n{GLASS}");
    for film in [0, 1000] {
        let faces = format!(
            "[front]\nfilm = {{ kind = \"given\", coefficient = \"{film} W/m2K\" }}\n\
             radiation = {{ emissivity = 1, surroundings = \"-60 degC\" }}\n\
             [back]\nfilm = {{ kind = \"given\", coefficient = \"{film} W/m2K\" }}\n\
             insulation = {{ thickness = \"100 mm\", conductivity = \"0.02 W/m/K\" }}\n\
             [rim]\nfilm = {{ kind = \"given\", height = [\"0 mm\", \"20 mm\", \"20 mm\"], \
             coefficient = [\"0 W/m2K\", \"0 W/m2K\", \"1000 W/m2K\"] }}\n"
        );
        run(&mirror, NIGHT, &faces);
    }
}

#[test]
fn every_altitude_and_fan_speed_is_computed() {
    let mirror = format!("diameter = \"406 mm\"\nedge_thickness = \"41 mm\"\n{GLASS}");
    for altitude in [0, 45, 90] {
        for speed in ["0.0", "1e-9", "1.0"] {
            let night = format!(
                "{NIGHT}\naltitude = \"{altitude} deg\"\nfan_speed = {speed}\nwind = \"0 m/s\""
            );
            let faces = "[front]\nfilm = { kind = \"breeze\", shelter = 1.0 }\n[back]\nfilm = { kind = \"fan-behind\", fan_diameter = \"120 mm\", hub_diameter = \"40 mm\", distance = \"60 mm\", flow = \"20 L/s\", cell = \"closed\", gap = \"40 mm\" }";
            run(&mirror, &night, faces);
        }
    }
}
