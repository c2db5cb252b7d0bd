//! The words on the terminal and `summary.json`.

use evenglass_report::{
    Axis, CAUTIONS, Outcome, SweepTable, comparison_text, summary_json, summary_text, sweep_text,
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
            "Good from {ready} to the end of the run at 04:00 ({:.1} h). Stopped by: figure until \
             00:50, shimmer until {ready}. Good means: the surface within 20 nm RMS after \
             refocusing, shimmer within 0.5 arcsec, for at least 30 min (dew is not \
             judged: the night tells no dew point).",
            night.good_hours(),
        )),
        "{text}"
    );
    assert!(text.ends_with(CAUTIONS), "cautions are always there");
    assert!(text.contains("the spider is not reckoned with [not-modelled]"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 84), "fits a terminal: {text}");
    assert!(!text.contains(" -0") && text.contains("−0.4 K"), "a real minus sign: {text}");
}

/// What a maker wants to know of the image, each number against the row it stands for.
#[test]
fn the_summary_says_what_the_mirror_does_to_the_image() {
    let more = "[site]\nseeing = '1.5 arcsec'\n[telescope]\nform = 'tube'\nclearance = '20 mm'\n\
                length = '1600 mm'\nexpansion = '2e-5 /K'";
    let night = Toy { more, ..Toy::default() }.night();
    let text = flat(&summary_text(&night));
    let ready = night.ready_at_s.unwrap();
    let row = night.history.iter().find(|row| row.time_s >= ready).unwrap();
    let (front, image) = (row.front_minus_air.kelvins(), row.image);
    assert!(front > 0.5 && image.correction > 0.02, "the case is a case: {image:?}");
    let refocus = image.refocus_s / 60.0;
    let state = format!(
        "At 01:00, when it becomes good, the front is {front:.1} K warmer than the air; \
         over-corrected by {:.1} %, surface {:.0} nm RMS after refocusing; refocus every \
         {refocus:.0} min until",
        100.0 * image.correction,
        1e9 * image.total_rms_m,
    );
    assert!(text.contains(&state), "{state}\n{text}");
    // 1.5 arcsec of sky and 0.45 of mirror, say, are (1.5^(5/3) + 0.45^(5/3))^0.6 = 1.62.
    let blur = image.seeing.value;
    let added = (1.5_f64.powf(5.0 / 3.0) + blur.powf(5.0 / 3.0)).powf(0.6) - 1.5;
    assert!(text.contains(&format!("shimmer adds at most {added:.1} (")), "{added} {text}");
    assert!(text.contains("arcsec to your 1.5 arcsec sky"), "{text}");
    assert!(text.contains("toward the mirror (from first to last glass −"), "{text}");
    // The air has fallen to its floor before the mirror is ready, so the tube rests.
    assert!(text.contains(", tube 0)"), "{text}");
    assert!(text.contains("It is not a measure of the figure."), "{text}");
}

#[test]
fn a_mirror_out_of_round_says_where_it_is_high() {
    let round = flat(&summary_text(&Toy::default().night()));
    assert!(!round.contains("Out of round"), "{round}");
    let text = flat(&summary_text(&Toy { lopsided: 0.6, ..Toy::default() }.night()));
    assert!(text.contains("Out of round: astigmatism "), "{text}");
    assert!(text.contains("(high at 3 and 9 o'clock), coma "), "{text}");
    assert!(text.contains("(high at 3 o'clock), on the clock as seen from the front"), "{text}");
}

#[test]
fn a_flat_has_a_figure_and_no_focus_or_correction() {
    let mirror = "diameter = '406 mm'\nedge_thickness = '41 mm'\nglass = 'soda-lime'";
    let text = flat(&summary_text(&Toy { mirror, ..Toy::default() }.night()));
    assert!(text.contains("surface 16 nm RMS after refocusing."), "{text}");
    assert!(!text.contains("corrected") && !text.contains("refocus every"), "{text}");
    assert!(!text.contains("the focus moves"), "{text}");
}

#[test]
fn a_night_that_never_gets_good_says_what_misses_and_by_how_much() {
    let night = Toy { follow_h: 4.0, ..Toy::default() }.night();
    let text = flat(&summary_text(&night));
    let last = night.history.last().unwrap();
    let wanted = format!(
        "Not good at any time before the run ends at 04:00. Nearest at 04:00: figure {:.0} nm RMS \
         (limit 20 nm RMS), shimmer {:.1} arcsec (limit 0.5 arcsec).",
        1e9 * last.image.total_rms_m,
        last.image.seeing.value,
    );
    assert!(text.contains(&wanted), "{wanted}\n{text}");
    assert!(text.contains("In the second half of the run the Strehl ratio"), "{text}");
}

