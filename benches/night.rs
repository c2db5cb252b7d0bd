//! How long one night takes, from a parsed scenario to the last temperature, and
//! how accurate it is at that price.
//!
//! The case is the same throughout: a 406 × 41 mm f/4.5 mirror of soda-lime with
//! constant properties, 20 °C at the start, air falling from 18 °C by 1.5 K/h for
//! eight hours, films of 8 on the front, 12 on the back and 6 W m⁻² K⁻¹ on the
//! rim, no radiation. Each bench first holds its own settings against a far finer
//! run, from five minutes on, so that no speed is bought with error. The shape's
//! geometry factors are made beforehand, except in `given_films_first_run`.
#![allow(missing_docs, reason = "a bench is not an interface")]

use divan::{Bencher, black_box};
use evenglass_optics::{Blank, Deflection, MeshSize};
use evenglass_simulation::result::{COLUMNS, Night};
use evenglass_simulation::scenario::{self, Scenario};
use evenglass_simulation::{
    Geometries, Resolution, SimulationError, simulate_with, temperatures_with,
};
use std::path::Path;

fn main() {
    divan::main();
}

const GIVEN: &str = r#"
title = "bench"
[mirror]
diameter = "406 mm"
edge_thickness = "41 mm"
focal_ratio = 4.5
glass = { density = "2500 kg/m3", specific_heat = "720 J/kg/K", conductivity = "1.0 W/m/K", expansion = "9.0e-6 /K", youngs_modulus = "70 GPa", poisson_ratio = 0.22, emissivity = 0.84 }
[night]
start = "20:00"
duration = "8 h"
glass_temperature = "20 degC"
air = { kind = "falling", from = "18 degC", rate = "-1.5 K/h" }
[front]
film = { kind = "given", coefficient = "8 W/m2/K" }
[back]
film = { kind = "given", coefficient = "12 W/m2/K" }
[rim]
film = { kind = "given", coefficient = "6 W/m2/K" }
"#;

fn given() -> Scenario {
    read(GIVEN)
}

/// The same night with computed films: a fan behind, still air in front and at the rim.
fn computed() -> Scenario {
    let faces = GIVEN.find("[front]").expect("the text names its faces");
    let fan = r#"
[back]
film = { kind = "fan-behind", fan_diameter = "120 mm", hub_diameter = "40 mm", distance = "60 mm", flow = "20 L/s", cell = "open" }
[front]
film = { kind = "still" }
[rim]
film = { kind = "still" }
"#;
    read(&format!("{}{fan}", &GIVEN[..faces]))
}

/// The same mirror with a ring nozzle fed past its back, in a plywood box.
fn moved() -> Scenario {
    read(&moved_text())
}

/// The same with the fan at half speed from the third hour on: each step of the fans
/// costs the small time steps after it once more.
fn moved_in_steps() -> Scenario {
    let step = "\n[[event]]\nat = \"2 h\"\nfan_speed = 0.5\n";
    read(&format!("{}{step}", moved_text()))
}

/// The given films with a back that differs by a third around the axis, in all directions.
fn uneven() -> Scenario {
    let parts = "uneven = [{ harmonic = 1, amplitude = 0.2, angle = \"20 deg\" }, \
                  { harmonic = 2, amplitude = 0.1, angle = \"75 deg\" }]";
    read(&GIVEN.replace("[back]", &format!("[back]\n{parts}")))
}

/// The ring nozzle fed at one point through a channel hardly wider than its slot, so that all
/// that it blows is lopsided.
fn fed_at_one_point() -> Scenario {
    let fed = "lip = \"15 mm\"\nfeed = \"one-point\"\nfeed_angle = \"30 deg\"\n\
               ring_section = \"70 cm2\"";
    read(&moved_text().replace("lip = \"15 mm\"", fed))
}

fn moved_text() -> String {
    let faces = GIVEN.find("[front]").expect("the text names its faces");
    let air = r#"
[telescope]
form = "truss"
clearance = "15 mm"
length = "150 mm"
behind = "100 mm"
wall = { material = "plywood", thickness = "12 mm" }
[ventilation]
kind = "ring-nozzle"
slot = "5 mm"
lip = "15 mm"
height = "2 mm"
path = { kind = "past-back", gap = "25 mm" }
fans = { diameter = "120 mm", free_flow = "30 L/s", max_pressure = "40 Pa", power = "3 W" }
layers = [{ kind = "filter", media = "coarse", area = "500 cm2" }]
"#;
    format!("{}{air}", &GIVEN[..faces])
}

fn read(text: &str) -> Scenario {
    scenario::parse("bench", text, Path::new("."), &[]).expect("the bench's scenario is right")
}

/// Coarse: what 10 mK need.
fn ten_millikelvin() -> Resolution {
    Resolution {
        radial_order: 4,
        axial_order: 4,
        radial_finest: 0.05,
        tolerance: 1e-2,
        ..Resolution::default()
    }
}

/// What 1 mK needs on this night.
fn one_millikelvin() -> Resolution {
    Resolution { radial_finest: 0.04, axial_order: 5, tolerance: 3e-3, ..Resolution::default() }
}

