//! `evenglass compare`: a few nights side by side, or one and what would help it.

use evenglass_report::{changes_text, comparison_text, write_comparison};
use evenglass_scenario::Scenario;
use evenglass_simulation::{Geometries, Night, SimulationError, simulate_with, sweep};

use crate::changes::{Change, changes};
use crate::delivery::deliver;
use crate::failure::Failure;
use crate::progress::Progress;
use crate::request::{self, AS_WRITTEN, Case, Nights};
use crate::talk::{Talk, complain};

/// Computes all nights and sets them against the first.
pub(super) fn compare(request: &request::Compare, talk: Talk) -> Result<(), Failure> {
    match &request.nights {
        Nights::Named(cases) => named(request, cases, talk),
        Nights::Changes(case) => changed(request, case, talk),
    }
}

/// A comparison with a hole in it compares nothing, so one night that fails ends it.
fn named(request: &request::Compare, cases: &[(String, Case)], talk: Talk) -> Result<(), Failure> {
    let scenarios: Vec<Scenario> =
        cases.iter().map(|(_, case)| case.load()).collect::<Result<_, _>>()?;
    deliver(&request.delivery, talk, |folder| {
        let computed = nights(request, &scenarios, talk);
        let labelled = cases.iter().zip(computed);
        let nights = labelled
            .map(|((label, _), night)| match night {
                Ok(night) => Ok((label.clone(), night)),
                Err(error) => Err(Failure::from(error).of(label)),
            })
            .collect::<Result<Vec<_>, Failure>>()?;
        let written = write_comparison(folder, &nights)?;
        Ok((comparison_text(&nights), written))
    })
}

/// One scenario against every small change of it that makes sense; a change that cannot be
/// made is left out.
fn changed(request: &request::Compare, case: &Case, talk: Talk) -> Result<(), Failure> {
    let base = case.load()?;
    let changes = possible(case, &base, talk)?;
    deliver(&request.delivery, talk, |folder| {
        let scenarios: Vec<Scenario> =
            std::iter::once(base).chain(changes.iter().map(|(_, s)| s.clone())).collect();
        let mut computed = nights(request, &scenarios, talk).into_iter();
        let first = computed.next().ok_or_else(|| {
            Failure::computation("no night was computed".to_owned(), "try `evenglass run`")
        })?;
        let mut nights = vec![(AS_WRITTEN.to_owned(), first?)];
        let mut options = vec![String::new()];
        for ((change, _), night) in changes.iter().zip(computed) {
            match night {
                Ok(night) => {
                    nights.push((change.label.clone(), night));
                    options.push(change.as_options());
                }
                Err(error) => complain(&format!("no result for {}: {error}", change.label)),
            }
        }
        let written = write_comparison(folder, &nights)?;
        Ok((changes_text(&nights, &options), written))
    })
}

/// The changes that can be made, each with what becomes of the scenario.
fn possible(case: &Case, base: &Scenario, talk: Talk) -> Result<Vec<(Change, Scenario)>, Failure> {
    let events = evenglass_scenario::events(&case.file, &case.overrides)?;
    let mut possible = vec![];
    for change in changes(base, &events) {
        match case.with(change.overrides.clone()).load() {
            Ok(scenario) if change.leaves_the_night(base, &scenario) => {
                possible.push((change, scenario));
            }
            Ok(_) => talk.mention(&format!(
                "left out: {}, because times from the start of the run would move on the clock",
                change.label
            )),
            Err(failure) => {
                talk.mention(&format!("left out: {}: {}", change.label, failure.first_message()));
            }
        }
    }
    Ok(possible)
}

fn nights(
    request: &request::Compare,
    scenarios: &[Scenario],
    talk: Talk,
) -> Vec<Result<Night, SimulationError>> {
    let progress = Progress::new(scenarios.len(), talk);
    let geometries = Geometries::new();
    let computed = sweep::in_parallel(
        scenarios.len(),
        None,
        |index| simulate_with(&scenarios[index], &request.resolution, &geometries),
        || progress.advance(),
    );
    progress.finish();
    computed
}
