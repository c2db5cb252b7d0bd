//! What stands on standard output.

use serde_json::Value;

use crate::place::Place;

#[test]
fn check_says_what_was_understood_and_writes_nothing() {
    let place = Place::with_quick();
    let said = place.succeed(&["check", "quick.toml"]);
    // By hand: the front is 200 mm / (16 * 5) = 2.5 mm deep; the volume is
    // pi * (100 mm)^2 * (25 + 22.5) mm / 2, times 2500 kg/m3 = 1.865 kg.
    for expected in
        ["25.0 mm", "22.5 mm", "2.50 mm", "1.9 kg", "22:00 to 23:00", "20.0 °C", "10.0 °C"]
    {
        assert!(said.out.contains(expected), "{expected}: {}", said.out);
    }
    assert_eq!(said.err, "");
    assert_eq!(place.names(), ["quick.toml"]);
}

#[test]
fn check_says_the_day_in_a_run_over_a_day_and_the_mass_of_a_small_disc() {
    let place = Place::with_quick();
    let words = [
        "check",
        "quick.toml",
        "--set",
        "night.date=2026-10-03",
        "--set",
        "night.duration=30 h",
        "--set",
        "output.fields_at=[\"2 h\"]",
        "--set",
        "mirror.diameter=40 mm",
        "--set",
        "mirror.edge_thickness=5 mm",
    ];
    let said = place.succeed(&words);
    assert!(said.out.contains("22:00 on 3 Oct to 04:00 on 5 Oct (30.0 h)"), "{}", said.out);
    assert!(said.out.contains("fields at 00:00 on 4 Oct"), "{}", said.out);
    // By hand: the front is 40 mm / (16 * 5) = 0.5 mm deep; pi * (20 mm)^2 * 4.75 mm
    // times 2500 kg/m3 = 14.9 g.
    assert!(said.out.contains("15 g"), "{}", said.out);
}

#[test]
fn a_key_that_is_set_is_what_the_check_understands() {
    let place = Place::with_quick();
    let said = place.succeed(&["check", "quick.toml", "--set", "mirror.edge_thickness=30 mm"]);
    assert!(said.out.contains("30.0 mm") && said.out.contains("27.5 mm"), "{}", said.out);
}

#[test]
fn check_and_run_name_what_was_written_in_vain() {
    let place = Place::with_quick();
    let words = ["--set", "site.latitude=48 deg", "--set", "site.longitude=8 deg"];
    let expected = "site.latitude and site.longitude are read";
    for command in ["check", "run"] {
        let said = place.succeed(&[&[command, "quick.toml"][..], &words].concat());
        let flat = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(expected) && flat.contains("[run::not-used]"), "{flat}");
        let plain = place.succeed(&[command, "quick.toml"]);
        assert!(!plain.out.contains("run::not-used"), "{}", plain.out);
    }
}

#[test]
fn check_says_how_the_air_is_moved_and_what_stands_around() {
    let place = Place::empty();
    let films = crate::place::QUICK.find("[front]").unwrap();
    let air = r#"[telescope]
form = "truss"
clearance = "20 mm"
length = "150 mm"
[ventilation]
kind = "ring-nozzle"
slot = "3 mm"
height = "2 mm"
fans = { diameter = "60 mm", free_flow = "7 L/s", max_pressure = "20 Pa", power = "0.6 W" }
"#;
    place.write("ring.toml", crate::place::QUICK[..films].to_owned() + air);
    let said = place.succeed(&["check", "ring.toml"]);
    for expected in [
        "mirror box under an open truss",
        "ring nozzle: a slot of 3 mm",
        "1 fan of 60 mm: 7 L/s free, 20 Pa at most",
        "the film that comes of the air above",
        "radiates to the walls and the sky",
    ] {
        assert!(said.out.contains(expected), "{expected}: {}", said.out);
    }
}

#[test]
fn json_is_one_object_the_same_as_in_the_result_folder() {
    let place = Place::with_quick();
    for words in [
        vec!["run", "quick.toml"],
        vec!["compare", "quick.toml", "--variant", "thin: mirror.edge_thickness=20 mm"],
        vec!["sweep", "quick.toml", "--vary", "mirror.edge_thickness=20 mm, 30 mm"],
    ] {
        let said = place.succeed(&[words.clone(), vec!["--json", "--quiet"]].concat());
        let answer: Value = serde_json::from_str(&said.out).unwrap();
        assert_eq!(answer["program"], "evenglass", "{words:?}");
        assert_eq!(said.out, place.read("quick-out/summary.json"), "{words:?}");
        assert_eq!(said.err, "", "{words:?}");
    }
}

#[test]
fn the_json_of_a_night_has_the_keys_of_the_contract() {
    let place = Place::with_quick();
    let said = place.succeed(&["run", "quick.toml", "--json"]);
    let answer: Value = serde_json::from_str(&said.out).unwrap();
    for key in [
        "schema",
        "program",
        "version",
        "scenario",
        "good_intervals",
        "good_hours",
        "ready_at",
        "passing",
        "moments",
        "end",
        "min",
        "max",
        "bands",
        "energy",
        "warnings",
    ] {
        assert!(answer.get(key).is_some(), "{key}: {answer}");
    }
    for key in ["lost_j", "stored_j", "residual"] {
        assert!(answer["energy"][key].is_number(), "{key}: {answer}");
    }
}

