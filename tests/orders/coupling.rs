//! Order of the time steps when air that one part of the glass has warmed passes another,
//! beside a wall and the air of a box.

use evenglass_disc::{
    Body, BodyExchange, Breaks, Exchange, Exchanges, FaceName, Grid, Stepper, Surroundings,
    Temperatures,
};
use evenglass_units::Temperature;

use crate::disc::{blocks, curved_and_holed, glass};

/// When the air begins to move [s]; before, a stepper finds nothing to do and its steps grow.
const CALM: f64 = 1e6;

/// How long it moves [s].
const LASTING: f64 = 4.0 * 3600.0;

/// As in `time.rs`.
const LEAST_ORDER: f64 = 3.5;

const START: f64 = 283.15;

/// Heat that the air carries by each kelvin [W/K]; the films hand over about as much.
const CARRIED: f64 = 5.0;

/// Box air, which answers within seconds, and wall.
const BODIES: [Body; 2] = [
    Body { heat_capacity_j_per_k: 100.0, start_k: START },
    Body { heat_capacity_j_per_k: 16_000.0, start_k: START },
];

/// Whether the solver is told that points act on one another.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Coupling {
    Told,
    Concealed,
}

/// Air from outside passes the back, the rim and the front, and then fills a box.
struct Passing<'g> {
    grid: &'g Grid,
    coupling: Coupling,
}

fn outside(time: f64) -> f64 {
    let phase = ((time - CALM) / LASTING).max(0.0);
    START - 4.0 * (0.5 - 0.5 * (std::f64::consts::TAU * phase).cos()).powi(2)
}

impl Passing<'_> {
    /// What the glass exchanges with air of a temperature [K], which is returned as it leaves.
    fn pass(&self, mut air: f64, temperature: &[f64], exchange: &mut [Exchange]) -> f64 {
        let area = self.grid.boundary_areas_m2();
        for face in [FaceName::Back, FaceName::Rim, FaceName::Front, FaceName::Hole] {
            for (n, point) in self.grid.boundary().iter().enumerate() {
                if point.face == face {
                    let flux = 20.0 * (temperature[n] - air);
                    exchange[n] = Exchange { flux, slope: 20.0 };
                    air += flux * area[n] / CARRIED;
                }
            }
        }
        air
    }
}

impl Surroundings for Passing<'_> {
    fn exchange(&self, time_s: f64, temperature: &[f64], exchange: &mut [Exchange]) {
        self.pass(outside(time_s), temperature, exchange);
    }

    fn is_coupled(&self) -> bool {
        self.coupling == Coupling::Told
    }
}

/// The same air, which then fills a box whose wall also sees the outside.
struct Boxed<'g>(Passing<'g>);

impl Surroundings for Boxed<'_> {
    fn exchange(&self, _: f64, _: &[f64], _: &mut [Exchange]) {
        unreachable!("with bodies, only the whole is asked for");
    }

    fn bodies(&self) -> usize {
        2
    }

    fn exchange_with_bodies(&self, time_s: f64, at: &Temperatures<'_>, exchanges: Exchanges<'_>) {
        let [inside, wall] = at.bodies else { panic!("box air and wall") };
        // Half of the air is drawn from the box again.
        let drawn = 0.5 * (outside(time_s) + inside);
        let left = self.0.pass(drawn, at.surface, exchanges.surface);
        let to_wall = 8.0 * (inside - wall);
        let [of_air, of_wall] = exchanges.bodies else { panic!("box air and wall") };
        *of_air = BodyExchange {
            flow_w: CARRIED * (left - inside) - to_wall,
            slope_w_per_k: -CARRIED - 8.0,
        };
        *of_wall =
            BodyExchange { flow_w: to_wall + 3.0 * (outside(time_s) - wall), slope_w_per_k: -11.0 };
    }
}

/// A stepper at rest until the air moves.
fn calm<'g>(grid: &'g Grid, surroundings: &impl Surroundings, tolerance: f64) -> Stepper<'g> {
    let start = Temperature::from_kelvin(START);
    let mut stepper = Stepper::uniform(grid, glass(), start, tolerance)
        .with_bodies(&BODIES[..surroundings.bodies()]);
    stepper.advance(CALM, surroundings, |_| {}).expect("nothing moves");
    stepper
}

/// Glass [°C] and bodies [K] after the swing.
fn state(stepper: &Stepper<'_>) -> Vec<f64> {
    let mut state = stepper.celsius();
    state.extend(stepper.body_kelvin());
    state
}

/// The same, with steps chosen for a tolerance that leaves errors of some 1e-8 K.
fn reference(grid: &Grid, surroundings: &impl Surroundings) -> Vec<f64> {
    let mut stepper = calm(grid, surroundings, 1e-7);
    stepper.advance(CALM + LASTING, surroundings, |_| {}).expect("smooth films");
    state(&stepper)
}

/// Largest error of the swing taken in `count` equal steps [K].
fn error(grid: &Grid, surroundings: &impl Surroundings, count: u32, exact: &[f64]) -> f64 {
    let mut stepper = calm(grid, surroundings, 1e9);
    for step in 1..=count {
        let until = CALM + LASTING * f64::from(step) / f64::from(count);
        stepper.advance(until, surroundings, |_| {}).expect("smooth films");
    }
    state(&stepper).iter().zip(exact).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
}

/// Errors with steps halved from row to row [K], and the orders observed between them.
fn orders(surroundings: &impl Surroundings, grid: &Grid, exact: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let errors: Vec<f64> =
        [24, 48, 96].iter().map(|&count| error(grid, surroundings, count, exact)).collect();
    let orders = errors.windows(2).map(|pair| (pair[0] / pair[1]).log2()).collect();
    (errors, orders)
}

#[test]
fn air_that_passes_the_glass_leaves_the_order_at_four_if_the_solver_is_told() {
    let grid = Grid::new(&curved_and_holed(), &blocks(4, 3), &Breaks::default());
    let told = Passing { grid: &grid, coupling: Coupling::Told };
    let exact = reference(&grid, &told);
    let (errors, observed) = orders(&told, &grid, &exact);
    assert!(observed.iter().all(|&order| order >= LEAST_ORDER), "{observed:?} from {errors:?} K");

    // The same equations with a part of their derivative left out.
    let concealed = Passing { grid: &grid, coupling: Coupling::Concealed };
    let (worse, observed) = orders(&concealed, &grid, &exact);
    assert!(observed.iter().all(|&order| order < 2.5), "{observed:?} from {worse:?} K");
    assert!(worse[2] > 100.0 * errors[2], "{worse:?} and {errors:?} K");
}

#[test]
fn box_air_and_wall_leave_the_order_at_four() {
    let grid = Grid::new(&curved_and_holed(), &blocks(4, 3), &Breaks::default());
    let boxed = Boxed(Passing { grid: &grid, coupling: Coupling::Told });
    let exact = reference(&grid, &boxed);
    let (errors, observed) = orders(&boxed, &grid, &exact);
    assert!(observed.iter().all(|&order| order >= LEAST_ORDER), "{observed:?} from {errors:?} K");
}
