//! A rectangle of the sheet with two axes.

use plotters::chart::{ChartBuilder, ChartContext, LabelAreaPosition as Side};
use plotters::prelude::{
    Cartesian2d, Circle, Color, DashedLineSeries, LineSeries, Polygon, RGBColor, Rectangle,
    TRANSPARENT, TextStyle,
};
use plotters_backend::text_anchor::VPos;

use crate::canvas::{Canvas, Pen, drawn};
use crate::lettering::{Anchor, Lettering, fitted, width};
use crate::plot::axis::Axis;
use crate::plot::scale::{Range, Ticks, spread};
use crate::raster::{Raster, Spot, fine};
use crate::style::{AXIS, CURVE, GRID, INK, QUIET, Rgb, size};

/// Left edge of what is drawn on every sheet \[px\].
pub(super) const LEFT: f64 = 120.0;

/// Room beside a panel for the labels of an axis \[px\].
const LABELS: f64 = 110.0;

/// Length of a tick \[px\]; labels begin twice as far from the axis.
const TICK: f64 = 7.0;

/// A curve that ends this far from the right has its name inside the panel \[px\].
const EARLY: f64 = 60.0;

/// A panel's coordinate system.
pub(super) type Chart = ChartContext<'static, Raster, Cartesian2d<Axis, Axis>>;

/// A rectangle of the sheet with a horizontal and a vertical axis.
#[derive(Debug, Clone, Copy)]
pub(super) struct Panel {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
    pub(super) x: Range,
    pub(super) y: Range,
}

/// Places on an axis and what is written there.
pub(super) type Labels<'a> = (&'a [f64], &'a [String]);

/// A line through numbers, and its name.
pub(super) struct Curve {
    pub(super) name: String,
    pub(super) points: Vec<(f64, f64)>,
    pub(super) colour: Rgb,
    pub(super) dash: Option<(f64, f64)>,
    /// Its width \[px\].
    pub(super) width: f64,
}

impl Curve {
    pub(super) fn new(name: impl Into<String>, colour: Rgb, points: Vec<(f64, f64)>) -> Self {
        Self { name: name.into(), points, colour, dash: None, width: CURVE }
    }

    pub(super) fn dashed(self) -> Self {
        Self { dash: Some((11.0, 7.0)), ..self }
    }

    /// A thin dashed line: a limit, not a course.
    pub(super) fn fine(self) -> Self {
        Self { dash: Some((9.0, 7.0)), width: 1.8, ..self }
    }

    /// Other points and another name in the same look.
    pub(super) fn with(&self, name: &str, points: Vec<(f64, f64)>) -> Self {
        let (colour, dash, width) = (self.colour, self.dash, self.width);
        Self { name: name.to_owned(), points, colour, dash, width }
    }
}

impl Panel {
    pub(super) fn px(&self, x: f64) -> f64 {
        self.left + self.x.share(x) * (self.right - self.left)
    }

    pub(super) fn py(&self, y: f64) -> f64 {
        self.bottom - self.y.share(y) * (self.bottom - self.top)
    }

    pub(super) fn spot(&self, (x, y): (f64, f64)) -> Spot {
        (self.px(x), self.py(y))
    }

    /// What the panel shows and in which unit, above its top left corner; returns where it ends.
    pub(super) fn heading(&self, canvas: &Canvas, what: &str, unit: &str) -> f64 {
        let bold = Lettering::new(size::HEADING, INK).bold();
        let base = self.top - 16.0;
        canvas.words(what, (self.left, base), bold);
        let after = self.left + width(what, bold) + 12.0;
        let grey = Lettering::new(size::LABEL, QUIET);
        canvas.words(unit, (after, base), grey);
        after + width(unit, grey)
    }

    /// The panel as a chart without labels.
    pub(super) fn chart(&self, canvas: &Canvas) -> Chart {
        self.built(canvas, None, (&[], &[]))
    }

