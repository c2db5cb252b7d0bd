//! What the mirror makes of a star: fringes and point spread, beside those of a perfect mirror.

use evenglass_simulation::Night;
use evenglass_simulation::image::WAVELENGTH_M;
use evenglass_simulation::picture::Picture;
use evenglass_simulation::result::{Moment, Occasion, Surface};
use evenglass_units::Length;
use ndarray::Array2;
use tiny_skia::Pixmap;

use crate::canvas::{Canvas, Pen, drawn};
use crate::lettering::{Anchor, Lettering, width};
use crate::plot::panel::{LEFT, Panel, title};
use crate::plot::scale::Range;
use crate::plot::tinted::{Tinted, pixel};
use crate::plot::whole_pixels;
use crate::style::{AXIS, INK, QUIET, Rgb, channel, size};
use crate::text::short;
use crate::wording::{mirror, moment, plain, two_digits};

/// Side of a picture, and from one to the next \[px\].
const TILE: f64 = 420.0;
const GAP: f64 = 34.0;

/// Where the rows of pictures begin \[px\].
const FRINGES: f64 = 238.0;
const SPREAD: f64 = FRINGES + TILE + 70.0;

/// Faintest light shown, of the perfect peak: six rings of a clear aperture are brighter.
const FAINTEST: f64 = 1e-4;

/// Half of the sky shown, in wavelengths over diameter: seven rings of a perfect image.
const HALF_FIELD: f64 = 8.0;

/// Fringes across a perfect mirror, level: enough to see them bend, few enough to follow.
const TILT: f64 = 8.0;

/// One star image and the fringes that go with it.
struct View {
    /// "ready 22:09".
    name: String,
    /// What its numbers are.
    detail: String,
    /// Brightness 0 to 1 over the pupil, NaN outside it, `[rows from the top, columns]`.
    fringes: Array2<f64>,
    /// Light over the perfect peak, the middle of the sky in the middle, likewise.
    spread: Array2<f64>,
    /// Width of a pixel of the spread \[arcsec\].
    pixel_arcsec: f64,
}

/// Fringes and star when the mirror is ready and at its worst, beside the perfect ones.
pub(crate) fn image(night: &Night) -> Canvas {
    let found = |what: Occasion| {
        let moment = night.moments.iter().find(|moment| moment.what == what)?;
        Some((moment, Picture::of(&night.scenario, &moment.surface, TILT)?))
    };
    let ready = found(Occasion::Ready);
    let worst = found(Occasion::Worst);
    let mut views = Vec::new();
    if let Some((moment, _)) = ready.as_ref().or(worst.as_ref()) {
        views.extend(perfect(night, moment));
    }
    let late = last_field(night).filter(|_| ready.is_none());
    for (name, found) in [("ready", ready), ("worst", worst)] {
        let seen = found.map(|(moment, picture)| view(night, (name, moment.time_s), picture));
        views.extend(seen);
    }
    views.extend(late.map(|(time_s, picture)| view(night, ("", time_s), picture)));
    sheet(night, &views)
}

/// What no mirror betters: the same with a surface that is right.
fn perfect(night: &Night, moment: &Moment) -> Option<View> {
    let radius_m = moment.surface.radius_m.clone();
    let surface = Surface { round_m: vec![0.0; radius_m.len()], radius_m, orders: vec![] };
    let picture = Picture::of(&night.scenario, &surface, TILT)?;
    let (fringes, spread, pixel_arcsec) = (picture.fringes, picture.star, picture.pixel_arcsec);
    let detail = "for comparison".to_owned();
    Some(View { name: "perfect".to_owned(), detail, fringes, spread, pixel_arcsec })
}

/// The last requested time that is not the worst: what a night that never gets good came to.
fn last_field(night: &Night) -> Option<(f64, Picture)> {
    let field = night.fields.last()?;
    let known = night.moments.iter().any(|moment| (moment.time_s - field.time_s).abs() < 1.0);
    let picture = Picture::of(&night.scenario, &field.surface, TILT).filter(|_| !known)?;
    Some((field.time_s, picture))
}

fn view(night: &Night, (name, time_s): (&str, f64), picture: Picture) -> View {
    let name = format!("{name} {}", moment(&night.scenario, time_s)).trim().to_owned();
    let rms = plain(two_digits(1e9 * picture.wavefront_rms_m));
    let detail = format!("Strehl {}, wavefront {rms} nm RMS", share(picture.peak));
    let (fringes, spread, pixel_arcsec) = (picture.fringes, picture.star, picture.pixel_arcsec);
    View { name, detail, fringes, spread, pixel_arcsec }
}

