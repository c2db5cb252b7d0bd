//! What good arrangements and telescopes mean.

use evenglass_scenario::scenario::{Cell, Film};
use evenglass_scenario::telescope::{Form, Telescope};
use evenglass_scenario::ventilation::{
    Arrangement, FanData, Fans, Feed, LayerKind, MotorPlace, Path, RingNozzle, Rows, SideFans,
    System, Ventilation,
};
use evenglass_scenario::{Scenario, Side};

use crate::good::{close, understood};

/// A 406 mm mirror on a windy night, before any [ventilation].
pub(crate) const MIRROR: &str = r#"
[mirror]
diameter = "406 mm"
edge_thickness = "41 mm"
focal_ratio = 4.5
glass = "soda-lime"
[night]
start = "20:00"
duration = "8 h"
glass_temperature = "20 degC"
air = { kind = "steady", temperature = "10 degC" }
wind = "1 m/s"
"#;

const FANS: &str = r#"fans = { diameter = "120 mm", free_flow = "35 L/s", max_pressure = "25 Pa", power = "1.5 W" }"#;
const FOUR: &str = r#"fans = { diameter = "60 mm", free_flow = "7 L/s", max_pressure = "20 Pa", power = "0.6 W", count = 4 }"#;
const TRUSS: &str = r#"
[telescope]
form = "truss"
clearance = "20 mm"
length = "101.5 mm"
"#;

/// Every layer there is, and a fan of which everything is known.
pub(crate) const FULL: &str = r#"
[ventilation]
kind = "fan-behind"
distance = "70 mm"
cell = "closed"
gap = "40 mm"
offset = "20 mm"
offset_angle = "90 deg"
leak = "10 cm2"
layers = [
  { kind = "filter", media = "epm1-50", area = "500 cm2", loading = 0.5, count = 2 },
  { kind = "porous", speed = ["0.5 m/s", "1 m/s"], pressure = ["10 Pa", "24 Pa"], area = "400 cm2" },
  { kind = "perforated", open_fraction = 0.4, area = "400 cm2", hole_diameter = "4 mm", thickness = "2 mm" },
  { kind = "opening", area = "80 in2" },
  { kind = "bend", diameter = "120 mm", radius = "180 mm" },
  { kind = "bend", diameter = "120 mm", angle = "45 deg" },
  { kind = "duct", diameter = "120 mm", length = "500 mm" },
  { kind = "step", from = "120 mm", to = "200 mm" },
  { kind = "loss", coefficient = 1.2, area = "113 cm2" },
]
[ventilation.fans]
diameter = "120 mm"
hub_diameter = "40 mm"
flow = ["0 L/s", "10 L/s", "20 L/s", "35 L/s"]
pressure = ["25 Pa", "14 Pa", "16 Pa", "0 Pa"]
in_series = 2
power = "1.5 W"
motor = "outside"
minimum_speed = 0.25
start_speed = 0.35
rated_voltage = "12 V"
supply_voltage = { time = ["0 h", "8 h"], value = ["12.6 V", "11 V"] }
noise = "24 dBA"
[ventilation.second]
kind = "side-fans"
rows = "both-sides"
angle = "90 deg"
width = "300 mm"
distance = "60 mm"
height = "35 mm"
fans = { diameter = "60 mm", free_flow = "7 L/s", max_pressure = "20 Pa", count = 6, failed = 1, power = "0.6 W" }
[telescope]
form = "shrouded-truss"
clearance = "20 mm"
length = "250 mm"
behind = "90 mm"
wall = { material = "plywood", thickness = "12 mm", density = "680 kg/m3", inside_emissivity = 0.9 }
wall_temperature = "15 degC"
shelter = 0.3
pads = 0.03
secondary = { diameter = "75 mm", distance = "1450 mm" }
"#;

/// A ring nozzle with all its keys.
pub(crate) const RING: &str = r#"
[ventilation]
kind = "ring-nozzle"
slot = "7 mm"
slot_range = ["6 mm", "8 mm"]
slot_angle = "90 deg"
lip = "20 mm"
height = "2 mm"
setback = "-5 mm"
turbulence = 0.02
ring_section = "150 cm2"
feed = "one-point"
feed_angle = "180 deg"
path = { kind = "past-back", gap = "30 mm", rim_gap = "20 mm" }
fans = { diameter = "120 mm", free_flow = "35 L/s", max_pressure = "25 Pa", power = "1.5 W" }
"#;

