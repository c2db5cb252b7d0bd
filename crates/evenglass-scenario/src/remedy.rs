//! What to write instead: the remedies of values that cannot be read or are out of range.

use evenglass_units::{Kind, UnitError, UnitFault, split_number};

use crate::keys::{Quantity, Range};
use crate::suggest::{choices, nearest, shown};

/// That a value has left its range, and to which side.
pub(crate) fn outside(key: &str, text: &str, far: &str) -> String {
    format!("`{key}` of `{}` is {far}", shown(text.trim()))
}

/// In which direction a quantity has left its range.
pub(crate) fn too_far(quantity: &Quantity, value: f64) -> &'static str {
    let high = value > quantity.range.highest;
    match (quantity.kind == Kind::TEMPERATURE, high) {
        (true, true) => "too warm",
        (true, false) => "too cold",
        (false, true) => "too large",
        (false, false) => "too small",
    }
}

/// The word that was meant, or all that are possible.
pub(crate) fn did_you_mean(word: &str, words: &[&str]) -> String {
    match nearest(word, words.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("write {}", choices(words.iter().copied())),
    }
}

/// What to write instead of a quantity out of its range.
pub(crate) fn range_help(text: &str, quantity: &Quantity) -> String {
    let number = split_number(text).filter(|(_, unit)| *unit == "K").map(|(number, _)| number);
    if let Some(number) = number.filter(|_| quantity.kind == Kind::TEMPERATURE)
        && number.parse::<f64>().is_ok_and(|degrees| degrees.abs() <= 60.0)
    {
        return format!("for degrees Celsius write \"{number} degC\"");
    }
    if quantity.kind == Kind::TEMPERATURE_RATE && !text.trim().starts_with(['-', '\u{2212}']) {
        return format!(
            "a fall is negative: write \"-{}\"; air that also rises is a table",
            shown(text.trim())
        );
    }
    format!("choose {}", quantity.range.words)
}

/// What to write instead of a quantity that cannot be read.
pub(crate) fn unit_help(error: &UnitError, text: &str, quantity: &Quantity) -> String {
    let example = format!("write it as \"{}\"", quantity.example);
    match &error.fault {
        UnitFault::UnknownUnit { symbol, .. } => {
            let near = quantity.kind.symbols().filter(|unit| unit.chars().count() > 1);
            nearest(symbol, near).map_or(example, |unit| {
                format!("did you mean \"{}\"?", text.trim().replace(symbol.as_str(), unit))
            })
        }
        UnitFault::WrongDimension { .. } | UnitFault::NoUnit { .. }
            if !has_own_examples(quantity.kind) =>
        {
            let remedy = error.remedy();
            let note = remedy.split_once(';').map_or(String::new(), |(_, note)| format!(";{note}"));
            match error.fault {
                UnitFault::NoUnit { .. } => format!("add the unit, as in \"{}\"", quantity.example),
                _ => format!("{example}{note}"),
            }
        }
        _ => error.remedy(),
    }
}

/// Whether the examples of the kind suit every key of it; a length may be a mirror's or a
/// surface error's.
fn has_own_examples(kind: Kind) -> bool {
    ![Kind::LENGTH, Kind::PRESSURE, Kind::ANGLE].contains(&kind)
}

/// What to write instead of a text where a bare number is wanted.
pub(crate) fn number_help(key: &str, text: &str, range: &Range) -> String {
    let text = text.trim();
    let number = text.trim_end_matches('%').trim();
    match number.parse::<f64>() {
        Ok(value) if text.ends_with('%') && value.is_finite() => {
            format!("write a fraction without quotes: {key} = {}", value / 100.0)
        }
        Ok(value) if range.contains(value) => format!("leave the quotes out: {key} = {number}"),
        _ => match text.strip_prefix("f/").map(|n| n.trim().parse::<f64>()) {
            Some(Ok(value)) if value.is_finite() => format!("write {key} = {value}"),
            _ => format!("write a number without quotes: {}", range.words),
        },
    }
}
