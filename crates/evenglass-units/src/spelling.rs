//! Every spelling of a unit this program reads, with its size.
//!
//! A size is kept as a numerator and a divisor, so that "406 mm" is 406 / 1000
//! and "24 in" is 24 × 254 / 10000, each rounded once. The inch, foot, mile,
//! pound and nautical mile are exact by definition (international yard and pound
//! agreement of 1959; nautical mile of 1929); the conventional inch of
//! mercury is 3386.389 Pa (recalled from memory, the 0 °C column). Fans are sold in
//! columns of conventional water, 1000 kg/m³ under the standard fall of 9.80665 m/s².

/// Exponents of metre, kilogram, second, kelvin, radian, ampere and decibel.
pub(crate) type Dimensions = [i32; 7];

/// Size of a unit in SI: `times / over`, with its dimensions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Size {
    pub(crate) times: f64,
    pub(crate) over: f64,
    pub(crate) dimensions: Dimensions,
}

const LENGTH: Dimensions = [1, 0, 0, 0, 0, 0, 0];
const VOLUME: Dimensions = [3, 0, 0, 0, 0, 0, 0];
const MASS: Dimensions = [0, 1, 0, 0, 0, 0, 0];
const TIME: Dimensions = [0, 0, 1, 0, 0, 0, 0];
const KELVIN: Dimensions = [0, 0, 0, 1, 0, 0, 0];
const ANGLE: Dimensions = [0, 0, 0, 0, 1, 0, 0];
const SPEED: Dimensions = [1, 0, -1, 0, 0, 0, 0];
const FLOW: Dimensions = [3, 0, -1, 0, 0, 0, 0];
const PRESSURE: Dimensions = [-1, 1, -2, 0, 0, 0, 0];
const ENERGY: Dimensions = [2, 1, -2, 0, 0, 0, 0];
const POWER: Dimensions = [2, 1, -3, 0, 0, 0, 0];
const VOLTAGE: Dimensions = [2, 1, -3, 0, 0, -1, 0];
const CURRENT: Dimensions = [0, 0, 0, 0, 0, 1, 0];
const LEVEL: Dimensions = [0, 0, 0, 0, 0, 0, 1];
/// Pressure of a column per its height: "2.5 mm H2O".
const WATER: Dimensions = [-2, 1, -2, 0, 0, 0, 0];
const FORCE: Dimensions = [1, 1, -2, 0, 0, 0, 0];

const PI: f64 = std::f64::consts::PI;
/// A cubic foot over the power of ten that makes it 3048³.
const FOOT_CUBED: f64 = 3048.0 * 3048.0 * 3048.0;

