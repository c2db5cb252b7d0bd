//! The arrangements of [ventilation], each with its keys, and whether it can be built.

mod fit;
mod nozzle;
mod plenum;

use evenglass_units::{Angle, Length};

use super::ventilation::Known;
use crate::read::{Reader, mm};
use crate::scenario::Cell;
use crate::ventilation::{Arrangement, Behind, Fans, Rows, SideFans};

/// The arrangement of a kind that has fans.
///
/// * `fans` — those that drive it; `None` if they could not be read, which has been noted
pub(crate) fn read(
    reader: &Reader<'_>,
    kind: &str,
    fans: Option<&Fans>,
    known: &Known<'_>,
) -> Option<Arrangement> {
    match kind {
        "fan-behind" => fan_behind(reader, fans, known),
        "fans-behind" => fans_behind(reader, fans, known),
        "suction" => suction(reader, fans, known),
        "plenum" => plenum::read(reader, fans, known),
        "ring-nozzle" => nozzle::read(reader, known),
        "side-fans" => side_fans(reader, fans, known),
        "corner-fans" => corner_fans(reader, fans, known),
        _ => fan_above(reader, fans, known),
    }
}

fn fan_behind(reader: &Reader<'_>, fans: Option<&Fans>, known: &Known<'_>) -> Option<Arrangement> {
    let (distance, offset) = (reader.length("distance"), reader.length("offset"));
    let (angle, cell) = (reader.angle("offset_angle"), cell(reader));
    if let Some(fans) = fans {
        fit::alone(reader, fans, "several stand on a circle: kind = \"fans-behind\"");
        fit::in_board(reader, fans, known);
    }
    if let (Some(offset), Some(mirror)) = (offset, known.mirror_diameter())
        && offset.metres() > 0.5 * mirror * (1.0 + 1e-9)
    {
        reader.unbuildable(
            "offset",
            format!(
                "a fan `{}` beside the axis misses the mirror of {}",
                reader.written("offset"),
                mm(mirror)
            ),
            format!("keep `offset` at or below {}", mm(0.5 * mirror)),
        );
    }
    Some(Arrangement::FanBehind(Behind {
        distance: distance?,
        cell: cell?,
        offset: offset?,
        offset_angle: angle?,
    }))
}

fn fans_behind(reader: &Reader<'_>, fans: Option<&Fans>, known: &Known<'_>) -> Option<Arrangement> {
    let (circle, angle) = (reader.length("circle_diameter"), reader.angle("angle"));
    let (distance, cell) = (reader.length("distance"), cell(reader));
    if let Some(fans) = fans {
        if fans.count == 1 {
            reader.conflict(
                "kind",
                "`fans-behind` has one fan".to_owned(),
                "write count = 2 or more in `fans`, or kind = \"fan-behind\"".to_owned(),
            );
        } else if let Some(circle) = circle {
            fit::on_circle(reader, fans, circle.metres(), known);
        }
        fit::in_board(reader, fans, known);
    }
    Some(Arrangement::FansBehind {
        circle_diameter: circle?,
        angle: angle?,
        behind: Behind {
            distance: distance?,
            cell: cell?,
            offset: Length::from_metres(0.0),
            offset_angle: Angle::from_radians(0.0),
        },
    })
}

fn suction(reader: &Reader<'_>, fans: Option<&Fans>, known: &Known<'_>) -> Option<Arrangement> {
    let (gap, rim_gap) = (reader.length("gap"), rim_gap(reader, known));
    let baffle = reader.settled("baffle", Reader::length);
    if let Some(fans) = fans {
        fit::in_board(reader, fans, known);
    }
    if let (Some(Some(baffle)), Some(mirror)) = (baffle, known.mirror_diameter())
        && baffle.metres() >= mirror
    {
        reader.unbuildable(
            "baffle",
            format!(
                "a ring with an opening of `{}` leaves the mirror of {} uncovered",
                reader.written("baffle"),
                mm(mirror)
            ),
            "give the diameter of its opening, smaller than the mirror; without a ring leave the key out".to_owned(),
        );
    }
    Some(Arrangement::Suction { gap: gap?, rim_gap: rim_gap?, baffle: baffle? })
}

