//! A sweep as rows, best first, with a dot for each measure.

use crate::axis::Axis;
use crate::canvas::{Canvas, Pen};
use crate::lettering::{Lettering, fitted, width};
use crate::outcome::Outcome;
use crate::plot::measure::{MEASURES, Measure, keys, tally};
use crate::plot::panel::{LEFT, Panel, title};
use crate::plot::scale::{Range, Ticks};
use crate::plot::whole_pixels;
use crate::style::{INK, QUIET, size};
use crate::sweep::SweepTable;

/// Rows on one sheet.
const MOST_ROWS: usize = 30;

/// Height of a row \[px\].
const ROW: f64 = 36.0;

/// Most room for the labels at the left \[px\].
const LABELS: f64 = 600.0;

/// The best nights of a sweep, one row each.
pub(super) fn ranked_rows(table: &SweepTable) -> Canvas {
    let ranked = table.ranked();
    let shown = &ranked[..ranked.len().min(MOST_ROWS)];
    let count = f64::from(u32::try_from(shown.len().max(2)).unwrap_or(2));
    let (top, bottom) = (185.0, 185.0 + ROW * count);
    let canvas = Canvas::new(1600, whole_pixels(bottom + 80.0));
    let order = "by good hours, then figure, then readiness";
    let subtitle = if shown.len() < ranked.len() {
        format!("the best {} of {}, {order}", shown.len(), tally(table))
    } else {
        format!("{}, {order}", tally(table))
    };
    title(&canvas, &format!("Sweep of {}", keys(table)), &subtitle);
    let left = labels(&canvas, table, shown, top);
    let gap = 70.0;
    let wide = (canvas.size().0 - 60.0 - left - 2.0 * gap) / 3.0;
    let mut at = left;
    for measure in MEASURES {
        let values: Vec<f64> = shown.iter().map(|(_, o)| (measure.value)(o)).collect();
        let x = Range::around(values.iter().copied().chain([0.0]), measure.least);
        let y = Range { low: count, high: 0.0 };
        let panel = Panel { left: at, top, right: at + wide, bottom, x, y };
        dots(&canvas, &panel, measure, &values);
        at += wide + gap;
    }
    canvas
}

/// The values of each row; returns where the first measure may begin \[px\].
fn labels(canvas: &Canvas, table: &SweepTable, shown: &[(usize, &Outcome)], top: f64) -> f64 {
    let lettering = Lettering::new(size::LABEL, INK);
    let mut right = LEFT + 60.0;
    let mut y = top + ROW / 2.0;
    let values: Vec<Vec<String>> = table.axes.iter().map(Axis::shown).collect();
    for (row, _) in shown {
        let text = fitted(&table.shown_at(&values, *row).join(" · "), lettering, LABELS);
        canvas.words_beside(&text, (LEFT, y), lettering);
        right = f64::max(right, LEFT + width(&text, lettering));
        y += ROW;
    }
    if shown.is_empty() {
        let quiet = Lettering::new(size::LABEL, QUIET);
        canvas.words_beside("no night could be computed", (LEFT, y), quiet);
        right = LEFT + 300.0;
    }
    right + 40.0
}

/// One dot per row, on a hair line from zero.
fn dots(canvas: &Canvas, panel: &Panel, measure: Measure, values: &[f64]) {
    let ticks = Ticks::in_range(panel.x, 5);
    panel.columns(canvas, &ticks);
    panel.x_axis(canvas, &ticks.values, |value| ticks.text(value));
    let (name, unit) = (Lettering::new(size::LABEL, INK).bold(), Lettering::new(size::TICK, QUIET));
    let room = panel.right - panel.left + 60.0;
    canvas.words(&fitted(measure.name, name, room), (panel.left, panel.top - 14.0), name);
    canvas.words(measure.unit, (panel.left, panel.bottom + 58.0), unit);
    let mut row = 0.5;
    for &value in values {
        if value.is_finite() {
            let ends = vec![(0.0, row), (value, row)];
            panel.line(canvas, ends, Pen::new(measure.colour.tint(0.45), 2.0));
            panel.dots(canvas, &[(value, row)], 7.5, measure.colour);
        } else {
            let quiet = Lettering::new(size::SMALL, QUIET);
            canvas.words_beside("never", (panel.px(0.0) + 10.0, panel.py(row)), quiet);
        }
        row += 1.0;
    }
}
