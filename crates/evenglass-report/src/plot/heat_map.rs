//! A sweep over two keys as two maps.

use crate::canvas::{Anchor, Canvas, Lettering, Pen, fitted};
use crate::plot::panel::{LEFT, title};
use crate::plot::scale::{Range, Ticks};
use crate::plot::sweep::{MEASURES, Measure, keys, numbers, tally};
use crate::style::{AXIS, GRID, INK, QUIET, Rgb, benefit, size, warmth};
use crate::sweep::{Axis, Outcome, SweepTable};
use crate::wording::plain;

/// Largest number of cells along an axis that still have their value written in.
const WRITTEN: usize = 12;

/// Names along an axis; of more, every n-th is written.
const NAMES: usize = 12;

/// A night that gets good at all makes good hours the left map; otherwise how far the front stays off.
const FRONT_AT_END: Measure = Measure {
    name: "Front minus air at the end",
    unit: "K (no night is good)",
    colour: INK,
    value: |o| o.last("front_minus_air_k"),
    least: 0.1,
};

/// The area of one map on the sheet.
#[derive(Debug, Clone, Copy)]
struct Map {
    left: f64,
    top: f64,
    cell: (f64, f64),
    columns: usize,
    rows: usize,
}

impl Map {
    const WIDTH: f64 = 520.0;
    const HEIGHT: f64 = 620.0;

    fn of(table: &SweepTable, left: f64) -> Self {
        let rows = table.axes[0].values.len().max(1);
        let columns = table.axes[1].values.len().max(1);
        let cell = (Self::WIDTH / real(columns), Self::HEIGHT / real(rows));
        Self { left, top: 190.0, cell, columns, rows }
    }

    /// Left edge and top of a cell; the first row is at the bottom.
    fn corner(&self, row: usize, column: usize) -> (f64, f64) {
        let from_top = self.rows - 1 - row;
        (self.left + real(column) * self.cell.0, self.top + real(from_top) * self.cell.1)
    }
}