fn with(sections: &str) -> Scenario {
    understood(&format!("{MIRROR}{sections}"), &[])
}

fn main_of(sections: &str) -> System {
    with(sections).ventilation.unwrap().main
}

fn telescope(sections: &str) -> Telescope {
    with(sections).telescope.unwrap()
}

#[test]
fn a_scenario_without_the_sections_has_neither() {
    let scenario = with("");
    assert_eq!((scenario.ventilation, scenario.telescope), (None, None));
}

#[test]
fn every_key_of_a_fan_arrives_in_si() {
    let fans = main_of(FULL).fans.unwrap();
    assert!(close(fans.diameter.metres(), 0.12) && close(fans.hub_diameter.metres(), 0.04));
    let FanData::Points(points) = &fans.curve else { panic!("points") };
    assert_eq!(points.len(), 4);
    assert!(close(points[3].0.m3_per_s(), 0.035) && close(points[0].1.pascals(), 25.0));
    assert_eq!((fans.count, fans.in_series, fans.failed), (1, 2, 0));
    assert!(close(fans.power.watts(), 1.5));
    assert_eq!(fans.motor, MotorPlace::Outside);
    assert!(close(fans.minimum_speed, 0.25) && close(fans.start_speed, 0.35));
    assert!(close(fans.rated_voltage.unwrap().volts(), 12.0));
    assert!(close(fans.supply_voltage.unwrap().at(4.0 * 3600.0, Side::After), 11.8));
    assert_eq!(fans.noise_db, Some(24.0));
}

#[test]
fn what_is_left_out_of_a_fan_has_the_defaults_of_the_guide() {
    let text = format!("[ventilation]\nkind = \"fan-behind\"\ndistance = \"60 mm\"\n{FANS}");
    let fans = main_of(&text).fans.unwrap();
    // 0.38 of 120 mm.
    assert!(close(fans.hub_diameter.metres(), 0.0456));
    assert!(matches!(fans.curve, FanData::Ends { free_flow, max_pressure }
        if close(free_flow.m3_per_s(), 0.035) && close(max_pressure.pascals(), 25.0)));
    assert_eq!((fans.count, fans.in_series, fans.failed), (1, 1, 0));
    assert_eq!(fans.motor, MotorPlace::InStream);
    assert!(close(fans.minimum_speed, 0.2) && close(fans.start_speed, 0.3));
    assert_eq!((fans.rated_voltage, fans.supply_voltage, fans.noise_db), (None, None, None));
}

#[test]
fn a_fan_that_stops_early_needs_at_least_that_to_start() {
    let slow = FANS.replace("power", "minimum_speed = 0.45, power");
    let text = format!("[ventilation]\nkind = \"fan-behind\"\ndistance = \"60 mm\"\n{slow}");
    assert!(close(main_of(&text).fans.unwrap().start_speed, 0.45));
}

#[test]
fn every_layer_arrives_in_its_place() {
    let layers = main_of(FULL).layers;
    assert_eq!(layers.len(), 9);
    assert_eq!(layers[0].count, 2);
    assert!(matches!(&layers[0].kind, LayerKind::Filter { media, area, loading }
        if media == "epm1-50" && close(area.m2(), 0.05) && close(*loading, 0.5)));
    assert!(matches!(&layers[1].kind, LayerKind::Porous { points, loading, .. }
        if points.len() == 2 && close(points[1].1.pascals(), 24.0) && *loading == 0.0));
    assert!(matches!(layers[2].kind, LayerKind::Perforated { open_fraction, thickness, .. }
        if close(open_fraction, 0.4) && close(thickness.metres(), 0.002)));
    assert!(matches!(layers[3].kind, LayerKind::Opening { area } if close(area.m2(), 0.051_612_8)));
    assert!(matches!(layers[4].kind, LayerKind::Bend { radius: Some(radius), angle, .. }
        if close(radius.metres(), 0.18) && close(angle.radians(), std::f64::consts::FRAC_PI_2)));
    assert!(matches!(layers[5].kind, LayerKind::Bend { radius: None, angle, .. }
        if close(angle.radians(), std::f64::consts::FRAC_PI_4)));
    assert!(
        matches!(layers[6].kind, LayerKind::Duct { length, .. } if close(length.metres(), 0.5))
    );
    assert!(matches!(layers[7].kind, LayerKind::Step { from, to }
        if close(from.metres(), 0.12) && close(to.metres(), 0.2)));
    assert!(matches!(layers[8].kind, LayerKind::Loss { coefficient, area }
        if close(coefficient, 1.2) && close(area.m2(), 0.0113)));
}

