//! Figure and focus through the night.

use evenglass_simulation::Night;
use evenglass_simulation::image::{WAVELENGTH_M, depth_of_focus};
use evenglass_simulation::result::Record;

use crate::canvas::Canvas;
use crate::plot::clip::pieces;
use crate::plot::clock_chart::{
    TOP, clock_axis, column, figure_error, good_stretches, notes, panel, points, whole_run,
};
use crate::plot::limited::Limited;
use crate::plot::panel::{Curve, Panel, title};
use crate::plot::scale::{Range, Ticks};
use crate::plot::whole_pixels;
use crate::style::{BLUE, GREEN, INK, ORANGE, PURPLE, QUIET, SKY, VERMILION};
use crate::text::short;
use crate::wording::{mirror, moment, night as span, plain};

/// Heights of the panels from the top down \[px\].
const HEIGHTS: [f64; 4] = [270.0, 190.0, 210.0, 150.0];

/// From the bottom of a panel to the top of the next \[px\].
const GAP: f64 = 78.0;

/// A lopsided error below this all night is not drawn \[nm\].
const LEAST: f64 = 0.05;

/// Refocus intervals drawn \[min\].
const INTERVALS: (f64, f64) = (0.5, 600.0);

/// Figure, correction, focus and the time between refocusings, one below the other.
pub(crate) fn figure(night: &Night) -> Canvas {
    let scenario = &night.scenario;
    let flat = scenario.mirror.focal_ratio.is_none();
    let count = if flat { 3 } else { 4 };
    let mut top = TOP;
    let mut places: Vec<(f64, f64)> = Vec::new();
    for height in &HEIGHTS[..count] {
        places.push((top, top + height));
        top += height + GAP;
    }
    let canvas = Canvas::new(1600, whole_pixels(top - GAP + 85.0));
    let name = short(&scenario.title, 200);
    let case = format!("{}; {}", mirror(scenario), span(scenario));
    title(&canvas, &format!("Figure and focus – {name}"), &case);
    let x = whole_run(scenario);
    let frame = |place: (f64, f64)| panel(&canvas, place.0, place.1, x, x);

    let errors = errors(night);
    let correction = correction(night, flat);
    let focus = focus(night, flat);
    let mut panels = vec![
        errors.panel(frame(places[0])),
        correction.panel(frame(places[1])),
        focus.panel(frame(places[2])),
    ];
    panels.extend(places.get(3).map(|&place| interval_panel(frame(place))));

    good_stretches(&canvas, night, &panels);
    focus.ground(&canvas, &panels[2]);
    let end = errors.draw(&canvas, &panels[0]);
    notes(&canvas, night, &panels, end);
    clock_axis(&canvas, scenario, &panels);
    correction.draw(&canvas, &panels[1]);
    focus.draw(&canvas, &panels[2]);
    if let Some(panel) = panels.get(3) {
        intervals(&canvas, night, panel);
    }
    canvas
}

/// RMS of the surface in all orders and what it is made of.
fn errors(night: &Night) -> Limited {
    let of = |value: fn(&Record) -> f64| points(&night.history, move |r| 1e9 * value(r));
    let all = figure_error(night);
    let mut curves = vec![
        Curve::new("astigmatism", ORANGE, of(|r| r.image.astigmatism.size_m)),
        Curve::new("coma", PURPLE, of(|r| r.image.coma.size_m)),
        Curve::new("trefoil", SKY, of(|r| r.image.trefoil.size_m)),
    ];
    curves.retain(|curve| curve.points.iter().any(|p| p.1 > LEAST));
    if curves.is_empty() {
        curves.push(Curve::new("figure", BLUE, all));
    } else {
        curves.push(Curve::new("round part", GREEN, of(|r| r.image.figure_rms_m)));
        curves.push(Curve::new("all together", BLUE, all));
    }
    let limit = 1e9 * night.scenario.good.figure_rms.metres();
    Limited {
        what: "Figure error",
        unit: "nm RMS of the surface, at best focus",
        limit: Some((limit, format!("limit {} nm", plain(limit)))),
        curves,
        bands: vec![],
    }
}

/// Curves on both sides of zero.
struct Signed {
    what: &'static str,
    unit: String,
    curves: Vec<Curve>,
    /// A band behind them.
    band: Option<(f64, f64)>,
    /// Least span of the axis.
    least: f64,
}

impl Signed {
    fn panel(&self, frame: Panel) -> Panel {
        let values = self.curves.iter().flat_map(|c| c.points.iter().map(|p| p.1));
        let band = self.band.into_iter().flat_map(|band| [band.0, band.1]);
        Panel { y: Range::around(values.chain(band).chain([0.0]), self.least), ..frame }
    }

    /// Draws the band: before anything that must not be hidden by it.
    fn ground(&self, canvas: &Canvas, panel: &Panel) {
        if let Some((low, high)) = self.band {
            panel.band(canvas, low, high, SKY.tint(0.4));
        }
    }

