//! The time column: durations, clock times or local dates, laid against the night.

use std::ops::Range;
use std::str::FromStr;

use evenglass_units::Duration;
use jiff::civil::{DateTime, Time};

use super::table::{Cell, Text};
use crate::clock::Clock;
use crate::fault::Fault;

const DAY: f64 = 86_400.0;
/// Longest stretch without a reading that a straight line may bridge \[s\].
const LONGEST_GAP: f64 = 3.0 * 3600.0;
/// A clock that seems to run on by more than this has been set back instead \[s\].
const LONGEST_NIGHT_WRAP: f64 = 12.0 * 3600.0;

/// One cell of the time column.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Stamp {
    /// Seconds from the start of the run.
    Elapsed(f64),
    /// Seconds since midnight.
    OfDay(f64),
    /// Local date and time.
    Local(DateTime),
}

impl Stamp {
    fn form(self) -> &'static str {
        match self {
            Self::Elapsed(_) => "a duration",
            Self::OfDay(_) => "a clock time",
            Self::Local(_) => "a date and time",
        }
    }
}

/// The time column as far as it has been read.
pub(super) struct Times<'a> {
    text: &'a Text,
    clock: &'a Clock,
    first: Option<Stamp>,
    /// Seconds on the file's own axis: of the run, or whole days from it.
    seconds: Vec<f64>,
    spans: Vec<Range<usize>>,
    /// Whether a clock time comes more than once, in the night or in the file.
    days: bool,
}

impl<'a> Times<'a> {
    pub(super) fn new(text: &'a Text, clock: &'a Clock) -> Self {
        Self { text, clock, first: None, seconds: Vec::new(), spans: Vec::new(), days: false }
    }

    /// Takes the next cell; it must be later than the one before.
    pub(super) fn push(&mut self, cell: &Cell<'_>) -> Result<(), Fault> {
        let stamp = parse(cell.text).map_err(|(message, help)| {
            self.text.fault("weather::time", message, help, cell.span.clone())
        })?;
        let first = *self.first.get_or_insert(stamp);
        if std::mem::discriminant(&first) != std::mem::discriminant(&stamp) {
            return Err(self.fault(
                cell,
                format!(
                    "`{}` is {}, the rows above have {}",
                    cell.text,
                    stamp.form(),
                    first.form()
                ),
                "write every time of a file in the same form".to_owned(),
            ));
        }
        let seconds = self.on_axis(stamp);
        if let Some(&before) = self.seconds.last() {
            // Counting lines reads the file from its start: only for a message.
            let line = || self.spans.last().map_or(0, |span| self.text.line(span.start));
            if seconds.total_cmp(&before).is_eq() {
                return Err(self.fault(
                    cell,
                    format!("`{}` stands on line {} already", cell.text, line()),
                    "keep one reading per time".to_owned(),
                ));
            }
            let set_back =
                matches!(stamp, Stamp::OfDay(_)) && seconds - before > LONGEST_NIGHT_WRAP;
            if seconds < before || set_back {
                return Err(self.fault(
                    cell,
                    format!("`{}` is earlier than the time on line {}", cell.text, line()),
                    "sort the rows by time; a clock set back in autumn needs its own hour taken out"
                        .to_owned(),
                ));
            }
        }
        self.seconds.push(seconds);
        self.spans.push(cell.span.clone());
        Ok(())
    }

    /// Seconds from the start of the run for each row, once the file is known to
    /// cover the night without long gaps.
    pub(super) fn over_the_night(mut self, duration_s: f64) -> Result<Vec<f64>, Fault> {
        let covered = self.seconds.last().zip(self.seconds.first());
        self.days = duration_s > DAY || covered.is_some_and(|(to, from)| to - from >= DAY);
        let shift = self.shift(duration_s)?;
        let seconds: Vec<f64> = self.seconds.iter().map(|s| s + shift).collect();
        for (row, pair) in seconds.windows(2).enumerate() {
            let in_the_night = pair[1] > 0.0 && pair[0] < duration_s;
            if in_the_night && pair[1] - pair[0] > LONGEST_GAP {
                return Err(self.text.fault(
                    "weather::gap",
                    format!(
                        "no reading for {:.1} h, from {} to {}",
                        (pair[1] - pair[0]) / 3600.0,
                        self.shown(pair[0]),
                        self.shown(pair[1])
                    ),
                    "add rows so that no gap is longer than 3 h; values between rows are taken \
                     on a straight line",
                    self.spans[row + 1].clone(),
                ));
            }
        }
        Ok(seconds)
    }

    /// What to add to the file's own seconds: whole days, where its day is not fixed.
    fn shift(&self, duration_s: f64) -> Result<f64, Fault> {
        let (Some(&from), Some(&to)) = (self.seconds.first(), self.seconds.last()) else {
            let end = self.text.source.len();
            return Err(self.text.fault(
                "weather::coverage",
                "the file has a header but no rows".to_owned(),
                "add one row per reading, from before the start of the night to its end",
                end..end,
            ));
        };
        let fixed = match self.first {
            Some(Stamp::Elapsed(_)) | None => true,
            Some(Stamp::OfDay(_)) => false,
            Some(Stamp::Local(_)) => self.clock.has_date(),
        };
        let first_day = ((duration_s - to) / DAY).ceil();
        let last_day = (-from / DAY).floor();
        let covers = |shift: f64| from + shift <= 0.0 && to + shift >= duration_s;
        if fixed {
            return if covers(0.0) { Ok(0.0) } else { Err(self.missing(0.0, duration_s)) };
        }
        // A whole number, so half of one is a safe border.
        let fitting = last_day - first_day + 1.0;
        if (0.5..1.5).contains(&fitting) {
            return Ok(first_day * DAY);
        }
        if fitting > 1.5 {
            return Err(self.text.fault(
                "weather::coverage",
                format!("the file holds {fitting} nights that fit"),
                "write `time` as `2026-10-03T20:00` and give `date` in [night], or keep one night",
                self.spans[0].clone(),
            ));
        }
        let overlap = |shift: f64| (to + shift).min(duration_s) - (from + shift).max(0.0);
        let (early, late) = (last_day * DAY, (last_day + 1.0) * DAY);
        let nearest = if overlap(late) > overlap(early) { late } else { early };
        Err(self.missing(nearest, duration_s))
    }

