//! `evenglass completions` and `evenglass man`: what a shell and a manual want to know.

use clap::CommandFactory;
use clap_mangen::Man;

use crate::arguments::{Arguments, CompletionsArguments, ManArguments};
use crate::failure::Failure;
use crate::talk::answer_bytes;

const PROGRAM: &str = "evenglass";

/// Prints the completion script of one shell.
pub(super) fn completions(typed: &CompletionsArguments) -> Result<(), Failure> {
    let mut script = Vec::new();
    clap_complete::generate(typed.shell, &mut Arguments::command(), PROGRAM, &mut script);
    answer_bytes(&script)
}

/// Prints the manual page of the program or of one command, in roff.
pub(super) fn man(typed: &ManArguments) -> Result<(), Failure> {
    let mut program = Arguments::command();
    program.build();
    let described = match &typed.command {
        None => program,
        Some(name) => program.find_subcommand(name).cloned().ok_or_else(|| no_command(name))?,
    };
    let mut page = Vec::new();
    Man::new(described)
        .render(&mut page)
        .map_err(|error| Failure::writing(&"the manual page", &error))?;
    answer_bytes(&page)
}

fn no_command(name: &str) -> Failure {
    Failure::request(
        "request::unknown-command",
        format!("there is no command `{name}`"),
        "`evenglass --help` lists the commands",
    )
}