/// What 5 mK need where air is moved.
fn five_millikelvin() -> Resolution {
    Resolution { radial_order: 4, axial_order: 4, tolerance: 1e-2, ..Resolution::default() }
}

/// Largest difference of any temperature of the history from five minutes on [K],
/// with its column and time [s].
fn largest_error(night: &Night, reference: &Night) -> (f64, &'static str, f64) {
    let rows = night.history.iter().zip(&reference.history).filter(|(row, _)| row.time_s >= 300.0);
    let errors = rows.flat_map(|(row, exact)| {
        let temperatures =
            COLUMNS.iter().filter(|c| c.name.ends_with("_c") || c.name.ends_with("_k"));
        temperatures.map(|column| {
            let error = ((column.value)(row) - (column.value)(exact)).abs();
            (error, column.name, row.time_s)
        })
    });
    // A column without a value in this night has no error.
    let errors = errors.filter(|error| !error.0.is_nan());
    errors.max_by(|a, b| a.0.total_cmp(&b.0)).expect("a night has rows")
}

/// How a night is computed: with its image or without.
type Simulate = fn(&Scenario, &Resolution, &Geometries) -> Result<Night, SimulationError>;

fn night(
    bencher: Bencher,
    scenario: &Scenario,
    (simulate, resolution): (Simulate, &Resolution),
    allowed_k: f64,
) {
    let geometries = Geometries::new();
    let simulate = |resolution| simulate(scenario, resolution, &geometries).expect("it runs");
    let finer = Resolution { tolerance: 1e-5, ..Resolution::fine() };
    let reference = simulate(&finer);
    let (error, column, time) = largest_error(&simulate(resolution), &reference);
    let (error, allowed) = (error * 1e3, allowed_k * 1e3);
    assert!(error <= allowed, "{column} at {time} s is {error:.2} mK off, allowed {allowed}");
    bencher.bench_local(|| simulate(black_box(resolution)));
}

#[divan::bench]
fn given_films_10mk(bencher: Bencher) {
    night(bencher, &given(), (temperatures_with, &ten_millikelvin()), 10e-3);
}

/// The same with figure, focus, blur and good stretches.
#[divan::bench]
fn given_films_10mk_with_image(bencher: Bencher) {
    night(bencher, &given(), (simulate_with, &ten_millikelvin()), 10e-3);
}

#[divan::bench]
fn given_films_1mk(bencher: Bencher) {
    night(bencher, &given(), (temperatures_with, &one_millikelvin()), 1e-3);
}

#[divan::bench]
fn computed_films(bencher: Bencher) {
    night(bencher, &computed(), (temperatures_with, &Resolution::default()), 5e-3);
}

#[divan::bench]
fn computed_films_with_image(bencher: Bencher) {
    night(bencher, &computed(), (simulate_with, &Resolution::default()), 5e-3);
}

#[divan::bench]
fn moved_air_with_image(bencher: Bencher) {
    night(bencher, &moved(), (simulate_with, &five_millikelvin()), 5e-3);
}

#[divan::bench]
fn moved_air(bencher: Bencher) {
    night(bencher, &moved(), (temperatures_with, &five_millikelvin()), 5e-3);
}

#[divan::bench]
fn moved_air_in_steps(bencher: Bencher) {
    night(bencher, &moved_in_steps(), (temperatures_with, &five_millikelvin()), 5e-3);
}

#[divan::bench]
fn moved_air_default(bencher: Bencher) {
    night(bencher, &moved(), (temperatures_with, &Resolution::default()), 5e-3);
}

#[divan::bench]
fn given_films_default(bencher: Bencher) {
    night(bencher, &given(), (temperatures_with, &Resolution::default()), 5e-3);
}

/// The same with its grid made on the spot: what the first night of a shape costs.
#[divan::bench]
fn given_films_first_run(bencher: Bencher) {
    let scenario = given();
    let resolution = Resolution::default();
    bencher.bench_local(|| simulate_with(black_box(&scenario), &resolution, &Geometries::new()));
}

/// The elastic problem of the bench's mirror: what the first night of a shape pays for its
/// image, once for each order around the axis.
#[divan::bench(args = [0, 1, 2])]
fn factoring(bencher: Bencher, order: usize) {
    let blank = Blank {
        outer_radius_m: 0.203,
        inner_radius_m: 0.0,
        edge_thickness_m: 0.041,
        curvature_per_m: 1.0 / (2.0 * 4.5 * 0.406),
    };
    let size = MeshSize::of(&blank);
    bencher.bench_local(|| Deflection::new(black_box(&blank), size, 0.22, order));
}

/// Temperatures that differ around the axis: orders 1 to 4 and the mean, each with the others.
#[divan::bench]
fn lopsided_given(bencher: Bencher) {
    night(bencher, &uneven(), (simulate_with, &Resolution::default()), 5e-3);
}

/// Streams of every sector, and what they do to a wall.
#[divan::bench]
fn lopsided_moved(bencher: Bencher) {
    night(bencher, &fed_at_one_point(), (simulate_with, &five_millikelvin()), 5e-3);
}
