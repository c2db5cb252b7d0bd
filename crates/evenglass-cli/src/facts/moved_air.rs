//! `[ventilation]` and `[telescope]` in plain words.

use evenglass_scenario::scenario::Cell;
use evenglass_scenario::telescope::{Form, Telescope};
use evenglass_scenario::ventilation::{
    Arrangement, Behind, FanData, Fans, Feed, Layer, LayerKind, Path, RingNozzle, Rows, System,
    Ventilation,
};
use evenglass_units::Length;

use super::short;

/// What moves the air, what drives it and what it passes.
pub(super) fn ventilation(ventilation: &Ventilation) -> Vec<String> {
    let mut told = system(&ventilation.main);
    if let Some(second) = &ventilation.second {
        let mut lines = system(second);
        if let Some(first) = lines.first_mut() {
            *first = format!("besides: {first}");
        }
        told.extend(lines);
    }
    told
}

fn system(system: &System) -> Vec<String> {
    let mut told = arrangement(&system.arrangement);
    told.extend(system.fans.as_ref().map(fans));
    if !system.layers.is_empty() {
        let layers: Vec<String> = system.layers.iter().map(layer).collect();
        told.push(format!("through {}", layers.join(", ")));
    }
    told.extend(
        system.leak.map(|leak| format!("{} cm² of leaks before the glass", short(1e4 * leak.m2()))),
    );
    told
}

fn arrangement(arrangement: &Arrangement) -> Vec<String> {
    match arrangement {
        Arrangement::FanBehind(behind) => {
            let offset = mm(behind.offset);
            let place = if behind.offset.metres() > 0.0 {
                format!("{offset} beside the axis")
            } else {
                "the middle".to_owned()
            };
            vec![format!("one fan behind {place} blows at the back, {}", cell(behind))]
        }
        Arrangement::FansBehind { circle_diameter, behind, .. } => vec![format!(
            "fans behind the glass, on a circle of {}, blow at the back, {}",
            mm(*circle_diameter),
            cell(behind)
        )],
        Arrangement::Suction { gap, rim_gap, baffle } => {
            let ring = baffle.map_or_else(String::new, |opening| {
                format!(", past a ring with an opening of {}", mm(opening))
            });
            vec![format!(
                "suction: in past the rim ({}){ring}, along the back ({}) to the middle and out",
                mm(*rim_gap),
                mm(*gap)
            )]
        }
        Arrangement::Plenum { plate, outlet } => vec![
            format!(
                "plenum: a plate of {} with {} holes of {}, {} from the back",
                mm(plate.diameter),
                plate.holes,
                mm(plate.hole_diameter),
                mm(plate.distance)
            ),
            format!(
                "and an outlet {} wide around the rim, on a circle of {}",
                mm(outlet.width),
                mm(outlet.diameter)
            ),
        ],
        Arrangement::RingNozzle(nozzle) => ring(nozzle),
        Arrangement::SideFans(side) => {
            let rows = match side.rows {
                Rows::OneSide => "a row of fans beside the mirror blows",
                Rows::BothSides => "two rows of fans beside the mirror blow",
            };
            vec![format!("{rows} across the front, from {} away", mm(side.distance))]
        }
        Arrangement::CornerFans { distance, .. } => vec![format!(
            "fans in the corners blow across the front towards the middle, from {} away",
            mm(*distance)
        )],
        Arrangement::FanAbove { distance } => {
            vec![format!("a fan {} above the front blows down", mm(*distance))]
        }
        Arrangement::Open => vec!["no fans: the wind, as far as the telescope lets it".to_owned()],
        Arrangement::Sealed => vec!["no fans and no openings".to_owned()],
    }
}

