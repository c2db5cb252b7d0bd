//! Words as outlines of the embedded Noto Sans, so that every machine makes the same
//! picture with no font installed.

use std::sync::OnceLock;

use ab_glyph::{Font, FontRef, OutlineCurve};
use plotters::prelude::{FontDesc, FontFamily, FontStyle, TextStyle};
use plotters_backend::text_anchor::{HPos, Pos, VPos};
use tiny_skia::{Path, PathBuilder};

use crate::raster::{FINE, Spot, narrow};
use crate::style::Rgb;

/// How high the letters reach above the base line, accents left out [em].
pub(crate) const ASCENT: f64 = 0.85;

/// Height of the capitals of this face [em].
pub(crate) const CAPITALS: f64 = 0.714;

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
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Lettering {
    /// Em size \[px\].
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

    /// The same for plotters, `vertical` as the raster understands it.
    pub(crate) fn text_style(self, vertical: VPos) -> TextStyle<'static> {
        let style = match self.weight {
            Weight::Regular => FontStyle::Normal,
            Weight::Bold => FontStyle::Bold,
        };
        let horizontal = match self.anchor {
            Anchor::Left => HPos::Left,
            Anchor::Middle => HPos::Center,
            Anchor::Right => HPos::Right,
        };
        let font = FontDesc::new(FontFamily::SansSerif, self.size * f64::from(FINE), style);
        let mut text = TextStyle::from(font).pos(Pos::new(horizontal, vertical));
        text.color = self.colour.into();
        text
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

/// Width \[px\] of words on one line.
pub(crate) fn width(words: &str, lettering: Lettering) -> f64 {
    lay_out(words, lettering.size, lettering.weight, |_, _| {})
}

/// `words`, cut with an ellipsis where they would be wider than `room` \[px\].
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

/// The outline of words of `size` \[px\] on one line; `start` is the left end of their base line.
///
/// `None` if there is nothing to draw.
pub(crate) fn outline(words: &str, size: f64, weight: Weight, start: Spot) -> Option<Path> {
    let mut path = PathBuilder::new();
    let font = font(weight);
    let scale = size / em(font);
    lay_out(words, size, weight, |id, advance| {
        if let Some(outline) = font.outline(id) {
            trace(&mut path, &outline.curves, scale, (start.0 + advance, start.1));
        }
    });
    path.finish()
}

/// Hands each glyph and its distance from the start \[px\] to `place`; returns the whole width \[px\].
pub(crate) fn lay_out(
    words: &str,
    size: f64,
    weight: Weight,
    mut place: impl FnMut(ab_glyph::GlyphId, f64),
) -> f64 {
    let font = font(weight);
    let scale = size / em(font);
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