#[test]
fn a_limit_of_the_front_counts_where_the_author_sets_one() {
    let more = "[good]\nfront_minus_air = '0.3 K'";
    let text = flat(&summary_text(&Toy { more, ..Toy::default() }.night()));
    assert!(text.contains("front too warm until "), "{text}");
    assert!(text.contains("the front within 0.3 K of the air, for at least 30 min"), "{text}");
    let never = Toy { more, follow_h: 4.0, ..Toy::default() }.night();
    let text = flat(&summary_text(&never));
    assert!(text.contains("front too warm by ") && text.contains("(limit 0.3 K)"), "{text}");
}

#[test]
fn a_mirror_that_is_ready_early_in_its_middle_is_offered_a_mask() {
    let night = Toy { follow_h: 0.8, ..Toy::default() }.night();
    assert!(!summary_text(&night).contains("Masked"), "shimmer, not figure, is waited for");
    let more = "[good]\nshimmer = '5 arcsec'";
    let night = Toy { more, ..Toy::default() }.night();
    let text = flat(&summary_text(&night));
    assert!(text.contains("Stopped by: figure until 00:50 (but for"), "{text}");
    let from = text.split("Masked to ").nth(1).unwrap_or_else(|| panic!("no mask: {text}"));
    let aperture: f64 = from.split(" mm").next().unwrap().parse().unwrap();
    assert!(from.contains(" mm the figure is good from the start on."), "{text}");
    let (ready, from_s) = (night.ready_at_s.unwrap(), 0.0);
    let within = night.history.iter().filter(|row| (from_s..ready).contains(&row.time_s));
    let narrowest = within.map(|row| 1e3 * row.image.good_aperture_m).fold(f64::MAX, f64::min);
    assert!(aperture <= narrowest && aperture > narrowest - 5.0, "{aperture} {narrowest}");
}

/// Air that falls from 18 to 11 °C, a dew point of 10.4 °C, a secondary 1 K colder than the air.
#[test]
fn a_damp_night_says_what_gathers_dew_when_and_what_would_help() {
    let night = Toy::default().night.to_owned() + "\ndew_point = '10.4 degC'";
    let more = "[telescope]\nform = 'truss'\nclearance = '20 mm'\nlength = '150 mm'\n\
                secondary = { diameter = '80 mm', distance = '1500 mm' }";
    let night = Toy { night: night.leak(), more, ..Toy::default() }.night();
    let text = flat(&summary_text(&night));
    // 00:10: the air is 11.75 °C, the secondary 10.75 °C, 0.35 K above the dew point.
    assert!(text.contains("dew on the secondary with a margin of 0.3 K (limit 0.5 K)"), "{text}");
    assert!(text.contains("all faces 0.5 K above their dew point"), "{text}");
    assert!(
        text.contains("The primary stays dry: at its coldest 0.7 K above the dew point"),
        "{text}"
    );
    let wanted = "The secondary gathers dew from 00:25, fogged from 00:45, for 3 h 15 min in all; at \
                  its coldest 0.4 K below the dew point, at 00:40; 0.5 K would take 0.4 W of heat, or \
                  foil on its back (then +0.8 K), or moved air, 12 instead of 5.0 W/m²/K.";
    assert!(text.contains(wanted), "{wanted}\n{text}");
    assert!(text.contains("the primary would be wet for 1 h 20 min: cap it first."), "{text}");
    let told = json(&summary_json(&night));
    assert_eq!(told["dew"]["secondary"]["dew_from_s"], 15_900.0);
    assert_eq!(told["dew"]["secondary"]["remedies"]["heater_w"], 0.4);
    assert!(told["passing"]["dew"].is_array(), "{told}");
    let dry = json(&summary_json(&Toy::default().night()));
    assert!(dry["dew"].is_null(), "{dry}");
}

