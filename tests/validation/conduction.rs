//! The solver beside the series of `data/conduction.csv`, and its curved discs.
//!
//! Bodies are set up as in `tests/references/against_series.rs`.

use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::scenario::scenario::Film;
use evenglass_units::{Temperature, TemperatureDifference};

use crate::case::Case;
use crate::page::Comparison;
use crate::solver::{Accuracy, temperatures};
use crate::table::{Row, data, rows};

/// Quantities of the table and what they are, in words.
const QUANTITIES: [(&str, &str); 13] = [
    ("slab-excess", "wide plate, both faces alike: share of a step left"),
    ("asymmetric-slab-excess", "wide plate with a fan behind: share of a step left"),
    ("cylinder-excess", "long rod: share of a step left"),
    ("finite-cylinder-excess", "flat disc: share of a step left"),
    ("semi-infinite-change", "thick plate, one face: share of a step taken"),
    ("falling-slab-lag-surface", "wide plate in falling air: lag of the surface"),
    ("falling-slab-lag-centre", "wide plate in falling air: lag of the middle"),
    ("falling-slab-lag-transient", "wide plate, air beginning to fall: lag"),
    ("falling-asymmetric-slab-lag", "wide plate with a fan behind in falling air: lag"),
    ("falling-disc-lag", "flat disc in falling air: lag"),
    ("steady-disc-warm-rim", "flat disc at rest, warm air around the rim: share of its warmth"),
    ("thin-disc-lag", "thin disc, films in two zones, falling air: lag"),
    ("curved-disc-excess", "curved disc, finite elements: temperature above the air"),
];

const STEP: f64 = 10.0;
const AIR: f64 = 5.0;
const HOUR: f64 = 3600.0;
/// Long enough for every disc of the table to have forgotten its start.
const SETTLED: f64 = 40.0 * HOUR;
/// Thick enough that the earliest row comes after five minutes.
const THICK: f64 = 0.12;

/// A body, and how the value of the row follows from its temperature above the air.
struct Experiment {
    case: Case,
    /// Time, radius, height above the back.
    probe: (f64, f64, f64),
    /// Value of the row for an excess [K].
    value: fn(f64) -> f64,
    /// Kelvins for one unit of the value.
    kelvins: f64,
    rim_is_warm: bool,
}

fn even(film: f64) -> Vec<(f64, f64)> {
    vec![(0.0, film)]
}

fn glass_of(row: &Row) -> Case {
    let mut case = Case::flat();
    let mut set = |name: &str, field: fn(&mut Case) -> &mut f64| {
        if row.has(name) {
            *field(&mut case) = row.input(name);
        }
    };
    set("density", |case| &mut case.density);
    set("specific_heat", |case| &mut case.specific_heat);
    set("conductivity", |case| &mut case.conductivity);
    set("diameter", |case| &mut case.diameter_m);
    set("thickness", |case| &mut case.edge_thickness_m);
    case
}

fn step(mut case: Case, probe: (f64, f64, f64)) -> Experiment {
    case.start_c = AIR + STEP;
    case.air = even(AIR);
    case.duration_s = probe.0;
    Experiment { case, probe, value: |excess| excess / STEP, kelvins: STEP, rim_is_warm: false }
}

fn settled(mut case: Case, radius: f64, height: f64) -> Experiment {
    case.start_c = 41.5;
    case.air = vec![(0.0, 40.0), (SETTLED, 0.0)];
    case.duration_s = SETTLED;
    let probe = (SETTLED, radius, height);
    Experiment { case, probe, value: |excess| excess, kelvins: 1.0, rim_is_warm: false }
}

fn plate_step(row: &Row) -> Experiment {
    let mut case = Case { edge_thickness_m: THICK, ..Case::flat() };
    let diffusivity = case.conductivity / (case.density * case.specific_heat);
    if row.quantity == "slab-excess" {
        let half = 0.5 * THICK;
        let film = even(row.input("biot") * case.conductivity / half);
        (case.front, case.back) = (film.clone(), film);
        let time = row.input("fourier") * half * half / diffusivity;
        return step(case, (time, 0.05, half + row.input("position") * half));
    }
    let film = |biot: &str| even(row.input(biot) / THICK);
    (case.back, case.front) = (film("biot_back"), film("biot_front"));
    let time = row.input("fourier") * THICK * THICK / diffusivity;
    step(case, (time, 0.11, row.input("position") * THICK))
}

