//! The solver beside `data/finite_element.csv`: one row for each mirror, its worst probe.
//!
//! The mirrors are those of `tests/references/against_finite_element.rs`; one that
//! differed from there would be far outside its tolerance.

use evenglass_materials::SpecificHeatLaw;
use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::scenario::scenario::{
    Face, Film, Insulation, RadiantSurroundings, Radiation,
};
use evenglass_units::{Conductivity, Length, Temperature};

use crate::case::{Case, profile};
use crate::page::Comparison;
use crate::solver::{Accuracy, temperatures};
use crate::table::{data, number};

/// A probe of the library: (time, radius, height), temperature [°C], its own error [K].
type Line = ((f64, f64, f64), f64, f64);

const QUARTER: f64 = 14_400.0;

fn soda() -> Case {
    Case {
        diameter_m: 0.406,
        edge_thickness_m: 0.041,
        focal_ratio: Some(4.5),
        start_c: 20.0,
        duration_s: QUARTER,
        ..Case::flat()
    }
}

fn boro() -> Case {
    Case { density: 2230.0, specific_heat: 740.0, conductivity: 1.1, ..soda() }
}

fn even(film: f64) -> Vec<(f64, f64)> {
    vec![(0.0, film)]
}

fn jumps() -> Scenario {
    let case = Case {
        air: even(10.0),
        front: vec![(0.0, 25.0), (0.124, 25.0), (0.124, 4.0), (0.203, 4.0)],
        back: vec![(0.0, 20.0), (0.0917, 20.0), (0.0917, 6.0), (0.203, 9.0)],
        rim: even(6.0),
        ..soda()
    };
    case.scenario()
}

fn holed() -> Scenario {
    let case = Case {
        diameter_m: 0.4,
        edge_thickness_m: 0.05,
        focal_ratio: Some(4.0),
        hole_m: Some(0.09),
        start_c: 21.0,
        air: vec![(0.0, 17.0), (QUARTER, 11.0)],
        front: vec![(0.0, 7.0), (0.2, 11.0)],
        back: vec![(0.0, 18.0), (0.11, 18.0), (0.11, 8.0)],
        rim: even(10.0),
        hole: even(5.0),
        ..boro()
    };
    case.scenario()
}

fn thick() -> Scenario {
    let case = Case {
        diameter_m: 0.61,
        edge_thickness_m: 0.085,
        focal_ratio: Some(5.0),
        start_c: 18.0,
        air: even(8.0),
        front: even(5.0),
        back: even(16.0),
        rim: vec![(0.0, 14.0), (0.033, 14.0), (0.033, 3.0)],
        duration_s: 2.0 * QUARTER,
        ..soda()
    };
    case.scenario()
}

fn insulated() -> Scenario {
    let case = Case {
        air: vec![(0.0, 18.0), (7200.0, 15.0), (QUARTER, 9.0)],
        front: even(8.0),
        back: even(24.0),
        rim: even(12.0),
        ..soda()
    };
    let mut scenario = case.scenario();
    scenario.rim.insulation = Some(Insulation {
        thickness: Length::from_metres(0.006),
        conductivity: Conductivity::from_w_per_m_k(0.035),
    });
    let Film::Given { factor, .. } = &mut scenario.back.film else {
        panic!("the back's film is given")
    };
    *factor = profile(&[(0.0, 1.0), (3600.0, 1.0), (3600.0, 0.3333), (QUARTER, 0.3333)]);
    scenario
}

fn one_sided() -> Scenario {
    let case = Case {
        diameter_m: 0.3,
        edge_thickness_m: 0.04,
        focal_ratio: Some(6.0),
        air: even(10.0),
        front: even(0.5),
        back: vec![(0.0, 60.0), (0.045, 60.0), (0.15, 20.0)],
        rim: even(2.0),
        ..boro()
    };
    case.scenario()
}

fn radiating() -> Scenario {
    let case = Case {
        start_c: 25.0,
        air: vec![(0.0, 18.0), (QUARTER, 4.0)],
        front: even(6.0),
        back: vec![(0.0, 15.0), (0.08, 15.0), (0.08, 5.0)],
        rim: even(4.0),
        ..soda()
    };
    let mut scenario = case.scenario();
    scenario.mirror.glass.heat = SpecificHeatLaw { a: 2.157, b: 0.00146, c: 737.4 };
    scenario.mirror.glass.conductivity_slope = 0.0013;
    let radiate = |face: &mut Face, emissivity| {
        face.radiation = Some(Radiation { emissivity, surroundings: RadiantSurroundings::Air });
    };
    radiate(&mut scenario.front, 0.04);
    radiate(&mut scenario.back, 0.84);
    radiate(&mut scenario.rim, 0.84);
    scenario
}

fn lines(case: &str) -> Vec<Line> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(data("finite_element.csv"))
        .expect("the table is in the repository");
    let records = reader.records().map(|record| record.expect("the table is well formed"));
    let of_case = records.filter(|record| &record[0] == case);
    let line = |record: csv::StringRecord| {
        let cell = |column: usize| number(&record[column]);
        ((cell(1), cell(2), cell(3)), cell(4), cell(5))
    };
    of_case.map(line).collect()
}

/// The library that made the table, as the table says.
fn library() -> String {
    let text = std::fs::read_to_string(data("finite_element.csv")).expect("the table is there");
    let made = text.lines().find_map(|line| line.strip_prefix("# made with: "));
    made.expect("the table says what made it").to_owned()
}

/// (probe, ours, theirs, gap [mK], allowed [mK]) of the worst probe.
fn worst(scenario: &Scenario, lines: &[Line], accuracy: Accuracy) -> (usize, f64, f64, f64) {
    let probes: Vec<_> = lines.iter().map(|line| line.0).collect();
    let ours = temperatures(scenario, &probes, accuracy);
    let celsius = |kelvin: f64| Temperature::from_kelvin(kelvin).celsius();
    let gaps = ours.iter().zip(lines).map(|(kelvin, line)| celsius(*kelvin) - line.1);
    let (at, gap) = gaps
        .enumerate()
        .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
        .expect("the table has probes");
    let allowed = accuracy.per_ten_kelvin() + lines[at].2;
    (at, celsius(ours[at]), 1e3 * gap, 1e3 * allowed)
}

fn comparison(name: &str, words: &str, scenario: &Scenario) -> Comparison {
    let lines = lines(name);
    assert!(lines.len() >= 50, "only {} probes of `{name}`", lines.len());
    let (at, ours, gap, allowed) = worst(scenario, &lines, Accuracy::Default);
    let (_, _, fine_gap, fine_allowed) = worst(scenario, &lines, Accuracy::Fine);
    let ((time, radius, height), theirs, _) = lines[at];
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
        comparison("jumps", "films that jump on both faces", &jumps()),
        comparison("holed", "perforated, in falling air", &holed()),
        comparison("thick", "85 mm thick, rim half covered", &thick()),
        comparison("insulated", "insulated rim, fan slows down", &insulated()),
        comparison("one-sided", "a strong fan behind only", &one_sided()),
        comparison("radiating", "radiation, heat and conductivity of real glass", &radiating()),
    ]
}
