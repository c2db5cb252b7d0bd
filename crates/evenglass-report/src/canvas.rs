//! A white sheet on which lines, areas and words are drawn, and which becomes a PNG.
//!
//! Everything is anti-aliased and placed on fractions of a pixel, words included:
//! they are drawn as outlines of the embedded Noto Sans, so that every machine
//! makes the same picture with no font installed.

use std::io::{self, Write};
use std::sync::OnceLock;

use ab_glyph::{Font, FontRef, OutlineCurve};
use tiny_skia::{
    FillRule, FilterQuality, LineCap, LineJoin, Paint, Path, PathBuilder, Pattern, Pixmap,
    SpreadMode, Stroke, StrokeDash, Transform,
};

use crate::style::Rgb;

/// A place on the sheet [px], from the top left corner.
pub(crate) type Spot = (f64, f64);

/// How a line is drawn.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pen {
    /// Its colour.
    pub(crate) colour: Rgb,
    /// Its width [px].
    pub(crate) width: f64,
    /// Length of dashes and gaps [px]; `None` is a full line.
    pub(crate) dash: Option<(f64, f64)>,
}

impl Pen {
    /// A full line.
    pub(crate) fn new(colour: Rgb, width: f64) -> Self {
        Self { colour, width, dash: None }
    }

    /// A dashed line.
    pub(crate) fn dashed(colour: Rgb, width: f64, dash: f64, gap: f64) -> Self {
        Self { colour, width, dash: Some((dash, gap)) }
    }
}

/// Where the spot lies in a line of words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    /// At its left end.
    Left,
    /// In its middle.
    Middle,
    /// At its right end.
    Right,
}

/// How words look.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lettering {
    /// Em size [px].
    pub(crate) size: f64,
    /// Their colour.
    pub(crate) colour: Rgb,
    /// Where the spot lies.
    pub(crate) anchor: Anchor,
    /// The face.
    pub(crate) weight: Weight,
}

impl Lettering {
    /// Regular words that start at the spot.
    pub(crate) fn new(size: f64, colour: Rgb) -> Self {
        Self { size, colour, anchor: Anchor::Left, weight: Weight::Regular }
    }

    /// The same in bold.
    pub(crate) fn bold(self) -> Self {
        Self { weight: Weight::Bold, ..self }
    }

    /// The same around another anchor.
    pub(crate) fn anchored(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }
}

/// The two faces in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weight {
    /// Noto Sans Regular.
    Regular,
    /// Noto Sans Bold.
    Bold,
}

/// The sheet.
pub(crate) struct Canvas {
    pixels: Pixmap,
}

impl Canvas {
    /// A white sheet of that many pixels.
    pub(crate) fn new(width: u32, height: u32) -> Self {
        let mut pixels = Pixmap::new(width, height).expect("picture sizes are small constants");
        pixels.fill(tiny_skia::Color::WHITE);
        Self { pixels }
    }

    /// Width and height [px].
    pub(crate) fn size(&self) -> (f64, f64) {
        (f64::from(self.pixels.width()), f64::from(self.pixels.height()))
    }

    /// Fills the area inside `outline`.
    pub(crate) fn area(&mut self, outline: &[Spot], colour: Rgb) {
        if let Some(path) = polyline(outline, Ends::Joined) {
            let paint = paint(colour);
            let (rule, still) = (FillRule::Winding, Transform::identity());
            self.pixels.fill_path(&path, &paint, rule, still, None);
        }
    }

    /// Fills a rectangle given by two corners.
    pub(crate) fn rectangle(&mut self, a: Spot, b: Spot, colour: Rgb) {
        self.area(&[a, (b.0, a.1), b, (a.0, b.1)], colour);
    }

    /// Fills the area inside `outline` with `image`, whose top left corner lies at `corner`.
    pub(crate) fn image(&mut self, outline: &[Spot], image: &Pixmap, corner: Spot) {
        let Some(path) = polyline(outline, Ends::Joined) else {
            return;
        };
        let (pad, quality) = (SpreadMode::Pad, FilterQuality::Nearest);
        let moved = Transform::from_translate(narrow(corner.0), narrow(corner.1));
        let shader = Pattern::new(image.as_ref(), pad, quality, 1.0, moved);
        let paint = Paint { shader, anti_alias: true, ..Paint::default() };
        self.pixels.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
    }

