//! Orders in space and time where films, air and temperatures vary around the axis.

use std::f64::consts::TAU;

use evenglass_disc::{
    BoundaryPoint, Breaks, Exchange, Grid, Material, Part, Resolution, Section, Stepper,
    Surroundings, Variation,
};
use evenglass_units::Temperature;

use crate::disc::{CONDUCTIVITY, blocks, curved_and_holed, glass, normal};

/// Of the glass at rest [K].
const MEAN: f64 = 283.15;

/// A film by angle [W m⁻² K⁻¹].
type Film = fn(f64) -> f64;

fn even(_: f64) -> f64 {
    15.0
}

/// Vanishes nowhere.
fn uneven(angle: f64) -> f64 {
    15.0 * (1.0 + 0.5 * angle.cos() + 0.3 * (2.0 * angle - 0.5).cos())
}

/// A film, driven by air whose temperature [K] depends on place, angle and time.
struct Driven<'g, F> {
    grid: &'g Grid,
    angles: Vec<f64>,
    film: Film,
    air: F,
}

impl<F: Fn(&BoundaryPoint, f64, f64) -> f64> Surroundings for Driven<'_, F> {
    fn exchange(&self, time_s: f64, temperature: &[f64], exchange: &mut [Exchange]) {
        let points = self.grid.boundary();
        for (n, (surface, heat)) in temperature.iter().zip(exchange).enumerate() {
            let angle = self.angles[n / points.len()];
            let air = (self.air)(&points[n % points.len()], angle, time_s);
            let film = (self.film)(angle);
            *heat = Exchange { flux: film * (surface - air), slope: film };
        }
    }

    fn sectors(&self) -> usize {
        self.angles.len()
    }
}

/// Amplitude (of cos mθ) of a harmonic function by radius and height [m]: value [K], and its
/// gradient (radial, axial) [K/m].
type Amplitude = fn(f64, f64, i32) -> (f64, (f64, f64));

/// (r / 0.2 m)^m
fn inside(r: f64, _: f64, m: i32) -> (f64, (f64, f64)) {
    let value = (r / 0.2).powi(m);
    (value, (f64::from(m) * value / r, 0.0))
}

/// The same, rising with the height.
fn rising(r: f64, z: f64, m: i32) -> (f64, (f64, f64)) {
    let (value, (along, _)) = inside(r, z, m);
    (20.0 * z * value, (20.0 * z * along, 20.0 * value))
}

/// (0.04 m / r)^m: lines of sources on the axis, which the hole keeps out of the glass.
fn outside(r: f64, _: f64, m: i32) -> (f64, (f64, f64)) {
    let value = (0.04 / r).powi(m);
    (value, (-f64::from(m) * value / r, 0.0))
}

/// Steady state with a film driven by T + (k/h) ∂T/∂n of a harmonic: then
/// -k ∂T/∂n = h (T - air), and the harmonic itself is the answer. Largest error of any part [K].
fn steady_error(
    resolution: &Resolution,
    order: usize,
    amplitude: Amplitude,
    (film, tolerance): (Film, f64),
) -> f64 {
    let section: Section = curved_and_holed();
    let grid = Grid::new(&section, resolution, &Breaks::default());
    let variation = Variation::any(&[1]);
    let part = Part::sine(order);
    let m = i32::try_from(order).expect("an order from 1 to 4");
    let air = |point: &BoundaryPoint, angle: f64, _: f64| {
        let (value, (along, up)) = amplitude(point.radius_m, point.height_m, m);
        let outward = normal(&section, point);
        let slope = along * outward.0 + up * outward.1;
        MEAN + part.at(angle) * (value + CONDUCTIVITY / film(angle) * slope)
    };
    let surroundings = Driven { grid: &grid, angles: variation.angles(), film, air };
    let start = Temperature::from_kelvin(MEAN);
    let mut stepper = Stepper::uniform(&grid, glass(), start, tolerance).varying(&variation);
    // A thousand times the slowest mode's time constant of two hours.
    stepper.advance(1e7, &surroundings, |_| {}).expect("smooth films");
    let (heights, levels) = (grid.heights(), grid.shape().1);
    let mut worst = 0.0_f64;
    for other in variation.parts() {
        for (n, value) in stepper.part_kelvin(other).iter().enumerate() {
            let (i, j) = (n / levels, n % levels);
            let exact = amplitude(grid.radii()[i], heights[(i, j)], m).0;
            worst = worst.max((value - if other == part { exact } else { 0.0 }).abs());
        }
    }
    stepper.celsius().iter().fold(worst, |worst, t| worst.max((t + 273.15 - MEAN).abs()))
}

