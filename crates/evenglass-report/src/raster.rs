//! What plotters draws, as anti-aliased pixels that become a PNG.
//!
//! Plotters places everything on whole units. The raster announces [`FINE`] units to the
//! pixel, so that lines and letters lie on fractions of a pixel.

use std::convert::Infallible;
use std::io::{self, Write};

use plotters_backend::text_anchor::{HPos, VPos};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
    FontStyle,
};
use tiny_skia::{
    Color, FillRule, FilterQuality, LineCap, LineJoin, Paint, Path, PathBuilder, Pattern, Pixmap,
    SpreadMode, Stroke, Transform,
};

use crate::lettering::{ASCENT, CAPITALS, Weight, lay_out, outline};

/// Units of the raster along one pixel.
pub(crate) const FINE: i32 = 16;

/// A place on the sheet \[px\], from the top left corner.
pub(crate) type Spot = (f64, f64);

/// What drawing into memory returns: it cannot fail.
type Drawn<T = ()> = Result<T, DrawingErrorKind<Infallible>>;

/// A length or position \[px\] in whole units of the raster.
#[expect(clippy::cast_possible_truncation, reason = "clamped far inside the type's range")]
pub(crate) fn fine(pixels: f64) -> i32 {
    (pixels * f64::from(FINE)).round().clamp(-1e8, 1e8) as i32
}

/// Sheet coordinates in the rasteriser's type.
#[expect(clippy::cast_possible_truncation, reason = "pixels need no more than seven digits")]
pub(crate) fn narrow(value: f64) -> f32 {
    value as f32
}

/// Pixels that plotters draws on.
///
/// Words are level, in Noto Sans, regular or bold. Of their vertical anchors,
/// `Top` is the top of the letters, `Center` half-way up the capitals and
/// `Bottom` the base line.
pub(crate) struct Raster {
    pixels: Pixmap,
}

impl Raster {
    /// White paper of that many pixels.
    pub(crate) fn new(width: u32, height: u32) -> Self {
        let mut pixels = Pixmap::new(width, height).expect("picture sizes are small constants");
        pixels.fill(Color::WHITE);
        Self { pixels }
    }

    /// Width and height \[px\].
    pub(crate) fn size(&self) -> Spot {
        (f64::from(self.pixels.width()), f64::from(self.pixels.height()))
    }

    /// Fills the area inside `edge` with `image`, whose top left corner lies at `corner`.
    pub(crate) fn fill_with(
        &mut self,
        edge: impl IntoIterator<Item = BackendCoord>,
        image: &Pixmap,
        corner: Spot,
    ) {
        let Some(path) = polyline(edge, Ends::Joined) else {
            return;
        };
        let (pad, quality) = (SpreadMode::Pad, FilterQuality::Nearest);
        let moved = Transform::from_translate(narrow(corner.0), narrow(corner.1));
        let shader = Pattern::new(image.as_ref(), pad, quality, 1.0, moved);
        let paint = Paint { shader, anti_alias: true, ..Paint::default() };
        self.pixels.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
    }

    /// Writes the pixels as a PNG.
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

    fn fill(&mut self, path: Option<Path>, colour: BackendColor) {
        if let Some(path) = path.filter(|_| colour.alpha > 0.0) {
            let (rule, still) = (FillRule::Winding, Transform::identity());
            self.pixels.fill_path(&path, &paint(colour), rule, still, None);
        }
    }

    fn stroke(&mut self, path: Option<Path>, style: &impl BackendStyle) {
        let Some(path) = path.filter(|_| style.color().alpha > 0.0) else {
            return;
        };
        let stroke = Stroke {
            width: pen_width(style),
            line_cap: LineCap::Round,
            line_join: LineJoin::Round,
            ..Stroke::default()
        };
        let still = Transform::identity();
        self.pixels.stroke_path(&path, &paint(style.color()), &stroke, still, None);
    }
}

