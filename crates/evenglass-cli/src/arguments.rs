//! What was typed: the command line as clap reads it, nothing interpreted yet.

use std::path::PathBuf;

use clap::builder::NonEmptyStringValueParser;
use clap::{ArgAction, Args, ColorChoice, Parser, Subcommand};
use clap_complete::Shell;

const EXAMPLES: &str = "\
Examples:
  evenglass new mirror.toml                 write a scenario to start from
  evenglass check mirror.toml               say what was understood
  evenglass run mirror.toml                 compute the night into mirror-out/
  evenglass run mirror.toml --set 'mirror.glass=borosilicate'
  evenglass compare mirror.toml             name the single change that helps most
  evenglass compare mirror.toml --variant 'thin: mirror.edge_thickness=30 mm'
  evenglass sweep mirror.toml --vary 'mirror.edge_thickness=25 mm .. 50 mm : 6'
  evenglass size mirror.toml                flows and films of the fans, before a night
  evenglass explain arrangement             the ways to move the air, and what each does

Exit status: 0 done, 1 it could not be computed or written, 2 the request or a file
was wrong, 130 interrupted. The answer goes to standard output, everything else to
standard error.";

/// The whole command line.
#[derive(Debug, Parser)]
#[command(name = "evenglass", version, after_help = EXAMPLES)]
#[command(about = "How a telescope mirror cools through the night, before anything is built")]
#[command(arg_required_else_help = true, max_term_width = 100)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,

    /// Say nothing but the answer, and what went wrong
    #[arg(long, short, global = true)]
    pub(crate) quiet: bool,

    /// Colour: on a terminal only, always, or never; `NO_COLOR` is obeyed
    #[arg(long, global = true, value_name = "WHEN", default_value = "auto")]
    pub(crate) color: ColorChoice,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Write a scenario to start from
    New(NewArguments),
    /// Read a scenario and say what was understood, and what to beware of
    Check(CheckArguments),
    /// Compute one night
    Run(RunArguments),
    /// Compare variants of a night, or several scenarios, or find the change that helps one most
    Compare(CompareArguments),
    /// Compute a night for every value, or every combination of values, of chosen keys
    Sweep(SweepArguments),
    /// Size what moves the air: flow, pressure and films at each speed of the fans
    Size(SizeArguments),
    /// Say what the program knows: glasses, films, arrangements, columns, what its messages mean
    Explain(ExplainArguments),
    /// Print a completion script for a shell
    Completions(CompletionsArguments),
    /// Print a manual page
    Man(ManArguments),
}

#[derive(Debug, Args)]
pub(crate) struct NewArguments {
    /// File to write; an existing one is never overwritten
    #[arg(value_name = "FILE", required_unless_present = "list")]
    pub(crate) file: Option<PathBuf>,

    /// Which starting scenario
    #[arg(long, value_name = "NAME", default_value = "fan-behind")]
    pub(crate) kind: String,

    /// List the starting scenarios
    #[arg(long, conflicts_with = "file")]
    pub(crate) list: bool,
}

#[derive(Debug, Args)]
pub(crate) struct CheckArguments {
    #[command(flatten)]
    pub(crate) scenario: ScenarioArguments,
}

#[derive(Debug, Args)]
pub(crate) struct RunArguments {
    #[command(flatten)]
    pub(crate) scenario: ScenarioArguments,
    #[command(flatten)]
    pub(crate) result: ResultArguments,
    #[command(flatten)]
    pub(crate) resolution: ResolutionArguments,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  evenglass compare mirror.toml                 which single change helps most
  evenglass compare mirror.toml --variant 'bare rim: rim.film.coefficient=12 W/m2/K' \\
      --variant 'thin: mirror.edge_thickness=30 mm; mirror.glass=borosilicate'
  evenglass compare soda-lime.toml borosilicate.toml --out glasses")]
pub(crate) struct CompareArguments {
    /// One scenario, alone or with variants, or several; alone, small changes of it are tried
    #[arg(value_name = "FILE", required = true)]
    pub(crate) files: Vec<PathBuf>,

    /// A variant of the one scenario: a label, then what it changes
    #[arg(long, value_name = "LABEL: KEY=VALUE; ...", action = ArgAction::Append)]
    #[arg(value_parser = NonEmptyStringValueParser::new())]
    pub(crate) variant: Vec<String>,

    /// Change a key in every scenario compared
    #[arg(long, value_name = "KEY=VALUE", action = ArgAction::Append)]
    pub(crate) set: Vec<String>,

