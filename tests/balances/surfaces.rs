//! The surfaces that pictures are made of are those of the rows.

use std::path::Path;

use approx::assert_relative_eq;
use evenglass_disc::Resolution;
use evenglass_optics::{Front, WAVELENGTH_M};
use evenglass_simulation::result::{Occasion, Record, Surface};
use evenglass_simulation::scenario::scenario::Harmonic;
use evenglass_simulation::scenario::{Scenario, load};
use evenglass_simulation::{Night, simulate};
use evenglass_units::{Duration, Length};

/// A night that becomes good, with films that vary around the axis.
fn lopsided() -> Scenario {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    let mut scenario = load(&folder.join("fan-steps.toml"), &[]).expect("a scenario of ours");
    let uneven = |harmonic, angle| Harmonic { harmonic, amplitude: 0.3, angle };
    scenario.back.uneven = vec![uneven(1, 0.4), uneven(2, 1.0)];
    scenario.front.uneven = vec![uneven(3, 0.2), uneven(4, 0.1)];
    scenario.good.figure_rms = Length::from_metres(8e-9);
    scenario.good.shimmer_arcsec = 10.0;
    scenario
}

fn night(mut scenario: Scenario, interval_s: f64) -> Night {
    scenario.output.interval = Duration::from_seconds(interval_s);
    simulate(&scenario, &Resolution::default()).unwrap()
}

/// Round RMS and that of all orders \[m\].
fn rms(surface: &Surface) -> (f64, f64) {
    let front = Front::new(&surface.radius_m);
    let round = front.round(&surface.round_m).rms_m;
    let squares = surface.orders.iter().map(|(order, cosine, sine)| {
        [cosine, sine].map(|half| front.lopsided(*order, half).rms_m.powi(2)).iter().sum::<f64>()
    });
    (round, (round.powi(2) + squares.sum::<f64>()).sqrt())
}

fn at(night: &Night, time: f64) -> &Record {
    let row = night.history.iter().find(|row| (row.time_s - time).abs() < 1e-9);
    row.expect("a row at that time")
}

#[test]
fn the_surface_of_a_field_has_the_figure_of_its_row() {
    let mut scenario = lopsided();
    scenario.output.fields_at = vec![600.0, 3600.0, 9000.0];
    let night = night(scenario, 300.0);
    assert_eq!(night.fields.len(), 3);
    for field in &night.fields {
        let row = at(&night, field.time_s);
        let (round, total) = rms(&field.surface);
        assert!(field.surface.orders.len() == 4, "four orders of films");
        assert_relative_eq!(round, row.image.figure_rms_m, max_relative = 1e-9);
        assert_relative_eq!(total, row.image.total_rms_m, max_relative = 1e-9);
    }
}

#[test]
fn the_worst_moment_is_as_bad_as_the_worst_row_and_readiness_meets_the_limit() {
    let scenario = lopsided();
    let limit = scenario.good.figure_rms.metres();
    let night = night(scenario, 5.0);
    let of = |what| night.moments.iter().find(|moment| moment.what == what);
    let worst = of(Occasion::Worst).expect("every night has its worst");
    let rows = night.history.iter().map(|row| row.image.total_rms_m);
    let highest = rows.fold(0.0, f64::max);
    let (_, total) = rms(&worst.surface);
    // It is taken at a third of a step, near the top of a smooth hill.
    assert!((total / highest - 1.0).abs() < 2e-3, "{total} m, rows {highest} m");
    let ready = of(Occasion::Ready).expect("a night that becomes good");
    assert_eq!(Some(ready.time_s), night.ready_at_s);
    let (_, total) = rms(&ready.surface);
    let told = (ready.time_s, &night.good_intervals);
    assert!((total / limit - 1.0).abs() < 1e-3, "{total} m, limit {limit} m, {told:?}");
}

/// A slow mirror without obstruction: the wave is twice the surface, everywhere.
#[test]
fn a_slow_unobstructed_mirror_has_the_phase_of_twice_its_figure() {
    let mut scenario = lopsided();
    scenario.telescope = None;
    scenario.mirror.focal_ratio = Some(16.0);
    for row in &night(scenario, 600.0).history {
        let expected = (std::f64::consts::TAU * 2.0 * row.image.total_rms_m / WAVELENGTH_M).powi(2);
        // The slope at the rim is 1/64: it takes 2.4e-4 off the wave there, of focus too.
        assert_relative_eq!(row.image.phase_variance, expected, max_relative = 5e-3);
    }
}
