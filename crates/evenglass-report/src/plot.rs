//! The pictures. Each takes finished numbers and decides only how they look.

mod axis;
mod clip;
mod clock_chart;
mod colour_bar;
mod comparison;
mod edge_to_centre;
mod fan_curve;
mod figure;
mod films;
mod glass;
mod good;
mod heat_map;
mod image;
mod isotherm;
mod limited;
mod measure;
mod panel;
mod profile;
mod ranked_rows;
mod scale;
mod section;
mod sheet;
mod surface;
mod sweep;
mod tags;
mod temperatures;
mod tinted;

pub(crate) use comparison::comparison;
pub(crate) use edge_to_centre::edge_to_centre;
pub(crate) use fan_curve::fan_curve;
pub(crate) use figure::figure;
pub(crate) use films::films;
pub(crate) use good::good;
pub(crate) use image::image;
pub(crate) use section::section;
pub(crate) use sheet::sheet;
pub(crate) use surface::surface;
pub(crate) use sweep::sweep;
pub(crate) use temperatures::temperatures;

/// A length on the sheet as a whole number of pixels.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded up and clamped to what a picture may measure"
)]
fn whole_pixels(length: f64) -> u32 {
    length.ceil().clamp(1.0, 8000.0) as u32
}
