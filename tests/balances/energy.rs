//! Heat lost and heat stored cancel, whatever the glass, the films and the steps.

use std::fmt::Write as _;
use std::path::Path;

use evenglass_disc::Resolution;
use evenglass_simulation::scenario::{Scenario, parse};
use evenglass_simulation::simulate;
use proptest::prelude::*;

/// What design and documents promise, of the heat exchanged.
const PROMISED: f64 = 1e-9;

/// One mirror and night, as a maker would write it.
#[derive(Debug, Clone)]
struct Draft {
    diameter_mm: f64,
    /// Thickness over diameter.
    aspect: f64,
    focal_ratio: Option<f64>,
    hole: bool,
    glass: &'static str,
    glass_c: f64,
    air_c: f64,
    rate: f64,
    front: &'static str,
    back: &'static str,
    rim: &'static str,
    speeds: [f64; 2],
}

const GLASSES: [&str; 5] =
    ["soda-lime", "borosilicate", "low-expansion-borosilicate", "fused-silica", "glass-ceramic"];

const FRONTS: [&str; 3] = [
    "film = { kind = \"still\" }",
    "film = { kind = \"breeze\", shelter = 0.4 }",
    "film = { kind = \"given\", radius = [\"0 mm\", \"31 mm\", \"31 mm\"], coefficient = [\"25 W/m2K\", \"20 W/m2K\", \"4 W/m2K\"], factor = { time = [\"0 h\", \"0.7 h\", \"0.7 h\"], value = [1, 1, 0.3] } }\nradiation = { emissivity = 0.84, surroundings = { time = [\"0 h\", \"2 h\"], temperature = [\"-20 degC\", \"-30 degC\"] } }",
];

const BACKS: [&str; 3] = [
    "film = { kind = \"still\" }",
    "film = { kind = \"fan-behind\", fan_diameter = \"60 mm\", hub_diameter = \"20 mm\", distance = \"30 mm\", flow = \"9 L/s\", cell = \"open\" }",
    "film = { kind = \"given\", coefficient = \"12 W/m2K\", air_offset = \"1.5 K\" }\ninsulation = { thickness = \"4 mm\", conductivity = \"0.04 W/m/K\" }",
];

const RIMS: [&str; 3] = [
    "film = { kind = \"still\" }",
    "film = { kind = \"still\" }\ninsulation = { thickness = \"6 mm\", conductivity = \"0.035 W/m/K\" }",
    "film = { kind = \"given\", height = [\"0 mm\", \"3 mm\", \"3 mm\"], coefficient = [\"0 W/m2K\", \"0 W/m2K\", \"30 W/m2K\"] }",
];

impl Draft {
    fn text(&self) -> String {
        let mut text = format!(
            "[mirror]\ndiameter = \"{} mm\"\nedge_thickness = \"{} mm\"\nglass = \"{}\"\n",
            self.diameter_mm,
            self.diameter_mm * self.aspect,
            self.glass
        );
        if let Some(ratio) = self.focal_ratio {
            writeln!(text, "focal_ratio = {ratio}").unwrap();
        }
        if self.hole {
            writeln!(text, "hole_diameter = \"{} mm\"", 0.2 * self.diameter_mm).unwrap();
        }
        write!(
            text,
            "[night]\nstart = \"20:00\"\nduration = \"2 h\"\nglass_temperature = \"{} degC\"\n\
             air = {{ kind = \"falling\", from = \"{} degC\", rate = \"{} K/h\" }}\n\
             wind = \"2 m/s\"\nfan_speed = {}\n\
             [[event]]\nat = \"0.9 h\"\nfan_speed = {}\n\
             [front]\n{}\n[back]\n{}\n[rim]\n{}\n",
            self.glass_c,
            self.air_c,
            self.rate,
            self.speeds[0],
            self.speeds[1],
            self.front,
            self.back,
            self.rim
        )
        .unwrap();
        text
    }

    fn scenario(&self) -> Scenario {
        let text = self.text();
        parse("draft.toml", &text, Path::new(""), &[])
            .unwrap_or_else(|error| panic!("{text}\n{:?}", error.faults))
    }
}

fn drafts() -> impl Strategy<Value = Draft> {
    let shape = (
        prop::sample::select(vec![152.0, 203.0, 406.0, 800.0]),
        0.08_f64..0.25,
        prop::option::of(3.0_f64..8.0),
        any::<bool>(),
    );
    let night =
        (prop::sample::select(GLASSES.to_vec()), -10.0_f64..35.0, -15.0_f64..30.0, -3.0_f64..0.0);
    let faces = (
        prop::sample::select(FRONTS.to_vec()),
        prop::sample::select(BACKS.to_vec()),
        prop::sample::select(RIMS.to_vec()),
    );
    (shape, night, faces, [0.0_f64..1.0, 0.0_f64..1.0]).prop_map(
        |(shape, night, (front, back, rim), speeds)| {
            let (diameter_mm, aspect, focal_ratio, hole) = shape;
            let (glass, glass_c, air_c, rate) = night;
            Draft {
                diameter_mm,
                aspect,
                focal_ratio,
                hole,
                glass,
                glass_c,
                air_c,
                rate,
                front,
                back,
                rim,
                speeds,
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn heat_lost_and_stored_cancel_in_every_night(draft in drafts()) {
        let night = simulate(&draft.scenario(), &Resolution::default())
            .map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert!(
            night.energy.residual <= PROMISED,
            "residual {:e}, lost {} J, stored {} J\n{}",
            night.energy.residual, night.energy.lost_j, night.energy.stored_j, draft.text()
        );
        // A balance of nothing would close too.
        prop_assert!(night.energy.lost_j.abs() > 1.0, "{} J", night.energy.lost_j);
        let last = night.history.last().expect("a night has rows");
        prop_assert_eq!(last.heat_lost_j.to_bits(), night.energy.lost_j.to_bits());
    }
}

/// The heat a night reports against its own temperatures: mass × stored heat of the
/// glass's law, at the mean temperature. Rounds the balance off from outside the solver.
#[test]
fn the_heat_lost_is_what_the_mean_temperature_says() {
    let draft = Draft {
        diameter_mm: 406.0,
        aspect: 0.1,
        focal_ratio: None,
        hole: false,
        glass: "soda-lime",
        glass_c: 25.0,
        air_c: 5.0,
        rate: -1.0,
        front: FRONTS[0],
        back: BACKS[1],
        rim: RIMS[0],
        speeds: [1.0, 0.3],
    };
    let scenario = draft.scenario();
    let night = simulate(&scenario, &Resolution::default()).unwrap();
    let glass = &scenario.mirror.glass;
    let volume = std::f64::consts::PI * 0.203_f64.powi(2) * 0.0406;
    let mass = volume * glass.density.kg_per_m3();
    let mean = night.history.last().unwrap().mean.celsius();
    let expected = mass * (glass.heat.stored_heat(25.0) - glass.heat.stored_heat(mean));
    let relative = (night.energy.lost_j / expected - 1.0).abs();
    // The specific heat changes by a fifth of a percent per kelvin, and the glass differs
    // from its mean by less than 3 K: the mean of the law is the law of the mean to 1e-4.
    assert!(relative < 1e-4, "lost {} J, expected {expected} J", night.energy.lost_j);
}
