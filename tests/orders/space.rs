//! Order of the differences in space, on the curved section with a hole.

use evenglass_disc::{Breaks, Grid, Resolution, Section, Stepper};
use evenglass_units::{Length, Temperature};

use crate::case::Case;
use crate::disc::{CONDUCTIVITY, Driven, blocks, curved_and_holed, glass, normal};

/// The order the program promises in space.
const PROMISED_ORDER: f64 = 1.9;

/// A harmonic function of (radius, height) [m]: value [K above the mean], and its
/// gradient (radial, axial) [K/m].
type Harmonic = fn(f64, f64) -> (f64, (f64, f64));

fn height(_: f64, z: f64) -> (f64, (f64, f64)) {
    (50.0 * z, (0.0, 50.0))
}

fn saddle(r: f64, z: f64) -> (f64, (f64, f64)) {
    (100.0 * (r * r - 2.0 * z * z), (200.0 * r, -400.0 * z))
}

/// A point source 100 mm below the middle of the back.
fn source(r: f64, z: f64) -> (f64, (f64, f64)) {
    let depth = z + 0.1;
    let distance = r.hypot(depth);
    let cubed = distance.powi(3);
    (1.0 / distance, (-r / cubed, -depth / cubed))
}

/// A line source along the axis, which the hole keeps out of the glass.
fn line(r: f64, _: f64) -> (f64, (f64, f64)) {
    (3.0 * r.ln(), (3.0 / r, 0.0))
}

/// Steady state with films driven by T + (k/h) ∂T/∂n of the harmonic: then -k ∂T/∂n = h (T - air)
/// and the harmonic itself is the answer. Returns the largest error at any point [K].
fn steady_error(section: &Section, resolution: &Resolution, exact: Harmonic) -> f64 {
    const MEAN: f64 = 283.15;
    const FILM: f64 = 15.0;
    let grid = Grid::new(section, resolution, &Breaks::default());
    let air = |point: &evenglass_disc::BoundaryPoint, _: f64| {
        let (value, (along, up)) = exact(point.radius_m, point.height_m);
        let outward = normal(section, point);
        MEAN + value + CONDUCTIVITY / FILM * (along * outward.0 + up * outward.1)
    };
    let surroundings = Driven { grid: &grid, film: FILM, air };
    let start = Temperature::from_kelvin(MEAN);
    let mut stepper = Stepper::uniform(&grid, glass(), start, 1e-3);
    // The slowest mode of this mirror decays with a time constant of two hours.
    stepper.advance(1e9, &surroundings, |_| {}).expect("smooth films");
    let (heights, celsius) = (grid.heights(), stepper.celsius());
    let mut worst = 0.0_f64;
    for (n, value) in celsius.iter().enumerate() {
        let (i, j) = (n / grid.shape().1, n % grid.shape().1);
        let wanted = MEAN - 273.15 + exact(grid.radii()[i], heights[(i, j)]).0;
        worst = worst.max((value - wanted).abs());
    }
    worst
}

/// Observed orders between neighbouring refinements by two.
fn orders(errors: &[f64]) -> Vec<f64> {
    errors.windows(2).map(|pair| (pair[0] / pair[1]).log2()).collect()
}

#[test]
fn polynomials_within_the_order_of_the_blocks_are_reproduced_to_rounding() {
    for resolution in [Resolution::default(), Resolution::fine(), blocks(5, 3)] {
        for exact in [height as Harmonic, saddle] {
            let error = steady_error(&curved_and_holed(), &resolution, exact);
            // Ten kelvins in doubles, through a matrix with a condition of some 10⁴.
            assert!(error < 1e-9, "{error:e} K with {resolution:?}");
        }
    }
}

#[test]
fn doubling_the_blocks_divides_the_error_of_a_harmonic_by_more_than_promised() {
    for order in [2, 3] {
        for exact in [source as Harmonic, line, saddle] {
            let error = |count| steady_error(&curved_and_holed(), &blocks(order, count), exact);
            let errors = [2, 4, 8].map(error);
            for observed in orders(&errors) {
                assert!(observed >= PROMISED_ORDER, "{observed} from {errors:?} K");
            }
        }
    }
}

/// Half an hour after a step of 10 K the glass is far from steady.
#[test]
fn doubling_the_blocks_divides_the_error_of_a_cooling_mirror_by_more_than_promised() {
    let case = Case {
        focal_ratio: Some(2.0),
        edge_thickness_m: 0.06,
        hole_m: Some(0.08),
        start_c: 20.0,
        air: vec![(0.0, 10.0)],
        front: vec![(0.0, 8.0)],
        back: vec![(0.0, 12.0)],
        rim: vec![(0.0, 25.0)],
        hole: vec![(0.0, 6.0)],
        duration_s: 1800.0,
        ..Case::flat()
    };
    let mut scenario = case.scenario();
    scenario.output.fields_at = vec![1800.0];
    let field = |order, count| {
        let resolution = Resolution { tolerance: 1e-6, ..blocks(order, count) };
        let night = evenglass_simulation::simulate(&scenario, &resolution).expect("a night");
        let section = evenglass_simulation::geometry::section(&scenario.mirror).expect("a shape");
        let grid = Grid::new(&section, &resolution, &Breaks::default());
        let values = night.fields[0].temperature_k.as_slice().expect("contiguous").to_vec();
        move |radius: f64, share: f64| -> f64 {
            let height = share * section.thickness(radius);
            let place = (Length::from_metres(radius), Length::from_metres(height));
            let terms = grid.interpolation(place.0, place.1);
            terms.iter().map(|&(point, weight)| weight * values[point]).sum()
        }
    };
    let exact = field(7, 6);
    for order in [2, 3] {
        let error = |count| {
            let found = field(order, count);
            let places = [0.04, 0.07, 0.1, 0.15, 0.18, 0.2].into_iter();
            let all = places.flat_map(|r| [0.0, 0.3, 0.5, 0.9, 1.0].map(|share| (r, share)));
            all.map(|(r, share)| (found(r, share) - exact(r, share)).abs()).fold(0.0, f64::max)
        };
        let errors = [2, 4, 8].map(error);
        for observed in orders(&errors) {
            assert!(observed >= PROMISED_ORDER, "{observed} from {errors:?} K");
        }
    }
}