    /// Draws a line through the points; a single one becomes a dot.
    pub(crate) fn line(&mut self, points: &[Spot], pen: Pen) {
        self.stroke(points, pen, Ends::Open);
    }

    /// Draws a closed line through the points.
    pub(crate) fn outline(&mut self, points: &[Spot], pen: Pen) {
        self.stroke(points, pen, Ends::Joined);
    }

    fn stroke(&mut self, points: &[Spot], pen: Pen, ends: Ends) {
        if let [spot] = points {
            self.dot(*spot, pen.width * 1.6, pen.colour);
            return;
        }
        let Some(path) = polyline(points, ends) else {
            return;
        };
        let dash =
            pen.dash.and_then(|(dash, gap)| StrokeDash::new(vec![narrow(dash), narrow(gap)], 0.0));
        let line_cap = if dash.is_some() { LineCap::Butt } else { LineCap::Round };
        let stroke = Stroke {
            width: narrow(pen.width),
            line_cap,
            line_join: LineJoin::Round,
            dash,
            ..Stroke::default()
        };
        self.pixels.stroke_path(&path, &paint(pen.colour), &stroke, Transform::identity(), None);
    }

    /// Draws a filled dot.
    pub(crate) fn dot(&mut self, centre: Spot, radius: f64, colour: Rgb) {
        let circle = PathBuilder::from_circle(narrow(centre.0), narrow(centre.1), narrow(radius));
        if let Some(path) = circle {
            let (rule, still) = (FillRule::Winding, Transform::identity());
            self.pixels.fill_path(&path, &paint(colour), rule, still, None);
        }
    }

    /// Writes words on one line; `spot` is on their base line.
    pub(crate) fn words(&mut self, words: &str, spot: Spot, lettering: Lettering) {
        let start = match lettering.anchor {
            Anchor::Left => spot.0,
            Anchor::Middle => spot.0 - width(words, lettering) / 2.0,
            Anchor::Right => spot.0 - width(words, lettering),
        };
        let mut path = PathBuilder::new();
        let font = font(lettering.weight);
        lay_out(words, lettering, |id, advance| {
            if let Some(outline) = font.outline(id) {
                let scale = lettering.size / em(font);
                trace(&mut path, &outline.curves, scale, (start + advance, spot.1));
            }
        });
        if let Some(path) = path.finish() {
            let (rule, still) = (FillRule::Winding, Transform::identity());
            self.pixels.fill_path(&path, &paint(lettering.colour), rule, still, None);
        }
    }

    /// Writes words on one line, `spot` half-way up the capitals.
    pub(crate) fn words_beside(&mut self, words: &str, spot: Spot, lettering: Lettering) {
        // Capitals of this face are 0.714 em high.
        self.words(words, (spot.0, spot.1 + 0.357 * lettering.size), lettering);
    }

    /// Writes the sheet as a PNG.
    pub(crate) fn write_png(&self, out: &mut impl Write) -> io::Result<()> {
        let mut encoder = png::Encoder::new(out, self.pixels.width(), self.pixels.height());
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_compression(png::Compression::Fast);
        // Pixels are opaque, so premultiplied colours are the colours.
        let rgb: Vec<u8> =
            self.pixels.data().chunks_exact(4).flat_map(|p| [p[0], p[1], p[2]]).collect();
        let mut writer = encoder.write_header()?;
        writer.write_image_data(&rgb)?;
        writer.finish()?;
        Ok(())
    }
}

/// Width [px] of words on one line.
pub(crate) fn width(words: &str, lettering: Lettering) -> f64 {
    lay_out(words, lettering, |_, _| {})
}

/// `words`, cut with an ellipsis where they would be wider than `room` [px].
pub(crate) fn fitted(words: &str, lettering: Lettering, room: f64) -> String {
    let clean: String = words.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    if width(&clean, lettering) <= room {
        return clean;
    }
    let mut cut = String::new();
    let mut used = width("…", lettering);
    for letter in clean.chars() {
        used += width(letter.encode_utf8(&mut [0; 4]), lettering);
        if used > room {
            break;
        }
        cut.push(letter);
    }
    format!("{}…", cut.trim_end())
}

/// Whether a line ends where it began.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ends {
    Open,
    Joined,
}