    #[command(flatten)]
    pub(crate) result: ResultArguments,
    #[command(flatten)]
    pub(crate) resolution: ResolutionArguments,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  evenglass sweep mirror.toml --vary 'back.film.coefficient=6 W/m2/K .. 24 W/m2/K : 50'
  evenglass sweep mirror.toml --vary 'mirror.glass=soda-lime, borosilicate' \\
      --vary 'mirror.edge_thickness=25 mm .. 50 mm : 6'")]
pub(crate) struct SweepArguments {
    #[command(flatten)]
    pub(crate) scenario: ScenarioArguments,

    /// A key and its values: `FROM .. TO : COUNT` evenly spaced, or a list with commas;
    /// repeat for a grid
    #[arg(long, value_name = "KEY=VALUES", action = ArgAction::Append, required = true)]
    #[arg(value_parser = NonEmptyStringValueParser::new())]
    pub(crate) vary: Vec<String>,

    /// How many nights to compute at once; one per core if left out
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(crate) threads: Option<u16>,

    #[command(flatten)]
    pub(crate) result: ResultArguments,
    #[command(flatten)]
    pub(crate) resolution: ResolutionArguments,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  evenglass size mirror.toml
  evenglass size mirror.toml --slot-speed '2 m/s' --film '10 W/m2/K'
  evenglass size mirror.toml --set 'ventilation.slot=6 mm' --out six-mm

It answers from [ventilation] and the night's mean air; no night is computed.")]
pub(crate) struct SizeArguments {
    #[command(flatten)]
    pub(crate) scenario: ScenarioArguments,

    /// Ask what gives this speed in the slot of a ring nozzle
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub(crate) slot_speed: Option<String>,

    /// Ask what gives this mean film on the front, or on the back where no air is moved over the front
    #[arg(long, value_name = "FILM", allow_hyphen_values = true)]
    pub(crate) film: Option<String>,

    #[command(flatten)]
    pub(crate) result: ResultArguments,
}

#[derive(Debug, Args)]
pub(crate) struct ExplainArguments {
    /// `glass`, `film`, `arrangement`, `fan`, `filter`, `wall`, `columns`, `words`, `codes`, or the
    /// code of a message; left out: what there is
    #[arg(value_name = "TOPIC")]
    pub(crate) topic: Option<String>,

    /// One of that topic: `evenglass explain arrangement plenum`
    #[arg(value_name = "NAME")]
    pub(crate) name: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct CompletionsArguments {
    /// The shell to complete for
    #[arg(value_name = "SHELL")]
    pub(crate) shell: Shell,
}

#[derive(Debug, Args)]
pub(crate) struct ManArguments {
    /// The command to describe; left out: the program
    #[arg(value_name = "COMMAND")]
    pub(crate) command: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct ScenarioArguments {
    /// The scenario, a TOML file
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,

    /// Change a key of the scenario, as in `mirror.glass=borosilicate` or `event.0.fan_speed=0.5`
    #[arg(long, value_name = "KEY=VALUE", action = ArgAction::Append)]
    pub(crate) set: Vec<String>,
}

#[derive(Debug, Args)]
pub(crate) struct ResultArguments {
    /// Folder for the results, replaced as a whole; `<scenario name>-out` if left out
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,

    /// Print the answer as JSON
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct ResolutionArguments {
    /// Five times as exact, and slower
    #[arg(long, conflicts_with = "cells")]
    pub(crate) fine: bool,

    /// Cells across the radius and through the thickness
    #[arg(long, value_name = "RADIALxAXIAL", value_parser = cells)]
    pub(crate) cells: Option<Cells>,
}

/// How many cells the maker asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Cells {
    pub(crate) radial: usize,
    pub(crate) axial: usize,
}

fn cells(text: &str) -> Result<Cells, String> {
    let shape = || "write it as 400x100: cells across the radius, then through the thickness";
    let (radial, axial) = text.split_once(['x', 'X', '×']).ok_or_else(shape)?;
    let count = |digits: &str| digits.trim().parse::<usize>().map_err(|_| shape());
    Ok(Cells { radial: count(radial)?, axial: count(axial)? })
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_command_line_contradicts_itself_nowhere() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn cells_are_two_counts_with_a_cross_between() {
        assert_eq!(cells("400x100"), Ok(Cells { radial: 400, axial: 100 }));
        assert_eq!(cells("40 × 10"), Ok(Cells { radial: 40, axial: 10 }));
    }

    #[test]
    fn cells_that_are_no_counts_are_answered_with_their_form() {
        for text in ["400", "400x", "x", "-4x100", "4.5x100", "99999999999999999999x4"] {
            let refusal = cells(text).unwrap_err();
            assert!(refusal.contains("400x100"), "{text}: {refusal}");
        }
    }
}
