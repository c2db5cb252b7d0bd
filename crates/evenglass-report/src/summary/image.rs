//! What the mirror does to the image: figure, focus, shimmer.

use evenglass_simulation::Night;
use evenglass_simulation::image::{Blur, Image, WAVELENGTH_M, depth_of_focus};
use evenglass_simulation::result::{Criterion, Passing, Record};
use evenglass_simulation::scenario::Scenario;

use crate::wording::{
    compared, correction, lopsided, micrometres, minutes, moment, moments, nanometres, plain,
    two_digits,
};

/// The sky's own seeing where nothing is said of it \[arcsec\]: common practice, no source.
const USUAL_SKY: f64 = 2.0;

/// A focus that holds for this long \[s\] is not worth a number.
const LONG: f64 = 3600.0;

/// The share of that which is called nearly as long [-].
const NEARLY: f64 = 0.75;

/// A shimmer below this \[arcsec\] adds nothing that an eye sees (a judgement, no source).
const NO_SHIMMER: f64 = 0.02;

/// Nobody masks off more than this share of the diameter (a judgement, no source), and masks
/// are cut in steps of this \[m\].
const LEAST_MASK: f64 = 0.6;
const MASK_STEP: f64 = 5e-3;

/// What is said of the image, one sentence each; nothing where no image was computed.
pub(super) fn sentences(night: &Night) -> Vec<String> {
    let Some(row) = telling_row(night).filter(|row| row.image.total_rms_m.is_finite()) else {
        return vec![];
    };
    let watched = Watched::of(night);
    let all = [
        Some(state(night, row)),
        lopsided(&row.image),
        strehl(night, &watched),
        worst(night, &watched),
        shimmer(&night.scenario, &watched),
        focus(night, &watched),
        mask(night),
    ];
    all.into_iter().flatten().collect()
}

/// The rows in which one looks through the telescope: the good ones, else those of the
/// second half.
struct Watched<'n> {
    rows: Vec<&'n Record>,
    when: &'static str,
}

impl<'n> Watched<'n> {
    fn of(night: &'n Night) -> Self {
        let good: Vec<&Record> = night.history.iter().filter(|row| row.good).collect();
        if !good.is_empty() {
            return Self { rows: good, when: "While good" };
        }
        let half = 0.5 * night.scenario.night.duration.seconds();
        let late = night.history.iter().filter(|row| row.time_s >= half);
        Self { rows: late.collect(), when: "In the second half of the run" }
    }

    /// The middle one of the rows by a value that must be a number.
    fn typical(&self, value: impl Fn(&Image) -> f64) -> Option<f64> {
        let mut values: Vec<f64> = self.rows.iter().map(|row| value(&row.image)).collect();
        values.retain(|value| value.is_finite());
        values.sort_by(f64::total_cmp);
        values.get(values.len() / 2).copied()
    }
}

/// The row at which the mirror is ready, or halfway through where it is ready from the start
/// or never.
fn telling_row(night: &Night) -> Option<&Record> {
    let half = 0.5 * night.scenario.night.duration.seconds();
    let time = night.ready_at_s.filter(|&ready| ready > 0.0).unwrap_or(half);
    night.history.iter().find(|row| row.time_s >= time).or(night.history.last())
}

/// "At 22:40, when it becomes good, the front is 0.6 K warmer than the air; over-corrected by
/// 6 %, surface 12 nm RMS after refocusing; refocus every 12 min until 23:30."
fn state(night: &Night, row: &Record) -> String {
    let ready = night.ready_at_s.filter(|&ready| ready > 0.0);
    let at = moment(&night.scenario, ready.unwrap_or(row.time_s));
    let when = if ready.is_some() { ", when it becomes good," } else { "" };
    let air = compared(row.front_minus_air.kelvins(), "the air");
    let mut parts = vec![correction(100.0 * row.image.correction)];
    parts.push(Some(format!("surface {} RMS after refocusing", nanometres(row.image.total_rms_m))));
    let figure = parts.into_iter().flatten().collect::<Vec<_>>().join(", ");
    let refocus = refocus(night, row).map_or(String::new(), |text| format!("; {text}"));
    format!("At {at}{when} the front is {air}; {figure}{refocus}.")
}

