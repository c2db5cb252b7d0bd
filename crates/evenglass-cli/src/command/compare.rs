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
    let base = &cases[0].1.file;
    let load = |(index, (label, case)): (usize, &(String, Case))| match case.load() {
        Err(failure) if index > 0 && case.file == *base => Err(failure.of_variant(label)),
        loaded => loaded,
    };
    let scenarios: Vec<Scenario> = cases.iter().enumerate().map(load).collect::<Result<_, _>>()?;
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

/// The changes that can be made, each with what becomes of the scenario. Of several ways to
/// make one the first that works is taken.
fn possible(case: &Case, base: &Scenario, talk: Talk) -> Result<Vec<(Change, Scenario)>, Failure> {
    let events = evenglass_scenario::events(&case.file, &case.overrides)?;
    let mut possible: Vec<(Change, Scenario)> = vec![];
    let mut refused: Vec<(String, String)> = vec![];
    for change in changes(base, &events) {
        let is_made = possible.iter().any(|(made, _)| made.label == change.label);
        match case.with(change.overrides.clone()).load() {
            _ if is_made => {}
            Ok(scenario) if change.leaves_the_night(base, &scenario) => {
                possible.push((change, scenario));
            }
            Ok(_) => refused.push((change.label, "times from the start would move".to_owned())),
            Err(failure) => refused.push((change.label, failure.first_message().to_owned())),
        }
    }
    for (index, (label, reason)) in refused.iter().enumerate() {
        let is_made = possible.iter().any(|(made, _)| made.label == *label);
        let is_last = refused[index + 1..].iter().all(|(later, _)| later != label);
        if !is_made && is_last {
            talk.mention(&format!("left out: {label}: {reason}"));
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