fn side_fans(reader: &Reader<'_>, fans: Option<&Fans>, known: &Known<'_>) -> Option<Arrangement> {
    let rows = reader.choice("rows");
    let (angle, distance) = (reader.angle("angle"), reader.length("distance"));
    let (width, height) =
        (reader.settled("width", Reader::length), reader.settled("height", Reader::length));
    let rows = if rows? == "both-sides" { Rows::BothSides } else { Rows::OneSide };
    let (width, height, fans) = (width?, height?, fans?);
    let sides = if rows == Rows::BothSides { 2 } else { 1 };
    if !fans.count.is_multiple_of(sides) {
        reader.conflict(
            "rows",
            format!("{} fans cannot stand in two equal rows", fans.count),
            "give an even `count` in `fans`, or rows = \"one-side\"".to_owned(),
        );
    }
    let row = f64::from(fans.count.div_ceil(sides)) * fans.diameter.metres();
    fit::in_row(reader, (row, width.map(Length::metres)), known);
    Some(Arrangement::SideFans(SideFans {
        rows,
        angle: angle?,
        width: width.unwrap_or(Length::from_metres(row)),
        distance: distance?,
        height: height.unwrap_or_else(|| half_a_fan(fans)),
    }))
}

fn corner_fans(reader: &Reader<'_>, fans: Option<&Fans>, known: &Known<'_>) -> Option<Arrangement> {
    let (distance, angle) = (reader.length("distance"), reader.angle("angle"));
    let height = reader.settled("height", Reader::length);
    if let (Some(fans), Some(distance), Some(mirror)) = (fans, distance, known.mirror_diameter()) {
        fit::around(reader, fans, mirror + 2.0 * distance.metres());
    }
    let height = height?;
    Some(Arrangement::CornerFans {
        distance: distance?,
        height: height.unwrap_or(half_a_fan(fans?)),
        angle: angle?,
    })
}

fn fan_above(reader: &Reader<'_>, fans: Option<&Fans>, known: &Known<'_>) -> Option<Arrangement> {
    let distance = reader.length("distance");
    if let Some(fans) = fans {
        fit::alone(
            reader,
            fans,
            "over the front one fan stands on the axis, or one behind the other with `in_series`",
        );
        fit::over_front(reader, fans, known);
    }
    Some(Arrangement::FanAbove { distance: distance? })
}

fn half_a_fan(fans: &Fans) -> Length {
    Length::from_metres(0.5 * fans.diameter.metres())
}

/// The space between board and glass; its messages are those of a `fan-behind` film.
fn cell(reader: &Reader<'_>) -> Option<Cell> {
    super::face::read_cell(reader)
}

/// The gap around the rim, or else the clearance of the telescope.
fn rim_gap(reader: &Reader<'_>, known: &Known<'_>) -> Option<Length> {
    let given = reader.settled("rim_gap", Reader::length)?;
    let clearance = known.telescope.map(|telescope| telescope.clearance);
    match (given, clearance) {
        (Some(gap), Some(clearance)) if gap.metres() > clearance.metres() * (1.0 + 1e-9) => {
            reader.unbuildable(
                "rim_gap",
                format!(
                    "a gap of `{}` around the rim does not fit in the clearance of {}",
                    reader.written("rim_gap"),
                    mm(clearance.metres())
                ),
                "make `rim_gap` as wide as `clearance` in [telescope], or leave it out".to_owned(),
            );
            None
        }
        (Some(gap), _) => Some(gap),
        (None, Some(clearance)) => Some(clearance),
        (None, None) => {
            // A telescope that cannot be read has been noted.
            if !known.has_telescope {
                reader.missing(
                    "the gap between the rim and the wall around it is not given".to_owned(),
                    "add rim_gap = \"20 mm\", or a [telescope] with its `clearance`".to_owned(),
                );
            }
            None
        }
    }
}
