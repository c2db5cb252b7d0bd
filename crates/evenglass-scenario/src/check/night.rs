//! `[night]`: the clock, the air, and what else is known of the weather.

use std::path::Path;

use evenglass_materials::moist_air;
use evenglass_units::{Duration, Length, Temperature};
use jiff::civil::{Date, date};

use super::event::{Changes, cover_named, states, steps};
use super::series;
use crate::clock::Clock;
use crate::moment::{ClockTime, Times, bad_clock, read_date, span};
use crate::profile::{Profile, Side};
use crate::read::Reader;
use crate::scenario::Conditions;
use crate::suggest::shown;
use crate::tree::Value;
use crate::weather::{self, Weather};

/// Pressure of the standard atmosphere at sea level \[Pa\].
const STANDARD_PRESSURE: f64 = 101_325.0;

/// What the night is read with.
#[derive(Debug)]
pub(crate) struct Known<'a> {
    pub(crate) times: Times,
    pub(crate) changes: Changes,
    pub(crate) elevation: Option<Length>,
    pub(crate) base: &'a Path,
}

/// Start, date and duration, as far as they can be read.
pub(crate) fn times(reader: &Reader<'_>) -> Times {
    Times { start: start(reader), date: calendar_date(reader), duration: reader.si("duration") }
}

fn start(reader: &Reader<'_>) -> Option<ClockTime> {
    let node = reader.table.get("start")?;
    let text = match &node.value {
        Value::Text(text) => text.clone(),
        Value::Moment(moment) => moment.to_string(),
        _ => {
            reader.wrong_sort("start", node, "a clock time such as \"20:00\"");
            return None;
        }
    };
    let clock = ClockTime::read(text.split('.').next().unwrap_or(""));
    if clock.is_none() {
        let (code, fact, help) = match text.split_once(['T', ' ']) {
            Some((day, time)) if read_date(day).is_some() => (
                "scenario::time",
                format!("`{}` holds a date and a time", shown(&text)),
                format!(
                    "write date = \"{day}\" and start = \"{}\"",
                    time.get(..5).unwrap_or("20:00")
                ),
            ),
            _ => bad_clock(&text),
        };
        reader.ledger.note(code, &node.at, fact, help);
    }
    clock
}

fn calendar_date(reader: &Reader<'_>) -> Option<Date> {
    let node = reader.table.get("date")?;
    let text = match &node.value {
        Value::Text(text) => text.clone(),
        Value::Moment(moment) => moment.to_string(),
        _ => {
            reader.wrong_sort("date", node, "a date such as \"2026-10-03\"");
            return None;
        }
    };
    // The calendar ends with the year 9999, and a run may pass midnight.
    let read = read_date(text.trim()).filter(|day| (1..=9998).contains(&day.year()));
    if read.is_none() {
        let fact = format!("`{}` is not a date", shown(&text));
        let help = "write year, month and day: \"2026-10-03\"".to_owned();
        reader.ledger.note("scenario::time", &node.at, fact, help);
    }
    read
}

/// The whole night.
pub(crate) fn read(reader: &Reader<'_>, known: &Known<'_>) -> Option<Conditions> {
    let times = &known.times;
    let glass = start_temperature(reader);
    let stress_free = reader.si("stress_free_temperature");
    let clock = times.start.map(|start| clock(start, times.date));
    let sky = sky(reader, known, clock.as_ref());
    let humidity = reader.has("relative_humidity");
    let wind = optional(reader, "wind", times);
    let cloud = reader.has("cloud").then(|| series::number(reader, "cloud", times));
    let pressure = optional(reader, "pressure", times);
    let dew_point = optional(reader, "dew_point", times);
    let moisture = humidity.then(|| series::number(reader, "relative_humidity", times));
    if humidity && reader.has("dew_point") {
        reader.conflict(
            "relative_humidity",
            "both `dew_point` and `relative_humidity` are given".to_owned(),
            "keep one of them: each follows from the other".to_owned(),
        );
    }
    let [speed, altitude] = [reader.number("fan_speed"), reader.si("altitude")];
    let heater = reader.number("secondary_heater");
    let cover = reader.choice("cover").map(cover_named);
    let (air, file) = sky?;
    let duration = times.duration?;
    let from_humidity = match moisture {
        Some(relative) => Some(dew_points(&air, &relative?, duration)),
        None => None,
    };
    let from_file = file.unwrap_or_default();
    Some(Conditions {
        start: clock?,
        duration: Duration::from_seconds(duration),
        glass_temperature: Temperature::from_kelvin(glass?),
        stress_free_temperature: Temperature::from_kelvin(
            if reader.has("stress_free_temperature") { stress_free? } else { glass? },
        ),
        dew_point: settled(dew_point)?.or(from_humidity).or(from_file.dew_point),
        wind: settled(wind)?.or(from_file.wind),
        cloud: settled(cloud)?.or(from_file.cloud),
        pressure: settled(pressure)?
            .or(from_file.pressure)
            .unwrap_or_else(|| Profile::constant(standard_pressure(known.elevation))),
        fan_speed: steps(speed?, &known.changes.fan_speed),
        altitude: steps(altitude?, &known.changes.altitude),
        cover: states(cover?, &known.changes.cover),
        secondary_heater: steps(heater?, &known.changes.secondary_heater),
        air,
    })
}

