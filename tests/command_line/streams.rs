//! Colours, closed pipes and full outputs.

use std::fs::File;
use std::process::Stdio;

use crate::place::{Place, Said};

const ESCAPE: char = '\u{1b}';

#[test]
fn nothing_is_coloured_unless_a_terminal_looks_on_or_it_is_asked_for() {
    let place = Place::with_quick();
    let wrong = ["check", "no.toml"];
    assert!(!place.say(&wrong).err.contains(ESCAPE), "coloured into a pipe");
    let asked = place.say(&[&wrong[..], &["--color", "always"]].concat());
    assert!(asked.err.contains(ESCAPE), "{asked:?}");
    let never = place.evenglass(&[&wrong[..], &["--color", "never"]].concat());
    let never = Said::of(&{ never }.env("CLICOLOR_FORCE", "1").output().unwrap());
    assert!(!never.err.contains(ESCAPE), "{never:?}");
}

#[test]
fn no_color_is_obeyed_even_where_colour_is_forced_from_outside() {
    let place = Place::with_quick();
    let forced = place.evenglass(&["check", "no.toml"]).env("CLICOLOR_FORCE", "1").output();
    assert!(Said::of(&forced.unwrap()).err.contains(ESCAPE), "colour can be forced");
    let asked_not = place.evenglass(&["check", "no.toml"]).env("NO_COLOR", "1").output();
    let asked_not = Said::of(&asked_not.unwrap());
    assert_eq!(asked_not.status, Some(2), "{asked_not:?}");
    assert!(!asked_not.err.contains(ESCAPE), "{asked_not:?}");
    assert!(asked_not.err.contains("error["), "reads well without: {asked_not:?}");
}

/// As `evenglass … | head -1`, with the reader gone from the start: the hardest case.
#[test]
fn a_reader_that_goes_away_ends_the_program_quietly() {
    let place = Place::with_quick();
    for words in [
        vec!["--help"],
        vec!["explain", "film", "given"],
        vec!["check", "quick.toml"],
        vec!["completions", "bash"],
        vec!["man"],
        vec!["run", "quick.toml", "--quiet"],
        vec!["run", "quick.toml", "--quiet", "--json"],
    ] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let output = place.evenglass(&words).stdout(writer).output().unwrap();
        let said = Said::of(&output);
        assert_eq!(said.status, Some(0), "{words:?}: {said:?}");
        assert_eq!(said.err, "", "{words:?}");
    }
    assert!(place.file("quick-out/summary.json").is_file(), "the result is written all the same");
}

#[test]
fn a_standard_error_nobody_reads_stops_nothing() {
    let place = Place::with_quick();
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let output = place.evenglass(&["run", "quick.toml"]).stderr(writer).output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(!output.stdout.is_empty(), "no answer");
    let output = place.evenglass(&["run", "no.toml"]).stderr(Stdio::null()).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
}

#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_written_is_a_failure() {
    let place = Place::with_quick();
    let full = File::options().write(true).open("/dev/full").unwrap();
    let output = place.evenglass(&["check", "quick.toml"]).stdout(full).output().unwrap();
    Said::of(&output).refused(1, "output::write");
}
