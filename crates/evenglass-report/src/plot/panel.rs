//! A rectangle of the sheet with two axes.

use crate::canvas::{Anchor, Canvas, Lettering, Pen, Spot, fitted};
use crate::plot::scale::{Range, Ticks, spread};
use crate::style::{AXIS, CURVE, GRID, INK, QUIET, Rgb, size};

/// Left edge of what is drawn on every sheet [px].
pub(super) const LEFT: f64 = 120.0;

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

/// A line through numbers, and its name.
pub(super) struct Curve {
    pub(super) name: String,
    pub(super) points: Vec<(f64, f64)>,
    pub(super) colour: Rgb,
    pub(super) dash: Option<(f64, f64)>,
}

impl Curve {
    pub(super) fn new(name: impl Into<String>, colour: Rgb, points: Vec<(f64, f64)>) -> Self {
        Self { name: name.into(), points, colour, dash: None }
    }

    pub(super) fn dashed(self) -> Self {
        Self { dash: Some((11.0, 7.0)), ..self }
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
    pub(super) fn heading(&self, canvas: &mut Canvas, what: &str, unit: &str) -> f64 {
        let bold = Lettering::new(size::HEADING, INK).bold();
        let base = self.top - 16.0;
        canvas.words(what, (self.left, base), bold);
        let after = self.left + crate::canvas::width(what, bold) + 12.0;
        let grey = Lettering::new(size::LABEL, QUIET);
        canvas.words(unit, (after, base), grey);
        after + crate::canvas::width(unit, grey)
    }

    /// Horizontal grid lines with their values at the left.
    pub(super) fn grid(&self, canvas: &mut Canvas, ticks: &Ticks, text: impl Fn(f64) -> String) {
        let label = Lettering::new(size::TICK, QUIET).anchored(Anchor::Right);
        for &value in &ticks.values {
            let y = self.py(value);
            canvas.line(&[(self.left, y), (self.right, y)], Pen::new(GRID, 1.5));
            canvas.words_beside(&text(value), (self.left - 14.0, y), label);
        }
    }

    /// The zero line, if it is in range.
    pub(super) fn zero_line(&self, canvas: &mut Canvas) {
        if (self.y.low..=self.y.high).contains(&0.0) {
            let y = self.py(0.0);
            canvas.line(&[(self.left, y), (self.right, y)], Pen::new(AXIS, 2.2));
        }
    }

    /// A vertical stripe from `from` to `to`.
    pub(super) fn stripe(&self, canvas: &mut Canvas, from: f64, to: f64, colour: Rgb) {
        let from = self.px(from).clamp(self.left, self.right);
        let to = self.px(to).clamp(self.left, self.right);
        canvas.rectangle((from, self.top), (to, self.bottom), colour);
    }

    /// A horizontal band, cut to the panel.
    pub(super) fn band(&self, canvas: &mut Canvas, low: f64, high: f64, colour: Rgb) {
        let top = self.py(high).clamp(self.top, self.bottom);
        let bottom = self.py(low).clamp(self.top, self.bottom);
        canvas.rectangle((self.left, top), (self.right, bottom), colour);
    }

    /// Draws the curves and writes each name at its end, in its colour.
    pub(super) fn curves(&self, canvas: &mut Canvas, curves: &[Curve]) {
        for curve in curves {
            let spots = thinned(curve.points.iter().map(|&p| self.spot(p)));
            let pen = Pen { colour: curve.colour, width: CURVE, dash: curve.dash };
            canvas.line(&spots, pen);
        }
        self.names_at_ends(canvas, curves);
    }

    /// Whether the curve runs through the box with that top left corner and that size [px].
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

    /// The names of the curves, moved apart and tied to their ends by a hair where moved far.
    fn names_at_ends(&self, canvas: &mut Canvas, curves: &[Curve]) {
        let named: Vec<(&Curve, Spot)> = curves
            .iter()
            .filter(|c| !c.name.is_empty())
            .filter_map(|c| Some((c, self.spot(*c.points.last()?))))
            .filter(|(_, spot)| spot.0.is_finite() && spot.1.is_finite())
            .collect();
        let wanted: Vec<f64> = named.iter().map(|(_, spot)| spot.1).collect();
        let placed = spread(&wanted, size::LABEL * 1.28, self.top + 8.0, self.bottom - 8.0);
        let x = self.right + 34.0;
        let room = canvas.size().0 - x - 12.0;
        for ((curve, end), y) in named.into_iter().zip(placed) {
            let lettering = Lettering::new(size::LABEL, curve.colour.for_words());
            canvas
                .line(&[(end.0 + 5.0, end.1), (x - 6.0, y)], Pen::new(curve.colour.tint(0.5), 1.4));
            canvas.words_beside(&fitted(&curve.name, lettering, room), (x, y), lettering);
        }
    }
}

/// The spots without those that lie within half a pixel of the one before.
fn thinned(spots: impl Iterator<Item = Spot>) -> Vec<Spot> {
    let mut kept: Vec<Spot> = Vec::new();
    let mut pending = None;
    for spot in spots {
        let near = kept.last().is_some_and(|k| (k.0 - spot.0).hypot(k.1 - spot.1) < 0.5);
        if near {
            pending = Some(spot);
        } else {
            kept.push(spot);
            pending = None;
        }
    }
    kept.extend(pending);
    kept
}

/// The bold title and the grey line that states the case.
pub(super) fn title(canvas: &mut Canvas, title: &str, subtitle: &str) {
    let room = canvas.size().0 - LEFT - 40.0;
    let bold = Lettering::new(size::TITLE, INK).bold();
    let grey = Lettering::new(size::SUBTITLE, QUIET);
    canvas.words(&fitted(title, bold, room), (LEFT, 60.0), bold);
    canvas.words(&fitted(subtitle, grey, room), (LEFT, 96.0), grey);
}