/// How often to refocus from a row on; `None` where there is no focus.
fn refocus(night: &Night, row: &Record) -> Option<String> {
    if row.image.focus_shift_m.is_nan() {
        return None;
    }
    let often = |row: &&Record| row.image.refocus_s < LONG;
    let end = night.good_intervals.last().map_or(f64::INFINITY, |interval| interval.to_s);
    let later: Vec<&Record> =
        night.history.iter().filter(|r| r.time_s >= row.time_s && r.time_s <= end).collect();
    // Two rows in turn: one alone may be the short step that ends a run.
    let last = later.windows(2).rposition(|pair| pair.iter().all(often));
    let Some(last) = last.map(|start| start + 1) else {
        return Some("focus then holds for an hour or longer".to_owned());
    };
    let mut rates: Vec<f64> = later[..=last].iter().map(|row| row.image.refocus_s).collect();
    let first = rates.iter().copied().find(|rate| *rate < LONG).unwrap_or(LONG);
    rates.sort_by(f64::total_cmp);
    let usual = rates[rates.len() / 2].min(LONG);
    if first.min(usual) > NEARLY * LONG {
        return Some("refocus about once an hour".to_owned());
    }
    let until = later.get(last + 1).map(|row| moment(&night.scenario, row.time_s));
    let until = until.map_or(String::new(), |time| format!(" until {time}"));
    let [at_first, later] = [first, usual].map(|seconds| format!("every {}", interval(seconds)));
    Some(if (0.5..=2.0).contains(&(usual / first)) {
        format!("refocus {at_first}{until}")
    } else {
        format!("refocus {at_first} at first, mostly {later}{until}")
    })
}

/// A time between two refocusings.
fn interval(seconds: f64) -> String {
    if seconds < 60.0 { "minute".to_owned() } else { minutes(60.0 * two_digits(seconds / 60.0)) }
}

/// "While good the Strehl ratio of figure and mirror air is 0.94 typically, 0.97 at best."
fn strehl(night: &Night, watched: &Watched<'_>) -> Option<String> {
    let what = "the Strehl ratio of figure and mirror air is";
    let when = watched.when;
    let Some(typical) = watched.typical(|image| image.strehl) else {
        return Some(format!("{when} {what} below 0.3."));
    };
    let best = watched.rows.iter().filter(|row| row.image.strehl.is_finite());
    let best = best.max_by(|a, b| a.image.strehl.total_cmp(&b.image.strehl))?;
    let at = moment(&night.scenario, best.time_s);
    let [typical, highest] = [typical, best.image.strehl].map(|value| format!("{value:.2}"));
    let best = if typical == highest {
        String::new()
    } else {
        format!(" typically, {highest} at best, at {at}")
    };
    Some(format!("{when} {what} {typical}{best}."))
}

/// The worst figure, where it is not among the rows that have been told of.
fn worst(night: &Night, watched: &Watched<'_>) -> Option<String> {
    let rms = |row: &Record| row.image.total_rms_m;
    let all = night.history.iter().filter(|row| rms(row).is_finite());
    let worst = all.max_by(|a, b| rms(a).total_cmp(&rms(b)))?;
    let seen = watched.rows.iter().map(|row| rms(row)).fold(0.0, f64::max);
    (rms(worst) > 1.1 * seen).then(|| {
        let at = moment(&night.scenario, worst.time_s);
        let also = correction(100.0 * worst.image.correction);
        let also = also.map_or(String::new(), |text| format!(", {text}"));
        format!("The figure is at its worst at {at}: {} RMS{also}.", nanometres(rms(worst)))
    })
}

/// "While good, shimmer adds 0.3 (0.1-0.6) arcsec to your 2.0 arcsec sky."
fn shimmer(scenario: &Scenario, watched: &Watched<'_>) -> Option<String> {
    let own = scenario.site.as_ref().and_then(|site| site.seeing_arcsec);
    let sky = own.unwrap_or(USUAL_SKY);
    let to = match own {
        Some(sky) => format!("your {sky:.1} arcsec sky"),
        None => format!("a sky of {sky:.0} arcsec (`site.seeing` sets yours)"),
    };
    let of = |take: fn(&Blur) -> f64| watched.typical(|image| take(&image.seeing));
    let typical = Blur { value: of(|b| b.value)?, low: of(|b| b.low)?, high: of(|b| b.high)? };
    let most = watched.rows.iter().map(|row| row.image.seeing);
    let most = most.filter(|b| b.value.is_finite()).max_by(|a, b| a.value.total_cmp(&b.value))?;
    let when = watched.when;
    let alone = alone(typical.value, most.value);
    let [typical, most] = [typical, most].map(|blur| added(sky, &blur));
    if most.high < NO_SHIMMER {
        return Some(format!("{when} the mirror's own air adds no shimmer to speak of."));
    }
    let [usual, highest] = [typical, most].map(|blur| banded(&blur));
    Some(if typical.value < NO_SHIMMER {
        format!("{when} shimmer adds at most {highest} arcsec to {to}, mostly nothing; {alone}.")
    } else if usual == highest {
        format!("{when} shimmer adds {usual} arcsec to {to}; {alone}.")
    } else {
        format!("{when} shimmer adds {usual} arcsec, at most {highest} arcsec, to {to}; {alone}.")
    })
}

/// "alone it blurs by 0.2 to 0.5 arcsec".
fn alone(typical: f64, most: f64) -> String {
    let [typical, most] = [typical, most].map(|blur| plain(two_digits(blur)));
    if typical == most {
        return format!("alone it blurs by {most} arcsec");
    }
    format!("alone it blurs by {typical} to {most} arcsec")
}

