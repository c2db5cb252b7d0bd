//! What a number can measure: the nouns and examples of messages.

use crate::spelling::{Dimensions, symbols};

/// A kind of quantity: what it is called, and how one may be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kind {
    noun: &'static str,
    examples: &'static str,
    dimensions: Dimensions,
    scale: Scale,
}

/// How a number of the kind relates to its unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Scale {
    /// Multiplied by the unit's size.
    Ratio,
    /// Multiplied, and several parts may be added: "1 h 30 min".
    Sum,
    /// Multiplied; a double quote means seconds of arc, not inches.
    Arc,
    /// Multiplied and shifted: 0 °C is 273.15 K.
    Shifted,
}

impl Kind {
    /// A distance \[m\].
    pub const LENGTH: Self = kind("a length", "\"24 in\" or \"610 mm\"", [1, 0, 0, 0, 0, 0, 0]);
    /// A span of time \[s\].
    pub const DURATION: Self = Self {
        scale: Scale::Sum,
        ..kind("a duration", "\"90 min\" or \"1 h 30 min\"", [0, 0, 1, 0, 0, 0, 0])
    };
    /// A thermodynamic temperature \[K\].
    pub const TEMPERATURE: Self = Self {
        scale: Scale::Shifted,
        ..kind("a temperature", "\"20 degC\" or \"68 degF\"", [0, 0, 0, 1, 0, 0, 0])
    };
    /// A difference of two temperatures \[K\].
    pub const TEMPERATURE_DIFFERENCE: Self =
        kind("a temperature difference", "\"0.5 K\" or \"0.9 degF\"", [0, 0, 0, 1, 0, 0, 0]);
    /// Change of temperature per time [K/s].
    pub const TEMPERATURE_RATE: Self =
        kind("a rate of temperature", "\"-1.5 K/h\" or \"-2.7 degF/h\"", [0, 0, -1, 1, 0, 0, 0]);
    /// Heat per area and kelvin [W m⁻² K⁻¹].
    pub const FILM_COEFFICIENT: Self =
        kind("a film coefficient", "\"8 W/m2/K\"", [0, 1, -3, -1, 0, 0, 0]);
    /// Volume per time [m³/s].
    pub const VOLUME_RATE: Self =
        kind("a flow", "\"60 cfm\" or \"100 m3/h\"", [3, 0, -1, 0, 0, 0, 0]);
    /// A speed [m/s].
    pub const SPEED: Self = kind("a speed", "\"2 m/s\" or \"5 mph\"", [1, 0, -1, 0, 0, 0, 0]);
    /// A pressure or a modulus \[Pa\].
    pub const PRESSURE: Self =
        kind("a pressure", "\"1013 hPa\", \"29.92 inHg\" or \"70 GPa\"", [-1, 1, -2, 0, 0, 0, 0]);
    /// Mass per volume [kg m⁻³].
    pub const DENSITY: Self =
        kind("a density", "\"2500 kg/m3\" or \"2.5 g/cm3\"", [-3, 1, 0, 0, 0, 0, 0]);
    /// Heat per mass and kelvin [J kg⁻¹ K⁻¹].
    pub const SPECIFIC_HEAT: Self =
        kind("a specific heat", "\"720 J/kg/K\"", [2, 0, -2, -1, 0, 0, 0]);
    /// Thermal conductivity [W m⁻¹ K⁻¹].
    pub const CONDUCTIVITY: Self =
        kind("a thermal conductivity", "\"1.0 W/m/K\"", [1, 1, -3, -1, 0, 0, 0]);
    /// Linear thermal expansion [K⁻¹].
    pub const EXPANSION: Self =
        kind("a thermal expansion", "\"9.0e-6 /K\"", [0, 0, 0, -1, 0, 0, 0]);
    /// An area \[m²\].
    pub const AREA: Self = kind("an area", "\"500 cm2\" or \"80 in2\"", [2, 0, 0, 0, 0, 0, 0]);
    /// Energy per time \[W\].
    pub const POWER: Self = kind("a power", "\"1.5 W\"", [2, 1, -3, 0, 0, 0, 0]);
    /// An electric voltage \[V\].
    pub const VOLTAGE: Self = kind("a voltage", "\"12 V\"", [2, 1, -3, 0, 0, -1, 0]);
    /// A sound level, over 20 µPa or 1 pW as the context says \[dB\].
    pub const SOUND_LEVEL: Self = kind("a sound level", "\"24 dB\"", [0, 0, 0, 0, 0, 0, 1]);
    /// A plane angle \[rad\].
    pub const ANGLE: Self = Self {
        scale: Scale::Arc,
        ..kind("an angle", "\"45 deg\" or \"0.5 arcsec\"", [0, 0, 0, 0, 1, 0, 0])
    };

