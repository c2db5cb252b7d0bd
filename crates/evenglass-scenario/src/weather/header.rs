//! The first line of a weather file: which columns there are, in which units.

use std::ops::Range;

use evenglass_units::Temperature;

use super::table::{Cell, Text};
use crate::fault::Fault;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Quantity {
    /// Duration, clock time or date and time.
    Time,
    /// Air temperature.
    Air,
    /// Dew point.
    DewPoint,
    /// Relative humidity over liquid water.
    RelativeHumidity,
    /// Wind speed.
    Wind,
    /// Fraction of the sky under cloud.
    Cloud,
    /// Air pressure.
    Pressure,
}

impl Quantity {
    const ALL: [Self; 7] = [
        Self::Time,
        Self::Air,
        Self::DewPoint,
        Self::RelativeHumidity,
        Self::Wind,
        Self::Cloud,
        Self::Pressure,
    ];

    /// The name a header writes.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Time => "time",
            Self::Air => "air",
            Self::DewPoint => "dew_point",
            Self::RelativeHumidity => "relative_humidity",
            Self::Wind => "wind",
            Self::Cloud => "cloud",
            Self::Pressure => "pressure",
        }
    }

    fn units(self) -> &'static [Unit] {
        match self {
            Self::Time => &[],
            Self::Air | Self::DewPoint => &[Unit::DegC, Unit::DegF],
            Self::RelativeHumidity => &[Unit::Percent, Unit::One],
            Self::Wind => &[Unit::MetrePerSecond, Unit::KmPerHour, Unit::Mph, Unit::Knot],
            Self::Cloud => &[Unit::Tenths, Unit::Okta, Unit::One],
            Self::Pressure => &[Unit::HectoPascal, Unit::InchOfMercury],
        }
    }

    /// Every way to head this column, for a remedy: "`air [degC]` or `air [degF]`".
    fn spellings(self) -> String {
        let spelled: Vec<String> = self
            .units()
            .iter()
            .map(|unit| format!("`{} [{}]`", self.name(), unit.symbol()))
            .collect();
        match spelled.split_last() {
            None => format!("`{}`", self.name()),
            Some((last, [])) => last.clone(),
            Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        }
    }
}

/// Unit of a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    DegC,
    DegF,
    Percent,
    One,
    MetrePerSecond,
    KmPerHour,
    Mph,
    Knot,
    Tenths,
    Okta,
    HectoPascal,
    InchOfMercury,
}

impl Unit {
    /// As written between the brackets.
    pub(super) fn symbol(self) -> &'static str {
        match self {
            Self::DegC => "degC",
            Self::DegF => "degF",
            Self::Percent => "%",
            Self::One => "1",
            Self::MetrePerSecond => "m/s",
            Self::KmPerHour => "km/h",
            Self::Mph => "mph",
            Self::Knot => "kn",
            Self::Tenths => "tenths",
            Self::Okta => "okta",
            Self::HectoPascal => "hPa",
            Self::InchOfMercury => "inHg",
        }
    }

    /// A number in this unit in SI: K, m/s, Pa or a fraction.
    ///
    /// # Source
    /// A. Thompson and B. N. Taylor, *Guide for the Use of the International
    /// System of Units*, NIST Special Publication 811 (2008), appendix B: mile
    /// 1609.344 m, nautical mile 1852 m, conventional inch of mercury
    /// 3386.389 Pa (factors recalled from memory; the first two are exact).
    pub(super) fn to_si(self, number: f64) -> f64 {
        match self {
            Self::DegC => Temperature::from_celsius(number).kelvin(),
            Self::DegF => Temperature::from_celsius((number - 32.0) / 1.8).kelvin(),
            Self::One | Self::MetrePerSecond => number,
            Self::Percent => number / 100.0,
            Self::KmPerHour => number / 3.6,
            Self::Mph => number * 0.447_04,
            Self::Knot => number * 1852.0 / 3600.0,
            Self::Tenths => number / 10.0,
            Self::Okta => number / 8.0,
            Self::HectoPascal => number * 100.0,
            Self::InchOfMercury => number * 3386.389,
        }
    }
}

/// A column with its unit; `time` has none.
#[derive(Debug, Clone, Copy)]
pub(super) struct Column {
    pub(super) quantity: Quantity,
    pub(super) unit: Option<Unit>,
}

