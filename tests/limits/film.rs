//! Films of nothing, of next to nothing, and of so much that the surface is at the air.

use evenglass_disc::Resolution;
use evenglass_simulation::result::COLUMNS;
use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::scenario::scenario::Insulation;
use evenglass_simulation::{Night, simulate};
use evenglass_units::{Conductivity, Length};

use crate::case::Case;
use crate::even;

fn run(scenario: &Scenario) -> Night {
    simulate(scenario, &Resolution::default()).unwrap()
}

/// Largest departure from `celsius` of any temperature in the history [K].
fn departure(night: &Night, celsius: f64) -> f64 {
    let columns = COLUMNS.iter().filter(|c| c.name.ends_with("_c") && c.name != "air_c");
    let all = columns.flat_map(|c| night.history.iter().map(|row| (c.value)(row) - celsius));
    all.fold(0.0, |worst, difference| worst.max(difference.abs()))
}

#[test]
fn without_any_film_the_glass_keeps_its_temperature_to_rounding() {
    let case = Case {
        start_c: 20.0,
        air: vec![(0.0, 10.0), (3600.0, -5.0)],
        focal_ratio: Some(3.0),
        hole_m: Some(0.1),
        ..Case::flat()
    };
    let night = run(&case.scenario());
    // A dozen roundings of 20 °C and of some 10⁵ J.
    assert!(departure(&night, 20.0) < 1e-11, "{:e} K", departure(&night, 20.0));
    assert!(night.energy.lost_j.abs() < 1e-6, "{} J", night.energy.lost_j);
}

#[test]
fn nothing_moves_where_air_and_glass_are_equal() {
    let text = r#"
[mirror]
diameter = "406 mm"
edge_thickness = "41 mm"
focal_ratio = 4.5
glass = "soda-lime"
[night]
start = "20:00"
duration = "8 h"
glass_temperature = "12 degC"
air = { kind = "steady", temperature = "12 degC" }
[back]
film = { kind = "fan-behind", fan_diameter = "120 mm", hub_diameter = "40 mm", distance = "60 mm", flow = "20 L/s", cell = "open" }
"#;
    // Still front and rim, a fan behind, radiation to the air: all driven by a difference.
    let computed =
        evenglass_simulation::scenario::parse("equal.toml", text, std::path::Path::new(""), &[]);
    let given = Case {
        start_c: 12.0,
        air: vec![(0.0, 12.0)],
        front: vec![(0.0, 25.0), (0.1, 25.0), (0.1, 4.0)],
        back: even(12.0),
        rim: even(6.0),
        ..Case::flat()
    };
    for scenario in [computed.unwrap(), given.scenario()] {
        let moved = departure(&run(&scenario), 12.0);
        // Means and interpolations are sums of up to some hundred roundings of 285 K · 2e-16.
        assert!(moved < 1e-11, "{moved:e} K");
    }
}

/// 1000 W m⁻² K⁻¹ on 50 mm of glass is Bi = 25 on the half thickness: after the Fourier
/// number 0.56 of an hour the surface keeps some 1/Bi of what is left in the middle.
#[test]
fn under_a_huge_film_the_surface_is_at_the_air() {
    let case = Case {
        start_c: 20.0,
        air: vec![(0.0, 10.0)],
        front: even(1000.0),
        back: even(1000.0),
        rim: even(1000.0),
        duration_s: 6.0 * 3600.0,
        ..Case::flat()
    };
    let night = run(&case.scenario());
    for row in night.history.iter().filter(|row| row.time_s >= 1800.0) {
        let (surface, middle) = (row.front_centre - row.air, row.mid_centre - row.air);
        let share = surface.kelvins() / middle.kelvins();
        // First eigenvalue of ζ tan ζ = 25 is 1.5105 by bisection: cos ζ = 0.0603 of the middle.
        let expected = first_mode_at_surface(25.0);
        assert!((share - expected).abs() < 0.01, "{share} of the middle, not {expected}");
    }
    let last = night.history.last().unwrap();
    let left = (last.front_centre - last.air).kelvins();
    assert!((0.0..0.01).contains(&left), "{left} K above the air after six hours");
}

/// cos ζ for the first root of ζ tan ζ = Bi, by bisection.
fn first_mode_at_surface(biot: f64) -> f64 {
    let (mut low, mut high) = (0.0_f64, std::f64::consts::FRAC_PI_2);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if middle * middle.tan() < biot {
            low = middle;
        } else {
            high = middle;
        }
    }
    low.cos()
}

#[test]
fn a_sealed_rim_leaves_no_difference_between_edge_and_centre_of_a_flat_disc() {
    let case = Case {
        start_c: 20.0,
        air: vec![(0.0, 10.0)],
        front: even(8.0),
        back: even(12.0),
        duration_s: 4.0 * 3600.0,
        ..Case::flat()
    };
    for row in &run(&case.scenario()).history {
        for difference in [row.mid_edge - row.mid_centre, row.front_edge - row.front_centre] {
            // The problem has no radius in it; what is left is rounding.
            let difference = difference.kelvins().abs();
            assert!(difference < 1e-9, "{difference:e} K at {} s", row.time_s);
        }
    }
}

fn insulated(thickness: f64) -> Scenario {
    let case = Case {
        start_c: 20.0,
        air: vec![(0.0, 10.0)],
        front: even(8.0),
        back: even(12.0),
        rim: even(25.0),
        ..Case::flat()
    };
    let mut scenario = case.scenario();
    scenario.rim.insulation = Some(Insulation {
        thickness: Length::from_metres(thickness),
        conductivity: Conductivity::from_w_per_m_k(0.035),
    });
    scenario
}

#[test]
fn insulation_of_no_thickness_is_a_bare_rim() {
    let mut bare = insulated(0.0);
    bare.rim.insulation = None;
    let bare = run(&bare);
    let edge = |night: &Night| night.history.last().unwrap().mid_edge.kelvin();
    // 1/25 + t/0.035: a thickness of t lowers the film by the share 25 t / 0.035, and the
    // edge's some 5 K by less than that share.
    for thickness in [0.0, 1e-7, 1e-6, 1e-5] {
        let shift = (edge(&run(&insulated(thickness))) - edge(&bare)).abs();
        let most = 5.0 * 25.0 * thickness / 0.035 + 1e-6;
        assert!(shift <= most, "{shift} K for {thickness} m, at most {most}");
    }
    let foam = edge(&run(&insulated(0.006))) - edge(&bare);
    assert!(foam > 1.0, "six millimetres of foam warm the edge by {foam} K");
}

/// A layer on a given film without radiation is a smaller film: 1 / (1/25 + 0.006/0.035).
#[test]
fn insulation_is_a_resistance_in_series_with_the_film() {
    let layered = run(&insulated(0.006));
    let mut plain = insulated(0.006);
    plain.rim.insulation = None;
    let film = 1.0 / (1.0 / 25.0 + 0.006 / 0.035);
    plain.rim.film = evenglass_simulation::scenario::scenario::Film::Given {
        coefficient: crate::case::profile(&[(0.0, film)]),
        factor: crate::case::profile(&[(0.0, 1.0)]),
        air_offset: evenglass_units::TemperatureDifference::from_kelvins(0.0),
    };
    let plain = run(&plain);
    for (a, b) in layered.history.iter().zip(&plain.history) {
        let difference = (a.mid_edge - b.mid_edge).kelvins().abs();
        assert!(difference < 1e-9, "{difference:e} K at {} s", a.time_s);
    }
}
