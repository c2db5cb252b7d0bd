//! What is not known of a night.

use evenglass_scenario::Scenario;
use evenglass_scenario::scenario::{Face, Film};
use evenglass_scenario::ventilation::{Arrangement, FanData, System};

/// Something a night depends on that is known only within a spread.
///
/// The order is that of the dimensions in which draws are made: new ones go to the end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unknown {
    /// Heat stored per mass.
    SpecificHeat,
    /// Conduction in the glass.
    Conductivity,
    /// Expansion of the glass.
    Expansion,
    /// Film on the back.
    BackFilm,
    /// Film on the front.
    FrontFilm,
    /// Film on the rim.
    RimFilm,
    /// Radiation of back and rim.
    BackEmissivity,
    /// Radiation of the front.
    FrontEmissivity,
    /// What the fans deliver against the resistance.
    FanFlow,
    /// Width of the slot of a ring nozzle.
    SlotWidth,
    /// Temperature of the glass at the start.
    StartTemperature,
    /// Level of the night air.
    AirLevel,
    /// How fast the night air falls.
    AirFall,
    /// Moisture of the air at the telescope.
    DewPoint,
    /// Wind at the telescope.
    Wind,
    /// What warm air costs the image.
    Shimmer,
}

impl Unknown {
    /// All of them.
    pub const ALL: [Self; 16] = [
        Self::SpecificHeat,
        Self::Conductivity,
        Self::Expansion,
        Self::BackFilm,
        Self::FrontFilm,
        Self::RimFilm,
        Self::BackEmissivity,
        Self::FrontEmissivity,
        Self::FanFlow,
        Self::SlotWidth,
        Self::StartTemperature,
        Self::AirLevel,
        Self::AirFall,
        Self::DewPoint,
        Self::Wind,
        Self::Shimmer,
    ];

    /// The dimension it is drawn in.
    pub(super) fn dimension(self) -> u32 {
        self as u32
    }

    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::SpecificHeat => "specific heat of the glass",
            Self::Conductivity => "conductivity of the glass",
            Self::Expansion => "expansion of the glass",
            Self::BackFilm => "film on the back",
            Self::FrontFilm => "film on the front",
            Self::RimFilm => "film on the rim",
            Self::BackEmissivity => "emissivity of back and rim",
            Self::FrontEmissivity => "emissivity of the front",
            Self::FanFlow => "flow of the fans",
            Self::SlotWidth => "width of the slot",
            Self::StartTemperature => "temperature of the glass at the start",
            Self::AirLevel => "level of the night air",
            Self::AirFall => "fall of the night air",
            Self::DewPoint => "moisture of the air",
            Self::Wind => "wind",
            Self::Shimmer => "what warm air costs the image",
        }
    }

    /// How a maker finds out.
    #[must_use]
    pub fn advice(self) -> &'static str {
        match self {
            Self::SpecificHeat => "weigh the glass and measure it: the density names the glass",
            Self::Conductivity => "name the glass; a sensor on either face while it cools tells",
            Self::Expansion => "name the glass, or ask its maker",
            Self::BackFilm => "log the back's centre and the air behind it for one cooling",
            Self::FrontFilm => "log the front's rim and the air over it for one cooling",
            Self::RimFilm => "log the rim under a scrap of foam and the air beside it",
            Self::BackEmissivity => "look: bare ground glass, paint or foil",
            Self::FrontEmissivity => "clean the front; a fresh coating radiates least",
            Self::FanFlow => "time how long the outlet takes to fill a bag of known volume",
            Self::SlotWidth => "feel the slot with a gauge at eight places",
            Self::StartTemperature => "tape a sensor to the back under foam before the start",
            Self::AirLevel => "hang a thermometer in the shade at the telescope",
            Self::AirFall => "log the air of a few nights at the telescope",
            Self::DewPoint => "measure humidity at the telescope, not at the airport",
            Self::Wind => "hold an anemometer at the tube's mouth",
            Self::Shimmer => "look at a star out of focus with the fans on and off",
        }
    }

    /// One standard deviation: of the logarithm of a factor, or in kelvins for temperatures
    /// and in K/h for the fall of the air.
    ///
    /// Films: the laws' own, docs/physics/convection.md; the others: docs/physics/doubt.md.
    #[must_use]
    pub fn sigma(self, scenario: &Scenario) -> f64 {
        match self {
            Self::SpecificHeat => named(scenario, 0.03, 0.02),
            Self::Conductivity => named(scenario, 0.06, 0.04),
            Self::Expansion => named(scenario, 0.04, 0.03),
            Self::BackFilm => film(scenario, &scenario.back),
            Self::FrontFilm => film(scenario, &scenario.front),
            Self::RimFilm => film(scenario, &scenario.rim),
            Self::BackEmissivity => 0.04,
            Self::FrontEmissivity => 0.40,
            Self::FanFlow => fans(scenario),
            Self::SlotWidth => 0.10,
            Self::StartTemperature | Self::AirLevel => 0.5,
            Self::AirFall => 0.15,
            Self::DewPoint => 1.0,
            Self::Wind => 0.35,
            Self::Shimmer => 0.45,
        }
    }

    /// Whether it acts in a scenario.
    fn acts(self, scenario: &Scenario) -> bool {
        let systems = || {
            let ventilation = scenario.ventilation.as_ref();
            ventilation.into_iter().flat_map(|v| [Some(&v.main), v.second.as_ref()]).flatten()
        };
        let radiates = |face: &Face| face.radiation.is_some();
        match self {
            Self::FanFlow => {
                systems().any(|system| system.fans.is_some())
                    || matches!(scenario.back.film, Film::FanBehind(_))
            }
            Self::SlotWidth => {
                systems().any(|s| matches!(s.arrangement, Arrangement::RingNozzle(_)))
            }
            Self::BackEmissivity => radiates(&scenario.back) || radiates(&scenario.rim),
            Self::FrontEmissivity => radiates(&scenario.front),
            Self::DewPoint => scenario.night.dew_point.is_some(),
            Self::Wind => scenario.night.wind.is_some(),
            _ => true,
        }
    }
}

/// The unknowns that act in a scenario.
#[must_use]
pub fn applying(scenario: &Scenario) -> Vec<Unknown> {
    Unknown::ALL.into_iter().filter(|unknown| unknown.acts(scenario)).collect()
}

/// A glass of which only the name is known, or one whose constants its author gave.
fn named(scenario: &Scenario, named: f64, given: f64) -> f64 {
    if scenario.mirror.glass.name == "custom" { given } else { named }
}

fn film(scenario: &Scenario, face: &Face) -> f64 {
    match (&face.film, &scenario.ventilation) {
        // Whoever writes a film has fitted or assumed it.
        (Film::Given { .. }, _) => 0.10,
        (_, Some(_)) | (Film::Breeze { .. }, None) => 0.25,
        (Film::FanBehind(_), None) => 0.30,
        (Film::Still, None) => 0.15,
    }
}

fn fans(scenario: &Scenario) -> f64 {
    let data = |system: &System| system.fans.as_ref().map(|fans| fans.curve.clone());
    match scenario.ventilation.as_ref().and_then(|ventilation| data(&ventilation.main)) {
        Some(FanData::Points(_)) => 0.08,
        Some(FanData::Ends { .. }) | None => 0.20,
    }
}
