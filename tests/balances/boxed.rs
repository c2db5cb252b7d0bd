//! Glass, the air of a box and its wall keep their heat together when nothing leaves.

use evenglass_disc::{
    Body, BodyExchange, Breaks, Exchange, Exchanges, Grid, Material, Resolution, Section, Stepper,
    Surroundings, Temperatures,
};
use evenglass_units::{Conductivity, Density, Length, SpecificHeat, Temperature};

const START: f64 = 293.15;

/// Air of the box is blown past the glass, point after point, and back into the box.
struct Closed<'g> {
    grid: &'g Grid,
    /// Heat that the air carries by each kelvin [W/K].
    carried: f64,
}

impl Surroundings for Closed<'_> {
    fn exchange(&self, _: f64, _: &[f64], _: &mut [Exchange]) {
        unreachable!("with bodies, only the whole is asked for");
    }

    fn bodies(&self) -> usize {
        2
    }

    fn exchange_with_bodies(&self, _: f64, at: &Temperatures<'_>, exchanges: Exchanges<'_>) {
        let [inside, wall] = at.bodies else { panic!("box air and wall") };
        // Summed, not read off the air's temperature, whose last digit is 3e-12 W here.
        let mut taken_up = 0.0;
        let areas = self.grid.boundary_areas_m2();
        for ((surface, area), heat) in at.surface.iter().zip(areas).zip(exchanges.surface) {
            // A film that grows with the difference, as that of free convection does.
            let excess = surface - inside - taken_up / self.carried;
            let film = 5.0 + 2.0 * excess.abs().sqrt();
            *heat = Exchange { flux: film * excess, slope: film + excess.abs().sqrt() };
            taken_up += heat.flux * area;
        }
        let to_wall = 12.0 * (inside - wall);
        // The slope overstates what the glass takes back: an estimate is enough.
        exchanges.bodies[0] =
            BodyExchange { flow_w: taken_up - to_wall, slope_w_per_k: -self.carried - 12.0 };
        exchanges.bodies[1] = BodyExchange { flow_w: to_wall, slope_w_per_k: -12.0 };
    }
}

/// Glass whose specific heat and conductivity change with temperature.
fn glass() -> Material {
    Material::constant(
        Density::from_kg_per_m3(2500.0),
        SpecificHeat::from_j_per_kg_k(750.0),
        Conductivity::from_w_per_m_k(1.0),
    )
    .with_stored_heat(1.4, 0.0015, 750.0)
    .with_conductivity_slope(0.0013)
}

/// Heat stored in the glass at the end, and what of it went astray among the bodies and in the
/// count of the heat lost [J].
fn balance(grid: &Grid, carried: f64, tolerance: f64) -> (f64, [f64; 2]) {
    let bodies = [(100.0, START), (16_000.0, START - 15.0)]
        .map(|(heat_capacity_j_per_k, start_k)| Body { heat_capacity_j_per_k, start_k });
    let start = Temperature::from_kelvin(START);
    let mut stepper = Stepper::uniform(grid, glass(), start, tolerance).with_bodies(&bodies);
    let before = stepper.heat_stored_j();
    let closed = Closed { grid, carried };
    stepper.advance(3.0 * 3600.0, &closed, |_| {}).expect("a finite exchange");
    let gains = bodies.iter().zip(stepper.body_kelvin());
    let gained: f64 =
        gains.map(|(body, kelvin)| body.heat_capacity_j_per_k * (kelvin - body.start_k)).sum();
    let given = before - stepper.heat_stored_j();
    assert!(given > 1e4, "the glass gave {given} J");
    (before, [given - gained, given - stepper.heat_lost_j()])
}

#[test]
fn what_the_glass_gives_is_in_the_air_and_the_wall() {
    let mm = |millimetres: f64| Length::from_metres(millimetres / 1000.0);
    let section = Section::new(mm(300.0), mm(30.0), Some(4.0), Some(mm(60.0))).unwrap();
    let grid = Grid::new(&section, &Resolution::default(), &Breaks::default());
    for carried in [0.5, 5.0, 50.0] {
        for tolerance in [1.0, 2e-4, 1e-5] {
            let (stored, astray) = balance(&grid, carried, tolerance);
            for joules in astray {
                // Rounding of some hundred sums, of what is stored.
                assert!(
                    joules.abs() < 1e-12 * stored,
                    "{joules} of {stored} J with {carried} W/K at {tolerance} K"
                );
            }
        }
    }
}
