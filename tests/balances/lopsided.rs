//! Heat is conserved where films and temperatures vary around the axis.

use evenglass_disc::{
    Body, BodyExchange, Breaks, Exchange, Exchanges, FaceName, Grid, Material, Part, Resolution,
    Section, Stepper, Surroundings, Temperatures, Variation,
};
use evenglass_units::{Conductivity, Density, Length, SpecificHeat, Temperature};

const START: f64 = 293.15;

/// Of black surfaces [W m⁻² K⁻⁴].
const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// Glass whose heat capacity and conductivity change with temperature.
fn glass() -> Material {
    Material::constant(
        Density::from_kg_per_m3(2230.0),
        SpecificHeat::from_j_per_kg_k(722.0),
        Conductivity::from_w_per_m_k(1.1),
    )
    .with_stored_heat(2.0, 0.001_46, 722.0)
    .with_conductivity_slope(0.0015)
}

fn grid() -> Grid {
    let mm = |millimetres: f64| Length::from_metres(millimetres / 1000.0);
    let section = Section::new(mm(300.0), mm(25.0), Some(4.0), None).unwrap();
    Grid::new(&section, &Resolution::default(), &Breaks::default())
}

/// A sealed box: the glass gives its heat to the box's air by free convection that is
/// stronger on one side, and to the wall by radiation; the air to the wall.
struct Boxed<'g> {
    grid: &'g Grid,
    angles: Vec<f64>,
}

fn bodies() -> [Body; 2] {
    [(100.0, START), (16_000.0, START - 15.0)]
        .map(|(heat_capacity_j_per_k, start_k)| Body { heat_capacity_j_per_k, start_k })
}

impl Surroundings for Boxed<'_> {
    fn exchange(&self, _: f64, _: &[f64], _: &mut [Exchange]) {
        unreachable!("with bodies, only the whole is asked for");
    }

    fn bodies(&self) -> usize {
        2
    }

    fn sectors(&self) -> usize {
        self.angles.len()
    }

    fn exchange_with_bodies(&self, _: f64, at: &Temperatures<'_>, exchanges: Exchanges<'_>) {
        let [air, wall] = at.bodies else { panic!("box air and wall") };
        let points = self.grid.boundary();
        let share = 1.0 / self.angles.len() as f64;
        let (mut to_air, mut to_wall) = (0.0, 0.0);
        for (n, (surface, heat)) in at.surface.iter().zip(exchanges.surface).enumerate() {
            let (angle, place) = (self.angles[n / points.len()], n % points.len());
            let uneven = match points[place].face {
                FaceName::Rim => 1.0 + 0.6 * (angle - 0.7).cos() + 0.3 * (3.0 * angle).cos(),
                _ => 1.0 + 0.4 * (2.0 * angle).sin(),
            };
            let difference = surface - air;
            let film = 3.0 * uneven * (difference * difference + 0.01).powf(0.125);
            let convection = film * difference;
            let radiation = STEFAN_BOLTZMANN * (surface.powi(4) - wall.powi(4));
            let area = share * self.grid.boundary_areas_m2()[place];
            to_air += convection * area;
            to_wall += radiation * area;
            // Near, not exact: how the film itself changes is left to the differences.
            let slope = film + 4.0 * STEFAN_BOLTZMANN * surface.powi(3);
            *heat = Exchange { flux: convection + radiation, slope };
        }
        let between = 4.0 * (air - wall);
        let area: f64 = self.grid.boundary_areas_m2().iter().sum();
        exchanges.bodies[0] =
            BodyExchange { flow_w: to_air - between, slope_w_per_k: -5.0 * area - 4.0 };
        exchanges.bodies[1] =
            BodyExchange { flow_w: to_wall + between, slope_w_per_k: -5.0 * area - 4.0 };
    }
}

/// The promise is 1e-9 of the heat exchanged.
const PROMISED: f64 = 1e-9;

#[test]
fn a_lopsided_glass_in_a_sealed_box_keeps_its_heat_with_any_steps() {
    let grid = grid();
    for variation in [Variation::any(&[1]), Variation::any(&[2]), Variation::round()] {
        for tolerance in [1e-5, 2e-4, 1.0] {
            let surroundings = Boxed { grid: &grid, angles: variation.angles() };
            let start = Temperature::from_kelvin(START);
            let mut stepper = Stepper::uniform(&grid, glass(), start, tolerance)
                .with_bodies(&bodies())
                .varying(&variation);
            let before = stepper.heat_stored_j();
            stepper.advance(7200.0, &surroundings, |_| {}).unwrap();
            let given = before - stepper.heat_stored_j();
            assert!(given > 1e4, "{given} J");
            let lost = stepper.heat_lost_j();
            assert!((given - lost).abs() < PROMISED * given, "{given} {lost} J");
            let gained: f64 = (bodies().iter().zip(stepper.body_kelvin()))
                .map(|(body, kelvin)| body.heat_capacity_j_per_k * (kelvin - body.start_k))
                .sum();
            assert!((given - gained).abs() < PROMISED * given, "{given} {gained} J");
            if !variation.is_round() {
                let part = stepper.part_kelvin(Part::sine(2));
                let largest = part.iter().fold(0.0, |a: f64, b| a.max(b.abs()));
                assert!(largest > 1e-2, "a lopsided glass: {largest} K");
            }
        }
    }
}

/// Every temperature in a box lies between those it began with, around the axis as well.
#[test]
fn no_side_of_the_glass_leaves_the_range_of_what_surrounds_it() {
    let grid = grid();
    let variation = Variation::any(&[1]);
    let surroundings = Boxed { grid: &grid, angles: variation.angles() };
    let start = Temperature::from_kelvin(START);
    let mut stepper =
        Stepper::uniform(&grid, glass(), start, 2e-4).with_bodies(&bodies()).varying(&variation);
    for hour in 1..=8 {
        stepper.advance(f64::from(hour) * 3600.0, &surroundings, |_| {}).unwrap();
        for kelvin in stepper.surface_kelvin() {
            assert!((START - 15.0..=START).contains(&kelvin), "{kelvin} K after {hour} h");
        }
    }
}