#[test]
fn a_fan_behind_may_stand_beside_the_axis_and_have_a_second_arrangement_over_the_front() {
    let Ventilation { main, second } = with(FULL).ventilation.unwrap();
    let Arrangement::FanBehind(behind) = main.arrangement else { panic!("a fan behind") };
    assert!(matches!(behind.cell, Cell::Closed { gap } if close(gap.metres(), 0.04)));
    assert!(close(behind.distance.metres(), 0.07) && close(behind.offset.metres(), 0.02));
    assert!(close(behind.offset_angle.radians(), std::f64::consts::FRAC_PI_2));
    assert!(close(main.leak.unwrap().m2(), 1e-3));
    let second = second.unwrap();
    let Arrangement::SideFans(SideFans { rows, width, height, .. }) = second.arrangement else {
        panic!("fans beside")
    };
    assert_eq!(rows, Rows::BothSides);
    assert!(close(width.metres(), 0.3) && close(height.metres(), 0.035));
    let fans = second.fans.unwrap();
    assert_eq!((fans.count, fans.failed, second.layers.len()), (6, 1, 0));
}

#[test]
fn fans_behind_stand_on_a_circle() {
    let text = format!(
        "[ventilation]\nkind = \"fans-behind\"\ncircle_diameter = \"230 mm\"\nangle = \"45 deg\"\ndistance = \"50 mm\"\n{FOUR}"
    );
    let Arrangement::FansBehind { circle_diameter, angle, behind } = main_of(&text).arrangement
    else {
        panic!("fans behind")
    };
    assert!(close(circle_diameter.metres(), 0.23));
    assert!(close(angle.radians(), std::f64::consts::FRAC_PI_4));
    assert_eq!((behind.cell, behind.offset.metres()), (Cell::Open, 0.0));
}

#[test]
fn suction_takes_its_rim_gap_from_the_telescope_unless_it_has_its_own() {
    let suction = format!("[ventilation]\nkind = \"suction\"\ngap = \"25 mm\"\n{FANS}\n");
    let Arrangement::Suction { gap, rim_gap, baffle } =
        main_of(&format!("{suction}{TRUSS}")).arrangement
    else {
        panic!("suction")
    };
    assert!(close(gap.metres(), 0.025) && close(rim_gap.metres(), 0.02));
    assert_eq!(baffle, None);
    let own = suction
        .replace("gap = \"25 mm\"", "gap = \"25 mm\"\nrim_gap = \"12 mm\"\nbaffle = \"360 mm\"");
    for text in [own.clone(), format!("{own}{TRUSS}")] {
        let Arrangement::Suction { rim_gap, baffle, .. } = main_of(&text).arrangement else {
            panic!("suction")
        };
        assert!(close(rim_gap.metres(), 0.012) && close(baffle.unwrap().metres(), 0.36));
    }
}

#[test]
fn a_plenum_has_a_covered_plate_and_an_outlet_along_the_rim() {
    let text = format!(
        r#"[ventilation]
kind = "plenum"
plate = {{ diameter = "300 mm", distance = "25 mm", hole_diameter = "4 mm", holes = 200, cover = [{{ kind = "filter", media = "epm1-50", area = "700 cm2" }}] }}
outlet = {{ width = "4 mm" }}
{FANS}"#
    );
    let Arrangement::Plenum { plate, outlet } = main_of(&text).arrangement else {
        panic!("a plenum")
    };
    assert_eq!((plate.holes, plate.cover.len()), (200, 1));
    assert!(close(plate.thickness.metres(), 0.003));
    // Its inner edge along the rim: 406 mm and half a slot on either side.
    assert!(close(outlet.diameter.metres(), 0.41));
    assert_eq!(outlet.angle.radians(), 0.0);
}

