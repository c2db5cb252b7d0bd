//! When the image is good, and how it is at the instants that matter.

use evenglass_simulation::Night;
use evenglass_simulation::image::Blur;
use evenglass_simulation::result::{Criterion, Ending, GoodInterval, Moment, Occasion, Record};
use serde_json::{Map, Value, json};

use super::columns;
use crate::criteria::noun;

/// The good stretches with what began and ended each.
pub(super) fn good_intervals(night: &Night) -> Value {
    let one = |interval: &GoodInterval| {
        let mut told = stretch(night, (interval.from_s, interval.to_s));
        told.insert("begun_by".to_owned(), json!(interval.begun_by.map(noun)));
        told.insert("ended_by".to_owned(), json!(ending(interval.ended_by)));
        Value::Object(told)
    };
    night.good_intervals.iter().map(one).collect()
}

/// When each criterion is met, whether or not the others are.
pub(super) fn passing(night: &Night) -> Value {
    let mut map = Map::new();
    for passing in &night.passing {
        let stretches = passing.stretches.iter().map(|&s| Value::Object(stretch(night, s)));
        map.insert(key(passing.criterion).to_owned(), stretches.collect());
    }
    Value::Object(map)
}

/// The instants of the pictures, each with the row of the history that is nearest to it.
pub(super) fn moments(night: &Night) -> Value {
    let one = |moment: &Moment| {
        let away = |row: &&Record| (row.time_s - moment.time_s).abs();
        let row = night.history.iter().min_by(|a, b| away(a).total_cmp(&away(b)));
        json!({
            "what": match moment.what {
                Occasion::Worst => "worst figure",
                Occasion::Ready => "ready",
            },
            "time": night.scenario.night.start.hm(moment.time_s),
            "time_s": moment.time_s,
            "nearest_row_s": row.map(|row| row.time_s),
            "nearest_row": row.map(columns),
            "total_figure_rms_nm": row.map(|row| 1e9 * row.image.total_rms_m),
        })
    };
    night.moments.iter().map(one).collect()
}

/// The bands in which the columns that have one are likely to lie: at the end, and over the
/// rows of the history.
pub(super) fn bands(night: &Night) -> Value {
    let rows = || night.history.iter().map(|row| row.image.seeing);
    let band = |low: f64, high: f64| json!({ "low": low, "high": high });
    let of = |pick: fn(f64, f64) -> f64| {
        let all = |end: fn(&Blur) -> f64| rows().map(|b| end(&b)).fold(f64::NAN, pick);
        band(all(|b| b.low), all(|b| b.high))
    };
    let end = rows().next_back();
    json!({
        "seeing_arcsec": {
            "end": end.map(|b| band(b.low, b.high)),
            "min": of(f64::min),
            "max": of(f64::max),
        },
    })
}

fn stretch(night: &Night, (from_s, to_s): (f64, f64)) -> Map<String, Value> {
    let clock = &night.scenario.night.start;
    let told = json!({
        "from": clock.hm(from_s),
        "to": clock.hm(to_s),
        "from_s": from_s,
        "to_s": to_s,
    });
    if let Value::Object(map) = told { map } else { Map::new() }
}

/// The name of a criterion as a key.
fn key(criterion: Criterion) -> &'static str {
    match criterion {
        Criterion::Figure => "figure",
        Criterion::Shimmer => "shimmer",
        Criterion::Dew => "dew",
        Criterion::FrontMinusAir => "front_minus_air",
    }
}

fn ending(ending: Ending) -> &'static str {
    match ending {
        Ending::Missed(criterion) => noun(criterion),
        Ending::EndOfRun => "end of run",
    }
}
