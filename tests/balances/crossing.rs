//! Air that overtakes the glass: films of still air change sides without chatter.

use std::path::Path;

use evenglass_disc::{Exchange, Grid, Resolution, Stepper, Surroundings};
use evenglass_simulation::scenario::parse;
use evenglass_simulation::{geometry, simulate};
use evenglass_units::Temperature;

/// Still air on every face, no radiation, and air that rises through the glass's temperature.
const RISING: &str = r#"
[mirror]
diameter = "406 mm"
edge_thickness = "41 mm"
focal_ratio = 4.5
glass = "soda-lime"
[night]
start = "20:00"
duration = "8 h"
glass_temperature = "12 degC"
air = { kind = "table", time = ["0 h", "8 h"], temperature = ["6 degC", "20 degC"] }
[front]
film = { kind = "still" }
[output]
interval = "2 min"
"#;

#[test]
fn glass_overtaken_by_still_air_warms_without_a_wiggle() {
    let scenario = parse("rising.toml", RISING, Path::new(""), &[]).unwrap();
    let night = simulate(&scenario, &Resolution::default()).unwrap();
    let excess: Vec<f64> = night.history.iter().map(|r| r.front_minus_air.kelvins()).collect();
    assert!(excess[0] > 5.0 && excess[excess.len() - 1] < -1.0, "the air overtakes: {excess:?}");
    // The air rises steadily and the glass follows with one lag: the excess falls all night.
    let wiggle = excess.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::MIN, f64::max);
    assert!(wiggle < 0.0, "the excess rises by {wiggle} K between two rows");
    // The mean first cools, then warms: one turn only.
    let mean: Vec<f64> = night.history.iter().map(|row| row.mean.kelvin()).collect();
    let steps: Vec<f64> = mean.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let turns = steps.windows(2).filter(|pair| pair[0] * pair[1] < 0.0).count();
    assert_eq!(turns, 1, "turns of the mean temperature");
}

/// Free convection whose strength has a corner where the glass is as warm as the air: more
/// on the warm side than on the cold one, as above a horizontal face.
struct StillAir {
    from_k: f64,
    rate: f64,
}

impl Surroundings for StillAir {
    fn exchange(&self, time_s: f64, temperature: &[f64], exchange: &mut [Exchange]) {
        let air = self.from_k + self.rate * time_s;
        for (surface, heat) in temperature.iter().zip(exchange) {
            let excess = surface - air;
            let (factor, power) = if excess > 0.0 { (1.5, 4.0 / 3.0) } else { (0.6, 1.25) };
            let flux = factor * excess.abs().powf(power) * excess.signum();
            let slope = factor * power * excess.abs().powf(power - 1.0);
            *heat = Exchange { flux, slope };
        }
    }
}

#[test]
fn crossing_the_air_costs_a_bounded_number_of_steps() {
    let scenario = parse("rising.toml", RISING, Path::new(""), &[]).unwrap();
    let section = geometry::section(&scenario.mirror).unwrap();
    for resolution in [Resolution::default(), Resolution::fine()] {
        let grid = Grid::new(&section, &resolution, &geometry::breaks(&scenario));
        let glass = geometry::material(&scenario.mirror.glass);
        let start = Temperature::from_celsius(12.0);
        let effort = |rate: f64| {
            let surroundings = StillAir { from_k: 279.15, rate };
            let mut stepper = Stepper::uniform(&grid, glass, start, resolution.tolerance);
            stepper.advance(8.0 * 3600.0, &surroundings, |_| {}).unwrap();
            stepper.effort()
        };
        let (steady, crossing) = (effort(0.0), effort(14.0 / (8.0 * 3600.0)));
        // A chattering film would refuse hundreds of steps at the corner; following its
        // passage from the rim to the middle may take a few times the steps of a decay.
        assert!(crossing.steps < 6 * steady.steps, "{crossing:?} against {steady:?}");
        assert!(crossing.refused < crossing.steps / 2, "{crossing:?}");
    }
}
