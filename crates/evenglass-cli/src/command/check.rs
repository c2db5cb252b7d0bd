//! `evenglass check`: what a scenario says, and what to beware of.

use evenglass_simulation::result::Warning;
use evenglass_simulation::{Resolution, simulate};

use crate::facts::facts;
use crate::failure::Failure;
use crate::request::Case;
use crate::talk::answer;
use crate::wrapping::wrapped;

/// Reads the scenario and says what was understood.
///
/// What leaves its range shows only when the night goes by, and the night goes by
/// in milliseconds; so it is computed, and nothing of it is written.
pub(super) fn check(case: &Case) -> Result<(), Failure> {
    let scenario = case.load()?;
    let night = simulate(&scenario, &Resolution::default())?;
    answer(&(facts(&scenario) + &beware(&night.warnings)))
}

fn beware(warnings: &[Warning]) -> String {
    let lines = warnings
        .iter()
        .map(|warning| format!("\n{}\n", wrapped(&format!("{} [{}]", warning.text, warning.code))));
    lines.collect::<Vec<_>>().concat()
}