fn ring(keys: &str) -> RingNozzle {
    let text = format!("[ventilation]\nkind = \"ring-nozzle\"\n{keys}\n{FANS}\n{TRUSS}");
    let Arrangement::RingNozzle(ring) = main_of(&text).arrangement else { panic!("a ring") };
    *ring
}

#[test]
fn a_ring_nozzle_left_alone_is_a_sharp_edge_fed_evenly_through_a_roomy_ring() {
    let ring = ring("slot = \"7 mm\"\nheight = \"2 mm\"");
    assert!(close(ring.slot.metres(), 0.007) && close(ring.height.metres(), 0.002));
    assert_eq!((ring.lip.metres(), ring.setback.metres()), (0.0, 0.0));
    assert_eq!((ring.slot_range, ring.slot_angle.radians()), (None, 0.0));
    assert!(close(ring.turbulence, 0.05));
    // Three slots of pi x 406 mm x 7 mm.
    assert!(close(ring.ring_section.m2(), 3.0 * std::f64::consts::PI * 0.406 * 0.007));
    assert_eq!((ring.feed, ring.path), (Feed::Even, Path::Direct));
}

#[test]
fn a_ring_nozzle_may_be_uneven_fed_at_one_point_and_come_past_the_back() {
    let Arrangement::RingNozzle(ring) = main_of(RING).arrangement else { panic!("a ring") };
    let (narrowest, widest) = ring.slot_range.unwrap();
    assert!(close(narrowest.metres(), 0.006) && close(widest.metres(), 0.008));
    assert!(close(ring.setback.metres(), -0.005) && close(ring.ring_section.m2(), 0.015));
    assert!(
        matches!(ring.feed, Feed::OnePoint(angle) if close(angle.radians(), std::f64::consts::PI))
    );
    assert!(matches!(ring.path, Path::PastBack { gap, rim_gap }
        if close(gap.metres(), 0.03) && close(rim_gap.metres(), 0.02)));
}

#[test]
fn a_ring_nozzle_may_be_fed_through_a_plate() {
    let ring = ring(
        r#"slot = "7 mm"
height = "2 mm"
path = { kind = "through-plate", rim_gap = "15 mm", plate = { diameter = "300 mm", distance = "25 mm", hole_diameter = "4 mm", holes = 200 } }"#,
    );
    assert!(matches!(ring.path, Path::ThroughPlate { plate, rim_gap }
        if plate.holes == 200 && close(rim_gap.metres(), 0.015)));
}

#[test]
fn fans_over_the_front_find_their_places_by_themselves() {
    let of = |keys: &str, fans: &str| {
        main_of(&format!("[ventilation]\n{keys}\ndistance = \"60 mm\"\n{fans}"))
    };
    let Arrangement::SideFans(side) = of("kind = \"side-fans\"", FOUR).arrangement else {
        panic!("fans beside")
    };
    assert_eq!((side.rows, side.angle.radians()), (Rows::OneSide, 0.0));
    // Four of 60 mm side by side, axes half a fan above the edge.
    assert!(close(side.width.metres(), 0.24) && close(side.height.metres(), 0.03));
    let Arrangement::CornerFans { height, angle, .. } =
        of("kind = \"corner-fans\"", FOUR).arrangement
    else {
        panic!("fans in the corners")
    };
    assert!(close(height.metres(), 0.03));
    assert!(close(angle.radians(), std::f64::consts::FRAC_PI_4));
    let above = of("kind = \"fan-above\"", FANS);
    assert!(matches!(above.arrangement, Arrangement::FanAbove { distance }
        if close(distance.metres(), 0.06)));
}

#[test]
fn open_and_sealed_have_no_fans() {
    for (kind, wanted) in [("open", Arrangement::Open), ("sealed", Arrangement::Sealed)] {
        let System { arrangement, fans, layers, leak } =
            main_of(&format!("[ventilation]\nkind = \"{kind}\""));
        assert_eq!((arrangement, fans), (wanted, None));
        assert_eq!((layers.len(), leak), (0, None));
    }
    let text = format!(
        "[ventilation]\nkind = \"fan-behind\"\ndistance = \"60 mm\"\n{FANS}\nsecond = {{ kind = \"open\" }}"
    );
    let second: System = with(&text).ventilation.unwrap().second.unwrap();
    assert_eq!(second.arrangement, Arrangement::Open);
    let fans: Option<Fans> = second.fans;
    assert_eq!(fans, None);
}

