//! Shapes that become simpler ones.

use evenglass_disc::Resolution;
use evenglass_simulation::simulate;

use crate::case::Case;
use crate::even;

/// Bi = 12 · 0.002 / 1 = 0.024: the disc is one temperature within a percent, and its
/// excess decays as exp(-h t / (ρ c thickness)).
#[test]
fn a_thin_disc_cools_as_the_lumped_exponential() {
    let case = Case {
        diameter_m: 0.2,
        edge_thickness_m: 0.002,
        start_c: 20.0,
        air: vec![(0.0, 10.0)],
        front: even(5.0),
        back: even(7.0),
        ..Case::flat()
    };
    let night = simulate(&case.scenario(), &Resolution::default()).unwrap();
    let rate = 12.0 / (2500.0 * 720.0 * 0.002);
    for row in night.history.iter().filter(|row| row.time_s <= 900.0) {
        let excess = (row.mean - row.air).kelvins();
        let expected = 10.0 * (-rate * row.time_s).exp();
        // The resistance inside the glass slows the first mode by Bi/6 to Bi/3: with Bi of
        // the full thickness 0.8 % of the rate at most, times the 3 time constants passed.
        assert!(
            (excess - expected).abs() <= 0.008 * rate * row.time_s * expected + 5e-3,
            "{excess} K at {} s, lumped {expected}",
            row.time_s
        );
    }
}

#[test]
fn a_closing_hole_leaves_the_solid_disc() {
    let solid = Case {
        diameter_m: 0.406,
        edge_thickness_m: 0.041,
        focal_ratio: Some(4.5),
        start_c: 20.0,
        air: vec![(0.0, 10.0)],
        front: even(8.0),
        back: even(12.0),
        rim: even(25.0),
        ..Case::flat()
    };
    let night = |hole_m| {
        let scenario = Case { hole_m, ..solid.clone() }.scenario();
        simulate(&scenario, &Resolution::fine()).unwrap()
    };
    let whole = night(None);
    let differences = [0.04, 0.02, 0.01, 0.005, 0.001].map(|hole| {
        let holed = night(Some(hole));
        let rows = whole.history.iter().zip(&holed.history).filter(|(row, _)| row.time_s >= 300.0);
        rows.map(|(a, b)| (a.mid_centre - b.mid_centre).kelvins().abs()).fold(0.0, f64::max)
    });
    for pair in differences[..3].windows(2) {
        assert!(pair[1] < pair[0], "a smaller hole changes more: {differences:?} K");
    }
    // The sealed wall of 1 mm takes away 6e-6 of the glass: only the fine promise is left.
    assert!(differences[4] < 1e-3, "{differences:?} K");
}

/// The shallower the front, the nearer the flat disc, with the sagitta.
#[test]
fn a_slower_mirror_approaches_the_flat_disc() {
    let cool = |focal_ratio| {
        let case = Case {
            focal_ratio,
            start_c: 20.0,
            air: vec![(0.0, 10.0)],
            front: even(8.0),
            back: even(12.0),
            rim: even(25.0),
            ..Case::flat()
        };
        let night = simulate(&case.scenario(), &Resolution::fine()).unwrap();
        night.history.last().unwrap().mean.kelvin()
    };
    let flat = cool(None);
    let difference = [5.0, 50.0, 500.0, 1000.0].map(|ratio| (cool(Some(ratio)) - flat).abs());
    // Ten times the ratio is a tenth of the sagitta, 5 mm of 50 at f/5.
    for (large, small) in [(0, 1), (1, 2)] {
        let times = difference[large] / difference[small];
        assert!((9.0..11.5).contains(&times), "{times} times smaller: {difference:?} K");
    }
    assert!(difference[3] < 2e-3, "{difference:?} K");
}
