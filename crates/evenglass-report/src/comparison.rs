//! Alternatives side by side, in a table and a few sentences.

use evenglass_simulation::Night;
use evenglass_simulation::result::Criterion;

use crate::criteria::{late_mean, measured, noun, with_unit};
use crate::outcome::Outcome;
use crate::text::{aligned, listed, notes_text, short, wrap};
use crate::wording::{hours, minutes, moment, nanometres, plain, signed, two_digits};

/// Nights whose good hours differ by less than this \[h\] are called equal: film
/// coefficients are not known well enough to tell six minutes apart (a judgement, no source).
pub(crate) const EQUAL_HOURS: f64 = 0.1;

/// Figures nearer to each other than this share are called equal (a judgement, no source).
const EQUAL_FIGURE: f64 = 0.05;

/// A change of correction below this \[percent points\] is not told of.
const NO_CORRECTION: f64 = 1.0;

/// Characters of a label in the table.
const LABEL: usize = 23;

/// Refocusing less often than this \[min\] is not worth a number.
const SELDOM: f64 = 60.0;

/// A night and what it is called.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Judged<'n> {
    pub(crate) label: &'n str,
    pub(crate) night: &'n Night,
}

/// A table of the alternatives, and in words which is better, by how much, and what it does to
/// the correction.
///
/// Each night goes with its label. There is no final newline.
#[must_use]
pub fn comparison_text(nights: &[(String, Night)]) -> String {
    let mut words = vec![verdict(nights)];
    words.extend(notes(nights));
    let mut text = format!("{}\n{}", table(nights, Night::good_hours), wrap(&words.join(" "), 0));
    text.extend(notes_text(nights.iter().map(|(_, night)| &night.warnings[..])));
    text
}

/// The table and what its columns mean.
///
/// * `hours` — of good image, as they count here
pub(crate) fn table(nights: &[(String, Night)], hours: impl Fn(&Night) -> f64) -> String {
    let head = ["", "ready", "good", "figure", "correc-", "refocus", "shimmer", "edge −"];
    let units = ["", "", "h", "nm RMS", "tion %", "min", "arcsec", "centre K"];
    let mut rows = vec![head.map(str::to_owned).to_vec(), units.map(str::to_owned).to_vec()];
    rows.extend(
        nights
            .iter()
            .map(|(label, night)| row(label, (night, hours(night)), halfway(nights, night))),
    );
    let mut text = aligned(&rows);
    if let Some((_, first)) = nights.first() {
        let at = moment(&first.scenario, 0.5 * first.scenario.night.duration.seconds());
        let meaning = format!(
            "Figure: mean of the second half of the run. Correction (+ is over-corrected), refocus, \
             shimmer, edge: at {at}."
        );
        text += &wrap(&meaning, 0);
        text.push('\n');
    }
    text
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

/// The time \[s\] of a night at which the clock shows what it shows halfway through the first.
pub(crate) fn halfway(nights: &[(String, Night)], night: &Night) -> f64 {
    nights.first().map_or(0.0, |(_, first)| {
        0.5 * first.scenario.night.duration.seconds() - start_offset(first, night)
    })
}

fn row(label: &str, (night, hours): (&Night, f64), at: f64) -> Vec<String> {
    let outcome = Outcome::at(night, at);
    let value = |name: &str| outcome.halfway(name);
    let digits = |value: f64| plain(two_digits(value));
    vec![
        short(label, LABEL),
        night.ready_at_s.map_or("never".to_owned(), |t| moment(&night.scenario, t)),
        format!("{hours:.1}"),
        digits(outcome.figure_nm),
        signed(two_digits(value("correction_percent"))),
        seldom(night, value("refocus_minutes")),
        digits(value("seeing_arcsec")),
        signed(value("edge_minus_centre_k")),
    ]
}

/// Minutes between refocusings; a focus that does not move needs none.
pub(crate) fn seldom(night: &Night, minutes: f64) -> String {
    match minutes {
        _ if night.scenario.mirror.focal_ratio.is_none() => "–".to_owned(),
        m if m < SELDOM => plain(two_digits(m)),
        _ => format!("{SELDOM:.0}+"),
    }
}

/// The nights, best first.
pub(crate) fn ranked(nights: &[(String, Night)]) -> Vec<Judged<'_>> {
    let Some((_, first)) = nights.first() else { return vec![] };
    let outcomes: Vec<(Outcome, f64)> = nights
        .iter()
        .map(|(_, night)| (Outcome::from(night), start_offset(first, night)))
        .collect();
    let mut places: Vec<usize> = (0..nights.len()).collect();
    places.sort_by(|&a, &b| {
        let later = outcomes[b].1 - outcomes[a].1;
        outcomes[a].0.rank(&outcomes[b].0, later)
    });
    // Among those that are as good as the best the figure decides.
    let good = |place: usize| &nights[place].1;
    let tied = places.iter().take_while(|&&place| equal(good(places[0]), good(place))).count();
    if !good(places[0]).good_intervals.is_empty() {
        let figure = |place: &usize| outcomes[*place].0.figure_nm;
        places[..tied].sort_by(|a, b| figure(a).total_cmp(&figure(b)));
    }
    let judged = |place: usize| {
        let (label, night) = &nights[place];
        Judged { label, night }
    };
    places.into_iter().map(judged).collect()
}

