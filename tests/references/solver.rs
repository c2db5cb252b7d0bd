//! Asks the program for temperatures at chosen places and times.

use evenglass_disc::{Grid, Resolution};
use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::{geometry, simulate};
use evenglass_units::Length;

/// Which of the two resolutions the program promises something for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Accuracy {
    /// What a user gets.
    Default,
    /// What `--fine` gives.
    Fine,
}

impl Accuracy {
    /// Both, for a test of both promises.
    pub(crate) const BOTH: [Self; 2] = [Self::Default, Self::Fine];

    /// The promise: largest error of a published temperature, from five minutes
    /// after a jump of 10 K [K].
    pub(crate) fn per_ten_kelvin(self) -> f64 {
        match self {
            Self::Default => 5e-3,
            Self::Fine => 1e-3,
        }
    }
}

/// Temperatures [K] of a night at probes (time [s], radius [m], height above the back [m]).
pub(crate) fn temperatures(
    scenario: &Scenario,
    probes: &[(f64, f64, f64)],
    accuracy: Accuracy,
) -> Vec<f64> {
    let resolution = match accuracy {
        Accuracy::Default => Resolution::default(),
        Accuracy::Fine => Resolution::fine(),
    };
    let mut scenario = scenario.clone();
    let mut times: Vec<f64> = probes.iter().map(|probe| probe.0).collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    scenario.output.fields_at.clone_from(&times);
    let night = simulate(&scenario, &resolution).expect("the case can be computed");
    let section = geometry::section(&scenario.mirror).expect("the case has a shape");
    let grid = Grid::new(&section, &resolution, &geometry::breaks(&scenario));
    assert_eq!(grid.radii(), night.points.radius_m, "the probes need the night's own grid");
    probes
        .iter()
        .map(|&(time, radius, height)| {
            let field = night
                .fields
                .iter()
                .find(|field| field.time_s.total_cmp(&time).is_eq())
                .expect("a field at every asked time");
            let values = field.temperature_k.as_slice().expect("fields are contiguous");
            grid.interpolation(Length::from_metres(radius), Length::from_metres(height))
                .into_iter()
                .map(|(point, weight)| weight * values[point])
                .sum()
        })
        .collect()
}
