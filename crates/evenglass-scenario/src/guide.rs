//! The guide to scenario keys, for people.

use std::fmt::Write as _;

use evenglass_materials::glass;

use crate::keys::{FILE, Group, Key, Need, Shape};
use crate::suggest::listed;

const OPENING: &str = "\
# Scenario keys

A scenario is a TOML file: one mirror, one night, and the air on every face of the glass.
This page is generated from the description that the program itself reads files by.

**Quantities** are texts with a number and a unit, with or without a space: `\"24 in\"`,
`\"406 mm\"`, `\"60 cfm\"`, `\"20 L/s\"`, `\"-1.5 K/h\"`, `\"68 degF\"`, `\"9.0e-6 /K\"`. A unit is
always written; a bare number is an error. A slash binds the next unit, and units glued
together behind a slash stay below it: `W/m2/K`, `W/m2K`, `W/(m2 K)` and `W m-2 K-1` are
the same. **Plain numbers** such as fractions stand without quotes.

**Times** are durations from the start of the run (`\"2 h\"`, `\"1 h 30 min\"`) or local clock
times (`\"22:30\"`); a clock time before that of the start means the next day. In runs over
24 h a clock time needs its date (`\"2026-10-04T22:30\"`) and [night] its own.

**Series.** Where a key takes a value *or* a table of points, the table is
`{ time = [\"0 h\", \"6 h\"], value = [...] }`: linear between the points, held after the last;
a repeated time is a jump.

**Left out** says what a key means when it is not written. Tables within sections are
described where they first appear.

**On the command line** `--set KEY=VALUE` changes one key for one run. KEY is the path with
dots (`mirror.diameter`, `back.film.coefficient`, `event.0.fan_speed`, events counted from 0).
A new `kind` discards the file's keys of the old one, but for those that mean the same in both,
such as the `fans` of two arrangements. A single `coefficient` discards its `radius` or `height`,
`cell = \"open\"` its `gap`, `feed = \"even\"` its `feed_angle`; `dew_point` and
`relative_humidity` discard each other, and so do the two ways to give a fan's curve. An entry of
a list is reached by its number: `ventilation.layers.0.area`.
";

/// The guide to scenario keys, in Markdown.
///
/// It comes from the same description of keys that the reader uses.
#[must_use]
pub fn key_guide() -> String {
    let mut page = OPENING.to_owned();
    let mut written = Vec::new();
    for key in FILE.keys {
        let head = match &key.shape {
            Shape::Table(_) | Shape::Kinds(_) => format!("[{}]", key.name),
            Shape::Tables(group) => format!("[[{}]]", group.name),
            _ => key.name.to_owned(),
        };
        let _ = write!(page, "\n## `{head}`\n\n{}\n", key.doc);
        if let Some(group) = key.shape.group() {
            table(&mut page, group);
            details(&mut page, group.keys, &mut written);
        } else if key.shape.kinds().is_some() {
            details(&mut page, std::slice::from_ref(key), &mut written);
        }
    }
    page
}

fn table(page: &mut String, group: &Group) {
    if group.keys.is_empty() {
        return;
    }
    page.push_str("\n| key | value | left out | meaning |\n|---|---|---|---|\n");
    for key in group.keys {
        let _ = writeln!(
            page,
            "| `{}` | {} | {} | {} |",
            key.name,
            value(key),
            left_out(key.need),
            key.doc
        );
    }
}

fn left_out(need: Need) -> String {
    match need {
        Need::Required => "not allowed".to_owned(),
        Need::Optional => "allowed".to_owned(),
        Need::Default(value) => format!("`{value}`"),
    }
}

/// What may stand for a key, in Markdown.
pub(crate) fn value(key: &Key) -> String {
    let example = format!("`{}`", key.shape.example());
    match &key.shape {
        Shape::Choice(words) => {
            words.iter().map(|w| format!("`\"{w}\"`")).collect::<Vec<_>>().join(", ")
        }
        Shape::Kinds(kinds) => format!("a table with `kind`: {}", names(kinds)),
        Shape::List(Shape::Kinds(kinds)) => {
            format!("a list of tables with `kind`: {}", names(kinds))
        }
        Shape::OneOf([Shape::GlassName, _]) => {
            let names = listed(glass::names().iter().copied());
            format!("{names}, or a table of constants")
        }
        Shape::Table(_) => "a table".to_owned(),
        _ => {
            let limits = key.shape.quantity().map(|quantity| quantity.range.words);
            match limits.or(key.shape.number().map(|range| range.words)) {
                Some(words) => format!("{example}; {words}"),
                None => example,
            }
        }
    }
}

fn names(kinds: &[Group]) -> String {
    listed(kinds.iter().map(|kind| kind.name))
}

/// A table within a section, under its heading.
#[derive(Debug, Clone, Copy)]
struct Detail {
    key: &'static str,
    kind: Option<&'static str>,
    group: &'static Group,
}

impl Detail {
    /// The faces share most of what is below their keys, and `second` what is in
    /// [ventilation]; it is written once.
    fn same(&self, other: &Self) -> bool {
        let names = |detail: &Self| detail.group.keys.iter().map(|k| k.name).collect::<Vec<_>>();
        let home = self.key == other.key || self.key == "second" || self.key == "cover";
        home && self.kind == other.kind && names(self) == names(other)
    }
}

/// The tables within keys, those left out that have been written before; then what is in them.
fn details(page: &mut String, keys: &'static [Key], written: &mut Vec<Detail>) {
    let mut inside = Vec::new();
    for key in keys {
        let kinds = key.shape.kinds().unwrap_or_default().iter();
        let kinds = kinds.map(|kind| Detail { key: key.name, kind: Some(kind.name), group: kind });
        // Series are explained once, at the top.
        let inner = key.shape.group().filter(|inner| inner.name != "series");
        let inner = inner.map(|group| Detail { key: key.name, kind: None, group });
        for detail in kinds.chain(inner) {
            if written.iter().any(|before| detail.same(before)) {
                continue;
            }
            let kind = detail.kind.map(|kind| format!(" of kind \"{kind}\"")).unwrap_or_default();
            let _ = write!(page, "\n### `{}`{kind}\n\n{}\n", detail.key, detail.group.doc);
            table(page, detail.group);
            written.push(detail);
            inside.push(detail.group);
        }
    }
    for group in inside {
        details(page, group.keys, written);
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn the_guide_on_disk_is_the_one_the_reader_follows() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/guide/scenario-keys.md");
        if std::env::var_os("EVENGLASS_UPDATE").is_some() {
            fs::write(path, key_guide()).unwrap();
        }
        let on_disk = fs::read_to_string(path).unwrap_or_default();
        assert!(
            on_disk == key_guide(),
            "docs/guide/scenario-keys.md is stale: run the tests with EVENGLASS_UPDATE=1"
        );
    }

    #[test]
    fn every_key_of_every_section_is_in_the_guide() {
        let guide = key_guide();
        let groups = |key: &'static Key| {
            key.shape.kinds().unwrap_or_default().iter().chain(key.shape.group())
        };
        for section in FILE.keys.iter().flat_map(groups) {
            for key in section.keys {
                assert!(guide.contains(&format!("| `{}` |", key.name)), "{}", key.name);
            }
        }
    }
}
