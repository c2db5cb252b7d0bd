//! Mirrors with constant glass and written-down films, built without a text.

use std::path::Path;

use evenglass_materials::{Glass, SpecificHeatLaw};
use evenglass_simulation::scenario::scenario::{Face, Film};
use evenglass_simulation::scenario::{Profile, Scenario, parse};
use evenglass_units::{
    Conductivity, Density, Duration, Length, Temperature, TemperatureDifference,
};

/// Points of a table: (position or time, value).
pub(crate) type Points = Vec<(f64, f64)>;

/// A scenario with given films and no radiation. Lengths in m, films in W m⁻² K⁻¹.
#[derive(Debug, Clone)]
pub(crate) struct Case {
    pub(crate) diameter_m: f64,
    pub(crate) edge_thickness_m: f64,
    pub(crate) focal_ratio: Option<f64>,
    pub(crate) hole_m: Option<f64>,
    pub(crate) density: f64,
    pub(crate) specific_heat: f64,
    pub(crate) conductivity: f64,
    pub(crate) start_c: f64,
    /// (time [s], °C)
    pub(crate) air: Points,
    /// (radius, film)
    pub(crate) front: Points,
    /// (radius, film)
    pub(crate) back: Points,
    /// (height above the back, film)
    pub(crate) rim: Points,
    /// (height above the back, film); unused without a hole
    pub(crate) hole: Points,
    pub(crate) duration_s: f64,
}

/// Any scenario will do: everything that matters is replaced.
const BLANK: &str = r#"
[mirror]
diameter = "400 mm"
edge_thickness = "50 mm"
glass = "soda-lime"
[night]
start = "20:00"
duration = "1 h"
glass_temperature = "10 degC"
air = { kind = "steady", temperature = "10 degC" }
"#;

impl Case {
    /// A flat disc of 400 by 50 mm without any film, at 0 °C in air of 0 °C.
    pub(crate) fn flat() -> Self {
        let sealed = vec![(0.0, 0.0)];
        Self {
            diameter_m: 0.4,
            edge_thickness_m: 0.05,
            focal_ratio: None,
            hole_m: None,
            density: 2500.0,
            specific_heat: 720.0,
            conductivity: 1.0,
            start_c: 0.0,
            air: vec![(0.0, 0.0)],
            front: sealed.clone(),
            back: sealed.clone(),
            rim: sealed.clone(),
            hole: sealed,
            duration_s: 3600.0,
        }
    }

    /// The case as the program sees it.
    pub(crate) fn scenario(&self) -> Scenario {
        let mut scenario =
            parse("case.toml", BLANK, Path::new(""), &[]).expect("the blank is valid");
        let length = Length::from_metres;
        scenario.mirror.diameter = length(self.diameter_m);
        scenario.mirror.edge_thickness = length(self.edge_thickness_m);
        scenario.mirror.focal_ratio = self.focal_ratio;
        scenario.mirror.hole_diameter = self.hole_m.map(length);
        scenario.mirror.glass = Glass {
            name: "custom".to_owned(),
            density: Density::from_kg_per_m3(self.density),
            heat: SpecificHeatLaw::constant(self.specific_heat),
            conductivity: Conductivity::from_w_per_m_k(self.conductivity),
            conductivity_slope: 0.0,
            ..scenario.mirror.glass
        };
        scenario.night.duration = Duration::from_seconds(self.duration_s);
        scenario.night.glass_temperature = Temperature::from_celsius(self.start_c);
        scenario.night.stress_free_temperature = scenario.night.glass_temperature;
        let kelvin =
            |&(time, celsius): &(f64, f64)| (time, Temperature::from_celsius(celsius).kelvin());
        scenario.night.air = profile(&self.air.iter().map(kelvin).collect::<Vec<_>>());
        scenario.front = face(&self.front);
        scenario.back = face(&self.back);
        scenario.rim = face(&self.rim);
        scenario.hole = self.hole_m.map(|_| face(&self.hole));
        scenario
    }
}

/// A table through points.
pub(crate) fn profile(points: &[(f64, f64)]) -> Profile {
    let (position, value) = points.iter().copied().unzip();
    Profile::new(position, value)
}

fn face(film: &[(f64, f64)]) -> Face {
    Face {
        film: Film::Given {
            coefficient: profile(film),
            factor: Profile::constant(1.0),
            air_offset: TemperatureDifference::from_kelvins(0.0),
        },
        radiation: None,
        insulation: None,
        uneven: Vec::new(),
        film_factor: 1.0,
    }
}
