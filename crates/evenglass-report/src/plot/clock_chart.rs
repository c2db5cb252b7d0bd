//! Panels that share the clock along the bottom: good stretches, events, hours.

use evenglass_simulation::Night;
use evenglass_simulation::result::{COLUMNS, Occasion, Record};
use evenglass_simulation::scenario::Profile;
use evenglass_simulation::scenario::scenario::{Cover, Scenario};

use crate::canvas::{Canvas, Pen};
use crate::lettering::{Anchor, Lettering};
use crate::plot::panel::{LEFT, Panel};
use crate::plot::profile::refocused;
use crate::plot::scale::{Range, clock_ticks};
use crate::plot::tags::{Placed, Room, Tag, placed};
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

/// The column of that name against time, with its extremes wherever they lie between the rows.
pub(super) fn column(night: &Night, name: &str) -> Vec<(f64, f64)> {
    let Some(at) = COLUMNS.iter().position(|column| column.name == name) else {
        return vec![];
    };
    let mut course = points(&night.history, COLUMNS[at].value);
    let ends = [night.minima.get(at), night.maxima.get(at)];
    for &(value, time) in ends.into_iter().flatten() {
        put(&mut course, (time, value));
    }
    course
}

/// Total figure error \[nm\] against time, with the worst instant wherever it lies.
pub(super) fn figure_error(night: &Night) -> Vec<(f64, f64)> {
    let mut course = points(&night.history, |r| 1e9 * r.image.total_rms_m);
    let worst = night.moments.iter().find(|moment| moment.what == Occasion::Worst);
    let found = worst.and_then(|moment| Some((moment.time_s, refocused(&moment.surface)?.rms_m)));
    if let Some((time, metres)) = found {
        put(&mut course, (time, 1e9 * metres));
    }
    course
}

/// Adds a point between two others; what is reached just before a jump stands before the row
/// that holds the value after it.
fn put(course: &mut Vec<(f64, f64)>, point: (f64, f64)) {
    let after = course.partition_point(|known| known.0 < point.0);
    let inside = after > 0 && after < course.len() && point.1.is_finite();
    // The row itself is no news.
    let known = course.get(after).is_some_and(|next| {
        let apart = (next.1 - point.1).abs();
        (next.0 - point.0).abs() < 1.0 && apart <= 1e-6 * next.1.abs().max(point.1.abs())
    });
    if inside && !known {
        course.insert(after, point);
    }
}

/// Shades the good stretches over all panels.
pub(super) fn good_stretches(canvas: &Canvas, night: &Night, panels: &[Panel]) {
    for panel in panels {
        for interval in &night.good_intervals {
            panel.stripe(canvas, interval.from_s, interval.to_s, GOOD.tint(TINT));
        }
    }
}

/// Where the first panel begins, below title, subtitle and notes \[px\].
pub(super) const TOP: f64 = 184.0;

/// How far above the first panel the rows of notes stand \[px\]: the nearest beside the
/// heading, the others above it.
const ROWS: [f64; 3] = [12.0, 39.0, 61.0];

/// Marks what the maker does during the night, fan speed and cover, and names it and the good
/// stretches in rows above the first panel, right of its heading, which ends at `heading_end`.
pub(super) fn notes(canvas: &Canvas, night: &Night, panels: &[Panel], heading_end: f64) {
    let Some(first) = panels.first() else {
        return;
    };
    let green = Lettering::new(size::SMALL, GOOD.for_words());
    let mut tags = marked(canvas, night, panels);
    tags.extend(night.good_intervals.iter().map(|interval| {
        let text = format!("good from {}", night.scenario.night.start.hm(interval.from_s));
        Tag { at: first.px(interval.from_s), text, things: 0, lettering: green }
    }));
    above(canvas, first, tags, heading_end);
}

/// The same without the good stretches, for a picture that says more of them.
pub(super) fn events(canvas: &Canvas, night: &Night, panels: &[Panel], heading_end: f64) {
    if let Some(first) = panels.first() {
        above(canvas, first, marked(canvas, night, panels), heading_end);
    }
}

/// A line through all panels wherever something is done, and its name.
fn marked(canvas: &Canvas, night: &Night, panels: &[Panel]) -> Vec<Tag> {
    let Some(first) = panels.first() else {
        return vec![];
    };
    let grey = Lettering::new(size::SMALL, QUIET);
    let mut tags: Vec<Tag> = Vec::new();
    for (seconds, text) in happenings(night) {
        if !(first.x.low..=first.x.high).contains(&seconds) {
            continue;
        }
        for panel in panels {
            let ends = vec![(seconds, panel.y.high), (seconds, panel.y.low)];
            panel.line(canvas, ends, Pen::dashed(AXIS, 1.8, 5.0, 5.0));
        }
        tags.push(Tag { at: first.px(seconds), text, things: 1, lettering: grey });
    }
    tags
}

