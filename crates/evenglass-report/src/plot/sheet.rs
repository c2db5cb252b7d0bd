//! The sheet of a ring nozzle along the front.

use evenglass_simulation::ventilation::sizing::{Attachment, Sized, Step};

use crate::canvas::{Canvas, Pen};
use crate::lettering::{Anchor, Lettering, width};
use crate::plot::panel::{Curve, LEFT, Panel, title};
use crate::plot::scale::{Range, Ticks};
use crate::sizing::SizeReport;
use crate::style::{BLUE, GREEN, INK, PURPLE, Rgb, SKY, VERMILION, size};
use crate::text::short;
use crate::wording::two_digits;

/// Room at the right of the curves \[px\].
const RIGHT: f64 = 70.0;

/// How strongly the column's foot is shaded.
const FOOT: f64 = 0.18;

/// Something that happens at a radius \[mm\], and its colour.
type Mark = (f64, &'static str, Rgb);

/// Speed and depth of the sheet at full speed; `None` without a ring nozzle that blows.
pub(crate) fn sheet(report: &SizeReport) -> Option<Canvas> {
    let system = report.sizing.systems.iter().find(|system| !system.along_front.is_empty())?;
    let full = system.steps.first()?;
    let canvas = Canvas::new(1600, 1000);
    title(
        &canvas,
        &format!("Sheet over the front – {}", short(&report.scenario.title, 200)),
        "ring nozzle at full speed; the air enters at the edge, on the right, and meets in the middle",
    );
    let line = |value: fn(&_) -> f64| -> Vec<(f64, f64)> {
        system.along_front.iter().map(|point| (1e3 * point.radius, value(point))).collect()
    };
    let speed = line(|point| point.speed);
    let depth = line(|point| 1e3 * point.half_depth);
    let above = panel(&canvas, (200.0, 520.0), system, &speed);
    let below = panel(&canvas, (610.0, 880.0), system, &depth);
    for panel in [&above, &below] {
        if let Some(column) = &full.column {
            panel.stripe(&canvas, 0.0, 500.0 * column.diameter, SKY.tint(FOOT));
        }
        let ticks = Ticks::in_range(panel.y, 5);
        panel.grid(&canvas, &ticks, |v| ticks.text(v));
        for (radius, _, colour) in marks(full) {
            let ends = vec![(radius, panel.y.low), (radius, panel.y.high)];
            panel.line(&canvas, ends, Pen::dashed(colour, 2.2, 9.0, 6.0));
        }
    }
    above.heading(&canvas, "Speed along the glass", "m/s, the fastest at each radius");
    below.heading(&canvas, "Depth", "mm, up to half that speed");
    above.curves(&canvas, &[Curve::new("", BLUE, speed)]);
    below.curves(&canvas, &[Curve::new("", PURPLE, depth)]);
    let ticks = Ticks::in_range(below.x, 9);
    below.x_axis(&canvas, &ticks.values, |v| ticks.text(v));
    below.x_name(&canvas, "radius, mm");
    name_marks(&canvas, &above, full);
    Some(canvas)
}

fn panel(
    canvas: &Canvas,
    (top, bottom): (f64, f64),
    system: &Sized,
    points: &[(f64, f64)],
) -> Panel {
    let edge = system.along_front.last().map_or(1.0, |point| 1e3 * point.radius);
    let highest = points.iter().map(|point| point.1).filter(|v| v.is_finite()).fold(0.0, f64::max);
    let x = Range { low: 0.0, high: edge };
    let y = Range { low: 0.0, high: 1.12 * highest.max(1e-6) };
    Panel { left: LEFT, top, right: canvas.size().0 - RIGHT, bottom, x, y }
}

fn marks(step: &Step) -> Vec<Mark> {
    let Some(sheet) = &step.sheet else { return Vec::new() };
    let turbulent =
        sheet.turbulent_inside.map(|radius| (1e3 * radius, "turns turbulent", VERMILION));
    let touches = match sheet.attached {
        Attachment::Reattaches { at } => Some((1e3 * at, "touches the glass", GREEN)),
        Attachment::OnGlass | Attachment::MayNotAttach => None,
    };
    turbulent.into_iter().chain(touches).collect()
}

/// What happens at the dashed lines and in the stripe, in rows that do not collide.
fn name_marks(canvas: &Canvas, panel: &Panel, step: &Step) {
    for (row, (radius, words, colour)) in (0_u32..).zip(marks(step)) {
        let lettering = Lettering::new(size::LABEL, colour.for_words());
        let x = panel.px(radius);
        let left = x - 12.0 - width(words, lettering) > panel.left;
        let (x, anchor) = if left { (x - 12.0, Anchor::Right) } else { (x + 12.0, Anchor::Left) };
        // Above the curve there is free room near the bottom only.
        let y = panel.bottom - 24.0 - 30.0 * f64::from(row);
        canvas.words_beside(words, (x, y), lettering.anchored(anchor));
    }
    if let Some(column) = &step.column {
        let lettering = Lettering::new(size::LABEL, INK);
        let words = format!("foot of the column, {:.0} mm wide", two_digits(1e3 * column.diameter));
        canvas.words_beside(&words, (panel.left + 12.0, panel.top + 22.0), lettering);
    }
}
