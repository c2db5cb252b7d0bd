//! Plenum, perforated plate and outlet.

use evenglass_units::Length;

use super::super::layers;
use super::super::ventilation::Known;
use super::fit;
use crate::read::{Reader, mm};
use crate::ventilation::{Arrangement, Fans, Outlet, Plate};

/// Open share of holes that touch, in square rows [-]: π/4.
const TOUCHING: f64 = std::f64::consts::FRAC_PI_4;

/// The arrangement with a plate behind the glass and a slot around it.
pub(super) fn read(
    reader: &Reader<'_>,
    fans: Option<&Fans>,
    known: &Known<'_>,
) -> Option<Arrangement> {
    let plate = plate(reader, known);
    let outlet = reader.inner("outlet", "`outlet`").and_then(|reader| outlet(&reader, known));
    if let Some(fans) = fans {
        fit::in_board(reader, fans, known);
    }
    let (plate, outlet) = (plate?, outlet?);
    let inner = outlet.diameter.metres() - outlet.width.metres();
    if plate.diameter.metres() > inner * (1.0 + 1e-9) {
        reader.unbuildable(
            "plate",
            format!(
                "the plate of {} reaches into the outlet, whose inner edge is at {}",
                mm(plate.diameter.metres()),
                mm(inner)
            ),
            format!("make the plate at most {} wide", mm(inner)),
        );
    }
    Some(Arrangement::Plenum { plate, outlet })
}

fn outlet(reader: &Reader<'_>, known: &Known<'_>) -> Option<Outlet> {
    let (width, angle) = (reader.length("width"), reader.angle("angle"));
    let diameter = reader.settled("diameter", Reader::length);
    let (width, diameter, mirror) = (width?, diameter?, known.mirror_diameter()?);
    let diameter = diameter.unwrap_or_else(|| Length::from_metres(mirror + width.metres()));
    let outer = diameter.metres() + width.metres();
    if let Some(room) = known.box_width()
        && outer > room * (1.0 + 1e-9)
    {
        reader.unbuildable(
            if reader.has("diameter") { "diameter" } else { "width" },
            format!(
                "the outer edge of the outlet is at {}, beyond the box of {}",
                mm(outer),
                mm(room)
            ),
            "make the outlet narrower or smaller, or give more `clearance` in [telescope]"
                .to_owned(),
        );
    }
    if width.metres() >= diameter.metres() {
        reader.unbuildable(
            "width",
            format!("a slot of `{}` fills its whole circle", reader.written("width")),
            "give the width of the slot, a few millimetres".to_owned(),
        );
    }
    Some(Outlet { width, diameter, angle: angle? })
}

/// The perforated plate, if its holes find room and it finds room itself.
pub(super) fn plate(reader: &Reader<'_>, known: &Known<'_>) -> Option<Plate> {
    let plate = reader.inner("plate", "`plate`")?;
    let [diameter, distance, hole, thickness] =
        ["diameter", "distance", "hole_diameter", "thickness"].map(|key| plate.length(key));
    let (holes, cover) = (plate.whole("holes"), layers::read(&plate, "cover"));
    if let (Some(diameter), Some(hole), Some(holes)) = (diameter, hole, holes) {
        check_holes(&plate, [diameter.metres(), hole.metres()], holes);
    }
    if let (Some(diameter), Some((room, board))) = (diameter, known.board())
        && diameter.metres() > room * (1.0 + 1e-9)
    {
        plate.unbuildable(
            "diameter",
            format!("the plate of `{}` is wider than {board}", plate.written("diameter")),
            format!("make it at most {} wide", mm(room)),
        );
    }
    Some(Plate {
        diameter: diameter?,
        distance: distance?,
        hole_diameter: hole?,
        holes: holes?,
        thickness: thickness?,
        cover: cover?,
    })
}

fn check_holes(plate: &Reader<'_>, [diameter, hole]: [f64; 2], holes: u32) {
    if hole >= diameter {
        plate.unbuildable(
            "hole_diameter",
            format!(
                "a hole of `{}` does not fit in a plate of `{}`",
                plate.written("hole_diameter"),
                plate.written("diameter")
            ),
            "choose smaller holes".to_owned(),
        );
        return;
    }
    let open = f64::from(holes) * (hole / diameter).powi(2);
    if open > TOUCHING * (1.0 + 1e-9) {
        let most = (TOUCHING * (diameter / hole).powi(2)).floor();
        plate.unbuildable(
            "holes",
            format!(
                "{holes} holes would open {:.0} % of the plate and run into each other",
                open * 100.0
            ),
            format!("holes in rows touch at 78 %: drill at most {most}, or smaller ones"),
        );
    }
}