fn rod_step(row: &Row) -> Experiment {
    let mut case = Case::flat();
    let radius = 0.5 * case.diameter_m;
    case.rim = even(row.input("biot") * case.conductivity / radius);
    let diffusivity = case.conductivity / (case.density * case.specific_heat);
    let time = row.input("fourier") * radius * radius / diffusivity;
    step(case, (time, row.input("position") * radius, 0.02))
}

fn thick_plate(row: &Row) -> Experiment {
    let mut case = Case { edge_thickness_m: THICK, ..glass_of(row) };
    case.front = even(row.input("film"));
    let taken = step(case, (row.input("time"), 0.07, THICK - row.input("depth")));
    Experiment { value: |excess| 1.0 - excess / STEP, ..taken }
}

fn falling_plate(row: &Row) -> Experiment {
    let mut case = glass_of(row);
    let thickness = case.edge_thickness_m;
    if row.has("film") {
        (case.front, case.back) = (even(row.input("film")), even(row.input("film")));
    } else {
        (case.back, case.front) = (even(row.input("film_back")), even(row.input("film_front")));
    }
    match row.quantity.as_str() {
        "falling-slab-lag-surface" => settled(case, 0.1, thickness),
        "falling-slab-lag-centre" => settled(case, 0.1, 0.5 * thickness),
        "falling-asymmetric-slab-lag" => settled(case, 0.13, row.input("position") * thickness),
        _ => {
            let time = row.input("time");
            let height = 0.5 * thickness * (1.0 + row.input("position"));
            let mut begun = settled(case, 0.05, height);
            begun.case.start_c = 20.0;
            begun.case.air = vec![(0.0, 20.0), (time, 20.0 - row.input("fall") * time / HOUR)];
            begun.case.duration_s = time;
            begun.probe.0 = time;
            begun
        }
    }
}

fn disc(row: &Row) -> Experiment {
    let mut case = glass_of(row);
    let film = |name: &str| even(row.input(name));
    (case.front, case.back, case.rim) = (film("film_faces"), film("film_faces"), film("film_rim"));
    let (radius, height) = (row.input("radius"), row.input("height"));
    match row.quantity.as_str() {
        "finite-cylinder-excess" => step(case, (row.input("time"), radius, height)),
        "falling-disc-lag" => settled(case, radius, height),
        _ => {
            // Rest does not depend on what is stored; little of it comes to rest sooner.
            case.density = 250.0;
            let mut rest = step(case, (4.0 * HOUR, radius, height));
            rest.case.start_c = AIR;
            Experiment { rim_is_warm: true, ..rest }
        }
    }
}

fn thin_disc(row: &Row) -> Experiment {
    let mut case = glass_of(row);
    case.specific_heat = row.input("heat_capacity") / case.density;
    let border = row.input("border");
    // Half of the sum of both films on each face.
    let (inside, outside) = (0.5 * row.input("films_inside"), 0.5 * row.input("films_outside"));
    case.front = vec![(0.0, inside), (border, inside), (border, outside)];
    case.back.clone_from(&case.front);
    settled(case, row.input("radius"), 0.0)
}

