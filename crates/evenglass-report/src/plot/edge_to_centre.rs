//! Edge minus centre through the night, above the air that causes it.

use evenglass_simulation::Night;

use crate::canvas::Canvas;
use crate::plot::clock_chart::{clock_axis, column, events, good_stretches, panel, whole_run};
use crate::plot::panel::{Curve, title};
use crate::plot::scale::{Range, Ticks};
use crate::style::{BLUE, QUIET, VERMILION};
use crate::text::short;
use crate::wording::{mirror, night as span};

/// Edge minus centre at half thickness and on the front, with the air below.
pub(crate) fn edge_to_centre(night: &Night) -> Canvas {
    let mut canvas = Canvas::new(1600, 1000);
    let scenario = &night.scenario;
    title(
        &mut canvas,
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
    let y = Range::around(values.chain([0.0]), 0.1);
    let main = panel(&canvas, 175.0, 690.0, x, y);
    let y = Range::around(air.points.iter().map(|p| p.1), 1.0);
    let context = panel(&canvas, 770.0, 915.0, x, y);
    let panels = [main, context];

    good_stretches(&mut canvas, night, &panels);
    let ticks = Ticks::in_range(main.y, 7);
    main.grid(&mut canvas, &ticks, |v| ticks.signed(v));
    let ticks_below = Ticks::in_range(context.y, 3);
    context.grid(&mut canvas, &ticks_below, |v| ticks_below.text(v));
    main.zero_line(&mut canvas);
    events(&mut canvas, scenario, &panels);
    clock_axis(&mut canvas, scenario, &panels);
    main.heading(&mut canvas, "Edge minus centre", "K");
    context.heading(&mut canvas, "Night air", "°C");
    main.curves(&mut canvas, &curves);
    context.curves(&mut canvas, &[air]);
    canvas
}
