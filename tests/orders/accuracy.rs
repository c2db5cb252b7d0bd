//! What each resolution promises, on mirrors at the ends of what a scenario may hold.

use evenglass_disc::Resolution;

use crate::case::{Case, Points};
use crate::deviation::{Computed, converged};

/// The bench mirror, 10 K warmer than its air, with even films.
fn bench_mirror() -> Case {
    Case {
        diameter_m: 0.406,
        edge_thickness_m: 0.041,
        focal_ratio: Some(4.5),
        start_c: 20.0,
        air: vec![(0.0, 10.0)],
        front: even(8.0),
        back: even(12.0),
        rim: even(25.0),
        hole: even(12.0),
        duration_s: 7200.0,
        ..Case::flat()
    }
}

fn even(film: f64) -> Points {
    vec![(0.0, film)]
}

/// One film up to a place, another beyond it.
fn jump(at: f64, (inside, outside): (f64, f64)) -> Points {
    vec![(0.0, inside), (at, inside), (at, outside), (10.0, outside)]
}

/// Largest errors [K] that the two resolutions promise for a step of 10 K.
const PROMISED: f64 = 5e-3;
const PROMISED_FINE: f64 = 1e-3;

fn holds_its_promises(case: &Case) {
    let scenario = case.scenario();
    let reference = Computed::new(&scenario, &converged());
    for (resolution, promised) in
        [(Resolution::default(), PROMISED), (Resolution::fine(), PROMISED_FINE)]
    {
        let deviation = Computed::new(&scenario, &resolution).deviation(&reference);
        assert!(deviation <= promised, "{deviation} K, promised {promised}");
    }
}

#[test]
fn the_reference_has_converged() {
    let finer = Resolution {
        axial_finest: 0.015,
        radial_finest: 0.01,
        break_finest: 2.5e-4,
        tolerance: 2e-6,
        ..converged()
    };
    let front = jump(0.124, (25.0, 4.0));
    for (case, most) in [(bench_mirror(), 2e-4), (Case { front, ..bench_mirror() }, 7e-4)] {
        let scenario = case.scenario();
        let reference = Computed::new(&scenario, &converged());
        let moved = Computed::new(&scenario, &finer).deviation(&reference);
        assert!(moved <= most, "{moved} K, at most {most}");
    }
}

#[test]
fn even_films_on_the_bench_mirror_are_within_the_promise() {
    holds_its_promises(&bench_mirror());
}

#[test]
fn a_jump_on_the_front_is_within_the_promise() {
    holds_its_promises(&Case { front: jump(0.124, (25.0, 4.0)), ..bench_mirror() });
}

#[test]
fn a_jump_on_the_back_is_within_the_promise() {
    holds_its_promises(&Case { back: jump(0.0777, (4.0, 30.0)), ..bench_mirror() });
}

#[test]
fn a_jump_at_half_the_height_of_the_rim_is_within_the_promise() {
    holds_its_promises(&Case { rim: jump(0.0205, (25.0, 4.0)), ..bench_mirror() });
}

#[test]
fn a_strong_jump_near_the_foot_of_the_rim_is_within_the_promise() {
    holds_its_promises(&Case { rim: jump(0.0043, (0.0, 50.0)), ..bench_mirror() });
}

#[test]
fn a_jump_on_the_wall_of_the_hole_is_within_the_promise() {
    holds_its_promises(&Case {
        hole_m: Some(0.08),
        hole: jump(0.02, (25.0, 4.0)),
        ..bench_mirror()
    });
}

#[test]
fn a_jump_from_the_strongest_usual_film_to_none_is_within_the_promise() {
    holds_its_promises(&Case { front: jump(0.124, (50.0, 0.0)), ..bench_mirror() });
}

#[test]
fn a_jump_beside_the_rim_is_within_the_promise() {
    holds_its_promises(&Case { front: jump(0.1995, (4.0, 50.0)), ..bench_mirror() });
}

#[test]
fn a_thick_mirror_with_a_hole_is_within_the_promise() {
    holds_its_promises(&Case { edge_thickness_m: 0.1, hole_m: Some(0.08), ..bench_mirror() });
}

#[test]
fn a_thin_mirror_is_within_the_promise() {
    holds_its_promises(&Case { edge_thickness_m: 0.006, focal_ratio: Some(8.0), ..bench_mirror() });
}

#[test]
fn a_tiny_mirror_is_within_the_promise() {
    holds_its_promises(&Case {
        diameter_m: 0.02,
        edge_thickness_m: 0.005,
        focal_ratio: None,
        ..bench_mirror()
    });
}

#[test]
fn a_mirror_of_two_metres_is_within_the_promise() {
    holds_its_promises(&Case { diameter_m: 2.0, edge_thickness_m: 0.2, ..bench_mirror() });
}

#[test]
fn a_block_of_two_metres_by_half_a_metre_is_within_the_promise() {
    holds_its_promises(&Case { diameter_m: 2.0, edge_thickness_m: 0.5, ..bench_mirror() });
}

#[test]
fn a_fast_mirror_with_a_thin_centre_is_within_the_promise() {
    holds_its_promises(&Case { focal_ratio: Some(2.0), edge_thickness_m: 0.03, ..bench_mirror() });
}

#[test]
fn strong_even_films_are_within_the_promise() {
    for film in [50.0, 100.0, 1000.0] {
        let (front, back, rim) = (even(film), even(film), even(film));
        holds_its_promises(&Case { front, back, rim, ..bench_mirror() });
    }
}

/// Falling air is followed at 0.5 mK for each kelvin the glass lags: 5 mK for the ten here.
#[test]
fn falling_air_is_followed_within_the_promise() {
    holds_its_promises(&Case { air: vec![(0.0, 20.0), (7200.0, 8.0)], ..bench_mirror() });
}
