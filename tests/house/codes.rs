//! Every code a message can carry is explained by the program itself.

use std::collections::BTreeSet;

use assert_cmd::Command;

use crate::workspace::text_files;

/// String literals that look like codes, `topic::what-happened`.
fn codes(source: &str) -> BTreeSet<String> {
    source.split('"').skip(1).step_by(2).filter(|text| is_code(text)).map(str::to_owned).collect()
}

fn is_code(text: &str) -> bool {
    let parts: Vec<&str> = text.split("::").collect();
    parts.len() == 2
        && parts.iter().all(|part| {
            part.starts_with(|c: char| c.is_ascii_lowercase())
                && part
                    .chars()
                    .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || "-_".contains(c))
        })
}

#[test]
fn every_code_used_in_the_program_is_explained_and_none_in_vain() {
    let sources = text_files(&[".rs"]);
    let mut used = BTreeSet::new();
    for file in sources {
        let inside = file.name.starts_with("crates/") && file.name.contains("/src/");
        if inside && !file.name.ends_with("explain/code.rs") {
            used.extend(code_literals(&file.text));
        }
    }
    assert!(used.contains("new::exists"), "the search finds no codes: {used:?}");
    let listed = Command::cargo_bin("evenglass").unwrap().args(["explain", "codes"]).output();
    let listed = String::from_utf8(listed.unwrap().stdout).unwrap();
    let explained: BTreeSet<String> =
        listed.split_whitespace().filter(|word| is_code(word)).map(str::to_owned).collect();
    let missing: Vec<_> = used.difference(&explained).collect();
    let idle: Vec<_> = explained.difference(&used).collect();
    assert!(missing.is_empty(), "without explanation: {missing:?}");
    assert!(idle.is_empty(), "explained, but never used: {idle:?}");
}

/// Line by line, so that a quotation mark in a comment spoils one line only.
fn code_literals(source: &str) -> BTreeSet<String> {
    source.lines().flat_map(codes).collect()
}

#[test]
fn codes_are_told_from_other_text() {
    let line = r#"fault("scenario::unit", "not::A-code", "one::two::three", "films::no-wind")"#;
    assert_eq!(codes(line).into_iter().collect::<Vec<_>>(), ["films::no-wind", "scenario::unit"]);
}