    /// The panel as a chart with ticks, and room for labels at one side.
    fn built(&self, canvas: &Canvas, side: Option<Side>, ticks: (&[f64], &[f64])) -> Chart {
        let (left, right, bottom) = match side {
            None | Some(Side::Top) => (0.0, 0.0, 0.0),
            Some(Side::Left) => (LABELS, 0.0, 0.0),
            Some(Side::Right) => (0.0, LABELS, 0.0),
            Some(Side::Bottom) => (0.0, 0.0, LABELS),
        };
        let corner = (fine(self.left - left), fine(self.top));
        let end = (fine(self.right + right), fine(self.bottom + bottom));
        // Plotters draws up to the last unit inside an area.
        let area = canvas.area().clone();
        let area = area.shrink(corner, (end.0 - corner.0 + 1, end.1 - corner.1 + 1));
        let axis = |range, ticks: &[f64]| Axis { range, ticks: ticks.to_vec() };
        let chart = ChartBuilder::on(&area)
            .set_label_area_size(Side::Left, fine(left))
            .set_label_area_size(Side::Right, fine(right))
            .set_label_area_size(Side::Bottom, fine(bottom))
            .build_cartesian_2d(axis(self.x, ticks.0), axis(self.y, ticks.1));
        drawn(chart)
    }

    /// Horizontal grid lines with their values at the left.
    pub(super) fn grid(&self, canvas: &Canvas, ticks: &Ticks, text: impl Fn(f64) -> String) {
        let style = RGBColor::from(GRID).stroke_width(fine(1.5).unsigned_abs());
        let text = |value: &f64| text(*value);
        let mut chart = self.built(canvas, Some(Side::Left), (&[], &ticks.values));
        let mesh = &mut chart.configure_mesh();
        mesh.disable_x_mesh().disable_x_axis().axis_style(TRANSPARENT).bold_line_style(style);
        mesh.set_all_tick_mark_size(fine(TICK)).y_label_formatter(&text);
        drawn(mesh.y_label_style(tick_label()).draw());
    }

    /// Vertical grid lines.
    pub(super) fn columns(&self, canvas: &Canvas, ticks: &Ticks) {
        let style = RGBColor::from(GRID).stroke_width(fine(1.5).unsigned_abs());
        let mut chart = self.built(canvas, None, (&ticks.values, &[]));
        drawn(chart.configure_mesh().disable_axes().bold_line_style(style).draw());
    }

    /// An axis along the bottom with ticks and their labels.
    pub(super) fn x_axis(&self, canvas: &Canvas, ticks: &[f64], text: impl Fn(f64) -> String) {
        let text = |value: &f64| text(*value);
        let mut chart = self.built(canvas, Some(Side::Bottom), (ticks, &[]));
        let mesh = &mut chart.configure_mesh();
        mesh.disable_mesh().disable_y_axis().axis_style(Pen::new(AXIS, 1.8).style());
        mesh.set_all_tick_mark_size(fine(TICK)).x_label_formatter(&text);
        drawn(mesh.x_label_style(tick_label()).draw());
    }

    /// What the axis along the bottom measures, below its labels.
    pub(super) fn x_name(&self, canvas: &Canvas, name: &str) {
        let lettering = Lettering::new(size::TICK, QUIET).anchored(Anchor::Middle);
        let middle = f64::midpoint(self.left, self.right);
        canvas.words(name, (middle, self.bottom + 64.0), lettering);
    }

    /// An axis along the right side with ticks and their labels.
    pub(super) fn y_axis_right(
        &self,
        canvas: &Canvas,
        ticks: &[f64],
        text: impl Fn(f64) -> String,
    ) {
        let text = |value: &f64| text(*value);
        let mut chart = self.built(canvas, Some(Side::Right), (&[], ticks));
        let mesh = &mut chart.configure_mesh();
        mesh.disable_mesh().disable_x_axis().axis_style(Pen::new(AXIS, 1.8).style());
        mesh.set_all_tick_mark_size(fine(TICK)).y_label_formatter(&text);
        drawn(mesh.y_label_style(tick_label()).draw());
    }

    /// Labels below the bottom or beside the left, without ticks.
    pub(super) fn labels(&self, canvas: &Canvas, side: Side, (places, text): Labels<'_>) {
        let label = |value: &f64| {
            let at = places.iter().position(|p| p.total_cmp(value).is_eq());
            at.and_then(|at| text.get(at)).cloned().unwrap_or_default()
        };
        let below = matches!(side, Side::Bottom);
        let ticks: (&[f64], &[f64]) = if below { (places, &[]) } else { (&[], places) };
        let mut chart = self.built(canvas, Some(side), ticks);
        let mesh = &mut chart.configure_mesh();
        mesh.disable_mesh().axis_style(TRANSPARENT).set_all_tick_mark_size(fine(TICK));
        mesh.x_label_formatter(&label).y_label_formatter(&label);
        drawn(mesh.label_style(tick_label()).draw());
    }

