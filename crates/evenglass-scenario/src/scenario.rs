//! The scenario as meant: typed, in SI, cross-checked, nothing left to guess.
//!
//! These are plain data. [`crate::load`] makes them from text and is the only
//! way the program obtains one; the crates downstream only read them.

use evenglass_materials::Glass;
use evenglass_units::{
    Conductivity, Duration, Length, Temperature, TemperatureDifference, VolumeRate,
};

use crate::clock::Clock;
use crate::profile::Profile;
use crate::telescope::Telescope;
use crate::ventilation::Ventilation;

/// One mirror, one night, and the air on every face of the glass.
#[derive(Debug, Clone, PartialEq)]
pub struct Scenario {
    /// What the author calls it.
    pub title: String,
    /// The glass and its shape.
    pub mirror: Mirror,
    /// The night outside, hour by hour.
    pub night: Conditions,
    /// The optical face, up when the telescope points at the zenith.
    pub front: Face,
    /// The flat face opposite.
    pub back: Face,
    /// The cylindrical edge.
    pub rim: Face,
    /// The wall of the central hole, if there is one.
    pub hole: Option<Face>,
    /// How air is moved; every face without a `given` film is cooled by it.
    pub ventilation: Option<Ventilation>,
    /// What stands around the mirror.
    pub telescope: Option<Telescope>,
    /// What counts as a good image.
    pub good: Good,
    /// Where the telescope stands.
    pub site: Option<Site>,
    /// What to write down.
    pub output: Output,
    /// Paths of keys that were written and that this version reads, but does not use.
    pub unused: Vec<&'static str>,
}

/// A glass disc with a flat back and a concave paraboloidal or flat front.
#[derive(Debug, Clone, PartialEq)]
pub struct Mirror {
    /// Outer diameter.
    pub diameter: Length,
    /// Thickness at the rim.
    pub edge_thickness: Length,
    /// Focal length over diameter; `None` is a flat front.
    pub focal_ratio: Option<f64>,
    /// Diameter of the central hole; `None` is a solid disc.
    pub hole_diameter: Option<Length>,
    /// The material.
    pub glass: Glass,
}

/// The night: when it starts, how long it lasts, what the air does.
#[derive(Debug, Clone, PartialEq)]
pub struct Conditions {
    /// Local clock at the start; knows whether a date was given.
    pub start: Clock,
    /// From the start to the end of the run.
    pub duration: Duration,
    /// Uniform temperature of the glass at the start.
    pub glass_temperature: Temperature,
    /// Temperature at which the glass has its polished figure.
    pub stress_free_temperature: Temperature,
    /// Night air against time: position in s from the start, value in K.
    pub air: Profile,
    /// Dew point against time [s → K]; `None` where neither it nor a humidity was given.
    pub dew_point: Option<Profile>,
    /// Wind speed against time [s → m/s]; `None` if not given.
    pub wind: Option<Profile>,
    /// Fraction of the sky under cloud against time [s → 0..1]; `None` if not given.
    pub cloud: Option<Profile>,
    /// Air pressure against time [s → Pa]; standard for the site's elevation if not given.
    pub pressure: Profile,
    /// Fraction of full revolutions against time [s → 0..]; steps at the events.
    pub fan_speed: Profile,
    /// Where the telescope points, altitude above the horizon against time [s → rad].
    pub altitude: Profile,
    /// State of the cover: (time in s, state), the first at 0.
    pub cover: Vec<(f64, Cover)>,
    /// Fraction of the power of the secondary's heater against time [s → 0..1]; steps at the
    /// events.
    pub secondary_heater: Profile,
}

/// An event as it stands in the file, for those who want to change it: its key is
/// `event.INDEX`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Event {
    /// Place in the file, from 0.
    pub index: usize,
    /// From the start \[s\].
    pub at_s: f64,
    /// The fraction of full revolutions it sets, if it does.
    pub fan_speed: Option<f64>,
}

/// The cover over the mirror or the tube's mouth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cover {
    /// Closed.
    On,
    /// Closed but with openings.
    Vented,
    /// Open to the sky.
    Off,
}

