//! Ranges and ticks: round numbers, and round clock times.

use evenglass_simulation::scenario::Clock;

use crate::wording::day;

/// A stretch of an axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Range {
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Range {
    /// The range of the finite values, with some air around them, at least `least` wide.
    pub(super) fn around(values: impl IntoIterator<Item = f64>, least: f64) -> Self {
        let finite = values.into_iter().filter(|v| v.is_finite());
        let (low, high) = finite
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
        if low > high {
            return Self { low: 0.0, high: least };
        }
        let middle = f64::midpoint(low, high);
        let half = (0.54 * (high - low)).max(0.5 * least);
        Self { low: middle - half, high: middle + half }
    }

    /// How far it reaches.
    pub(super) fn span(self) -> f64 {
        self.high - self.low
    }

    /// Where `value` lies, 0 at the low end and 1 at the high end.
    pub(super) fn share(self, value: f64) -> f64 {
        (value - self.low) / self.span()
    }
}

/// Round values inside a range, and how to write them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ticks {
    pub(super) values: Vec<f64>,
    decimals: usize,
}

impl Ticks {
    /// About `wanted` multiples of a round step.
    pub(super) fn in_range(range: Range, wanted: u32) -> Self {
        let step = round_step(range.span() / f64::from(wanted.max(1)));
        let first = (range.low / step - 1e-9).ceil();
        let last = (range.high / step + 1e-9).floor();
        let mut values = Vec::new();
        let mut multiple = first;
        while multiple <= last && values.len() < 100 {
            values.push(multiple * step);
            multiple += 1.0;
        }
        Self { values, decimals: decimals(step) }
    }

    /// Ticks at these values, which are written by the caller.
    pub(super) fn at(values: Vec<f64>) -> Self {
        Self { values, decimals: 0 }
    }

    /// A tick as text, with a real minus sign.
    pub(super) fn text(&self, value: f64) -> String {
        let rounded = value + 0.0;
        let text = format!("{rounded:.*}", self.decimals);
        if text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') {
            return "0".to_owned();
        }
        text.replace('-', "−")
    }

    /// A tick as text, with its sign always shown.
    pub(super) fn signed(&self, value: f64) -> String {
        let text = self.text(value);
        if value > 0.0 && text != "0" { format!("+{text}") } else { text }
    }
}

/// 1, 2 or 5 times a power of ten, at least `least`.
fn round_step(least: f64) -> f64 {
    let least = if least.is_finite() && least > 0.0 { least } else { 1.0 };
    let power = 10_f64.powf(least.log10().floor());
    let factor = [1.0, 2.0, 5.0, 10.0].into_iter().find(|f| f * power >= least * (1.0 - 1e-9));
    factor.unwrap_or(10.0) * power
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a small whole number by construction"
)]
fn decimals(step: f64) -> usize {
    (-(step * 1.000_001).log10().floor()).clamp(0.0, 12.0) as usize
}

/// A tick of a clock axis.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ClockTick {
    /// From the start of the run \[s\].
    pub(super) seconds: f64,
    /// "22:00".
    pub(super) time: String,
    /// The day, at the first tick of each in runs over 24 h.
    pub(super) day: Option<String>,
}

/// Round clock times of a run of `duration` seconds, at most about ten of them.
pub(super) fn clock_ticks(clock: &Clock, duration: f64) -> Vec<ClockTick> {
    const STEPS_MIN: [f64; 12] =
        [1.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 180.0, 240.0, 360.0, 720.0, 1440.0];
    let step = STEPS_MIN.into_iter().find(|m| m * 60.0 * 9.5 >= duration).unwrap_or(1440.0) * 60.0;
    let start = clock.at(0.0);
    let of_day = f64::from(start.hour()) * 3600.0
        + f64::from(start.minute()) * 60.0
        + f64::from(start.second());
    let mut seconds = (of_day / step).ceil() * step - of_day;
    let mut ticks = Vec::new();
    let mut last_day = String::new();
    while seconds <= duration + 1.0 && ticks.len() < 100 {
        let mut shown = None;
        if duration > 86_400.0 {
            let today = day(clock, seconds);
            if today != last_day {
                shown = Some(today.clone());
                last_day = today;
            }
        }
        ticks.push(ClockTick { seconds, time: clock.hm(seconds), day: shown });
        seconds += step;
    }
    ticks
}

/// Positions near `wanted` inside `low..high`, in the same order, at least `gap` apart or as far
/// as they have room.
pub(super) fn spread(wanted: &[f64], gap: f64, low: f64, high: f64) -> Vec<f64> {
    let between = f64::from(u32::try_from(wanted.len().max(2) - 1).unwrap_or(u32::MAX));
    let gap = gap.min((high - low) / between);
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|&a, &b| wanted[a].total_cmp(&wanted[b]));
    // Neighbours that would collide become one block around the mean of what they wanted.
    let mut blocks: Vec<(f64, f64, usize)> = Vec::new();
    for &i in &order {
        let mut block = (wanted[i], 1.0, 1);
        loop {
            let half = gap * (block.1 - 1.0) / 2.0;
            block.0 = block.0.min(high - half).max(low + half);
            let Some(&(centre, count, members)) = blocks.last() else {
                break;
            };
            if block.0 - centre >= gap * (count + block.1) / 2.0 {
                break;
            }
            blocks.pop();
            let total = count + block.1;
            block = ((centre * count + block.0 * block.1) / total, total, members + block.2);
        }
        blocks.push(block);
    }
    let mut placed = vec![0.0; wanted.len()];
    let mut next = order.into_iter();
    for (centre, count, members) in blocks {
        let mut at = centre - gap * (count - 1.0) / 2.0;
        for i in next.by_ref().take(members) {
            placed[i] = at;
            at += gap;
        }
    }
    placed
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_have_a_real_minus_sign() {
        let ticks = Ticks::in_range(Range { low: -1.3, high: 0.4 }, 4);
        let texts: Vec<String> = ticks.values.iter().map(|&v| ticks.text(v)).collect();
        assert_eq!(texts, ["−1.0", "−0.5", "0"]);
        let fine = Ticks::in_range(Range { low: 0.0, high: 1e-9 }, 4);
        assert!(fine.values.len() >= 3, "even a tiny range has ticks");
    }

    #[test]
    fn a_range_of_equal_values_is_as_wide_as_asked() {
        let range = Range::around([5.0, 5.0 + 1e-12, f64::NAN], 1.0);
        assert!((range.span() - 1.0).abs() < 1e-9, "span {}", range.span());
        assert!(Range::around([], 1.0).span() > 0.0, "no values still give an axis");
    }

    #[test]
    fn labels_move_apart_and_keep_their_order() {
        let placed = spread(&[10.0, 11.0, 12.0, 90.0], 20.0, 0.0, 100.0);
        assert!(placed.windows(2).all(|w| w[1] - w[0] >= 20.0 - 1e-9), "{placed:?}");
        assert!(placed[0] >= 0.0 && (placed[3] - 90.0).abs() < 1e-9, "{placed:?}");
        let crowded = spread(&[50.0, 97.0, 98.0, 99.0, 99.5, 99.6], 20.0, 0.0, 100.0);
        assert!(crowded.windows(2).all(|w| w[1] - w[0] >= 20.0 - 1e-9), "{crowded:?}");
        assert!(crowded[0] >= -1e-9 && crowded[5] <= 100.0 + 1e-9, "{crowded:?}");
        let full = spread(&[1.0; 11], 20.0, 0.0, 100.0);
        assert!(full.windows(2).all(|w| w[1] - w[0] >= 10.0 - 1e-9), "{full:?}");
    }
}
