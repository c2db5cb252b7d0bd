//! Times as authors write them: durations from the start, clock times, dates with times.

use std::fmt;

use evenglass_units::{Kind, UnitFault, parse};
use jiff::civil::{Date, DateTime, Time};
use toml::value::Datetime;

use crate::suggest::shown;

/// A time of day, to the second.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct ClockTime {
    seconds: u32,
}

/// A time as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Moment {
    /// Seconds after the start.
    After(f64),
    /// The next time the clock shows this.
    Clock(ClockTime),
    /// That date and time.
    Dated(DateTime),
}

/// Code, fact and remedy.
pub(crate) type Unreadable = (&'static str, String, String);

const DAY: u32 = 86_400;

impl ClockTime {
    /// "20:30", "8:05" or "20:30:15"; `None` for anything else.
    pub(crate) fn read(text: &str) -> Option<Self> {
        let mut parts = text.trim().split(':');
        let mut next = |limit: u32, most: usize| -> Option<u32> {
            let part = parts.next()?;
            let plain = part.bytes().all(|b| b.is_ascii_digit());
            let sized = (1..=2).contains(&part.len()) && part.len() >= most;
            (plain && sized).then(|| part.parse().ok()).flatten().filter(|value| *value < limit)
        };
        let hour = next(24, 1)?;
        let minute = next(60, 2)?;
        let second = match text.matches(':').count() {
            1 => 0,
            2 => next(60, 2)?,
            _ => return None,
        };
        Some(Self { seconds: hour * 3600 + minute * 60 + second })
    }

    /// Seconds after midnight.
    pub(crate) fn seconds(self) -> f64 {
        f64::from(self.seconds)
    }

    /// From seconds after some midnight.
    pub(crate) fn from_seconds(seconds: f64) -> Self {
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "the remainder lies between 0 and 86400"
        )]
        let seconds = seconds.round().rem_euclid(f64::from(DAY)) as u32;
        Self { seconds: seconds % DAY }
    }

    /// For civil arithmetic.
    pub(crate) fn time(self) -> Time {
        let part = |value: u32| i8::try_from(value).unwrap_or(0);
        let (hour, minute) = (self.seconds / 3600, self.seconds / 60 % 60);
        Time::new(part(hour), part(minute), part(self.seconds % 60), 0).unwrap_or(Time::midnight())
    }
}

impl fmt::Display for ClockTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.seconds / 3600, self.seconds / 60 % 60)?;
        match self.seconds % 60 {
            0 => Ok(()),
            seconds => write!(f, ":{seconds:02}"),
        }
    }
}

/// A duration, clock time, or date and time.
pub(crate) fn read_moment(text: &str) -> Result<Moment, Unreadable> {
    let text = text.trim();
    if let Some(clock) = ClockTime::read(text) {
        return Ok(Moment::Clock(clock));
    }
    if let Some((date, time)) = text.split_once(['T', 't', ' '])
        && let Some(date) = read_date(date)
    {
        let time = ClockTime::read(time).ok_or_else(|| bad_clock(time))?;
        return Ok(Moment::Dated(date.to_datetime(time.time())));
    }
    if read_date(text).is_some() {
        return Err((
            "scenario::time",
            format!("`{}` has a date but no time", shown(text)),
            format!("write it as \"{text}T22:30\""),
        ));
    }
    if text.contains(':') || twelve_hours(text) {
        return Err(bad_clock(text));
    }
    parse(text, Kind::DURATION).map(Moment::After).map_err(|error| {
        let help = match error.fault {
            UnitFault::WrongDimension { .. } | UnitFault::UnknownUnit { .. } | UnitFault::NoUnit { .. } => {
                "write a duration from the start, such as \"2 h\", or a clock time, such as \"22:30\""
                    .to_owned()
            }
            _ => "write it as \"2 h\" or \"22:30\"".to_owned(),
        };
        let fact = error.to_string().replace(", a duration is wanted", ", a time is wanted");
        ("scenario::unit", fact, help)
    })
}

