//! `evenglass run`: one night.

use evenglass_report::{summary_text, write_night};
use evenglass_simulation::simulate;

use crate::delivery::deliver;
use crate::failure::Failure;
use crate::request;
use crate::talk::Talk;

/// Computes the night, writes its result folder and says what came out.
pub(super) fn run(request: &request::Run, talk: Talk) -> Result<(), Failure> {
    let scenario = request.case.load()?;
    deliver(&request.delivery, talk, |folder| {
        let night = simulate(&scenario, &request.resolution)?;
        let written = write_night(folder, &night)?;
        Ok((summary_text(&night), written))
    })?;
    let file = request.case.file.display();
    talk.mention(&format!("next: `evenglass compare {file}` names the change that helps most"));
    Ok(())
}
