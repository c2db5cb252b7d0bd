//! Asks the program for temperatures at chosen places and times.

use evenglass_disc::{Breaks, Grid, Resolution};
use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::scenario::scenario::{Face, Film};
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
    let grid = Grid::new(&section, &resolution, &breaks(&scenario));
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

/// Where the given films break, as the program has to see them too.
fn breaks(scenario: &Scenario) -> Breaks {
    let outer = 0.5 * scenario.mirror.diameter.metres();
    let inner = scenario.mirror.hole_diameter.map_or(0.0, |hole| 0.5 * hole.metres());
    let thickness = scenario.mirror.edge_thickness.metres();
    Breaks {
        front: inner_positions(&scenario.front, inner, outer),
        back: inner_positions(&scenario.back, inner, outer),
        rim: inner_positions(&scenario.rim, 0.0, thickness),
        hole: scenario
            .hole
            .as_ref()
            .map_or_else(Vec::new, |face| inner_positions(face, 0.0, thickness)),
    }
}

fn inner_positions(face: &Face, from: f64, to: f64) -> Vec<f64> {
    let Film::Given { coefficient, .. } = &face.film else {
        panic!("reference cases have given films")
    };
    let mut inside: Vec<f64> =
        coefficient.positions().iter().copied().filter(|&p| p > from && p < to).collect();
    inside.dedup();
    inside
}