/// Which is better and by how much; says so when the difference means nothing.
fn verdict(nights: &[(String, Night)]) -> String {
    let ranked = ranked(nights);
    let [best, next, ..] = ranked[..] else {
        return "There is nothing to compare with.".to_owned();
    };
    let mut sentences = if best.night.good_intervals.is_empty() {
        vec![none_good(&ranked)]
    } else {
        let tied = ranked.iter().take_while(|other| equal(best.night, other.night)).count();
        if tied > 1 { ties(&ranked, tied) } else { vec![lead(best, next, ranked.len())] }
    };
    sentences.extend(correction(nights, best, next));
    sentences.join(" ")
}

/// By how much the best leads the next.
fn lead(best: Judged<'_>, next: Judged<'_>, count: usize) -> String {
    let [first, second] = [best.label, next.label].map(|label| short(label, 60));
    let gain = best.night.good_hours() - next.night.good_hours();
    if next.night.good_intervals.is_empty() {
        let others = if count > 2 { "none of the others is" } else { "the other never is" };
        return format!("Better: {first}, good for {}; {others}.", hours(best.night.good_hours()));
    }
    let earlier = match (best.night.ready_at_s, next.night.ready_at_s) {
        (Some(a), Some(b)) => b + start_offset(best.night, next.night) - a,
        _ => 0.0,
    };
    let when = match earlier {
        e if e.abs() < 60.0 => "ready at the same time".to_owned(),
        e if e > 0.0 => format!("ready {} earlier", minutes(e)),
        e => format!("ready {} later", minutes(e)),
    };
    if gain < EQUAL_HOURS {
        return format!("{first} and {second} are good for as long; {first} is {when}.");
    }
    let place = if count > 2 { "Best" } else { "Better" };
    format!("{place}: {first}, good {} longer than {second} and {when}.", hours(gain))
}

