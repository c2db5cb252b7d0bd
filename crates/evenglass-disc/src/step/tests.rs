use nalgebra::{DMatrix, DVector};

use super::*;
use crate::boundary::{Breaks, Exchange, Exchanges, Temperatures};
use crate::{BodyExchange, FaceName, Resolution, Section};
use evenglass_units::{Conductivity, Density, Length, SpecificHeat};

mod eigenmodes;
mod finite_volumes;
mod lopsided;

/// Heat capacity of the glass per volume [J m⁻³ K⁻¹].
const HEAT: f64 = 2400.0 * 750.0;

const START: f64 = 293.15;

fn glass(conductivity: f64) -> Material {
    Material::constant(
        Density::from_kg_per_m3(2400.0),
        SpecificHeat::from_j_per_kg_k(750.0),
        Conductivity::from_w_per_m_k(conductivity),
    )
}

fn grid() -> Grid {
    let mm = |millimetres: f64| Length::from_metres(millimetres / 1000.0);
    let section = Section::new(mm(300.0), mm(25.0), Some(4.0), None).unwrap();
    Grid::new(&section, &Resolution::default(), &Breaks::default())
}

fn stepper(grid: &Grid, tolerance: f64) -> Stepper<'_> {
    Stepper::uniform(grid, glass(1.1), Temperature::from_kelvin(START), tolerance)
}

/// A glass in a box: air that passes through it, touches glass and wall, and may also pass
/// the glass point after point.
struct Cell<'g> {
    grid: &'g Grid,
    /// Of the glass [W m⁻² K⁻¹].
    film: f64,
    /// Between air and wall, and carried by the air that comes from outside [W/K].
    wall: f64,
    through: f64,
    /// Outside \[K\].
    outside: f64,
}

/// Box air and wall.
fn bodies(air: f64, wall: f64) -> [Body; 2] {
    [air, wall].map(|heat_capacity_j_per_k| Body { heat_capacity_j_per_k, start_k: START })
}

impl Surroundings for Cell<'_> {
    fn exchange(&self, _: f64, _: &[f64], _: &mut [Exchange]) {
        unreachable!("with bodies, only the whole is asked for");
    }

    fn bodies(&self) -> usize {
        2
    }

    fn exchange_with_bodies(&self, _: f64, at: &Temperatures<'_>, exchanges: Exchanges<'_>) {
        let [air, wall] = at.bodies else { panic!("two bodies") };
        let area = self.grid.boundary_areas_m2();
        let mut warmth = 0.0;
        for ((surface, heat), area) in at.surface.iter().zip(exchanges.surface).zip(area) {
            *heat = Exchange { flux: self.film * (surface - air), slope: self.film };
            warmth += area * heat.flux;
        }
        let to_wall = self.wall * (air - wall);
        let glass = self.film * area.iter().sum::<f64>();
        exchanges.bodies[0] = BodyExchange {
            flow_w: warmth - to_wall - self.through * (air - self.outside),
            slope_w_per_k: -glass - self.wall - self.through,
        };
        exchanges.bodies[1] = BodyExchange { flow_w: to_wall, slope_w_per_k: -self.wall };
    }
}

/// exp(matrix), by Taylor's series of a small part of it, squared up again.
fn exponential(matrix: &DMatrix<f64>) -> DMatrix<f64> {
    let halvings = 40;
    let part = matrix / 2.0_f64.powi(halvings);
    let one = DMatrix::identity(matrix.nrows(), matrix.nrows());
    // exp - 1 is squared instead of exp, whose ones would drown the part.
    let mut less_one = &part + &part * &part / 2.0;
    for _ in 0..halvings {
        less_one = &less_one * 2.0 + &less_one * &less_one;
    }
    one + less_one
}

#[test]
fn glass_air_and_wall_follow_the_exponential_of_their_matrix() {
    let grid = grid();
    // Conducts so well that the glass is one body: the film over the conductivity of a disc
    // of 0.15 m is 1e-6, and so is its part of the 10 K.
    let good = glass(1e6);
    let cell = Cell { grid: &grid, film: 10.0, wall: 8.0, through: 1.5, outside: 283.15 };
    let start = Temperature::from_kelvin(START);
    let mut stepper =
        Stepper::uniform(&grid, good, start, 1e-6).with_bodies(&bodies(100.0, 16_000.0));
    let film = 10.0 * grid.boundary_areas_m2().iter().sum::<f64>();
    let matrix = DMatrix::from_row_slice(
        3,
        3,
        &[-film, film, 0.0, film, -film - 8.0 - 1.5, 8.0, 0.0, 8.0, -8.0],
    );
    let capacity = DVector::from_vec(vec![HEAT * grid.total_volume(), 100.0, 16_000.0]);
    let rate = DMatrix::from_fn(3, 3, |i, j| matrix[(i, j)] / capacity[i]);
    let exact = |time: f64| exponential(&(&rate * time)) * DVector::repeat(3, 10.0);
    for until in [5.0, 60.0, 900.0, 7200.0, 40_000.0] {
        stepper
            .advance(until, &cell, |span| {
                let middle = 0.5 * (span.from_s() + span.to_s());
                let exact = exact(middle);
                for body in 0..2 {
                    let found = span.body_kelvin(body, middle) - 283.15;
                    // Dense output is of order 3 where the step is of order 4.
                    assert!((found - exact[body + 1]).abs() < 5e-5, "{body}: {found}, {exact}");
                }
            })
            .unwrap();
        let exact = exact(until);
        let found =
            [stepper.surface_kelvin()[0], stepper.body_kelvin()[0], stepper.body_kelvin()[1]];
        for (found, exact) in found.iter().zip(exact.iter()) {
            // Some tens of steps, each right to a microkelvin.
            assert!((found - 283.15 - exact).abs() < 2e-5, "{found} {exact} at {until} s");
        }
    }
}

