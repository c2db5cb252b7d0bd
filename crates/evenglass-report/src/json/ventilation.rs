//! `[ventilation]` as understood, key by key.

use evenglass_simulation::scenario::scenario::Cell;
use evenglass_simulation::scenario::ventilation::{
    Arrangement, Behind, FanData, Fans, Feed, Layer, LayerKind, MotorPlace, Outlet, Path, Plate,
    RingNozzle, Rows, SideFans, System, Ventilation,
};
use evenglass_units::{Area, Voltage};
use serde_json::{Map, Value, json};

pub(super) fn ventilation(ventilation: &Ventilation) -> Value {
    let second = ventilation.second.as_ref().map(system);
    with(system(&ventilation.main), json!({ "second": second }))
}

/// The keys of the arrangement, then those that all arrangements share.
fn system(system: &System) -> Value {
    let shared = json!({
        "fans": system.fans.as_ref().map(fans),
        "layers": layers(&system.layers),
        "leak_m2": system.leak.map(Area::m2),
    });
    with(arrangement(&system.arrangement), shared)
}

/// One object of two.
fn with(first: Value, more: Value) -> Value {
    let mut whole = Map::new();
    for part in [first, more] {
        if let Value::Object(part) = part {
            whole.extend(part);
        }
    }
    Value::Object(whole)
}

fn arrangement(arrangement: &Arrangement) -> Value {
    match arrangement {
        Arrangement::FanBehind(at) => with(
            json!({
                "kind": "fan-behind",
                "offset_m": at.offset.metres(),
                "offset_angle_rad": at.offset_angle.radians(),
            }),
            behind(at),
        ),
        Arrangement::FansBehind { circle_diameter, angle, behind: at } => with(
            json!({
                "kind": "fans-behind",
                "circle_diameter_m": circle_diameter.metres(),
                "angle_rad": angle.radians(),
            }),
            behind(at),
        ),
        Arrangement::Suction { gap, rim_gap, baffle } => json!({
            "kind": "suction",
            "gap_m": gap.metres(),
            "rim_gap_m": rim_gap.metres(),
            "baffle_m": baffle.map(evenglass_units::Length::metres),
        }),
        Arrangement::Plenum { plate: middle, outlet: slot } => json!({
            "kind": "plenum",
            "plate": plate(middle),
            "outlet": outlet(slot),
        }),
        Arrangement::RingNozzle(ring) => ring_nozzle(ring),
        Arrangement::SideFans(side) => side_fans(side),
        Arrangement::CornerFans { distance, height, angle } => json!({
            "kind": "corner-fans",
            "distance_m": distance.metres(),
            "height_m": height.metres(),
            "angle_rad": angle.radians(),
        }),
        Arrangement::FanAbove { distance } => {
            json!({ "kind": "fan-above", "distance_m": distance.metres() })
        }
        Arrangement::Open => json!({ "kind": "open" }),
        Arrangement::Sealed => json!({ "kind": "sealed" }),
    }
}

fn behind(behind: &Behind) -> Value {
    json!({
        "distance_m": behind.distance.metres(),
        "cell": match behind.cell { Cell::Open => "open", Cell::Closed { .. } => "closed" },
        "gap_m": match behind.cell {
            Cell::Open => None,
            Cell::Closed { gap } => Some(gap.metres()),
        },
    })
}

fn plate(plate: &Plate) -> Value {
    json!({
        "diameter_m": plate.diameter.metres(),
        "distance_m": plate.distance.metres(),
        "hole_diameter_m": plate.hole_diameter.metres(),
        "holes": plate.holes,
        "thickness_m": plate.thickness.metres(),
        "cover": layers(&plate.cover),
    })
}

fn outlet(outlet: &Outlet) -> Value {
    json!({
        "width_m": outlet.width.metres(),
        "diameter_m": outlet.diameter.metres(),
        "angle_rad": outlet.angle.radians(),
    })
}

fn ring_nozzle(ring: &RingNozzle) -> Value {
    let (feed, feed_angle) = match ring.feed {
        Feed::Even => ("even", None),
        Feed::OnePoint(angle) => ("one-point", Some(angle.radians())),
    };
    json!({
        "kind": "ring-nozzle",
        "slot_m": ring.slot.metres(),
        "slot_range_m": ring.slot_range.map(|(least, most)| [least.metres(), most.metres()]),
        "slot_angle_rad": ring.slot_angle.radians(),
        "lip_m": ring.lip.metres(),
        "height_m": ring.height.metres(),
        "setback_m": ring.setback.metres(),
        "turbulence": ring.turbulence,
        "ring_section_m2": ring.ring_section.m2(),
        "feed": feed,
        "feed_angle_rad": feed_angle,
        "path": path(&ring.path),
    })
}