/// `Some(None)` where a key is absent, `None` where it is wrong.
#[allow(clippy::option_option, reason = "absent and wrong are two things here")]
fn settled(read: Option<Option<Profile>>) -> Option<Option<Profile>> {
    match read {
        None => Some(None),
        Some(None) => None,
        Some(profile) => Some(profile),
    }
}

#[allow(clippy::option_option, reason = "absent and wrong are two things here")]
fn optional(reader: &Reader<'_>, key: &str, times: &Times) -> Option<Option<Profile>> {
    reader.has(key).then(|| series::si(reader, key, "value", times))
}

fn clock(start: ClockTime, day: Option<Date>) -> Clock {
    match day {
        Some(day) => Clock::dated(day.to_datetime(start.time())),
        None => Clock::undated(date(2000, 1, 1).to_datetime(start.time())),
    }
}

fn start_temperature(reader: &Reader<'_>) -> Option<f64> {
    let node = reader.table.get("glass_temperature")?;
    if let Value::Table(_) = &node.value {
        let fact =
            "this version starts with the same temperature everywhere in the glass".to_owned();
        let help = "write one temperature: glass_temperature = \"20 degC\"".to_owned();
        reader.ledger.note("scenario::later", &node.at, fact, help);
        return None;
    }
    reader.si("glass_temperature")
}

/// What a weather file adds to the air.
#[derive(Debug, Default)]
struct FromFile {
    dew_point: Option<Profile>,
    wind: Option<Profile>,
    cloud: Option<Profile>,
    pressure: Option<Profile>,
}

type Sky = (Profile, Option<FromFile>);

fn sky(reader: &Reader<'_>, known: &Known<'_>, clock: Option<&Clock>) -> Option<Sky> {
    let (kind, air) = reader.kind("air", "`air`")?;
    let times = &known.times;
    match kind {
        "steady" => air.si("temperature").map(|kelvin| (Profile::constant(kelvin), None)),
        "falling" => falling(&air, times.duration).map(|profile| (profile, None)),
        "table" => {
            let time = air.moment_list("time", times);
            let values = air.si_list("temperature");
            series::points(&air, ("time", "temperature"), time, values).map(|air| (air, None))
        }
        _ => {
            let path = air.text("path")?;
            let (clock, duration) = (clock?, times.duration?);
            match weather::read(&known.base.join(path), path, clock, duration) {
                Ok(weather) => Some(from_weather(reader, weather)),
                Err(faults) => {
                    let faults = faults.into_iter().map(|mut fault| {
                        // A file that cannot be read at all is shown where it is named.
                        if fault.place.is_none() {
                            fault.place = reader.ledger.place(air.place("path"));
                        }
                        fault
                    });
                    reader.ledger.note_all(faults.collect());
                    None
                }
            }
        }
    }
}

fn from_weather(reader: &Reader<'_>, weather: Weather) -> Sky {
    let columns = [
        ("dew_point", weather.dew_point.is_some()),
        ("relative_humidity", weather.dew_point.is_some()),
        ("wind", weather.wind.is_some()),
        ("cloud", weather.cloud.is_some()),
        ("pressure", weather.pressure.is_some()),
    ];
    for (key, in_file) in columns {
        if in_file && reader.has(key) {
            let fact = format!("`{key}` is given here and in the weather file");
            let help = format!("leave `{key}` out of [night], or take the column out of the file");
            reader.conflict(key, fact, help);
        }
    }
    let Weather { air, dew_point, wind, cloud, pressure } = weather;
    (air, Some(FromFile { dew_point, wind, cloud, pressure }))
}

