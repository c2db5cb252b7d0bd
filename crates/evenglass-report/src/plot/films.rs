//! The forced films along back and front, with their bands.

use evenglass_simulation::ventilation::sizing::{FilmRow, Sized, Step};

use crate::canvas::Canvas;
use crate::lettering::{Anchor, Lettering};
use crate::plot::panel::{Curve, LEFT, Panel, title};
use crate::plot::scale::{Range, Ticks};
use crate::sizing::{SizeReport, name, share};
use crate::style::{BLUE, QUIET, Rgb, VERMILION, size};
use crate::text::short;

/// Room for names at the right of the curves \[px\].
const NAMES: f64 = 190.0;

/// Width of the boxes a band is put together from \[px\].
const SLICE: f64 = 1.0;

/// How strongly a band is coloured.
const BAND: f64 = 0.16;

/// The film on one face: its name and how it is read from a row.
type Face = (&'static str, fn(&FilmRow) -> Option<(f64, f64)>);

/// Films at full speed and at the slowest step at which fans turn, each with one standard
/// deviation up and down.
pub(crate) fn films(report: &SizeReport) -> Canvas {
    let canvas = Canvas::new(1600, 1000);
    let Some(system) = report.sizing.systems.first() else { return canvas };
    let what = format!("Films of moved air – {}", short(&report.scenario.title, 200));
    let arrangement = name(&system.system.arrangement);
    let said = "along the radius; shaded: one standard deviation up and down";
    title(&canvas, &what, &format!("{arrangement}; {said}"));
    let all: [Face; 2] = [("Back", |row| row.back), ("Front", |row| row.front)];
    let washed = |face: &&Face| {
        system.steps.iter().any(|step| step.films.iter().any(|row| (face.1)(row).is_some()))
    };
    let faces: Vec<&Face> = all.iter().filter(washed).collect();
    if faces.is_empty() {
        let lettering = Lettering::new(size::LABEL, QUIET).anchored(Anchor::Middle);
        let (width, height) = canvas.size();
        canvas.words_beside("no air moves along the glass", (0.5 * width, 0.5 * height), lettering);
        return canvas;
    }
    let mut top = 175.0;
    let height = if faces.len() == 1 { 705.0 } else { 310.0 };
    let edge = system.steps[0].films.last().map_or(1.0, |row| 1e3 * row.radius);
    for (place, face) in faces.iter().enumerate() {
        let x = Range { low: 0.0, high: edge };
        let y = Range { low: 0.0, high: 1.06 * highest(system, face).max(1e-3) };
        let right = canvas.size().0 - NAMES;
        let panel = Panel { left: LEFT, top, right, bottom: top + height, x, y };
        draw(&canvas, &panel, system, face);
        if place + 1 == faces.len() {
            let ticks = Ticks::in_range(x, 9);
            panel.x_axis(&canvas, &ticks.values, |v| ticks.text(v));
            panel.x_name(&canvas, "radius, mm");
        }
        top += height + 85.0;
    }
    canvas
}

/// Full speed, and the slowest step with this face's film if that is another.
fn shown<'a>(system: &'a Sized, face: &Face) -> Vec<(&'a Step, Rgb)> {
    let blown: Vec<&Step> = system
        .steps
        .iter()
        .filter(|step| step.films.iter().any(|row| (face.1)(row).is_some()))
        .collect();
    let mut shown: Vec<(&Step, Rgb)> =
        blown.first().map(|step| (*step, BLUE)).into_iter().collect();
    if blown.len() > 1 {
        shown.extend(blown.last().map(|step| (*step, VERMILION)));
    }
    shown
}

fn highest(system: &Sized, face: &Face) -> f64 {
    let steps = shown(system, face);
    let films = steps.iter().flat_map(|(step, _)| &step.films).filter_map(face.1);
    films.map(|(film, share)| film * (1.0 + share)).fold(0.0, f64::max)
}

fn draw(canvas: &Canvas, panel: &Panel, system: &Sized, face: &Face) {
    let steps = shown(system, face);
    for (step, colour) in &steps {
        band(canvas, panel, &points(step, face), *colour);
    }
    let ticks = Ticks::in_range(panel.y, 5);
    panel.grid(canvas, &ticks, |v| ticks.text(v));
    panel.heading(canvas, face.0, "W/m²/K");
    let curves: Vec<Curve> = steps
        .iter()
        .map(|(step, colour)| {
            let line = points(step, face).iter().map(|&(radius, film, _)| (radius, film)).collect();
            let name = match share(step.asked).as_str() {
                "full" => "full speed".to_owned(),
                part => format!("{part} of it"),
            };
            Curve::new(name, *colour, line)
        })
        .collect();
    panel.curves(canvas, &curves);
}

/// Radius \[mm\], film and its standard deviation [W m⁻² K⁻¹].
fn points(step: &Step, face: &Face) -> Vec<(f64, f64, f64)> {
    let film = |row: &FilmRow| {
        let (film, share) = (face.1)(row)?;
        Some((1e3 * row.radius, film, film * share))
    };
    step.films.iter().filter_map(film).collect()
}

/// The band as thin upright boxes that begin and end on whole pixels, lest seams show.
fn band(canvas: &Canvas, panel: &Panel, points: &[(f64, f64, f64)], colour: Rgb) {
    let (Some(first), Some(last)) = (points.first(), points.last()) else { return };
    if points.len() < 2 {
        return;
    }
    let per_pixel = panel.x.span() / (panel.right - panel.left);
    let value = |pixel: f64| panel.x.low + (pixel - panel.left) * per_pixel;
    let mut boxes = Vec::new();
    let mut pixel = panel.px(first.0).ceil();
    while pixel < panel.px(last.0) {
        let radius = value(pixel + 0.5 * SLICE);
        let after = points.partition_point(|point| point.0 < radius).clamp(1, points.len() - 1);
        let [a, b] = [points[after - 1], points[after]];
        let share = ((radius - a.0) / (b.0 - a.0).max(1e-12)).clamp(0.0, 1.0);
        let film = a.1 + share * (b.1 - a.1);
        let sigma = a.2 + share * (b.2 - a.2);
        let corners =
            [(value(pixel), (film - sigma).max(0.0)), (value(pixel + SLICE), film + sigma)];
        boxes.push((corners, colour.tint(BAND)));
        pixel += SLICE;
    }
    panel.boxes(canvas, boxes);
}
