//! What good scenarios mean.

use std::path::Path;

use evenglass_scenario::scenario::{Cell, Cover, Film, RadiantSurroundings};
use evenglass_scenario::{Scenario, Side, parse};

use crate::{change, report};

/// Every section and nearly every key.
pub(crate) const FULL: &str = r#"
title = "everything at once"
[mirror]
diameter = "16 in"
edge_thickness = "41 mm"
focal_ratio = 4.5
hole_diameter = "60 mm"
glass = { density = "2500 kg/m3", specific_heat = "720 J/kg/K", conductivity = "1.0 W/m/K", expansion = "9.0e-6 /K", youngs_modulus = "70 GPa", poisson_ratio = 0.20, emissivity = 0.84 }
[night]
start = "20:00"
duration = "8 h"
date = "2026-10-03"
glass_temperature = "68 degF"
stress_free_temperature = "18 degC"
air = { kind = "falling", from = "18 degC", rate = "-1.5 K/h", floor = "9 degC" }
relative_humidity = { time = ["0 h", "8 h"], value = [0.6, 0.9] }
wind = { time = ["0 h", "23:00"], value = ["1 m/s", "5 mph"] }
cloud = 0.2
fan_speed = 1.0
cover = "on"
altitude = "60 deg"
[[event]]
at = 23:00:00
fan_speed = 0.33
[[event]]
at = "30 min"
cover = "off"
altitude = "45°"
[front]
film = { kind = "breeze", shelter = 0.4 }
radiation = { emissivity = 0.1, surroundings = { time = ["0 h", "8 h"], temperature = ["10 degC", "-5 degC"] } }
[back]
film = { kind = "fan-behind", fan_diameter = "120 mm", hub_diameter = "40 mm", distance = "60 mm", flow = "60 cfm", cell = "closed", gap = "40 mm" }
uneven = [{ harmonic = 2, amplitude = 0.3, angle = "90 deg" }, { harmonic = 1, amplitude = -0.2 }]
[rim]
film = { kind = "given", height = ["0 mm", "20 mm", "20 mm", "41 mm"], coefficient = ["6 W/m2K", "6 W/m2/K", "0 W/m2/K", "0 W/m²/K"], factor = { time = ["0 h", "1 h", "1 h"], value = [1.0, 1.0, 0.5] }, air_offset = "0.5 K" }
insulation = { thickness = "6 mm", conductivity = "0.035 W/m/K" }
[hole]
film = { kind = "still" }
[good]
shimmer = "0.3 arcsec"
[site]
latitude = "47.5 deg"
elevation = "2000 m"
seeing = "2 arcsec"
[output]
interval = "10 min"
fields_at = ["23:00", "1 h", "1 h"]
"#;

/// The least one can write.
pub(crate) const LEAST: &str = r#"
[mirror]
diameter = "200 mm"
edge_thickness = "25 mm"
glass = "borosilicate"
[night]
start = "21:00"
duration = "4 min"
glass_temperature = "20 degC"
air = { kind = "steady", temperature = "10 degC" }
"#;

pub(crate) fn understood(text: &str, changes: &[&str]) -> Scenario {
    let changes: Vec<_> = changes.iter().map(|text| change(text)).collect();
    parse("good.toml", text, Path::new(""), &changes).unwrap_or_else(|e| panic!("{}", report(&e)))
}

pub(crate) fn close(got: f64, wanted: f64) -> bool {
    (got - wanted).abs() <= 1e-9 * wanted.abs()
}

