//! Order of the time steps, all of one length, in smooth films and air.

use std::f64::consts::TAU;

use evenglass_disc::{BoundaryPoint, Breaks, Grid, Stepper};
use evenglass_units::Temperature;

use crate::disc::{Driven, blocks, curved_and_holed, glass};

/// When the air begins to move [s]; before, a stepper finds nothing to do and its steps grow.
const CALM: f64 = 1e6;

/// How long the air moves [s].
const LASTING: f64 = 4.0 * 3600.0;

/// The embedded pair is of order 4; half an order is left for the stiff modes of the boundary.
const LEAST_ORDER: f64 = 3.5;

/// Air that swings smoothly by a few kelvins, more at the rim than in the middle.
fn air(point: &BoundaryPoint, time: f64) -> f64 {
    let phase = ((time - CALM) / LASTING).max(0.0);
    283.15 - 4.0 * (1.0 + 2.0 * point.radius_m) * (0.5 - 0.5 * (TAU * phase).cos()).powi(2)
}

/// The glass after the swing taken in `count` equal steps [°C].
fn after(grid: &Grid, count: u32) -> Vec<f64> {
    let surroundings = Driven { grid, film: 20.0, air };
    let mut stepper = Stepper::uniform(grid, glass(), Temperature::from_kelvin(283.15), 1e9);
    stepper.advance(CALM, &surroundings, |_| {}).expect("nothing moves");
    let before = stepper.effort().steps;
    for step in 1..=count {
        let until = CALM + LASTING * f64::from(step) / f64::from(count);
        stepper.advance(until, &surroundings, |_| {}).expect("smooth films");
    }
    let taken = stepper.effort().steps - before;
    assert_eq!(taken, count as usize, "each stretch is one step");
    stepper.celsius()
}

#[test]
fn halving_the_steps_divides_the_error_as_a_fourth_order_method_should() {
    let grid = Grid::new(&curved_and_holed(), &blocks(4, 3), &Breaks::default());
    let exact = after(&grid, 768);
    let error = |count| {
        let pairs = after(&grid, count);
        pairs.iter().zip(&exact).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
    };
    let errors = [12, 24, 48, 96].map(error);
    for pair in errors.windows(2) {
        let observed = (pair[0] / pair[1]).log2();
        assert!(observed >= LEAST_ORDER, "{observed} from {errors:?} K");
    }
}
