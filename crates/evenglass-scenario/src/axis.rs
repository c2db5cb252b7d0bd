//! The values a sweep goes through.

use std::collections::HashSet;

use evenglass_units::split_number;

use crate::fault::ScenarioError;
use crate::moment::ClockTime;
use crate::overrides::{read_key, split_outside, typed_fault};
use crate::suggest::shown;

/// A key and the values it takes in turn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Axis {
    /// Dotted path of the key.
    pub key: String,
    /// The values, as they would be typed after `--set KEY=`.
    pub values: Vec<String>,
}

/// More values than anyone waits for.
const MOST_VALUES: usize = 100_000;

const HELP: &str = "write it as 'back.film.coefficient=6 W/m2/K .. 24 W/m2/K : 50' (evenly spaced) or 'mirror.glass=soda-lime, borosilicate' (a list)";

/// Reads `KEY=FROM .. TO : COUNT`, evenly spaced with both ends, or `KEY=A, B, C`.
///
/// A comma within quotes, brackets or braces does not separate. Both ends of a
/// range have the same unit, or are clock times.
///
/// # Errors
/// If the key, the ends or the count cannot be read, a value comes more than once,
/// or there are more than 100000 values.
pub fn parse_axis(text: &str) -> Result<Axis, ScenarioError> {
    read(text).map_err(|(message, help)| typed_fault("--vary", text, message, help))
}

type Said = (String, String);

fn said(message: &str) -> Said {
    (message.to_owned(), HELP.to_owned())
}

fn read(text: &str) -> Result<Axis, Said> {
    let (key, values) =
        text.split_once('=').ok_or_else(|| said(&format!("`{}` has no `=`", shown(text))))?;
    let key = read_key(key)?;
    let values = match range_ends(values) {
        Some((from, rest)) => spaced(from.trim(), rest.trim())?,
        None => split_outside(values, ',').into_iter().map(|v| v.trim().to_owned()).collect(),
    };
    if values.iter().any(String::is_empty) {
        return Err(said("one of the values is empty"));
    }
    if values.len() > MOST_VALUES {
        return Err(said(&format!("{} values are more than {MOST_VALUES}", values.len())));
    }
    let mut seen = HashSet::new();
    if let Some(twice) = values.iter().find(|value| !seen.insert(value.as_str())) {
        let message = format!("the value `{}` comes more than once", shown(twice));
        return Err((message, "give every value once; each is a night of its own".to_owned()));
    }
    Ok(Axis { key, values })
}

/// What stands before and after `..`, if that is a range and not part of a text or path.
fn range_ends(values: &str) -> Option<(&str, &str)> {
    let plain = !values.trim_start().starts_with(['"', '\'', '[', '{']);
    let (from, to) = values.split_once("..").filter(|_| plain)?;
    let spaced = from.ends_with(' ') && to.starts_with(' ');
    (spaced || split_number(from).is_some()).then_some((from, to))
}

fn spaced(from: &str, rest: &str) -> Result<Vec<String>, Said> {
    // A clock time as the end has a colon of its own.
    let colons = from.matches(':').count() + 1;
    let (to, count) = rest
        .rsplit_once(':')
        .filter(|(to, _)| !to.trim().is_empty() && rest.matches(':').count() >= colons)
        .ok_or_else(|| said("the range has no number of values"))?;
    let to = to.trim();
    let count: usize = count
        .trim()
        .parse()
        .map_err(|_| said(&format!("`{}` is not a number of values", shown(count.trim()))))?;
    if count < 2 {
        return Err(said("a range has at least 2 values, its ends"));
    }
    if count > MOST_VALUES {
        return Err(said(&format!("{count} values are more than {MOST_VALUES}")));
    }
    if let (Some(from), Some(to)) = (ClockTime::read(from), ClockTime::read(to)) {
        return Ok(clock_values(from, to, count));
    }
    let (Some((first, unit)), Some((last, last_unit))) = (split_number(from), split_number(to))
    else {
        return Err(said(&format!(
            "`{} .. {}` has an end that is no number",
            shown(from),
            shown(to)
        )));
    };
    if unit != last_unit {
        let message =
            format!("the ends `{}` and `{}` do not have the same unit", shown(from), shown(to));
        return Err((
            message,
            "write both ends in the same unit, for example 6 W/m2/K .. 24 W/m2/K : 50".to_owned(),
        ));
    }
    let number = |text: &str| {
        let plain = text.replace(['\u{2212}', '\u{2013}', '\u{2010}', '\u{2011}'], "-");
        plain.parse::<f64>().ok().filter(|value| value.is_finite())
    };
    let (Some(first), Some(last)) = (number(first), number(last)) else {
        return Err(said(&format!(
            "`{} .. {}` has an end that is no number",
            shown(from),
            shown(to)
        )));
    };
    let digits = (1..count - 1).map(|index| with_unit(between(first, last, (index, count)), unit));
    Ok(std::iter::once(from.to_owned()).chain(digits).chain([to.to_owned()]).collect())
}

