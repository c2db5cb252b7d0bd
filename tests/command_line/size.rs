//! `size`: what fans do before a night is computed.

use serde_json::Value;

use crate::place::{Place, QUICK};

const RING: &str = r#"
[telescope]
form = "truss"
clearance = "15 mm"
length = "120 mm"
[ventilation]
kind = "ring-nozzle"
slot = "6 mm"
lip = "15 mm"
height = "0 mm"
path = { kind = "past-back", gap = "25 mm" }
fans = { diameter = "80 mm", free_flow = "20 L/s", max_pressure = "30 Pa", power = "1.5 W", minimum_speed = 0.3 }
layers = [{ kind = "filter", media = "coarse", area = "150 cm2" }]
"#;

/// A folder with a ring nozzle in `ring.toml`; its faces' given films would contradict it.
fn ring() -> Place {
    let place = Place::empty();
    let bare = QUICK.split("[front]").next().unwrap();
    place.write("ring.toml", format!("{bare}{RING}"));
    place
}

/// Words as a paragraph, whatever the breaks.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_ring_nozzle_is_sized_into_words_tables_and_pictures() {
    let place = ring();
    let said = place.succeed(&["size", "ring.toml"]);
    let text = flat(&said.out);
    for expected in [
        "reach the glass at full speed",
        "the fan needs 0.3",
        "in the slot",
        "slot Re",
        "gap past the rim",
        "Films of moved air",
        "Each watt the glass gives off",
        "The filter takes",
        "A design aid",
    ] {
        assert!(text.contains(expected), "{expected}: {}", said.out);
    }
    assert!(said.out.contains('█'), "a picture of the pressures: {}", said.out);
    assert!(said.out.lines().all(|line| line.chars().count() <= 84), "{}", said.out);
    let written = place.contents("ring-out");
    let names: Vec<&str> = written.keys().map(String::as_str).collect();
    let wanted =
        ["fan-curve.png", "films.csv", "films.png", "sheet.png", "sizing.csv", "summary.json"];
    assert_eq!(names, wanted);
    let table = place.read("ring-out/sizing.csv");
    assert_eq!(table.lines().count(), 6, "a header and five speeds: {table}");
    assert!(table.lines().last().unwrap().contains("stopped"), "{table}");
}

#[test]
fn the_flow_in_words_is_the_flow_in_json_and_in_the_table() {
    let place = ring();
    let json = place.succeed(&["size", "ring.toml", "--json"]).out;
    let summary: Value = serde_json::from_str(&json).unwrap();
    let full = &summary["systems"][0]["steps"][0];
    let flow = full["flow_front_m3_s"].as_f64().unwrap();
    assert!(flow > 0.001, "{full}");
    let words = place.succeed(&["size", "ring.toml"]).out;
    let litres = 1e3 * flow;
    let shown = if litres < 9.95 { format!("{litres:.1} L/s") } else { format!("{litres:.0} L/s") };
    assert!(words.contains(&shown), "{shown}: {words}");
    // What parts take adds up to what the fans give.
    let parts = full["trunk"].as_array().unwrap().iter();
    let parts = parts.chain(full["branches"][0]["parts"].as_array().unwrap());
    let taken: f64 = parts.map(|part| part["drop_pa"].as_f64().unwrap()).sum();
    let given = full["fan_pressure_pa"].as_f64().unwrap();
    assert!((taken - given).abs() < 0.01 * given, "{taken} of {given} Pa");
}

#[test]
fn a_wish_is_answered_and_its_answer_comes_true() {
    let place = ring();
    let asked = ["size", "ring.toml", "--json", "--slot-speed", "1.5 m/s", "--film", "500 W/m2/K"];
    let summary: Value = serde_json::from_str(&place.succeed(&asked).out).unwrap();
    let width = summary["wishes"][0]["slot_m"]["value"].as_f64().unwrap();
    assert!(summary["wishes"][1]["speed"]["reached_at_most"].is_number(), "{summary:#}");
    let set = format!("ventilation.slot={width} m");
    let built = place.succeed(&["size", "ring.toml", "--json", "--set", &set]);
    let built: Value = serde_json::from_str(&built.out).unwrap();
    let speed = built["systems"][0]["steps"][0]["sheet"]["slot_speed_m_s"].as_f64().unwrap();
    assert!((speed - 1.5).abs() < 1e-3, "{speed} m/s from a slot of {width} m");
    let words = place.succeed(&asked[..2].iter().chain(&asked[3..]).collect::<Vec<_>>()).out;
    let words = flat(&words);
    assert!(words.contains("1.5 m/s in the slot: run at 0."), "{words}");
    assert!(words.contains("500 W/m²/K in the mean of the front: out of reach"), "{words}");
}

#[test]
fn a_scenario_without_fans_is_refused_with_a_remedy() {
    let place = Place::with_quick();
    let bare = QUICK.split("[front]").next().unwrap();
    place.write("sealed.toml", format!("{bare}[ventilation]\nkind = \"sealed\"\n"));
    for file in ["quick.toml", "sealed.toml"] {
        place.say(&["size", file]).refused(2, "size::no-fans");
    }
    let explained = place.succeed(&["explain", "size::no-fans"]);
    assert!(explained.out.contains("no fans"), "{explained:?}");
    assert_eq!(place.names(), ["quick.toml", "sealed.toml"], "nothing is left behind");
}

#[test]
fn what_cannot_be_wished_for_is_refused() {
    let place = ring();
    for wish in ["-2 m/s", "0 m/s", "2", "2 K", "nan m/s", "1e999 m/s", "", "fast", "−1 m/s"] {
        place.say(&["size", "ring.toml", "--slot-speed", wish]).refused(2, "size::wish");
        place.say(&["size", "ring.toml", "--film", wish]).refused(2, "size::wish");
    }
    for wish in ["1e-300 m/s", "1e300 m/s"] {
        let said = place.succeed(&["size", "ring.toml", "--slot-speed", wish]);
        assert!(!said.out.contains("NaN") && !said.out.contains("inf"), "{}", said.out);
    }
}

/// Every way to move air, and fans that are failed, starved or alone.
#[test]
fn every_state_is_told_without_panic_and_without_numbers_that_are_none() {
    let place = ring();
    for (set, expected) in [
        ("ventilation.fans.minimum_speed=0.9", "the fan needs 0.9"),
        ("ventilation.layers.0.area=3 cm2", "stalls, with less than four tenths"),
        ("ventilation.leak=20 cm2", "to the leaks"),
        ("mirror.hole_diameter=40 mm", "at the hole"),
        ("ventilation.fans.noise=30 dB", "noise at 1 m"),
        ("ventilation.height=40 mm", "may pass over the glass"),
    ] {
        let asked =
            ["size", "ring.toml", "--set", set, "--slot-speed", "2 m/s", "--film", "9 W/m2/K"];
        let said = place.succeed(&asked);
        assert!(flat(&said.out).contains(expected), "{set}: {}", said.out);
        assert!(!said.out.contains("NaN") && !said.out.contains("inf"), "{set}: {}", said.out);
    }
}
