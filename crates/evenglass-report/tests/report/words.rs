//! The words on the terminal and `summary.json`.

use evenglass_report::{
    Axis, CAUTIONS, Outcome, SweepTable, comparison_json, comparison_text, summary_json,
    summary_text, sweep_text,
};
use evenglass_simulation::result::COLUMNS;
use serde_json::Value;

use crate::toy::Toy;

fn json(text: &str) -> Value {
    serde_json::from_str(text).unwrap()
}

/// Text on one line, so that line breaks do not matter.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_summary_answers_first_and_warns_last() {
    let night = Toy::default().night();
    let text = summary_text(&night);
    let paragraphs: Vec<&str> = text.split("\n\n").collect();
    let hm = |s: f64| night.scenario.night.start.hm(s);
    let ready = hm(night.ready_at_s.unwrap());
    assert!(
        flat(paragraphs[1]).starts_with(&format!(
            "Good from {ready} to the end of the run at 04:00 ({:.1} h). Until {ready} the front is too warm.",
            night.good_hours(),
        )),
        "{text}"
    );
    assert!(text.ends_with(CAUTIONS), "cautions are always there");
    assert!(text.contains("the figure is not computed by this version [not-modelled]"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 84), "fits a terminal: {text}");
    assert!(!text.contains(" -0") && text.contains("−0.4 K"), "a real minus sign: {text}");
}

#[test]
fn a_night_that_never_gets_good_says_how_near_it_comes() {
    let night = Toy { follow_h: 4.0, ..Toy::default() }.night();
    let text = flat(&summary_text(&night));
    let nearest = night.history.iter().map(|r| r.front_minus_air.kelvins().abs());
    let nearest = nearest.fold(f64::INFINITY, f64::min);
    let wanted = format!(
        "Not good at any time before the run ends at 04:00. The front comes no closer to the air than {nearest:.1} K"
    );
    assert!(text.contains(&wanted), "{text}");
    assert!(text.contains("the limit is 0.5 K"), "{text}");
}

#[test]
fn a_front_that_passes_the_limits_too_quickly_is_told_so() {
    let more = "[good]\nheld_for = '3 h'";
    let mut night = Toy { more, ..Toy::default() }.night();
    // The toy's front stays near the air until the run ends: the run is too short.
    let text = flat(&summary_text(&night));
    assert!(text.contains("is within 0.5 K of the air then, but not yet for 3 h"), "{text}");
    // A front that has left again by the end did not stay.
    let last = night.history.last_mut().unwrap();
    last.front_minus_air = evenglass_units::TemperatureDifference::from_kelvins(2.0);
    let text = flat(&summary_text(&night));
    assert!(text.contains("comes within 0.5 K of the air, as at"), "{text}");
    assert!(text.contains("does not stay there for 3 h"), "{text}");
}

#[test]
fn several_good_stretches_are_all_named_with_what_ends_them() {
    let night = "start = '18:30'\ndate = '2026-10-30'\nduration = '30 h'\nglass_temperature = '12 degC'\n\
                 air = { kind = 'table', time = ['0 h', '10 h', '20 h', '30 h'], \
                 temperature = ['12 degC', '5 degC', '16 degC', '16 degC'] }";
    let night = Toy { night, more: "", ..Toy::default() }.night();
    assert!(night.good_intervals.len() >= 3, "{:?}", night.good_intervals);
    let text = flat(&summary_text(&night));
    assert!(text.contains("Good from 18:30 to 19:50 on 30 Oct, from "), "{text}");
    assert!(text.contains(" and from "), "{text}");
    assert!(text.contains("it becomes too cold") && text.contains("it becomes too warm"), "{text}");
    assert!(text.contains("31 Oct") && text.contains("1 Nov"), "days are told apart: {text}");
}

