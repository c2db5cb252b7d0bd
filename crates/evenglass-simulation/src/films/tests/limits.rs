//! Where films start, end and leave their range.

use super::*;

#[test]
fn every_jump_and_kink_is_an_event_and_every_edge_a_break() {
    let mut scenario = still_night();
    scenario.night.air = Profile::new(vec![0.0, 3_600.0, 7_200.0], vec![290.0, 285.0, 285.0]);
    scenario.night.fan_speed = Profile::new(vec![0.0, 5_400.0, 5_400.0], vec![1.0, 1.0, 0.3]);
    scenario.night.cover = vec![(0.0, Cover::On), (1_800.0, Cover::Off)];
    let coefficient = Profile::new(vec![0.0, 0.124, 0.124, 0.203], vec![25.0, 25.0, 4.0, 4.0]);
    scenario.front = face(given(coefficient));
    scenario.back = face(fan(closed()));
    assert_eq!(event_times(&scenario), [1_800.0, 3_600.0, 5_400.0]);
    let breaks = breaks(&scenario);
    assert_eq!(breaks.jumps.front, [0.124]);
    assert!(breaks.jumps.back.is_empty(), "a fan's film has no two values");
    assert_eq!(breaks.kinks.back.len(), 3);
    assert_relative_eq!(breaks.kinks.back[0], 0.06);
    assert_relative_eq!(breaks.kinks.back[1], 0.09);
    assert_relative_eq!(breaks.kinks.back[2], 0.12);
    assert!(breaks.kinks.rim.is_empty() && breaks.kinks.hole.is_empty(), "{breaks:?}");
}

#[test]
fn each_warning_is_said_once_with_its_count() {
    let mut scenario = still_night();
    scenario.night.air = Profile::constant(Temperature::from_celsius(-45.0).kelvin());
    scenario.rim = face(fan(Cell::Open));
    scenario.back = face(fan(Cell::Open));
    scenario.night.altitude = Profile::constant(0.3);
    scenario.night.cover = vec![(0.0, Cover::On), (3600.0, Cover::Off)];
    let mut films = Films::new(&scenario, (&points(), &[0.01; 8]), None);
    films.enter(0.0, 100.0);
    films.enter(100.0, 200.0);
    let warnings = films.warnings();
    let count = |code| warnings.iter().find(|w| w.code == code).map(|w| w.count);
    assert_eq!(count("films::fan-behind-back-only"), Some(1));
    assert_eq!(count("films::temperature-range"), Some(2));
    assert_eq!(count("films::wall-layer-range"), Some(2));
    // Front and back, twice.
    assert_eq!(count("films::tilt-range"), Some(4));
    assert_eq!(count("films::cover"), Some(1));
    assert_eq!(count("films::no-wind"), None);
    assert!(entered(&still_night()).warnings().is_empty());
}

#[test]
fn extreme_scenarios_stay_finite() {
    for (name, mut scenario) in every_kind() {
        for (diameter, thickness) in [(0.02, 0.002), (2.0, 0.5)] {
            scenario.mirror.diameter = Length::from_metres(diameter);
            scenario.mirror.edge_thickness = Length::from_metres(thickness);
            scenario.night.wind = Some(Profile::new(vec![0.0, 28_800.0], vec![0.0, 60.0]));
            for air in [213.15, 333.15] {
                scenario.night.air = Profile::constant(air);
                let films = entered(&scenario);
                for surface in [213.15, 333.15] {
                    for Exchange { flux, slope } in exchange_at(&films, 14_000.0, surface) {
                        assert!(flux.is_finite() && slope >= 0.0, "{name}: {flux}, {slope}");
                    }
                }
            }
        }
    }
}
