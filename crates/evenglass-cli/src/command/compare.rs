//! `evenglass compare`: a few nights side by side.

use evenglass_report::{comparison_text, write_comparison};
use evenglass_scenario::Scenario;
use evenglass_simulation::{Night, simulate, sweep};

use crate::delivery::deliver;
use crate::failure::Failure;
use crate::progress::Progress;
use crate::request;
use crate::talk::Talk;

/// Computes all nights and sets them against the first.
///
/// A comparison with a hole in it compares nothing, so one night that fails ends it.
pub(super) fn compare(request: &request::Compare, talk: Talk) -> Result<(), Failure> {
    let scenarios: Vec<Scenario> =
        request.cases.iter().map(|(_, case)| case.load()).collect::<Result<_, _>>()?;
    deliver(&request.delivery, talk, |folder| {
        let nights = nights(request, &scenarios, talk)?;
        let written = write_comparison(folder, &nights)?;
        Ok((comparison_text(&nights), written))
    })
}

fn nights(
    request: &request::Compare,
    scenarios: &[Scenario],
    talk: Talk,
) -> Result<Vec<(String, Night)>, Failure> {
    let progress = Progress::new(scenarios.len(), talk);
    let computed = sweep::in_parallel(
        scenarios.len(),
        None,
        |index| simulate(&scenarios[index], &request.resolution),
        || progress.advance(),
    );
    progress.finish();
    let labelled = request.cases.iter().zip(computed);
    labelled
        .map(|((label, _), night)| match night {
            Ok(night) => Ok((label.clone(), night)),
            Err(error) => Err(Failure::from(error).of(label)),
        })
        .collect()
}
