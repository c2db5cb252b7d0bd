//! One file per command; this one only sends each to its place.

mod check;
mod compare;
mod explain;
mod new;
mod run;
mod shell;
mod size;
mod sweep;

use crate::arguments::{Arguments, Command};
use crate::failure::Failure;
use crate::request;
use crate::talk::Talk;

/// Carries out what was asked.
///
/// # Errors
/// A [`Failure`] that says why there is no answer.
pub(crate) fn carry_out(arguments: Arguments) -> Result<(), Failure> {
    let talk = if arguments.quiet { Talk::Quiet } else { Talk::Open };
    match arguments.command {
        Command::New(typed) => new::new(&typed, talk),
        Command::Check(typed) => check::check(&request::Case::meant(typed.scenario)?),
        Command::Run(typed) => run::run(&request::Run::meant(typed)?, talk),
        Command::Compare(typed) => compare::compare(&request::Compare::meant(typed)?, talk),
        Command::Sweep(typed) => sweep::sweep(&request::Sweep::meant(typed)?, talk),
        Command::Size(typed) => size::size(&request::Size::meant(typed)?, talk),
        Command::Explain(typed) => explain::explain(&typed),
        Command::Completions(typed) => shell::completions(&typed),
        Command::Man(typed) => shell::man(&typed),
    }
}
