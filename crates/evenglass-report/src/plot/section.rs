//! The mirror cut through its axis, with the temperature inside.

use evenglass_simulation::Night;
use evenglass_simulation::result::{COLUMNS, Field, FieldPoints};
use evenglass_simulation::scenario::scenario::Mirror;
use tiny_skia::Pixmap;

use crate::canvas::{Canvas, Pen, drawn};
use crate::lettering::{Anchor, Lettering, width};
use crate::plot::colour_bar::colour_bar;
use crate::plot::glass::{Place, Surface, Upward, outline, refined};
use crate::plot::isotherm::lines;
use crate::plot::panel::{LEFT, Panel, title};
use crate::plot::profile::{Profile, refocused};
use crate::plot::scale::{Range, Ticks};
use crate::plot::surface::lines as lines_of;
use crate::plot::tinted::{Tinted, pixel};
use crate::raster::Spot;
use crate::style::{BLUE, INK, QUIET, Rgb, size, warmth};
use crate::text::short;
use crate::wording::{celsius, kelvins, mirror as said, moment, plain, two_digits};

/// Fields shown side by side; with more requested, only the most uneven one is drawn.
const MOST_FIELDS: usize = 4;

/// Below this \[K\] a field is called uniform and has no isotherms: finer than any thermistor.
const UNIFORM: f64 = 1e-3;

/// Least range \[K\] of the colours, what a good image allows the front by default: a nearly
/// uniform glass looks uniform.
const LEAST_RANGE: f64 = 0.5;

/// Where the first section begins, below title and subtitle \[px\].
const TOP: f64 = 122.0;

/// Room at the right for the colour bar \[px\].
const BAR_ROOM: f64 = 230.0;

/// Room for the surface above a section \[px\], and its colour.
const RELIEF: f64 = 92.0;
const SURFACE: Rgb = BLUE;

/// Where and how large one section is drawn.
#[derive(Debug, Clone, Copy)]
struct Frame {
    /// Sheet position of the axis at the height of the back.
    origin: Spot,
    /// Pixels per metre along the radius.
    across: f64,
    /// Pixels per metre along the height.
    upward: f64,
}

impl Frame {
    fn spot(&self, (radius, height): Place) -> Spot {
        (self.origin.0 + self.across * radius, self.origin.1 - self.upward * height)
    }

    /// The smallest panel around the glass, in metres.
    fn panel(self, mirror: &Mirror) -> Panel {
        let (half, thickness) = (mirror.diameter.metres() / 2.0, mirror.edge_thickness.metres());
        let (left, top) = self.spot((-half, thickness));
        let (right, bottom) = self.spot((half, 0.0));
        let (x, y) = (Range { low: -half, high: half }, Range { low: 0.0, high: thickness });
        Panel { left, top, right, bottom, x, y }
    }
}

/// The section at up to four instants, coloured by glass minus air.
pub(crate) fn section(night: &Night) -> Canvas {
    let fields = shown(night);
    let mirror = &night.scenario.mirror;
    let surfaces: Vec<Option<Profile>> = fields.iter().map(|f| refocused(&f.surface)).collect();
    let heights = heights(&surfaces);
    let layout = Layout::of(mirror, fields.len().max(1), heights.is_some());
    let canvas = Canvas::new(1600, layout.sheet_height());
    title(
        &canvas,
        &format!("Inside the glass – {}", short(&night.scenario.title, 200)),
        &format!("{}; section through the axis, {}", said(&night.scenario), layout.proportions()),
    );
    if fields.is_empty() {
        canvas.words(
            "no field was computed",
            (LEFT, TOP + 60.0),
            Lettering::new(size::LABEL, QUIET),
        );
        return canvas;
    }
    let excess = fields.iter().flat_map(|f| f.temperature_k.iter().map(|t| t - f.air_k));
    let range = colours(excess);
    for (place, field) in fields.iter().enumerate() {
        let frame = layout.frame(place);
        heading(&canvas, night, field, (layout.heading(place), surfaces[place].as_ref()));
        if let (Some(profile), Some(heights)) = (&surfaces[place], heights) {
            relief(&canvas, profile, layout.relief(place, mirror, heights));
        }
        let (points, field) = &refined(&night.points, field);
        glass(&canvas, points, field, (mirror, frame, range));
        isotherms(&canvas, points, field, (mirror, frame, range));
        for mut part in outline(mirror) {
            part.extend(part.first().copied());
            frame.panel(mirror).line(&canvas, part, Pen::new(INK, 2.0));
        }
    }
    radius_axis(&canvas, mirror, &layout);
    bar(&canvas, range, &layout);
    canvas
}

