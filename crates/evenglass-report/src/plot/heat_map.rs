//! A sweep over two keys as two maps.

use plotters::chart::LabelAreaPosition as Side;

use crate::axis::{Axis, number_and_unit};
use crate::canvas::Canvas;
use crate::lettering::{Anchor, Lettering, fitted, width};
use crate::outcome::Outcome;
use crate::plot::colour_bar::colour_bar;
use crate::plot::measure::{MEASURES, Measure, keys, numbers, tally};
use crate::plot::panel::{LEFT, Panel, title};
use crate::plot::scale::{Range, Ticks};
use crate::style::{GRID, INK, QUIET, Rgb, benefit, size, warmth};
use crate::sweep::SweepTable;
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

    /// The map as a panel that counts cells; the first row is at the bottom.
    fn panel(&self) -> Panel {
        let cells = |count| Range { low: 0.0, high: real(count) };
        let (right, bottom) = (self.left + Self::WIDTH, self.top + Self::HEIGHT);
        let (x, y) = (cells(self.columns), cells(self.rows));
        Panel { left: self.left, top: self.top, right, bottom, x, y }
    }
}

fn real(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

/// Good hours and figure error over two keys: the first upward, the second to the right.
pub(super) fn heat_maps(table: &SweepTable) -> Canvas {
    let canvas = Canvas::new(1600, 960);
    title(&canvas, &format!("Sweep of {}", keys(table)), &tally(table));
    let good = table.rows.iter().flatten().any(|o| o.good_hours > 0.0);
    let (first, colours): (Measure, fn(f64) -> Rgb) =
        if good { (MEASURES[0], benefit) } else { (FRONT_AT_END, warmth) };
    let left = Map::of(table, LEFT + 110.0);
    let right = Map::of(table, LEFT + 110.0 + Map::WIDTH + 170.0);
    draw(&canvas, table, &left, (first, colours));
    draw(&canvas, table, &right, (MEASURES[2], warmth));
    row_names(&canvas, table, &left);
    for map in [&left, &right] {
        column_names(&canvas, table, map);
    }
    canvas
}

fn draw(
    canvas: &Canvas,
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
    let panel = map.panel();
    // Cells overlap by a hair so that no seam shows between them.
    let hair = (0.6 / map.cell.0, 0.6 / map.cell.1);
    let (mut boxes, mut texts) = (Vec::new(), Vec::new());
    for row in 0..map.rows {
        for column in 0..map.columns {
            let (x, y) = (real(column), real(row));
            let value = cell(row, column).map_or(f64::NAN, measure.value);
            let colour = if value.is_finite() { colours(range.share(value)) } else { GRID };
            boxes.push(([(x, y - hair.1), (x + 1.0 + hair.0, y + 1.0)], colour));
            let text = if value.is_finite() { plain(value) } else { "–".to_owned() };
            texts.push((text, (x + 0.5, y + 0.5), colour));
        }
    }
    panel.boxes(canvas, boxes);
    for (text, middle, ground) in texts.into_iter().filter(|_| written) {
        let ink = if ground.is_light() { INK } else { Rgb(255, 255, 255) };
        let lettering = Lettering::new(size::SMALL, ink).anchored(Anchor::Middle);
        canvas.words_beside(&text, panel.spot(middle), lettering);
    }
    let bold = Lettering::new(size::HEADING, INK).bold();
    canvas.words(measure.name, (map.left, map.top - 18.0), bold);
    bar(canvas, map, range, (measure, colours));
}

/// The colour bar at the right of a map, as tall as the map.
fn bar(canvas: &Canvas, map: &Map, range: Range, (measure, colours): (Measure, fn(f64) -> Rgb)) {
    let (left, right) = (map.left + Map::WIDTH + 24.0, map.left + Map::WIDTH + 48.0);
    let panel = Panel { left, right, y: range, ..map.panel() };
    colour_bar(canvas, &panel, colours, Ticks::text);
    let unit = Lettering::new(size::LABEL, QUIET).anchored(Anchor::Right);
    canvas.words(measure.unit, (right, map.top - 18.0), unit);
}

/// What stands along an axis and what it is: a unit common to all values moves to the latter.
fn names(axis: &Axis) -> (Vec<String>, String) {
    match numbers(axis) {
        Some(numbers) if numbers.name(&axis.key) != axis.key => (
            axis.shown().iter().map(|text| bare(text).replace('-', "−")).collect(),
            numbers.name(&axis.key),
        ),
        _ => (axis.shown(), axis.key.clone()),
    }
}

/// "6 mm" as "6".
fn bare(text: &str) -> String {
    number_and_unit(text).map_or_else(|| text.to_owned(), |(number, _)| format!("{number}"))
}

fn row_names(canvas: &Canvas, table: &SweepTable, map: &Map) {
    let axis = &table.axes[0];
    let lettering = Lettering::new(size::TICK, QUIET).anchored(Anchor::Right);
    let every = map.rows.div_ceil(2 * NAMES).max(1);
    let (names, key) = names(axis);
    let (places, texts): (Vec<f64>, Vec<String>) = names
        .iter()
        .enumerate()
        .step_by(every)
        .map(|(row, value)| (real(row) + 0.5, fitted(value, lettering, map.left - 24.0)))
        .unzip();
    map.panel().labels(canvas, Side::Left, (&places, &texts));
    let quiet = Lettering::new(size::LABEL, INK);
    canvas.words(&format!("upward: {key}"), (LEFT, 960.0 - 30.0), quiet);
}

fn column_names(canvas: &Canvas, table: &SweepTable, map: &Map) {
    let axis = &table.axes[1];
    let lettering = Lettering::new(size::TICK, QUIET).anchored(Anchor::Middle);
    let (names, key) = names(axis);
    let widest = names.iter().map(|v| width(v, lettering)).fold(1.0, f64::max);
    let mut every = 1;
    while real(every) * map.cell.0 < widest.min(150.0) + 16.0 && every < map.columns {
        every += 1;
    }
    let room = (real(every) * map.cell.0 - 10.0).max(40.0);
    let (places, texts): (Vec<f64>, Vec<String>) = names
        .iter()
        .enumerate()
        .step_by(every)
        .map(|(column, value)| (real(column) + 0.5, fitted(value, lettering, room)))
        .unzip();
    map.panel().labels(canvas, Side::Bottom, (&places, &texts));
    let middle = map.left + Map::WIDTH / 2.0;
    let name = Lettering::new(size::LABEL, INK).anchored(Anchor::Middle);
    let text = fitted(&key, name, Map::WIDTH);
    canvas.words(&text, (middle, map.top + Map::HEIGHT + 68.0), name);
}
