//! A white sheet on which lines, areas and words are drawn by plotters.
//!
//! Places and lengths are pixels and fractions of them; the [`Raster`] behind
//! plotters keeps a sixteenth of a pixel.

use std::cell::RefCell;
use std::convert::Infallible;
use std::io::{self, Write};
use std::rc::Rc;

use plotters::coord::Shift;
use plotters::drawing::{DrawingArea, DrawingAreaErrorKind};
use plotters::element::{Drawable, PointCollection};
use plotters::prelude::{Color, PathElement, RGBColor, Rectangle, ShapeStyle, Text};
use plotters_backend::BackendCoord;
use plotters_backend::text_anchor::VPos;

use crate::lettering::Lettering;
use crate::raster::{Raster, Spot, fine};
use crate::style::Rgb;

/// How a line is drawn.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pen {
    /// Its colour.
    pub(crate) colour: Rgb,
    /// Its width \[px\].
    pub(crate) width: f64,
    /// Length of dashes and gaps \[px\]; `None` is a full line.
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

    /// Colour and width for plotters.
    pub(crate) fn style(self) -> ShapeStyle {
        RGBColor::from(self.colour).stroke_width(fine(self.width).unsigned_abs())
    }
}

/// The sheet.
pub(crate) struct Canvas {
    raster: Rc<RefCell<Raster>>,
    area: DrawingArea<Raster, Shift>,
}

impl Canvas {
    /// A white sheet of that many pixels.
    pub(crate) fn new(width: u32, height: u32) -> Self {
        let raster = Rc::new(RefCell::new(Raster::new(width, height)));
        let area = DrawingArea::from(&raster);
        Self { raster, area }
    }

    /// Width and height \[px\].
    pub(crate) fn size(&self) -> Spot {
        self.raster.borrow().size()
    }

    /// The whole sheet as plotters' drawing area, in units of the raster.
    pub(crate) fn area(&self) -> &DrawingArea<Raster, Shift> {
        &self.area
    }

    /// Fills a rectangle given by two corners.
    pub(crate) fn rectangle(&self, a: Spot, b: Spot, colour: Rgb) {
        self.draw(&Rectangle::new([unit(a), unit(b)], RGBColor::from(colour).filled()));
    }

    /// Draws a line through the points.
    pub(crate) fn line(&self, points: &[Spot], pen: Pen) {
        let units: Vec<BackendCoord> = points.iter().copied().map(unit).collect();
        self.draw(&PathElement::new(units, pen.style()));
    }

    /// Writes words on one line; `spot` is on their base line.
    pub(crate) fn words(&self, words: &str, spot: Spot, lettering: Lettering) {
        self.draw(&Text::new(words, unit(spot), lettering.text_style(VPos::Bottom)));
    }

    /// Writes words on one line, `spot` half-way up the capitals.
    pub(crate) fn words_beside(&self, words: &str, spot: Spot, lettering: Lettering) {
        self.draw(&Text::new(words, unit(spot), lettering.text_style(VPos::Center)));
    }

    /// Writes the sheet as a PNG.
    pub(crate) fn write_png(&self, out: &mut impl Write) -> io::Result<()> {
        drawn(self.area.present());
        self.raster.borrow().write_png(out)
    }

    fn draw<'a, E>(&self, element: &'a E)
    where
        &'a E: PointCollection<'a, BackendCoord>,
        E: Drawable<Raster>,
    {
        drawn(self.area.draw(element));
    }
}

/// What a drawing gave.
pub(crate) fn drawn<T>(result: Result<T, DrawingAreaErrorKind<Infallible>>) -> T {
    // The raster has no error, keeps no borrow of itself and asks nobody for a font.
    result.expect("drawing into memory does not fail")
}

/// A spot in units of the raster.
fn unit((x, y): Spot) -> BackendCoord {
    (fine(x), fine(y))
}