fn path(path: &Path) -> Value {
    match path {
        Path::Direct => json!({ "kind": "direct" }),
        Path::PastBack { gap, rim_gap } => json!({
            "kind": "past-back",
            "gap_m": gap.metres(),
            "rim_gap_m": rim_gap.metres(),
        }),
        Path::ThroughPlate { plate: at, rim_gap } => json!({
            "kind": "through-plate",
            "plate": plate(at),
            "rim_gap_m": rim_gap.metres(),
        }),
    }
}

fn side_fans(side: &SideFans) -> Value {
    json!({
        "kind": "side-fans",
        "rows": match side.rows { Rows::OneSide => "one-side", Rows::BothSides => "both-sides" },
        "angle_rad": side.angle.radians(),
        "width_m": side.width.metres(),
        "distance_m": side.distance.metres(),
        "height_m": side.height.metres(),
    })
}

fn fans(fans: &Fans) -> Value {
    let curve = match &fans.curve {
        FanData::Points(points) => {
            let (flows, pressures): (Vec<f64>, Vec<f64>) =
                points.iter().map(|(flow, pressure)| (flow.m3_per_s(), pressure.pascals())).unzip();
            json!({ "flow_m3_s": flows, "pressure_pa": pressures })
        }
        FanData::Ends { free_flow, max_pressure } => json!({
            "free_flow_m3_s": free_flow.m3_per_s(),
            "max_pressure_pa": max_pressure.pascals(),
        }),
    };
    let others = json!({
        "count": fans.count,
        "in_series": fans.in_series,
        "failed": fans.failed,
        "power_w": fans.power.watts(),
        "motor": match fans.motor {
            MotorPlace::InStream => "in-stream",
            MotorPlace::Outside => "outside",
        },
        "minimum_speed": fans.minimum_speed,
        "start_speed": fans.start_speed,
        "rated_voltage_v": fans.rated_voltage.map(Voltage::volts),
        "supply_voltage":
            fans.supply_voltage.as_ref().map(|supply| super::profile(supply, "time_s", "voltage_v")),
        "noise_db": fans.noise_db,
    });
    let size = json!({
        "diameter_m": fans.diameter.metres(),
        "hub_diameter_m": fans.hub_diameter.metres(),
    });
    with(with(size, curve), others)
}

fn layers(layers: &[Layer]) -> Vec<Value> {
    layers.iter().map(|layer| with(kind(&layer.kind), json!({ "count": layer.count }))).collect()
}

