//! When the image is good, and what stops it.

use evenglass_simulation::Night;
use evenglass_simulation::result::{Criterion, Ending, GoodInterval, Passing, Record};

use crate::criteria::{measured, with_unit, worst};
use crate::wording::{hours, minutes, moment, moments, nanometres, plain};

/// Stretches named one by one before the rest is only counted.
const STRETCHES_NAMED: usize = 5;

/// "Good from 22:40 to 03:10 (4.5 h). Stopped by: figure until 22:40, shimmer at 03:10.", and
/// what good means.
pub(super) fn answer(night: &Night) -> String {
    let meaning = meaning(night);
    if night.good_intervals.is_empty() {
        return format!("{} {meaning}", never_good(night));
    }
    let mut sentences = vec![format!("Good {} ({}).", stretches(night), hours(night.good_hours()))];
    let stops = stops(night);
    if !stops.is_empty() {
        sentences.push(format!("Stopped by: {}.", joined(&stops)));
    }
    sentences.push(meaning);
    sentences.join(" ")
}

/// What the author wants of a good image.
fn meaning(night: &Night) -> String {
    let good = &night.scenario.good;
    let mut wanted = vec![
        format!("the surface within {} RMS after refocusing", nanometres(good.figure_rms.metres())),
        format!("shimmer within {} arcsec", plain(good.shimmer_arcsec)),
    ];
    let humid = night.scenario.night.dew_point.is_some();
    let margin = plain(good.dew_margin.kelvins());
    wanted.extend(humid.then(|| format!("all faces {margin} K above their dew point")));
    let front = good.front_minus_air.map(|limit| plain(limit.kelvins()));
    wanted.extend(front.map(|limit| format!("the front within {limit} K of the air")));
    let held = minutes(good.held_for.seconds());
    let dew = if humid { "" } else { " (dew is not judged: the night tells no dew point)" };
    format!("Good means: {}, for at least {held}{dew}.", wanted.join(", "))
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

/// What stopped the image, and when.
type Stop = (&'static str, String);

/// "figure until 22:40, shimmer at 03:10", what comes twice in turn named once.
fn joined(stops: &[Stop]) -> String {
    let name = |(index, (what, when)): (usize, &Stop)| {
        let again = index > 0 && stops[index - 1].0 == *what;
        if again { when.clone() } else { format!("{what} {when}") }
    };
    stops.iter().enumerate().map(name).collect::<Vec<_>>().join(", ")
}

/// What kept the image from being good, in the order of the clock.
fn stops(night: &Night) -> Vec<Stop> {
    let clock = |seconds: f64| moment(&night.scenario, seconds);
    let Some(first) = night.good_intervals.first() else { return vec![] };
    let mut stops = before(night, first.from_s);
    for pair in night.good_intervals.windows(2).take(STRETCHES_NAMED - 1) {
        let (from, to) = (pair[0].to_s, pair[1].from_s);
        let Ending::Missed(ended) = pair[0].ended_by else { continue };
        match pair[1].begun_by {
            Some(begun) if begun != ended => {
                stops.push((word(night, ended, from), format!("from {}", clock(from))));
                stops.push((word(night, begun, from), format!("until {}", clock(to))));
            }
            _ => {
                let span = moments(&night.scenario, (from, to), "to");
                stops.push((word(night, ended, from), format!("from {span}")));
            }
        }
    }
    let named = night.good_intervals.len() <= STRETCHES_NAMED;
    if let Some(last) = night.good_intervals.last().filter(|_| named)
        && let Ending::Missed(criterion) = last.ended_by
    {
        stops.push((word(night, criterion, last.to_s), format!("at {}", clock(last.to_s))));
    }
    stops
}

/// What the first stretch waited for, each with the time at which it was met.
fn before(night: &Night, from_s: f64) -> Vec<Stop> {
    let met_since = |passing: &Passing| {
        let around = |stretch: &&(f64, f64)| stretch.0 <= from_s && from_s < stretch.1;
        passing.stretches.iter().find(around).map(|stretch| (stretch.0, passing.criterion))
    };
    let mut waited: Vec<(f64, Criterion)> =
        night.passing.iter().filter_map(met_since).filter(|(since, _)| *since > 0.0).collect();
    waited.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut stops: Vec<Stop> = waited
        .iter()
        .map(|&(since, criterion)| {
            let name = word(night, criterion, row_before(night, since));
            (name, format!("until {}", moment(&night.scenario, since)))
        })
        .collect();
    let met = |row: &&Record| row.time_s < from_s && worst(night, row) <= 1.0;
    if let Some((_, last)) = stops.last_mut().filter(|_| night.history.iter().any(|row| met(&row)))
    {
        let held = minutes(night.scenario.good.held_for.seconds());
        last.push_str(" (but for stretches shorter than ");
        last.push_str(&held);
        last.push(')');
    }
    stops
}

/// Time \[s\] of the last row before a time \[s\].
fn row_before(night: &Night, seconds: f64) -> f64 {
    let rows = night.history.iter().filter(|row| row.time_s < seconds);
    rows.map(|row| row.time_s).fold(0.0, f64::max)
}

/// What missed at a time \[s\], as a noun.
fn word(night: &Night, criterion: Criterion, seconds: f64) -> &'static str {
    match criterion {
        Criterion::Figure => "figure",
        Criterion::Shimmer => "shimmer",
        Criterion::Dew => {
            let row = night.history.iter().find(|row| row.time_s >= seconds);
            let margins = row.map(|r| (r.dew_margin_primary, r.dew_margin_secondary));
            let secondary = margins.is_some_and(|(primary, secondary)| secondary < primary);
            if secondary { "dew on the secondary" } else { "dew on the primary" }
        }
        Criterion::FrontMinusAir => {
            let row = night.history.iter().find(|row| row.time_s >= seconds);
            let cold = row.is_some_and(|row| row.front_minus_air.kelvins() < 0.0);
            if cold { "front too cold" } else { "front too warm" }
        }
    }
}

/// Why there is no good stretch, and how near the night comes to one.
fn never_good(night: &Night) -> String {
    let end = moment(&night.scenario, night.scenario.night.duration.seconds());
    let never = format!("Not good at any time before the run ends at {end}.");
    let ranked = night.history.iter().map(|row| (worst(night, row), row));
    let nearest = ranked.min_by(|a, b| a.0.total_cmp(&b.0)).filter(|(ratio, _)| ratio.is_finite());
    let Some((ratio, row)) = nearest else { return never };
    let at = moment(&night.scenario, row.time_s);
    if ratio > 1.0 {
        return format!("{never} Nearest at {at}: {}.", misses(night, row).join(", "));
    }
    let held = minutes(night.scenario.good.held_for.seconds());
    if night.history.last().is_some_and(|last| worst(night, last) <= 1.0) {
        return format!(
            "{never} It is good then, but not yet for {held}: a longer run may become good."
        );
    }
    format!("{never} It is good at times, as at {at}, but never for {held} on end.")
}

/// What misses at an instant, and by how much.
fn misses(night: &Night, row: &Record) -> Vec<String> {
    let miss = |passing: &Passing| {
        let criterion = passing.criterion;
        let (value, limit) = measured(night, criterion, row);
        let word = word(night, criterion, row.time_s);
        let by = match criterion {
            Criterion::FrontMinusAir => "by ",
            Criterion::Dew => "with a margin of ",
            Criterion::Figure | Criterion::Shimmer => "",
        };
        (value > limit).then(|| {
            let [value, limit] = [value, limit].map(|v| with_unit(criterion, v));
            format!("{word} {by}{value} (limit {limit})")
        })
    };
    night.passing.iter().filter_map(miss).collect()
}
