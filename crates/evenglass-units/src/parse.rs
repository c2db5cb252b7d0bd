//! Text to a number in SI: "24 in", "60 cfm", "-1.5 K/h", "8 W/m2K".
//!
//! A text is a number and a unit, with or without a space between. A unit is a
//! product of symbols with exponents (`m2`, `m^2`, `m²`, `K-1`); a slash binds the
//! next symbol only, so that `W/m2/K` is W m⁻² K⁻¹, except that symbols glued
//! together behind a slash stay together: `W/m2K` is `W/(m2 K)`.

use crate::error::{UnitError, UnitFault, shown};
use crate::kind::{Kind, Scale, measured};
use crate::spelling::{Dimensions, Size, TemperatureScale, size, temperature_scale};

/// Longest text looked at; anything longer is no quantity.
const LONGEST_TEXT: usize = 200;
/// Parentheses inside parentheses.
const DEEPEST: usize = 8;
/// Its parenthesis holds a weighting, no ampere.
const WEIGHTED: &str = "dB(A)";
/// Largest exponent of one symbol or parenthesis.
const LARGEST_EXPONENT: i32 = 9;

/// The number in SI that `text` writes for a quantity of this kind.
///
/// # Errors
/// If the number or its unit is missing, cannot be read, measures something
/// else, or is not finite once in SI.
pub fn parse(text: &str, kind: Kind) -> Result<f64, UnitError> {
    read(text, kind).map_err(|fault| UnitError { fault, kind })
}

/// Splits `text` into its leading number and what follows, both as written.
///
/// The second part is trimmed. `None` if the text does not begin with a number.
#[must_use]
pub fn split_number(text: &str) -> Option<(&str, &str)> {
    let text = text.trim();
    let length = number_length(text)?;
    Some((&text[..length], text[length..].trim()))
}

fn read(text: &str, kind: Kind) -> Result<f64, UnitFault> {
    if text.trim().is_empty() {
        return Err(UnitFault::Empty);
    }
    if text.len() > LONGEST_TEXT {
        return Err(UnitFault::Malformed { text: shown(text) });
    }
    if kind.scale() == Scale::Sum
        && let Some(seconds) = sum_of_parts(text)
    {
        return finite(seconds, text);
    }
    let (number, unit) = split_number(text).ok_or_else(|| no_number(text))?;
    let value = to_number(number, text)?;
    check_start_of_unit(unit, text)?;
    if kind.scale() == Scale::Shifted {
        if let Some(scale) = temperature_scale(&joined_degrees(unit)) {
            return absolute(value, scale, text);
        }
    } else if kind.scale() == Scale::Arc
        && let Some(times) = arc_mark(unit)
    {
        return finite(value * std::f64::consts::PI / times, text);
    }
    let size = whole_unit(unit, text)?;
    if size.dimensions != kind.dimensions() || kind.scale() == Scale::Shifted {
        let measured = measured(size.dimensions).unwrap_or("something else");
        return Err(UnitFault::WrongDimension { text: shown(text), measured });
    }
    finite(value * size.times / size.over, text)
}

/// "-1.5e3" at the start, in bytes; `None` without a digit.
fn number_length(text: &str) -> Option<usize> {
    let sign = text.chars().next().filter(|c| is_sign(*c)).map_or(0, char::len_utf8);
    let mut length = sign + digits(&text[sign..]);
    let mut any = length > sign;
    if text[length..].starts_with('.') {
        let after = digits(&text[length + 1..]);
        any |= after > 0;
        length += 1 + after;
    }
    if !any {
        return None;
    }
    let rest = &text[length..];
    if rest.starts_with(['e', 'E']) {
        let sign = rest[1..].chars().next().filter(|c| is_sign(*c)).map_or(0, char::len_utf8);
        let after = digits(&rest[1 + sign..]);
        if after > 0 {
            length += 1 + sign + after;
        }
    }
    Some(length)
}

fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