    /// With its article: "a flow".
    #[must_use]
    pub const fn noun(&self) -> &'static str {
        self.noun
    }

    /// Values an author could have written, quoted.
    #[must_use]
    pub const fn examples(&self) -> &'static str {
        self.examples
    }

    /// The simple units that measure this kind, for suggestions; compound ones are not listed.
    pub fn symbols(&self) -> impl Iterator<Item = &'static str> {
        symbols(self.dimensions)
    }

    pub(crate) const fn dimensions(&self) -> Dimensions {
        self.dimensions
    }

    pub(crate) const fn scale(&self) -> Scale {
        self.scale
    }
}

/// Every simple unit the parser reads, for suggestions.
pub fn all_symbols() -> impl Iterator<Item = &'static str> {
    symbols([0; 7])
}

const fn kind(noun: &'static str, examples: &'static str, dimensions: Dimensions) -> Kind {
    Kind { noun, examples, dimensions, scale: Scale::Ratio }
}

/// What a unit of these dimensions measures, in words, if there is a word.
pub(crate) fn measured(dimensions: Dimensions) -> Option<&'static str> {
    let word = match dimensions {
        [1, 0, 0, 0, 0, 0, 0] => "length",
        [2, 0, 0, 0, 0, 0, 0] => "area",
        [3, 0, 0, 0, 0, 0, 0] => "volume",
        [0, 1, 0, 0, 0, 0, 0] => "mass",
        [0, 0, 1, 0, 0, 0, 0] => "time",
        [0, 0, -1, 0, 0, 0, 0] => "a frequency",
        [0, 0, 0, 1, 0, 0, 0] => "temperature",
        [0, 0, 0, 0, 1, 0, 0] => "an angle",
        [1, 0, -1, 0, 0, 0, 0] => "a speed",
        [1, 0, -2, 0, 0, 0, 0] => "an acceleration",
        [3, 0, -1, 0, 0, 0, 0] => "a flow",
        [0, 1, -1, 0, 0, 0, 0] => "a flow of mass",
        [-1, 1, -2, 0, 0, 0, 0] => "pressure",
        [1, 1, -2, 0, 0, 0, 0] => "a force",
        [2, 1, -2, 0, 0, 0, 0] => "energy",
        [2, 1, -3, 0, 0, 0, 0] => "power",
        [0, 1, -3, 0, 0, 0, 0] => "power per area",
        [-3, 1, 0, 0, 0, 0, 0] => "density",
        [2, 0, -2, -1, 0, 0, 0] => "specific heat",
        [2, 1, -2, -1, 0, 0, 0] => "heat capacity",
        [1, 1, -3, -1, 0, 0, 0] => "thermal conductivity",
        [2, 1, -3, -1, 0, 0, 0] => "heat per kelvin",
        [0, 1, -3, -1, 0, 0, 0] => "a film coefficient",
        [0, -1, 3, 1, 0, 0, 0] => "thermal resistance of an area",
        [0, 0, 0, -1, 0, 0, 0] => "expansion per kelvin",
        [0, 0, -1, 1, 0, 0, 0] => "a rate of temperature",
        [-1, 0, 0, 1, 0, 0, 0] => "a gradient of temperature",
        [2, 1, -3, 0, 0, -1, 0] => "a voltage",
        [0, 0, 0, 0, 0, 1, 0] => "an electric current",
        [0, 0, 0, 0, 0, 0, 1] => "a sound level",
        [0, 0, 0, 0, 0, 0, 0] => "a plain number",
        _ => return None,
    };
    Some(word)
}
