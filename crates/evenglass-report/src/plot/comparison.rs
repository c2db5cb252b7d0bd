//! Alternatives in one picture.

use evenglass_simulation::Night;
use evenglass_simulation::result::Record;
use evenglass_simulation::scenario::scenario::Good;

use crate::canvas::Canvas;
use crate::comparison::start_offset;
use crate::lettering::{Anchor, Lettering, fitted};
use crate::plot::clock_chart::{TINT, clock_axis, panel, points};
use crate::plot::limited::Limited;
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

/// Figure and what the air does to the image, of all alternatives, and when each is good.
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
    let right = canvas.size().0 - NAMES;
    let frame = |top, bottom| Panel { right, ..panel(&canvas, top, bottom, x, x) };
    let figure = figure(nights, &offsets);
    let air = Air::of(nights, &offsets);
    let above = figure.panel(frame(175.0, 505.0));
    let below = air.panel(frame(585.0, 815.0));
    let y = Range { low: (rows_bottom - rows_top) / ROW, high: 0.0 };
    let strip = Panel { y, ..frame(rows_top, rows_bottom) };

    figure.draw(&canvas, &above);
    air.draw(&canvas, &below);
    clock_axis(&canvas, &first.scenario, &[above, below, strip]);
    let some = if rows < nights.len() {
        format!("from … to, the first {rows} of {}", nights.len())
    } else {
        "from … to".to_owned()
    };
    strip.heading(&canvas, "Good", &some);
    good_rows(&canvas, nights, &offsets, &strip);
    canvas
}

/// The limit that all nights share, if they do.
fn shared(nights: &[(String, Night)], limit: fn(&Good) -> Option<f64>) -> Option<f64> {
    let mut limits = nights.iter().map(|(_, night)| limit(&night.scenario.good));
    let first = limits.next()??;
    limits.all(|other| other.is_some_and(|o| (o - first).abs() < 1e-12)).then_some(first)
}

/// Total figure error of all alternatives.
fn figure(nights: &[(String, Night)], offsets: &[f64]) -> Limited {
    let limit = shared(nights, |good| Some(1e9 * good.figure_rms.metres()));
    Limited {
        what: "Figure error",
        unit: "nm RMS of the surface, at best focus",
        limit: limit.map(|limit| (limit, format!("limit {} nm", plain(limit)))),
        curves: curves(nights, offsets, |r| 1e9 * r.image.total_rms_m),
        bands: vec![],
    }
}

/// What tells most about the air.
enum Air {
    /// The blur.
    Shimmer(Limited),
    /// Front minus air, and the limit of all.
    Lag(Vec<Curve>, Option<f64>),
}

impl Air {
    /// The blur, unless an author has set a limit to front minus air or nothing blurs.
    fn of(nights: &[(String, Night)], offsets: &[f64]) -> Self {
        let blurs = |night: &Night| night.history.iter().any(|r| r.image.seeing.value > 0.005);
        let asked = nights.iter().any(|(_, n)| n.scenario.good.front_minus_air.is_some());
        if asked || !nights.iter().any(|(_, night)| blurs(night)) {
            let limit = shared(nights, |good| Some(good.front_minus_air?.kelvins()));
            return Self::Lag(curves(nights, offsets, |r| r.front_minus_air.kelvins()), limit);
        }
        let limit = shared(nights, |good| Some(good.shimmer_arcsec));
        Self::Shimmer(Limited {
            what: "Shimmer",
            unit: "arcsec, by the mirror's own air",
            limit: limit.map(|limit| (limit, format!("limit {} arcsec", plain(limit)))),
            curves: curves(nights, offsets, |r| r.image.seeing.value),
            bands: vec![],
        })
    }

    fn panel(&self, frame: Panel) -> Panel {
        match self {
            Self::Shimmer(limited) => limited.panel(frame),
            Self::Lag(curves, limit) => {
                let values = curves.iter().flat_map(|c| c.points.iter().map(|p| p.1));
                let least = limit.map_or(0.2, |limit| 2.6 * limit);
                Panel { y: Range::around(values.chain([0.0]), least), ..frame }
            }
        }
    }

    fn draw(&self, canvas: &Canvas, panel: &Panel) {
        let (curves, limit) = match self {
            Self::Shimmer(limited) => {
                limited.draw(canvas, panel);
                return;
            }
            Self::Lag(curves, limit) => (curves, limit),
        };
        let unit = match limit {
            Some(limit) => {
                panel.band(canvas, -limit, *limit, GOOD.tint(TINT));
                format!("K, mean of the face; good within {} K", plain(*limit))
            }
            None => "K, mean of the face".to_owned(),
        };
        let ticks = Ticks::in_range(panel.y, 4);
        panel.grid(canvas, &ticks, |v| ticks.signed(v));
        panel.zero_line(canvas);
        panel.heading(canvas, "Front minus air", &unit);
        panel.curves(canvas, curves);
    }
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

fn curves(nights: &[(String, Night)], offsets: &[f64], value: fn(&Record) -> f64) -> Vec<Curve> {
    nights
        .iter()
        .zip(offsets)
        .enumerate()
        .map(|(i, ((label, night), offset))| {
            let points = points(&night.history, value);
            let moved = points.into_iter().map(|(t, v)| (t + offset, v)).collect();
            // Only curves of their own colour can be told apart and deserve a name.
            let name = if i < SERIES.len() { label.clone() } else { String::new() };
            Curve::new(name, colour(i), moved)
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