#[test]
fn every_key_arrives_in_si() {
    let scenario = understood(FULL, &[]);
    assert_eq!(scenario.title, "everything at once");
    assert!(close(scenario.mirror.diameter.metres(), 0.4064));
    assert!(close(scenario.mirror.glass.expansion.per_kelvin(), 9.0e-6));
    let night = &scenario.night;
    assert!(close(night.glass_temperature.kelvin(), 293.15));
    assert!(close(night.stress_free_temperature.kelvin(), 291.15));
    assert!(close(night.air.at(3600.0, Side::After), 291.15 - 1.5));
    assert!(close(night.air.at(7.9 * 3600.0, Side::After), 282.15));
    assert!(close(night.wind.as_ref().unwrap().at(3.0 * 3600.0, Side::After), 2.2352));
    assert_eq!(night.fan_speed.positions(), [0.0, 10_800.0, 10_800.0]);
    assert_eq!(night.fan_speed.values(), [1.0, 1.0, 0.33]);
    assert_eq!(night.cover, [(0.0, Cover::On), (1800.0, Cover::Off)]);
    assert!(close(night.altitude.at(1800.0, Side::After), std::f64::consts::FRAC_PI_4));
    assert!(night.start.has_date());
    assert_eq!(night.start.hms(0.0), "20:00:00");
    assert!(close(scenario.good.shimmer_arcsec, 0.3));
    assert!(close(scenario.good.figure_rms.metres(), 20e-9));
    let site = scenario.site.unwrap();
    assert!(close(site.latitude_deg.unwrap(), 47.5));
    assert!(close(site.seeing_arcsec.unwrap(), 2.0));
    assert!(close(scenario.output.interval.seconds(), 600.0));
    assert_eq!(scenario.output.fields_at, [3600.0, 10_800.0]);
}

#[test]
fn every_film_arrives_in_si() {
    let scenario = understood(FULL, &[]);
    assert_eq!(scenario.front.film, Film::Breeze { shelter: 0.4 });
    let Some(radiation) = &scenario.front.radiation else { panic!("the front radiates") };
    let RadiantSurroundings::Temperature(sky) = &radiation.surroundings else { panic!("to a sky") };
    assert!(close(sky.at(8.0 * 3600.0, Side::After), 268.15));
    let Film::FanBehind(fan) = &scenario.back.film else { panic!("a fan") };
    assert!(close(fan.flow.m3_per_s(), 0.028_316_846_592));
    assert!(matches!(fan.cell, Cell::Closed { gap } if close(gap.metres(), 0.04)));
    assert_eq!(scenario.back.uneven.len(), 2);
    assert!(close(scenario.back.uneven[0].angle, std::f64::consts::FRAC_PI_2));
    // A computed film radiates by itself: bare glass, walls at the air's temperature.
    let radiation = scenario.back.radiation.as_ref().unwrap();
    assert_eq!((radiation.emissivity, &radiation.surroundings), (0.84, &RadiantSurroundings::Air));
    let Film::Given { coefficient, factor, air_offset } = &scenario.rim.film else {
        panic!("given")
    };
    assert_eq!(coefficient.at(0.02, Side::Before), 6.0);
    assert_eq!(coefficient.at(0.02, Side::After), 0.0);
    assert_eq!(factor.at(3600.0, Side::After), 0.5);
    assert!(close(air_offset.kelvins(), 0.5));
    // A given film is all there is, unless radiation is asked for.
    assert_eq!(scenario.rim.radiation, None);
    assert!(close(scenario.rim.insulation.unwrap().thickness.metres(), 0.006));
    assert_eq!(scenario.hole.unwrap().film, Film::Still);
}

#[test]
fn what_is_left_out_has_the_defaults_of_the_guide() {
    let scenario = understood(LEAST, &[]);
    assert_eq!(scenario.title, "good");
    assert_eq!(scenario.front.film, Film::Still);
    assert_eq!(scenario.front.radiation.as_ref().unwrap().emissivity, 0.04);
    let bare = scenario.mirror.glass.emissivity;
    assert_eq!(scenario.rim.radiation.as_ref().unwrap().emissivity, bare);
    assert_eq!(scenario.hole, None);
    assert_eq!(scenario.night.pressure.values(), [101_325.0]);
    assert_eq!(scenario.night.fan_speed.values(), [1.0]);
    assert_eq!(scenario.night.cover, [(0.0, Cover::Off)]);
    assert_eq!(scenario.night.dew_point, None);
    assert!(close(scenario.good.held_for.seconds(), 1800.0));
    // The default interval is longer than this run.
    assert_eq!(scenario.output.interval.seconds(), 240.0);
    assert!(!scenario.night.start.has_date());
}