/// Value number `index` of `count`, rounded to what a reader would write.
fn between(first: f64, last: f64, (index, count): (usize, usize)) -> f64 {
    #[allow(clippy::cast_precision_loss, reason = "at most 100000 values")]
    let share = index as f64 / (count - 1) as f64;
    let value = first * (1.0 - share) + last * share;
    let largest = first.abs().max(last.abs());
    if largest == 0.0 {
        return 0.0;
    }
    // Ten digits of the larger end: far below every tolerance, and free of 0.30000000000000004.
    #[allow(clippy::cast_possible_truncation, reason = "the exponent of an f64 is below 310")]
    let decimals = 9 - largest.log10().floor() as i32;
    let tidy = format!("{value:.*}", usize::try_from(decimals.clamp(0, 300)).unwrap_or(0));
    tidy.parse().unwrap_or(value)
}

fn with_unit(value: f64, unit: &str) -> String {
    let value = if value == 0.0 { 0.0 } else { value };
    let far = value != 0.0 && !(1e-5..1e15).contains(&value.abs());
    let number = if far { format!("{value:e}") } else { format!("{value}") };
    match unit.chars().next() {
        None => number,
        Some('"' | '″' | '°') => format!("{number}{unit}"),
        Some(_) => format!("{number} {unit}"),
    }
}

fn clock_values(from: ClockTime, to: ClockTime, count: usize) -> Vec<String> {
    let start = from.seconds();
    let length = (to.seconds() - start).rem_euclid(86_400.0);
    (0..count)
        .map(|index| {
            let after = between(0.0, length, (index, count)).round();
            ClockTime::from_seconds(start + after).to_string()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(text: &str) -> Vec<String> {
        parse_axis(text).unwrap_or_else(|e| panic!("{text}: {e}")).values
    }

    fn message(text: &str) -> String {
        parse_axis(text).unwrap_err().faults.remove(0).message
    }

    #[test]
    fn a_range_is_evenly_spaced_with_both_ends_and_tidy_digits() {
        let axis = parse_axis("back.film.coefficient=6 W/m2/K .. 24 W/m2/K : 50").unwrap();
        assert_eq!(axis.key, "back.film.coefficient");
        assert_eq!(axis.values.len(), 50);
        assert_eq!(axis.values[0], "6 W/m2/K");
        assert_eq!(axis.values[49], "24 W/m2/K");
        assert_eq!(values("a=0 .. 1 : 11")[3], "0.3");
        assert_eq!(values("a=0.1 mm .. 0.7 mm:7")[2], "0.3 mm");
        assert_eq!(values("a=-1.5 K/h .. 1.5 K/h : 3"), ["-1.5 K/h", "0 K/h", "1.5 K/h"]);
        assert_eq!(values("a=1e-7 /K .. 3e-7 /K : 3")[1], "2e-7 /K");
        assert_eq!(values("a=24\" .. 26\" : 3"), ["24\"", "25\"", "26\""]);
    }

    #[test]
    fn clock_times_go_past_midnight() {
        assert_eq!(values("a=23:30 .. 00:30 : 3"), ["23:30", "00:00", "00:30"]);
    }

    #[test]
    fn a_comma_inside_brackets_does_not_split_a_list() {
        assert_eq!(values("mirror.glass=soda-lime, borosilicate"), ["soda-lime", "borosilicate"]);
        assert_eq!(values("night.air.path=../a.csv, ../b.csv"), ["../a.csv", "../b.csv"]);
        assert_eq!(
            values("a={ x = 1, y = [1, 2] }, \"b, c\", d"),
            ["{ x = 1, y = [1, 2] }", "\"b, c\"", "d"]
        );
    }

    #[test]
    fn what_cannot_be_spaced_is_said() {
        assert_eq!(message("back"), "`back` has no `=`");
        assert_eq!(message("a=1 mm .. 2 mm"), "the range has no number of values");
        assert_eq!(message("a=19:00 .. 21:00"), "the range has no number of values");
        assert_eq!(message("a=1 mm .. 2 mm : many"), "`many` is not a number of values");
        assert_eq!(message("a=1 mm .. 2 mm : 1"), "a range has at least 2 values, its ends");
        assert_eq!(message("a=1 .. 2 : 100001"), "100001 values are more than 100000");
        assert_eq!(
            message("a=1 cm .. 2 in : 3"),
            "the ends `1 cm` and `2 in` do not have the same unit"
        );
        assert_eq!(message("a=x .. y : 3"), "`x .. y` has an end that is no number");
        assert_eq!(message("a=b,,c"), "one of the values is empty");
    }

    #[test]
    fn a_value_given_twice_is_refused_for_it_would_be_computed_twice() {
        assert_eq!(message("a=6 mm, 8 mm, 6 mm"), "the value `6 mm` comes more than once");
        assert_eq!(message("a=3 .. 3 : 4"), "the value `3` comes more than once");
        assert_eq!(message("a=20:00 .. 20:00 : 2"), "the value `20:00` comes more than once");
    }
}
