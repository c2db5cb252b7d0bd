//! Dew and frost on primary and secondary: what the night did, and what would prevent it.
//!
//! Margins stand in the history; here are the films of water or ice, when they fog, and the
//! numbers behind an advice. Equations: docs/physics/dew.md.

mod indoors;
mod log;
mod primary;
pub mod remedy;

pub use indoors::Indoors;
pub(crate) use log::MirrorLog;
pub use log::{FOG_G_M2, MirrorDew};
pub(crate) use primary::Primary;
pub use remedy::Remedies;

use evenglass_scenario::{Profile, Scenario, Side};
use evenglass_units::Temperature;

use evenglass_materials::moist_air::wetting_point;

use crate::secondary::Secondary;

/// Dew and frost of one night, of which the humidity was known.
#[derive(Debug, Clone, PartialEq)]
pub struct DewNight {
    /// The primary's front.
    pub primary: MirrorDew,
    /// The secondary's face; `None` without one.
    pub secondary: Option<MirrorDew>,
    /// What happens to the primary when it is carried indoors uncovered at the end.
    pub indoors: Indoors,
}

impl DewNight {
    pub(crate) fn of(
        scenario: &Scenario,
        primary: Primary<'_>,
        secondary: Option<Secondary<'_>>,
        glass: Temperature,
    ) -> Self {
        let target = scenario.good.dew_margin.kelvins();
        let of_secondary = |secondary: Secondary<'_>| {
            let (log, worst) = secondary.finish(target);
            let warming_k = target - log.worst_margin();
            let remedies = worst.map(|worst| Remedies {
                film_now: worst.film,
                film_needed: remedy::film_needed(worst.radiated, worst.air_margin, target),
                warming_k,
                heater_w: Some(worst.heater),
                foil_margin_k: Some(worst.with_foil),
            });
            log.finish(remedies)
        };
        Self {
            primary: primary.finish(target),
            secondary: secondary.map(of_secondary),
            indoors: Indoors::of(&scenario.mirror, glass),
        }
    }

    /// The mirror of the smaller margin.
    #[must_use]
    pub fn driest_last(&self) -> (Mirror, &MirrorDew) {
        match &self.secondary {
            Some(secondary) if secondary.worst_margin_k < self.primary.worst_margin_k => {
                (Mirror::Secondary, secondary)
            }
            _ => (Mirror::Primary, &self.primary),
        }
    }
}

/// Which mirror.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mirror {
    /// The primary.
    Primary,
    /// The secondary.
    Secondary,
}

/// The dew point, or below 0 °C the frost point, of a night's air at a time \[s\]: of the air
/// outside and, its vapour being the same, of that in a tube or below a cover (eq. D-5).
pub(crate) fn wetting(dew_point: Option<&Profile>, time: f64, side: Side) -> Temperature {
    let dew = dew_point.map_or(f64::NAN, |dew| dew.at(time, side));
    if dew.is_nan() {
        return Temperature::from_kelvin(f64::NAN);
    }
    wetting_point(Temperature::from_kelvin(dew))
}
