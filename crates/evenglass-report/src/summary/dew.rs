//! Dew and frost in words.

use evenglass_simulation::Night;
use evenglass_simulation::dew::{DewNight, Indoors, MirrorDew, Remedies};

use crate::wording::{minutes, moment, plain, signed, two_digits};

/// What the dew does to the mirrors, one sentence or two each; nothing where the night does not
/// tell its humidity.
pub(super) fn sentences(night: &Night) -> Vec<String> {
    let Some(dew) = &night.dew else { return vec![] };
    let mirrors = named(dew).into_iter();
    let mut all: Vec<String> = mirrors.map(|(name, mirror)| told(night, name, mirror)).collect();
    all.extend(indoors(&dew.indoors));
    all
}

fn named(dew: &DewNight) -> Vec<(&'static str, &MirrorDew)> {
    let secondary = dew.secondary.as_ref().map(|mirror| ("The secondary", mirror));
    [Some(("The primary", &dew.primary)), secondary].into_iter().flatten().collect()
}

/// "The secondary is wet from 03:10 and fogged from 03:25, for 1 h 10 min; 0.4 W would keep it
/// dry."
fn told(night: &Night, name: &str, mirror: &MirrorDew) -> String {
    let clock = |seconds: f64| moment(&night.scenario, seconds);
    let water = if mirror.frost { "frost" } else { "dew" };
    let side = if mirror.worst_margin_k < 0.0 { "below" } else { "above" };
    let margin = format!("{} K {side} the {water} point", plain(mirror.worst_margin_k.abs()));
    let at = clock(mirror.worst_at_s);
    let remedies = mirror.remedies.as_ref().map_or(String::new(), |r| remedies(night, r));
    let Some(from) = mirror.dew_from_s else {
        let barely = if remedies.is_empty() { "" } else { ", but barely" };
        return format!("{name} stays dry{barely}: at its coldest {margin}, at {at}{remedies}.");
    };
    let fog = match mirror.fogged_from_s {
        Some(fog) => {
            format!("fogged from {}, for {} in all", clock(fog), minutes(mirror.fogged_s))
        }
        None => "though not so much that it is seen".to_owned(),
    };
    let from = clock(from);
    format!(
        "{name} gathers {water} from {from}, {fog}; at its coldest {margin}, at {at}{remedies}."
    )
}

/// What would have kept the margin that is asked for.
fn remedies(night: &Night, remedies: &Remedies) -> String {
    let wanted = night.scenario.good.dew_margin.kelvins();
    let target = plain(wanted);
    let mut ways = vec![];
    ways.extend(remedies.heater_w.map(|watts| format!("{} W of heat", plain(two_digits(watts)))));
    // Foil that leaves less than is wanted is no way to get it.
    if let Some(margin) = remedies.foil_margin_k.filter(|margin| *margin >= wanted) {
        ways.push(format!("foil on its back (then {} K)", signed(margin)));
    }
    match remedies.film_needed {
        Some(film) if film > remedies.film_now => ways.push(format!(
            "moved air, {} instead of {} W/m²/K",
            plain(two_digits(film)),
            plain(two_digits(remedies.film_now))
        )),
        None if ways.is_empty() => ways.push("warmth: moved air cannot help".to_owned()),
        Some(_) | None => {}
    }
    if ways.is_empty() {
        return String::new();
    }
    format!("; {target} K would take {}", ways.join(", or "))
}

/// What happens when the mirror is carried indoors at the end.
fn indoors(indoors: &Indoors) -> Option<String> {
    (indoors.wet_s >= 60.0).then(|| {
        format!(
            "Carried uncovered into a house of {:.0} °C and {:.0} % at the end, the primary would be \
             wet for {}: cap it first.",
            indoors.room_c,
            100.0 * indoors.room_humidity,
            minutes(indoors.wet_s)
        )
    })
}
