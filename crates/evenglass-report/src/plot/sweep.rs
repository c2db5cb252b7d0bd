//! A sweep: curves over one number, a map over two axes, ranked rows otherwise.

use crate::axis::Axis;
use crate::canvas::Canvas;
use crate::lettering::{Anchor, Lettering};
use crate::plot::heat_map::heat_maps;
use crate::plot::measure::{MEASURES, Measure, Numbers, numbers, tally};
use crate::plot::panel::{Curve, LEFT, Panel, title};
use crate::plot::ranked_rows::ranked_rows;
use crate::plot::scale::{Range, Ticks};
use crate::style::{QUIET, size};
use crate::sweep::SweepTable;

/// The picture that suits the number of axes.
pub(crate) fn sweep(table: &SweepTable) -> Canvas {
    match &table.axes[..] {
        [axis] => match numbers(axis) {
            Some(numbers) => curves(table, axis, &numbers),
            None => ranked_rows(table),
        },
        [_, _] => heat_maps(table),
        _ => ranked_rows(table),
    }
}

/// One panel for each measure over a numeric axis.
fn curves(table: &SweepTable, axis: &Axis, numbers: &Numbers) -> Canvas {
    let canvas = Canvas::new(1600, 970);
    title(&canvas, &format!("Sweep of {}", axis.key), &tally(table));
    let x = Range::around(numbers.values.iter().copied(), 1e-9);
    let right = canvas.size().0 - 70.0;
    let mut top = 175.0;
    let mut lowest = None;
    for measure in MEASURES {
        let points: Vec<(f64, f64)> = numbers
            .values
            .iter()
            .zip(&table.rows)
            .filter_map(|(&x, row)| Some((x, (measure.value)(row.as_ref().ok()?))))
            .filter(|(_, y)| y.is_finite())
            .collect();
        let y = Range::around(points.iter().map(|p| p.1), measure.least);
        let y = if y.low < 0.0 && points.iter().all(|p| p.1 >= 0.0) {
            Range { low: -0.04 * y.high, ..y }
        } else {
            y
        };
        let panel = Panel { left: LEFT, top, right, bottom: top + 190.0, x, y };
        draw_measure(&canvas, &panel, measure, points);
        lowest = Some(panel);
        top += 255.0;
    }
    if let Some(panel) = lowest {
        let ticks = Ticks::in_range(x, 9);
        panel.x_axis(&canvas, &ticks.values, |value| numbers.text(value, &ticks));
        panel.x_name(&canvas, &numbers.name(&axis.key));
    }
    canvas
}

/// The curve of one measure, with dots where the nights are few enough to see them.
fn draw_measure(canvas: &Canvas, panel: &Panel, measure: Measure, points: Vec<(f64, f64)>) {
    let ticks = Ticks::in_range(panel.y, 4);
    panel.grid(canvas, &ticks, |v| ticks.text(v));
    panel.heading(canvas, measure.name, measure.unit);
    if points.is_empty() {
        let middle =
            (f64::midpoint(panel.left, panel.right), f64::midpoint(panel.top, panel.bottom));
        let lettering = Lettering::new(size::LABEL, QUIET).anchored(Anchor::Middle);
        canvas.words_beside("in none of these nights", middle, lettering);
        return;
    }
    if points.len() <= 60 {
        panel.dots(canvas, &points, 5.0, measure.colour);
    }
    panel.curves(canvas, &[Curve::new("", measure.colour, points)]);
}
