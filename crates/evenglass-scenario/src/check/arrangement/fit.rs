//! Whether fans find room where they are put.

use std::f64::consts::PI;

use super::super::ventilation::Known;
use crate::read::{Reader, mm};
use crate::ventilation::Fans;

/// A hair of rounding.
const SLACK: f64 = 1.0 + 1e-9;

/// Refuses more than one fan where there is place for one.
pub(super) fn alone(reader: &Reader<'_>, fans: &Fans, help: &str) {
    if fans.count > 1 {
        let fact = format!("there is place for one fan, and `fans` has {}", fans.count);
        reader.conflict("fans", fact, help.to_owned());
    }
}

/// Refuses fans that are wider than the board they stand in.
pub(super) fn in_board(reader: &Reader<'_>, fans: &Fans, known: &Known<'_>) {
    let Some((width, board)) = known.board() else { return };
    let diameter = fans.diameter.metres();
    if diameter > width * SLACK {
        let fact = format!("a fan of {} is wider than {board}", mm(diameter));
        reader.unbuildable("fans", fact, "choose a smaller fan".to_owned());
        return;
    }
    // Square frames side by side; a board cannot hold more.
    if f64::from(fans.count) * diameter * diameter > width * width * SLACK {
        let fact = format!("{} fans of {} have no room in {board}", fans.count, mm(diameter));
        reader.unbuildable("fans", fact, "choose fewer or smaller fans".to_owned());
    }
}

/// Refuses fans on a circle that overlap one another or leave the board.
pub(super) fn on_circle(reader: &Reader<'_>, fans: &Fans, circle: f64, known: &Known<'_>) {
    let diameter = fans.diameter.metres();
    let apart = circle * (PI / f64::from(fans.count)).sin();
    if diameter > apart * SLACK {
        let least = diameter / (PI / f64::from(fans.count)).sin();
        reader.unbuildable(
            "circle_diameter",
            format!(
                "{} fans of {} overlap on a circle of `{}`",
                fans.count,
                mm(diameter),
                reader.written("circle_diameter")
            ),
            format!("make the circle at least {}, or take fewer fans", mm(least)),
        );
    }
    let Some((width, board)) = known.board() else { return };
    if circle + diameter > width * SLACK && diameter <= width {
        reader.unbuildable(
            "circle_diameter",
            format!("fans of {} on a circle of {} stand out of {board}", mm(diameter), mm(circle)),
            format!("make the circle at most {}", mm(width - diameter)),
        );
    }
}

/// Refuses a row that is longer than its place, or a place longer than the box.
///
/// * `row` — length of the fans side by side, and the width given \[m\]
pub(super) fn in_row(reader: &Reader<'_>, row: (f64, Option<f64>), known: &Known<'_>) {
    let (least, given) = row;
    if let Some(width) = given
        && least > width * SLACK
    {
        reader.unbuildable(
            "width",
            format!(
                "the fans of a row take {}, more than its width of `{}`",
                mm(least),
                reader.written("width")
            ),
            format!("make the row at least {} wide, or take fewer or smaller fans", mm(least)),
        );
    }
    let Some(room) = known.box_width() else { return };
    let width = given.unwrap_or(least).max(least);
    if width > room * SLACK {
        reader.unbuildable(
            if given.is_some() { "width" } else { "fans" },
            format!("a row of {} does not fit in the box of {}", mm(width), mm(room)),
            "make the row shorter, or take fewer or smaller fans".to_owned(),
        );
    }
}

/// Refuses fans around the mirror that overlap.
///
/// * `circle` — diameter on which their blades stand \[m\]
pub(super) fn around(reader: &Reader<'_>, fans: &Fans, circle: f64) {
    let diameter = fans.diameter.metres();
    if fans.count > 2 && diameter > circle * (PI / f64::from(fans.count)).sin() * SLACK {
        let fact = format!("{} fans of {} overlap around the mirror", fans.count, mm(diameter));
        reader.unbuildable("fans", fact, "choose fewer or smaller fans".to_owned());
    }
}

/// Refuses a fan over the front that shades all of it.
pub(super) fn over_front(reader: &Reader<'_>, fans: &Fans, known: &Known<'_>) {
    let Some(mirror) = known.mirror_diameter() else { return };
    let diameter = fans.diameter.metres();
    if diameter >= mirror {
        let fact = format!("a fan of {} hides the whole mirror of {}", mm(diameter), mm(mirror));
        reader.unbuildable("fans", fact, "choose a smaller fan".to_owned());
    }
}
