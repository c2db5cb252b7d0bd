//! The ring nozzle around the rim.

use std::f64::consts::PI;

use evenglass_units::{Angle, Area, Length};

use super::super::ventilation::Known;
use super::{plenum, rim_gap};
use crate::read::{Reader, mm};
use crate::ventilation::{Arrangement, Feed, Path, RingNozzle};

/// Height of the lip above the glass, in slots, beyond which the sheet has spread before it
/// attaches; the law of attachment goes so far.
const HIGHEST: f64 = 10.0;
/// Distance to the glass, in slots, beyond which no sheet is left to speak of.
const FARTHEST: f64 = 20.0;
/// Section of the ring over that of the slot where none is given [-]: uneven by some 5 %
/// then, as headers are.
const ROOMY: f64 = 3.0;

/// The nozzle, if its sheet can reach the glass.
pub(super) fn read(reader: &Reader<'_>, known: &Known<'_>) -> Option<Arrangement> {
    let [slot, lip, height, setback] =
        ["slot", "lip", "height", "setback"].map(|key| reader.length(key));
    let slot_range = slot_range(reader, slot);
    let slot_angle = reader.angle("slot_angle");
    let turbulence = reader.number("turbulence");
    let section = reader.settled("ring_section", Reader::area);
    let (feed, path) = (feed(reader), path(reader, known));
    if let (Some(slot), Some(height), Some(setback)) = (slot, height, setback) {
        check_reach(reader, [slot, height, setback].map(Length::metres));
    }
    let (slot, setback, mirror) = (slot?, setback?, known.mirror_diameter()?);
    let mouth = mirror + 2.0 * setback.metres();
    if mouth <= slot.metres() {
        let fact = format!("a setback of `{}` covers the whole mirror", reader.written("setback"));
        reader.unbuildable("setback", fact, "let the lip cover less of the front".to_owned());
        return None;
    }
    let area = PI * mouth * slot.metres();
    let section = section?;
    if let Some(section) = section {
        check_section(reader, section, area);
    }
    Some(Arrangement::RingNozzle(Box::new(RingNozzle {
        slot,
        slot_range: slot_range?,
        slot_angle: slot_angle?,
        lip: lip?,
        height: height?,
        setback,
        turbulence: turbulence?,
        ring_section: section.unwrap_or(Area::from_m2(ROOMY * area)),
        feed: feed?,
        path: path?,
    })))
}

fn check_reach(reader: &Reader<'_>, [slot, height, setback]: [f64; 3]) {
    if height > HIGHEST * slot * (1.0 + 1e-9) {
        reader.unbuildable(
            "height",
            format!(
                "a sheet from `{}` above the glass does not attach to it behind a slot of `{}`",
                reader.written("height"),
                reader.written("slot")
            ),
            format!("lower the slot to at most {}, ten slot widths", mm(HIGHEST * slot)),
        );
    }
    if setback > FARTHEST * slot * (1.0 + 1e-9) {
        reader.unbuildable(
            "setback",
            format!(
                "a sheet from `{}` before the glass is spent behind a slot of `{}`",
                reader.written("setback"),
                reader.written("slot")
            ),
            format!("bring the slot to at most {}, twenty slot widths", mm(FARTHEST * slot)),
        );
    }
}

fn check_section(reader: &Reader<'_>, section: Area, slot: f64) {
    if section.m2() < slot * (1.0 - 1e-9) {
        let cm2 = |area: f64| format!("{:.0} cm2", (area * 1e4).ceil());
        reader.unbuildable(
            "ring_section",
            format!(
                "the ring's section of `{}` is smaller than its slot of {}",
                reader.written("ring_section"),
                cm2(slot)
            ),
            format!(
                "make it at least \"{}\", better three times that; left out, it is so",
                cm2(slot)
            ),
        );
    }
}

#[allow(clippy::option_option, reason = "absent and wrong are two things here")]
fn slot_range(reader: &Reader<'_>, slot: Option<Length>) -> Option<Option<(Length, Length)>> {
    if !reader.has("slot_range") {
        return Some(None);
    }
    let ends = reader.si_list("slot_range")?;
    let complain = |fact: String, help: &str| {
        let place = reader.place("slot_range");
        reader.ledger.note("scenario::table", place, fact, help.to_owned());
        None
    };
    let [narrowest, widest] = ends[..] else {
        let fact = "`slot_range` does not have two entries".to_owned();
        return complain(fact, "give the narrowest and the widest place of the slot");
    };
    if narrowest > widest {
        let fact = "`slot_range` goes back".to_owned();
        return complain(fact, "put the narrowest place first");
    }
    let slot = slot?.metres();
    if slot < narrowest * (1.0 - 1e-9) || slot > widest * (1.0 + 1e-9) {
        let fact =
            format!("the mean `slot` of `{}` is outside `slot_range`", reader.written("slot"));
        return complain(fact, "the mean lies between the narrowest and the widest place");
    }
    Some(Some((Length::from_metres(narrowest), Length::from_metres(widest))))
}

fn feed(reader: &Reader<'_>) -> Option<Feed> {
    let (feed, angle) = (reader.choice("feed"), reader.settled("feed_angle", Reader::angle));
    match (feed?, angle?) {
        ("one-point", angle) => Some(Feed::OnePoint(angle.unwrap_or(Angle::from_radians(0.0)))),
        (_, None) => Some(Feed::Even),
        (_, Some(_)) => {
            let fact = "an even feed has a `feed_angle`".to_owned();
            let help = "leave `feed_angle` out, or write feed = \"one-point\"".to_owned();
            reader.conflict("feed_angle", fact, help);
            None
        }
    }
}

fn path(reader: &Reader<'_>, known: &Known<'_>) -> Option<Path> {
    if !reader.has("path") {
        return Some(Path::Direct);
    }
    let (kind, path) = reader.kind("path", "`path`")?;
    match kind {
        "direct" => Some(Path::Direct),
        "past-back" => {
            let (gap, rim_gap) = (path.length("gap"), rim_gap(&path, known));
            Some(Path::PastBack { gap: gap?, rim_gap: rim_gap? })
        }
        _ => {
            let (plate, rim_gap) = (plenum::plate(&path, known), rim_gap(&path, known));
            Some(Path::ThroughPlate { plate: plate?, rim_gap: rim_gap? })
        }
    }
}