/// Reads the header cells, or says everything that is wrong with them.
pub(super) fn read(text: &Text, cells: &[Cell<'_>]) -> Result<Vec<Column>, Vec<Fault>> {
    let mut faults = Vec::new();
    let mut columns: Vec<Column> = Vec::new();
    for cell in cells {
        match column(text, cell) {
            Ok(found) if columns.iter().any(|c| c.quantity == found.quantity) => {
                faults.push(text.fault(
                    "weather::header",
                    format!("the column `{}` stands twice", found.quantity.name()),
                    "keep one of the two",
                    cell.span.clone(),
                ));
            }
            Ok(found) => columns.push(found),
            Err(fault) => faults.push(fault),
        }
    }
    let line = cells.first().map_or(0, |c| c.span.start)..cells.last().map_or(0, |c| c.span.end);
    if faults.is_empty() {
        faults.extend(combination_faults(text, &columns, &line));
    }
    if faults.is_empty() { Ok(columns) } else { Err(faults) }
}

fn combination_faults(text: &Text, columns: &[Column], line: &Range<usize>) -> Vec<Fault> {
    let has = |quantity| columns.iter().any(|c| c.quantity == quantity);
    let mut faults = Vec::new();
    for needed in [Quantity::Time, Quantity::Air] {
        if !has(needed) {
            faults.push(text.fault(
                "weather::header",
                format!("there is no column `{}`", needed.name()),
                format!("head one column {}", needed.spellings()),
                line.clone(),
            ));
        }
    }
    if has(Quantity::DewPoint) && has(Quantity::RelativeHumidity) {
        faults.push(text.fault(
            "weather::header",
            "`dew_point` and `relative_humidity` say the same thing twice".to_owned(),
            "keep the one that was measured",
            line.clone(),
        ));
    }
    faults
}

fn column(text: &Text, cell: &Cell<'_>) -> Result<Column, Fault> {
    let header = |message: String, help: String| {
        text.fault("weather::header", message, help, cell.span.clone())
    };
    let written = cell.text;
    if written.contains(';') || written.contains('\t') {
        return Err(header(
            "the header is separated by semicolons or tabs".to_owned(),
            "separate columns with commas and write decimals with a point".to_owned(),
        ));
    }
    let (name, unit) = split(written)
        .ok_or_else(|| header(format!("`{written}` is not a column header"), known_columns()))?;
    let Some(quantity) = Quantity::ALL.into_iter().find(|q| q.name() == name) else {
        return Err(header(format!("unknown column `{name}`"), nearest(name)));
    };
    let remedy = || format!("write {}", quantity.spellings());
    match (unit, quantity) {
        (None, Quantity::Time) => Ok(Column { quantity, unit: None }),
        (Some(_), Quantity::Time) => Err(header(
            "`time` takes no unit in its header".to_owned(),
            "head it `time` and write the unit in each cell: `1.5 h`, or clock times: `22:30`"
                .to_owned(),
        )),
        (None, _) => Err(header(format!("the column `{name}` has no unit"), remedy())),
        (Some(symbol), _) => quantity
            .units()
            .iter()
            .find(|u| u.symbol() == symbol)
            .map(|&unit| Column { quantity, unit: Some(unit) })
            .ok_or_else(|| header(format!("`{symbol}` is not a unit of `{name}`"), remedy())),
    }
}

/// "air [degC]" in two; `None` where the brackets do not match.
fn split(header: &str) -> Option<(&str, Option<&str>)> {
    match header.split_once('[') {
        None if header.contains(']') || header.is_empty() => None,
        None => Some((header.trim(), None)),
        Some((name, rest)) => {
            let unit = rest.strip_suffix(']')?;
            (!unit.contains(['[', ']'])).then_some((name.trim(), Some(unit.trim())))
        }
    }
}

fn known_columns() -> String {
    let names: Vec<String> =
        Quantity::ALL.iter().map(|quantity| format!("`{}`", quantity.name())).collect();
    format!("known columns: {}", names.join(", "))
}

/// Suggests the closest known column, or lists them all.
fn nearest(name: &str) -> String {
    /// Below this similarity a suggestion confuses more than it helps.
    const ALIKE: f64 = 0.75;
    let lower = name.to_lowercase();
    let meant = match lower.as_str() {
        "clock" | "date" | "datetime" | "hour" | "timestamp" => Some(Quantity::Time),
        "temperature" | "temp" => Some(Quantity::Air),
        "humidity" | "rh" => Some(Quantity::RelativeHumidity),
        _ => Quantity::ALL
            .into_iter()
            .map(|quantity| (strsim::jaro_winkler(&lower, quantity.name()), quantity))
            .filter(|(similarity, _)| *similarity > ALIKE)
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, quantity)| quantity),
    };
    meant.map_or_else(
        || format!("remove it; {}", known_columns()),
        |quantity| format!("did you mean {}?", quantity.spellings()),
    )
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn each_unit_becomes_si() {
        // Fixed points and definitions, not values computed here.
        assert_relative_eq!(Unit::DegF.to_si(212.0), 373.15, max_relative = 1e-12);
        assert_relative_eq!(Unit::DegF.to_si(-40.0), 233.15, max_relative = 1e-12);
        assert_relative_eq!(Unit::DegC.to_si(0.0), 273.15, max_relative = 1e-12);
        assert_relative_eq!(Unit::KmPerHour.to_si(36.0), 10.0, max_relative = 1e-12);
        assert_relative_eq!(Unit::Mph.to_si(1.0), 1609.344 / 3600.0, max_relative = 1e-12);
        assert_relative_eq!(Unit::Knot.to_si(3.6), 1.852, max_relative = 1e-12);
        assert_relative_eq!(Unit::Okta.to_si(4.0), 0.5, max_relative = 1e-12);
        assert_relative_eq!(Unit::Tenths.to_si(4.0), 0.4, max_relative = 1e-12);
        assert_relative_eq!(Unit::Percent.to_si(85.0), 0.85, max_relative = 1e-12);
        assert_relative_eq!(Unit::HectoPascal.to_si(1013.25), 101_325.0, max_relative = 1e-12);
        // 29.92 inHg is aviation's name for the standard atmosphere, 101 325 Pa.
        assert_relative_eq!(Unit::InchOfMercury.to_si(29.92), 101_325.0, max_relative = 1e-4);
    }
}
