//! How far a long computation has come, on standard error.

use std::io::{IsTerminal, stderr};
use std::sync::{Mutex, PoisonError};

use indicatif::{ProgressBar, ProgressStyle};

use crate::talk::{Talk, complain};

/// Counts finished nights and shows the count: a bar on a terminal, a line every
/// tenth of the way elsewhere, nothing when asked to be quiet.
#[derive(Debug)]
pub(crate) struct Progress {
    total: usize,
    finished: Mutex<usize>,
    shown: Shown,
}

#[derive(Debug)]
enum Shown {
    Bar(ProgressBar),
    Lines,
    Nothing,
}

impl Progress {
    /// For `total` nights.
    pub(crate) fn new(total: usize, talk: Talk) -> Self {
        let shown = match talk {
            Talk::Quiet => Shown::Nothing,
            Talk::Open if stderr().is_terminal() => Shown::Bar(bar(total)),
            Talk::Open => Shown::Lines,
        };
        Self { total, finished: Mutex::new(0), shown }
    }

    /// One more is finished. Safe to call from any thread.
    pub(crate) fn advance(&self) {
        // Held until the line is out: a later count may not overtake it.
        let mut count = self.finished.lock().unwrap_or_else(PoisonError::into_inner);
        *count += 1;
        let finished = *count;
        match &self.shown {
            Shown::Bar(bar) => bar.inc(1),
            Shown::Lines => {
                if tenth_reached(finished, self.total) {
                    let percent = percent(finished, self.total);
                    complain(&format!("{percent:>3} % ({finished} of {} nights)", self.total));
                }
            }
            Shown::Nothing => {}
        }
    }

    /// Takes the bar away, so that the answer stands alone.
    pub(crate) fn finish(&self) {
        if let Shown::Bar(bar) = &self.shown {
            bar.finish_and_clear();
        }
    }
}

fn bar(total: usize) -> ProgressBar {
    let style = ProgressStyle::with_template("{bar:40} {pos} of {len} nights, {eta} left")
        .unwrap_or_else(|_| ProgressStyle::default_bar());
    ProgressBar::new(total as u64).with_style(style)
}

/// Whether finishing night number `finished` reaches another tenth of the way.
fn tenth_reached(finished: usize, total: usize) -> bool {
    let tenths = |count: usize| count * 10 / total.max(1);
    tenths(finished) > tenths(finished - 1)
}

/// The finished share in per cent, to the nearest.
fn percent(finished: usize, total: usize) -> usize {
    let total = total.max(1);
    (200 * finished + total) / (2 * total)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_sweep_tells_of_itself_ten_times_and_a_short_one_once_a_night() {
        let told = |total: usize| -> Vec<usize> {
            let told = (1..=total).filter(|&finished| tenth_reached(finished, total));
            told.map(|finished| percent(finished, total)).collect()
        };
        assert_eq!(told(1000), [10, 20, 30, 40, 50, 60, 70, 80, 90, 100]);
        assert_eq!(told(3), [33, 67, 100]);
        assert_eq!(told(1), [100]);
    }
}