/// The same from an unquoted TOML date or time.
pub(crate) fn from_toml(moment: &Datetime) -> Result<Moment, Unreadable> {
    if moment.offset.is_some() {
        return Err((
            "scenario::time",
            "a time with a UTC offset is given, local clock time is wanted".to_owned(),
            "write the local time without an offset: 2026-10-03T22:30:00".to_owned(),
        ));
    }
    read_moment(&moment.to_string().split('.').next().unwrap_or("").replace(' ', "T"))
}

/// "2026-10-03".
pub(crate) fn read_date(text: &str) -> Option<Date> {
    let shape = text.len() == 10 && text.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    text.parse().ok().filter(|_| shape)
}

/// Why a text is no clock time.
pub(crate) fn bad_clock(text: &str) -> Unreadable {
    let text = text.trim();
    let help = if twelve_hours(text) {
        format!("write it on the 24-hour clock: \"{}\"", on_24_hours(text))
    } else if text == "24:00" {
        "midnight is \"00:00\"".to_owned()
    } else {
        "write hours and minutes, 00:00 to 23:59: \"08:30\" or \"22:30\"".to_owned()
    };
    ("scenario::time", format!("`{}` is not a time of day", shown(text)), help)
}

/// "19:30" from "7:30 pm", or an example where the text is stranger than that.
fn on_24_hours(text: &str) -> String {
    let small = text.to_ascii_lowercase();
    let end = small.find(|c: char| !c.is_ascii_digit() && c != ':').unwrap_or(small.len());
    let (clock, half) = (&small[..end], small[end..].trim());
    let padded = if clock.contains(':') { clock.to_owned() } else { format!("{clock}:00") };
    match ClockTime::read(&padded) {
        Some(time) if (3600..13 * 3600).contains(&time.seconds) => {
            let twelve = time.seconds % (12 * 3600);
            let after_noon = if half.starts_with('p') { 12 * 3600 } else { 0 };
            ClockTime { seconds: twelve + after_noon }.to_string()
        }
        _ => "19:00".to_owned(),
    }
}

fn twelve_hours(text: &str) -> bool {
    let small = text.to_ascii_lowercase();
    let number = small.starts_with(|c: char| c.is_ascii_digit());
    number && ["am", "pm", "a.m.", "p.m."].iter().any(|half| small.ends_with(half))
}

/// Places times on the run's own axis.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Times {
    /// Clock at the start, if it could be read.
    pub(crate) start: Option<ClockTime>,
    /// Date at the start, if one was given.
    pub(crate) date: Option<Date>,
    /// Length of the run \[s\], if it could be read.
    pub(crate) duration: Option<f64>,
}

impl Times {
    /// Seconds from the start; `Ok(None)` where the start itself is unknown.
    pub(crate) fn seconds(&self, moment: Moment) -> Result<Option<f64>, Unreadable> {
        match moment {
            Moment::After(seconds) => Ok(Some(seconds)),
            Moment::Clock(clock) => self.next(clock),
            Moment::Dated(at) => self.dated(at),
        }
    }

    fn next(&self, clock: ClockTime) -> Result<Option<f64>, Unreadable> {
        if self.duration.is_some_and(|duration| duration > f64::from(DAY)) {
            let date = self.date.map_or_else(|| "2026-10-03".to_owned(), |date| date.to_string());
            return Err((
                "scenario::time",
                format!("`{clock}` comes more than once in a run over 24 h"),
                format!(
                    "write the date too, as in \"{date}T{clock}\" with `date` in [night], or a duration from the start"
                ),
            ));
        }
        let start = self.start.map(ClockTime::seconds);
        Ok(start.map(|start| (clock.seconds() - start).rem_euclid(f64::from(DAY))))
    }

    fn dated(&self, at: DateTime) -> Result<Option<f64>, Unreadable> {
        let Some(start) = self.start else { return Ok(None) };
        let Some(date) = self.date else {
            return Err((
                "scenario::time",
                "a date is given here, but the run has none".to_owned(),
                "add `date = \"2026-10-03\"` to [night], or leave the date out here".to_owned(),
            ));
        };
        let start = date.to_datetime(start.time());
        Ok(Some(at.duration_since(start).as_secs_f64()))
    }

