//! Bad scenarios and what is said about each: place, fact and remedy.
//!
//! Each file here opens with a comment that says what is wrong with it. The messages
//! beside it (`.expected`) have been read and judged by a person; after a change of
//! wording, run with `EVENGLASS_UPDATE=1` and judge the difference again.

#![allow(clippy::unwrap_used, reason = "a test that cannot read its own files has failed")]
#![allow(clippy::float_cmp, reason = "numbers that pass through unchanged are compared exactly")]

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use evenglass_scenario::{CODES, Override, ScenarioError, load, parse, parse_override};

mod arrangements;
mod changes;
mod good;
mod hostile;
mod typed;

const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/scenarios_bad");

fn files() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(FOLDER)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    files.sort();
    files
}

/// "name:line:column at `text under the caret`: code", fact and remedy of each fault.
fn report(error: &ScenarioError) -> String {
    let mut report = String::new();
    for fault in &error.faults {
        if let Some(place) = &fault.place {
            let marked = place.source[place.span.clone()].lines().next().unwrap_or("");
            let (line, column) = (place.line(), place.column());
            write!(report, "{}:{line}:{column} at `{marked}`: ", place.name).unwrap();
        }
        writeln!(report, "{}", fault.code).unwrap();
        writeln!(report, "  {}", fault.message).unwrap();
        writeln!(report, "  = {}", fault.help.as_deref().expect("every fault has a remedy"))
            .unwrap();
    }
    report
}

#[test]
fn every_bad_scenario_is_refused_with_its_place_fact_and_remedy() {
    let files = files();
    assert!(files.len() >= 60, "only {} bad scenarios", files.len());
    let mut wrong = String::new();
    for path in files {
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.starts_with("# "), "{} does not say what is wrong", path.display());
        let name = path.file_name().unwrap().to_str().unwrap();
        let said = match parse(name, &text, Path::new(FOLDER), &[]) {
            Ok(_) => "accepted\n".to_owned(),
            Err(error) => report(&error),
        };
        let expected = path.with_extension("expected");
        if std::env::var_os("EVENGLASS_UPDATE").is_some() {
            fs::write(&expected, &said).unwrap();
        }
        let wanted = fs::read_to_string(expected).unwrap_or_default();
        if said != wanted || said.starts_with("accepted") {
            writeln!(wrong, "{name}: said\n{said}wanted\n{wanted}").unwrap();
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// A message is one line, lower case where it starts with a word, and has no full stop.
#[test]
fn messages_keep_to_one_grammar_and_known_codes() {
    for path in files() {
        let error = load(&path, &[]).unwrap_err();
        for fault in &error.faults {
            let help = fault.help.as_deref().unwrap();
            for text in [&fault.message, help] {
                let first = text.chars().next().unwrap();
                let name = path.display();
                assert!(!first.is_uppercase(), "{name}: {text}");
                assert!(!text.ends_with('.') && !text.contains('\n'), "{name}: {text}");
            }
            let known = CODES.iter().any(|(code, _)| *code == fault.code);
            assert!(
                known || fault.code.starts_with("weather::"),
                "{} is not explained",
                fault.code
            );
        }
    }
}

#[test]
fn every_code_of_scenarios_is_reached_by_a_bad_scenario_or_by_typing() {
    let mut reached: Vec<&str> = files()
        .iter()
        .flat_map(|path| load(path, &[]).unwrap_err().faults)
        .map(|fault| fault.code)
        .collect();
    reached.extend(["scenario::file", "scenario::axis", "scenario::override"]);
    for (code, explanation) in CODES {
        assert!(reached.contains(code), "{code} is reached by no file");
        assert!(explanation.ends_with('.') && explanation.len() > 40, "{code}: {explanation}");
    }
}

fn change(text: &str) -> Override {
    parse_override(text).unwrap()
}
