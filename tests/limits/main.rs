//! Where the answer is known without a solver: thin, sealed, drowned, bare and empty limits.

#![allow(clippy::unwrap_used, reason = "a night that cannot be computed has failed the test")]

mod bounds;
#[path = "../references/case.rs"]
mod case;
mod figure;
mod film;
mod image;
mod shape;
mod tables;

/// A film that is the same everywhere on a face [W m⁻² K⁻¹].
fn even(film: f64) -> case::Points {
    vec![(0.0, film)]
}

/// Plate glass of constant properties: expansion 9.0e-6 /K as in EN 572-1, Poisson's ratio 0.22.
fn bending(case: &case::Case) -> evenglass_simulation::scenario::Scenario {
    let mut scenario = case.scenario();
    scenario.mirror.glass.expansion = evenglass_units::Expansion::from_per_kelvin(9e-6);
    scenario.mirror.glass.poisson_ratio = 0.22;
    scenario
}
