//! An area of the sheet filled with an image.

use std::convert::Infallible;

use plotters::element::{Drawable, PointCollection};
use plotters_backend::{BackendCoord, DrawingErrorKind};
use tiny_skia::{Pixmap, PremultipliedColorU8};

use crate::raster::{Raster, Spot};
use crate::style::Rgb;

/// An area filled with an image.
pub(super) struct Tinted<'a> {
    /// Its outline, in the coordinates of the panel it is drawn in.
    pub(super) edge: Vec<(f64, f64)>,
    /// The image, a pixel of it for a pixel of the sheet.
    pub(super) image: &'a Pixmap,
    /// Top left corner of the image on the sheet.
    pub(super) corner: Spot,
}

impl<'a> PointCollection<'a, (f64, f64)> for &'a Tinted<'_> {
    type IntoIter = &'a [(f64, f64)];
    type Point = &'a (f64, f64);

    fn point_iter(self) -> &'a [(f64, f64)] {
        &self.edge
    }
}

impl Drawable<Raster> for Tinted<'_> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        edge: I,
        raster: &mut Raster,
        _: (u32, u32),
    ) -> Result<(), DrawingErrorKind<Infallible>> {
        raster.fill_with(edge, self.image, self.corner);
        Ok(())
    }
}

/// An opaque pixel.
pub(super) fn pixel(Rgb(r, g, b): Rgb) -> PremultipliedColorU8 {
    PremultipliedColorU8::from_rgba(r, g, b, 255).expect("an opaque colour is premultiplied")
}