fn real(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

/// Good hours and largest spread over two keys: the first upward, the second to the right.
pub(super) fn heat_maps(table: &SweepTable) -> Canvas {
    let mut canvas = Canvas::new(1600, 960);
    title(&mut canvas, &format!("Sweep of {}", keys(table)), &tally(table));
    let good = table.rows.iter().flatten().any(|o| o.good_hours > 0.0);
    let (first, colours): (Measure, fn(f64) -> Rgb) =
        if good { (MEASURES[0], benefit) } else { (FRONT_AT_END, warmth) };
    let left = Map::of(table, LEFT + 110.0);
    let right = Map::of(table, LEFT + 110.0 + Map::WIDTH + 170.0);
    draw(&mut canvas, table, &left, (first, colours));
    draw(&mut canvas, table, &right, (MEASURES[2], warmth));
    row_names(&mut canvas, table, &left);
    for map in [&left, &right] {
        column_names(&mut canvas, table, map);
    }
    canvas
}

fn draw(
    canvas: &mut Canvas,
    table: &SweepTable,
    map: &Map,
    (measure, colours): (Measure, fn(f64) -> Rgb),
) {
    let cell = |row: usize, column: usize| -> Option<&Outcome> {
        table.rows.get(row * map.columns + column)?.as_ref().ok()
    };
    let all = table.rows.iter().flatten().map(measure.value).filter(|v| v.is_finite());
    let (low, high) =
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
    let range = if high - low >= measure.least {
        Range { low, high }
    } else {
        Range::around([low, high], measure.least)
    };
    let written = map.columns <= WRITTEN && map.rows <= 2 * WRITTEN;
    for row in 0..map.rows {
        for column in 0..map.columns {
            let (x, y) = map.corner(row, column);
            let value = cell(row, column).map_or(f64::NAN, measure.value);
            let colour = if value.is_finite() { colours(range.share(value)) } else { GRID };
            // Cells overlap by a hair so that no seam shows between them.
            canvas.rectangle((x, y), (x + map.cell.0 + 0.6, y + map.cell.1 + 0.6), colour);
            if written {
                let ink = if colour.is_light() { INK } else { Rgb(255, 255, 255) };
                let lettering = Lettering::new(size::SMALL, ink).anchored(Anchor::Middle);
                let text = if value.is_finite() { plain(value) } else { "–".to_owned() };
                let middle = (x + map.cell.0 / 2.0, y + map.cell.1 / 2.0);
                canvas.words_beside(&text, middle, lettering);
            }
        }
    }
    let bold = Lettering::new(size::HEADING, INK).bold();
    canvas.words(measure.name, (map.left, map.top - 18.0), bold);
    bar(canvas, map, range, (measure, colours));
}

/// The colour bar at the right of a map, as tall as the map.
fn bar(
    canvas: &mut Canvas,
    map: &Map,
    range: Range,
    (measure, colours): (Measure, fn(f64) -> Rgb),
) {
    let (left, right) = (map.left + Map::WIDTH + 24.0, map.left + Map::WIDTH + 48.0);
    let (top, bottom) = (map.top, map.top + Map::HEIGHT);
    let mut y = top;
    while y < bottom {
        let share = (bottom - y) / Map::HEIGHT;
        canvas.rectangle((left, y), (right, (y + 2.0).min(bottom)), colours(share));
        y += 2.0;
    }
    let ticks = Ticks::in_range(range, 6);
    for &value in &ticks.values {
        let y = bottom - range.share(value) * Map::HEIGHT;
        canvas.line(&[(right, y), (right + 6.0, y)], Pen::new(AXIS, 1.8));
        canvas.words_beside(
            &ticks.text(value),
            (right + 12.0, y),
            Lettering::new(size::TICK, QUIET),
        );
    }
    let unit = Lettering::new(size::LABEL, QUIET).anchored(Anchor::Right);
    canvas.words(measure.unit, (right, top - 18.0), unit);
}

/// What stands along an axis and what it is: a unit common to all values moves to the latter.
fn names(axis: &Axis) -> (Vec<String>, String) {
    match numbers(axis) {
        Some(numbers) if numbers.name(&axis.key) != axis.key => (
            numbers.values.iter().map(|v| format!("{v}").replace('-', "−")).collect(),
            numbers.name(&axis.key),
        ),
        _ => (axis.values.clone(), axis.key.clone()),
    }
}

fn row_names(canvas: &mut Canvas, table: &SweepTable, map: &Map) {
    let axis = &table.axes[0];
    let lettering = Lettering::new(size::TICK, QUIET).anchored(Anchor::Right);
    let every = map.rows.div_ceil(2 * NAMES).max(1);
    let (names, key) = names(axis);
    for (row, value) in names.iter().enumerate().step_by(every) {
        let (x, y) = map.corner(row, 0);
        let text = fitted(value, lettering, map.left - 24.0);
        canvas.words_beside(&text, (x - 12.0, y + map.cell.1 / 2.0), lettering);
    }
    let quiet = Lettering::new(size::LABEL, INK);
    canvas.words(&format!("upward: {key}"), (LEFT, 960.0 - 30.0), quiet);
}

fn column_names(canvas: &mut Canvas, table: &SweepTable, map: &Map) {
    let axis = &table.axes[1];
    let lettering = Lettering::new(size::TICK, QUIET).anchored(Anchor::Middle);
    let (names, key) = names(axis);
    let widest = names.iter().map(|v| crate::canvas::width(v, lettering)).fold(1.0, f64::max);
    let mut every = 1;
    while real(every) * map.cell.0 < widest.min(150.0) + 16.0 && every < map.columns {
        every += 1;
    }
    for (column, value) in names.iter().enumerate().step_by(every) {
        let (x, _) = map.corner(0, column);
        let room = (real(every) * map.cell.0 - 10.0).max(40.0);
        let text = fitted(value, lettering, room);
        let spot = (x + map.cell.0 / 2.0, map.top + Map::HEIGHT + 30.0);
        canvas.words(&text, spot, lettering);
    }
    let middle = map.left + Map::WIDTH / 2.0;
    let name = Lettering::new(size::LABEL, INK).anchored(Anchor::Middle);
    let text = fitted(&key, name, Map::WIDTH);
    canvas.words(&text, (middle, map.top + Map::HEIGHT + 68.0), name);
}