fn ring(nozzle: &RingNozzle) -> Vec<String> {
    let range = nozzle.slot_range.map_or_else(String::new, |(low, high)| {
        format!(" ({} to {})", short(1e3 * low.metres()), mm(high))
    });
    let path = match &nozzle.path {
        Path::Direct => "straight from the fans".to_owned(),
        Path::PastBack { gap, rim_gap } => {
            format!("past the back ({}) and the rim ({})", mm(*gap), mm(*rim_gap))
        }
        Path::ThroughPlate { plate, rim_gap } => format!(
            "through {} holes of {} at the back and past the rim ({})",
            plate.holes,
            mm(plate.hole_diameter),
            mm(*rim_gap)
        ),
    };
    let fed = match nozzle.feed {
        Feed::Even => "evenly",
        Feed::OnePoint(_) => "at one point",
    };
    vec![
        format!(
            "ring nozzle: a slot of {}{range}, {} above the edge of the front, blows inward",
            mm(nozzle.slot),
            mm(nozzle.height)
        ),
        format!("fed {fed}, {path}"),
    ]
}

fn cell(behind: &Behind) -> String {
    let away = mm(behind.distance);
    match behind.cell {
        Cell::Open => format!("{away} away, open cell"),
        Cell::Closed { gap } => format!("{away} away, closed cell with a gap of {}", mm(gap)),
    }
}

/// "2 fans of 120 mm, one of which has failed: 35 L/s free, 25 Pa at most, 1.5 W each".
fn fans(fans: &Fans) -> String {
    let litres = |flow: f64| format!("{} L/s", short(1e3 * flow));
    let count = if fans.count == 1 { "1 fan".to_owned() } else { format!("{} fans", fans.count) };
    let series = match fans.in_series {
        1 => String::new(),
        n => format!(", {n} in series"),
    };
    let failed = match fans.failed {
        0 => String::new(),
        n => format!(", {n} failed"),
    };
    let curve = match &fans.curve {
        FanData::Ends { free_flow, max_pressure } => format!(
            "{} free, {} Pa at most",
            litres(free_flow.m3_per_s()),
            short(max_pressure.pascals())
        ),
        FanData::Points(points) => {
            let last = points.last().map_or(0.0, |(flow, _)| flow.m3_per_s());
            format!("a curve of {} points up to {}", points.len(), litres(last))
        }
    };
    let watts = short(fans.power.watts());
    format!("{count} of {}{series}{failed}: {curve}, {watts} W each", mm(fans.diameter))
}

fn layer(layer: &Layer) -> String {
    let cm2 = |area: evenglass_units::Area| format!("{} cm²", short(1e4 * area.m2()));
    let what = match &layer.kind {
        LayerKind::Filter { media, area, loading } => {
            let dust = if *loading > 0.0 {
                format!(", {} % more by dust", short(100.0 * loading))
            } else {
                String::new()
            };
            format!("a {media} filter of {}{dust}", cm2(*area))
        }
        LayerKind::Porous { area, .. } => format!("a measured mat of {}", cm2(*area)),
        LayerKind::Perforated { open_fraction, area, .. } => {
            format!("a grille of {}, {} % open", cm2(*area), short(100.0 * open_fraction))
        }
        LayerKind::Opening { area } => format!("an opening of {}", cm2(*area)),
        LayerKind::Bend { diameter, angle, .. } => {
            format!("a bend of {} by {}°", mm(*diameter), short(angle.radians().to_degrees()))
        }
        LayerKind::Duct { diameter, length } => {
            format!("a duct of {}, {} long", mm(*diameter), mm(*length))
        }
        LayerKind::Step { from, to } => format!("a step from {} to {}", mm(*from), mm(*to)),
        LayerKind::Loss { coefficient, .. } => format!("a loss of {}", short(*coefficient)),
    };
    if layer.count > 1 { format!("{} times {what}", layer.count) } else { what }
}

/// What stands around the mirror.
pub(super) fn telescope(telescope: &Telescope) -> Vec<String> {
    let form = match telescope.form {
        Form::Tube => "tube",
        Form::Truss => "mirror box under an open truss",
        Form::ShroudedTruss => "mirror box under a truss in a shroud",
        Form::Box => "box all the way",
    };
    let wall = &telescope.wall;
    vec![
        format!(
            "{form}; {} around the rim, {} above the edge of the front, {} behind the back",
            mm(telescope.clearance),
            mm(telescope.length),
            mm(telescope.behind)
        ),
        format!(
            "wall of {} at {:.0} kg/m³, {:.1} °C at the start; {:.0} % of the wind reaches the front",
            mm(wall.thickness),
            wall.density.kg_per_m3(),
            wall.start.celsius(),
            100.0 * telescope.shelter
        ),
    ]
}

