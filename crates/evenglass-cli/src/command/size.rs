//! `evenglass size`: what the fans of an arrangement do, before any night.

use evenglass_report::{Filter, SizeReport, sizing_text, write_sizing};
use evenglass_scenario::Scenario;
use evenglass_simulation::ventilation::sizing;
use evenglass_simulation::ventilation::wish::{self, Wish};

use crate::delivery::deliver;
use crate::failure::Failure;
use crate::request;
use crate::talk::Talk;

/// Sizes the arrangement, writes its result folder and says what came out.
pub(super) fn size(request: &request::Size, talk: Talk) -> Result<(), Failure> {
    let scenario = request.case.load()?;
    let Some(report) = report(scenario, &request.wishes) else { return Err(no_fans()) };
    deliver(&request.delivery, talk, |folder| {
        let written = write_sizing(folder, &report)?;
        Ok((sizing_text(&report), written))
    })
}

/// All answers; `None` without fans.
fn report(scenario: Scenario, wishes: &[Wish]) -> Option<SizeReport> {
    let sizing = sizing::size(&scenario)?;
    let answers = wishes.iter().map(|&wanted| (wanted, wish::answer(&scenario, wanted))).collect();
    let filter = wish::filter_share(&scenario).zip(wish::filter_area(&scenario));
    let filter = filter.map(|(share, area)| Filter { share, area });
    Some(SizeReport { scenario, sizing, wishes: answers, filter })
}

fn no_fans() -> Failure {
    Failure::request(
        "size::no-fans",
        "the scenario has no fans to size".to_owned(),
        "add [ventilation] with `fans`, of another kind than `open` and `sealed`; `evenglass explain \
         arrangement` has them all",
    )
}
