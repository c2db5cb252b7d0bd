//! The surface of the front across the whole mirror, at the instants that matter.

use std::f64::consts::PI;

use evenglass_simulation::Night;
use evenglass_simulation::result::Occasion;

use crate::canvas::{Canvas, Pen};
use crate::lettering::{Anchor, Lettering};
use crate::plot::panel::{LEFT, Panel, title};
use crate::plot::profile::{Profile, refocused};
use crate::plot::scale::{Range, Ticks};
use crate::raster::Spot;
use crate::style::{
    AXIS, BLUE, CURVE, GREEN, GRID, INK, ORANGE, PURPLE, QUIET, Rgb, SKY, VERMILION, size,
};
use crate::text::short;
use crate::wording::{mirror, moment, plain, two_digits};

/// Instants of `fields_at` that are drawn.
const MOST: usize = 5;

/// Their colours.
const COLOURS: [Rgb; MOST] = [BLUE, ORANGE, PURPLE, SKY, INK];

/// Room for the names at the right \[px\].
const NAMES: f64 = 350.0;

/// Height of a name with its numbers \[px\].
const NAME: f64 = 62.0;

/// Where the worst error is so many times larger than the others, those are shown once more,
/// enlarged.
const ENLARGE_FROM: f64 = 3.0;

/// Lines below this \[m\] are flat in any picture.
const FLAT: f64 = 1e-12;

/// An eighth of a wave of 550 nm \[m\]: in the wavefront a quarter, with which makers compare.
const EIGHTH_WAVE: f64 = 550e-9 / 8.0;

/// Places in a row [mm, nm].
type Line = Vec<(f64, f64)>;

/// The surface at one instant.
struct Instant {
    name: String,
    colour: Rgb,
    time_s: f64,
    profile: Profile,
    worst: bool,
}

/// The refocused surface at its worst, when the mirror is ready, and at the requested times.
pub(crate) fn surface(night: &Night) -> Canvas {
    let (instants, left_out) = instants(night);
    let (worst, rest): (Vec<&Instant>, Vec<&Instant>) = instants.iter().partition(|i| i.worst);
    let reach = |some: &[&Instant]| some.iter().fold(0.0, |m, i| f64::max(m, i.profile.reach()));
    let small = reach(&rest);
    let twice = small > FLAT && reach(&worst) > ENLARGE_FROM * small;
    let canvas = Canvas::new(1600, if twice { 1210 } else { 860 });
    let name = short(&night.scenario.title, 200);
    let further =
        if left_out > 0 { format!("; {left_out} more times left out") } else { String::new() };
    let what = "surface at best focus, across the mirror";
    title(
        &canvas,
        &format!("Surface – {name}"),
        &format!("{}; {what}{further}", mirror(&night.scenario)),
    );
    if instants.is_empty() {
        let quiet = Lettering::new(size::LABEL, QUIET);
        canvas.words("no surface was computed", (LEFT, 200.0), quiet);
        return canvas;
    }
    let all: Vec<&Instant> = instants.iter().collect();
    let bottom = if twice { 640.0 } else { 750.0 };
    let (cut, across) = cut(&all);
    let first = drawn(&canvas, night, (&all, cut), (175.0, bottom, "Surface", &across));
    let mut lowest = first;
    if twice {
        let names = (740.0, 1100.0, "Without the worst", "nm, enlarged");
        lowest = drawn(&canvas, night, (&rest, cut), names);
    }
    legend(&canvas, &all, (first.right + 34.0, first.top + 14.0));
    hidden(&canvas, night, &first, all.len());
    let ticks = Ticks::in_range(lowest.x, 9);
    for panel in [&first, &lowest].into_iter().take(if twice { 2 } else { 1 }) {
        let labelled = panel.top.total_cmp(&lowest.top).is_eq();
        panel.x_axis(&canvas, &ticks.values, |value| {
            if labelled { ticks.text(value.abs()) } else { String::new() }
        });
    }
    lowest.x_name(&canvas, "mm from the axis");
    canvas
}