#[test]
fn a_night_that_is_good_too_briefly_is_told_so() {
    let more = "[good]\nheld_for = '3.5 h'";
    let mut night = Toy { more, ..Toy::default() }.night();
    // The toy stays good until the run ends: the run is too short.
    let text = flat(&summary_text(&night));
    assert!(text.contains("It is good then, but not yet for 3 h 30 min"), "{text}");
    // One that is no longer good by the end did not last.
    night.history.last_mut().unwrap().image.total_rms_m = 1e-7;
    let text = flat(&summary_text(&night));
    assert!(text.contains("It is good at times, as at "), "{text}");
    assert!(text.contains("but never for 3 h 30 min on end"), "{text}");
}

/// Only the front counts here, and it goes to both sides.
const FRONT_ONLY: &str =
    "[good]\nfront_minus_air = '0.5 K'\nfigure_rms = '1 um'\nshimmer = '30 arcsec'";

#[test]
fn several_good_stretches_are_all_named_with_what_ends_them() {
    let night = "start = '18:30'\ndate = '2026-10-30'\nduration = '30 h'\nglass_temperature = '12 degC'\n\
                 air = { kind = 'table', time = ['0 h', '10 h', '20 h', '30 h'], \
                 temperature = ['12 degC', '5 degC', '16 degC', '16 degC'] }";
    let night = Toy { night, more: FRONT_ONLY, ..Toy::default() }.night();
    assert!(night.good_intervals.len() >= 3, "{:?}", night.good_intervals);
    let text = flat(&summary_text(&night));
    assert!(text.contains("Good from 18:30 to 19:50 on 30 Oct, from "), "{text}");
    assert!(text.contains(" and from "), "{text}");
    assert!(text.contains("Stopped by: front too warm from 19:50 on 30 Oct to "), "{text}");
    assert!(text.contains("front too cold from "), "{text}");
    assert!(text.contains("31 Oct") && text.contains("1 Nov"), "days are told apart: {text}");
}

#[test]
fn a_day_that_both_ends_of_a_stretch_have_is_said_once() {
    let night = "start = '18:30'\ndate = '2026-10-30'\nduration = '30 h'\nglass_temperature = '12 degC'\n\
                 air = { kind = 'table', time = ['0 h', '2 h', '4 h'], \
                 temperature = ['12 degC', '12 degC', '5 degC'] }";
    let text = flat(&summary_text(&Toy { night, more: FRONT_ONLY, ..Toy::default() }.night()));
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
    assert!(text.contains("While good the mirror's own air adds no shimmer"), "{text}");
    assert!(text.contains("surface less than 0.1 nm RMS"), "{text}");
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
    let same = |read: &Value, meant: f64| match read.as_f64() {
        Some(read) => (read - meant).abs() <= 1e-15 * meant.abs(),
        None => read.is_null() && !meant.is_finite(),
    };
    for (i, column) in COLUMNS.iter().enumerate().skip(1) {
        let name = column.name;
        assert!(same(&summary["end"][name], (column.value)(last)), "end of {name}");
        assert!(same(&summary["min"][name], night.minima[i].0), "min of {name}");
        assert!(same(&summary["max"][name], night.maxima[i].0), "max of {name}");
        let time = format!("{name}_time_s");
        let time_s = if night.maxima[i].0.is_finite() { night.maxima[i].1 } else { f64::NAN };
        assert!(same(&summary["max"][&time], time_s), "{time}");
    }
    assert_eq!(summary["good_intervals"][0]["begun_by"], "shimmer");
    assert_eq!(summary["passing"]["figure"][1]["from"], "00:50");
    let seeing = night.history.iter().map(|row| row.image.seeing.high).fold(0.0, f64::max);
    assert!(same(&summary["bands"]["seeing_arcsec"]["max"]["high"], seeing), "{summary}");
    assert!(same(&summary["bands"]["seeing_arcsec"]["end"]["low"], last.image.seeing.low), "low");
    let [worst, ready] = &summary["moments"].as_array().unwrap()[..] else { panic!("{summary}") };
    assert_eq!((&worst["what"], &ready["what"]), (&json("\"worst figure\""), &json("\"ready\"")));
    assert_eq!(ready["time"], summary["ready_at"]);
    let rms = night.history.iter().map(|row| 1e9 * row.image.total_rms_m).fold(0.0, f64::max);
    assert!(same(&worst["total_figure_rms_nm"], rms), "{worst}");
    assert_eq!(worst["nearest_row"]["figure_rms_nm"], summary["max"]["figure_rms_nm"]);
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
