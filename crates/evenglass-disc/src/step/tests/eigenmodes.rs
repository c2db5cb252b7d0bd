//! A single mode of a solid disc, of any order around the axis, dies away as its exponential.
//!
//! `J_m(ζ r/a)` cos mθ (cos qz + b sin qz) with film h on each face of a flat disc, Carslaw and
//! Jaeger, *Conduction of Heat in Solids*, 2nd ed. (1959), chapter VIII.

use super::lopsided::Lopsided;
use super::{HEAT, glass};
use crate::boundary::Breaks;
use crate::{Grid, Part, Resolution, Section, Stepper, Variation};
use evenglass_units::{Length, Temperature};
use std::f64::consts::PI;

const CONDUCTIVITY: f64 = 1.1;

/// Radius and thickness \[m\].
const SIZE: (f64, f64) = (0.15, 0.04);

/// `J_m` by Bessel's integral, whose trapezium sum converges faster than any power.
fn bessel(order: f64, x: f64) -> f64 {
    let points = 64;
    let angles = (0..points).map(|n| 2.0 * PI * f64::from(n) / f64::from(points));
    angles.map(|angle| (order * angle - x * angle.sin()).cos()).sum::<f64>() / f64::from(points)
}

fn root(function: impl Fn(f64) -> f64, (mut low, mut high): (f64, f64)) -> f64 {
    assert!(function(low) > 0.0 && function(high) < 0.0, "a root lies between");
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if function(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

struct Mode {
    order: f64,
    zeta: f64,
    q: f64,
    /// Of the sine through the thickness.
    b: f64,
}

impl Mode {
    /// The slowest mode of an order.
    fn slowest(order: usize) -> Self {
        let films = Lopsided::even_all_around();
        let m = order as f64;
        // First zeros of J_1 to J_4.
        let zero = [3.8317, 5.1356, 6.3802, 7.5883][order - 1];
        let rim = |zeta: f64| {
            let slope = 0.5 * (bessel(m - 1.0, zeta) - bessel(m + 1.0, zeta));
            CONDUCTIVITY * zeta / SIZE.0 * slope + films.rim * bessel(m, zeta)
        };
        let b = |q: f64| films.back / (CONDUCTIVITY * q);
        let front = |q: f64| {
            let (sine, cosine) = (q * SIZE.1).sin_cos();
            CONDUCTIVITY * q * (b(q) * cosine - sine) + films.front * (cosine + b(q) * sine)
        };
        let q = root(front, (1e-3, 0.99 * PI / SIZE.1));
        Self { order: m, zeta: root(rim, (0.1, zero)), q, b: b(q) }
    }

    fn at(&self, radius: f64, height: f64) -> f64 {
        let (sine, cosine) = (self.q * height).sin_cos();
        bessel(self.order, self.zeta * radius / SIZE.0) * (cosine + self.b * sine)
    }

    /// [1/s]
    fn decay(&self) -> f64 {
        CONDUCTIVITY / HEAT * ((self.zeta / SIZE.0).powi(2) + self.q.powi(2))
    }
}

fn disc(resolution: &Resolution) -> Grid {
    let (diameter, thickness) = (Length::from_metres(2.0 * SIZE.0), Length::from_metres(SIZE.1));
    let section = Section::new(diameter, thickness, None, None).unwrap();
    Grid::new(&section, resolution, &Breaks::default())
}

/// Largest error of a mode's amplitude \[K\] of 1 K, after one time constant.
fn error(part: Part, resolution: &Resolution) -> f64 {
    let mode = Mode::slowest(part.order);
    let grid = disc(resolution);
    let variation = Variation::any(&[part.order]);
    let films = Lopsided::new(&grid, &variation, &[]);
    let start = Temperature::from_kelvin(Lopsided::even_all_around().air);
    let mut stepper = Stepper::uniform(&grid, glass(CONDUCTIVITY), start, 1e-9)
        .varying(&variation)
        .with_part(part, |radius, height| mode.at(radius, height));
    let until = 1.0 / mode.decay();
    stepper.advance(until, &films, |_| {}).unwrap();
    for other in variation.parts().into_iter().filter(|&other| other != part) {
        let largest = stepper.part_kelvin(other).into_iter().fold(0.0, |a: f64, b| a.max(b.abs()));
        assert!(largest < 1e-12, "{part:?} makes {largest} K of {other:?}");
    }
    let heights = grid.heights();
    let found = stepper.part_kelvin(part);
    let exact = heights
        .indexed_iter()
        .map(|((i, _), &height)| mode.at(grid.radii()[i], height) * (-mode.decay() * until).exp());
    found.iter().zip(exact).map(|(found, exact)| (found - exact).abs()).fold(0.0, f64::max)
}

#[test]
fn modes_of_every_order_die_away_as_their_bessel_functions_do() {
    for order in 1..=4 {
        for part in [Part::cosine(order), Part::sine(order)] {
            let usual = error(part, &Resolution::default());
            assert!(usual < 5e-5, "{part:?}: {usual} K");
            let fine = error(part, &Resolution::fine());
            assert!(fine < 3e-6, "{part:?}: {fine} K");
        }
    }
}

/// What the blocks through the thickness and the steps leave in time \[K\].
const LEFT: f64 = 1e-8;

/// Blocks of order four promise a fourth order; the axis costs none of it.
#[test]
fn halving_the_blocks_divides_the_error_of_a_mode_by_more_than_eleven() {
    for order in 1..=4 {
        let errors = [4, 8, 16].map(|count| {
            let blocks = Resolution {
                radial_order: 4,
                axial_order: 8,
                blocks: Some((count, 2)),
                ..Resolution::default()
            };
            error(Part::cosine(order), &blocks)
        });
        for pair in errors.windows(2).filter(|pair| pair[0] > LEFT) {
            let observed = (pair[0] / pair[1]).log2();
            assert!(observed >= 3.5, "{observed} from {errors:?} K");
        }
        assert!(errors[0] > LEFT, "{errors:?}");
    }
}