/// What a blur adds to the sky's: independent air adds to the power 5/3.
fn added(sky: f64, blur: &Blur) -> Blur {
    let more = |blur: f64| (sky.powf(5.0 / 3.0) + blur.powf(5.0 / 3.0)).powf(0.6) - sky;
    Blur { value: more(blur.value), low: more(blur.low), high: more(blur.high) }
}

/// "0.3 (0.1–0.6)".
fn banded(blur: &Blur) -> String {
    let [value, low, high] = [blur.value, blur.low, blur.high].map(|v| plain(two_digits(v)));
    format!("{value} ({low}–{high})")
}

/// How far the focus moves, and what the tube has in it.
fn focus(night: &Night, watched: &Watched<'_>) -> Option<String> {
    let ratio = night.scenario.mirror.focal_ratio?;
    let (first, last) = (watched.rows.first()?, watched.rows.last()?);
    let tube = |row: &Record| Some(row.image.tube_focus_m).filter(|shift| shift.is_finite());
    let whole = |row: &Record| row.image.focus_shift_m + tube(row).unwrap_or(0.0);
    let span = moments(&night.scenario, (first.time_s, last.time_s), "to");
    let places = || watched.rows.iter().map(|row| whole(row));
    let range = places().fold(f64::MIN, f64::max) - places().fold(f64::MAX, f64::min);
    let depth = depth_of_focus(ratio, WAVELENGTH_M);
    if range <= depth {
        let depth = micrometres(depth);
        return Some(format!("From {span} the focus moves less than its depth of {depth}."));
    }
    let net = whole(last) - whole(first);
    let glass = last.image.focus_shift_m - first.image.focus_shift_m;
    let shares = match (tube(first), tube(last)) {
        (Some(a), Some(b)) => {
            format!(
                "from first to last glass {}, tube {}",
                signed_length(glass),
                signed_length(b - a)
            )
        }
        _ => "by the glass alone".to_owned(),
    };
    let way = if net > 0.0 { "away from" } else { "toward" };
    if net.abs() < 0.7 * range {
        let range = micrometres(range);
        return Some(format!("From {span} the focus wanders over {range} ({shares})."));
    }
    let net = micrometres(net);
    Some(format!("From {span} the focus moves {net} {way} the mirror ({shares})."))
}

/// "Masked to 300 mm the figure is good from 20:35 on.", where the figure alone is waited for.
fn mask(night: &Night) -> Option<String> {
    let figure = |passing: &&Passing| passing.criterion == Criterion::Figure;
    let met = &night.passing.iter().find(figure)?.stretches;
    let until = match night.good_intervals.first() {
        Some(first) if first.begun_by == Some(Criterion::Figure) => first.from_s,
        None if met.is_empty() => night.scenario.night.duration.seconds(),
        _ => return None,
    };
    let least = LEAST_MASK * night.scenario.mirror.diameter.metres();
    let waiting = night.history.iter().rev().filter(|row| row.time_s < until);
    let wide = waiting.take_while(|row| row.image.good_aperture_m >= least);
    let rows: Vec<&Record> = wide.collect();
    let first = rows.last()?;
    if until - first.time_s < night.scenario.good.held_for.seconds() {
        return None;
    }
    let narrowest = rows.iter().map(|row| row.image.good_aperture_m).fold(f64::MAX, f64::min);
    let aperture = (narrowest / MASK_STEP).floor() * MASK_STEP * 1e3;
    let from = match first.time_s {
        0.0 => "the start".to_owned(),
        time => moment(&night.scenario, time),
    };
    Some(format!("Masked to {aperture:.0} mm the figure is good from {from} on."))
}

fn signed_length(metres: f64) -> String {
    if metres.abs() < 0.5e-6 {
        return "0".to_owned();
    }
    format!("{}{}", if metres < 0.0 { "−" } else { "+" }, micrometres(metres))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// (2^(5/3) + 1^(5/3))^(3/5) = (3.1748 + 1)^0.6 = 2.3571, by hand.
    #[test]
    fn shimmer_adds_to_the_sky_to_the_power_of_five_thirds() {
        let blur = Blur { value: 1.0, low: 0.0, high: 2.0 };
        let more = added(2.0, &blur);
        assert!((more.value - 0.3571).abs() < 1e-3, "{more:?}");
        assert!(more.low.abs() < 1e-12, "no blur adds nothing: {more:?}");
        // Twice the same: 2 · 2^0.6 − 2.
        assert!((more.high - 1.0314).abs() < 1e-3, "{more:?}");
        assert_eq!(banded(&more), "0.4 (0–1.0)");
    }

    #[test]
    fn a_time_between_refocusings_has_no_seconds() {
        assert_eq!(interval(12.0), "minute");
        assert_eq!(interval(733.0), "12 min");
        assert_eq!(interval(3300.0), "55 min");
    }
}