/// With the thickness, of degree two in the radius, a flow along the radius is of degree
/// m + 2, or m + 4 if the amplitude rises with the height as well: to that the differences
/// must be exact.
#[test]
fn harmonics_within_the_order_of_the_blocks_are_reproduced_to_rounding() {
    for resolution in [Resolution::default(), Resolution::fine(), blocks(5, 3)] {
        for (amplitude, degree) in [(inside as Amplitude, 2), (rising, 4)] {
            for order in (1..=4).filter(|order| order + degree <= resolution.radial_order) {
                let error = steady_error(&resolution, order, amplitude, (even, 1e-3));
                // A kelvin beside three hundred, and a matrix with a condition of some 10⁴.
                assert!(error < 1e-9, "{error:e} K of order {order} with {resolution:?}");
            }
        }
    }
}

/// Where the film couples all parts, the coupling's solution is stopped at 1e-9 K over the
/// whole glass, some hundred times as much at a point that stands for little of it.
#[test]
fn an_uneven_film_leaves_harmonics_as_they_are() {
    for order in 1..=4 {
        let error = steady_error(&Resolution::default(), order, inside, (uneven, 1e-6));
        assert!(error < 1e-7, "{error:e} K of order {order}");
    }
}

#[test]
fn doubling_the_blocks_divides_the_error_of_a_harmonic_as_fourth_order_should() {
    for order in 1..=4 {
        let errors =
            [2, 4, 8].map(|count| steady_error(&blocks(4, count), order, outside, (even, 1e-3)));
        for pair in errors.windows(2) {
            let observed = (pair[0] / pair[1]).log2();
            assert!(observed >= 3.5, "{observed} from {errors:?} K of order {order}");
        }
    }
}

/// When the air begins to move [s], and how long it does; as in `time.rs`.
const CALM: f64 = 1e6;
const LASTING: f64 = 4.0 * 3600.0;

/// Air that swings smoothly by a few kelvins, and more on one side.
fn swinging(point: &BoundaryPoint, angle: f64, time: f64) -> f64 {
    let phase = ((time - CALM) / LASTING).max(0.0);
    let swing = 4.0 * (0.5 - 0.5 * (TAU * phase).cos()).powi(2);
    MEAN - swing * (1.0 + 2.0 * point.radius_m * (1.0 + angle.cos()))
}

/// Mean and parts after the swing taken in `count` equal steps [°C, K].
fn after(grid: &Grid, material: Material, count: u32) -> Vec<f64> {
    let variation = Variation::any(&[1]);
    let surroundings = Driven { grid, angles: variation.angles(), film: uneven, air: swinging };
    let start = Temperature::from_kelvin(MEAN);
    let mut stepper = Stepper::uniform(grid, material, start, 1e9).varying(&variation);
    stepper.advance(CALM, &surroundings, |_| {}).expect("nothing moves");
    for step in 1..=count {
        let until = CALM + LASTING * f64::from(step) / f64::from(count);
        stepper.advance(until, &surroundings, |_| {}).expect("smooth films");
    }
    let mut all = stepper.celsius();
    all.extend(variation.parts().into_iter().flat_map(|part| stepper.part_kelvin(part)));
    all
}

/// The embedded pair is of order 4; half an order is left for the stiff modes of the boundary.
const LEAST_ORDER: f64 = 3.5;

#[test]
fn halving_the_steps_divides_the_error_of_mean_and_parts_as_a_fourth_order_method_should() {
    let grid = Grid::new(&curved_and_holed(), &blocks(4, 2), &Breaks::default());
    // Ten times as changeable as glass: what the mean does to the parts must be in the derivative.
    let steep = glass().with_stored_heat(10.0, 0.0, 650.0).with_conductivity_slope(0.02);
    for material in [glass(), steep] {
        let exact = after(&grid, material, 384);
        let errors = [12, 24, 48].map(|count| {
            let pairs = after(&grid, material, count);
            pairs.iter().zip(&exact).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
        });
        for pair in errors.windows(2) {
            let observed = (pair[0] / pair[1]).log2();
            assert!(observed >= LEAST_ORDER, "{observed} from {errors:?} K");
        }
    }
}