    /// A line through the finite ones of these places; a single one becomes a dot.
    pub(super) fn line(&self, canvas: &Canvas, places: Vec<(f64, f64)>, pen: Pen) {
        let finite = |place: &(f64, f64)| place.0.is_finite() && place.1.is_finite();
        let places: Vec<(f64, f64)> = places.into_iter().filter(finite).collect();
        let mut chart = self.chart(canvas);
        let Some((dash, gap)) = pen.dash else {
            drawn(chart.draw_series(LineSeries::new(places, pen.style())));
            return;
        };
        // The round ends of a dash make it look longer by some three quarters of its width.
        let ends = 0.75 * pen.width;
        let (dash, gap) = (fine(dash - ends), fine(gap + ends));
        drawn(chart.draw_series(DashedLineSeries::new(places, dash, gap, pen.style())));
    }

    /// Filled dots of `radius` \[px\].
    pub(super) fn dots(&self, canvas: &Canvas, places: &[(f64, f64)], radius: f64, colour: Rgb) {
        let style = RGBColor::from(colour).filled();
        let dots = places.iter().map(|&place| Circle::new(place, fine(radius), style));
        drawn(self.chart(canvas).draw_series(dots));
    }

    /// The zero line, if it is in range.
    pub(super) fn zero_line(&self, canvas: &Canvas) {
        if (self.y.low..=self.y.high).contains(&0.0) {
            let ends = vec![(self.x.low, 0.0), (self.x.high, 0.0)];
            self.line(canvas, ends, Pen::new(AXIS, 2.2));
        }
    }

    /// Filled rectangles from corner to corner, cut to the panel.
    pub(super) fn boxes(
        &self,
        canvas: &Canvas,
        boxes: impl IntoIterator<Item = ([(f64, f64); 2], Rgb)>,
    ) {
        let filled = boxes
            .into_iter()
            .map(|(corners, colour)| Rectangle::new(corners, RGBColor::from(colour).filled()));
        drawn(self.chart(canvas).draw_series(filled));
    }

    /// Fills the area inside a line.
    pub(super) fn area(&self, canvas: &Canvas, edge: Vec<(f64, f64)>, colour: Rgb) {
        if edge.len() > 2 {
            let filled = Polygon::new(edge, RGBColor::from(colour));
            drawn(self.chart(canvas).draw_series([filled]));
        }
    }

    /// A vertical stripe from `from` to `to`.
    pub(super) fn stripe(&self, canvas: &Canvas, from: f64, to: f64, colour: Rgb) {
        self.boxes(canvas, [([(from, self.y.low), (to, self.y.high)], colour)]);
    }

    /// A horizontal band, cut to the panel.
    pub(super) fn band(&self, canvas: &Canvas, low: f64, high: f64, colour: Rgb) {
        self.boxes(canvas, [([(self.x.low, low), (self.x.high, high)], colour)]);
    }

    /// Draws the curves and writes each name at its end, in its colour.
    pub(super) fn curves(&self, canvas: &Canvas, curves: &[Curve]) {
        for curve in curves {
            let pen = Pen { colour: curve.colour, width: curve.width, dash: curve.dash };
            self.line(canvas, self.thinned(&curve.points), pen);
        }
        self.names_at_ends(canvas, curves);
    }

    /// The points without those within half a pixel of the one before.
    fn thinned(&self, points: &[(f64, f64)]) -> Vec<(f64, f64)> {
        let mut kept: Vec<(f64, f64)> = Vec::new();
        let mut last: Option<Spot> = None;
        let mut pending = None;
        for &point in points {
            let spot = self.spot(point);
            if last.is_some_and(|k| (k.0 - spot.0).hypot(k.1 - spot.1) < 0.5) {
                pending = Some(point);
            } else {
                kept.push(point);
                (last, pending) = (Some(spot), None);
            }
        }
        kept.extend(pending);
        kept
    }