/// "41 mm", "3.6 mm".
fn mm(length: Length) -> String {
    format!("{} mm", short(1e3 * length.metres()))
}

#[cfg(test)]
mod tests {
    use evenglass_scenario::{Scenario, kinds_of};

    use super::*;

    const MIRROR: &str = r#"
[mirror]
diameter = "406 mm"
edge_thickness = "41 mm"
glass = "soda-lime"
[night]
start = "20:00"
duration = "8 h"
glass_temperature = "20 degC"
wind = "1 m/s"
air = { kind = "steady", temperature = "10 degC" }
[telescope]
form = "truss"
clearance = "20 mm"
length = "250 mm"
[ventilation]
"#;
    const FANS: &str = r#"
fans = { diameter = "80 mm", free_flow = "15 L/s", max_pressure = "20 Pa", power = "0.8 W", COUNT }
"#;

    fn understood(sections: &str, count: u32) -> Scenario {
        let fans = FANS.replace("COUNT", &format!("count = {count}"));
        let fans = if count == 0 { "" } else { &fans };
        let text = format!("{MIRROR}{fans}{sections}");
        let read = evenglass_scenario::parse("n.toml", &text, std::path::Path::new(""), &[]);
        read.unwrap_or_else(|error| panic!("{error:?}"))
    }

    fn said(sections: &str, count: u32) -> String {
        ventilation(&understood(sections, count).ventilation.unwrap()).join("\n")
    }

    #[test]
    fn every_arrangement_is_told_as_it_was_understood() {
        let cases = [
            ("fan-behind", "distance = '60 mm'", 1, "60 mm away, open cell"),
            (
                "fans-behind",
                "distance = '60 mm'\ncircle_diameter = '230 mm'",
                4,
                "circle of 230 mm",
            ),
            (
                "suction",
                "gap = '25 mm'\nrim_gap = '12 mm'",
                1,
                "rim (12 mm), along the back (25 mm)",
            ),
            (
                "plenum",
                "plate = { diameter = '300 mm', distance = '25 mm', hole_diameter = '4 mm', holes = 200 }\n\
                 outlet = { width = '4 mm', diameter = '430 mm' }",
                2,
                "200 holes of 4 mm",
            ),
            ("ring-nozzle", "slot = '4 mm'\nheight = '2 mm'", 1, "a slot of 4 mm, 2 mm above"),
            ("side-fans", "distance = '60 mm'\nrows = 'both-sides'", 4, "two rows of fans"),
            ("corner-fans", "distance = '40 mm'", 4, "corners"),
            ("fan-above", "distance = '400 mm'", 1, "400 mm above the front"),
            ("open", "", 0, "the wind"),
            ("sealed", "", 0, "no openings"),
        ];
        assert_eq!(cases.map(|case| case.0).to_vec(), names());
        for (kind, keys, count, wanted) in cases {
            let text = said(&format!("kind = '{kind}'\n{keys}"), count);
            assert!(text.contains(wanted), "{kind}: {text}");
            assert_eq!(text.contains("15 L/s free, 20 Pa at most"), count > 0, "{text}");
        }
    }

    fn names() -> Vec<&'static str> {
        kinds_of(&["ventilation"]).into_iter().map(|kind| kind.0).collect()
    }

    #[test]
    fn layers_a_second_arrangement_and_the_box_are_told() {
        let sections = r#"kind = "fan-behind"
distance = "60 mm"
leak = "10 cm2"
layers = [{ kind = "filter", media = "coarse", area = "400 cm2", loading = 0.5, count = 2 },
          { kind = "bend", diameter = "120 mm" }]
second = { kind = "open" }"#;
        let text = said(sections, 1);
        let wanted = "through 2 times a coarse filter of 400 cm², 50 % more by dust, a bend of 120 mm by 90°";
        assert!(text.contains(wanted), "{text}");
        assert!(text.contains("10 cm² of leaks") && text.contains("besides: no fans"), "{text}");
        let around = telescope(&understood(sections, 1).telescope.unwrap()).join("\n");
        assert!(
            around.contains("open truss") && around.contains("20.0 °C at the start"),
            "{around}"
        );
    }
}