#[test]
fn a_day_that_both_ends_of_a_stretch_have_is_said_once() {
    let night = "start = '18:30'\ndate = '2026-10-30'\nduration = '30 h'\nglass_temperature = '12 degC'\n\
                 air = { kind = 'table', time = ['0 h', '2 h', '4 h'], \
                 temperature = ['12 degC', '12 degC', '5 degC'] }";
    let text = flat(&summary_text(&Toy { night, more: "", ..Toy::default() }.night()));
    let stretch = text.split("Good from 18:30 to ").nth(1).unwrap_or_else(|| panic!("{text}"));
    assert!(stretch[5..].starts_with(" on 30 Oct"), "{text}");
}

/// Glass that starts as warm as the air and is left behind by it.
#[test]
fn glass_that_the_air_leaves_again_is_not_called_near() {
    let night = "start = '20:00'\nduration = '8 h'\nglass_temperature = '18 degC'\n\
                 air = { kind = 'falling', from = '18 degC', rate = '-2 K/h' }";
    let falling = Toy { night, more: "", follow_h: 2.0, ..Toy::default() }.night();
    let text = flat(&summary_text(&falling));
    assert!(
        text.contains("The mean of the glass starts within 0.5 K of the air, but later"),
        "{text}"
    );
    assert!(text.contains("warmer than the air, which still falls by 2.0 K/h."), "{text}");
    assert!(!text.contains('%'), "no share of a cooling that has no end: {text}");
}

#[test]
fn a_front_that_is_near_too_briefly_is_not_called_too_warm_all_the_time() {
    let night = "start = '20:00'\nduration = '12 h'\nglass_temperature = '18 degC'\n\
                 air = { kind = 'table', time = ['0 h', '0.2 h', '2 h', '12 h'], \
                 temperature = ['18 degC', '18 degC', '12 degC', '12 degC'] }";
    let text = flat(&summary_text(&Toy { night, more: "", ..Toy::default() }.night()));
    let wanted = "the front is too warm but for stretches shorter than 30 min.";
    assert!(text.contains(wanted), "{text}");
}

#[test]
fn a_comparison_of_runs_of_different_length_says_so() {
    let short = "start = '20:00'\nduration = '5 h'\nglass_temperature = '20 degC'\n\
                 air = { kind = 'steady', temperature = '11 degC' }";
    let short = Toy { night: short, more: "", ..Toy::default() }.night();
    let same = [("a".to_owned(), Toy::default().night()), ("b".to_owned(), Toy::default().night())];
    assert!(!comparison_text(&same).contains("equally long"));
    assert_eq!(json(&comparison_json(&same))["notes"].as_array().unwrap().len(), 0);
    let nights = [("a".to_owned(), Toy::default().night()), ("b".to_owned(), short)];
    let text = flat(&comparison_text(&nights));
    assert!(text.contains("The runs are not equally long (5 h to 8 h)"), "{text}");
    let notes = &json(&comparison_json(&nights))["notes"];
    assert!(notes[0].as_str().unwrap().contains("not equally long"), "{notes}");
}

#[test]
fn a_warning_does_not_count_evaluations() {
    let mut night = Toy::default().night();
    night.warnings[0].count = 342;
    assert!(!summary_text(&night).contains("342"));
    assert_eq!(json(&summary_json(&night))["warnings"][0]["count"], 342);
}

#[test]
fn equal_temperatures_are_said_without_spurious_digits() {
    let night = "start = '20:00'\nduration = '8 h'\nglass_temperature = '10 degC'\n\
                 air = { kind = 'steady', temperature = '10 degC' }";
    let text = flat(&summary_text(&Toy { night, more: "", ..Toy::default() }.night()));
    assert!(text.contains("Good from 20:00 to the end of the run at 04:00 (8.0 h)."), "{text}");
    assert!(text.contains("the front is within 0.01 K of the air"), "{text}");
    assert!(text.contains("Edge and centre stay within 0.01 K of each other."), "{text}");
    // Glass that stayed as warm as the air has exchanged rounding errors only.
    let mut still = Toy::default().night();
    still.history.last_mut().unwrap().heat_lost_j = 6e-10;
    let text = flat(&summary_text(&still));
    assert!(text.contains("has neither given off nor taken up heat."), "{text}");
}