fn polyline(points: &[Spot], ends: Ends) -> Option<Path> {
    let mut path = PathBuilder::new();
    for &(x, y) in points.iter().filter(|(x, y)| x.is_finite() && y.is_finite()) {
        if path.is_empty() {
            path.move_to(narrow(x), narrow(y));
        } else {
            path.line_to(narrow(x), narrow(y));
        }
    }
    if ends == Ends::Joined && !path.is_empty() {
        path.close();
    }
    path.finish()
}

fn paint(colour: Rgb) -> Paint<'static> {
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    paint.set_color(colour.into());
    paint
}

/// The face, parsed once.
fn font(weight: Weight) -> &'static FontRef<'static> {
    static REGULAR: OnceLock<FontRef<'static>> = OnceLock::new();
    static BOLD: OnceLock<FontRef<'static>> = OnceLock::new();
    let (slot, bytes) = match weight {
        Weight::Regular => (&REGULAR, notosans::REGULAR_TTF),
        Weight::Bold => (&BOLD, notosans::BOLD_TTF),
    };
    slot.get_or_init(|| FontRef::try_from_slice(bytes).expect("the embedded font is well formed"))
}

/// Font units per em.
fn em(font: &impl Font) -> f64 {
    f64::from(font.units_per_em().expect("the embedded font states its em"))
}

/// Hands each glyph and its distance from the start [px] to `place`; returns the whole width [px].
fn lay_out(
    words: &str,
    lettering: Lettering,
    mut place: impl FnMut(ab_glyph::GlyphId, f64),
) -> f64 {
    let font = font(lettering.weight);
    let scale = lettering.size / em(font);
    let mut advance = 0.0;
    let mut last = None;
    for letter in words.chars() {
        let id = font.glyph_id(letter);
        if let Some(last) = last {
            advance += scale * f64::from(font.kern_unscaled(last, id));
        }
        place(id, advance);
        advance += scale * f64::from(font.h_advance_unscaled(id));
        last = Some(id);
    }
    advance
}

/// Adds one glyph's outline, in font units with y up, to `path`.
fn trace(path: &mut PathBuilder, curves: &[OutlineCurve], scale: f64, origin: Spot) {
    let place = |p: ab_glyph::Point| {
        (narrow(origin.0 + scale * f64::from(p.x)), narrow(origin.1 - scale * f64::from(p.y)))
    };
    let mut pen = None;
    for curve in curves {
        let (OutlineCurve::Line(start, end)
        | OutlineCurve::Quad(start, _, end)
        | OutlineCurve::Cubic(start, _, _, end)) = *curve;
        // The curves come as one list; a gap between two of them starts a new contour.
        if pen != Some(start) {
            let (x, y) = place(start);
            path.move_to(x, y);
        }
        let (x, y) = place(end);
        match *curve {
            OutlineCurve::Line(..) => path.line_to(x, y),
            OutlineCurve::Quad(_, c, _) => {
                let (cx, cy) = place(c);
                path.quad_to(cx, cy, x, y);
            }
            OutlineCurve::Cubic(_, c, d, _) => {
                let ((cx, cy), (dx, dy)) = (place(c), place(d));
                path.cubic_to(cx, cy, dx, dy, x, y);
            }
        }
        pen = Some(end);
    }
}

/// Sheet coordinates in the drawing library's type.
#[expect(clippy::cast_possible_truncation, reason = "pixels need no more than seven digits")]
fn narrow(value: f64) -> f32 {
    value as f32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::style::INK;

    #[test]
    fn a_title_too_wide_is_cut_to_the_room_it_has() {
        let lettering = Lettering::new(20.0, INK);
        let cut = fitted(&"mirror ".repeat(50), lettering, 300.0);
        assert!(cut.ends_with('…'), "the cut shows");
        assert!(width(&cut, lettering) <= 300.0, "and fits");
        assert_eq!(fitted("a\tb", lettering, 300.0), "a b");
    }

    #[test]
    fn the_face_has_the_signs_the_pictures_need() {
        for weight in [Weight::Regular, Weight::Bold] {
            for sign in "−°±µ…–×²Δ".chars() {
                assert_ne!(font(weight).glyph_id(sign).0, 0, "{sign} is in the font");
            }
        }
    }
}
