//! How a command can end short of its answer, and the exit status that goes with it.

use std::fmt::Display;
use std::io;

use evenglass_report::ReportError;
use evenglass_scenario::{Fault, ScenarioError};
use evenglass_simulation::SimulationError;

/// Why there is no answer.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The request or a file was wrong.
    Wrong(Vec<Fault>),
    /// The request was right, but could not be carried out.
    Impossible(Vec<Fault>),
    /// Nobody reads the answer any more, as in `| head -1`. No fault of anyone.
    ClosedPipe,
}

impl Failure {
    /// A request that does not make sense, in itself or against what is on the disk.
    pub(crate) fn request(code: &'static str, message: String, help: &str) -> Self {
        Self::Wrong(vec![fault(code, message, help)])
    }

    /// Something that could not be computed.
    pub(crate) fn computation(message: String, help: &str) -> Self {
        Self::Impossible(vec![fault("run::not-computed", message, help)])
    }

    /// A file or folder that could not be written.
    pub(crate) fn writing(what: &dyn Display, error: &io::Error) -> Self {
        let message = format!("could not write {what}: {error}");
        let help = "check the free space and the permissions, or choose another place";
        Self::Impossible(vec![fault("output::write", message, help)])
    }

    /// The same, with its first fault said to be that of `label`.
    pub(crate) fn of(mut self, label: &str) -> Self {
        if let Self::Wrong(faults) | Self::Impossible(faults) = &mut self
            && let Some(first) = faults.first_mut()
        {
            first.message = format!("{label}: {}", first.message);
        }
        self
    }

    /// The same, where a variant of the scenario has it: what is not placed in the variant's own
    /// words is said to come of it.
    pub(crate) fn of_variant(mut self, label: &str) -> Self {
        if let Self::Wrong(faults) | Self::Impossible(faults) = &mut self {
            for fault in faults {
                let own = fault.place.as_ref().is_some_and(|place| place.name.starts_with("--"));
                if !own {
                    fault.message = format!("with the variant `{label}`, {}", fault.message);
                }
            }
        }
        self
    }

    /// The first fault in one line.
    pub(crate) fn first_message(&self) -> &str {
        match self {
            Self::Wrong(faults) | Self::Impossible(faults) => {
                faults.first().map_or("no reason known", |fault| fault.message.as_str())
            }
            Self::ClosedPipe => "the reader has gone",
        }
    }

    /// The same in few bytes: the first fault, without the file it stands in.
    ///
    /// A sweep may fail a hundred thousand times, each time with a copy of the file.
    pub(crate) fn in_brief(mut self) -> Self {
        if let Self::Wrong(faults) | Self::Impossible(faults) = &mut self {
            faults.truncate(1);
            for fault in faults {
                fault.place = None;
            }
        }
        self
    }

    /// Status for the shell.
    pub(crate) fn exit_status(&self) -> u8 {
        match self {
            Self::ClosedPipe => 0,
            Self::Impossible(_) => 1,
            Self::Wrong(_) => 2,
        }
    }
}

impl From<ScenarioError> for Failure {
    fn from(error: ScenarioError) -> Self {
        Self::Wrong(error.faults)
    }
}

impl From<SimulationError> for Failure {
    fn from(error: SimulationError) -> Self {
        Self::computation(error.to_string(), "try without `--cells`, or change what it names")
    }
}

impl From<ReportError> for Failure {
    fn from(error: ReportError) -> Self {
        let said = error.to_string();
        // Its messages are the fact, then the remedy; a path may hold a semicolon, a remedy none.
        let (fact, remedy) = said.rsplit_once("; ").unwrap_or((&said, "choose another folder"));
        match error {
            ReportError::Foreign { .. }
            | ReportError::NotAFolder { .. }
            | ReportError::CurrentFolder { .. } => {
                Self::Wrong(vec![fault("output::folder", fact.to_owned(), remedy)])
            }
            _ => Self::Impossible(vec![fault("output::write", fact.to_owned(), remedy)]),
        }
    }
}

fn fault(code: &'static str, message: String, help: &str) -> Fault {
    Fault { code, message, help: Some(help.to_owned()), place: None }
}
