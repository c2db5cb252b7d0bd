//! The night in plain words, the answer first.

use evenglass_simulation::Night;
use evenglass_simulation::result::{COLUMNS, Ending, GoodInterval, Record};
use evenglass_simulation::scenario::Side;

use crate::flow::flow;
use crate::text::{short, wrap};
use crate::wording::{
    compared, hours, kelvins, minutes, mirror, moment, moments, night as span, plain, signed,
    two_digits,
};

/// What must always be said, whatever the result.
pub const CAUTIONS: &str = "\
A design aid, not a guarantee. Keep sunlight off an uncovered mirror: it is a fire
and eye hazard. Near dew, run fans from a fused low-voltage supply; mains work is
for qualified people, to local codes. Guard the blades. Foam, adhesives and filters
must be rated for use near motors and heaters. Two people lift heavy glass.";

/// Stretches named one by one before the rest is only counted.
const STRETCHES_NAMED: usize = 5;

/// The summary for the terminal: answer, what differs when, heat, warnings, cautions.
///
/// Lines are at most about 80 columns wide; there is no final newline.
#[must_use]
pub fn summary_text(night: &Night) -> String {
    let mut parts = vec![heading(night), wrap(&answer(night), 0)];
    let state = [middle(night), approach(night), edge(night), heat(night), flow(night)];
    let state: Vec<String> = state.into_iter().flatten().map(|s| wrap(&s, 0)).collect();
    if !state.is_empty() {
        parts.push(state.join("\n"));
    }
    if !night.warnings.is_empty() {
        parts.push(warnings(night));
    }
    parts.push(CAUTIONS.to_owned());
    parts.join("\n\n")
}

/// What was computed, in two lines.
fn heading(night: &Night) -> String {
    let case = format!("{}; {}.", mirror(&night.scenario), span(&night.scenario));
    format!("{}\n{}", short(&night.scenario.title, 78), wrap(&case, 0))
}

/// When it is good and what stops it.
fn answer(night: &Night) -> String {
    let good = &night.scenario.good;
    let limit = plain(good.front_minus_air.map_or(0.5, |k| k.kelvins()));
    let held = minutes(good.held_for.seconds());
    let Some(first) = night.good_intervals.first() else {
        return never_good(night);
    };
    let mut sentences = vec![format!("Good {} ({}).", stretches(night), hours(night.good_hours()))];
    if first.from_s > 0.0 {
        sentences.push(before_good(night, first.from_s));
    }
    let ends = night.good_intervals.iter().filter(|i| matches!(i.ended_by, Ending::Missed(_)));
    sentences.extend(ends.take(2).map(|interval| {
        let way = direction(night, interval.to_s);
        format!("At {} it becomes too {way}.", moment(&night.scenario, interval.to_s))
    }));
    sentences
        .push(format!("Good means: the front within {limit} K of the air for at least {held}."));
    sentences.join(" ")
}

/// Why there is no good stretch, and how near the night comes to one.
fn never_good(night: &Night) -> String {
    let limit = night.scenario.good.front_minus_air.map_or(0.5, |k| k.kelvins());
    let end = moment(&night.scenario, night.scenario.night.duration.seconds());
    let never = format!("Not good at any time before the run ends at {end}.");
    let Some((nearest, at)) = nearest_to_air(night) else {
        return never;
    };
    let (at, allowed) = (moment(&night.scenario, at), plain(limit));
    if nearest > limit {
        let nearest = kelvins(nearest);
        return format!(
            "{never} The front comes no closer to the air than {nearest}, at {at}; the limit is \
             {allowed} K."
        );
    }
    let held = minutes(night.scenario.good.held_for.seconds());
    let within = |last: &Record| last.front_minus_air.kelvins().abs() <= limit;
    if night.history.last().is_some_and(within) {
        return format!(
            "{never} The front is within {allowed} K of the air then, but not yet for {held}: a \
             longer run may become good."
        );
    }
    format!(
        "{never} The front comes within {allowed} K of the air, as at {at}, but does not stay \
         there for {held}."
    )
}

/// The least size of front minus air \[K\], and its time \[s\].
fn nearest_to_air(night: &Night) -> Option<(f64, f64)> {
    let column = column("front_minus_air_k")?;
    let (low, high) = (night.minima.get(column)?, night.maxima.get(column)?);
    // Where it changes sign on the way it is looked for in the rows.
    let rows = night.history.iter().map(|r| (r.front_minus_air.kelvins(), r.time_s));
    let all = rows.chain([*low, *high]).map(|(value, time)| (value.abs(), time));
    all.min_by(|a, b| a.0.total_cmp(&b.0))
}