/// The range of the colours; of a nearly uniform glass it is the least one, from the coldest
/// point upward, so that such a glass does not look hot.
fn colours(excess: impl Iterator<Item = f64> + Clone) -> Range {
    let coldest = excess.clone().filter(|v| v.is_finite()).fold(f64::INFINITY, f64::min);
    let range = Range::around(excess, 0.0);
    if range.span() > LEAST_RANGE {
        return range;
    }
    let low = if coldest.is_finite() { coldest } else { 0.0 };
    Range { low, high: low + LEAST_RANGE }
}

/// The fields to draw: all of few, or the one with the largest spread.
fn shown(night: &Night) -> Vec<&Field> {
    let mut fields: Vec<&Field> = night.fields.iter().collect();
    fields.dedup_by(|a, b| (a.time_s - b.time_s).abs() < 1.0);
    if fields.len() > MOST_FIELDS {
        let most = fields.into_iter().max_by(|a, b| spread(a).total_cmp(&spread(b)));
        return most.into_iter().collect();
    }
    fields
}

fn spread(field: &Field) -> f64 {
    let (low, high) = extremes(field);
    high - low
}

fn spread_column() -> usize {
    COLUMNS.iter().position(|c| c.name == "spread_k").unwrap_or(usize::MAX)
}

fn extremes(field: &Field) -> (f64, f64) {
    let values = field.temperature_k.iter().copied().filter(|v| v.is_finite());
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)))
}

/// How the sections are arranged and scaled.
#[derive(Debug, Clone, Copy)]
struct Layout {
    count: usize,
    /// Height of a section without its heading \[px\].
    slot: f64,
    /// Room for the surface above it \[px\].
    relief: f64,
    across: f64,
    enlarged: f64,
    diameter: f64,
    thickness: f64,
}

impl Layout {
    const HEADING: f64 = 52.0;
    const GAP: f64 = 30.0;

    fn of(mirror: &Mirror, count: usize, has_relief: bool) -> Self {
        const ENLARGED: [f64; 9] = [1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 8.0, 10.0, 20.0];
        let tallest = match count {
            1 => 430.0,
            2 => 290.0,
            3 => 220.0,
            _ => 175.0,
        };
        let (diameter, thickness) = (mirror.diameter.metres(), mirror.edge_thickness.metres());
        let room = 1600.0 - LEFT - BAR_ROOM;
        let across = (room / diameter).min(tallest / thickness);
        let fits = |factor: &f64| factor * across * thickness <= tallest * 1.000_1;
        let enlarged = ENLARGED.into_iter().rev().find(fits).unwrap_or(1.0);
        let slot = enlarged * across * thickness;
        let relief = if has_relief { RELIEF } else { 0.0 };
        Self { count, slot, relief, across, enlarged, diameter, thickness }
    }

    /// From the top of one section's heading to the next one's \[px\].
    fn step(&self) -> f64 {
        Self::HEADING + self.relief + self.slot + Self::GAP
    }

    fn sheet_height(&self) -> u32 {
        let rows = f64::from(u32::try_from(self.count).unwrap_or(1));
        let height = TOP + rows * self.step() - Self::GAP + 105.0;
        // The colour bar and its labels need some height even for a thin mirror.
        crate::plot::whole_pixels(height.max(480.0))
    }

    fn proportions(&self) -> String {
        if self.enlarged > 1.0 {
            format!("height enlarged {} ×", self.enlarged)
        } else {
            "true proportions".to_owned()
        }
    }

    fn frame(&self, place: usize) -> Frame {
        let bottom = self.top(place) + Self::HEADING + self.relief + self.slot;
        let centre = LEFT + (1600.0 - LEFT - BAR_ROOM) / 2.0;
        Frame { origin: (centre, bottom), across: self.across, upward: self.slot / self.thickness }
    }

    /// Where the heading of a section begins \[px\].
    fn top(&self, place: usize) -> f64 {
        TOP + f64::from(u32::try_from(place).unwrap_or(0)) * self.step()
    }

    /// The base line of a heading \[px\].
    fn heading(&self, place: usize) -> f64 {
        self.top(place) + Self::HEADING - 20.0
    }

    /// The panel of the surface above a section, over the same radii.
    fn relief(&self, place: usize, mirror: &Mirror, y: Range) -> Panel {
        let half = 500.0 * self.diameter;
        let top = self.top(place) + Self::HEADING - 4.0;
        let bottom = top + self.relief - 14.0;
        let x = Range { low: -half, high: half };
        Panel { top, bottom, x, y, ..self.frame(place).panel(mirror) }
    }

    fn bottom(&self) -> f64 {
        self.frame(self.count - 1).origin.1
    }
}

