//! `evenglass sweep`: a night for every point of a grid.

use evenglass_report::{Axis, Outcome, SweepTable, sweep_text, write_sweep};
use evenglass_simulation::{Geometries, simulate_with, sweep as nights};

use crate::delivery::deliver;
use crate::failure::Failure;
use crate::progress::Progress;
use crate::request;
use crate::talk::{Talk, complain};

/// How many of the nights that failed are named one by one.
const MOST_NAMED: usize = 10;

/// Computes the grid, in its order; nights that fail are named, the rest is kept.
pub(super) fn sweep(request: &request::Sweep, talk: Talk) -> Result<(), Failure> {
    deliver(&request.delivery, talk, |folder| {
        let outcomes = outcomes(request, talk);
        if outcomes.iter().all(Result::is_err) {
            return Err(common_failure(outcomes));
        }
        name_failures(request, &outcomes);
        let table = SweepTable { axes: axes(request), rows: rows(outcomes) };
        let written = write_sweep(folder, &table)?;
        Ok((sweep_text(&table), written))
    })
}

fn outcomes(request: &request::Sweep, talk: Talk) -> Vec<Result<Outcome, Failure>> {
    let progress = Progress::new(request.nights, talk);
    let geometries = Geometries::new();
    let night = |index| -> Result<Outcome, Failure> {
        let scenario = request.case.with(request.member(index)).load()?;
        let night = simulate_with(&scenario, &request.resolution, &geometries)?;
        Ok(Outcome::from(&night))
    };
    let outcomes = nights::in_parallel(
        request.nights,
        request.threads,
        // The first may have to speak for all of them.
        |index| {
            night(index).map_err(|failure| if index == 0 { failure } else { failure.in_brief() })
        },
        || progress.advance(),
    );
    progress.finish();
    outcomes
}

/// Every night failed: a request that is wrong everywhere is wrong, and one of its
/// faults says why; anything else could not be computed.
fn common_failure(outcomes: Vec<Result<Outcome, Failure>>) -> Failure {
    let mut failures = outcomes.into_iter().filter_map(Result::err);
    let first = failures.next();
    let all_wrong = failures.all(|failure| matches!(failure, Failure::Wrong(_)));
    match first {
        Some(Failure::Wrong(faults)) if !all_wrong => Failure::Impossible(faults),
        Some(failure) => failure,
        None => Failure::computation("the grid is empty".to_owned(), "give at least one value"),
    }
}

fn name_failures(request: &request::Sweep, outcomes: &[Result<Outcome, Failure>]) {
    let failed: Vec<(usize, &Failure)> = outcomes
        .iter()
        .enumerate()
        .filter_map(|(index, outcome)| outcome.as_ref().err().map(|failure| (index, failure)))
        .collect();
    for (index, failure) in failed.iter().take(MOST_NAMED) {
        complain(&format!("no result for {}: {}", name(request, *index), failure.first_message()));
    }
    if failed.len() > MOST_NAMED {
        complain(&format!("and none for {} more", failed.len() - MOST_NAMED));
    }
}

fn name(request: &request::Sweep, index: usize) -> String {
    let values = request.member(index).into_iter();
    values.map(|change| format!("{}={}", change.key, change.value)).collect::<Vec<_>>().join(", ")
}

fn axes(request: &request::Sweep) -> Vec<Axis> {
    let varied = request.axes.iter();
    varied.map(|axis| Axis { key: axis.key.clone(), values: axis.values.clone() }).collect()
}

fn rows(outcomes: Vec<Result<Outcome, Failure>>) -> Vec<Result<Outcome, String>> {
    outcomes
        .into_iter()
        .map(|outcome| outcome.map_err(|failure| failure.first_message().to_owned()))
        .collect()
}