/// Plus, hyphen, and the minus signs that word processors make of it.
fn is_sign(c: char) -> bool {
    matches!(c, '+' | '-' | '\u{2212}' | '\u{2013}' | '\u{2010}' | '\u{2011}')
}

fn to_number(number: &str, text: &str) -> Result<f64, UnitFault> {
    let plain: String =
        number.chars().map(|c| if is_sign(c) && c != '+' { '-' } else { c }).collect();
    let value: f64 = plain.parse().map_err(|_| no_number(text))?;
    finite(value, text)
}

fn finite(value: f64, text: &str) -> Result<f64, UnitFault> {
    if value.is_finite() { Ok(value) } else { Err(UnitFault::TooLarge { text: shown(text) }) }
}

fn no_number(text: &str) -> UnitFault {
    let bare = text.trim().trim_start_matches(is_sign).to_ascii_lowercase();
    if bare.starts_with("inf") || bare.starts_with("nan") {
        UnitFault::NotFinite { text: shown(text) }
    } else {
        UnitFault::NoNumber { text: shown(text) }
    }
}

/// Finds the habits of writing numbers that would otherwise look like broken units.
fn check_start_of_unit(unit: &str, text: &str) -> Result<(), UnitFault> {
    let mut chars = unit.chars();
    match (chars.next(), chars.next()) {
        (None, _) => Err(UnitFault::NoUnit { text: shown(text) }),
        (Some(',' | '\''), Some(c)) if c.is_ascii_digit() => {
            Err(UnitFault::Comma { text: shown(text) })
        }
        // "9e-6 1/K" is one number and the unit 1/K.
        (Some('1'), Some('/')) if !chars.next().is_some_and(|c| c.is_ascii_digit()) => Ok(()),
        (Some('/'), Some(c)) if c.is_ascii_digit() => {
            Err(UnitFault::SecondNumber { text: shown(text) })
        }
        (Some(c), _) if c.is_ascii_digit() => Err(UnitFault::SecondNumber { text: shown(text) }),
        _ => Ok(()),
    }
}

fn absolute(value: f64, scale: TemperatureScale, text: &str) -> Result<f64, UnitFault> {
    const CELSIUS_ZERO: f64 = crate::quantity::CELSIUS_ZERO;
    let kelvin = match scale {
        TemperatureScale::Kelvin => value,
        TemperatureScale::Celsius => value + CELSIUS_ZERO,
        TemperatureScale::Fahrenheit => (value - 32.0) * 5.0 / 9.0 + CELSIUS_ZERO,
    };
    if kelvin < 0.0 {
        return Err(UnitFault::BelowAbsoluteZero { text: shown(text) });
    }
    finite(kelvin, text)
}

/// Divisor of π for the marks of minutes and seconds of arc.
fn arc_mark(unit: &str) -> Option<f64> {
    match unit {
        "\"" | "″" | "”" | "''" => Some(180.0 * 3600.0),
        "'" | "′" => Some(180.0 * 60.0),
        _ => None,
    }
}

/// "1 h 30 min" in seconds; `None` unless every part is a number and a unit of time,
/// from the largest unit to the smallest, with at most one sign in front.
fn sum_of_parts(text: &str) -> Option<f64> {
    let mut rest = text.trim();
    let mut total = 0.0;
    let mut previous = f64::INFINITY;
    let negative = rest.starts_with(|c| is_sign(c) && c != '+');
    while !rest.is_empty() {
        if rest.starts_with(is_sign) && previous.is_finite() {
            return None;
        }
        let length = number_length(rest)?;
        let value = to_number(&rest[..length], text).ok()?;
        let after = rest[length..].trim_start();
        let end = after.find(|c: char| !c.is_alphabetic()).unwrap_or(after.len());
        let unit = size(&after[..end]).filter(|unit| unit.dimensions == [0, 0, 1, 0, 0, 0, 0])?;
        let seconds = unit.times / unit.over;
        if seconds >= previous {
            return None;
        }
        previous = seconds;
        total += value.abs() * unit.times / unit.over;
        rest = after[end..].trim_start_matches([',', ' ', '\t']);
    }
    Some(if negative { -total } else { total })
}

