//! Alternatives in one picture.

use evenglass_simulation::Night;

use crate::canvas::Canvas;
use crate::comparison::start_offset;
use crate::lettering::{Anchor, Lettering, fitted};
use crate::plot::clock_chart::{TINT, clock_axis, column, panel};
use crate::plot::panel::{Curve, Panel, title};
use crate::plot::scale::{Range, Ticks};
use crate::plot::whole_pixels;
use crate::style::{GOOD, QUIET, Rgb, SERIES, size};
use crate::wording::{hours, mirror, night as span, plain};

/// Room for names at the right \[px\].
const NAMES: f64 = 380.0;

/// Height of one alternative's row of good stretches \[px\].
const ROW: f64 = 34.0;

/// Alternatives that get a row of their own; more would leave no room for the curves.
const MOST_ROWS: usize = 14;

/// Edge minus centre and front minus air of all alternatives, and when each is good.
///
/// The clock is that of the first; nights that start at another time are moved to it.
pub(crate) fn comparison(nights: &[(String, Night)]) -> Canvas {
    let rows = nights.len().min(MOST_ROWS);
    let rows_top = 900.0;
    let rows_bottom = rows_top + ROW * f64::from(u32::try_from(rows.max(1)).unwrap_or(1));
    let canvas = Canvas::new(1600, whole_pixels(rows_bottom + 90.0));
    let Some((_, first)) = nights.first() else {
        title(&canvas, "Comparison", "nothing to compare");
        return canvas;
    };
    let subtitle = format!("{}; {}", mirror(&first.scenario), span(&first.scenario));
    let names: Vec<&str> = nights.iter().map(|(label, _)| label.as_str()).collect();
    let heading = match names.join(" · ") {
        all if all.chars().count() <= 70 => all,
        _ => format!("{} alternatives compared", names.len()),
    };
    title(&canvas, &heading, &common_ground(nights, subtitle));

    let offsets: Vec<f64> = nights.iter().map(|(_, night)| start_offset(first, night)).collect();
    let x = clock_range(nights, &offsets);
    let edge = curves(nights, &offsets, "edge_minus_centre_k");
    let lag = curves(nights, &offsets, "front_minus_air_k");
    let limit = first.scenario.good.front_minus_air.map_or(0.5, |k| k.kelvins());
    let y = |curves: &[Curve], least: f64| {
        let values = curves.iter().flat_map(|c| c.points.iter().map(|p| p.1));
        Range::around(values.chain([0.0]), least)
    };
    let right = canvas.size().0 - NAMES;
    let above = Panel { right, ..panel(&canvas, 175.0, 505.0, x, y(&edge, 0.1)) };
    let below = Panel { right, ..panel(&canvas, 585.0, 815.0, x, y(&lag, 2.6 * limit)) };
    let downward = Range { low: (rows_bottom - rows_top) / ROW, high: 0.0 };
    let strip = Panel { right, ..panel(&canvas, rows_top, rows_bottom, x, downward) };

    below.band(&canvas, -limit, limit, GOOD.tint(TINT));
    for (panel, wanted) in [(&above, 6), (&below, 4)] {
        let ticks = Ticks::in_range(panel.y, wanted);
        panel.grid(&canvas, &ticks, |v| ticks.signed(v));
        panel.zero_line(&canvas);
    }
    clock_axis(&canvas, &first.scenario, &[above, below, strip]);
    above.heading(&canvas, "Edge minus centre", "K, at half thickness");
    let unit = format!("K, mean of the face; good within {} K", plain(limit));
    below.heading(&canvas, "Front minus air", &unit);
    let some = if rows < nights.len() {
        format!("from … to, the first {rows} of {}", nights.len())
    } else {
        "from … to".to_owned()
    };
    strip.heading(&canvas, "Good", &some);
    above.curves(&canvas, &edge);
    below.curves(&canvas, &lag);
    good_rows(&canvas, nights, &offsets, &strip);
    canvas
}

/// The subtitle: the first one's case, unless the alternatives differ in it.
fn common_ground(nights: &[(String, Night)], first: String) -> String {
    let same = nights.iter().all(|(_, night)| {
        first == format!("{}; {}", mirror(&night.scenario), span(&night.scenario))
    });
    if same { first } else { format!("first of them: {first}") }
}

fn clock_range(nights: &[(String, Night)], offsets: &[f64]) -> Range {
    let low = offsets.iter().copied().fold(0.0, f64::min);
    let ends =
        nights.iter().zip(offsets).map(|((_, n), o)| o + n.scenario.night.duration.seconds());
    Range { low, high: ends.fold(low + 1.0, f64::max) }
}

fn curves(nights: &[(String, Night)], offsets: &[f64], name: &str) -> Vec<Curve> {
    nights
        .iter()
        .zip(offsets)
        .enumerate()
        .map(|(i, ((label, night), offset))| {
            let points = column(night, name).into_iter().map(|(t, v)| (t + offset, v)).collect();
            // Only curves of their own colour can be told apart and deserve a name.
            let name = if i < SERIES.len() { label.clone() } else { String::new() };
            Curve::new(name, colour(i), points)
        })
        .collect()
}

/// The colours in turn, then grey: nobody tells more than seven apart.
fn colour(index: usize) -> Rgb {
    SERIES.get(index).copied().unwrap_or(QUIET.tint(0.45))
}

/// A bar for each good stretch, a row for each alternative.
fn good_rows(canvas: &Canvas, nights: &[(String, Night)], offsets: &[f64], strip: &Panel) {
    // A bar leaves a fifth of its row free above and below.
    let (mut row, free) = (0.0, 0.206);
    for (i, ((label, night), offset)) in nights.iter().zip(offsets).enumerate().take(MOST_ROWS) {
        let colour = colour(i);
        let bars = night.good_intervals.iter().map(|interval| {
            let (from, to) = (interval.from_s + offset, interval.to_s + offset);
            ([(from, row + free), (to, row + 1.0 - free)], colour)
        });
        strip.boxes(canvas, bars);
        let lettering = Lettering::new(size::LABEL, colour.for_words());
        let middle = strip.py(row + 0.5);
        let text = if night.good_intervals.is_empty() {
            "never".to_owned()
        } else {
            hours(night.good_hours())
        };
        let end = canvas.size().0 - 48.0;
        canvas.words_beside(&text, (end, middle), lettering.anchored(Anchor::Right));
        let name = fitted(label, lettering, NAMES - 34.0 - 16.0 - 76.0);
        canvas.words_beside(&name, (strip.right + 34.0, middle), lettering);
        row += 1.0;
    }
}