fn kind(kind: &LayerKind) -> Value {
    match kind {
        LayerKind::Filter { media, area, loading } => json!({
            "kind": "filter", "media": media, "area_m2": area.m2(), "loading": loading,
        }),
        LayerKind::Porous { points, area, loading } => {
            let (speeds, drops): (Vec<f64>, Vec<f64>) = points
                .iter()
                .map(|(speed, drop)| (speed.metres_per_second(), drop.pascals()))
                .unzip();
            json!({
                "kind": "porous", "speed_m_s": speeds, "pressure_pa": drops,
                "area_m2": area.m2(), "loading": loading,
            })
        }
        LayerKind::Perforated { open_fraction, area, hole_diameter, thickness } => json!({
            "kind": "perforated",
            "open_fraction": open_fraction,
            "area_m2": area.m2(),
            "hole_diameter_m": hole_diameter.metres(),
            "thickness_m": thickness.metres(),
        }),
        LayerKind::Opening { area } => json!({ "kind": "opening", "area_m2": area.m2() }),
        LayerKind::Bend { diameter, radius, angle } => json!({
            "kind": "bend",
            "diameter_m": diameter.metres(),
            "radius_m": radius.map(evenglass_units::Length::metres),
            "angle_rad": angle.radians(),
        }),
        LayerKind::Duct { diameter, length } => json!({
            "kind": "duct", "diameter_m": diameter.metres(), "length_m": length.metres(),
        }),
        LayerKind::Step { from, to } => json!({
            "kind": "step", "from_m": from.metres(), "to_m": to.metres(),
        }),
        LayerKind::Loss { coefficient, area } => json!({
            "kind": "loss", "coefficient": coefficient, "area_m2": area.m2(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use evenglass_simulation::scenario::{Scenario, parse};

    use super::*;

    const FANS: &str = r#"fans = { diameter = "120 mm", free_flow = "35 L/s", max_pressure = "25 Pa", power = "1.5 W", rated_voltage = "12 V", supply_voltage = "6 V" }"#;

    fn understood(sections: &str) -> Scenario {
        let text = format!(
            r#"
[mirror]
diameter = "400 mm"
edge_thickness = "40 mm"
glass = "soda-lime"
[night]
start = "20:00"
duration = "8 h"
glass_temperature = "20 degC"
air = {{ kind = "steady", temperature = "10 degC" }}
wind = "1 m/s"
{sections}"#
        );
        parse("air.toml", &text, Path::new(""), &[]).unwrap()
    }

    fn shown(keys: &str) -> Value {
        let text = format!("[ventilation]\n{keys}\n{FANS}");
        ventilation(understood(&text).ventilation.as_ref().unwrap())
    }

    #[test]
    fn every_arrangement_is_shown_with_its_keys_in_si() {
        let plate = r#"{ diameter = "300 mm", distance = "25 mm", hole_diameter = "4 mm", holes = 200, cover = [{ kind = "opening", area = "100 cm2" }] }"#;
        let cases = [
            ("kind = \"fan-behind\"\ndistance = \"60 mm\"".to_owned(), "distance_m", 0.06),
            (
                "kind = \"suction\"\ngap = \"25 mm\"\nrim_gap = \"12 mm\"".to_owned(),
                "rim_gap_m",
                0.012,
            ),
            (
                "kind = \"ring-nozzle\"\nslot = \"7 mm\"\nheight = \"2 mm\"".to_owned(),
                "slot_m",
                0.007,
            ),
            ("kind = \"side-fans\"\ndistance = \"60 mm\"".to_owned(), "width_m", 0.12),
            ("kind = \"corner-fans\"\ndistance = \"60 mm\"".to_owned(), "height_m", 0.06),
            ("kind = \"fan-above\"\ndistance = \"400 mm\"".to_owned(), "distance_m", 0.4),
        ];
        for (keys, key, wanted) in cases {
            let value = shown(&keys);
            assert!((value[key].as_f64().unwrap() - wanted).abs() < 1e-12, "{value}");
            assert!(keys.contains(&format!("kind = {}\n", value["kind"])), "{value}");
        }
        let plenum =
            shown(&format!("kind = \"plenum\"\nplate = {plate}\noutlet = {{ width = \"4 mm\" }}"));
        assert_eq!(plenum["plate"]["holes"], 200);
        assert!((plenum["outlet"]["diameter_m"].as_f64().unwrap() - 0.404).abs() < 1e-12);
        assert_eq!(
            plenum["plate"]["cover"][0],
            json!({ "kind": "opening", "area_m2": 0.01, "count": 1 })
        );
    }

    #[test]
    fn fans_layers_and_a_second_arrangement_are_shown() {
        let value = shown(
            "kind = \"fan-behind\"\ndistance = \"60 mm\"\ncell = \"closed\"\ngap = \"40 mm\"\nleak = \"10 cm2\"\nsecond = { kind = \"open\" }\nlayers = [{ kind = \"filter\", media = \"coarse\", area = \"400 cm2\", count = 2 }]",
        );
        assert_eq!((&value["cell"], &value["gap_m"]), (&json!("closed"), &json!(0.04)));
        assert_eq!(value["second"]["kind"], "open");
        assert_eq!(value["second"]["fans"], Value::Null);
        assert_eq!(value["leak_m2"], json!(0.001));
        let fans = &value["fans"];
        assert_eq!((&fans["max_pressure_pa"], &fans["power_w"]), (&json!(25.0), &json!(1.5)));
        assert_eq!(fans["supply_voltage"], json!({ "time_s": [0.0], "voltage_v": [6.0] }));
        let filter = json!({ "kind": "filter", "media": "coarse", "area_m2": 0.04, "loading": 0.0, "count": 2 });
        assert_eq!(value["layers"], json!([filter]));
    }

    #[test]
    fn the_telescope_is_shown_with_its_defaults() {
        let text = "[telescope]\nform = \"tube\"\nclearance = \"20 mm\"\nlength = \"1 m\"\nsecondary = { diameter = \"80 mm\", distance = \"1.5 m\" }";
        let value = crate::json::telescope::telescope(understood(text).telescope.as_ref().unwrap());
        assert_eq!((&value["form"], &value["behind_m"]), (&json!("tube"), &json!(0.06)));
        assert_eq!(
            (&value["wall"]["thickness_m"], &value["wall"]["start_k"]),
            (&json!(0.001), &json!(293.15))
        );
        let secondary = &value["secondary"];
        assert_eq!(secondary["diameter_m"], 0.08);
        assert_eq!(secondary["distance_m"], 1.5);
        assert_eq!(secondary["holder"], 0.2);
        assert_eq!(secondary["heater_w"], Value::Null);
    }
}
