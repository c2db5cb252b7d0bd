//! Small changes of one scenario, and which of them helps most.

use evenglass_report::changes_text;
use evenglass_simulation::Night;

use crate::toy::Toy;

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn said(changes: &[(&str, &Toy)]) -> (String, Vec<(String, Night)>) {
    let base = ("as written".to_owned(), Toy::default().night());
    let changes = changes.iter().map(|(label, toy)| ((*label).to_owned(), toy.night()));
    let nights: Vec<_> = std::iter::once(base).chain(changes).collect();
    let options: Vec<String> = (0..nights.len()).map(|n| format!("--set 'k.l={n}'")).collect();
    (changes_text(&nights, &options), nights)
}

const THIN: &str =
    "diameter = '406 mm'\nedge_thickness = '33 mm'\nfocal_ratio = 4.5\nglass = 'soda-lime'";

/// Begun at 19:00, an hour before the toy, in the same air from 20:00 on.
const EARLIER: &str = "start = '19:00'\nduration = '9 h'\nglass_temperature = '20 degC'\n\
    air = { kind = 'table', time = ['19:00', '20:00', '00:40'], \
    temperature = ['18 degC', '18 degC', '11 degC'] }";

#[test]
fn the_change_that_adds_most_good_hours_is_named_with_the_next_and_how_to_type_it() {
    let quick = |follow_h| Toy { follow_h, ..Toy::default() };
    let thin = Toy { mirror: THIN, follow_h: 0.5, ..Toy::default() };
    let (text, nights) = said(&[
        ("slot 20 % wider", &quick(1.3)),
        ("slot 20 % narrower", &quick(0.9)),
        (
            "begun 60 min earlier",
            &Toy { night: EARLIER, more: "", follow_h: 0.8, ..Toy::default() },
        ),
        ("begun 30 min earlier", &quick(0.85)),
        ("glass 20 % thinner", &thin),
    ]);
    let hours = |place: usize| nights[place].1.good_hours();
    // What is good before 20:00 is not gained.
    let window = nights[3].1.good_intervals.iter();
    let earlier = window.fold(0.0, |sum, i| sum + (i.to_s - i.from_s.max(3600.0)) / 3600.0);
    let wanted = format!(
        "Best single change: begun 60 min earlier (+{:.1} h); second: slot 20 % narrower (+{:.1} h). \
         With another blank: glass 20 % thinner (+{:.1} h; how it bends on its supports is not \
         computed).",
        earlier - hours(0),
        hours(2) - hours(0),
        hours(5) - hours(0),
    );
    let wanted = wanted.replace("h; how", "h); how").replace("computed).", "computed.");
    assert!(flat(&text).contains(&wanted), "{wanted}\n{text}");
    assert!(text.contains("\n\nbegun 60 min earlier: --set 'k.l=3'\n"), "{text}");
    let rows: Vec<&str> = text.lines().skip(2).take(6).collect();
    assert!(rows[0].starts_with("as written") && rows[5].starts_with("slot 20 % wider"), "{text}");
    assert!(!text.contains("-0.0"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
}

#[test]
fn where_no_hours_are_to_be_gained_the_figure_counts() {
    let toy = |uneven| Toy { uneven, ..Toy::default() };
    let (text, _) = said(&[("even", &toy(0.1)), ("uneven", &toy(0.3))]);
    let wanted = "None adds good hours; best for the figure over the second half of the run: even \
                  (4.3 nm RMS instead of 9.4).";
    assert!(flat(&text).contains(wanted), "{text}");
    assert!(flat(&text).contains("At 00:00 as written over-corrects by"), "{text}");
}

#[test]
fn where_nothing_helps_that_is_said() {
    let toy = |follow_h| Toy { follow_h, ..Toy::default() };
    let (text, _) = said(&[("slower", &toy(1.3)), ("slowest", &toy(1.6))]);
    assert!(flat(&text).contains("None of these changes helps the mirror as it is."), "{text}");
    assert!(!text.contains("--set"), "{text}");
    assert_eq!(changes_text(&[], &[]), "There is nothing to compare with.");
}