impl DrawingBackend for Raster {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        let fine = FINE.unsigned_abs();
        (fine * self.pixels.width(), fine * self.pixels.height())
    }

    fn ensure_prepared(&mut self) -> Drawn {
        Ok(())
    }

    fn present(&mut self) -> Drawn {
        Ok(())
    }

    fn draw_pixel(&mut self, (x, y): BackendCoord, color: BackendColor) -> Drawn {
        self.draw_rect((x, y), (x + 1, y + 1), &color, true)
    }

    fn draw_line<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
    ) -> Drawn {
        self.draw_path([from, to], style)
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        (x0, y0): BackendCoord,
        (x1, y1): BackendCoord,
        style: &S,
        fill: bool,
    ) -> Drawn {
        let edge = polyline([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], Ends::Joined);
        if fill {
            self.fill(edge, style.color());
        } else {
            self.stroke(edge, style);
        }
        Ok(())
    }

    /// A line that ends where it began is closed; a single point becomes a dot.
    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Drawn {
        let points: Vec<BackendCoord> = path.into_iter().collect();
        if let [spot] = points[..] {
            return self.draw_circle(spot, style.stroke_width() * 8 / 5, style, true);
        }
        let ends = match (points.first(), points.last()) {
            (Some(first), Some(last)) if points.len() > 3 && first == last => Ends::Joined,
            _ => Ends::Open,
        };
        self.stroke(polyline(points, ends), style);
        Ok(())
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        center: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Drawn {
        let (x, y) = coarse(center);
        let radius = narrow(f64::from(radius) / f64::from(FINE));
        let circle = PathBuilder::from_circle(narrow(x), narrow(y), radius);
        if fill {
            self.fill(circle, style.color());
        } else {
            self.stroke(circle, style);
        }
        Ok(())
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        vert: I,
        style: &S,
    ) -> Drawn {
        self.fill(polyline(vert, Ends::Joined), style.color());
        Ok(())
    }

    fn draw_text<S: BackendTextStyle>(
        &mut self,
        text: &str,
        style: &S,
        pos: BackendCoord,
    ) -> Drawn {
        let (size, weight) = face(style);
        let (x, y) = coarse(pos);
        let room = lay_out(text, size, weight, |_, _| {});
        let left = match style.anchor().h_pos {
            HPos::Left => x,
            HPos::Center => x - room / 2.0,
            HPos::Right => x - room,
        };
        let base = match style.anchor().v_pos {
            VPos::Top => y + ASCENT * size,
            VPos::Center => y + CAPITALS / 2.0 * size,
            VPos::Bottom => y,
        };
        self.fill(outline(text, size, weight, (left, base)), style.color());
        Ok(())
    }

    fn estimate_text_size<S: BackendTextStyle>(&self, text: &str, style: &S) -> Drawn<(u32, u32)> {
        let (size, weight) = face(style);
        let width = fine(lay_out(text, size, weight, |_, _| {}));
        Ok((width.unsigned_abs(), fine(size).unsigned_abs()))
    }
}

/// Whether a line ends where it began.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ends {
    Open,
    Joined,
}

/// A place of plotters' on the sheet \[px\].
fn coarse((x, y): BackendCoord) -> Spot {
    (f64::from(x) / f64::from(FINE), f64::from(y) / f64::from(FINE))
}