type Row = (&'static str, f64, f64, Dimensions);

/// Spellings other than those of a temperature scale.
const TABLE: &[Row] = &[
    ("m", 1.0, 1.0, LENGTH),
    ("metre", 1.0, 1.0, LENGTH),
    ("metres", 1.0, 1.0, LENGTH),
    ("meter", 1.0, 1.0, LENGTH),
    ("meters", 1.0, 1.0, LENGTH),
    ("dm", 1.0, 10.0, LENGTH),
    ("cm", 1.0, 100.0, LENGTH),
    ("mm", 1.0, 1e3, LENGTH),
    ("um", 1.0, 1e6, LENGTH),
    ("µm", 1.0, 1e6, LENGTH),
    ("μm", 1.0, 1e6, LENGTH),
    ("nm", 1.0, 1e9, LENGTH),
    ("km", 1e3, 1.0, LENGTH),
    ("in", 254.0, 1e4, LENGTH),
    ("inch", 254.0, 1e4, LENGTH),
    ("inches", 254.0, 1e4, LENGTH),
    ("\"", 254.0, 1e4, LENGTH),
    ("″", 254.0, 1e4, LENGTH),
    ("”", 254.0, 1e4, LENGTH),
    ("ft", 3048.0, 1e4, LENGTH),
    ("foot", 3048.0, 1e4, LENGTH),
    ("feet", 3048.0, 1e4, LENGTH),
    ("mi", 1609.344, 1.0, LENGTH),
    ("l", 1.0, 1e3, VOLUME),
    ("L", 1.0, 1e3, VOLUME),
    ("litre", 1.0, 1e3, VOLUME),
    ("litres", 1.0, 1e3, VOLUME),
    ("liter", 1.0, 1e3, VOLUME),
    ("liters", 1.0, 1e3, VOLUME),
    ("ml", 1.0, 1e6, VOLUME),
    ("mL", 1.0, 1e6, VOLUME),
    ("kg", 1.0, 1.0, MASS),
    ("g", 1.0, 1e3, MASS),
    ("lb", 0.453_592_37, 1.0, MASS),
    ("t", 1e3, 1.0, MASS),
    ("s", 1.0, 1.0, TIME),
    ("sec", 1.0, 1.0, TIME),
    ("second", 1.0, 1.0, TIME),
    ("seconds", 1.0, 1.0, TIME),
    ("ms", 1.0, 1e3, TIME),
    ("min", 60.0, 1.0, TIME),
    ("mins", 60.0, 1.0, TIME),
    ("minute", 60.0, 1.0, TIME),
    ("minutes", 60.0, 1.0, TIME),
    ("h", 3600.0, 1.0, TIME),
    ("hr", 3600.0, 1.0, TIME),
    ("hrs", 3600.0, 1.0, TIME),
    ("hour", 3600.0, 1.0, TIME),
    ("hours", 3600.0, 1.0, TIME),
    ("d", 86400.0, 1.0, TIME),
    ("day", 86400.0, 1.0, TIME),
    ("days", 86400.0, 1.0, TIME),
    ("rad", 1.0, 1.0, ANGLE),
    ("mrad", 1.0, 1e3, ANGLE),
    ("deg", PI, 180.0, ANGLE),
    ("degree", PI, 180.0, ANGLE),
    ("degrees", PI, 180.0, ANGLE),
    ("°", PI, 180.0, ANGLE),
    ("arcmin", PI, 180.0 * 60.0, ANGLE),
    ("arcsec", PI, 180.0 * 3600.0, ANGLE),
    ("as", PI, 180.0 * 3600.0, ANGLE),
    ("mas", PI, 180.0 * 3600.0 * 1e3, ANGLE),
    ("mph", 1609.344, 3600.0, SPEED),
    ("kn", 1852.0, 3600.0, SPEED),
    ("kt", 1852.0, 3600.0, SPEED),
    ("kts", 1852.0, 3600.0, SPEED),
    ("knot", 1852.0, 3600.0, SPEED),
    ("knots", 1852.0, 3600.0, SPEED),
    ("kmh", 1e3, 3600.0, SPEED),
    ("kph", 1e3, 3600.0, SPEED),
    ("fpm", 3048.0, 1e4 * 60.0, SPEED),
    ("cfm", FOOT_CUBED, 1e12 * 60.0, FLOW),
    ("cmh", 1.0, 3600.0, FLOW),
    ("V", 1.0, 1.0, VOLTAGE),
    ("mV", 1.0, 1e3, VOLTAGE),
    ("A", 1.0, 1.0, CURRENT),
    ("mA", 1.0, 1e3, CURRENT),
    ("dB", 1.0, 1.0, LEVEL),
    ("dBA", 1.0, 1.0, LEVEL),
    ("dB(A)", 1.0, 1.0, LEVEL),
    ("Pa", 1.0, 1.0, PRESSURE),
    ("hPa", 100.0, 1.0, PRESSURE),
    ("kPa", 1e3, 1.0, PRESSURE),
    ("MPa", 1e6, 1.0, PRESSURE),
    ("GPa", 1e9, 1.0, PRESSURE),
    ("bar", 1e5, 1.0, PRESSURE),
    ("mbar", 100.0, 1.0, PRESSURE),
    ("mb", 100.0, 1.0, PRESSURE),
    ("atm", 101_325.0, 1.0, PRESSURE),
    ("inHg", 3386.389, 1.0, PRESSURE),
    ("mmHg", 101_325.0, 760.0, PRESSURE),
    ("mmH2O", 9.806_65, 1.0, PRESSURE),
    ("mmH₂O", 9.806_65, 1.0, PRESSURE),
    ("mmAq", 9.806_65, 1.0, PRESSURE),
    ("inH2O", 9806.65 * 254.0, 1e4, PRESSURE),
    ("inH₂O", 9806.65 * 254.0, 1e4, PRESSURE),
    ("H2O", 9806.65, 1.0, WATER),
    ("H₂O", 9806.65, 1.0, WATER),
    ("psi", 6_894.757_293_168, 1.0, PRESSURE),
    ("J", 1.0, 1.0, ENERGY),
    ("kJ", 1e3, 1.0, ENERGY),
    ("MJ", 1e6, 1.0, ENERGY),
    ("Wh", 3600.0, 1.0, ENERGY),
    ("W", 1.0, 1.0, POWER),
    ("watt", 1.0, 1.0, POWER),
    ("watts", 1.0, 1.0, POWER),
    ("mW", 1.0, 1e3, POWER),
    ("kW", 1e3, 1.0, POWER),
    ("N", 1.0, 1.0, FORCE),
];

/// A temperature scale: kelvins per degree as a ratio, and where its zero lies above 0 K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum TemperatureScale {
    Kelvin,
    Celsius,
    Fahrenheit,
}