/// The place of a column in the extremes.
fn column(name: &str) -> Option<usize> {
    COLUMNS.iter().position(|column| column.name == name)
}

/// "from 22:40 to 03:10 and from 03:50 to the end of the run at 04:00".
fn stretches(night: &Night) -> String {
    let intervals = &night.good_intervals;
    let one = |interval: &GoodInterval| {
        let word = match interval.ended_by {
            Ending::Missed(_) => "to",
            Ending::EndOfRun => "to the end of the run at",
        };
        format!("from {}", moments(&night.scenario, (interval.from_s, interval.to_s), word))
    };
    let mut named: Vec<String> = intervals.iter().take(STRETCHES_NAMED).map(one).collect();
    if intervals.len() > STRETCHES_NAMED {
        named.push(format!("in {} more stretches", intervals.len() - STRETCHES_NAMED));
    }
    let last = named.pop().unwrap_or_default();
    if named.is_empty() { last } else { format!("{} and {last}", named.join(", ")) }
}

/// What keeps the first stretch from beginning earlier.
fn before_good(night: &Night, from_s: f64) -> String {
    let limit = night.scenario.good.front_minus_air.map_or(0.5, |k| k.kelvins());
    let from = moment(&night.scenario, from_s);
    let held = minutes(night.scenario.good.held_for.seconds());
    let earlier = night.history.iter().filter(|r| r.time_s < from_s);
    let lags: Vec<f64> = earlier.map(|r| r.front_minus_air.kelvins()).collect();
    let briefly = if lags.iter().any(|lag| lag.abs() <= limit) {
        format!(" but for stretches shorter than {held}")
    } else {
        String::new()
    };
    if lags.iter().all(|&lag| lag >= -limit) {
        format!("Until {from} the front is too warm{briefly}.")
    } else if lags.iter().all(|&lag| lag <= limit) {
        format!("Until {from} the front is too cold{briefly}.")
    } else {
        format!("Before {from} the front does not stay within {} K for {held}.", plain(limit))
    }
}

/// Whether the front is too warm or too cold just after it left the limits at a time \[s\].
fn direction(night: &Night, seconds: f64) -> &'static str {
    let after = night.history.iter().find(|r| r.time_s >= seconds);
    if after.is_some_and(|r| r.front_minus_air.kelvins() < 0.0) { "cold" } else { "warm" }
}

fn nearest(history: &[Record], seconds: f64) -> Option<&Record> {
    let distance = |r: &Record| (r.time_s - seconds).abs();
    history.iter().min_by(|a, b| distance(a).total_cmp(&distance(b)))
}

/// What differs half-way through.
fn middle(night: &Night) -> Option<String> {
    let record = nearest(&night.history, night.scenario.night.duration.seconds() / 2.0)?;
    Some(format!(
        "At {} the front is {}, the edge is {}, and the warmest and coldest points of the glass \
         are {} apart.",
        moment(&night.scenario, record.time_s),
        compared(record.front_minus_air.kelvins(), "the air"),
        compared((record.mid_edge - record.mid_centre).kelvins(), "the centre"),
        kelvins(record.spread.kelvins()),
    ))
}

/// When the mean of the glass first comes near the air, and whether it stays.
fn approach(night: &Night) -> Option<String> {
    let lag = |r: &Record| (r.mean - r.air).kelvins().abs();
    let first = night.history.first()?;
    if lag(first) <= 0.5 {
        let how = match parted(night, lag, 0.0) {
            None => "stays within 0.5 K of the air throughout".to_owned(),
            Some(later) => format!("starts within 0.5 K of the air{later}"),
        };
        return Some(format!("The mean of the glass {how}."));
    }
    let said = |limit: f64| {
        first_below(&night.history, lag, limit).map(|t| match t {
            0.0 => "from the start".to_owned(),
            t => format!("at {}", moment(&night.scenario, t)),
        })
    };
    let reached = [0.5, 1.0].into_iter().find_map(|limit| first_below(&night.history, lag, limit));
    let later = reached.and_then(|time| parted(night, lag, time)).unwrap_or_default();
    let text = match (said(1.0), said(0.5)) {
        (None, _) => "does not come within 1 K of the air".to_owned(),
        (Some(one), None) => format!("comes within 1 K of the air {one}, but not within 0.5 K"),
        (Some(one), Some(half)) => {
            format!("comes within 1 K of the air {one} and within 0.5 K {half}")
        }
    };
    Some(format!("The mean of the glass {text}{later}."))
}