#[test]
fn a_given_film_radiation_and_insulation_stand_beside_an_arrangement() {
    let text = format!(
        "[ventilation]\nkind = \"fan-behind\"\ndistance = \"60 mm\"\n{FANS}\n[back]\nfilm = {{ kind = \"given\", coefficient = \"12 W/m2/K\" }}\n[rim]\ninsulation = {{ thickness = \"6 mm\", conductivity = \"0.035 W/m/K\" }}"
    );
    let scenario = with(&text);
    assert!(matches!(scenario.back.film, Film::Given { .. }));
    assert!(scenario.rim.insulation.is_some() && scenario.rim.radiation.is_some());
}

#[test]
fn every_key_of_the_telescope_arrives_in_si() {
    let telescope = telescope(FULL);
    assert_eq!(telescope.form, Form::ShroudedTruss);
    assert!(close(telescope.clearance.metres(), 0.02) && close(telescope.behind.metres(), 0.09));
    assert!(close(telescope.length.metres(), 0.25));
    assert!(close(telescope.shelter, 0.3) && close(telescope.pads, 0.03));
    let wall = telescope.wall;
    // The density written stands in place of the material's own.
    assert!(close(wall.density.kg_per_m3(), 680.0));
    assert!(close(wall.specific_heat.j_per_kg_k(), 1600.0));
    assert!(close(wall.inside_emissivity, 0.9) && close(wall.outside_emissivity, 0.9));
    assert!(close(wall.start.kelvin(), 288.15));
    let secondary = telescope.secondary.unwrap();
    assert!(close(secondary.diameter.metres(), 0.075) && close(secondary.distance.metres(), 1.45));
}

#[test]
fn what_is_left_out_of_the_telescope_follows_from_its_form() {
    let truss = telescope(TRUSS);
    assert!(close(truss.behind.metres(), 0.06) && close(truss.pads, 0.02));
    // Half a mirror radius deep: half way from 1 to 0.4.
    assert!(close(truss.shelter, 0.7));
    assert!(close(truss.wall.thickness.metres(), 0.012));
    // As warm as the glass.
    assert!(close(truss.wall.start.kelvin(), 293.15));
    assert_eq!(truss.secondary, None);
    let tube = telescope(&TRUSS.replace("\"truss\"", "\"tube\""));
    assert!(close(tube.shelter, 0.1));
    assert!(close(tube.wall.density.kg_per_m3(), 7800.0));
}

#[test]
fn a_wall_may_be_given_by_its_constants() {
    let text = format!(
        "{TRUSS}wall = {{ thickness = \"5 mm\", density = \"1200 kg/m3\", specific_heat = \"1500 J/kg/K\", conductivity = \"0.2 W/m/K\", emissivity = 0.1 }}"
    );
    let wall = telescope(&text).wall;
    assert!(close(wall.conductivity.w_per_m_k(), 0.2) && close(wall.outside_emissivity, 0.1));
}

#[test]
fn an_arrangement_of_the_file_can_be_changed_from_the_command_line() {
    let scenario = understood(
        &format!("{MIRROR}{FULL}"),
        &["ventilation.fans.in_series=1", "ventilation.layers.0.count=1", "telescope.pads=0.05"],
    );
    let main = scenario.ventilation.unwrap().main;
    assert_eq!((main.fans.unwrap().in_series, main.layers[0].count), (1, 1));
    assert!(close(scenario.telescope.unwrap().pads, 0.05));
}

/// The examples lean on the mirror and the night of this file where they have none of their own.
#[test]
fn every_example_of_the_guide_to_arrangements_is_understood() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/guide/arrangements.md");
    let guide = std::fs::read_to_string(path).unwrap();
    let (mirror, night) = MIRROR.split_at(MIRROR.find("[night]").unwrap());
    let mut kinds = Vec::new();
    for example in guide.split("```toml\n").skip(1) {
        let example = example.split("```").next().unwrap();
        let night = if example.contains("[night]") { "" } else { night };
        let scenario = understood(&format!("{mirror}{night}{example}"), &[]);
        kinds.extend(scenario.ventilation.map(|air| std::mem::discriminant(&air.main.arrangement)));
    }
    kinds.dedup();
    assert!(kinds.len() >= 10, "only {} arrangements", kinds.len());
}
