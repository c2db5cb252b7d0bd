//! Temperatures and heat: how near the glass is to the air and to itself.

use evenglass_simulation::Night;
use evenglass_simulation::result::Record;
use evenglass_simulation::scenario::Side;

use super::column;
use crate::wording::{compared, kelvins, moment, plain, signed, two_digits};

/// When the mean of the glass first comes near the air, and whether it stays.
pub(super) fn approach(night: &Night) -> Option<String> {
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

/// The largest edge-to-centre difference, over the run and once ready.
pub(super) fn edge(night: &Night) -> Option<String> {
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
pub(super) fn heat(night: &Night) -> Option<String> {
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