#[test]
fn the_answer_goes_to_standard_output_and_the_talk_does_not() {
    let place = Place::with_quick();
    let said = place.succeed(&["run", "quick.toml"]);
    assert!(!said.out.is_empty() && !said.out.contains("wrote"), "{said:?}");
    assert!(said.err.contains("wrote quick-out"), "{said:?}");
    let quiet = place.succeed(&["run", "quick.toml", "--quiet"]);
    assert_eq!(quiet.out, said.out);
    assert_eq!(quiet.err, "");
}

#[test]
fn a_comparison_names_every_night_by_its_label() {
    let place = Place::with_quick();
    place.write("other.toml", crate::place::QUICK.replace("200 mm", "250 mm"));
    let variants =
        place.succeed(&["compare", "quick.toml", "--variant", "thin: mirror.edge_thickness=20 mm"]);
    assert!(variants.out.contains("as written") && variants.out.contains("thin"), "{variants:?}");
    let files = place.succeed(&["compare", "quick.toml", "other.toml", "--out", "both"]);
    assert!(files.out.contains("quick") && files.out.contains("other"), "{files:?}");
    assert!(
        place.contents("both").contains_key("compare.csv"),
        "{:?}",
        place.contents("both").keys()
    );
}

#[test]
fn a_file_alone_is_told_which_single_change_helps_most_and_how_to_make_it() {
    let place = Place::with_quick();
    // Ready by the shimmer, within the hour only if something hurries the glass.
    let limit = "good.shimmer=0.5 arcsec";
    let said = place.succeed(&["compare", "quick.toml", "--set", limit]);
    for label in [
        "as written",
        "rim in 6 mm of foam",
        "25 % more film behind",
        "25 % less film behind",
        "begun 30 min earlier",
        "begun 60 min earlier",
        "glass 20 % thinner",
        "borosilicate glass",
    ] {
        assert!(said.out.contains(label), "{label}: {}", said.out);
    }
    let flat = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("Best single change: begun 60 min earlier (+"), "{flat}");
    assert!(flat.contains("; second: 25 % more film behind ("), "{flat}");
    assert!(flat.contains("With another blank: glass 20 % thinner ("), "{flat}");
    let how = "begun 60 min earlier: --set 'night.start=21:00' --set 'night.duration=120 min'";
    assert!(flat.contains(how), "{flat}");
    assert!(said.out.lines().all(|line| line.chars().count() <= 100), "{}", said.out);
    let table = place.read("quick-out/compare.csv");
    assert_eq!(table.lines().count(), 1 + 8, "{table}");
    assert!(place.contents("quick-out").contains_key("compare.png"), "no picture");
}

#[test]
fn a_change_that_cannot_be_made_is_left_out_with_the_reason() {
    let place = Place::with_quick();
    let table = "night.air={ kind = \"table\", time = [\"0 h\", \"1 h\"], \
                 temperature = [\"12 degC\", \"10 degC\"] }";
    let deep = "mirror.edge_thickness=4.8 mm";
    let said = place.succeed(&["compare", "quick.toml", "--set", table, "--set", deep]);
    assert!(said.err.contains("left out: begun 30 min earlier: times from the start"), "{said:?}");
    assert!(said.err.contains("left out: glass 20 % thinner: "), "{said:?}");
    assert!(!said.out.contains("begun") && !said.out.contains("thinner"), "{said:?}");
}

#[test]
fn what_is_to_be_known_of_many_nights_is_told_once_with_their_number() {
    let place = Place::with_quick();
    let unused = "site.latitude=48 deg";
    let vary = "mirror.edge_thickness=20 mm, 25 mm, 30 mm";
    let said = place.succeed(&["sweep", "quick.toml", "--set", unused, "--vary", vary]);
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat(&said.out).contains("[run::not-used], in all 3 nights"), "{said:?}");
    let variant = "with: site.latitude=48 deg";
    let said = place.succeed(&["compare", "quick.toml", "--variant", variant]);
    assert!(flat(&said.out).contains("[run::not-used], in 1 of 2 nights"), "{said:?}");
}

#[test]
fn a_finer_grid_and_one_of_ones_own_change_the_digits_and_little_else() {
    let place = Place::with_quick();
    let end = |words: &[&str]| {
        let words = [&["run", "quick.toml", "--json", "--quiet"], words].concat();
        let answer: Value = serde_json::from_str(&place.succeed(&words).out).unwrap();
        answer["end"]["mean_c"].as_f64().unwrap()
    };
    let [usual, fine, own] = [end(&[]), end(&["--fine"]), end(&["--cells", "60x16"])];
    // The default promises 5 mK of the converged solution, `--fine` 1 mK.
    for other in [fine, own] {
        assert!((usual - other).abs() < 0.01, "{usual} {other}");
    }
}