    /// Why a time is not within the run; `None` if it is, or if the run is not known.
    pub(crate) fn outside(&self, seconds: f64) -> Option<Unreadable> {
        let duration = self.duration?;
        if (0.0..=duration).contains(&seconds) {
            return None;
        }
        let hours = |seconds: f64| span(seconds.abs());
        let place = if seconds < 0.0 {
            format!("{} before the start", hours(seconds))
        } else {
            format!(
                "{} after the start, and the run ends after {}",
                hours(seconds),
                hours(duration)
            )
        };
        let help = match self.start {
            Some(start) => format!(
                "choose a time from {start} to {}, or 0 h to {}",
                ClockTime::from_seconds(start.seconds() + duration),
                hours(duration)
            ),
            None => format!("choose a time from 0 h to {}", hours(duration)),
        };
        Some(("scenario::time", format!("this is {place}"), help))
    }
}

/// "1 h 30 min", as one says it.
pub(crate) fn span(seconds: f64) -> String {
    let (hours, left) = ((seconds / 3600.0).floor(), seconds.rem_euclid(3600.0));
    let (minutes, left) = ((left / 60.0).floor(), left.rem_euclid(60.0));
    let left = (left * 1e3).round() / 1e3;
    let parts: Vec<String> = [(hours, "h"), (minutes, "min"), (left, "s")]
        .into_iter()
        .filter(|(number, _)| *number > 0.0)
        .map(|(number, unit)| format!("{number} {unit}"))
        .collect();
    if parts.is_empty() { "0 h".to_owned() } else { parts.join(" ") }
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "whole numbers pass through unchanged")]
mod tests {
    use super::*;

    fn times() -> Times {
        Times { start: ClockTime::read("20:00"), date: None, duration: Some(8.0 * 3600.0) }
    }

    fn seconds(text: &str) -> f64 {
        times().seconds(read_moment(text).unwrap()).unwrap().unwrap()
    }

    #[test]
    fn a_clock_time_before_the_start_is_tomorrow_and_the_start_itself_is_now() {
        assert_eq!(seconds("22:30"), 9000.0);
        assert_eq!(seconds("01:00"), 18_000.0);
        assert_eq!(seconds("1:00"), 18_000.0);
        assert_eq!(seconds("20:00"), 0.0);
        assert_eq!(seconds("19:59:59"), 86_399.0);
        assert_eq!(seconds("1 h 30 min"), 5400.0);
    }

    #[test]
    fn what_is_no_time_of_day_is_refused() {
        for text in ["24:00", "25:15", "7 pm", "12:60", "1:2", "12:00:00:00", ":30", "12:"] {
            let (code, fact, _) = read_moment(text).unwrap_err();
            assert_eq!(code, "scenario::time", "{text}");
            assert_eq!(fact, format!("`{text}` is not a time of day"));
        }
    }

    #[test]
    fn a_time_on_the_12_hour_clock_is_translated() {
        for (text, wanted) in
            [("7 pm", "19:00"), ("7:30pm", "19:30"), ("12 am", "00:00"), ("12 pm", "12:00")]
        {
            assert_eq!(
                read_moment(text).unwrap_err().2,
                format!("write it on the 24-hour clock: \"{wanted}\"")
            );
        }
    }

    #[test]
    fn dated_times_need_a_dated_run() {
        let at = read_moment("2026-10-04T01:00").unwrap();
        assert!(times().seconds(at).is_err());
        let dated = Times { date: read_date("2026-10-03"), ..times() };
        assert_eq!(dated.seconds(at).unwrap(), Some(18_000.0));
    }

    #[test]
    fn a_span_is_said_in_hours_minutes_and_seconds() {
        assert_eq!(span(5400.0), "1 h 30 min");
        assert_eq!(span(0.0), "0 h");
        assert_eq!(span(3605.0), "1 h 5 s");
    }
}
