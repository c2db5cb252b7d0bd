//! The solver against a general-purpose finite-element library, on the mirrors of `mirrors.rs`.

use evenglass_simulation::scenario::Scenario;
use evenglass_units::Temperature;

use crate::mirrors::{self, lines_of};
use crate::solver::{Accuracy, temperatures};

/// Asserts the promise at every probe of a case, at both resolutions.
fn check(name: &str, scenario: &Scenario) {
    let lines = lines_of(name);
    let probes: Vec<_> = lines.iter().map(|line| line.probe).collect();
    for accuracy in Accuracy::BOTH {
        let kelvin = temperatures(scenario, &probes, accuracy);
        for (line, kelvin) in lines.iter().zip(kelvin) {
            let gap = Temperature::from_kelvin(kelvin).celsius() - line.celsius;
            let allowed = accuracy.per_ten_kelvin() + line.error;
            assert!(
                gap.abs() <= allowed,
                "`{name}` at (s, m, m) {:?}, {accuracy:?}: off by {gap:.6} K, allowed {allowed:.6}",
                line.probe
            );
        }
    }
}

#[test]
fn films_that_jump_between_the_grids_points() {
    check("jumps", &mirrors::jumps());
}

#[test]
fn a_perforated_mirror_follows_falling_air() {
    check("holed", &mirrors::holed());
}

#[test]
fn a_thick_blank_with_a_half_covered_rim() {
    check("thick", &mirrors::thick());
}

#[test]
fn an_insulated_rim_while_the_fan_slows_down() {
    check("insulated", &mirrors::insulated());
}

#[test]
fn a_strong_fan_on_one_side_only() {
    check("one-sided", &mirrors::one_sided());
}

#[test]
fn glass_that_radiates_and_stores_more_when_warm() {
    check("radiating", &mirrors::radiating());
}
