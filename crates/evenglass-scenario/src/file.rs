//! A scenario file from disk or memory.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use crate::check::{self, Surroundings};
use crate::fault::{Fault, ScenarioError};
use crate::ledger::Ledger;
use crate::overrides::{Override, apply};
use crate::scenario::{Event, Scenario};
use crate::tree;

/// A scenario is a few kilobytes; tables of a long night a few hundred.
const LARGEST_FILE: u64 = 4_000_000;

/// Reads and checks a scenario file, with changes.
///
/// Relative paths in it start from its own folder.
///
/// # Errors
/// Everything that is wrong, in one go: each fault with its place, fact and remedy.
pub fn load(path: &Path, overrides: &[Override]) -> Result<Scenario, ScenarioError> {
    let name = path.to_string_lossy();
    let text = read(path, &name).map_err(|fault| ScenarioError { faults: vec![fault] })?;
    let base = path.parent().unwrap_or(Path::new(""));
    parse(&name, &text, base, overrides)
}

/// Checks the text of a scenario, with changes.
///
/// * `name` — what messages call the text; its last part without extension is the title of a
///   scenario that has none
/// * `base` — the folder that relative paths start from
///
/// # Errors
/// Everything that is wrong, in one go: each fault with its place, fact and remedy.
///
/// ```
/// use std::path::Path;
///
/// let text = r#"
/// [mirror]
/// diameter = "16 in"
/// edge_thickness = "41 mm"
/// glass = "borosilicate"
/// [night]
/// start = "20:00"
/// duration = "8 h"
/// glass_temperature = "20 degC"
/// air = { kind = "steady", temperature = "60 cfm" }
/// "#;
/// let error = evenglass_scenario::parse("demo.toml", text, Path::new(""), &[]).unwrap_err();
/// assert_eq!(error.to_string(), "`60 cfm` measures a flow, a temperature is wanted");
/// assert_eq!(error.faults[0].place.as_ref().unwrap().line(), 10);
/// ```
pub fn parse(
    name: &str,
    text: &str,
    base: &Path,
    overrides: &[Override],
) -> Result<Scenario, ScenarioError> {
    // Some editors put a byte order mark in front; it is not part of what was written.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut ledger = Ledger::default();
    ledger.add_text(name, text);
    let Some(mut root) = tree::file(text, &ledger) else { return ledger.finish(None) };
    apply(&mut root, overrides, &mut ledger);
    let stem = Path::new(name).file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let title = stem.unwrap_or_else(|| "scenario".to_owned());
    let scenario = check::scenario(&root, Surroundings { title: &title, base }, &ledger);
    ledger.finish(scenario)
}

/// The events of a scenario file that [`load`] accepts with these changes.
///
/// # Errors
/// If the file cannot be read.
pub fn events(path: &Path, overrides: &[Override]) -> Result<Vec<Event>, ScenarioError> {
    let name = path.to_string_lossy();
    let text = read(path, &name).map_err(|fault| ScenarioError { faults: vec![fault] })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let mut ledger = Ledger::default();
    ledger.add_text(&name, text);
    let Some(mut root) = tree::file(text, &ledger) else { return ledger.finish(None) };
    apply(&mut root, overrides, &mut ledger);
    Ok(check::events(&root, &ledger))
}

fn read(path: &Path, name: &str) -> Result<String, Fault> {
    let fault = |message: String, help: &str| Fault {
        code: "scenario::file",
        message,
        help: Some(help.to_owned()),
        place: None,
    };
    let unreadable = |error: std::io::Error| {
        fault(
            format!("cannot read the scenario file `{name}`: {error}"),
            "check the path; `evenglass new` writes a file to start from",
        )
    };
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(unreadable)?;
    let size = file.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if size as u64 > LARGEST_FILE {
        return Err(fault(
            format!("the scenario file `{name}` is larger than 4 MB"),
            "give a scenario file; readings of a night go into a weather file",
        ));
    }
    String::from_utf8(bytes).map_err(|error| {
        let valid = &error.as_bytes()[..error.utf8_error().valid_up_to()];
        let line = String::from_utf8_lossy(valid).matches('\n').count() + 1;
        fault(
            format!("the scenario file `{name}` is not UTF-8 text at line {line}"),
            "save it as UTF-8 in your editor",
        )
    })
}
