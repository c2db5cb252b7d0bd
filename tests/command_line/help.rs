//! What the program says of itself.

use crate::place::Place;

#[test]
fn help_names_every_command_and_the_meaning_of_the_exit_status() {
    let said = Place::empty().succeed(&["--help"]);
    for expected in
        ["new", "check", "run", "compare", "sweep", "size", "explain", "Exit status", "130"]
    {
        assert!(said.out.contains(expected), "{expected}: {}", said.out);
    }
    assert_eq!(said.err, "");
}

#[test]
fn every_command_has_help_with_a_line_for_each_of_its_options() {
    let place = Place::empty();
    let options = [
        ("new", vec!["--kind", "--list"]),
        ("check", vec!["--set"]),
        ("run", vec!["--set", "--out", "--json", "--fine", "--cells"]),
        ("compare", vec!["--variant", "--set", "--out", "--json", "--fine", "--cells"]),
        ("sweep", vec!["--vary", "--threads", "--set", "--out", "--json", "--fine", "--cells"]),
        ("size", vec!["--slot-speed", "--film", "--set", "--out", "--json"]),
        ("explain", vec![]),
    ];
    for (command, options) in options {
        let said = place.succeed(&[command, "--help"]);
        for option in options.into_iter().chain(["--quiet", "--color"]) {
            assert!(said.out.contains(option), "{command} {option}: {}", said.out);
        }
    }
}

#[test]
fn the_version_is_a_single_line() {
    let said = Place::empty().succeed(&["--version"]);
    assert_eq!(said.out, format!("evenglass {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn a_misspelt_command_is_answered_with_the_one_that_was_meant() {
    let said = Place::empty().say(&["chekc", "a.toml"]);
    assert_eq!(said.status, Some(2), "{said:?}");
    assert!(said.err.contains("check"), "{said:?}");
    assert_eq!(said.out, "");
}

#[test]
fn a_command_line_that_cannot_be_read_ends_with_status_two() {
    let place = Place::with_quick();
    for words in [
        vec![],
        vec!["run"],
        vec!["run", "quick.toml", "--fast"],
        vec!["run", "quick.toml", "--cells", "40"],
        vec!["run", "quick.toml", "--cells", "40x10", "--fine"],
        vec!["sweep", "quick.toml"],
        vec![
            "sweep",
            "quick.toml",
            "--vary",
            "rim.film.coefficient=1 W/m2/K, 2 W/m2/K",
            "--threads",
            "0",
        ],
        vec!["run", "quick.toml", "--color", "sometimes"],
    ] {
        let said = place.say(&words);
        assert_eq!(said.status, Some(2), "{words:?}: {said:?}");
        assert!(!said.err.is_empty() && said.out.is_empty(), "{words:?}: {said:?}");
    }
}

#[test]
fn every_shell_gets_a_completion_script_that_knows_the_commands() {
    let place = Place::empty();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = place.succeed(&["completions", shell]).out;
        assert!(script.contains("compare") && script.contains("sweep"), "{shell}: {script}");
    }
    assert_eq!(place.say(&["completions", "abacus"]).status, Some(2));
}

#[test]
fn the_manual_is_roff_for_the_program_and_for_each_command() {
    let place = Place::empty();
    assert!(place.succeed(&["man"]).out.contains(".SH NAME"), "no manual");
    assert!(place.succeed(&["man", "sweep"]).out.contains("\\-\\-vary"), "no option");
    place.say(&["man", "nothing"]).refused(2, "request::unknown-command");
}
