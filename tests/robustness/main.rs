//! Files that were good until somebody slipped: read, refused or computed, never a panic.
//!
//! Shipped scenarios and weather files are changed at random, at the places where a
//! person's slips matter: numbers, units, words, lines. Whatever the reader still
//! accepts is cooled through its night on a coarse grid.

#![allow(clippy::unwrap_used, reason = "a night that cannot be computed has failed the test")]

mod mirrors;

use std::fs;
use std::path::{Path, PathBuf};

use evenglass_disc::Resolution;
use evenglass_simulation::scenario::{Scenario, parse};
use evenglass_simulation::{SimulationError, simulate};
use proptest::prelude::*;

const SCENARIOS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../scenarios");

/// What a number is replaced by: slips of a digit, of a sign, of a magnitude, and worse.
const NUMBERS: [&str; 16] = [
    "0", "1", "-1", "0.001", "2", "7.5", "12", "30", "99", "1000", "-40", "1e-9", "1e9", "1e308",
    "nan", "",
];

/// What a unit or word is replaced by.
const WORDS: [&str; 20] = [
    "mm",
    "m",
    "in",
    "K",
    "degC",
    "degF",
    "h",
    "min",
    "s",
    "W/m2K",
    "L/s",
    "cfm",
    "still",
    "given",
    "open",
    "closed",
    "soda-lime",
    "steady",
    "true",
    "kind",
];

