//! A disc that is the same upside down stays so.

use evenglass_disc::Resolution;
use evenglass_simulation::simulate;

use crate::case::Case;

#[test]
fn equal_films_above_and_below_cool_a_flat_disc_symmetrically() {
    let case = Case {
        start_c: 20.0,
        air: vec![(0.0, 10.0), (7200.0, 4.0)],
        // Jumps above and below at the same place, and on the rim at half its height.
        front: vec![(0.0, 25.0), (0.11, 25.0), (0.11, 4.0), (0.2, 6.0)],
        back: vec![(0.0, 25.0), (0.11, 25.0), (0.11, 4.0), (0.2, 6.0)],
        rim: vec![(0.0, 3.0), (0.025, 20.0), (0.05, 3.0)],
        duration_s: 7200.0,
        ..Case::flat()
    };
    let mut scenario = case.scenario();
    scenario.output.fields_at = vec![300.0, 3600.0, 7200.0];
    for resolution in [Resolution::default(), Resolution::fine()] {
        let night = simulate(&scenario, &resolution).unwrap();
        for field in &night.fields {
            let (_, levels) = field.temperature_k.dim();
            for ((i, j), value) in field.temperature_k.indexed_iter() {
                let mirrored = field.temperature_k[(i, levels - 1 - j)];
                let difference = (value - mirrored).abs();
                // Rounding of sums in another order, over a hundred steps.
                assert!(difference < 1e-10, "{difference:e} K at column {i}, level {j}");
            }
        }
        let row = night.history.last().unwrap();
        let faces = (row.front_edge - row.back_edge).kelvins().abs();
        assert!(faces < 1e-10, "the edges of front and back differ by {faces:e} K");
    }
}

/// Turning the disc over turns the answer over: front and back are told apart by shape alone.
#[test]
fn exchanging_the_films_of_a_flat_disc_exchanges_its_faces() {
    let upright = Case {
        start_c: 20.0,
        air: vec![(0.0, 10.0)],
        front: vec![(0.0, 25.0), (0.2, 5.0)],
        back: vec![(0.0, 8.0)],
        rim: vec![(0.0, 12.0)],
        ..Case::flat()
    };
    let turned =
        Case { front: upright.back.clone(), back: upright.front.clone(), ..upright.clone() };
    let [a, b] =
        [upright, turned].map(|case| simulate(&case.scenario(), &Resolution::default()).unwrap());
    for (a, b) in a.history.iter().zip(&b.history) {
        for (one, other) in [
            (a.front_centre, b.back_centre),
            (a.back_edge, b.front_edge),
            (a.mid_edge, b.mid_edge),
            (a.mean, b.mean),
        ] {
            let difference = (one - other).kelvins().abs();
            assert!(difference < 1e-10, "{difference:e} K at {} s", a.time_s);
        }
    }
    let row = a.history.last().unwrap();
    let tilt = (row.front_centre - row.back_centre).kelvins().abs();
    assert!(tilt > 0.5, "the case has a front and a back: {tilt} K");
}