/// Falling air, flat once the floor is reached.
fn falling(air: &Reader<'_>, duration: Option<f64>) -> Option<Profile> {
    let (from, rate, floor) = (air.si("from"), air.si("rate"), air.si("floor"));
    let has_floor = air.has("floor");
    let (from, rate, duration) = (from?, rate?, duration?);
    let floor = if has_floor { Some(floor?) } else { None };
    if let Some(floor) = floor
        && floor > from
    {
        let fact = format!(
            "the floor of `{}` is above `{}`, where the fall starts",
            air.written("floor"),
            air.written("from")
        );
        air.conflict(
            "floor",
            fact,
            "make the floor colder than `from`, or leave it out".to_owned(),
        );
        return None;
    }
    let end = from + rate * duration;
    let coldest = Temperature::from_celsius(-60.0).kelvin();
    if floor.is_none() && end < coldest {
        let fact = format!(
            "after {} the air would be at {:.0} °C",
            span(duration),
            Temperature::from_kelvin(end).celsius()
        );
        air.conflict("rate", fact, "add a `floor`, such as floor = \"5 degC\"".to_owned());
        return None;
    }
    if rate == 0.0 || floor == Some(from) {
        return Some(Profile::constant(from));
    }
    Some(match floor {
        Some(floor) => Profile::new(vec![0.0, (floor - from) / rate], vec![from, floor]),
        None => Profile::new(vec![0.0, duration], vec![from, end]),
    })
}

/// Dew point of the night air at a relative humidity, over liquid water.
///
/// It is not linear between the points of either table, so it is followed every
/// five minutes, and on both sides of every jump.
fn dew_points(air: &Profile, relative: &Profile, duration: f64) -> Profile {
    const STEP: f64 = 300.0;
    let mut times: Vec<f64> = air.positions().iter().chain(relative.positions()).copied().collect();
    times.retain(|&time| time > 0.0 && time < duration);
    let mut next = 0.0;
    while next < duration {
        times.push(next);
        next += STEP;
    }
    times.push(duration);
    times.sort_by(f64::total_cmp);
    times.dedup();
    let at = |time, side| {
        let air = Temperature::from_kelvin(air.at(time, side));
        moist_air::dew_point(air, relative.at(time, side)).kelvin()
    };
    let mut positions = Vec::new();
    let mut values = Vec::new();
    for time in times {
        let (before, after) = (at(time, Side::Before), at(time, Side::After));
        if (before - after).abs() > 0.0 && time > 0.0 {
            positions.push(time);
            values.push(before);
        }
        positions.push(time);
        values.push(after);
    }
    Profile::new(positions, values)
}

/// Pressure of the standard atmosphere at an elevation \[Pa\].
///
/// # Source
/// ISO 2533:1975, *Standard Atmosphere*, troposphere.
fn standard_pressure(elevation: Option<Length>) -> f64 {
    elevation.map_or(STANDARD_PRESSURE, |height| {
        moist_air::pressure_at_altitude(height.metres()).pascals()
    })
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn constant_air_and_humidity_have_one_dew_point() {
        let air = Profile::constant(283.15);
        let profile = dew_points(&air, &Profile::constant(1.0), 3600.0);
        // Saturated air is at its dew point.
        for value in profile.values() {
            assert_relative_eq!(*value, 283.15, epsilon = 1e-6);
        }
    }

    #[test]
    fn a_jump_of_the_air_is_a_jump_of_the_dew_point() {
        let air = Profile::new(vec![0.0, 1800.0, 1800.0], vec![290.0, 290.0, 280.0]);
        let profile = dew_points(&air, &Profile::constant(0.5), 3600.0);
        let fall = profile.at(1800.0, Side::Before) - profile.at(1800.0, Side::After);
        assert!(fall > 5.0, "fell by {fall} K");
    }

    /// The published formula is 101325 (1 − 2.25577e-5 z)^5.25588, as given with ISO 2533 values.
    #[test]
    fn pressure_falls_with_elevation_as_in_the_standard_atmosphere() {
        let at = |metres: f64| standard_pressure(Some(Length::from_metres(metres)));
        for metres in [0.0_f64, 500.0, 2000.0] {
            let closed = 101_325.0 * (1.0 - 2.25577e-5 * metres).powf(5.25588);
            // The closed form's constants carry six digits.
            assert_relative_eq!(at(metres), closed, max_relative = 2e-5);
        }
        assert_relative_eq!(standard_pressure(None), 101_325.0);
    }

    #[test]
    fn night_keys_that_events_change_have_defaults() {
        for name in ["fan_speed", "cover", "altitude", "secondary_heater"] {
            let key = crate::keys::NIGHT.keys.iter().find(|key| key.name == name).unwrap();
            assert!(matches!(key.need, crate::keys::Need::Default(_)), "{name}");
        }
    }
}
