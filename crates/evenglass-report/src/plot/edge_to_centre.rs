//! Edge minus centre through the night, above the air that causes it.

use evenglass_simulation::Night;
use evenglass_simulation::result::COLUMNS;

use crate::canvas::{Canvas, Pen};
use crate::lettering::{Lettering, width};
use crate::plot::clock_chart::{TOP, clock_axis, column, good_stretches, notes, panel, whole_run};
use crate::plot::panel::{Curve, Panel, title};
use crate::plot::scale::{Range, Ticks};
use crate::style::{BLUE, QUIET, VERMILION, size};
use crate::text::short;
use crate::wording::{mirror, moment, night as span, signed};

/// Edge minus centre at half thickness and on the front, with the air below.
pub(crate) fn edge_to_centre(night: &Night) -> Canvas {
    let canvas = Canvas::new(1600, 1000);
    let scenario = &night.scenario;
    title(
        &canvas,
        &format!("Edge minus centre – {}", short(&scenario.title, 200)),
        &format!("{}; {}", mirror(scenario), span(scenario)),
    );
    let curves = [
        Curve::new("front face", BLUE, column(night, "front_edge_minus_centre_k")),
        Curve::new("half thickness", VERMILION, column(night, "edge_minus_centre_k")),
    ];
    let air = Curve::new("air", QUIET, column(night, "air_c"));
    let x = whole_run(scenario);
    let values = curves.iter().flat_map(|c| c.points.iter().map(|p| p.1));
    let between = largest(night, "edge_minus_centre_k").map(|(value, _)| value);
    let y = Range::around(values.chain(between).chain([0.0]), 0.1);
    let main = panel(&canvas, TOP, 690.0, x, y);
    let y = Range::around(air.points.iter().map(|p| p.1), 1.0);
    let context = panel(&canvas, 770.0, 915.0, x, y);
    let panels = [main, context];

    good_stretches(&canvas, night, &panels);
    let ticks = Ticks::in_range(main.y, 7);
    main.grid(&canvas, &ticks, |v| ticks.signed(v));
    let ticks_below = Ticks::in_range(context.y, 4);
    context.grid(&canvas, &ticks_below, |v| ticks_below.text(v));
    main.zero_line(&canvas);
    let end = main.heading(&canvas, "K", "edge warmer above zero");
    notes(&canvas, night, &panels, end);
    clock_axis(&canvas, scenario, &panels);
    context.heading(&canvas, "Night air", "°C");
    main.curves(&canvas, &curves);
    context.curves(&canvas, &[air]);
    name_the_worst(&canvas, night, &main, &curves);
    canvas
}

/// Marks the largest difference at half thickness, wherever it lies between the rows, and says
/// how large and when.
fn name_the_worst(canvas: &Canvas, night: &Night, panel: &Panel, curves: &[Curve; 2]) {
    let Some((value, time)) = largest(night, "edge_minus_centre_k") else {
        return;
    };
    if value.abs() < 0.005 {
        return;
    }
    let (x, y) = panel.spot((time, value));
    panel.dots(canvas, &[(time, value)], 7.0, VERMILION);
    let text = format!("{} K at {}", signed(value), moment(&night.scenario, time));
    let lettering = Lettering::new(size::LABEL, VERMILION);
    let room = (width(&text, lettering), 1.2 * size::LABEL);
    // Towards zero there is most often room inside the bend of the curve.
    let inward = if value < 0.0 { -1.0 } else { 1.0 };
    let places =
        [1.0, 2.0, 3.0, 4.0, 5.0, -1.0, -2.0, -3.0, -4.0].into_iter().flat_map(|row: f64| {
            [10.0, -10.0, 40.0, -40.0, 90.0]
                .into_iter()
                .map(move |across: f64| (across, 28.0 * row))
        });
    let mut spots = places.map(|(across, along)| {
        let left = if across > 0.0 { x + across } else { x + across - room.0 };
        (left, y + inward * along)
    });
    let free = spots.find(|&(left, middle)| {
        let inside = left > panel.left
            && left + room.0 < panel.right
            && middle - room.1 / 2.0 > panel.top
            && middle + room.1 / 2.0 < panel.bottom;
        let corner = (left - 4.0, middle - room.1 / 2.0);
        inside && curves.iter().all(|curve| !panel.crosses(curve, corner, (room.0 + 8.0, room.1)))
    });
    if let Some(spot) = free {
        let half = 0.5 * room.1;
        let near =
            (x.clamp(spot.0 - 4.0, spot.0 + room.0 + 4.0), y.clamp(spot.1 - half, spot.1 + half));
        if (near.0 - x).hypot(near.1 - y) > 24.0 {
            // Too far away to be taken for the dot's: a hair line ties them together.
            canvas.line(&[(x, y), near], Pen::new(VERMILION.tint(0.5), 1.4));
        }
        canvas.words_beside(&text, spot, lettering);
    }
}

/// The extreme of a column that is larger in size, and its time \[s\].
fn largest(night: &Night, name: &str) -> Option<(f64, f64)> {
    let at = COLUMNS.iter().position(|column| column.name == name)?;
    let ends = [night.minima.get(at)?, night.maxima.get(at)?];
    let finite = ends.into_iter().copied().filter(|end| end.0.is_finite() && end.1.is_finite());
    finite.max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
}
