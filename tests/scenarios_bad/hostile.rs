//! Whatever a file or an option holds, reading ends with an answer.

use std::path::Path;

use evenglass_scenario::{Override, parse, parse_axis, parse_override, parse_variant};
use proptest::prelude::*;

use crate::arrangements;
use crate::good::{FULL, LEAST};

/// Pieces that have meaning somewhere, and sizes that have none anywhere.
const PIECES: &[&str] = &[
    "\"",
    "[",
    "]",
    "{",
    "}",
    "=",
    ",",
    "\n",
    "#",
    "[[event]]",
    "[mirror]",
    "kind = \"file\"",
    "nan",
    "inf",
    "-1",
    "1e400",
    "9223372036854775808",
    "0x1F",
    "true",
    "22:30:00",
    "2026-10-03",
    "9999-12-31T23:59:59",
    "9999-12-31",
    "\"W/m2K\"",
    "\"-300 degC\"",
    "\"1e308 h\"",
    "\"0 mm\"",
    "\"72 h\"",
    "\"1e-300 s\"",
    "\"\u{2212}5 °C\"",
    "\u{0}",
    "é",
    "\"still\"",
    "\"given\"",
    "\"plenum\"",
    "\"suction\"",
    "\"ring-nozzle\"",
    "second = { kind = \"open\" }",
    "layers = [{ kind = \"loss\" }]",
    "count = 0",
    "time",
    "value",
    "[]",
    "{}",
    "0.0",
    "1e-320",
];

#[derive(Debug, Clone)]
enum Mutation {
    Delete(usize, usize),
    Duplicate(usize, usize),
    Insert(usize, usize),
    Replace(usize, usize, usize),
    SwapUnit(usize, usize),
}

const UNITS: &[&str] =
    &["mm", "m", "K", "degC", "K/h", "W/m2/K", "h", "L/s", "arcsec", "deg", "kg/m3"];

fn mutation() -> impl Strategy<Value = Mutation> {
    let place = 0..4000_usize;
    prop_oneof![
        (place.clone(), 1..40_usize).prop_map(|(at, n)| Mutation::Delete(at, n)),
        (place.clone(), 1..80_usize).prop_map(|(at, n)| Mutation::Duplicate(at, n)),
        (place.clone(), 0..PIECES.len()).prop_map(|(at, piece)| Mutation::Insert(at, piece)),
        (place.clone(), 1..12_usize, 0..PIECES.len())
            .prop_map(|(at, n, piece)| Mutation::Replace(at, n, piece)),
        (place, 0..UNITS.len()).prop_map(|(at, unit)| Mutation::SwapUnit(at, unit)),
    ]
}

fn mutate(text: &str, mutation: &Mutation) -> String {
    let chars: Vec<char> = text.chars().collect();
    let length = chars.len().max(1);
    let part = |from: usize, to: usize| -> String {
        chars[from.min(chars.len())..to.min(chars.len())].iter().collect()
    };
    match *mutation {
        Mutation::Delete(at, n) => part(0, at % length) + &part(at % length + n, chars.len()),
        Mutation::Duplicate(at, n) => {
            let at = at % length;
            part(0, at + n) + &part(at, chars.len())
        }
        Mutation::Insert(at, piece) => {
            let at = at % length;
            part(0, at) + PIECES[piece] + &part(at, chars.len())
        }
        Mutation::Replace(at, n, piece) => {
            let at = at % length;
            part(0, at) + PIECES[piece] + &part(at + n, chars.len())
        }
        Mutation::SwapUnit(at, unit) => {
            let (from, to) = (UNITS[at % UNITS.len()], UNITS[unit]);
            text.replacen(&format!(" {from}\""), &format!(" {to}\""), 1 + at % 3)
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn no_mutation_of_a_scenario_stops_the_reader_dead(
        which in 0..4_usize, mutations in prop::collection::vec(mutation(), 1..6)
    ) {
        let moved = |sections: &str| format!("{LEAST}{sections}");
        let mut text = match which {
            0 => FULL.to_owned(),
            1 => LEAST.to_owned(),
            2 => moved(arrangements::FULL),
            _ => moved(arrangements::RING),
        };
        for mutation in &mutations {
            text = mutate(&text, mutation);
        }
        if let Err(error) = parse("night.toml", &text, Path::new("/nowhere"), &[]) {
            prop_assert!(!error.faults.is_empty());
            for place in error.faults.iter().filter_map(|fault| fault.place.as_ref()) {
                prop_assert!(place.source.get(place.span.clone()).is_some(), "span off the text");
                prop_assert!(place.line() > 0 && place.column() > 0);
            }
        }
    }

    #[test]
    fn nothing_typed_stops_the_reader_dead(
        key in "(mirror|night|event|back|rim|uneven|film|air|ventilation|telescope|kind|0|1|[a-z.]{0,6}|\\.){1,5}",
        value in "([0-9.]{0,4} ?[a-zA-Z/2]{0,6}|[\\[\\]{}\",:=# ]{0,6}|\\PC{0,8})"
    ) {
        let key = key.replace("film", ".film.").replace("kind", ".kind");
        let change = Override { key: key.clone(), value: value.clone(), option: "--set".to_owned() };
        let _ = parse("night.toml", FULL, Path::new("/nowhere"), &[change]);
        let typed = format!("{key}={value}");
        let _ = (parse_override(&typed), parse_variant(&typed), parse_axis(&typed));
        let _ = parse_axis(&format!("{key}={value} .. {value} : 3"));
    }

    #[test]
    fn no_text_stops_the_reader_dead(text in "\\PC{0,200}") {
        let _ = parse("night.toml", &text, Path::new(""), &[]);
        let _ = (parse_override(&text), parse_variant(&text), parse_axis(&text));
    }
}

#[test]
fn deep_nesting_and_floods_of_keys_are_survived() {
    for text in ["[".repeat(100_000), "a=".to_owned() + &"[".repeat(100_000), "a.".repeat(50_000)] {
        assert!(parse("deep.toml", &text, Path::new(""), &[]).is_err());
    }
    let lines: Vec<String> = (0..20_000).map(|n| format!("k{n} = 1")).collect();
    let flood = lines.join("\n");
    let error = parse("flood.toml", &flood, Path::new(""), &[]).unwrap_err();
    assert!(error.faults.len() <= 1000);
}
