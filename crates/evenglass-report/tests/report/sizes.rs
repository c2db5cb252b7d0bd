//! Sizings: words and pictures in every state of the fans.

use std::path::{Path, PathBuf};

use evenglass_report::{Filter, ResultFolder, SizeReport, sizing_text, write_sizing};
use evenglass_simulation::ventilation::sizing;
use evenglass_simulation::ventilation::wish::{self, Wish};

use crate::pictures::Picture;
use crate::toy::Toy;

const FANS: &str =
    "fans = { diameter = '120 mm', free_flow = '35 L/s', max_pressure = '25 Pa', power = '1.5 W' }";

fn report(ventilation: &str) -> SizeReport {
    let more = format!("[ventilation]\n{ventilation}\n{FANS}").leak();
    let scenario = Toy { more, ..Toy::default() }.scenario();
    let wishes = [Wish::SlotSpeed(2.0), Wish::Film(10.0)];
    SizeReport {
        sizing: sizing::size(&scenario).unwrap(),
        wishes: wishes.map(|wanted| (wanted, wish::answer(&scenario, wanted))).to_vec(),
        filter: wish::filter_share(&scenario)
            .zip(wish::filter_area(&scenario))
            .map(|(share, area)| Filter { share, area }),
        scenario,
    }
}

fn drawn(name: &str, report: &SizeReport) -> PathBuf {
    let target = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures").join(name);
    let folder = ResultFolder::prepare(&target).unwrap();
    write_sizing(&folder, report).unwrap();
    folder.commit().unwrap();
    target
}

const RING: &str = "kind = 'ring-nozzle'\nslot = '6 mm'\nheight = '0 mm'\n\
                    path = { kind = 'past-back', gap = '30 mm', rim_gap = '20 mm' }";

/// Between the axes, which begin at 120 of 1600 pixels.
const PANEL: ((f64, f64), (f64, f64)) = ((0.08, 0.8), (0.18, 0.87));

#[test]
fn a_ring_nozzle_has_three_pictures_with_ink_in_every_panel() {
    let folder = drawn("size-ring", &report(RING));
    let curve = Picture::read(&folder.join("fan-curve.png"));
    assert!(curve.coloured(PANEL.0, PANEL.1) > 0.005, "fans and resistance");
    assert!(curve.dark((0.08, 0.95), (0.18, 0.87)) > 0.001, "operating points");
    let films = Picture::read(&folder.join("films.png"));
    for rows in [(0.175, 0.485), (0.57, 0.88)] {
        assert!(films.coloured((0.08, 0.88), rows) > 0.003, "a curve");
        let band = films.painted((0.08, 0.88), rows, BAND);
        assert!(band > 0.02, "a band fills {band}");
        assert!(films.coloured((0.89, 1.0), rows) > 0.003, "a name");
    }
    let sheet = Picture::read(&folder.join("sheet.png"));
    assert!(sheet.coloured((0.08, 0.95), (0.2, 0.52)) > 0.002, "speed");
    assert!(sheet.coloured((0.08, 0.95), (0.61, 0.88)) > 0.002, "depth");
}

/// Blue at 0.16 of its strength: 255 − 0.16 · (255 − c).
const BAND: [u8; 3] = [214, 232, 243];

#[test]
fn without_a_ring_there_is_no_sheet_and_one_panel_of_films() {
    let report = report("kind = 'fan-behind'\ndistance = '60 mm'");
    let folder = drawn("size-behind", &report);
    assert!(!folder.join("sheet.png").exists(), "no sheet, no picture of it");
    let films = Picture::read(&folder.join("films.png"));
    assert!(films.painted((0.08, 0.88), (0.3, 0.88), BAND) > 0.02, "one tall panel");
    let text = sizing_text(&report);
    assert!(!text.contains("slot Re") && !text.contains("column"), "{text}");
    assert!(text.contains("2 m/s in the slot: no answer"), "{text}");
    assert!(text.contains("10 W/m²/K in the mean of the back: "), "{text}");
}

#[test]
fn steps_at_which_fans_stand_still_are_said_so_and_not_drawn() {
    let standing = report(&format!("{RING}\nturbulence = 0.02"));
    let text = sizing_text(&standing);
    let row = text.lines().find(|line| line.starts_with("1/6")).unwrap();
    assert!(row.contains("stands still"), "{text}");
    let mut none = standing;
    for step in &mut none.sizing.systems[0].steps {
        step.operating.state = sizing::State::Stopped;
        step.operating.flow = 0.0;
        (step.running, step.flows, step.rim_film) = (0.0, [0.0; 3], 0.0);
        step.sheet = None;
        step.column = None;
        for row in &mut step.films {
            (row.back, row.front) = (None, None);
        }
    }
    none.sizing.systems[0].along_front.clear();
    let text = sizing_text(&none);
    assert!(text.contains("The fan stands still even when full speed is asked for"), "{text}");
    assert!(!text.contains("Films of moved air") && !text.contains('█'), "{text}");
    let folder = drawn("size-standing", &none);
    let films = Picture::read(&folder.join("films.png"));
    assert!(films.dark((0.2, 0.8), (0.45, 0.55)) > 0.001, "says why it is empty");
    assert!(!folder.join("sheet.png").exists(), "nothing blows");
}

#[test]
fn pressures_in_words_add_up_to_what_the_fans_give() {
    let report = report(RING);
    let operating = &report.sizing.systems[0].steps[0].operating;
    let branch = &operating.branches[0];
    let taken: f64 = operating.trunk.iter().chain(&branch.passages).map(|part| part.drop).sum();
    assert!((taken / operating.fan_pressure - 1.0).abs() < 1e-3, "{taken}");
    let text = sizing_text(&report);
    for part in &branch.passages {
        assert!(text.contains(&part.name), "{}: {text}", part.name);
    }
    assert!(text.lines().all(|line| line.chars().count() <= 84), "{text}");
}

#[test]
fn fans_without_a_balance_say_why_in_words_and_picture() {
    let mut report = report("kind = 'fan-above'\ndistance = '900 mm'");
    let reason = sizing::Reason::NoResistance { branch: "front of the glass".to_owned() };
    for step in &mut report.sizing.systems[0].steps {
        step.operating.state = sizing::State::NoOperatingPoint { reason: reason.clone() };
        (step.operating.flow, step.flows) = (0.0, [0.0; 3]);
    }
    let text = sizing_text(&report).replace('\n', " ");
    assert!(text.contains("No air moves: nothing resists the flow"), "{text}");
    assert!(text.contains("no balance") && !text.contains("reach the glass"), "{text}");
    let curve = Picture::read(&drawn("size-unbalanced", &report).join("fan-curve.png"));
    assert!(curve.dark((0.3, 0.7), (0.2, 0.26)) > 0.005, "says that there is none");
}

#[test]
fn a_resistance_at_the_left_keeps_its_name_on_the_sheet() {
    let clogged =
        format!("{RING}\nlayers = [{{ kind = 'filter', media = 'hepa-13', area = '20 cm2' }}]");
    let report = report(&clogged);
    assert!(sizing_text(&report).contains("stalls"), "the case is a case");
    let curve = Picture::read(&drawn("size-clogged", &report).join("fan-curve.png"));
    assert!(curve.coloured((0.0, 0.045), (0.17, 0.95)) < 1e-6, "nothing left of the axis' labels");
}