    fn missing(&self, shift: f64, duration_s: f64) -> Fault {
        let (from, to) = (self.seconds[0] + shift, self.seconds[self.seconds.len() - 1] + shift);
        let mut stretches = Vec::new();
        if from > 0.0 {
            let until = from.min(duration_s);
            stretches.push(format!("{} to {}", self.shown(0.0), self.shown(until)));
        }
        if to < duration_s {
            let since = to.max(0.0);
            stretches.push(format!("{} to {}", self.shown(since), self.shown(duration_s)));
        }
        if from > duration_s || to < 0.0 {
            stretches = vec!["all of it".to_owned()];
        }
        let row = if from > 0.0 { 0 } else { self.spans.len() - 1 };
        self.text.fault(
            "weather::coverage",
            format!(
                "the file runs from {} to {}; of the night it misses {}",
                self.shown(from),
                self.shown(to),
                stretches.join(" and ")
            ),
            "add the missing rows, or change `start` and `duration` in [night]",
            self.spans[row].clone(),
        )
    }

    /// A time of the run in the form the file uses, with the day where that could be in doubt.
    fn shown(&self, seconds: f64) -> String {
        let clock = self.clock.hm(seconds);
        let is_dated = self.clock.has_date();
        match self.first {
            Some(Stamp::OfDay(_)) if !self.days => clock,
            Some(Stamp::OfDay(_) | Stamp::Local(_)) if is_dated => {
                format!("{} {clock}", self.clock.at((seconds / 60.0).round() * 60.0).date())
            }
            Some(Stamp::Local(_)) if !self.days => clock,
            Some(Stamp::OfDay(_) | Stamp::Local(_)) => {
                let day = (seconds + of_day_of(self.clock.at(0.0).time())).div_euclid(DAY);
                format!("{clock} on day {}", day + 1.0)
            }
            Some(Stamp::Elapsed(_)) | None => format!("{:.2} h", seconds / 3600.0),
        }
    }

    fn on_axis(&self, stamp: Stamp) -> f64 {
        let start = self.clock.at(0.0);
        match stamp {
            Stamp::Elapsed(seconds) => seconds,
            Stamp::Local(local) => local.duration_since(start).as_secs_f64(),
            Stamp::OfDay(of_day) => {
                let seconds = of_day - of_day_of(start.time());
                match self.seconds.last() {
                    Some(&before) if seconds < before => {
                        let days = ((before - seconds) / DAY).ceil();
                        seconds + days * DAY
                    }
                    _ => seconds,
                }
            }
        }
    }

    fn fault(&self, cell: &Cell<'_>, message: String, help: String) -> Fault {
        self.text.fault("weather::time", message, help, cell.span.clone())
    }
}

fn of_day_of(time: Time) -> f64 {
    let whole = i32::from(time.hour()) * 3600 + i32::from(time.minute()) * 60;
    f64::from(whole + i32::from(time.second())) + f64::from(time.subsec_nanosecond()) * 1e-9
}

const FORMS: &str = "write `1.5 h`, `22:30` or `2026-10-03T22:30`";

fn parse(text: &str) -> Result<Stamp, (String, String)> {
    let no_time = || (format!("`{text}` is not a time"), FORMS.to_owned());
    if text.is_empty() {
        return Err(("the time is missing".to_owned(), FORMS.to_owned()));
    }
    if !text.contains(':') {
        let duration = Duration::from_str(text).map_err(|_| no_time())?;
        return Ok(Stamp::Elapsed(duration.seconds()));
    }
    // A date is ten characters: 2026-10-03.
    let Some((date, clock)) = text
        .split_at_checked(10)
        .filter(|(_, rest)| rest.starts_with(['T', 't', ' ']) && rest.contains(':'))
    else {
        return clock_time(text).map(|time| Stamp::OfDay(of_day_of(time))).ok_or_else(no_time);
    };
    let clock = &clock[1..];
    if clock.ends_with(['Z', 'z']) || clock.contains(['+', '-']) {
        return Err((
            format!("`{text}` carries a time zone"),
            "write local time without a zone, the same as `start` in [night]".to_owned(),
        ));
    }
    let date = jiff::civil::Date::from_str(date).map_err(|_| no_time())?;
    let time = clock_time(clock).ok_or_else(no_time)?;
    Ok(Stamp::Local(date.to_datetime(time)))
}

/// "22:30" or "22:30:15".
fn clock_time(text: &str) -> Option<Time> {
    let mut parts = text.split(':').map(|part| {
        let digits = (1..=2).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
        if digits { part.parse::<i8>().ok() } else { None }
    });
    let (hour, minute) = (parts.next()??, parts.next()??);
    let second = parts.next().unwrap_or(Some(0))?;
    if parts.next().is_some() {
        return None;
    }
    Time::new(hour, minute, second, 0).ok()
}
