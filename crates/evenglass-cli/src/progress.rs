//! How far a long computation has come, on standard error.

use std::io::{IsTerminal, stderr};
use std::sync::atomic::{AtomicUsize, Ordering};

use indicatif::{ProgressBar, ProgressStyle};

use crate::talk::{Talk, complain};

/// Counts finished nights and shows the count: a bar on a terminal, a line every
/// tenth of the way elsewhere, nothing when asked to be quiet.
#[derive(Debug)]
pub(crate) struct Progress {
    total: usize,
    finished: AtomicUsize,
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
        Self { total, finished: AtomicUsize::new(0), shown }
    }

    /// One more is finished. Safe to call from any thread.
    pub(crate) fn advance(&self) {
        let finished = self.finished.fetch_add(1, Ordering::Relaxed) + 1;
        match &self.shown {
            Shown::Bar(bar) => bar.inc(1),
            Shown::Lines => {
                if let Some(percent) = tenth_reached(finished, self.total) {
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

/// The multiple of ten per cent that finishing night number `finished` reaches, if any.
fn tenth_reached(finished: usize, total: usize) -> Option<usize> {
    let tenths = |count: usize| count * 10 / total.max(1);
    let now = tenths(finished);
    (now > tenths(finished - 1)).then_some(now * 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_sweep_tells_of_itself_ten_times_and_a_short_one_once_a_night() {
        let told = |total: usize| -> Vec<usize> {
            (1..=total).filter_map(|finished| tenth_reached(finished, total)).collect()
        };
        assert_eq!(told(1000), [10, 20, 30, 40, 50, 60, 70, 80, 90, 100]);
        assert_eq!(told(3), [30, 60, 100]);
        assert_eq!(told(1), [100]);
    }
}