fn whole_unit(unit: &str, text: &str) -> Result<Size, UnitFault> {
    let mut reader = UnitReader { rest: unit, text };
    let size = reader.product(0)?;
    if reader.rest.is_empty() && size.times.is_finite() && size.over.is_finite() {
        Ok(size)
    } else {
        Err(reader.malformed())
    }
}

/// "deg C" and "degrees Celsius" as one symbol.
fn joined_degrees(unit: &str) -> String {
    for word in ["degrees", "degree", "deg", "°", "º"] {
        if let Some(rest) = unit.strip_prefix(word) {
            let rest = rest.trim_start();
            let letter = match rest {
                "C" | "c" | "Celsius" | "celsius" => "°C",
                "F" | "f" | "Fahrenheit" | "fahrenheit" => "°F",
                "K" => "K",
                _ => continue,
            };
            return letter.to_owned();
        }
    }
    unit.to_owned()
}

const ONE: Size = Size { times: 1.0, over: 1.0, dimensions: [0; 7] };

struct UnitReader<'a> {
    rest: &'a str,
    text: &'a str,
}

impl UnitReader<'_> {
    fn malformed(&self) -> UnitFault {
        UnitFault::Malformed { text: shown(self.text) }
    }

    /// Factors up to the end or a closing parenthesis.
    fn product(&mut self, depth: usize) -> Result<Size, UnitFault> {
        let mut total = ONE;
        let mut first = true;
        loop {
            self.rest = self.rest.trim_start();
            if self.rest.is_empty() || self.rest.starts_with(')') {
                return if first { Err(self.malformed()) } else { Ok(total) };
            }
            let divides = self.operator(first);
            self.rest = self.rest.trim_start();
            let factor = self.factor(depth)?;
            total = if divides { times(total, power(factor, -1)) } else { times(total, factor) };
            // Glued symbols behind a slash stay below it: W/m2K.
            while divides && self.at_symbol() {
                total = times(total, power(self.factor(depth)?, -1));
            }
            first = false;
        }
    }

    /// Consumes an operator between factors and says whether it divides.
    fn operator(&mut self, first: bool) -> bool {
        if first && let Some(rest) = self.rest.strip_prefix("1/") {
            self.rest = rest;
            return true;
        }
        for sign in ["/", "per ", "*", "·", "⋅", "×", "."] {
            if let Some(rest) = self.rest.strip_prefix(sign)
                && (!first || sign == "/" || sign == "per ")
            {
                self.rest = rest;
                return sign == "/" || sign == "per ";
            }
        }
        false
    }

    fn at_symbol(&self) -> bool {
        self.rest.starts_with(|c: char| c.is_alphabetic() || c == '°')
    }

    fn factor(&mut self, depth: usize) -> Result<Size, UnitFault> {
        let base = if let Some(rest) = self.rest.strip_prefix('(') {
            if depth == DEEPEST {
                return Err(self.malformed());
            }
            self.rest = rest;
            let inner = self.product(depth + 1)?;
            self.rest = self.rest.strip_prefix(')').ok_or_else(|| self.malformed())?;
            inner
        } else {
            self.symbol()?
        };
        let exponent = self.exponent()?;
        Ok(power(base, exponent))
    }

    fn symbol(&mut self) -> Result<Size, UnitFault> {
        let length = symbol_length(self.rest);
        if length == 0 {
            return Err(self.malformed());
        }
        let (symbol, rest) = self.rest.split_at(length);
        let below_slash = self.text[..self.offset()].trim_end().ends_with('/');
        self.rest = rest;
        glued(symbol, below_slash)
            .ok_or_else(|| UnitFault::UnknownUnit { text: shown(self.text), symbol: shown(symbol) })
    }

    /// Where `rest` begins in `text`: it is always a tail of the trimmed text.
    fn offset(&self) -> usize {
        self.text.trim_end().len().saturating_sub(self.rest.len())
    }

    fn exponent(&mut self) -> Result<i32, UnitFault> {
        let (text, length) = written_exponent(self.rest);
        if length == 0 {
            return if self.rest.starts_with('^') { Err(self.malformed()) } else { Ok(1) };
        }
        self.rest = &self.rest[length..];
        text.parse::<i32>()
            .ok()
            .filter(|exponent| exponent.abs() <= LARGEST_EXPONENT && *exponent != 0)
            .ok_or_else(|| self.malformed())
    }
}