    /// Whether the curve runs through the box with that top left corner and that size \[px\].
    pub(super) fn crosses(&self, curve: &Curve, corner: Spot, room: (f64, f64)) -> bool {
        const STEPS: u32 = 16;
        let inside = |(x, y): Spot| {
            (corner.0..corner.0 + room.0).contains(&x) && (corner.1..corner.1 + room.1).contains(&y)
        };
        curve.points.windows(2).any(|pair| {
            let (a, b) = (self.spot(pair[0]), self.spot(pair[1]));
            (0..=STEPS).any(|step| {
                let share = f64::from(step) / f64::from(STEPS);
                inside((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)))
            })
        })
    }

    /// Writes the name of a curve that ends early beside its end, if there is a place that
    /// no curve and no other name needs; says whether it did.
    fn named_inside(
        &self,
        canvas: &Canvas,
        curves: &[Curve],
        (curve, end): (&Curve, Spot),
        taken: &mut Vec<Spot>,
    ) -> bool {
        if end.0 > self.right - EARLY {
            return false;
        }
        let lettering = Lettering::new(size::LABEL, curve.colour.for_words());
        let room = (width(&curve.name, lettering), size::LABEL * 1.28);
        let (beside, half) = (end.0 + 14.0, 0.5 * room.1);
        let places = [0.0, -1.0, 1.0, -2.0, 2.0].map(|n| (beside, end.1 - half + n * room.1));
        let fits = |&(x, y): &Spot| {
            let inside = x + room.0 <= self.right && y >= self.top && y + room.1 <= self.bottom;
            let apart = |t: &Spot| (t.0 - x).abs() > room.0 || (t.1 - y).abs() >= room.1;
            let free = curves.iter().all(|other| !self.crosses(other, (x, y), room));
            inside && free && taken.iter().all(apart)
        };
        let Some(place) = places.into_iter().find(fits) else {
            return false;
        };
        taken.push(place);
        canvas.words_beside(&curve.name, (place.0, place.1 + half), lettering);
        true
    }

    /// The names of the curves: beside the end of one that ends early, the others at the
    /// right of the panel, moved apart and tied to their ends by a hair.
    fn names_at_ends(&self, canvas: &Canvas, curves: &[Curve]) {
        let mut taken = Vec::new();
        let named: Vec<(&Curve, Spot)> = curves
            .iter()
            .filter(|c| !c.name.is_empty())
            .filter_map(|c| Some((c, self.spot(*c.points.last()?))))
            .filter(|(_, spot)| spot.0.is_finite() && spot.1.is_finite())
            .filter(|&(curve, end)| !self.named_inside(canvas, curves, (curve, end), &mut taken))
            .collect();
        let wanted: Vec<f64> = named.iter().map(|(_, spot)| spot.1).collect();
        let placed = spread(&wanted, size::LABEL * 1.28, self.top + 8.0, self.bottom - 8.0);
        let x = self.right + 34.0;
        let room = canvas.size().0 - x - 12.0;
        for ((curve, end), y) in named.into_iter().zip(placed) {
            let lettering = Lettering::new(size::LABEL, curve.colour.for_words());
            // A hair from an early end would cross what the others still have to tell.
            if end.0 > self.right - EARLY {
                let hair = [(end.0 + 5.0, end.1), (x - 6.0, y)];
                canvas.line(&hair, Pen::new(curve.colour.tint(0.5), 1.4));
            }
            canvas.words_beside(&fitted(&curve.name, lettering, room), (x, y), lettering);
        }
    }
}

/// How the labels of an axis look.
fn tick_label() -> TextStyle<'static> {
    Lettering::new(size::TICK, QUIET).text_style(VPos::Center)
}

/// The bold title and the grey line that states the case.
pub(super) fn title(canvas: &Canvas, title: &str, subtitle: &str) {
    let room = canvas.size().0 - LEFT - 40.0;
    let bold = Lettering::new(size::TITLE, INK).bold();
    let grey = Lettering::new(size::SUBTITLE, QUIET);
    canvas.words(&fitted(title, bold, room), (LEFT, 60.0), bold);
    canvas.words(&fitted(subtitle, grey, room), (LEFT, 96.0), grey);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plotters_puts_a_value_where_the_labels_are_laid_out_for_it() {
        let canvas = Canvas::new(400, 300);
        let (x, y) = (Range { low: -3.0, high: 7.0 }, Range { low: 5.0, high: 1.0 });
        let panel = Panel { left: 120.3, top: 20.0, right: 287.7, bottom: 180.6, x, y };
        for side in [None, Some(Side::Left), Some(Side::Bottom), Some(Side::Right)] {
            let chart = panel.built(&canvas, side, (&[], &[]));
            for place in [(-3.0, 5.0), (7.0, 1.0), (0.4, 2.2)] {
                let (right, down) = chart.backend_coord(&place);
                let spot = panel.spot(place);
                let off = (right - fine(spot.0)).abs().max((down - fine(spot.1)).abs());
                assert!(off <= 1, "{off} sixteenths of a pixel at {place:?}");
            }
        }
    }
}
