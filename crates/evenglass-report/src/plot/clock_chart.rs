//! Panels that share the clock along the bottom: good stretches, events, hours.

use evenglass_simulation::Night;
use evenglass_simulation::result::{COLUMNS, Record};
use evenglass_simulation::scenario::scenario::{Cover, Scenario};

use crate::canvas::{Canvas, Pen};
use crate::lettering::{Anchor, Lettering, width};
use crate::plot::panel::{LEFT, Panel};
use crate::plot::scale::{Range, clock_ticks};
use crate::style::{AXIS, GOOD, QUIET, size};

/// Room for names at the right of the curves \[px\].
pub(super) const NAMES: f64 = 270.0;

/// How strongly good stretches are coloured.
pub(super) const TINT: f64 = 0.13;

/// A panel over the whole clock axis of a sheet.
pub(super) fn panel(canvas: &Canvas, top: f64, bottom: f64, x: Range, y: Range) -> Panel {
    Panel { left: LEFT, top, right: canvas.size().0 - NAMES, bottom, x, y }
}

/// From the start to the end of the run \[s\].
pub(super) fn whole_run(scenario: &Scenario) -> Range {
    Range { low: 0.0, high: scenario.night.duration.seconds().max(1.0) }
}

/// One quantity against time, finite values only.
pub(super) fn points(history: &[Record], value: impl Fn(&Record) -> f64) -> Vec<(f64, f64)> {
    let all = history.iter().map(|r| (r.time_s, value(r)));
    all.filter(|(t, v)| t.is_finite() && v.is_finite()).collect()
}

/// The column of that name against time.
pub(super) fn column(night: &Night, name: &str) -> Vec<(f64, f64)> {
    let column = COLUMNS.iter().find(|c| c.name == name);
    column.map_or_else(Vec::new, |c| points(&night.history, c.value))
}

/// Shades the good stretches over all panels.
pub(super) fn good_stretches(canvas: &Canvas, night: &Night, panels: &[Panel]) {
    for panel in panels {
        for interval in &night.good_intervals {
            panel.stripe(canvas, interval.from_s, interval.to_s, GOOD.tint(TINT));
        }
    }
}

/// What stands above a moment of the first panel.
struct Note {
    seconds: f64,
    /// How far to the right it may move to find room \[s\].
    until: f64,
    text: String,
    lettering: Lettering,
}

/// Marks what the maker does during the night, fan speed and cover, and names it and the good
/// stretches in a row above the first panel, right of its heading, which ends at `heading_end`.
pub(super) fn notes(canvas: &Canvas, night: &Night, panels: &[Panel], heading_end: f64) {
    let Some(first) = panels.first() else {
        return;
    };
    let grey = Lettering::new(size::SMALL, QUIET).anchored(Anchor::Middle);
    let green = Lettering::new(size::SMALL, GOOD.for_words());
    let mut notes: Vec<Note> = Vec::new();
    for (seconds, text) in happenings(&night.scenario) {
        if !(first.x.low..=first.x.high).contains(&seconds) {
            continue;
        }
        for panel in panels {
            let ends = vec![(seconds, panel.y.high), (seconds, panel.y.low)];
            panel.line(canvas, ends, Pen::dashed(AXIS, 1.8, 5.0, 5.0));
        }
        notes.push(Note { seconds, until: seconds, text, lettering: grey });
    }
    for interval in &night.good_intervals {
        let text = format!("good from {}", night.scenario.night.start.hm(interval.from_s));
        let (seconds, until) = (interval.from_s, interval.to_s);
        notes.push(Note { seconds, until, text, lettering: green });
    }
    // What the maker does comes first; good stretches move right to where there is room.
    let mut taken = vec![(0.0, heading_end + 14.0)];
    for note in notes {
        let wide = width(&note.text, note.lettering);
        let (start, end) = (first.px(note.seconds), first.px(note.until));
        let (mut x, last_x) = match note.lettering.anchor {
            Anchor::Middle => (start - wide / 2.0, start - wide / 2.0),
            _ => (start, (end - wide).max(start)),
        };
        taken.sort_by(|a: &(f64, f64), b| a.0.total_cmp(&b.0));
        for &(left, right) in &taken {
            if x < right && x + wide + 18.0 > left {
                x = right;
            }
        }
        if x <= last_x && x + wide < canvas.size().0 - 12.0 {
            let plain = note.lettering.anchored(Anchor::Left);
            canvas.words(&note.text, (x, first.top - 12.0), plain);
            taken.push((x, x + wide + 18.0));
        }
    }
}

/// Steps of the fan speed and changes of the cover, in order, with their names.
fn happenings(scenario: &Scenario) -> Vec<(f64, String)> {
    let fan = &scenario.night.fan_speed;
    let mut all: Vec<(f64, String)> = Vec::new();
    let places: Vec<(f64, f64)> =
        fan.positions().iter().copied().zip(fan.values().iter().copied()).collect();
    for pair in places.windows(2) {
        let ((t0, v0), (t1, v1)) = (pair[0], pair[1]);
        if t0.total_cmp(&t1).is_eq() && (v1 - v0).abs() > 1e-9 {
            let percent = (100.0 * v1).round();
            let state = if percent <= 0.0 { "fan off".into() } else { format!("fan {percent} %") };
            all.push((t1, state));
        }
    }
    for (seconds, cover) in scenario.night.cover.iter().skip(1) {
        let state = match cover {
            Cover::On => "cover on",
            Cover::Vented => "cover vented",
            Cover::Off => "cover off",
        };
        all.push((*seconds, state.to_owned()));
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut merged: Vec<(f64, String)> = Vec::new();
    for (seconds, state) in all {
        match merged.last_mut() {
            Some((last, states)) if (seconds - *last).abs() < 1.0 => {
                states.push_str(", ");
                states.push_str(&state);
            }
            _ => merged.push((seconds, state)),
        }
    }
    merged
}

/// The clock along the bottom of the lowest panel, with small ticks on all of them.
pub(super) fn clock_axis(canvas: &Canvas, scenario: &Scenario, panels: &[Panel]) {
    let Some(lowest) = panels.last() else {
        return;
    };
    let ticks = clock_ticks(&scenario.night.start, lowest.x.high);
    let places: Vec<f64> = ticks.iter().map(|tick| tick.seconds).collect();
    let (last, above) = (panels.len() - 1, String::new());
    for (i, panel) in panels.iter().enumerate() {
        panel.x_axis(canvas, &places, |seconds| {
            let tick = ticks.iter().find(|tick| tick.seconds.total_cmp(&seconds).is_eq());
            tick.filter(|_| i == last).map_or(&above, |tick| &tick.time).clone()
        });
    }
    let label = Lettering::new(size::TICK, QUIET).anchored(Anchor::Middle);
    for tick in &ticks {
        if let Some(day) = &tick.day {
            canvas.words(day, (lowest.px(tick.seconds), lowest.bottom + 57.0), label);
        }
    }
    let name = Lettering::new(size::TICK, QUIET);
    canvas.words("local clock", (lowest.right + 52.0, lowest.bottom + 31.0), name);
}