/// The instants to draw, and how many requested ones are left out.
fn instants(night: &Night) -> (Vec<Instant>, usize) {
    let named = |time: f64, name: &str| {
        format!("{name} {}", moment(&night.scenario, time)).trim().to_owned()
    };
    let mut all: Vec<Instant> = Vec::new();
    for moment in &night.moments {
        let Some(profile) = refocused(&moment.surface) else {
            continue;
        };
        let (name, colour) = match moment.what {
            Occasion::Worst => ("worst", VERMILION),
            Occasion::Ready => ("ready", GREEN),
        };
        let (time_s, worst) = (moment.time_s, moment.what == Occasion::Worst);
        all.push(Instant { name: named(time_s, name), colour, time_s, profile, worst });
    }
    let (mut colours, mut left_out) = (COLOURS.into_iter(), 0);
    for field in &night.fields {
        let known = all.iter().any(|i| (i.time_s - field.time_s).abs() < 1.0);
        let Some(profile) = refocused(&field.surface).filter(|_| !known) else {
            continue;
        };
        match colours.next() {
            Some(colour) => {
                let (name, time_s) = (named(field.time_s, ""), field.time_s);
                all.push(Instant { name, colour, time_s, profile, worst: false });
            }
            None => left_out += 1,
        }
    }
    (all, left_out)
}

/// The direction in which all are cut, to the right of the picture, and how that is said.
fn cut(instants: &[&Instant]) -> (f64, String) {
    let unit = "nm, high is above zero".to_owned();
    let lopsided = instants.iter().any(|instant| instant.profile.is_lopsided());
    let Some(first) = instants.first().filter(|_| lopsided) else {
        return (0.0, unit);
    };
    let up = first.profile.worst_direction();
    // Of the two ends the one on the right as seen from the front; angles run anticlockwise.
    let right = if up > 0.0 { up + PI } else { up };
    let hour = |angle: f64| {
        let hour = (12.0 - 6.0 * angle / PI).rem_euclid(12.0).round();
        if hour < 1.0 { 12.0 } else { hour }
    };
    let (from, to) = (hour(right + PI), hour(right));
    let what = format!("{unit}; cut from {from} to {to} o'clock, seen from the front with 12 up");
    (right, what)
}

/// One panel with the profiles of some instants.
fn drawn(
    canvas: &Canvas,
    night: &Night,
    (instants, cut): (&[&Instant], f64),
    (top, bottom, what, unit): (f64, f64, &str, &str),
) -> Panel {
    let half = 500.0 * night.scenario.mirror.diameter.metres();
    let profiles: Vec<(Rgb, Vec<Line>)> =
        instants.iter().map(|instant| (instant.colour, across(&instant.profile, cut))).collect();
    let heights = profiles.iter().flat_map(|p| p.1.iter().flatten().map(|place| place.1));
    let y = Range::around(heights, 1.0);
    let x = Range { low: -half, high: half };
    let panel = Panel { left: LEFT, top, right: canvas.size().0 - NAMES, bottom, x, y };
    shade(canvas, night, &panel);
    let ticks = Ticks::in_range(y, 6);
    panel.grid(canvas, &ticks, |v| ticks.signed(v));
    panel.zero_line(canvas);
    panel.heading(canvas, what, unit);
    for (colour, lines) in profiles {
        for line in lines {
            panel.line(canvas, line, Pen::new(colour, CURVE));
        }
    }
    panel
}

/// A profile along a diameter, whose right end lies in a direction around the axis [mm, nm].
fn across(profile: &Profile, right: f64) -> Vec<Line> {
    lines(&profile.radii, (&profile.towards(right + PI), &profile.towards(right)))
}

/// Heights \[m\] on the left and the right of the axis from rim to rim [mm, nm]; two pieces
/// with a hole between them.
pub(super) fn lines(radii: &[f64], (left, right): (&[f64], &[f64])) -> Vec<Line> {
    let places = |heights: &[f64], side: f64| -> Line {
        radii.iter().zip(heights).map(|(r, h)| (1e3 * side * r, 1e9 * h)).collect()
    };
    let (mut line, right) = (places(left, -1.0), places(right, 1.0));
    line.reverse();
    if radii.first().is_some_and(|&r| r > 0.0) {
        return vec![line, right];
    }
    line.extend(right);
    vec![line]
}