#[test]
fn the_json_summary_keeps_the_contract() {
    let night = Toy { column: 0.5, ..Toy::default() }.night();
    let summary = json(&summary_json(&night));
    assert_eq!(summary["program"], "evenglass");
    assert_eq!(summary["schema"], 1);
    assert_eq!(summary["ready_at"], night.scenario.night.start.hm(night.ready_at_s.unwrap()));
    assert_eq!(summary["ready_at_s"].as_f64(), night.ready_at_s);
    assert_eq!(summary["good_intervals"][0]["ended_by"], "end of run");
    assert_eq!(summary["scenario"]["mirror"]["diameter_m"], 0.406);
    assert_eq!(summary["scenario"]["night"]["air"]["temperature_k"][0], 291.15);
    assert_eq!(summary["energy"]["residual"], 0.0);
    assert_eq!(summary["warnings"][0]["code"], "not-modelled");
    let last = &night.history[night.history.len() - 1];
    // The reader used here may lose the last bit of a number.
    let same =
        |read: &Value, meant: f64| (read.as_f64().unwrap() - meant).abs() <= 1e-15 * meant.abs();
    for (i, column) in COLUMNS.iter().enumerate().skip(1) {
        let name = column.name;
        assert!(same(&summary["end"][name], (column.value)(last)), "end of {name}");
        assert!(same(&summary["min"][name], night.minima[i].0), "min of {name}");
        assert!(same(&summary["max"][name], night.maxima[i].0), "max of {name}");
        let time = format!("{name}_time_s");
        assert!(same(&summary["max"][&time], night.maxima[i].1), "{time}");
    }
    let keys: Vec<&String> = summary.as_object().unwrap().keys().collect();
    assert_eq!(keys[..4], ["schema", "program", "version", "scenario"]);
}

#[test]
fn the_json_summary_of_a_bad_night_has_null_and_zero_and_no_minus_zero() {
    let text = summary_json(&Toy { follow_h: 9.0, ..Toy::default() }.night());
    let summary = json(&text);
    assert!(summary["ready_at"].is_null(), "{}", summary["ready_at"]);
    assert_eq!(summary["good_hours"].to_string(), "0.0");
    assert_eq!(summary["good_intervals"].as_array().unwrap().len(), 0);
}

#[test]
fn a_comparison_names_the_better_one_and_by_how_much() {
    let (slow, quick) = (Toy::default().night(), Toy { follow_h: 0.8, ..Toy::default() }.night());
    let gain = quick.good_hours() - slow.good_hours();
    let minutes = (slow.ready_at_s.unwrap() - quick.ready_at_s.unwrap()) / 60.0;
    let text = comparison_text(&[("bare rim".into(), slow), ("sealed rim".into(), quick)]);
    let wanted = format!(
        "Better: sealed rim, good {gain:.1} h longer than bare rim and ready {minutes:.0} min earlier."
    );
    assert!(flat(&text).ends_with(&wanted), "{text}");
}

#[test]
fn a_comparison_is_honest_about_ties_and_about_failure() {
    let same = || Toy::default().night();
    let text = flat(&comparison_text(&[("a".into(), same()), ("b".into(), same())]));
    assert!(text.contains("a and b are equally good"), "{text}");
    let bad = |follow_h| Toy { follow_h, ..Toy::default() }.night();
    let text = flat(&comparison_text(&[("a".into(), bad(8.0)), ("b".into(), bad(5.0))]));
    assert!(text.contains("None becomes good in this run.") && text.contains("with b;"), "{text}");
    let night = bad(5.0);
    let late = night.history.iter().filter(|row| row.time_s >= 14_400.0);
    let worst = late.map(|row| (row.mid_edge - row.mid_centre).kelvins());
    let worst = worst.max_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap();
    let bracket = text.split('(').nth(2).and_then(|rest| rest.split(" K)").next()).unwrap();
    let shown: f64 = bracket.replace('−', "-").parse().unwrap();
    // Shown to one or two digits.
    assert!((shown - worst).abs() <= 0.1 * worst.abs().max(0.1), "{shown} for {worst} in {text}");
    let text = flat(&comparison_text(&[("a".into(), bad(8.0)), ("b".into(), same())]));
    assert!(text.contains("Better: b, good for"), "{text}");
    assert!(text.contains("the other never is"), "{text}");
    assert!(comparison_text(&[]).contains("nothing to compare"), "an empty list is no panic");
}

