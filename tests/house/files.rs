//! How files are named, how long they may grow, and what they may not say.

use crate::workspace::{TextFile, text_files};

/// A file that needs more than this holds two things.
const MOST_LINES: usize = 500;

/// Names that say nothing about what is inside.
const EMPTY_NAMES: [&str; 8] = [
    "mod.rs",
    "utils.rs",
    "util.rs",
    "common.rs",
    "helpers.rs",
    "helper.rs",
    "misc.rs",
    "types.rs",
];

#[test]
fn no_source_file_is_too_long() {
    for file in text_files(&[".rs"]) {
        let lines = file.text.lines().count();
        assert!(lines <= MOST_LINES, "{} has {lines} lines, at most {MOST_LINES}", file.name);
    }
}

#[test]
fn every_source_file_is_named_after_what_it_holds() {
    for file in text_files(&[".rs"]) {
        let last = file.name.rsplit('/').next().unwrap();
        assert!(!EMPTY_NAMES.contains(&last), "{}: what is in it?", file.name);
    }
}

#[test]
fn every_lib_rs_holds_documentation_and_re_exports_only() {
    for file in text_files(&["/lib.rs", "lib.rs"]) {
        for line in code_lines(&file) {
            let fine = ["mod ", "pub mod ", "pub use ", "use ", "#!["].iter();
            let continued = line.chars().all(|c| c.is_alphanumeric() || " _,:{}*;".contains(c));
            assert!(
                continued || fine.clone().any(|start| line.starts_with(start)),
                "{}: `{line}`",
                file.name
            );
        }
    }
}

fn code_lines(file: &TextFile) -> impl Iterator<Item = &str> {
    file.text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with("//"))
}

#[test]
fn nothing_betrays_the_machine_it_was_written_on() {
    let endings = [".rs", ".toml", ".md", ".py", ".csv", ".json", ".cff", ".lock", "run"];
    for file in text_files(&endings) {
        for trace in traces() {
            assert!(!file.text.contains(&trace), "{} mentions `{trace}`", file.name);
        }
    }
}

/// Put together here, so that this file does not contain them.
fn traces() -> Vec<String> {
    let homes = ["root", "home", "work", "Users", "tmp/t-", "mnt"].map(|name| format!("/{name}/"));
    let hosts = ["127.0.0", "localhost:", "192.168", "10.0.0"].map(|name| format!("//{name}"));
    homes.into_iter().chain(hosts).collect()
}

#[test]
fn a_path_of_a_machine_would_be_found() {
    let written = format!("see /{}/somebody/notes.txt", "home");
    assert!(traces().iter().any(|trace| written.contains(trace)), "{:?}", traces());
}