fn polyline(points: impl IntoIterator<Item = BackendCoord>, ends: Ends) -> Option<Path> {
    let mut path = PathBuilder::new();
    for point in points {
        let (x, y) = coarse(point);
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

fn pen_width(style: &impl BackendStyle) -> f32 {
    narrow(f64::from(style.stroke_width()) / f64::from(FINE))
}

/// Em size \[px\] and weight of a style of plotters'.
fn face(style: &impl BackendTextStyle) -> (f64, Weight) {
    let weight = match style.style() {
        FontStyle::Bold => Weight::Bold,
        _ => Weight::Regular,
    };
    (style.size() / f64::from(FINE), weight)
}

fn paint(colour: BackendColor) -> Paint<'static> {
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    let (red, green, blue) = colour.rgb;
    let alpha = crate::style::channel(255.0 * colour.alpha);
    paint.set_color(Color::from_rgba8(red, green, blue, alpha));
    paint
}

#[cfg(test)]
mod tests {
    use std::cell::RefCell;
    use std::rc::Rc;

    use plotters::coord::Shift;
    use plotters::drawing::DrawingArea;
    use plotters::prelude::{Color, PathElement, RGBColor, Text};
    use plotters_backend::text_anchor::{HPos, Pos, VPos};

    use super::*;
    use crate::lettering::{Lettering, width};
    use crate::style::Rgb;

    const BLACK: Rgb = Rgb(0, 0, 0);

    /// How dark each row of pixels is, 0 white to 1 black, after `draw` on 40 by 40 pixels.
    fn rows(draw: impl Fn(&DrawingArea<Raster, Shift>)) -> Vec<f64> {
        let shared = Rc::new(RefCell::new(Raster::new(40, 40)));
        draw(&DrawingArea::from(&shared));
        let raster = shared.borrow();
        let dark = |p: &tiny_skia::PremultipliedColorU8| f64::from(255 - p.green()) / 255.0;
        let rows = raster.pixels.pixels().chunks(40);
        rows.map(|row| row.iter().map(dark).fold(0.0, f64::max)).collect()
    }

    fn line_at(height: f64, colour: &impl Color) -> Vec<f64> {
        rows(|area| {
            let style = colour.stroke_width(fine(1.0).unsigned_abs());
            let line = PathElement::new([(0, fine(height)), (fine(40.0), fine(height))], style);
            area.draw(&line).unwrap();
        })
    }

    #[test]
    fn a_line_between_two_rows_of_pixels_is_shared_by_them() {
        let black = RGBColor(0, 0, 0);
        let between = line_at(20.0, &black);
        assert!((between[19] - 0.5).abs() < 0.02 && (between[20] - 0.5).abs() < 0.02, "halves");
        let quarter = line_at(20.25, &black);
        assert!((quarter[19] - 0.25).abs() < 0.02 && (quarter[20] - 0.75).abs() < 0.02, "shares");
        assert!(line_at(20.0, &black.mix(0.0)).iter().all(|d| d.abs() < 1e-9), "transparent");
    }

    #[test]
    fn letters_hang_stand_or_are_centred_as_their_anchor_says() {
        // An H of 20 px is 14.28 px high and has no part below its base line.
        let ink = |vertical| {
            let lettering = Lettering::new(20.0, BLACK);
            let dark = rows(|area| {
                let text = Text::new("H", (fine(10.0), fine(20.0)), lettering.text_style(vertical));
                area.draw(&text).unwrap();
            });
            let top = dark.iter().position(|d| *d > 0.01).unwrap();
            (top, dark.iter().rposition(|d| *d > 0.01).unwrap())
        };
        assert_eq!(ink(VPos::Bottom), (5, 19), "from 5.72 to the base line at 20");
        assert_eq!(ink(VPos::Center), (12, 27), "from 12.86 to 27.14");
        assert_eq!(ink(VPos::Top), (22, 36), "from 22.72 to the base line at 37");
    }

    #[test]
    fn plotters_is_told_the_width_that_words_are_drawn_with() {
        let raster = Raster::new(40, 40);
        for lettering in [Lettering::new(18.0, BLACK), Lettering::new(23.0, BLACK).bold()] {
            let style = lettering.text_style(VPos::Top).pos(Pos::new(HPos::Left, VPos::Top));
            let (wide, _) = raster.estimate_text_size("−12.5 °C", &style).unwrap();
            let told = f64::from(wide) / f64::from(FINE);
            assert!((told - width("−12.5 °C", lettering)).abs() < 0.1, "{told}");
        }
    }
}