/// Nothing leaves the box.
fn sealed(grid: &Grid) -> Cell<'_> {
    Cell { grid, film: 10.0, wall: 35.0, through: 0.0, outside: 0.0 }
}

#[test]
fn a_sealed_box_keeps_its_heat_with_any_steps() {
    let grid = grid();
    for (tolerance, air) in [(1e-5, 100.0), (2e-4, 100.0), (1.0, 100.0), (2e-4, 1.0), (2e-4, 1e4)] {
        let mut bodies = bodies(air, 16_000.0);
        bodies[1].start_k = START - 15.0;
        let mut stepper = stepper(&grid, tolerance).with_bodies(&bodies);
        let before = stepper.heat_stored_j();
        stepper.advance(7200.0, &sealed(&grid), |_| {}).unwrap();
        let gained: f64 = bodies
            .iter()
            .zip(stepper.body_kelvin())
            .map(|(body, kelvin)| body.heat_capacity_j_per_k * (kelvin - body.start_k))
            .sum();
        let given = before - stepper.heat_stored_j();
        assert!(given > 1e4, "{given} J");
        assert!((given - gained).abs() < 1e-12 * before, "{given} {gained} J of {before}");
        assert!((given - stepper.heat_lost_j()).abs() < 1e-12 * before, "{given} J");
    }
}

#[test]
fn bodies_faster_than_any_step_cost_no_steps() {
    let grid = grid();
    let steps = |air: f64| {
        let cell = Cell { grid: &grid, film: 10.0, wall: 8.0, through: 35.0, outside: 278.15 };
        let mut stepper = stepper(&grid, 2e-4).with_bodies(&bodies(air, 16_000.0));
        stepper.advance(8.0 * 3600.0, &cell, |_| {}).unwrap();
        stepper.effort().steps + stepper.effort().refused
    };
    // The slowest is no stiffer than the glass itself.
    let slow = steps(10_000.0);
    for air in [100.0, 1.0, 0.01] {
        let fast = steps(air);
        assert!(fast <= 2 * slow, "{fast} steps with {air} J/K, {slow} without haste");
    }
}

/// Air that passes point after point and takes up their heat; with bodies, none.
struct Passing<'g> {
    grid: &'g Grid,
    film: f64,
    /// Carried by the air [W/K].
    carried: f64,
    coupled: Coupled,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Coupled {
    Said,
    Concealed,
}

impl Surroundings for Passing<'_> {
    fn exchange(&self, _: f64, temperature: &[f64], exchange: &mut [Exchange]) {
        let mut air = 283.15;
        let points = self.grid.boundary().iter().zip(self.grid.boundary_areas_m2());
        for ((surface, heat), (point, area)) in temperature.iter().zip(exchange).zip(points) {
            let film = if point.face == FaceName::Rim { 2.0 * self.film } else { self.film };
            *heat = Exchange { flux: film * (surface - air), slope: film };
            air += heat.flux * area / self.carried;
        }
    }

    fn is_coupled(&self) -> bool {
        self.coupled == Coupled::Said
    }
}

fn passed(carried: f64, coupled: Coupled) -> (Vec<u64>, Effort) {
    let grid = grid();
    let air = Passing { grid: &grid, film: 10.0, carried, coupled };
    let mut stepper = stepper(&grid, 2e-4);
    stepper.advance(3600.0, &air, |_| {}).unwrap();
    let balance = stepper.heat_stored_j() + stepper.heat_lost_j();
    let start = HEAT * (START - 273.15) * grid.total_volume();
    assert!((balance / start - 1.0).abs() < 1e-12, "{balance} {start}");
    let bits = stepper.celsius().iter().map(|celsius| celsius.to_bits()).collect();
    (bits, stepper.effort())
}

#[test]
fn the_same_night_gives_the_same_bits() {
    assert_eq!(passed(5.0, Coupled::Said), passed(5.0, Coupled::Said));
}

#[test]
fn without_coupling_nothing_is_paid_for_it() {
    let (bits, effort) = passed(f64::INFINITY, Coupled::Concealed);
    assert_eq!(effort.coupling, 0);
    let (looked_for, _) = passed(f64::INFINITY, Coupled::Said);
    // Differences over a millikelvin keep ten digits.
    for (a, b) in bits.iter().zip(&looked_for) {
        let difference = f64::from_bits(*a) - f64::from_bits(*b);
        assert!(difference.abs() < 1e-8, "{difference} K");
    }
}
