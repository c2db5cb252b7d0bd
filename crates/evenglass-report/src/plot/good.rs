//! When the image is good, what must be met for it, and what stands in its way.

use evenglass_simulation::Night;
use evenglass_simulation::result::{Criterion, Ending, GoodInterval};
use evenglass_units::TemperatureDifference;

use crate::canvas::{Canvas, Pen};
use crate::lettering::{Anchor, Lettering, width};
use crate::plot::clock_chart::{
    NAMES, TOP, clock_axis, column, events, figure_error, good_stretches, whole_run,
};
use crate::plot::limited::{Band, Limited};
use crate::plot::panel::{Curve, LEFT, Panel, title};
use crate::plot::scale::{Range, Ticks};
use crate::plot::tags::{Placed, Room, Tag, placed};
use crate::plot::whole_pixels;
use crate::style::{BLUE, GOOD, INK, PURPLE, QUIET, Rgb, SKY, VERMILION, size};
use crate::text::short;
use crate::wording::{hours, minutes, mirror, moment, night as span, plain};

/// Height of a row of bars \[px\].
const ROW: f64 = 40.0;

/// Share of a row that its bar leaves free above, and below.
const FREE: f64 = 0.16;

/// Rows of words below the bars, and pixels from row to row.
const TAG_ROWS: usize = 6;
const TAG_ROW: f64 = 24.0;

/// Height of a panel of curves \[px\].
const CURVES: f64 = 205.0;

/// From the bottom of a panel to the top of the next \[px\].
const GAP: f64 = 78.0;

/// Width of a sheet \[px\].
const WIDE: f64 = 1600.0;

/// Bars for each criterion and for all of them, above the curves against their limits.
pub(crate) fn good(night: &Night) -> Canvas {
    let x = whole_run(&night.scenario);
    let strip = strip(night, x);
    let tags = endings(night, &strip);
    let rows = tags.iter().map(|tag| tag.row + 1).max().unwrap_or(1);
    let mut top = strip.bottom + 26.0 + TAG_ROW * count(rows) + 52.0;
    let quantities = quantities(night);
    let frames: Vec<Panel> = (0..quantities.len())
        .map(|_| {
            let frame = Panel { top, bottom: top + CURVES, ..strip };
            top += CURVES + GAP;
            frame
        })
        .collect();
    let canvas = Canvas::new(whole_pixels(WIDE), whole_pixels(top - GAP + 85.0));
    let name = short(&night.scenario.title, 200);
    let case = format!("{}; {}", mirror(&night.scenario), span(&night.scenario));
    title(&canvas, &format!("When it is good – {name}"), &case);
    let mut panels = vec![strip];
    let both = quantities.iter().zip(&frames);
    panels.extend(both.map(|(quantity, frame)| quantity.panel(*frame)));

    good_stretches(&canvas, night, &panels);
    for (quantity, panel) in quantities.iter().zip(&panels[1..]) {
        quantity.ground(&canvas, panel);
    }
    let held = minutes(night.scenario.good.held_for.seconds());
    let unit = format!("good is: all criteria met for at least {held}");
    let end = strip.heading(&canvas, &answer(night), &unit);
    bars(&canvas, night, &strip);
    events(&canvas, night, &panels, end);
    if tags.is_empty() {
        let quiet = Lettering::new(size::SMALL, QUIET);
        let text = format!("at no time are all of them met for {held}");
        canvas.words(&text, (LEFT, strip.bottom + 30.0), quiet);
    }
    for tag in &tags {
        say(&canvas, &strip, tag);
    }
    clock_axis(&canvas, &night.scenario, &panels);
    for (quantity, panel) in quantities.iter().zip(&panels[1..]) {
        quantity.draw(&canvas, panel);
    }
    ready(&canvas, night, &panels);
    canvas
}

/// The answer in a few words.
fn answer(night: &Night) -> String {
    match night.good_intervals.first() {
        Some(first) if first.from_s > 0.0 => {
            let from = moment(&night.scenario, first.from_s);
            format!("Ready at {from}, good for {}", hours(night.good_hours()))
        }
        Some(_) => format!("Good from the start, for {}", hours(night.good_hours())),
        None => "Not good in this run".to_owned(),
    }
}

/// A row for each criterion and one for all of them.
fn strip(night: &Night, x: Range) -> Panel {
    let rows = count(night.passing.len() + 1);
    let y = Range { low: rows, high: 0.0 };
    Panel { left: LEFT, top: TOP, right: WIDE - NAMES, bottom: TOP + ROW * rows, x, y }
}

fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}

/// Name and colour of a criterion.
fn look(criterion: Criterion) -> (&'static str, Rgb) {
    match criterion {
        Criterion::Figure => ("figure", BLUE),
        Criterion::Shimmer => ("shimmer", VERMILION),
        Criterion::Dew => ("dew", SKY),
        Criterion::FrontMinusAir => ("front − air", PURPLE),
    }
}