/// A share of one with two decimals: "0.82".
fn share(value: f64) -> String {
    if value < 0.005 { "below 0.01".to_owned() } else { format!("{value:.2}") }
}

/// The views side by side.
fn sheet(night: &Night, views: &[View]) -> Canvas {
    let canvas = Canvas::new(1600, whole_pixels(SPREAD + TILE + 60.0));
    let name = short(&night.scenario.title, 200);
    let case = format!("{}; figure alone, without the air, at 550 nm", mirror(&night.scenario));
    title(&canvas, &format!("Image – {name}"), &case);
    let quiet = Lettering::new(size::LABEL, QUIET);
    if views.is_empty() {
        canvas.words("no image was computed", (LEFT, 200.0), quiet);
        return canvas;
    }
    let radians = WAVELENGTH_M / night.scenario.mirror.diameter.metres();
    let half = HALF_FIELD * radians.to_degrees() * 3600.0;
    let mut left = LEFT;
    for view in views {
        let bold = Lettering::new(size::HEADING, INK).bold();
        canvas.words(&view.name, (left, FRINGES - 88.0), bold);
        canvas.words(&view.detail, (left, FRINGES - 61.0), Lettering::new(size::TICK, QUIET));
        let shown = half.min(0.5 * view.pixel_arcsec * rows(&view.spread));
        let fringes = outward(&view.fringes);
        tile(&canvas, (left, FRINGES), circle(1.0), |x, y| fringe(&fringes, (x, y)));
        let blocked = circle(hidden(night));
        tile(&canvas, (left, FRINGES), blocked, |_, _| Rgb(255, 255, 255));
        tile(&canvas, (left, SPREAD), SQUARE.to_vec(), |x, y| {
            let scale = 2.0 * shown / view.pixel_arcsec;
            starlight(smooth(&view.spread, (scale * (x - 0.5), scale * (y - 0.5))))
        });
        scale_bar(&canvas, left, shown);
        left += TILE + GAP;
    }
    let bold = Lettering::new(size::LABEL, INK).bold();
    let rows = [
        (
            FRINGES,
            "Fringes",
            "against a perfect mirror, tilted, seen from the front; from one to the next is 275 nm of surface",
        ),
        (
            SPREAD,
            "Star",
            "a point of light, much enlarged; logarithmic, peak of the perfect image = 1",
        ),
    ];
    for (top, name, what) in rows {
        canvas.words(name, (LEFT, top - 16.0), bold);
        let after = LEFT + width(name, bold) + 12.0;
        canvas.words(what, (after, top - 16.0), Lettering::new(size::TICK, QUIET));
    }
    light_bar(&canvas, left - GAP + 24.0);
    canvas
}

fn rows(image: &Array2<f64>) -> f64 {
    f64::from(u32::try_from(image.nrows()).unwrap_or(u32::MAX))
}

/// The whole of a tile, in shares of it.
const SQUARE: [(f64, f64); 4] = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];

/// A circle in the middle of a tile, `share` as wide as it.
fn circle(share: f64) -> Vec<(f64, f64)> {
    const STEPS: u32 = 240;
    let angle = |step: u32| std::f64::consts::TAU * f64::from(step) / f64::from(STEPS);
    let steps = (0..STEPS).map(angle);
    steps.map(|a| (0.5 + 0.5 * share * a.cos(), 0.5 + 0.5 * share * a.sin())).collect()
}

/// How much of the diameter hole or secondary take from the light.
fn hidden(night: &Night) -> f64 {
    let hole = night.scenario.mirror.hole_diameter.map_or(0.0, Length::metres);
    let secondary = night.scenario.telescope.as_ref().and_then(|t| t.secondary);
    let shaded = secondary.map_or(0.0, |s| s.diameter.metres());
    (hole.max(shaded) / night.scenario.mirror.diameter.metres()).min(1.0)
}

/// Fills an outline in a tile, given in shares of it; `colour` is asked at shares of the tile's
/// width and height from the top left.
fn tile(
    canvas: &Canvas,
    (left, top): (f64, f64),
    edge: Vec<(f64, f64)>,
    colour: impl Fn(f64, f64) -> Rgb,
) {
    let side = whole_pixels(TILE);
    let Some(mut image) = Pixmap::new(side, side) else {
        return;
    };
    for row in 0..side {
        for column in 0..side {
            let share = |at: u32| (f64::from(at) + 0.5) / f64::from(side);
            image.pixels_mut()[(row * side + column) as usize] =
                pixel(colour(share(column), share(row)));
        }
    }
    let unit = Range { low: 0.0, high: 1.0 };
    let panel = Panel { left, top, right: left + TILE, bottom: top + TILE, x: unit, y: unit };
    drawn(panel.chart(canvas).draw_series([Tinted { edge, image: &image, corner: (left, top) }]));
}