/// When, and what the numbers are then.
fn heading(canvas: &Canvas, night: &Night, field: &Field, (top, surface): (f64, Option<&Profile>)) {
    let (low, high) = extremes(field);
    let celsius = |kelvin| celsius(evenglass_units::Temperature::from_kelvin(kelvin));
    let bold = Lettering::new(size::HEADING, INK).bold();
    let at = moment(&night.scenario, field.time_s);
    canvas.words(&at, (LEFT, top), bold);
    let most = night.maxima.get(spread_column()).is_some_and(|m| high - low >= 0.999 * m.0);
    let text = if high - low < 0.005 {
        format!("air {}; glass {}, the same all over", celsius(field.air_k), celsius(low))
    } else {
        format!(
            "air {}; glass {} to {}, {} apart{}",
            celsius(field.air_k),
            celsius(low),
            celsius(high),
            kelvins(high - low),
            if most { ", the most of the night" } else { "" },
        )
    };
    let after = LEFT + width(&at, bold) + 16.0;
    let quiet = Lettering::new(size::LABEL, QUIET);
    canvas.words(&text, (after, top), quiet);
    if let Some(surface) = surface {
        let which = if surface.is_lopsided() { "mean surface" } else { "surface" };
        let rms = plain(two_digits(1e9 * surface.round_rms_m));
        let text = format!("{which} at best focus, nm: {rms} RMS");
        let right = (1600.0 - BAR_ROOM, top);
        canvas.words(&text, right, Lettering { colour: SURFACE, ..quiet }.anchored(Anchor::Right));
    }
}

/// The range of heights \[nm\] common to all surfaces; `None` without any.
fn heights(surfaces: &[Option<Profile>]) -> Option<Range> {
    let known = surfaces.iter().flatten();
    let all: Vec<f64> = known.flat_map(|p| p.round.iter().map(|h| 1e9 * h)).collect();
    (!all.is_empty()).then(|| Range::around(all.into_iter().chain([0.0]), 4.0))
}

/// The surface at best focus above its section.
fn relief(canvas: &Canvas, profile: &Profile, panel: Panel) {
    let ticks = Ticks::in_range(panel.y, 4);
    panel.grid(canvas, &ticks, |v| ticks.signed(v));
    panel.zero_line(canvas);
    for line in lines_of(&profile.radii, (&profile.round, &profile.round)) {
        panel.line(canvas, line, Pen::new(SURFACE, 2.6));
    }
}

/// Colours the inside of the glass.
fn glass(
    canvas: &Canvas,
    points: &FieldPoints,
    field: &Field,
    (mirror, frame, range): (&Mirror, Frame, Range),
) {
    let half = mirror.diameter.metres() / 2.0;
    let (columns, rows) = (
        crate::plot::whole_pixels(half * frame.across + 2.0),
        crate::plot::whole_pixels(mirror.edge_thickness.metres() * frame.upward + 2.0),
    );
    let Some(mut right) = Pixmap::new(columns, rows) else {
        return;
    };
    let mut left = right.clone();
    for column in 0..columns {
        let radius = (f64::from(column) + 0.5) / frame.across;
        let profile = Upward::at(points, field, radius);
        for row in 0..rows {
            let height = (f64::from(rows - row) - 1.5) / frame.upward;
            let excess = profile.temperature(height) - field.air_k;
            let pixel = pixel(warmth(range.share(excess)));
            let line = (row * columns) as usize;
            right.pixels_mut()[line + column as usize] = pixel;
            left.pixels_mut()[line + (columns - 1 - column) as usize] = pixel;
        }
    }
    let top = frame.origin.1 + 1.0 - f64::from(rows);
    let mut chart = frame.panel(mirror).chart(canvas);
    for part in outline(mirror) {
        // A solid mirror is one outline, so each half is filled through its own half of it.
        for (side, image) in [(1.0, &right), (-1.0, &left)] {
            if !part.iter().any(|p| side * p.0 > 0.0) {
                continue;
            }
            let edge = part.iter().map(|&(r, z)| (side * f64::max(side * r, 0.0), z)).collect();
            let from = if side > 0.0 { 0.0 } else { f64::from(columns) };
            let corner = (frame.origin.0 - from, top);
            drawn(chart.draw_series([Tinted { edge, image, corner }]));
        }
    }
}