#[test]
fn a_start_an_hour_later_is_compared_by_the_clock() {
    let later = Toy {
        night: "start = '21:00'\nduration = '7 h'\nglass_temperature = '20 degC'\n\
                air = { kind = 'steady', temperature = '9 degC' }",
        more: "",
        ..Toy::default()
    }
    .night();
    let first = Toy::default().night();
    let clock_gap = first.ready_at_s.unwrap() - (later.ready_at_s.unwrap() + 3600.0);
    assert!(clock_gap > 3600.0, "the case is a case: {clock_gap}");
    let text = flat(&comparison_text(&[("first".into(), first), ("later".into(), later)]));
    let (h, min) = ((clock_gap / 3600.0).floor(), (clock_gap / 60.0) % 60.0);
    assert!(text.contains(&format!("ready {h:.0} h {min:.0} min earlier.")), "{text}");
    assert!(text.ends_with("(7 h to 8 h), and good hours count only what each covers."), "{text}");
}

#[test]
fn a_sweep_over_the_length_of_the_run_says_what_good_hours_count() {
    let said = |key: &str| {
        let rows = [1.1, 0.8].map(|follow_h| Toy { follow_h, ..Toy::default() }.night());
        let rows = rows.iter().map(|night| Ok(Outcome::from(night))).collect();
        let values = ["6 h".to_owned(), "8 h".to_owned()].to_vec();
        flat(&sweep_text(&SweepTable { axes: vec![Axis { key: key.into(), values }], rows }))
    };
    assert!(said("night.duration").contains("good hours count only what each covers"));
    assert!(!said("good.held_for").contains("equally long"));
}

#[test]
fn a_sweep_lists_the_best_first_and_counts_what_failed() {
    let films = ["6 W/m2/K", "9 W/m2/K", "12 W/m2/K"];
    let outcome = |follow_h| Outcome::from(&Toy { follow_h, ..Toy::default() }.night());
    let table = SweepTable {
        axes: vec![Axis { key: "film".into(), values: films.map(str::to_owned).to_vec() }],
        rows: vec![Ok(outcome(1.4)), Err("no air".into()), Ok(outcome(0.8))],
    };
    let text = sweep_text(&table);
    let lines: Vec<&str> = text.lines().collect();
    assert!(lines[1].starts_with("12 W/m2/K") && lines[2].starts_with("6 W/m2/K"), "{text}");
    assert!(flat(&text).contains("1 could not be computed, the first because: no air"), "{text}");
    let none = SweepTable { axes: vec![], rows: vec![] };
    assert!(sweep_text(&none).contains("No night could be computed."), "an empty sweep");
}

#[test]
fn a_long_sweep_shows_twenty_rows() {
    let outcome = Outcome::from(&Toy::default().night());
    let values = (0..50).map(|i| i.to_string()).collect();
    let rows = vec![Ok(outcome); 50];
    let table = SweepTable { axes: vec![Axis { key: "k".into(), values }], rows };
    let text = sweep_text(&table);
    assert!(text.contains("The best 20 of 50 nights"), "{text}");
    assert_eq!(text.lines().filter(|l| l.contains(" h ")).count(), 20, "{text}");
}

