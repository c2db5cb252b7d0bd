//! Bands against what can be worked out by hand.

use std::path::Path;

use approx::assert_relative_eq;
use evenglass_disc::Resolution;
use evenglass_scenario::Scenario;
use statrs::distribution::{ContinuousCDF, Normal};

use super::{Band, Doubt, Draw, Told, Unknown, applying, doubt, draw};
use crate::Geometries;
use crate::result::COLUMNS;

const NIGHT: &str = "
[mirror]
diameter = '300 mm'
edge_thickness = '30 mm'
focal_ratio = 5
glass = { density = '2500 kg/m3', specific_heat = '720 J/kg/K', conductivity = '1.0 W/m/K', expansion = '9.0e-6 /K', youngs_modulus = '70 GPa', poisson_ratio = 0.22, emissivity = 0.84 }
[night]
start = '20:00'
duration = '3 h'
glass_temperature = '20 degC'
air = { kind = 'falling', from = '12 degC', rate = '-1 K/h' }
[front]
film = { kind = 'given', coefficient = '8 W/m2/K' }
[back]
film = { kind = 'given', coefficient = '12 W/m2/K' }
[rim]
film = { kind = 'given', coefficient = '5 W/m2/K' }
";

fn night() -> Scenario {
    evenglass_scenario::parse("d.toml", NIGHT, Path::new(""), &[]).unwrap()
}

fn coarse() -> Resolution {
    Resolution { radial_order: 4, axial_order: 4, tolerance: 1e-3, ..Resolution::default() }
}

fn drawn(scenario: &Scenario, unknowns: &[Unknown], told: Told) -> Doubt {
    doubt(scenario, unknowns, (&coarse(), &Geometries::new()), told, |_| ()).unwrap()
}

fn told(nights: u32) -> Told {
    Told { nights, seed: 3, threads: Some(2) }
}

fn end_of(doubt: &Doubt, name: &str) -> Band {
    doubt.columns[COLUMNS.iter().position(|column| column.name == name).unwrap()][0]
}

/// The figure is in proportion to the expansion, whose logarithm is normal: the ends of its
/// band are those of the expansion's.
#[test]
fn the_band_of_what_is_proportional_to_one_unknown_is_that_of_the_unknown() {
    let scenario = night();
    let found = drawn(&scenario, &[Unknown::Expansion], told(1024));
    let figure = end_of(&found, "figure_rms_nm");
    let sigma = Unknown::Expansion.sigma(&scenario);
    let end = Normal::standard().inverse_cdf(0.95);
    assert_relative_eq!(figure.high / figure.middle, (end * sigma).exp(), max_relative = 2e-3);
    assert_relative_eq!(figure.middle / figure.low, (end * sigma).exp(), max_relative = 2e-3);
    let lag = end_of(&found, "front_minus_air_k");
    assert_relative_eq!(lag.high, lag.low, max_relative = 1e-9);
}

/// With given films and constant properties the lag at the end is linear in the temperature
/// of the glass at the start: two nights give the slope, and the slope the band.
#[test]
fn the_variance_of_a_linear_night_is_the_analytic_one() {
    let mut scenario = night();
    scenario.night.duration = evenglass_units::Duration::from_seconds(2400.0);
    let sigma = Unknown::StartTemperature.sigma(&scenario);
    let lag = |deviate: f64| {
        let shifted =
            draw(&scenario, &Draw { deviates: vec![(Unknown::StartTemperature, deviate)] });
        let night = crate::simulate(&shifted, &coarse()).unwrap();
        night.history.last().unwrap().front_minus_air.kelvins()
    };
    let slope = 0.5 * (lag(1.0) - lag(-1.0));
    assert!(slope > 0.05 * sigma, "the start is not forgotten so soon: {slope} K");
    let band =
        end_of(&drawn(&scenario, &[Unknown::StartTemperature], told(1024)), "front_minus_air_k");
    let width = 2.0 * Normal::standard().inverse_cdf(0.95) * slope;
    assert_relative_eq!(band.high - band.low, width, max_relative = 5e-3);
}

#[test]
fn the_same_seed_gives_the_same_numbers_on_any_number_of_threads() {
    let scenario = night();
    let unknowns = applying(&scenario);
    let one = drawn(&scenario, &unknowns, Told { threads: Some(1), ..told(24) });
    let many = drawn(&scenario, &unknowns, Told { threads: Some(3), ..told(24) });
    assert_eq!(format!("{one:?}"), format!("{many:?}"));
    let other = drawn(&scenario, &unknowns, Told { seed: 4, ..told(24) });
    assert_ne!(format!("{one:?}"), format!("{other:?}"));
}

/// Alternatives meet the same luck: an unknown's deviate does not depend on which others
/// are drawn with it.
#[test]
fn a_deviate_depends_on_its_unknown_its_number_and_the_seed_alone() {
    let few = Draw::of(&[Unknown::BackFilm, Unknown::Wind], 11, 5);
    let all = Draw::of(&Unknown::ALL, 11, 5);
    for pair in &few.deviates {
        assert!(all.deviates.contains(pair), "{pair:?}");
    }
    assert!(all.deviates.iter().all(|(_, z)| z.is_finite()));
}

/// A warmer start, a lower film or a higher specific heat cannot make it ready earlier.
#[test]
fn more_heat_or_less_film_makes_it_ready_later() {
    let scenario = night();
    let ready = |unknown: Unknown, deviate: f64| {
        let drawn = draw(&scenario, &Draw { deviates: vec![(unknown, deviate)] });
        crate::simulate(&drawn, &coarse()).unwrap().ready_at_s.unwrap_or(f64::INFINITY)
    };
    for (unknown, later) in [
        (Unknown::SpecificHeat, 2.0),
        (Unknown::FrontFilm, -2.0),
        (Unknown::BackFilm, -2.0),
        (Unknown::StartTemperature, 2.0),
        (Unknown::Shimmer, 2.0),
    ] {
        let (base, moved) = (ready(unknown, 0.0), ready(unknown, later));
        assert!(moved > base, "{unknown:?}: {base} s, {moved} s");
    }
}

#[test]
fn chances_are_shares_of_nights_and_grow_with_time() {
    let scenario = night();
    let found = drawn(&scenario, &applying(&scenario), told(64));
    assert_eq!(found.failed, 0);
    assert!(found.ready_by.windows(2).all(|pair| pair[0].1 <= pair[1].1));
    assert_relative_eq!(found.ready_by.last().unwrap().1, found.ready, max_relative = 1e-12);
    assert!(found.good_hours.low <= found.good_hours.middle);
    assert!(found.good_hours.middle <= found.good_hours.high);
    let shares: f64 = found.importance.iter().map(|importance| importance.share).sum();
    assert!(shares > 0.5 && shares < 1.1, "most of the spread goes with single unknowns: {shares}");
}
