//! The solver against a general-purpose finite-element library.
//!
//! Six mirrors that no series describes: film jumps off the grid, a hole, thick
//! glass, an insulated rim, one-sided cooling, and temperature-dependent glass that
//! radiates. `data/finite_element.csv` states how it was made and how far off it may be;
//! `finite_element.py` makes it again.

use evenglass_materials::SpecificHeatLaw;
use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::scenario::scenario::{
    Face, Film, Insulation, RadiantSurroundings, Radiation,
};
use evenglass_units::{Conductivity, Length, Temperature};

use crate::case::{Case, profile};
use crate::solver::{Accuracy, temperatures};
use crate::table::{data, number};

/// A line of the table.
struct Line {
    probe: (f64, f64, f64),
    celsius: f64,
    error: f64,
}

fn lines_of(case: &str) -> Vec<Line> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(data("finite_element.csv"))
        .expect("the table is in the repository");
    let columns = ["case", "time_s", "radius_m", "height_m", "temperature_c", "error_k"];
    let headers = reader.headers().expect("the table has headers");
    assert_eq!(headers, columns.as_slice(), "the columns this test reads");
    let lines: Vec<Line> = reader
        .records()
        .map(|record| record.expect("the table is well formed"))
        .filter(|record| &record[0] == case)
        .map(|record| {
            let cell = |column: usize| number(&record[column]);
            Line { probe: (cell(1), cell(2), cell(3)), celsius: cell(4), error: cell(5) }
        })
        .collect();
    assert!(lines.len() >= 50, "only {} lines of `{case}`", lines.len());
    lines
}

/// Asserts the promise at every probe of a case, at both resolutions.
fn check(name: &str, scenario: &Scenario) {
    let lines = lines_of(name);
    let probes: Vec<_> = lines.iter().map(|line| line.probe).collect();
    for accuracy in Accuracy::BOTH {
        let kelvin = temperatures(scenario, &probes, accuracy);
        for (line, kelvin) in lines.iter().zip(kelvin) {
            let gap = Temperature::from_kelvin(kelvin).celsius() - line.celsius;
            let allowed = accuracy.per_ten_kelvin() + line.error;
            assert!(
                gap.abs() <= allowed,
                "`{name}` at (s, m, m) {:?}, {accuracy:?}: off by {gap:.6} K, allowed {allowed:.6}",
                line.probe
            );
        }
    }
}

fn soda() -> Case {
    Case { density: 2500.0, specific_heat: 720.0, conductivity: 1.0, ..Case::flat() }
}

fn boro() -> Case {
    Case { density: 2230.0, specific_heat: 740.0, conductivity: 1.1, ..Case::flat() }
}

fn even(film: f64) -> Vec<(f64, f64)> {
    vec![(0.0, film)]
}

#[test]
fn films_that_jump_between_the_grids_points() {
    let case = Case {
        diameter_m: 0.406,
        edge_thickness_m: 0.041,
        focal_ratio: Some(4.5),
        start_c: 20.0,
        air: even(10.0),
        front: vec![(0.0, 25.0), (0.124, 25.0), (0.124, 4.0), (0.203, 4.0)],
        back: vec![(0.0, 20.0), (0.0917, 20.0), (0.0917, 6.0), (0.203, 9.0)],
        rim: even(6.0),
        duration_s: 14_400.0,
        ..soda()
    };
    check("jumps", &case.scenario());
}

#[test]
fn a_perforated_mirror_follows_falling_air() {
    let case = Case {
        diameter_m: 0.4,
        edge_thickness_m: 0.05,
        focal_ratio: Some(4.0),
        hole_m: Some(0.09),
        start_c: 21.0,
        air: vec![(0.0, 17.0), (14_400.0, 11.0)],
        front: vec![(0.0, 7.0), (0.2, 11.0)],
        back: vec![(0.0, 18.0), (0.11, 18.0), (0.11, 8.0)],
        rim: even(10.0),
        hole: even(5.0),
        duration_s: 14_400.0,
        ..boro()
    };
    check("holed", &case.scenario());
}

#[test]
fn a_thick_blank_with_a_half_covered_rim() {
    let case = Case {
        diameter_m: 0.61,
        edge_thickness_m: 0.085,
        focal_ratio: Some(5.0),
        start_c: 18.0,
        air: even(8.0),
        front: even(5.0),
        back: even(16.0),
        rim: vec![(0.0, 14.0), (0.033, 14.0), (0.033, 3.0)],
        duration_s: 28_800.0,
        ..soda()
    };
    check("thick", &case.scenario());
}

#[test]
fn an_insulated_rim_while_the_fan_slows_down() {
    let case = Case {
        diameter_m: 0.406,
        edge_thickness_m: 0.041,
        focal_ratio: Some(4.5),
        start_c: 20.0,
        air: vec![(0.0, 18.0), (7200.0, 15.0), (14_400.0, 9.0)],
        front: even(8.0),
        back: even(24.0),
        rim: even(12.0),
        duration_s: 14_400.0,
        ..soda()
    };
    let mut scenario = case.scenario();
    scenario.rim.insulation = Some(Insulation {
        thickness: Length::from_metres(0.006),
        conductivity: Conductivity::from_w_per_m_k(0.035),
    });
    let Film::Given { factor, .. } = &mut scenario.back.film else {
        panic!("the back's film is given")
    };
    *factor = profile(&[(0.0, 1.0), (3600.0, 1.0), (3600.0, 0.3333), (14_400.0, 0.3333)]);
    check("insulated", &scenario);
}

#[test]
fn a_strong_fan_on_one_side_only() {
    let case = Case {
        diameter_m: 0.3,
        edge_thickness_m: 0.04,
        focal_ratio: Some(6.0),
        start_c: 20.0,
        air: even(10.0),
        front: even(0.5),
        back: vec![(0.0, 60.0), (0.045, 60.0), (0.15, 20.0)],
        rim: even(2.0),
        duration_s: 14_400.0,
        ..boro()
    };
    check("one-sided", &case.scenario());
}

#[test]
fn glass_that_radiates_and_stores_more_when_warm() {
    let case = Case {
        diameter_m: 0.406,
        edge_thickness_m: 0.041,
        focal_ratio: Some(4.5),
        start_c: 25.0,
        air: vec![(0.0, 18.0), (14_400.0, 4.0)],
        front: even(6.0),
        back: vec![(0.0, 15.0), (0.08, 15.0), (0.08, 5.0)],
        rim: even(4.0),
        duration_s: 14_400.0,
        ..soda()
    };
    let mut scenario = case.scenario();
    scenario.mirror.glass.heat = SpecificHeatLaw { a: 2.157, b: 0.00146, c: 737.4 };
    scenario.mirror.glass.conductivity_slope = 0.0013;
    radiate(&mut scenario.front, 0.04);
    radiate(&mut scenario.back, 0.84);
    radiate(&mut scenario.rim, 0.84);
    check("radiating", &scenario);
}

fn radiate(face: &mut Face, emissivity: f64) {
    face.radiation = Some(Radiation { emissivity, surroundings: RadiantSurroundings::Air });
}
