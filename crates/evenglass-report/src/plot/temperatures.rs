//! Temperatures of glass and air, and how far the front is from the air.

use evenglass_simulation::Night;
use evenglass_units::TemperatureDifference;

use crate::canvas::Canvas;
use crate::plot::clock_chart::{
    TINT, TOP, clock_axis, column, good_stretches, notes, panel, whole_run,
};
use crate::plot::panel::{Curve, title};
use crate::plot::scale::{Range, Ticks};
use crate::style::{BLUE, GOOD, GREEN, INK, PURPLE, QUIET, VERMILION};
use crate::text::short;
use crate::wording::{mirror, night as span, plain};

/// Air and glass in °C above; front minus air with its limit below.
pub(crate) fn temperatures(night: &Night) -> Canvas {
    let canvas = Canvas::new(1600, 1000);
    let scenario = &night.scenario;
    title(
        &canvas,
        &format!("Temperatures – {}", short(&scenario.title, 200)),
        &format!("{}; {}", mirror(scenario), span(scenario)),
    );
    let curves = [
        Curve::new("air", QUIET, column(night, "air_c")).dashed(),
        Curve::new("back centre", PURPLE, column(night, "back_centre_c")),
        Curve::new("mid centre", VERMILION, column(night, "mid_centre_c")),
        Curve::new("front centre", BLUE, column(night, "front_centre_c")),
        Curve::new("front edge", GREEN, column(night, "front_edge_c")),
    ];
    let limit = scenario.good.front_minus_air.map(TemperatureDifference::kelvins);
    let lag = Curve::new("front", INK, column(night, "front_minus_air_k"));
    let x = whole_run(scenario);
    let values = curves.iter().flat_map(|c| c.points.iter().map(|p| p.1));
    let main = panel(&canvas, TOP, 610.0, x, Range::around(values, 1.0));
    let around = limit.map_or([0.0, 0.0], |limit| [-1.3 * limit, 1.3 * limit]);
    let values = lag.points.iter().map(|p| p.1).chain(around);
    let below = panel(&canvas, 690.0, 915.0, x, Range::around(values, 0.2));
    let panels = [main, below];

    match limit {
        Some(limit) => {
            good_stretches(&canvas, night, &[main]);
            below.band(&canvas, -limit, limit, GOOD.tint(TINT));
        }
        None => good_stretches(&canvas, night, &panels),
    }
    let ticks = Ticks::in_range(main.y, 6);
    main.grid(&canvas, &ticks, |v| ticks.text(v));
    let ticks_below = Ticks::in_range(below.y, 4);
    below.grid(&canvas, &ticks_below, |v| ticks_below.signed(v));
    below.zero_line(&canvas);
    let end = main.heading(&canvas, "Glass and air", "°C");
    notes(&canvas, night, &panels, end);
    clock_axis(&canvas, scenario, &panels);
    let unit = match limit {
        Some(limit) => format!("K, mean of the face; good within {} K", plain(limit)),
        None => "K, mean of the face".to_owned(),
    };
    below.heading(&canvas, "Front minus air", &unit);
    main.curves(&canvas, &curves);
    below.curves(&canvas, &[lag]);
    canvas
}