/// The first `tied` are good for as long: their figures, and who comes after them.
fn ties(ranked: &[Judged<'_>], tied: usize) -> Vec<String> {
    let labels: Vec<&str> = ranked[..tied].iter().map(|judged| judged.label).collect();
    let all = if tied == ranked.len() && tied > 2 {
        "The alternatives are".to_owned()
    } else {
        format!("{} are", listed(&labels))
    };
    let mut sentences =
        vec![format!("{all} equally good: good hours and readiness differ by less than 6 min.")];
    sentences.push(figures(&ranked[..tied]));
    if let Some(after) = ranked.get(tied) {
        let less = ranked[0].night.good_hours() - after.night.good_hours();
        let label = short(after.label, 60);
        sentences.push(format!("Next comes {label}, good {} less.", hours(less.max(0.0))));
    }
    sentences
}

/// Whose figure is best in the second half of the run.
fn figures(tied: &[Judged<'_>]) -> String {
    let mean = |judged: &Judged<'_>| late_mean(judged.night, |row| row.image.total_rms_m);
    let mut by_figure: Vec<(f64, &Judged<'_>)> = tied.iter().map(|j| (mean(j), j)).collect();
    by_figure.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (best, next, last) = (&by_figure[0], &by_figure[1], by_figure[by_figure.len() - 1].0);
    let apart = |worse: f64| worse - best.0 > EQUAL_FIGURE * best.0;
    let half = "over the second half of the run";
    match (apart(next.0), apart(last)) {
        (true, _) => format!(
            "The figure is best with {}: {} RMS {half}, {} with {}.",
            short(best.1.label, 60),
            nanometres(best.0),
            nanometres(next.0),
            short(next.1.label, 60)
        ),
        (false, true) => format!(
            "Their figures differ, from {} to {} RMS {half}.",
            nanometres(best.0),
            nanometres(last)
        ),
        (false, false) => {
            format!("Their figures are the same, {} RMS {half}.", nanometres(best.0))
        }
    }
}

/// What none of them meets, and which is nearest to it in the second half of the run.
pub(crate) fn none_good(ranked: &[Judged<'_>]) -> String {
    let none = "None becomes good in this run.";
    let far = |judged: &Judged<'_>, criterion: Criterion| {
        late_mean(judged.night, |row| measured(judged.night, criterion, row).0)
    };
    let [best, next, ..] = ranked[..] else { return none.to_owned() };
    let ratio = |criterion: Criterion| {
        late_mean(best.night, |row| {
            let (value, limit) = measured(best.night, criterion, row);
            value / limit
        })
    };
    let criteria = best.night.passing.iter().map(|passing| passing.criterion);
    let Some(criterion) = criteria.max_by(|&a, &b| ratio(a).total_cmp(&ratio(b))) else {
        return none.to_owned();
    };
    let values = [far(&best, criterion), far(&next, criterion)];
    let what = noun(criterion);
    if values[1] - values[0] <= EQUAL_FIGURE * values[0] {
        return format!("{none} What is missing is the {what}, and there none is clearly nearer.");
    }
    let [nearest, second] = values.map(|value| with_unit(criterion, value));
    let limit = best.night.history.first().map_or(f64::NAN, |row| {
        let (_, limit) = measured(best.night, criterion, row);
        limit
    });
    format!(
        "{none} What is missing is the {what}: nearest is {}, with {nearest} on average over the \
         second half (limit {}); next comes {} with {second}.",
        short(best.label, 60),
        with_unit(criterion, limit),
        short(next.label, 60),
    )
}

/// By how much the next over-corrects more or less than the best, where that matters.
pub(crate) fn correction(
    nights: &[(String, Night)],
    best: Judged<'_>,
    next: Judged<'_>,
) -> Option<String> {
    let percent = |judged: Judged<'_>| {
        Outcome::at(judged.night, halfway(nights, judged.night)).halfway("correction_percent")
    };
    let (ours, theirs) = (percent(best), percent(next));
    let change = theirs - ours;
    if change.is_nan() || change.abs() < NO_CORRECTION {
        return None;
    }
    let at = moment(&best.night.scenario, halfway(nights, best.night));
    let more = if change > 0.0 { "more" } else { "less" };
    let [ours, theirs] = [ours, theirs].map(|value| signed(two_digits(value)));
    Some(format!(
        "At {at} {} over-corrects by {} % {more} than {} ({theirs} % against {ours} %).",
        short(next.label, 60),
        plain(two_digits(change.abs())),
        short(best.label, 60),
    ))
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

fn equal(a: &Night, b: &Night) -> bool {
    let ready = match (a.ready_at_s, b.ready_at_s) {
        (Some(s), Some(t)) => (s - t - start_offset(a, b)).abs() < EQUAL_HOURS * 3600.0,
        (None, None) => true,
        _ => false,
    };
    ready && (a.good_hours() - b.good_hours()).abs() < EQUAL_HOURS
}
