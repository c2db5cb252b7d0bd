//! Small changes of one scenario, each made alone: which helps most.

use evenglass_simulation::Night;

use crate::comparison::{EQUAL_HOURS, Judged, correction, halfway, none_good, start_offset, table};
use crate::outcome::Outcome;
use crate::text::{notes_text, short, wrap};
use crate::wording::{plain, two_digits};

/// A figure that is better by less than this share is no better (a judgement, no source).
const SAME_FIGURE: f64 = 0.05;

/// What a change does, against the scenario as written.
#[derive(Debug, Clone, Copy)]
struct Effect<'n> {
    judged: Judged<'n>,
    /// More hours of good image while the scenario as written runs \[h\].
    gain_h: f64,
    /// Figure over the second half of that run \[nm\].
    figure_nm: f64,
    /// Excess over the limits there [-].
    over_limit: f64,
}

/// A table of what each change does, which helps most, and how to type it.
///
/// The first night is the scenario as written, each of the others one change of it with its
/// label.
///
/// * `options` — for each night the options that make it, in the same order
///
/// There is no final newline.
#[must_use]
pub fn changes_text(nights: &[(String, Night)], options: &[String]) -> String {
    let Some((base, effects)) = effects(nights) else {
        return "There is nothing to compare with.".to_owned();
    };
    let order = std::iter::once(base).chain(effects.iter().copied());
    let ordered: Vec<(String, Night)> =
        order.map(|e| (e.judged.label.to_owned(), e.judged.night.clone())).collect();
    let within = |night: &Night| good_hours_within(base.judged.night, night);
    let helping: Vec<Effect<'_>> =
        effects.iter().filter(|effect| helps(&base, effect)).copied().collect();
    let (blanks, built): (Vec<Effect<'_>>, Vec<Effect<'_>>) =
        helping.iter().copied().partition(|effect| is_another_blank(&base, effect));
    let mut words = vec![best(&base, &effects, &built)];
    words.extend(blanks.first().map(|blank| another_blank(&base, blank)));
    let first = built.first().or(blanks.first());
    words.extend(first.and_then(|first| correction(nights, first.judged, base.judged)));
    words.push("Each was changed alone; good hours count the time of the run as written.".into());
    let mut text = format!("{}\n{}", table(&ordered, within), wrap(&words.join(" "), 0));
    let option = |first: &Effect<'_>| {
        let place = nights.iter().position(|(label, _)| label == first.judged.label)?;
        options.get(place).map(|options| format!("\n\n{}: {options}", first.judged.label))
    };
    text.extend(first.and_then(option));
    text.extend(notes_text(nights.iter().map(|(_, night)| &night.warnings[..])));
    text
}

/// That of the scenario as written, and those of the changes, best first.
fn effects(nights: &[(String, Night)]) -> Option<(Effect<'_>, Vec<Effect<'_>>)> {
    let (first, others) = nights.split_first().filter(|(_, others)| !others.is_empty())?;
    let hours = good_hours_within(&first.1, &first.1);
    let judged = |one| {
        let (label, night): &(String, Night) = one;
        let outcome = Outcome::at(night, halfway(nights, night));
        Effect {
            judged: Judged { label, night },
            gain_h: good_hours_within(&first.1, night) - hours,
            figure_nm: outcome.figure_nm,
            over_limit: outcome.over_limit,
        }
    };
    let base = judged(first);
    let mut effects: Vec<Effect<'_>> = others.iter().map(judged).collect();
    // Hours in steps of what counts as equal, so that the figure can decide.
    let step = |effect: &Effect<'_>| (effect.gain_h / EQUAL_HOURS).round();
    let never = |effect: &Effect<'_>| effect.judged.night.good_intervals.is_empty();
    effects.sort_by(|a, b| {
        let excess = if never(a) && never(b) {
            a.over_limit.total_cmp(&b.over_limit)
        } else {
            std::cmp::Ordering::Equal
        };
        step(b).total_cmp(&step(a)).then(excess).then(a.figure_nm.total_cmp(&b.figure_nm))
    });
    Some((base, effects))
}

/// Hours of good image of a night while `base` runs.
fn good_hours_within(base: &Night, night: &Night) -> f64 {
    let offset = start_offset(base, night);
    let end = base.scenario.night.duration.seconds();
    let within = night.good_intervals.iter().map(|interval| {
        let (from, to) = (interval.from_s + offset, interval.to_s + offset);
        (to.min(end) - from.max(0.0)).max(0.0) / 3600.0
    });
    // A sum of nothing would be −0.
    within.fold(0.0, |sum, hours| sum + hours)
}

/// Whether a change adds good hours, or betters the figure where hours stay the same.
fn helps(base: &Effect<'_>, effect: &Effect<'_>) -> bool {
    effect.gain_h >= EQUAL_HOURS
        || (effect.gain_h > -EQUAL_HOURS && effect.figure_nm < (1.0 - SAME_FIGURE) * base.figure_nm)
}

/// Whether it takes another piece of glass: nobody makes the mirror that is there thinner.
fn is_another_blank(base: &Effect<'_>, effect: &Effect<'_>) -> bool {
    base.judged.night.scenario.mirror != effect.judged.night.scenario.mirror
}

/// "Best single change: seal the rim (+1.2 h); second: start 30 min earlier (+0.5 h)."
///
/// * `built` — those that help and need no other glass, best first
fn best(base: &Effect<'_>, effects: &[Effect<'_>], built: &[Effect<'_>]) -> String {
    let Some(first) = built.first() else {
        let mut all: Vec<Judged<'_>> = effects.iter().map(|effect| effect.judged).collect();
        all.insert(0, base.judged);
        let never = all.iter().all(|judged| judged.night.good_intervals.is_empty());
        let none = "None of these changes helps the mirror as it is.";
        return if never { format!("{none} {}", none_good(&all)) } else { none.to_owned() };
    };
    let lead = if first.gain_h >= EQUAL_HOURS {
        "Best single change"
    } else {
        "None adds good hours; best for the figure over the second half of the run"
    };
    let another = |effect: &&Effect<'_>| kind(effect.judged.label) != kind(first.judged.label);
    let second =
        built.iter().find(another).map(|second| format!("; second: {}", gain(base, second)));
    format!("{lead}: {}{}.", gain(base, first), second.unwrap_or_default())
}

/// A label without its numbers: the same change by another amount is no second one.
fn kind(label: &str) -> String {
    label.chars().filter(|c| !c.is_ascii_digit()).collect()
}

/// What a new mirror could be, and what is not known of it.
fn another_blank(base: &Effect<'_>, blank: &Effect<'_>) -> String {
    let thickness = |effect: &Effect<'_>| effect.judged.night.scenario.mirror.edge_thickness;
    let bends = if thickness(blank) < thickness(base) {
        "; how it bends on its supports is not computed"
    } else {
        ""
    };
    format!("With another blank: {}{bends}.", gain(base, blank))
}

/// "seal the rim (+1.2 h)".
fn gain(base: &Effect<'_>, effect: &Effect<'_>) -> String {
    let label = short(effect.judged.label, 40);
    if effect.gain_h >= EQUAL_HOURS {
        return format!("{label} (+{:.1} h)", effect.gain_h);
    }
    let [after, before] = [effect.figure_nm, base.figure_nm].map(|v| plain(two_digits(v)));
    format!("{label} ({after} nm RMS instead of {before})")
}