    fn draw(&self, canvas: &Canvas, panel: &Panel) {
        let ticks = Ticks::in_range(panel.y, 6);
        panel.grid(canvas, &ticks, |v| ticks.signed(v));
        panel.zero_line(canvas);
        panel.heading(canvas, self.what, &self.unit);
        panel.curves(canvas, &self.curves);
    }
}

/// Spherical aberration, as correction where there is a paraboloid.
fn correction(night: &Night, flat: bool) -> Signed {
    let (what, unit, name, least) = if flat {
        ("Spherical term", "nm of the surface (Noll 11)", "spherical_nm", 1.0)
    } else {
        let unit = "% of the paraboloid's; + over-corrected, − under-corrected";
        ("Correction", unit, "correction_percent", 1.0)
    };
    let curve =
        Curve::new(if flat { "spherical" } else { "correction" }, VERMILION, column(night, name));
    Signed { what, unit: unit.to_owned(), curves: vec![curve], band: None, least }
}

/// Where the focus lies, with the depth of focus around what was focused when ready.
fn focus(night: &Night, flat: bool) -> Signed {
    if flat {
        let curve = Curve::new("power", INK, column(night, "defocus_nm"));
        let unit = "nm at the rim, + hollow, − bulged; not part of the figure".to_owned();
        return Signed { what: "Power", unit, curves: vec![curve], band: None, least: 10.0 };
    }
    let glass = column(night, "focus_shift_um");
    let both = points(&night.history, |r| 1e6 * (r.image.focus_shift_m + r.image.tube_focus_m));
    // Where nothing is said of the tube its share is not a number, and the sum is empty.
    let moves = |r: &Record| r.image.tube_focus_m.abs() > 0.5e-6;
    let with_tube = both.len() == night.history.len() && night.history.iter().any(moves);
    let seen = if with_tube { &both } else { &glass };
    let ratio = night.scenario.mirror.focal_ratio.unwrap_or(f64::NAN);
    let depth = 1e6 * depth_of_focus(ratio, WAVELENGTH_M);
    let (when, at) = match night.ready_at_s {
        Some(ready) => ("when ready", nearest(seen, ready)),
        None => ("at the end", seen.last().map(|p| p.1)),
    };
    let at_time =
        night.ready_at_s.map_or(String::new(), |t| format!(" at {}", moment(&night.scenario, t)));
    let unit = format!(
        "µm, + away from the mirror; the band is sharp, ±{} µm, if focused {when}{at_time}",
        plain(depth)
    );
    let mut curves = vec![Curve::new("glass", INK, glass.clone())];
    if with_tube {
        curves = vec![
            Curve::new("glass alone", QUIET, glass.clone()).dashed(),
            Curve::new("glass and tube", INK, both.clone()),
        ];
    }
    let band = at.map(|at| (at - depth, at + depth));
    Signed { what: "Focus", unit, curves, band, least: 2.5 * depth }
}

/// The value nearest in time.
fn nearest(points: &[(f64, f64)], seconds: f64) -> Option<f64> {
    let near = |a: &&(f64, f64)| (a.0 - seconds).abs();
    points.iter().min_by(|a, b| near(a).total_cmp(&near(b))).map(|p| p.1)
}

fn interval_panel(frame: Panel) -> Panel {
    let y = Range { low: INTERVALS.0.log10(), high: INTERVALS.1.log10() };
    Panel { y, ..frame }
}

/// The time until the focus has moved by its depth, on a logarithmic axis.
fn intervals(canvas: &Canvas, night: &Night, panel: &Panel) {
    const TICKS: [(f64, &str); 5] =
        [(1.0, "1 min"), (5.0, "5 min"), (20.0, "20 min"), (120.0, "2 h"), (600.0, "10 h")];
    let ticks = Ticks::at(TICKS.iter().map(|tick| tick.0.log10()).collect());
    panel.grid(canvas, &ticks, |value| {
        let near = |tick: &&(f64, &str)| (tick.0.log10() - value).abs();
        let tick = TICKS.iter().min_by(|a, b| near(a).total_cmp(&near(b)));
        tick.map_or(String::new(), |tick| tick.1.to_owned())
    });
    panel.heading(canvas, "Refocus", "how long the focus holds, logarithmic; above 10 h not drawn");
    let column = column(night, "refocus_minutes");
    let logarithms: Vec<(f64, f64)> = column.iter().map(|p| (p.0, p.1.log10())).collect();
    let mut parts = pieces(&logarithms, panel.y);
    let last = parts.pop().unwrap_or_default();
    let mut curves: Vec<Curve> = parts.into_iter().map(|part| Curve::new("", INK, part)).collect();
    curves.push(Curve::new("", INK, last));
    panel.curves(canvas, &curves);
}