/// Radii \[mm\] of hole and secondary, nought where there is none.
fn stops(night: &Night) -> (f64, f64) {
    let half = |metres: f64| 500.0 * metres;
    let hole = night.scenario.mirror.hole_diameter.map_or(0.0, |d| half(d.metres()));
    let secondary = night.scenario.telescope.as_ref().and_then(|t| t.secondary);
    (hole, secondary.map_or(0.0, |s| half(s.diameter.metres())))
}

/// Shades what no light reaches and what is no glass.
fn shade(canvas: &Canvas, night: &Night, panel: &Panel) {
    let (hole, secondary) = stops(night);
    if secondary > 0.0 {
        panel.stripe(canvas, -secondary, secondary, SHADOW);
    }
    if hole > 0.0 {
        panel.stripe(canvas, -hole, hole, HOLE);
    }
}

const SHADOW: Rgb = Rgb(0xf1, 0xf1, 0xf4);
const HOLE: Rgb = Rgb(0xd8, 0xda, 0xe0);

/// Colour, name and size of the error of each instant.
fn legend(canvas: &Canvas, instants: &[&Instant], (left, top): Spot) {
    let mut y = top;
    for instant in instants {
        let line = [(left, y), (left + 34.0, y)];
        canvas.line(&line, Pen::new(instant.colour, 1.4 * CURVE));
        let name = Lettering::new(size::LABEL, instant.colour.for_words()).bold();
        canvas.words_beside(&instant.name, (left + 48.0, y), name);
        let (rms, pv) = (1e9 * instant.profile.rms_m, 1e9 * instant.profile.pv_m);
        let text = format!("{} nm RMS, {} nm PV", plain(two_digits(rms)), plain(two_digits(pv)));
        canvas.words_beside(&text, (left + 48.0, y + 25.0), Lettering::new(size::SMALL, QUIET));
        y += NAME;
    }
}

/// Below the first panel's names: what the shades are, and how high an eighth of a wave is.
fn hidden(canvas: &Canvas, night: &Night, panel: &Panel, names: usize) {
    let (hole, secondary) = stops(night);
    let left = panel.right + 34.0;
    let small = Lettering::new(size::SMALL, QUIET);
    let mut y = panel.bottom - 12.0;
    for (radius, colour, name) in
        [(hole, HOLE, "hole"), (secondary, SHADOW, "behind the secondary")]
    {
        if radius > 0.0 {
            canvas.rectangle((left, y - 9.0), (left + 34.0, y + 9.0), GRID);
            canvas.rectangle((left + 1.0, y - 8.0), (left + 33.0, y + 8.0), colour);
            canvas.words_beside(name, (left + 48.0, y), small);
            y -= 30.0;
        }
    }
    let tall = 1e9 * EIGHTH_WAVE / panel.y.span() * (panel.bottom - panel.top);
    let room = y - panel.top - NAME * f64::from(u32::try_from(names).unwrap_or(u32::MAX)) - 30.0;
    if tall > 14.0 && tall < room {
        let (x, middle) = (left + 17.0, y - 0.5 * tall.max(34.0));
        let (low, high) = (middle + 0.5 * tall, middle - 0.5 * tall);
        let pen = Pen::new(AXIS, 2.2);
        canvas.line(&[(x, low), (x, high)], pen);
        canvas.line(&[(x - 6.0, low), (x + 6.0, low)], pen);
        canvas.line(&[(x - 6.0, high), (x + 6.0, high)], pen);
        let anchored = small.anchored(Anchor::Left);
        canvas.words_beside("69 nm: a quarter wave", (left + 48.0, middle - 11.0), anchored);
        canvas.words_beside("in the wavefront", (left + 48.0, middle + 12.0), anchored);
    }
}