/// What a criterion asks for.
fn limit(night: &Night, criterion: Criterion) -> String {
    let good = &night.scenario.good;
    match criterion {
        Criterion::Figure => format!("at most {} nm RMS", plain(1e9 * good.figure_rms.metres())),
        Criterion::Shimmer => format!("at most {} arcsec", plain(good.shimmer_arcsec)),
        Criterion::Dew => format!("at least {} K of margin", plain(good.dew_margin.kelvins())),
        Criterion::FrontMinusAir => {
            let kelvins = good.front_minus_air.map_or(f64::NAN, TemperatureDifference::kelvins);
            format!("within {} K", plain(kelvins))
        }
    }
}

/// The bars, their names at the left and what they stand for at the right.
fn bars(canvas: &Canvas, night: &Night, strip: &Panel) {
    let mut row = 0.0;
    let bar = |from: f64, to: f64, row: f64| [(from, row + FREE), (to, row + 1.0 - FREE)];
    for passing in &night.passing {
        let (name, colour) = look(passing.criterion);
        strip.boxes(canvas, [(bar(strip.x.low, strip.x.high, row), colour.tint(0.12))]);
        let met = passing.stretches.iter().map(|&(from, to)| (bar(from, to, row), colour));
        strip.boxes(canvas, met);
        beside(canvas, strip, row, (name, &limit(night, passing.criterion), colour));
        let ended = night
            .good_intervals
            .iter()
            .filter(|interval| interval.ended_by == Ending::Missed(passing.criterion));
        let ends: Vec<(f64, f64)> = ended.map(|interval| (interval.to_s, row + 0.5)).collect();
        strip.dots(canvas, &ends, 9.0, Rgb(255, 255, 255));
        strip.dots(canvas, &ends, 6.5, INK);
        row += 1.0;
    }
    let whole = bar(strip.x.low, strip.x.high, row);
    strip.boxes(canvas, [(whole, GOOD.tint(0.12))]);
    let all = night.good_intervals.iter().map(|i| (bar(i.from_s, i.to_s, row), GOOD));
    strip.boxes(canvas, all);
    let sum = match night.good_intervals.len() {
        0 => "never".to_owned(),
        1 => hours(night.good_hours()),
        _ => format!("{} in all", hours(night.good_hours())),
    };
    beside(canvas, strip, row, ("good", &sum, GOOD));
}

/// The name of a row at its left, what it stands for at its right.
fn beside(canvas: &Canvas, strip: &Panel, row: f64, (name, what, colour): (&str, &str, Rgb)) {
    let lettering = Lettering::new(size::TICK, colour.for_words());
    let middle = strip.py(row + 0.5);
    canvas.words_beside(name, (LEFT - 12.0, middle), lettering.anchored(Anchor::Right));
    canvas.words_beside(what, (strip.right + 20.0, middle), lettering);
}

/// When each good stretch lasted and what ended it, below its bar.
fn endings(night: &Night, strip: &Panel) -> Vec<Placed> {
    let lettering = Lettering::new(size::SMALL, QUIET);
    let said = |interval: &GoodInterval| {
        // The day stands at the clock.
        let [from, to] = [interval.from_s, interval.to_s].map(|s| night.scenario.night.start.hm(s));
        let times = format!("{from} to {to}");
        match interval.ended_by {
            Ending::Missed(criterion) => format!("{times}, ended by {}", look(criterion).0),
            Ending::EndOfRun => format!("{times}, end of the run"),
        }
    };
    let tags = night.good_intervals.iter().map(|interval| Tag {
        // Words begin where the bar begins, a few pixels right of the tag's place.
        at: strip.px(interval.from_s) - 6.0,
        text: said(interval),
        things: 1,
        lettering,
    });
    let right = WIDE - 12.0;
    let room = Room { rows: TAG_ROWS, first_left: LEFT - 1.0, left: LEFT - 1.0, right };
    placed(tags.collect(), room, "stretches")
}

/// Writes a tag below the bars and ties it to its own where other words lie between.
fn say(canvas: &Canvas, strip: &Panel, placed: &Placed) {
    let base = strip.bottom + 30.0 + TAG_ROW * count(placed.row);
    canvas.words(&placed.tag.text, (placed.left, base), placed.tag.lettering);
    if placed.row > 0 {
        let x = placed.tag.at + 3.0;
        let line = [(x, strip.bottom + 10.0), (x, base)];
        canvas.line(&line, Pen::new(GOOD.tint(0.6), 1.6));
    }
}

/// A line through all panels at the time from which the image is good, and what it is.
fn ready(canvas: &Canvas, night: &Night, panels: &[Panel]) {
    let (Some(seconds), Some(strip)) = (night.ready_at_s, panels.first()) else {
        return;
    };
    for panel in panels {
        let ends = vec![(seconds, panel.y.low), (seconds, panel.y.high)];
        panel.line(canvas, ends, Pen::new(GOOD, 2.2));
    }
    let text = format!("ready {}", night.scenario.night.start.hm(seconds));
    let bold = Lettering::new(size::LABEL, GOOD.for_words()).bold();
    let room = width(&text, bold);
    let spot = strip.spot((seconds, count(night.passing.len()) + 0.5));
    if spot.0 - room - 10.0 > strip.left {
        canvas.words_beside(&text, (spot.0 - 10.0, spot.1), bold.anchored(Anchor::Right));
        return;
    }
    // No room before it: inside its bar, if that is long enough.
    let end = night.good_intervals.first().map_or(seconds, |interval| interval.to_s);
    if strip.px(end) - spot.0 > room + 20.0 {
        let white = Lettering { colour: Rgb(255, 255, 255), ..bold };
        canvas.words_beside(&text, (spot.0 + 10.0, spot.1), white);
    }
}

