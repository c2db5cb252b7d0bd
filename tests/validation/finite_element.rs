//! The solver beside `data/finite_element.csv`: one row for each mirror, its worst probe.

use evenglass_simulation::scenario::Scenario;
use evenglass_units::Temperature;

use crate::mirrors::{self, Line, lines_of};
use crate::page::Comparison;
use crate::solver::{Accuracy, temperatures};
use crate::table::data;

/// The library that made the table, as the table says.
fn library() -> String {
    let text = std::fs::read_to_string(data("finite_element.csv")).expect("the table is there");
    let made = text.lines().find_map(|line| line.strip_prefix("# made with: "));
    made.expect("the table says what made it").to_owned()
}

/// (probe, ours, gap [mK], allowed [mK]) of the worst probe.
fn worst(scenario: &Scenario, lines: &[Line], accuracy: Accuracy) -> (usize, f64, f64, f64) {
    let probes: Vec<_> = lines.iter().map(|line| line.probe).collect();
    let ours = temperatures(scenario, &probes, accuracy);
    let celsius = |kelvin: f64| Temperature::from_kelvin(kelvin).celsius();
    let gaps = ours.iter().zip(lines).map(|(kelvin, line)| celsius(*kelvin) - line.celsius);
    let (at, gap) = gaps
        .enumerate()
        .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
        .expect("the table has probes");
    let allowed = accuracy.per_ten_kelvin() + lines[at].error;
    (at, celsius(ours[at]), 1e3 * gap, 1e3 * allowed)
}

fn comparison(name: &str, words: &str, scenario: &Scenario) -> Comparison {
    let lines = lines_of(name);
    let (at, ours, gap, allowed) = worst(scenario, &lines, Accuracy::Default);
    let (_, _, fine_gap, fine_allowed) = worst(scenario, &lines, Accuracy::Fine);
    let Line { probe: (time, radius, height), celsius: theirs, .. } = lines[at];
    let (minutes, radius, height) = (time / 60.0, 1e3 * radius, 1e3 * height);
    Comparison {
        quantity: "mirrors by finite elements: the worst of the probes [°C]".to_owned(),
        inputs: format!(
            "{words}; of {} probes the one at {minutes} min, r = {radius} mm, z = {height:.1} mm",
            lines.len()
        ),
        source: library(),
        published: format!("{theirs:.4}"),
        ours: format!("{ours:.4}"),
        gap,
        allowed,
        fine: Some((fine_gap, fine_allowed)),
        unit: "mK",
    }
}

/// All mirrors of the table.
pub(crate) fn compared() -> Vec<Comparison> {
    vec![
        comparison("jumps", "films that jump on both faces", &mirrors::jumps()),
        comparison("holed", "perforated, in falling air", &mirrors::holed()),
        comparison("thick", "85 mm thick, rim half covered", &mirrors::thick()),
        comparison("insulated", "insulated rim, fan slows down", &mirrors::insulated()),
        comparison("one-sided", "a strong fan behind only", &mirrors::one_sided()),
        comparison(
            "radiating",
            "radiation, heat and conductivity of real glass",
            &mirrors::radiating(),
        ),
    ]
}
