//! Damp nights.

use std::path::Path;

use evenglass_scenario::{Scenario, parse};
use evenglass_simulation::result::Record;
use evenglass_simulation::{Night, Resolution, simulate};

/// A calm clear night of steady air at a humidity, a 250 mm mirror in a
/// tube of bare metal, which stays near the air, with a secondary
/// whose table is written so far; `more` are further lines for [night] and sections after it.
pub(crate) struct Damp<'a> {
    pub(crate) air: &'a str,
    pub(crate) humidity: f64,
    pub(crate) secondary: &'a str,
    pub(crate) night: &'a str,
    pub(crate) more: &'a str,
}

impl Damp<'_> {
    pub(crate) const BARE: &'static str = "diameter = '60 mm', distance = '1.0 m'";

    pub(crate) fn text(&self) -> String {
        format!(
            "[mirror]\ndiameter = '250 mm'\nedge_thickness = '35 mm'\nfocal_ratio = 5.0\n\
             glass = 'borosilicate'\n\
             [night]\nstart = '20:00'\nduration = '6 h'\nglass_temperature = '{air}'\n\
             air = {{ kind = 'steady', temperature = '{air}' }}\nrelative_humidity = {humidity}\n\
             wind = '0 m/s'\ncloud = 0.0\n{night}\n\
             [telescope]\nform = 'tube'\nclearance = '20 mm'\nlength = '1.15 m'\n\
             wall = {{ material = 'aluminium', thickness = '1 mm', emissivity = 0.1 }}\n\
             secondary = {{ {secondary} }}\n{more}\n",
            air = self.air,
            humidity = self.humidity,
            night = self.night,
            secondary = self.secondary,
            more = self.more
        )
    }

    pub(crate) fn scenario(&self) -> Scenario {
        let text = self.text();
        parse("damp.toml", &text, Path::new(""), &[])
            .unwrap_or_else(|error| panic!("{:?}\n{text}", error.faults))
    }

    pub(crate) fn run(&self) -> Night {
        simulate(&self.scenario(), &usual()).expect("a checked scenario can be computed")
    }
}

/// A clear calm night of 10 °C.
pub(crate) fn damp(humidity: f64) -> Damp<'static> {
    Damp { air: "10 degC", humidity, secondary: Damp::BARE, night: "", more: "" }
}

/// As a maker would run it.
pub(crate) fn usual() -> Resolution {
    Resolution::default()
}

pub(crate) fn last(night: &Night) -> &Record {
    night.history.last().expect("a night has an end")
}
