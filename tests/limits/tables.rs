//! Film tables with a jump anywhere, jumps of nothing, and many points.

use evenglass_disc::Resolution;
use evenglass_simulation::{Night, simulate};

use crate::case::{Case, Points};

fn with_front(front: Points) -> Night {
    let case = Case {
        diameter_m: 0.406,
        edge_thickness_m: 0.041,
        focal_ratio: Some(4.5),
        start_c: 20.0,
        air: vec![(0.0, 10.0)],
        front,
        back: vec![(0.0, 12.0)],
        rim: vec![(0.0, 6.0)],
        ..Case::flat()
    };
    simulate(&case.scenario(), &Resolution::default()).unwrap()
}

/// Largest difference of the five temperatures a maker reads, from five minutes on [K].
fn difference(a: &Night, b: &Night) -> f64 {
    let rows = a.history.iter().zip(&b.history).filter(|(row, _)| row.time_s >= 300.0);
    rows.flat_map(|(a, b)| {
        [
            a.front_centre - b.front_centre,
            a.front_edge - b.front_edge,
            a.mid_centre - b.mid_centre,
            a.back_edge - b.back_edge,
            a.mean - b.mean,
        ]
    })
    .fold(0.0, |worst, difference| worst.max(difference.kelvins().abs()))
}

/// Heat leaves in proportion to the film's integral: what a jump that slides by a hair
/// takes with it must change as little, wherever the points lie.
#[test]
fn a_jump_slides_over_the_points_without_a_step_in_the_answer() {
    let at =
        |radius: f64| with_front(vec![(0.0, 25.0), (radius, 25.0), (radius, 4.0), (0.203, 4.0)]);
    let mean = |night: &Night| night.history.last().unwrap().mean.kelvin();
    let places: Vec<f64> = (0..=20).map(|n| 0.120 + 0.0005 * f64::from(n)).collect();
    let means: Vec<f64> = places.iter().map(|&radius| mean(&at(radius))).collect();
    for (pair, radius) in means.windows(2).zip(&places) {
        let fall = pair[0] - pair[1];
        // 21 W m⁻² K⁻¹ more on a ring of 2π r · 0.5 mm, for an hour, where the front under
        // the strong film is on average 1.5 to 5 K warmer than the air.
        let ring = 2.0 * std::f64::consts::PI * radius * 0.0005;
        let capacity = 2500.0 * 720.0 * 5.1e-3;
        let kelvins = fall * capacity / (21.0 * ring * 3600.0);
        assert!((1.5..5.0).contains(&kelvins), "{kelvins} K drive the ring at {radius} m");
    }
    let falls: Vec<f64> = means.windows(2).map(|pair| pair[0] - pair[1]).collect();
    for pair in falls.windows(2) {
        // The ring grows by 0.4 % from one place to the next; a point caught or lost by
        // the jump would show as a multiple.
        let growth = pair[1] / pair[0];
        assert!((0.99..1.02).contains(&growth), "{growth} times the fall before: {falls:?} K");
    }
}

#[test]
fn a_jump_of_nothing_and_a_kink_of_nothing_change_nothing() {
    let plain = with_front(vec![(0.0, 8.0)]);
    for front in [
        vec![(0.0, 8.0), (0.1234, 8.0), (0.1234, 8.0), (0.203, 8.0)],
        (0..50).map(|n| (0.004 * f64::from(n), 8.0)).collect(),
        vec![(0.0, 8.0), (0.3, 8.0), (0.3, 900.0)],
    ] {
        let moved = difference(&plain, &with_front(front));
        // A named place may become the edge of a block; both nights are held to 5 mK.
        assert!(moved < 5e-3, "{moved:e} K");
    }
}

/// Fifty points on a smooth curve against two hundred: the tables differ by at most
/// h''·Δr²/8 = 0.02 W m⁻² K⁻¹ of 20, which is a thousandth of a fall of 5 K.
#[test]
fn a_profile_of_fifty_points_is_followed() {
    let bell = |count: u32| {
        let points = (0..count).map(|n| {
            let radius = 0.203 * f64::from(n) / f64::from(count - 1);
            (radius, 4.0 + 16.0 * (-(radius / 0.08).powi(2)).exp())
        });
        with_front(points.collect())
    };
    let moved = difference(&bell(50), &bell(200));
    // Both are held to 5 mK.
    assert!(moved < 0.01, "{moved} K");
}

/// A staircase of fifty steps has more jumps than a grid has blocks; it is still near the
/// curve it was cut from.
#[test]
fn a_staircase_of_fifty_jumps_is_near_its_curve() {
    let film = |radius: f64| 4.0 + 80.0 * radius;
    let mut stairs = vec![(0.0, film(0.002))];
    for n in 1..=50 {
        let radius = 0.004 * f64::from(n);
        stairs.push((radius, film(radius - 0.002)));
        stairs.push((radius, film(radius + 0.002)));
    }
    let curve = vec![(0.0, film(0.0)), (0.203, film(0.203))];
    let moved = difference(&with_front(stairs), &with_front(curve));
    // Steps of 0.32 W m⁻² K⁻¹ every 4 mm, far thinner than heat spreads in five minutes:
    // half a step on 10 K warms 2 mm of glass by at most 0.16 · 10 · 0.002 = 3 mK, and both
    // nights are held to 5 mK.
    assert!(moved < 0.01, "{moved} K");
}
