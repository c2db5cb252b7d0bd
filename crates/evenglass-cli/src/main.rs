//! The `evenglass` command: arguments, exit status, printing.
//!
//! Three layers: what was typed ([`arguments`]), what it means ([`request`]), and
//! one file for each command ([`command`]). No physics, and no layout of tables or
//! pictures: those belong to the crates below.

mod arguments;
mod changes;
mod command;
mod delivery;
mod facts;
mod failure;
mod interrupt;
mod progress;
mod render;
mod request;
mod shape;
mod talk;
mod wrapping;

use std::process::ExitCode;

use clap::Parser;

use crate::arguments::Arguments;
use crate::failure::Failure;

/// Nothing to say, because clap has said it.
const DONE: u8 = 0;

fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(refusal) => {
            // Help and version arrive here too; a closed pipe is no fault of theirs.
            let _ = refusal.print();
            return ExitCode::from(u8::try_from(refusal.exit_code()).unwrap_or(2));
        }
    };
    talk::set_colour(arguments.color);
    interrupt::listen();
    match command::carry_out(arguments) {
        Ok(()) => ExitCode::from(DONE),
        Err(failure) => {
            if let Failure::Wrong(faults) | Failure::Impossible(faults) = &failure {
                talk::complain(&render::faults(faults));
            }
            ExitCode::from(failure.exit_status())
        }
    }
}
