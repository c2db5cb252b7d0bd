//! Tables of keys, as the scenario's own description has them.

use std::fmt::Write as _;

use evenglass_scenario::{KeyText, keys_of, kinds_of};

use crate::wrapping::{WIDTH, broken};

/// A table of a scenario, and how to call it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Table<'a> {
    pub(super) title: &'a str,
    /// As for [`keys_of`].
    pub(super) path: &'a [&'a str],
}

/// Keys that have a topic of their own, or that are explained where they are used.
const ELSEWHERE: [(&str, &str); 3] = [
    ("fans", "`evenglass explain fan` has its keys"),
    (
        "layers",
        "`evenglass explain filter` has the filters, docs/guide/scenario-keys.md all of them",
    ),
    ("second", "`evenglass explain arrangement` has the keys of each"),
];

/// The keys of a table, and of the tables within it.
pub(super) fn tables(table: &Table<'_>) -> String {
    let keys = keys_of(table.path).unwrap_or_default();
    if keys.is_empty() {
        return format!("{} has no other keys than `kind`.\n", table.title);
    }
    format!("Keys of {}\n\n{}{}", table.title, lines(&keys), within(table.path, &keys))
}

/// The tables within a table, and those within them.
fn within(path: &[&str], keys: &[KeyText]) -> String {
    let mut text = String::new();
    for key in keys {
        if ELSEWHERE.iter().any(|(name, _)| *name == key.name) || key.name == "cover" {
            continue;
        }
        let inner = [path, &[key.name]].concat();
        if let Some(found) = keys_of(&inner).filter(|found| !found.is_empty()) {
            let _ = write!(text, "\nKeys of `{}`\n\n{}", key.name, lines(&found));
            text += &within(&inner, &found);
        }
        for (kind, about) in kinds_of(&inner) {
            let at = [&inner[..], &[kind]].concat();
            let about = about.trim_end_matches('.');
            let head = format!("`{}` with kind = \"{kind}\": {about}", key.name);
            let _ = writeln!(text, "\n{}", indented(&head, 0));
            if let Some(found) = keys_of(&at).filter(|found| !found.is_empty()) {
                let _ = write!(text, "\n{}{}", lines(&found), within(&at, &found));
            }
        }
    }
    text
}

/// Name, value and need on one line, the sentence below.
pub(super) fn lines(keys: &[KeyText]) -> String {
    let told = keys.iter().map(|key| {
        let elsewhere = ELSEWHERE.iter().find(|(name, _)| *name == key.name);
        let value = elsewhere.map_or(key.value.as_str(), |(_, where_)| where_);
        let head = indented(&format!("{}: {value}; {}", key.name, key.left_out), 2);
        format!("{head}\n{}\n", indented(key.about, 6))
    });
    told.collect()
}

/// A paragraph broken between words, every line moved to the right.
pub(super) fn indented(text: &str, by: usize) -> String {
    let margin = " ".repeat(by);
    let lines = broken(text, WIDTH - by).into_iter().map(|line| margin.clone() + &line);
    lines.collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_indented_paragraph_fits_a_terminal_and_loses_no_word() {
        let text = "slot ".repeat(60);
        let lines = indented(text.trim_end(), 6);
        assert!(lines.lines().all(|line| line.starts_with("      slot")), "{lines}");
        assert!(lines.lines().all(|line| line.chars().count() <= WIDTH), "{lines}");
        assert_eq!(lines.matches("slot").count(), 60);
    }

    #[test]
    fn a_table_without_keys_says_so() {
        let sealed = Table { title: "[ventilation]", path: &["ventilation", "sealed"] };
        assert_eq!(tables(&sealed), "[ventilation] has no other keys than `kind`.\n");
    }
}
