//! Alternatives side by side, in a table and one sentence.

use std::cmp::Ordering;

use evenglass_simulation::Night;

use crate::summary::largest_spread;
use crate::text::{aligned, short, wrap};
use crate::wording::{hours, kelvins, minutes, moment, plain, signed};

/// Nights whose good hours differ by less than this \[h\] are called equal: film
/// coefficients are not known well enough to tell six minutes apart (a judgement, no source).
const EQUAL_HOURS: f64 = 0.1;

/// Nights whose fronts end this near to one another \[K\] are called equal (a judgement, no source).
const EQUAL_LAG: f64 = 0.1;

/// A table of the alternatives and a sentence on which is better and by how much.
///
/// Each night goes with its label. There is no final newline.
#[must_use]
pub fn comparison_text(nights: &[(String, Night)]) -> String {
    let head = ["", "ready", "good", "edge − centre", "spread", "front − air"];
    let units = ["", "", "", "worst once ready", "largest", "at the end"];
    let mut rows = vec![head.map(str::to_owned).to_vec(), units.map(str::to_owned).to_vec()];
    rows.extend(nights.iter().map(|(label, night)| row(label, night)));
    let mut words = verdict(nights);
    if nights.iter().any(|(_, night)| night.ready_at_s.is_none()) {
        words.push_str(
            " Edge minus centre in brackets: never ready, worst of the run's second half.",
        );
    }
    for note in notes(nights) {
        words.push(' ');
        words.push_str(&note);
    }
    format!("{}\n{}", aligned(&rows), wrap(&words, 0))
}

/// What makes the nights hard to compare.
pub(crate) fn notes(nights: &[(String, Night)]) -> Vec<String> {
    let lengths = || nights.iter().map(|(_, night)| night.scenario.night.duration.seconds());
    let (shortest, longest) = (lengths().fold(f64::MAX, f64::min), lengths().fold(0.0, f64::max));
    if longest - shortest < 1.0 {
        return vec![];
    }
    vec![format!(
        "The runs are not equally long ({} to {}), and good hours count only what each covers.",
        minutes(shortest),
        minutes(longest),
    )]
}

/// The largest edge-to-centre difference once ready; in brackets that of the second
/// half of a night that never is.
fn worst_edge(night: &Night) -> String {
    let worst = signed(night.worst_late_edge.0);
    if night.ready_at_s.is_some() { format!("{worst} K") } else { format!("({worst} K)") }
}

fn row(label: &str, night: &Night) -> Vec<String> {
    let unit = |text: String| format!("{text} K");
    let end = night.history.last().map(|r| r.front_minus_air.kelvins());
    vec![
        short(label, 36),
        night.ready_at_s.map_or("never".to_owned(), |t| moment(&night.scenario, t)),
        hours(night.good_hours()),
        worst_edge(night),
        unit(plain(largest_spread(night))),
        end.map_or("–".to_owned(), |v| unit(signed(v))),
    ]
}

/// Which is better and by how much; says so when the difference means nothing.
fn verdict(nights: &[(String, Night)]) -> String {
    let mut ranked: Vec<&(String, Night)> = nights.iter().collect();
    ranked.sort_by(|a, b| rank(&a.1, &b.1));
    let [(best_label, best), (next_label, next), ..] = ranked[..] else {
        return "There is nothing to compare with.".to_owned();
    };
    let (best_label, next_label) = (short(best_label, 60), short(next_label, 60));
    if best.good_intervals.is_empty() {
        return none_good(nights);
    }
    let gain = best.good_hours() - next.good_hours();
    if next.good_intervals.is_empty() {
        let others = if nights.len() > 2 { "none of the others is" } else { "the other never is" };
        return format!("Better: {best_label}, good for {}; {others}.", hours(best.good_hours()));
    }
    let earlier = match (best.ready_at_s, next.ready_at_s) {
        (Some(a), Some(b)) => earlier_by(best, a, next, b),
        _ => 0.0,
    };
    if gain < EQUAL_HOURS && earlier.abs() < EQUAL_HOURS * 3600.0 {
        let all = if ranked.iter().all(|(_, n)| equal(best, n)) && nights.len() > 2 {
            "The alternatives are".to_owned()
        } else {
            format!("{best_label} and {next_label} are")
        };
        return format!("{all} equally good: good hours and readiness differ by less than 6 min.");
    }
    let when = match earlier {
        e if e.abs() < 60.0 => "ready at the same time".to_owned(),
        e if e > 0.0 => format!("ready {} earlier", minutes(e)),
        e => format!("ready {} later", minutes(e)),
    };
    if gain < EQUAL_HOURS {
        return format!(
            "{best_label} and {next_label} are good for as long; {best_label} is {when}."
        );
    }
    let place = if nights.len() > 2 { "Best" } else { "Better" };
    format!("{place}: {best_label}, good {} longer than {next_label} and {when}.", hours(gain))
}

/// By how much \[s\] `best` is ready earlier on the clock, whenever the two runs start.
fn earlier_by(best: &Night, best_s: f64, next: &Night, next_s: f64) -> f64 {
    next_s + start_offset(best, next) - best_s
}

/// Seconds by which `other` starts later on the clock than `first`, within half a day.
pub(crate) fn start_offset(first: &Night, other: &Night) -> f64 {
    let of_day = |night: &Night| {
        let time = night.scenario.night.start.at(0.0);
        f64::from(time.hour()) * 3600.0 + f64::from(time.minute()) * 60.0 + f64::from(time.second())
    };
    let day = 86_400.0;
    (of_day(other) - of_day(first) + day / 2.0).rem_euclid(day) - day / 2.0
}

fn none_good(nights: &[(String, Night)]) -> String {
    let end = |night: &Night| {
        night.history.last().map_or(f64::INFINITY, |r| r.front_minus_air.kelvins().abs())
    };
    let mut ranked: Vec<(&str, f64)> =
        nights.iter().map(|(label, night)| (label.as_str(), end(night))).collect();
    ranked.sort_by(|a, b| a.1.total_cmp(&b.1));
    match ranked[..] {
        [(best, lag), (_, next), ..] if lag.is_finite() && next - lag >= EQUAL_LAG => format!(
            "None becomes good in this run. At its end the front is nearest to the air, within {}, \
             with {}; next comes {}.",
            kelvins(lag),
            short(best, 60),
            kelvins(next),
        ),
        _ => "None becomes good in this run for as long as `good.held_for` asks, and at its end none \
              is nearer to the air."
            .to_owned(),
    }
}

fn equal(a: &Night, b: &Night) -> bool {
    let ready = match (a.ready_at_s, b.ready_at_s) {
        (Some(s), Some(t)) => (s - t - start_offset(a, b)).abs() < EQUAL_HOURS * 3600.0,
        (None, None) => true,
        _ => false,
    };
    ready && (a.good_hours() - b.good_hours()).abs() < EQUAL_HOURS
}

/// Better first: more good hours, then ready earlier, then less spread.
fn rank(a: &Night, b: &Night) -> Ordering {
    let ready = |night: &Night| night.ready_at_s.unwrap_or(f64::INFINITY);
    b.good_hours()
        .total_cmp(&a.good_hours())
        .then(ready(a).total_cmp(&(ready(b) + start_offset(a, b))))
        .then(largest_spread(a).total_cmp(&largest_spread(b)))
}