fn curved(row: &Row) -> Experiment {
    let mut case = glass_of(row);
    let film = |name: &str| even(row.input(name));
    (case.back, case.front, case.rim) = (film("film_back"), film("film_front"), film("film_rim"));
    let focal_ratio = row.input("focal_ratio");
    case.focal_ratio = Some(focal_ratio);
    let (outer, edge) = (0.5 * case.diameter_m, case.edge_thickness_m);
    let centre = edge - outer * outer / (4.0 * focal_ratio * case.diameter_m);
    let (radius, height) = match row.word("place") {
        "back-centre" => (0.0, 0.0),
        "back-edge" => (outer, 0.0),
        "front-centre" => (0.0, centre),
        "front-edge" => (outer, edge),
        "mid-centre" => (0.0, 0.5 * centre),
        other => panic!("no place `{other}`"),
    };
    if !row.has("step") {
        return settled(case, radius, height);
    }
    assert!((row.input("step") - STEP).abs() < 1e-9, "steps of the table are of 10 K");
    let left = step(case, (row.input("time"), radius, height));
    Experiment { value: |excess| excess, kelvins: 1.0, ..left }
}

fn experiment(row: &Row) -> Experiment {
    match row.quantity.as_str() {
        "slab-excess" | "asymmetric-slab-excess" => plate_step(row),
        "cylinder-excess" => rod_step(row),
        "semi-infinite-change" => thick_plate(row),
        "finite-cylinder-excess" | "falling-disc-lag" | "steady-disc-warm-rim" => disc(row),
        "thin-disc-lag" => thin_disc(row),
        "curved-disc-excess" => curved(row),
        _ => falling_plate(row),
    }
}

impl Experiment {
    fn scenario(&self) -> Scenario {
        let mut scenario = self.case.scenario();
        if self.rim_is_warm {
            let Film::Given { air_offset, .. } = &mut scenario.rim.film else {
                panic!("the rim's film is given")
            };
            *air_offset = TemperatureDifference::from_kelvins(STEP);
        }
        scenario
    }

    fn ours(&self, accuracy: Accuracy) -> f64 {
        let kelvin = temperatures(&self.scenario(), &[self.probe], accuracy)[0];
        let air = self.case.air[self.case.air.len() - 1].1;
        (self.value)(Temperature::from_kelvin(kelvin).celsius() - air)
    }

    /// What the program promises or the row's source is good for [mK].
    fn allowed(&self, row: &Row, accuracy: Accuracy) -> f64 {
        let promise = accuracy.per_ten_kelvin();
        let lag = row.quantity.contains("lag") || !(row.has("step") || self.kelvins > 1.0);
        let promise = if lag { promise / 10.0 * row.value } else { promise };
        // The fin equation has one temperature through the thickness (`against_series.rs`).
        let own = if row.quantity == "thin-disc-lag" { 0.02 } else { row.tolerance_rel };
        1e3 * promise.max(own * row.value.abs() * self.kelvins)
    }
}

fn comparison(row: &Row, words: &str, source: &str) -> Comparison {
    let experiment = experiment(row);
    let gap = |ours: f64| 1e3 * experiment.kelvins * (ours - row.value);
    let ours = experiment.ours(Accuracy::Default);
    let fine = gap(experiment.ours(Accuracy::Fine));
    let digits = if experiment.kelvins > 1.0 { 5 } else { 4 };
    Comparison {
        quantity: words.to_owned(),
        inputs: row.inputs.replace(' ', ", ").replace('_', " "),
        source: source.to_owned(),
        published: format!("{:.digits$}", row.value),
        ours: format!("{ours:.digits$}"),
        gap: gap(ours),
        allowed: experiment.allowed(row, Accuracy::Default),
        fine: Some((fine, experiment.allowed(row, Accuracy::Fine))),
        unit: "mK",
    }
}

/// Source of each quantity, as the table names it.
fn source(quantity: &str) -> String {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(data("conduction.csv"))
        .expect("the table is in the repository");
    let mut records = reader.records().map(|record| record.expect("the table is well formed"));
    records.find(|record| &record[0] == quantity).expect("the quantity is there")[4].to_owned()
}

/// Every row of the table that is a temperature of glass from five minutes on.
pub(crate) fn compared() -> Vec<Comparison> {
    let mut compared = vec![];
    for (quantity, words) in QUANTITIES {
        let source = source(quantity);
        let settled = |row: &&Row| !row.has("time") || row.input("time") >= 300.0;
        let rows = rows(quantity);
        compared.extend(rows.iter().filter(settled).map(|row| comparison(row, words, &source)));
    }
    compared
}