/// Fringes continued a little beyond the pupil, so that its edge can be drawn smoothly.
fn outward(fringes: &Array2<f64>) -> Array2<f64> {
    let mut all = fringes.clone();
    for _ in 0..2 {
        let known = all.clone();
        for ((i, j), value) in all.indexed_iter_mut().filter(|(_, value)| !value.is_finite()) {
            let (mut sum, mut count) = (0.0, 0.0);
            for (k, l) in [(0, 1), (1, 0), (1, 2), (2, 1), (0, 0), (0, 2), (2, 0), (2, 2)] {
                // One less than each: the eight neighbours.
                let at = ((i + k).checked_sub(1), (j + l).checked_sub(1));
                let (Some(row), Some(column)) = at else {
                    continue;
                };
                if let Some(near) = known.get((row, column)).filter(|v| v.is_finite()) {
                    (sum, count) = (sum + near, count + 1.0);
                }
            }
            if count > 0.0 {
                *value = sum / count;
            }
        }
    }
    all
}

/// The fringes at a place, between pixels shared out; paper where there is no light.
fn fringe(fringes: &Array2<f64>, (x, y): (f64, f64)) -> Rgb {
    let last = i64::try_from(fringes.nrows()).unwrap_or(i64::MAX) - 1;
    let at = |row: i64, column: i64| {
        let value = pixel_at(fringes, row.clamp(0, last), column.clamp(0, last));
        let value = value.unwrap_or(f64::NAN);
        // Neither quite black nor quite white: the edge of the pupil stays visible.
        if value.is_finite() { 18.0 + 214.0 * value.clamp(0.0, 1.0) } else { 255.0 }
    };
    let (row, down) = split(y * rows(fringes) - 0.5);
    let (column, across) = split(x * rows(fringes) - 0.5);
    let line = |row| at(row, column) * (1.0 - across) + at(row, column + 1) * across;
    let grey = channel(line(row) * (1.0 - down) + line(row + 1) * down);
    Rgb(grey, grey, grey)
}

/// Light at a place, in pixels from the middle, by cubics through four pixels each way.
fn smooth(spread: &Array2<f64>, (x, y): (f64, f64)) -> f64 {
    // The middle of the sky lies on pixel n/2.
    let middle = (rows(spread) / 2.0).floor();
    let ((row, down), (column, across)) = (split(y + middle), split(x + middle));
    let weights = |s: f64| {
        let r = 1.0 - s;
        [
            -0.5 * s * r * r,
            1.0 + s * s * (1.5 * s - 2.5),
            1.0 + r * r * (1.5 * r - 2.5),
            -0.5 * r * s * s,
        ]
    };
    let (vertical, horizontal) = (weights(down), weights(across));
    let mut sum = 0.0;
    for (i, v) in (-1_i64..).zip(vertical) {
        for (j, h) in (-1_i64..).zip(horizontal) {
            sum += v * h * pixel_at(spread, row + i, column + j).unwrap_or(0.0);
        }
    }
    sum
}

/// Whole part and rest.
#[expect(clippy::cast_possible_truncation, reason = "places inside a picture are small")]
fn split(place: f64) -> (i64, f64) {
    (place.floor() as i64, place - place.floor())
}

fn pixel_at(image: &Array2<f64>, row: i64, column: i64) -> Option<f64> {
    image.get((usize::try_from(row).ok()?, usize::try_from(column).ok()?)).copied()
}

/// Grey on black, logarithmic: 1 is white, [`FAINTEST`] is black.
fn starlight(light: f64) -> Rgb {
    let share = 1.0 - light.max(FAINTEST).log10() / FAINTEST.log10();
    let grey = channel(255.0 * share.clamp(0.0, 1.0));
    Rgb(grey, grey, grey)
}