/// What cools one face of the glass.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// The moving air.
    pub film: Film,
    /// Heat radiated; `None` is none at all (a `given` film without the key).
    pub radiation: Option<Radiation>,
    /// A layer between the glass and the air.
    pub insulation: Option<Insulation>,
    /// Variation of the film around the axis.
    pub uneven: Vec<Harmonic>,
    /// Multiplies the film whatever its law: 1, but for the draws of what is not known [-].
    pub film_factor: f64,
}

/// How the film coefficient of a face is found.
#[derive(Debug, Clone, PartialEq)]
pub enum Film {
    /// Written down by the author.
    Given {
        /// Coefficient [W m⁻² K⁻¹] against radius (front, back) or height above the back (rim, hole) \[m\].
        coefficient: Profile,
        /// Multiplies the coefficient, against time [s → -].
        factor: Profile,
        /// Driving air minus night air.
        air_offset: TemperatureDifference,
    },
    /// Still air: natural convection.
    Still,
    /// An axial fan blowing at the middle of the back.
    FanBehind(FanBehind),
    /// Wind over the open front.
    Breeze {
        /// Fraction of the wind's speed that reaches the glass [-].
        shelter: f64,
    },
}

/// An axial fan on the axis behind the mirror.
#[derive(Debug, Clone, PartialEq)]
pub struct FanBehind {
    /// Blade tip diameter.
    pub fan_diameter: Length,
    /// Hub diameter.
    pub hub_diameter: Length,
    /// From the blades to the back of the glass.
    pub distance: Length,
    /// Flow at full speed; proportional to `fan_speed`.
    pub flow: VolumeRate,
    /// Whether the space behind the mirror is open or closed.
    pub cell: Cell,
}

/// The space between the back board and the mirror's back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cell {
    /// Nothing guides the air outward.
    Open,
    /// A board parallel to the back leads the air outward through a gap.
    Closed {
        /// Depth of the gap.
        gap: Length,
    },
}

/// Thermal radiation from a face.
#[derive(Debug, Clone, PartialEq)]
pub struct Radiation {
    /// Total hemispherical emissivity [-].
    pub emissivity: f64,
    /// What the face looks at.
    pub surroundings: RadiantSurroundings,
}

/// What a face exchanges radiation with.
#[derive(Debug, Clone, PartialEq)]
pub enum RadiantSurroundings {
    /// Walls at the night air's temperature.
    Air,
    /// A temperature against time [s → K].
    Temperature(Profile),
}

/// A plane layer without storage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Insulation {
    /// Thickness of the layer.
    pub thickness: Length,
    /// Its conductivity.
    pub conductivity: Conductivity,
}

/// film × (1 + amplitude · cos harmonic(θ − angle)).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Harmonic {
    /// 1 to 4.
    pub harmonic: u8,
    /// Relative amplitude [-].
    pub amplitude: f64,
    /// Where the film is strongest \[rad\], from the side that is up when the telescope points low.
    pub angle: f64,
}

/// What counts as a good image.
#[derive(Debug, Clone, PartialEq)]
pub struct Good {
    /// Largest surface error after refocusing, RMS.
    pub figure_rms: Length,
    /// Largest blur by the mirror's own warm air \[arcsec\].
    pub shimmer_arcsec: f64,
    /// Smallest distance from the dew point.
    pub dew_margin: TemperatureDifference,
    /// Largest |front minus air|, where the author wants one.
    pub front_minus_air: Option<TemperatureDifference>,
    /// How long the state must last.
    pub held_for: Duration,
}

/// Where the telescope stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Degrees north.
    pub latitude_deg: Option<f64>,
    /// Degrees east.
    pub longitude_deg: Option<f64>,
    /// Local clock minus UTC.
    pub utc_offset: Option<Duration>,
    /// Height above the sea.
    pub elevation: Option<Length>,
    /// The sky's own seeing \[arcsec\].
    pub seeing_arcsec: Option<f64>,
}

/// What to write down.
#[derive(Debug, Clone, PartialEq)]
pub struct Output {
    /// Between rows of `history.csv`.
    pub interval: Duration,
    /// Times of whole fields, from the start \[s\], ascending.
    pub fields_at: Vec<f64>,
}