/// One slip: where (as a fraction of the candidates) and what.
#[derive(Debug, Clone)]
enum Slip {
    Number(prop::sample::Index, &'static str),
    Word(prop::sample::Index, &'static str),
    LineLost(prop::sample::Index),
    LineTwice(prop::sample::Index),
    LinesExchanged(prop::sample::Index, prop::sample::Index),
    CharacterLost(prop::sample::Index),
}

fn slips() -> impl Strategy<Value = Vec<Slip>> {
    let place = any::<prop::sample::Index>;
    let number = prop::sample::select(NUMBERS.to_vec());
    let word = prop::sample::select(WORDS.to_vec());
    let slip = prop_oneof![
        8 => (place(), number).prop_map(|(at, by)| Slip::Number(at, by)),
        2 => (place(), word).prop_map(|(at, by)| Slip::Word(at, by)),
        2 => place().prop_map(Slip::LineLost),
        1 => place().prop_map(Slip::LineTwice),
        1 => (place(), place()).prop_map(|(a, b)| Slip::LinesExchanged(a, b)),
        1 => place().prop_map(Slip::CharacterLost),
    ];
    prop::collection::vec(slip, 1..3)
}

/// Byte ranges of the longest runs of characters of one kind.
fn runs(text: &str, belongs: fn(char) -> bool) -> Vec<std::ops::Range<usize>> {
    let mut runs: Vec<std::ops::Range<usize>> = vec![];
    for (at, character) in text.char_indices().filter(|&(_, c)| belongs(c)) {
        let end = at + character.len_utf8();
        match runs.last_mut().filter(|run| run.end == at) {
            Some(run) => run.end = end,
            None => runs.push(at..end),
        }
    }
    runs
}

fn slipped(text: &str, slip: &Slip) -> String {
    let replaced = |ranges: Vec<std::ops::Range<usize>>, at: &prop::sample::Index, by: &str| {
        let mut changed = text.to_owned();
        if !ranges.is_empty() {
            changed.replace_range(ranges[at.index(ranges.len())].clone(), by);
        }
        changed
    };
    let mut lines: Vec<&str> = text.lines().collect();
    match slip {
        Slip::Number(at, by) => {
            return replaced(runs(text, |c| c.is_ascii_digit() || c == '.'), at, by);
        }
        Slip::Word(at, by) => return replaced(runs(text, char::is_alphabetic), at, by),
        Slip::CharacterLost(at) => return replaced(runs(text, |_| true), at, ""),
        Slip::LineLost(at) if !lines.is_empty() => {
            lines.remove(at.index(lines.len()));
        }
        Slip::LineTwice(at) if !lines.is_empty() => {
            let at = at.index(lines.len());
            lines.insert(at, lines[at]);
        }
        Slip::LinesExchanged(a, b) if !lines.is_empty() => {
            let count = lines.len();
            lines.swap(a.index(count), b.index(count));
        }
        Slip::LineLost(_) | Slip::LineTwice(_) | Slip::LinesExchanged(..) => {}
    }
    lines.join("\n") + "\n"
}

fn changed(text: &str, slips: &[Slip]) -> String {
    // The comment on top is nobody's slip.
    let body: String =
        text.lines().filter(|line| !line.starts_with('#')).flat_map(|line| [line, "\n"]).collect();
    slips.iter().fold(body, |text, slip| slipped(&text, slip))
}

fn files(folder: &str, extension: &str) -> Vec<PathBuf> {
    let all = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> =
        all.filter(|path| path.extension().is_some_and(|e| e == extension)).collect();
    files.sort();
    assert!(files.len() >= 3, "{folder} holds {} files", files.len());
    files
}

/// Cools what was accepted; NaN and absurd temperatures are as bad as a panic.
fn cooled(scenario: &Scenario, text: &str) -> Result<(), TestCaseError> {
    let coarse =
        Resolution { radial_order: 3, axial_order: 3, tolerance: 5e-3, ..Resolution::default() };
    let night = match simulate(scenario, &coarse) {
        Ok(night) => night,
        // A shape without glass is the reader's to refuse.
        Err(error @ SimulationError::Shape(_)) => {
            return Err(TestCaseError::fail(format!("{error}\n{text}")));
        }
        Err(error) => return Err(TestCaseError::fail(format!("{error}\n{text}"))),
    };
    for row in &night.history {
        mirrors::assert_told(scenario, row, text)?;
        let mean = row.mean.celsius();
        prop_assert!((-100.0..100.0).contains(&mean), "a mean of {mean} °C\n{text}");
    }
    prop_assert!(night.energy.residual < 1e-8, "residual {:e}\n{text}", night.energy.residual);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_scenario_with_slips_is_refused_with_a_remedy_or_cooled(
        which in any::<prop::sample::Index>(), slips in slips()
    ) {
        let files = files(SCENARIOS, "toml");
        let text = changed(&fs::read_to_string(which.get(&files)).unwrap(), &slips);
        match parse("slip.toml", &text, Path::new(SCENARIOS), &[]) {
            Ok(scenario) => cooled(&scenario, &text)?,
            Err(error) => {
                prop_assert!(!error.faults.is_empty(), "refused without a reason\n{text}");
                for fault in &error.faults {
                    prop_assert!(fault.help.is_some(), "no remedy: {}\n{text}", fault.message);
                }
            }
        }
    }

    #[test]
    fn a_weather_file_with_slips_is_refused_with_a_remedy_or_cooled_through(
        which in any::<prop::sample::Index>(), slips in slips()
    ) {
        let weather = files(&format!("{SCENARIOS}/weather"), "csv");
        let text = changed(&fs::read_to_string(which.get(&weather)).unwrap(), &slips);
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("slip.csv"), &text).unwrap();
        let scenario = NIGHT.replace("START", start_of(&text));
        match parse("night.toml", &scenario, folder.path(), &[]) {
            Ok(scenario) => cooled(&scenario, &text)?,
            Err(error) => {
                for fault in &error.faults {
                    prop_assert!(fault.help.is_some(), "no remedy: {}\n{text}", fault.message);
                }
            }
        }
    }
}

const NIGHT: &str = r#"
[mirror]
diameter = "203 mm"
edge_thickness = "25 mm"
glass = "soda-lime"
[night]
start = "START"
duration = "6 h"
glass_temperature = "20 degC"
air = { kind = "file", path = "slip.csv" }
"#;

/// The clock of the first row, where there is one.
fn start_of(weather: &str) -> &str {
    let row = weather.lines().find(|line| line.starts_with(|c: char| c.is_ascii_digit()));
    let time = row.and_then(|row| row.split(',').next()).unwrap_or("20:00");
    let clock = time.rsplit(['T', ' ']).next().unwrap_or("20:00");
    if clock.len() >= 5 && clock.is_char_boundary(5) { &clock[..5] } else { "20:00" }
}

/// Without a slip every shipped file is accepted and cooled: the mutations start from good.
#[test]
fn every_shipped_scenario_is_accepted_and_cooled_on_the_coarse_grid() {
    for path in files(SCENARIOS, "toml") {
        let text = changed(&fs::read_to_string(&path).unwrap(), &[]);
        let scenario = parse("good.toml", &text, Path::new(SCENARIOS), &[])
            .unwrap_or_else(|error| panic!("{}: {:?}", path.display(), error.faults));
        cooled(&scenario, &text).unwrap();
    }
    for path in files(&format!("{SCENARIOS}/weather"), "csv") {
        let text = fs::read_to_string(&path).unwrap();
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("slip.csv"), &text).unwrap();
        let start = start_of(&text);
        let scenario = parse("n.toml", &NIGHT.replace("START", start), folder.path(), &[]);
        let scenario =
            scenario.unwrap_or_else(|error| panic!("{}: {:?}", path.display(), error.faults));
        cooled(&scenario, &text).unwrap();
    }
}
