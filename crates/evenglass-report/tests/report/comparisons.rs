//! Many nights in words: comparisons and sweeps.

use evenglass_report::{
    Axis, Outcome, SweepTable, comparison_json, comparison_text, sweep_json, sweep_text,
};
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
fn a_comparison_names_the_better_one_by_how_much_and_what_becomes_of_the_correction() {
    let (slow, quick) = (Toy::default().night(), Toy { follow_h: 0.8, ..Toy::default() }.night());
    let gain = quick.good_hours() - slow.good_hours();
    let earlier = (slow.ready_at_s.unwrap() - quick.ready_at_s.unwrap()) / 60.0;
    let halfway = |night: &evenglass_simulation::Night| {
        let row = night.history.iter().find(|row| row.time_s >= 14_400.0).unwrap();
        100.0 * row.image.correction
    };
    let (bare, sealed) = (halfway(&slow), halfway(&quick));
    assert!(bare - sealed > 1.0, "the case is a case: {bare} {sealed}");
    let text = comparison_text(&[("bare rim".into(), slow), ("sealed rim".into(), quick)]);
    let (h, min) = ((earlier / 60.0).floor(), earlier % 60.0);
    let wanted = format!(
        "Better: sealed rim, good {gain:.1} h longer than bare rim and ready {h:.0} h {min:.0} min \
         earlier. At 00:00 bare rim over-corrects by {:.1} % more than sealed rim (+{bare:.1} % \
         against +{sealed:.1} %).",
        bare - sealed
    );
    assert!(flat(&text).contains(&wanted), "{wanted}\n{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    assert!(text.ends_with("[not-modelled], in both nights"), "{text}");
}

#[test]
fn a_comparison_is_honest_about_ties_and_about_failure() {
    let same = || Toy::default().night();
    let text = flat(&comparison_text(&[("a".into(), same()), ("b".into(), same())]));
    assert!(text.contains("a and b are equally good"), "{text}");
    assert!(text.contains("Their figures are the same, 9.4 nm RMS over the second half"), "{text}");
    let bad = |follow_h| Toy { follow_h, ..Toy::default() }.night();
    let text = flat(&comparison_text(&[("a".into(), bad(8.0)), ("b".into(), bad(5.0))]));
    let mean = |night: &evenglass_simulation::Night| {
        let late = night.history.iter().filter(|row| row.time_s >= 14_400.0);
        let all: Vec<f64> = late.map(|row| row.image.seeing.value).collect();
        all.iter().sum::<f64>() / f64::from(u32::try_from(all.len()).unwrap())
    };
    let wanted = format!(
        "None becomes good in this run. What is missing is the shimmer: nearest is b, with {:.1} \
         arcsec on average over the second half (limit 0.5 arcsec); next comes a with {:.1} arcsec.",
        mean(&bad(5.0)),
        mean(&bad(8.0))
    );
    assert!(text.contains(&wanted), "{wanted}\n{text}");
    let text = flat(&comparison_text(&[("a".into(), bad(8.0)), ("b".into(), same())]));
    assert!(text.contains("Better: b, good for"), "{text}");
    assert!(text.contains("the other never is"), "{text}");
    assert!(comparison_text(&[]).contains("nothing to compare"), "an empty list is no panic");
}

#[test]
fn all_that_are_equally_good_are_named_and_their_figures_told_apart() {
    // A figure that is far from its limit changes no hours.
    let toy = |uneven, follow_h| Toy { follow_h, uneven, ..Toy::default() }.night();
    let nights = [
        ("worse".to_owned(), toy(0.12, 1.1)),
        ("slow".to_owned(), toy(0.05, 2.5)),
        ("fine".to_owned(), toy(0.05, 1.1)),
        ("same".to_owned(), toy(0.10, 1.1)),
    ];
    let text = flat(&comparison_text(&nights));
    assert!(text.contains("fine, same and worse are equally good:"), "{text}");
    assert!(text.contains("The figure is best with fine: 2.1 nm RMS"), "{text}");
    assert!(text.contains("Next comes slow, good "), "{text}");
    let ranking = &json(&comparison_json(&nights))["ranking"];
    assert_eq!(ranking, &json(r#"["fine", "same", "worse", "slow"]"#));
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
    assert!(
        text.contains(&format!(
            "ready {h:.0} h {min:.0} min earlier. At 00:00 first over-corrects by"
        )),
        "{text}"
    );
    assert!(text.contains("(7 h to 8 h), and good hours count only what each covers."), "{text}");
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
    assert!(lines[2].starts_with("12 W/m2/K") && lines[3].starts_with("6 W/m2/K"), "{text}");
    assert!(flat(&text).contains("1 could not be computed, the first because: no air"), "{text}");
    assert!(text.ends_with("[not-modelled], in both nights"), "{text}");
    assert_eq!(json(&sweep_json(&table))["warnings"][0]["nights"], 2);
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