const SCALES: &[(&str, TemperatureScale)] = &[
    ("°C", TemperatureScale::Celsius),
    ("degC", TemperatureScale::Celsius),
    ("C", TemperatureScale::Celsius),
    ("℃", TemperatureScale::Celsius),
    ("celsius", TemperatureScale::Celsius),
    ("°F", TemperatureScale::Fahrenheit),
    ("degF", TemperatureScale::Fahrenheit),
    ("F", TemperatureScale::Fahrenheit),
    ("℉", TemperatureScale::Fahrenheit),
    ("fahrenheit", TemperatureScale::Fahrenheit),
    ("K", TemperatureScale::Kelvin),
    ("degK", TemperatureScale::Kelvin),
    ("°K", TemperatureScale::Kelvin),
    ("kelvin", TemperatureScale::Kelvin),
    ("kelvins", TemperatureScale::Kelvin),
    // The kelvin sign, which some keyboards and documents produce.
    ("\u{212A}", TemperatureScale::Kelvin),
];

/// The temperature scale a symbol names, if it names one.
pub(crate) fn temperature_scale(symbol: &str) -> Option<TemperatureScale> {
    find(&SCALES.iter().map(|row| (row.0, row.1)), symbol)
}

/// The size of one symbol, degrees of temperature taken as differences.
pub(crate) fn size(symbol: &str) -> Option<Size> {
    match temperature_scale(symbol) {
        Some(TemperatureScale::Kelvin | TemperatureScale::Celsius) => {
            Some(Size { times: 1.0, over: 1.0, dimensions: KELVIN })
        }
        Some(TemperatureScale::Fahrenheit) => {
            Some(Size { times: 5.0, over: 9.0, dimensions: KELVIN })
        }
        None => find(&TABLE.iter().map(|row| (row.0, row)), symbol)
            .map(|&(_, times, over, dimensions)| Size { times, over, dimensions }),
    }
}

/// As written, or else in small letters where that is how the unit is spelled ("CFM", "Mph").
fn find<T: Copy>(
    rows: &(impl Iterator<Item = (&'static str, T)> + Clone),
    symbol: &str,
) -> Option<T> {
    let written = rows.clone().find(|row| row.0 == symbol);
    let loose = symbol.len() > 1 && symbol.bytes().all(|b| b.is_ascii_alphabetic());
    written
        .or_else(|| {
            let small = symbol.to_ascii_lowercase();
            rows.clone().find(|row| loose && row.0 == small)
        })
        .map(|row| row.1)
}

/// Symbols with the given dimensions, for "did you mean".
pub(crate) fn symbols(dimensions: Dimensions) -> impl Iterator<Item = &'static str> {
    let scales = SCALES
        .iter()
        .map(|row| row.0)
        .filter(move |_| dimensions == KELVIN || dimensions == [0; 7]);
    let others = TABLE
        .iter()
        .filter(move |row| row.3 == dimensions || dimensions == [0; 7])
        .map(|row| row.0);
    others.chain(scales)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_spelling_stands_twice() {
        let mut all: Vec<_> = symbols([0; 7]).collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
    }

    #[test]
    fn capitals_are_forgiven_only_where_the_unit_is_spelled_small() {
        assert!(size("CFM").is_some());
        assert!(size("MM").is_some());
        assert!(size("GPA").is_none());
        assert!(size("HPA").is_none());
    }
}
