//! A quantity over the clock, against its limit.

use crate::canvas::Canvas;
use crate::plot::clip::{held, pieces};
use crate::plot::panel::{Curve, Panel};
use crate::plot::scale::{Range, Ticks};
use crate::style::{INK, Rgb};

/// Beyond this many times the limit the axis becomes logarithmic: on a straight one the limit
/// would lie on the floor, where nobody sees when it is met.
const STRAIGHT: f64 = 6.0;

/// How far below the limit a logarithmic axis reaches.
const BELOW: f64 = 0.05;

/// Where a quantity is likely to lie.
pub(super) struct Band {
    /// (Time \[s\], low, high).
    pub(super) points: Vec<(f64, f64, f64)>,
    /// Its colour.
    pub(super) colour: Rgb,
}

/// A quantity over the clock, not below zero, against its limit.
pub(super) struct Limited {
    /// What it is.
    pub(super) what: &'static str,
    /// In which unit.
    pub(super) unit: &'static str,
    /// Not to be exceeded in a good image, and how that is said.
    pub(super) limit: Option<(f64, String)>,
    /// The courses of the quantity.
    pub(super) curves: Vec<Curve>,
    /// Bands around them.
    pub(super) bands: Vec<Band>,
}

impl Limited {
    /// Whether the axis is to be logarithmic.
    fn is_wide(&self) -> bool {
        self.limit.as_ref().is_some_and(|(limit, _)| self.peak() > STRAIGHT * limit)
    }

    /// The largest value that is drawn.
    fn peak(&self) -> f64 {
        let curves = self.curves.iter().flat_map(|c| c.points.iter().map(|p| p.1));
        let bands = self.bands.iter().flat_map(|band| band.points.iter().map(|p| p.2));
        curves.chain(bands).filter(|v| v.is_finite()).fold(0.0, f64::max)
    }

    /// The panel of this quantity inside `frame`, whose own vertical range is not used.
    pub(super) fn panel(&self, frame: Panel) -> Panel {
        let limit = self.limit.as_ref().map_or(0.0, |(limit, _)| *limit);
        let high = f64::max(1.08 * self.peak(), 1.45 * limit);
        let y = if self.is_wide() {
            Range { low: (BELOW * limit).log10(), high: (1.15 * high).log10() }
        } else {
            let high = if high > 0.0 { high } else { 1.0 };
            Range { low: -0.03 * high, high }
        };
        Panel { y, ..frame }
    }

    /// Where a value stands on the axis; zero is far below a logarithmic one.
    fn place(&self, value: f64) -> f64 {
        // Not a number stays so.
        let value = if value <= 0.0 && self.is_wide() { f64::MIN_POSITIVE } else { value };
        if self.is_wide() { value.log10() } else { value }
    }

    /// Draws the bands: before anything that must not be hidden by them.
    pub(super) fn ground(&self, canvas: &Canvas, panel: &Panel) {
        for band in &self.bands {
            let high = band.points.iter().map(|p| (p.0, self.place(p.2)));
            let low = band.points.iter().rev().map(|p| (p.0, self.place(p.1)));
            panel.area(canvas, held(high.chain(low), panel.y), band.colour.tint(0.3));
        }
    }

    /// Draws grid, heading, limit and curves into the panel made for them; returns where the
    /// heading ends.
    pub(super) fn draw(&self, canvas: &Canvas, panel: &Panel) -> f64 {
        let wide = self.is_wide();
        if wide {
            let ticks = Ticks::at(decades(panel.y));
            panel.grid(canvas, &ticks, power);
        } else {
            let ticks = Ticks::in_range(panel.y, 4);
            panel.grid(canvas, &ticks, |v| ticks.text(v));
        }
        let unit = if wide { format!("{}, logarithmic", self.unit) } else { self.unit.to_owned() };
        let end = panel.heading(canvas, self.what, &unit);
        let mut drawn = Vec::new();
        if let Some((limit, said)) = &self.limit {
            let ends = vec![(panel.x.low, self.place(*limit)), (panel.x.high, self.place(*limit))];
            drawn.push(Curve::new(said.clone(), INK, ends).fine());
        }
        for curve in &self.curves {
            let points: Vec<(f64, f64)> =
                curve.points.iter().map(|&(time, value)| (time, self.place(value))).collect();
            let mut parts = pieces(&points, panel.y);
            let last = parts.pop().unwrap_or_default();
            drawn.extend(parts.into_iter().map(|part| curve.with("", part)));
            drawn.push(curve.with(&curve.name, last));
        }
        panel.curves(canvas, &drawn);
        end
    }
}

/// Logarithms of round numbers in a range of logarithms: 1, 2, 5; of many 1, 3; of very many
/// powers of ten.
fn decades(range: Range) -> Vec<f64> {
    let multiples: &[f64] = match range.span() {
        span if span < 2.2 => &[1.0, 2.0, 5.0],
        span if span < 3.6 => &[1.0, 3.0],
        _ => &[1.0],
    };
    let mut values = Vec::new();
    let mut power = range.low.floor();
    while power <= range.high && values.len() < 60 {
        values.extend(multiples.iter().map(|m| power + m.log10()));
        power += 1.0;
    }
    values.retain(|v| (range.low..=range.high).contains(v));
    values
}

/// The number of a logarithm that [`decades`] gave: "0.2", "50".
fn power(logarithm: f64) -> String {
    let text = format!("{:.0e}", 10_f64.powf(logarithm));
    text.parse::<f64>().map_or(text, |value| format!("{value}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::style::BLUE;

    fn figure(peak: f64) -> Limited {
        Limited {
            what: "Figure",
            unit: "nm",
            limit: Some((20.0, "limit".to_owned())),
            curves: vec![Curve::new("all", BLUE, vec![(0.0, 0.0), (1.0, peak), (2.0, 5.0)])],
            bands: vec![],
        }
    }

    fn frame() -> Panel {
        let x = Range { low: 0.0, high: 2.0 };
        Panel { left: 0.0, top: 0.0, right: 100.0, bottom: 200.0, x, y: x }
    }

    #[test]
    fn the_limit_is_well_above_the_floor_whatever_the_peak() {
        for peak in [0.0, 1.0, 60.0, 119.0, 121.0, 5e3, 1e6] {
            let quantity = figure(peak);
            let panel = quantity.panel(frame());
            let limit = if quantity.is_wide() { 20_f64.log10() } else { 20.0 };
            let share = panel.y.share(limit);
            assert!((0.13..0.9).contains(&share), "{share} at {peak}");
        }
        assert!(figure(121.0).is_wide() && !figure(119.0).is_wide(), "from six times on");
    }

    #[test]
    fn powers_are_said_plainly() {
        let texts: Vec<String> =
            decades(Range { low: -0.9, high: 1.1 }).into_iter().map(power).collect();
        assert_eq!(texts, ["0.2", "0.5", "1", "2", "5", "10"]);
        let wide = |high| -> Vec<String> {
            decades(Range { low: -0.1, high }).into_iter().map(power).collect()
        };
        assert_eq!(wide(2.6), ["1", "3", "10", "30", "100", "300"]);
        assert_eq!(wide(4.2), ["1", "10", "100", "1000", "10000"]);
    }
}