/// Writes tags in rows above a panel, right of its heading or above it.
fn above(canvas: &Canvas, first: &Panel, tags: Vec<Tag>, heading_end: f64) {
    let room = Room {
        rows: ROWS.len(),
        first_left: heading_end + 14.0,
        left: first.left,
        right: canvas.size().0 - 12.0,
    };
    for Placed { tag, row, left, .. } in placed(tags, room, "changes") {
        let base = first.top - ROWS[row];
        canvas.words(&tag.text, (left, base), tag.lettering);
        if tag.things > 0 {
            // Up to its words, but not through the heading.
            let end = if tag.at > heading_end { first.top } else { first.top - ROWS[1] + 3.0 };
            let from = base - 0.7 * size::SMALL;
            if end > from {
                canvas.line(&[(tag.at, from), (tag.at, end)], Pen::new(AXIS, 1.8));
            }
        }
    }
}

/// Steps of fan speed and heater and changes of the cover, in order, with their names.
fn happenings(night: &Night) -> Vec<(f64, String)> {
    let conditions = &night.scenario.night;
    let speeds = points(&night.history, |r| r.fan_speed);
    let fans = steps(&conditions.fan_speed);
    let mut all: Vec<(f64, String)> =
        fans.map(|(seconds, speed)| (seconds, fan_state(&speeds, seconds, speed))).collect();
    all.extend(steps(&conditions.secondary_heater).map(|(seconds, power)| {
        let percent = (100.0 * power).round();
        let state = if percent > 0.0 { format!("{percent} %") } else { "off".to_owned() };
        (seconds, format!("heater {state}"))
    }));
    for (seconds, cover) in night.scenario.night.cover.iter().skip(1) {
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

/// Times \[s\] at which a profile jumps, and the value after each.
fn steps(profile: &Profile) -> impl Iterator<Item = (f64, f64)> {
    let pairs = profile.positions().windows(2).zip(profile.values().windows(2));
    let jumps = pairs.filter(|(times, values)| {
        times[0].total_cmp(&times[1]).is_eq() && (values[1] - values[0]).abs() > 1e-9
    });
    jumps.map(|(times, values)| (times[1], values[1]))
}

/// What the fan does from a time on \[s\] at which its speed is set to a fraction of full
/// speed: below their least speed motors stand.
///
/// * `speeds` — what it really does, against time
fn fan_state(speeds: &[(f64, f64)], seconds: f64, speed: f64) -> String {
    let percent = (100.0 * speed).round();
    if percent <= 0.0 {
        return "fan off".to_owned();
    }
    let then = speeds.iter().find(|row| row.0 >= seconds).map(|row| row.1);
    // Where nothing ever turns, the speed is only a part of the author's plan.
    let turns = speeds.iter().any(|row| row.1 > 0.0);
    if turns && then.is_some_and(|real| real <= 0.0) {
        return format!("fan stands at {percent} %");
    }
    format!("fan {percent} %")
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_the_jumps_of_a_profile_not_its_slopes() {
        let profile = Profile::new(vec![0.0, 60.0, 60.0, 90.0], vec![1.0, 1.0, 0.3, 0.8]);
        assert_eq!(steps(&profile).collect::<Vec<_>>(), [(60.0, 0.3)]);
    }

    #[test]
    fn a_fan_below_its_least_speed_is_said_to_stand() {
        let speeds = [(0.0, 1.0), (300.0, 0.0), (600.0, 0.5), (900.0, 0.5)];
        assert_eq!(fan_state(&speeds, 300.0, 0.2), "fan stands at 20 %");
        assert_eq!(fan_state(&speeds, 450.0, 0.5), "fan 50 %", "the first row after it");
        assert_eq!(fan_state(&speeds, 600.0, 0.0), "fan off");
        let plan = [(0.0, 0.0), (300.0, 0.0)];
        assert_eq!(fan_state(&plan, 0.0, 0.2), "fan 20 %", "no fan, no motor that stands");
    }

    #[test]
    fn an_extreme_between_two_rows_becomes_a_point_of_the_curve() {
        let rows = vec![(0.0, 0.0), (300.0, -2.0), (600.0, -1.0)];
        let with = |point| {
            let mut course = rows.clone();
            put(&mut course, point);
            course
        };
        assert_eq!(with((240.0, -2.5)), [(0.0, 0.0), (240.0, -2.5), (300.0, -2.0), (600.0, -1.0)]);
        let jump = with((300.0, 4.0));
        assert_eq!(jump[1..3], [(300.0, 4.0), (300.0, -2.0)], "before the row after the jump");
        for point in [(300.0, -2.0), (0.0, 9.0), (700.0, 9.0), (100.0, f64::NAN)] {
            assert_eq!(with(point), rows, "{point:?} adds nothing");
        }
    }
}