/// A round length on the sky, in the lower left corner of a star's picture.
fn scale_bar(canvas: &Canvas, left: f64, half_arcsec: f64) {
    let power = 10_f64.powf((0.7 * half_arcsec).log10().floor());
    let fits = |factor: &f64| factor * power <= 0.7 * half_arcsec;
    let length = power * [5.0, 2.0, 1.0].into_iter().find(fits).unwrap_or(1.0);
    let wide = length / (2.0 * half_arcsec) * TILE;
    let (x, y) = (left + 22.0, SPREAD + TILE - 24.0);
    let white = Rgb(255, 255, 255);
    canvas.line(&[(x, y), (x + wide, y)], Pen::new(white, 3.0));
    for end in [x, x + wide] {
        canvas.line(&[(end, y - 6.0), (end, y + 6.0)], Pen::new(white, 3.0));
    }
    let lettering = Lettering::new(size::TICK, white).anchored(Anchor::Middle);
    let digits = format!("{length:.0e}").parse().unwrap_or(length);
    let text = format!("{digits} arcsec");
    let middle = (x + 0.5 * wide).max(left + 70.0);
    canvas.words(&text, (middle, y - 16.0), lettering);
}

/// Which grey is how much light.
fn light_bar(canvas: &Canvas, left: f64) {
    let decades = Range { low: FAINTEST.log10(), high: 0.0 };
    let unit = Range { low: 0.0, high: 1.0 };
    let panel =
        Panel { left, top: SPREAD, right: left + 24.0, bottom: SPREAD + TILE, x: unit, y: decades };
    let step = decades.span() / 200.0;
    let boxes = (0..200).map(|i| {
        let low = decades.low + step * f64::from(i);
        ([(0.0, low), (1.0, low + 1.6 * step)], starlight(10_f64.powf(low + 0.5 * step)))
    });
    panel.boxes(canvas, boxes);
    let edge =
        vec![(0.0, decades.low), (0.0, 0.0), (1.0, 0.0), (1.0, decades.low), (0.0, decades.low)];
    panel.line(canvas, edge, Pen::new(AXIS, 1.8));
    panel.y_axis_right(canvas, &[-4.0, -3.0, -2.0, -1.0, 0.0], |v| {
        let text = format!("{:.0e}", 10_f64.powf(v));
        text.parse::<f64>().map_or(text, |value| format!("{value}"))
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A round image around the middle pixel of an even number.
    fn round() -> Array2<f64> {
        Array2::from_shape_fn((64, 64), |(i, j)| {
            let from = |k: usize| f64::from(u32::try_from(k).unwrap()) - 32.0;
            (-(from(i).powi(2) + from(j).powi(2)) / 30.0).exp()
        })
    }

    #[test]
    fn a_round_star_is_drawn_round_and_in_the_middle() {
        let spread = round();
        for (x, y) in [(0.3, 1.2), (2.7, 0.0), (4.4, 3.1)] {
            let places = [(x, y), (-x, y), (x, -y), (y, x), (-y, -x)];
            let values = places.map(|place| smooth(&spread, place));
            let off = values.iter().map(|v| (v - values[0]).abs()).fold(0.0, f64::max);
            assert!(off < 1e-12, "{values:?}");
            // A cubic through points of a Gaussian of this width is right to a few thousandths.
            let exact = (-(x * x + y * y) / 30.0_f64).exp();
            assert!((values[0] - exact).abs() < 3e-3, "{} {exact}", values[0]);
        }
        assert!((smooth(&spread, (0.0, 0.0)) - 1.0).abs() < 1e-12, "the peak");
        assert!(smooth(&spread, (100.0, 0.0)).abs() < 1e-12, "dark beyond");
    }

    #[test]
    fn starlight_is_black_where_it_is_faintest_and_white_at_the_perfect_peak() {
        assert_eq!(starlight(1.0), Rgb(255, 255, 255));
        assert_eq!(starlight(FAINTEST), Rgb(0, 0, 0));
        assert_eq!(starlight(0.0), Rgb(0, 0, 0));
        assert_eq!(starlight(f64::NAN), Rgb(0, 0, 0));
        let tenth = starlight(0.1).0;
        assert_eq!(tenth, 191, "three of four decades");
    }

    #[test]
    fn the_pupil_is_continued_by_its_nearest_pixels_only() {
        let fringes = Array2::from_shape_fn((9, 9), |(i, _)| if i < 4 { 0.25 } else { f64::NAN });
        let filled = outward(&fringes);
        assert!((filled[[5, 4]] - 0.25).abs() < 1e-12, "two rows further");
        assert!(filled[[6, 4]].is_nan(), "and no more");
    }

    #[test]
    fn outside_the_pupil_is_paper() {
        let mut fringes = Array2::from_elem((8, 8), 0.0);
        fringes[[0, 0]] = f64::NAN;
        assert_eq!(fringe(&fringes, (0.01, 0.01)), Rgb(255, 255, 255));
        assert_eq!(fringe(&fringes, (0.5, 0.5)), Rgb(18, 18, 18));
    }
}
