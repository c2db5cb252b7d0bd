//! Clock times of a run.

use jiff::SignedDuration;
use jiff::civil::DateTime;

/// The local clock at the start of a run; other times are seconds after it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Clock {
    start: DateTime,
    dated: bool,
}

impl Clock {
    /// A clock whose date the author gave.
    #[must_use]
    pub fn dated(start: DateTime) -> Self {
        Self { start, dated: true }
    }

    /// A clock without a date; the day is arbitrary.
    #[must_use]
    pub fn undated(start: DateTime) -> Self {
        Self { start, dated: false }
    }

    /// Whether the date means anything.
    #[must_use]
    pub fn has_date(&self) -> bool {
        self.dated
    }

    /// Local date and time `seconds` after the start, rounded to the second.
    #[must_use]
    pub fn at(&self, seconds: f64) -> DateTime {
        let whole =
            SignedDuration::try_from_secs_f64(seconds.round()).unwrap_or(SignedDuration::ZERO);
        self.start.saturating_add(whole)
    }

    /// "HH:MM:SS" `seconds` after the start.
    #[must_use]
    pub fn hms(&self, seconds: f64) -> String {
        let time = self.at(seconds);
        format!("{:02}:{:02}:{:02}", time.hour(), time.minute(), time.second())
    }

    /// "HH:MM" `seconds` after the start, rounded to the minute.
    #[must_use]
    pub fn hm(&self, seconds: f64) -> String {
        let time = self.at((seconds / 60.0).round() * 60.0);
        format!("{:02}:{:02}", time.hour(), time.minute())
    }
}