/// Lines of equal glass minus air on both sides of the axis, labelled on the right.
fn isotherms(
    canvas: &Canvas,
    points: &FieldPoints,
    field: &Field,
    (mirror, frame, range): (&Mirror, Frame, Range),
) {
    let (low, high) = extremes(field);
    if high - low < UNIFORM {
        return;
    }
    let ticks = Ticks::in_range(Range { low: low - field.air_k, high: high - field.air_k }, 11);
    let lettering = Lettering::new(size::SMALL, INK).anchored(Anchor::Middle);
    let mut taken: Vec<Spot> = Vec::new();
    for &level in &ticks.values {
        let warm = warmth(range.share(level));
        let colour = if warm.is_light() { INK } else { Rgb(255, 255, 255) };
        let pen = Pen::new(colour, 1.6);
        let text = ticks.signed(level);
        let found =
            lines(&points.radius_m, &points.height_m, &field.temperature_k, field.air_k + level);
        for line in &found {
            for side in [-1.0, 1.0] {
                let places = line.iter().map(|&(r, z)| (side * r, z)).collect();
                frame.panel(mirror).line(canvas, places, pen);
            }
        }
        let longest = found.iter().max_by(|a, b| reach(a, frame).total_cmp(&reach(b, frame)));
        let room = width(&text, lettering);
        let spot = longest
            .filter(|line| reach(line, frame) > 1.6 * room)
            .and_then(|line| free_spot(line, frame, mirror, &taken));
        if let Some(spot) = spot {
            taken.push(spot);
            let (a, b) = (
                (spot.0 - room / 2.0 - 5.0, spot.1 - 11.0),
                (spot.0 + room / 2.0 + 5.0, spot.1 + 11.0),
            );
            canvas.rectangle(a, b, warm);
            canvas.words_beside(&text, spot, Lettering { colour, ..lettering });
        }
    }
}

/// Length of a line on the sheet \[px\].
fn reach(line: &[Place], frame: Frame) -> f64 {
    let spots = line.windows(2).map(|w| (frame.spot(w[0]), frame.spot(w[1])));
    spots.map(|(a, b)| (a.0 - b.0).hypot(a.1 - b.1)).sum()
}

/// A spot on the line for its label, inside the glass and away from other labels.
fn free_spot(line: &[Place], frame: Frame, mirror: &Mirror, taken: &[Spot]) -> Option<Spot> {
    const ALONG: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88];
    let surface = Surface::of(mirror);
    let count = f64::from(u32::try_from(line.len()).ok()?);
    ALONG.into_iter().find_map(|share| {
        let &(r, z) = line.get(crate::plot::whole_pixels(share * count) as usize)?;
        let spot = frame.spot((r, z));
        let edge = mirror.diameter.metres() / 2.0 - r;
        let inside = z * frame.upward > 13.0
            && (surface.height(r) - z) * frame.upward > 13.0
            && edge * frame.across > 34.0
            && (r - surface.inner) * frame.across > 34.0;
        let free = taken.iter().all(|t| (t.0 - spot.0).abs() > 76.0 || (t.1 - spot.1).abs() > 26.0);
        (inside && free).then_some(spot)
    })
}

/// Distance from the axis below the lowest section, and which face is which.
fn radius_axis(canvas: &Canvas, mirror: &Mirror, layout: &Layout) {
    let frame = layout.frame(layout.count - 1);
    let half = 500.0 * layout.diameter;
    let x = Range { low: -half, high: half };
    let y = layout.bottom() + 16.0;
    let panel = Panel { x, top: layout.bottom(), bottom: y, ..frame.panel(mirror) };
    let ticks = Ticks::in_range(x, 8);
    panel.x_axis(canvas, &ticks.values, |value| ticks.text(value.abs()));
    let label = Lettering::new(size::TICK, QUIET).anchored(Anchor::Middle);
    canvas.words("mm from the axis", (frame.origin.0, y + 62.0), label);
    let side = Lettering::new(size::SMALL, QUIET).anchored(Anchor::Right);
    let left = frame.spot((-layout.diameter / 2.0, 0.0)).0 - 14.0;
    let surface = Surface::of(mirror);
    canvas.words_beside("front", (left, frame.spot((0.0, surface.thickness)).1 + 8.0), side);
    canvas.words_beside("back", (left, frame.origin.1 - 8.0), side);
}

/// The colour bar, as tall as all sections together.
fn bar(canvas: &Canvas, range: Range, layout: &Layout) {
    let left = 1600.0 - BAR_ROOM + 60.0;
    let top = TOP + Layout::HEADING;
    let bottom = layout.bottom().max(top + 150.0);
    let panel = Panel { left, top, right: left + 30.0, bottom, x: range, y: range };
    colour_bar(canvas, &panel, warmth, Ticks::signed);
    let unit = Lettering::new(size::LABEL, INK);
    canvas.words("glass minus air, K", (left - 20.0, top - 20.0), unit);
    // The sum that made the range may have rounded.
    if range.span() <= LEAST_RANGE + 1e-9 {
        let small = Lettering::new(size::SMALL, QUIET);
        for (text, down) in
            [("colours span".to_owned(), 28.0), (format!("at least {LEAST_RANGE} K"), 50.0)]
        {
            canvas.words(&text, (left - 20.0, bottom + down), small);
        }
    }
}