/// The exponent at the start of `rest` in plain digits, and its length in bytes there.
fn written_exponent(rest: &str) -> (String, usize) {
    const RAISED: &str = "⁰¹²³⁴⁵⁶⁷⁸⁹";
    let mut plain = String::new();
    let mut length = usize::from(rest.starts_with('^'));
    let mut raised = false;
    for c in rest[length..].chars() {
        let digit = RAISED.chars().position(|r| r == c);
        match (c, digit) {
            (_, Some(digit)) => {
                raised = true;
                plain.push_str(&digit.to_string());
            }
            ('⁻', _) if plain.is_empty() => plain.push('-'),
            (c, _) if c.is_ascii_digit() && !raised => plain.push(c),
            (c, _) if is_sign(c) && plain.is_empty() => {
                plain.push(if c == '+' { '+' } else { '-' });
            }
            _ => break,
        }
        length += c.len_utf8();
    }
    if plain.ends_with(|c: char| c.is_ascii_digit()) { (plain, length) } else { (String::new(), 0) }
}

/// Bytes of the symbol at the start of `rest`: letters, a degree sign with its letter, or a mark.
fn symbol_length(rest: &str) -> usize {
    let Some(first) = rest.chars().next() else { return 0 };
    if rest.starts_with(WEIGHTED) {
        return WEIGHTED.len();
    }
    if matches!(first, '"' | '\'' | '″' | '”' | '′' | '℃' | '℉') {
        return first.len_utf8();
    }
    let letters = |text: &str| -> usize {
        text.chars().take_while(|c| c.is_alphabetic() && *c != 'º').map(char::len_utf8).sum()
    };
    let word = match first {
        '°' | 'º' => first.len_utf8(),
        _ => letters(rest),
    };
    if matches!(&rest[..word], "°" | "º" | "deg" | "degree" | "degrees") {
        let gap = rest[word..].len() - rest[word..].trim_start().len();
        let scale = letters(&rest[word + gap..]);
        if matches!(&rest[word + gap..][..scale], "C" | "F" | "K") {
            return word + gap + scale;
        }
    }
    // The 2 of water is no exponent: `mmH2O`.
    let water = ["2O", "₂O"].into_iter().find(|tail| rest[word..].starts_with(tail));
    match water {
        Some(tail) if rest[..word].ends_with('H') => word + tail.len(),
        _ => word,
    }
}

/// A symbol, or a symbol with kelvin glued to it behind a slash: `J/kgK`, `W/mK`.
fn glued(symbol: &str, below_slash: bool) -> Option<Size> {
    let joined = joined_degrees(symbol);
    if let Some(found) = size(&joined) {
        return Some(found);
    }
    let head = joined.strip_suffix('K').filter(|_| below_slash)?;
    Some(times(size(head)?, size("K")?))
}

fn times(a: Size, b: Size) -> Size {
    let mut dimensions: Dimensions = a.dimensions;
    for (sum, more) in dimensions.iter_mut().zip(b.dimensions) {
        *sum = sum.saturating_add(more);
    }
    Size { times: a.times * b.times, over: a.over * b.over, dimensions }
}

fn power(base: Size, exponent: i32) -> Size {
    let (times, over) =
        if exponent < 0 { (base.over, base.times) } else { (base.times, base.over) };
    let count = exponent.abs();
    Size {
        times: times.powi(count),
        over: over.powi(count),
        dimensions: base.dimensions.map(|d| d.saturating_mul(exponent)),
    }
}