#[test]
fn humidity_becomes_the_dew_point_of_the_air_of_that_time() {
    let night = understood(LEAST, &["night.relative_humidity=1.0"]).night;
    // Saturated air is at its dew point.
    let dew_point = night.dew_point.unwrap().at(100.0, Side::After);
    assert!((dew_point - 283.15).abs() < 1e-6);
    let night = understood(FULL, &[]).night;
    let (dew, air) = (night.dew_point.unwrap(), night.air);
    for hour in [0.0, 3.5, 8.0] {
        let gap = air.at(hour * 3600.0, Side::After) - dew.at(hour * 3600.0, Side::After);
        assert!((1.0..9.0).contains(&gap), "{gap} K at {hour} h");
    }
}

/// ISO 2533 gives 794.95 hPa at 2000 m (recalled from memory).
#[test]
fn pressure_left_out_is_that_of_the_elevation() {
    let pressure = understood(FULL, &[]).night.pressure.values()[0];
    assert!((pressure - 79_495.0).abs() < 5.0, "{pressure} Pa");
}

#[test]
fn runs_over_a_day_take_dated_times() {
    let changes = [
        "night.duration=60 h",
        "night.date=2026-10-03",
        "output.fields_at=[\"2026-10-05T01:00\", 2026-10-04T21:30:00]",
    ];
    let scenario = understood(LEAST, &changes);
    assert_eq!(scenario.output.fields_at, [24.5 * 3600.0, 28.0 * 3600.0]);
}

#[test]
fn a_new_kind_discards_the_keys_of_the_old_one() {
    let scenario = understood(
        FULL,
        &["back.film.kind=still", "night.air.kind=steady", "night.air.temperature=5 degC"],
    );
    assert_eq!(scenario.back.film, Film::Still);
    assert!(close(scenario.night.air.at(1e4, Side::After), 278.15));
}

#[test]
fn a_change_displaces_the_key_it_stands_instead_of() {
    let changes =
        ["night.dew_point=4 degC", "rim.film.coefficient=12 W/m2/K", "back.film.cell=open"];
    let scenario = understood(FULL, &changes);
    assert!(close(scenario.night.dew_point.unwrap().at(0.0, Side::After), 277.15));
    let Film::Given { coefficient, .. } = &scenario.rim.film else { panic!("given") };
    assert_eq!(coefficient.values(), [12.0]);
    assert!(matches!(&scenario.back.film, Film::FanBehind(fan) if fan.cell == Cell::Open));
}

#[test]
fn changes_reach_events_lists_and_new_sections() {
    let changes = [
        "event.1.altitude=30 deg",
        "event.0.at=22:00",
        "back.uneven.0.amplitude=0.1",
        "mirror.glass=fused-silica",
        "title=2 fans",
        "good.held_for=1 h",
    ];
    let scenario = understood(FULL, &changes);
    assert_eq!(scenario.night.fan_speed.positions()[1], 7200.0);
    assert!(close(scenario.night.altitude.at(2e4, Side::After), 30.0_f64.to_radians()));
    assert!(close(scenario.back.uneven[0].amplitude, 0.1));
    assert_eq!(scenario.mirror.glass.name, "fused-silica");
    assert_eq!(scenario.title, "2 fans");
}

#[test]
fn a_byte_order_mark_and_carriage_returns_change_nothing() {
    let windows = format!("\u{feff}{}", LEAST.replace('\n', "\r\n"));
    assert_eq!(understood(&windows, &[]), understood(LEAST, &[]));
}

#[test]
fn every_scenario_that_comes_with_the_program_is_understood() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../scenarios");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|extension| extension == "toml") {
            evenglass_scenario::load(&path, &[])
                .unwrap_or_else(|e| panic!("{}:\n{}", path.display(), report(&e)));
            count += 1;
        }
    }
    assert!(count > 0, "no scenarios in {folder}");
}

#[test]
fn a_weather_file_gives_what_its_columns_say() {
    let folder = Path::new(crate::FOLDER);
    let air = "night.air={ kind = \"file\", path = \"windy.csv\" }";
    let changes = ["night.start=20:00", "night.duration=8 h", air].map(change);
    let night = parse("good.toml", LEAST, folder, &changes).unwrap().night;
    assert!(close(night.air.at(3.0 * 3600.0, Side::After), 282.15));
    assert_eq!(night.wind.unwrap().at(3.0 * 3600.0, Side::After), 2.0);
    assert_eq!(night.dew_point, None);
}