/// The toy's fans run at full speed until 22:30 and at 0.33 from then on: 29 L/s, and 0.33
/// of them are 9.57.
#[test]
fn a_ventilated_night_says_what_reaches_the_glass_at_each_speed() {
    let more = "[[event]]\nat = '22:30'\nfan_speed = 0.33\n[[event]]\nat = '03:00'\nfan_speed = 0\n\
                [ventilation]\nkind = 'fan-behind'\ndistance = '60 mm'\n\
                fans = { diameter = '120 mm', free_flow = '35 L/s', max_pressure = '25 Pa', power = '1.5 W' }";
    let night = Toy { more, column: 0.5, ..Toy::default() }.night();
    let text = flat(&summary_text(&night));
    let ready = night.ready_at_s.unwrap();
    let later = night.history.iter().filter(|row| row.time_s >= ready);
    let later = later.map(|row| row.column_excess.kelvins()).fold(0.0, f64::max);
    assert!((0.1..1.0).contains(&later), "worth telling with one digit: {later}");
    let wanted = format!(
        "29 L/s reach the glass at full speed, 9.6 L/s at 0.33 of full speed. What then rises over \
         the mirror is up to 1.0 K warmer than the night, at 20:00, and up to {later:.1} K once the \
         mirror is ready."
    );
    assert!(text.contains(&wanted), "{text}");
    let without = flat(&summary_text(&Toy::default().night()));
    assert!(!without.contains("reach the glass"), "no [ventilation], no such line: {without}");
    let open = "[ventilation]\nkind = 'sealed'";
    let sealed = flat(&summary_text(&Toy { more: open, ..Toy::default() }.night()));
    assert!(!sealed.contains("L/s"), "no fans: {sealed}");
}

#[test]
fn fans_that_run_down_through_many_speeds_have_their_flows_told_as_a_range() {
    let more = "[[event]]\nat = '21:00'\nfan_speed = 0.8\n[[event]]\nat = '22:00'\nfan_speed = 0.7\n\
                [[event]]\nat = '23:00'\nfan_speed = 0.6\n[[event]]\nat = '00:00'\nfan_speed = 0.4\n\
                [ventilation]\nkind = 'fan-behind'\ndistance = '60 mm'\n\
                fans = { diameter = '120 mm', free_flow = '35 L/s', max_pressure = '25 Pa', power = '1.5 W' }";
    let text = flat(&summary_text(&Toy { more, ..Toy::default() }.night()));
    // 0.4 of 29 L/s are 11.6.
    assert!(text.contains("12 to 29 L/s reach the glass while the fans turn."), "{text}");
    let still = more.replace("fan_speed = 0.", "fan_speed = 0.0 # ");
    let night = Toy::default().night.replace("fan_speed = 1.0", "fan_speed = 0");
    let mut toy = Toy::default();
    (toy.more, toy.night) = (still.leak(), night.leak());
    let text = flat(&summary_text(&toy.night()));
    assert!(text.contains("The fans move no air."), "{text}");
}

/// What a night does not define is empty in tables, `null` in JSON, and nowhere "NaN".
#[test]
fn an_undefined_column_is_never_printed_as_a_number() {
    let night = Toy::default().night();
    let told = json(&summary_json(&night));
    for part in ["end", "min", "max"] {
        assert!(told[part]["column_excess_k"].is_null(), "{part}: {told}");
        assert!(told[part]["flow_l_s"].is_number(), "{part}: {told}");
    }
    assert!(told["min"]["column_excess_k_time_s"].is_null(), "{told}");
    let nights = [("a".to_owned(), night.clone()), ("b".to_owned(), night)];
    let outcome = Outcome::from(&nights[0].1);
    let sweep = SweepTable {
        axes: vec![Axis { key: "x".to_owned(), values: vec!["1".to_owned(), "2".to_owned()] }],
        rows: vec![Ok(outcome.clone()), Ok(outcome)],
    };
    let dir = tempfile::tempdir().unwrap();
    let folder =
        |name: &str| evenglass_report::ResultFolder::prepare(&dir.path().join(name)).unwrap();
    let folders = [folder("night"), folder("nights"), folder("sweep")];
    evenglass_report::write_night(&folders[0], &nights[0].1).unwrap();
    evenglass_report::write_comparison(&folders[1], &nights).unwrap();
    evenglass_report::write_sweep(&folders[2], &sweep).unwrap();
    let mut all = summary_text(&nights[0].1) + &comparison_text(&nights) + &sweep_text(&sweep);
    for folder in folders {
        for entry in std::fs::read_dir(folder.path()).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|end| end == "csv" || end == "json") {
                all += &std::fs::read_to_string(path).unwrap();
            }
        }
    }
    assert!(all.contains("column_excess_k"), "the tables are among what is looked at");
    assert!(!all.contains("NaN") && !all.contains("inf"), "{all}");
}