/// How far the glass and the air part again after a time \[s\] at which they were near.
fn parted(night: &Night, lag: impl Fn(&Record) -> f64, from_s: f64) -> Option<String> {
    let later = night.history.iter().filter(|r| r.time_s > from_s);
    let most = later.max_by(|a, b| lag(a).total_cmp(&lag(b)))?;
    let near = if lag(most) <= 1.0 { 0.5 } else { 1.0 };
    // Where it never came nearer than 1 K, up to there it has not parted.
    let held = night.history.iter().filter(|r| r.time_s >= from_s).map(&lag).next()?.max(near);
    (lag(most) > 1.05 * held).then(|| {
        format!(
            ", but later it is up to {} from it again, at {}",
            kelvins(lag(most)),
            moment(&night.scenario, most.time_s)
        )
    })
}

/// The first time \[s\] at which `value` is at most `limit`, linear between rows.
fn first_below(history: &[Record], value: impl Fn(&Record) -> f64, limit: f64) -> Option<f64> {
    let at = history.iter().position(|r| value(r) <= limit)?;
    let after = &history[at];
    let Some(before) = at.checked_sub(1).and_then(|i| history.get(i)) else {
        return Some(after.time_s);
    };
    let (v0, v1) = (value(before), value(after));
    Some(before.time_s + (after.time_s - before.time_s) * (v0 - limit) / (v0 - v1))
}

/// The largest spread \[K\]; NaN where there is none.
pub(crate) fn largest_spread(night: &Night) -> f64 {
    column("spread_k").and_then(|n| night.maxima.get(n)).map_or(f64::NAN, |most| most.0)
}

/// The largest edge-to-centre difference, over the run and once ready.
fn edge(night: &Night) -> Option<String> {
    let column = column("edge_minus_centre_k")?;
    let (low, high) = (night.minima.get(column)?, night.maxima.get(column)?);
    let (value, time) = if low.0.abs() > high.0.abs() { low } else { high };
    if value.abs() < 0.005 {
        return Some("Edge and centre stay within 0.01 K of each other.".to_owned());
    }
    let later = night
        .ready_at_s
        .map(|_| night.worst_late_edge.0)
        .filter(|worst| worst.abs() < 0.95 * value.abs())
        .map(|worst| format!("; once the mirror is ready it stays within {}", kelvins(worst)));
    Some(format!(
        "Edge minus centre reaches {} K, at {}{}. It is not a measure of the figure.",
        signed(*value),
        moment(&night.scenario, *time),
        later.unwrap_or_default(),
    ))
}

/// Less heat than this \[J\] is a rounding error or not worth a sentence.
const NO_HEAT_J: f64 = 1.0;

/// Air that changes by less than this [K/h] is called steady.
const STEADY_AIR: f64 = 0.05;

/// Heat given off, and how far from the air the glass is then.
fn heat(night: &Night) -> Option<String> {
    let last = night.history.last()?;
    let kilojoules = two_digits(last.heat_lost_j.abs() / 1000.0);
    let verb = if last.heat_lost_j < 0.0 { "taken up" } else { "given off" };
    let state = compared((last.mean - last.air).kelvins(), "the air");
    let air = &night.scenario.night.air;
    let before = (last.time_s - 600.0).max(0.0);
    let hours = ((last.time_s - before) / 3600.0).max(f64::MIN_POSITIVE);
    let rate = (air.at(last.time_s, Side::Before) - air.at(before, Side::After)) / hours;
    let still = match rate {
        r if r < -STEADY_AIR => format!(", which still falls by {} K/h", plain(r.abs())),
        r if r > STEADY_AIR => format!(", which rises by {} K/h", plain(r)),
        _ => String::new(),
    };
    let by = moment(&night.scenario, last.time_s);
    if last.heat_lost_j.abs() < NO_HEAT_J {
        return Some(format!("By {by} the glass has neither given off nor taken up heat."));
    }
    Some(format!("By {by} the glass has {verb} {kilojoules} kJ; its mean is then {state}{still}."))
}

fn warnings(night: &Night) -> String {
    let line = |w: &evenglass_simulation::result::Warning| {
        wrap(&format!("- {} [{}]", short(w.text.trim_end_matches('.'), 400), w.code), 2)
    };
    let lines: Vec<String> = night.warnings.iter().map(line).collect();
    format!("Please note:\n{}", lines.join("\n"))
}