/// What is drawn below the bars.
enum Quantity {
    /// Not below zero, against one limit.
    Limited(Limited),
    /// On both sides of zero.
    Signed(Signed),
}

/// Curves on both sides of zero, and their limits.
struct Signed {
    what: &'static str,
    unit: &'static str,
    curves: Vec<Curve>,
    /// Each limit and how it is said.
    limits: Vec<(f64, String)>,
}

/// A panel of curves for each criterion.
fn quantities(night: &Night) -> Vec<Quantity> {
    night.passing.iter().filter_map(|passing| quantity(night, passing.criterion)).collect()
}

fn quantity(night: &Night, criterion: Criterion) -> Option<Quantity> {
    let good = &night.scenario.good;
    let (name, colour) = look(criterion);
    match criterion {
        Criterion::Figure => {
            let all = figure_error(night);
            let nanometres = 1e9 * good.figure_rms.metres();
            Some(Quantity::Limited(Limited {
                what: "Figure",
                unit: "nm RMS of the surface, at best focus",
                limit: Some((nanometres, format!("limit {} nm", plain(nanometres)))),
                curves: vec![Curve::new(name, colour, all)],
                bands: vec![],
            }))
        }
        Criterion::Shimmer => {
            let band = night.history.iter().map(|r| {
                let seeing = r.image.seeing;
                (r.time_s, seeing.low, seeing.high)
            });
            let limit = good.shimmer_arcsec;
            Some(Quantity::Limited(Limited {
                what: "Shimmer",
                unit: "arcsec, by the mirror's own air; the band is what is likely",
                limit: Some((limit, format!("limit {} arcsec", plain(limit)))),
                curves: vec![Curve::new(name, colour, column(night, "seeing_arcsec"))],
                bands: vec![Band { points: band.collect(), colour }],
            }))
        }
        Criterion::Dew => Some(Quantity::Signed(dew_margins(night))),
        Criterion::FrontMinusAir => {
            let limit = good.front_minus_air?.kelvins();
            Some(Quantity::Signed(Signed {
                what: "Front minus air",
                unit: "K, mean of the face",
                curves: vec![Curve::new(name, colour, column(night, "front_minus_air_k"))],
                limits: vec![
                    (limit, format!("limit ±{} K", plain(limit))),
                    (-limit, String::new()),
                ],
            }))
        }
    }
}

/// How far primary and secondary are from dew.
fn dew_margins(night: &Night) -> Signed {
    let (_, colour) = look(Criterion::Dew);
    let mut curves = vec![
        Curve::new("primary", colour, column(night, "dew_margin_primary_k")),
        Curve::new("secondary", INK, column(night, "dew_margin_secondary_k")),
    ];
    curves.retain(|curve| !curve.points.is_empty());
    let limit = night.scenario.good.dew_margin.kelvins();
    Signed {
        what: "Dew margin",
        unit: "K above the dew point, below 0 °C the frost point; dew below zero",
        curves,
        limits: vec![(limit, format!("limit {} K", plain(limit)))],
    }
}

impl Signed {
    fn panel(&self, frame: Panel) -> Panel {
        let values = self.curves.iter().flat_map(|c| c.points.iter().map(|p| p.1));
        let limits = self.limits.iter().map(|limit| 1.3 * limit.0);
        Panel { y: Range::around(values.chain(limits).chain([0.0]), 0.1), ..frame }
    }

    fn draw(&self, canvas: &Canvas, panel: &Panel) {
        let ticks = Ticks::in_range(panel.y, 4);
        panel.grid(canvas, &ticks, |v| ticks.signed(v));
        panel.zero_line(canvas);
        panel.heading(canvas, self.what, self.unit);
        let lines = self.limits.iter().map(|(value, name)| {
            let ends = vec![(panel.x.low, *value), (panel.x.high, *value)];
            Curve::new(name.clone(), INK, ends).fine()
        });
        let courses = self.curves.iter().map(|curve| curve.with(&curve.name, curve.points.clone()));
        panel.curves(canvas, &lines.chain(courses).collect::<Vec<_>>());
    }
}

impl Quantity {
    fn panel(&self, frame: Panel) -> Panel {
        match self {
            Self::Limited(limited) => limited.panel(frame),
            Self::Signed(signed) => signed.panel(frame),
        }
    }

    fn ground(&self, canvas: &Canvas, panel: &Panel) {
        if let Self::Limited(limited) = self {
            limited.ground(canvas, panel);
        }
    }

    fn draw(&self, canvas: &Canvas, panel: &Panel) {
        match self {
            Self::Limited(limited) => {
                limited.draw(canvas, panel);
            }
            Self::Signed(signed) => signed.draw(canvas, panel),
        }
    }
}
