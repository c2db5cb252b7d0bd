//! Which law acts on a face, brought to one stretch of time.

use evenglass_disc::{Exchange, FaceName};
use evenglass_materials::moist_air::{AirProperties, properties, vapour_pressure};
use evenglass_scenario::Side;
use evenglass_scenario::scenario::{Conditions, FanBehind, Film};
use evenglass_units::{Pressure, Temperature};

use super::forced::{self, Fan, Forced, mixed};
use super::lopsided::{Place, shaped};
use super::natural::{AirCurve, FreeAir, Outlook, Tables};
use super::skin::Skin;
use super::stream::Stream;
use super::{Shape, Straight, Stretch};

/// Relative change of pressure below which a fan's film is kept.
const PRESSURE_KEPT: f64 = 1e-3;

/// The law of one face in one stretch.
pub(super) enum Law {
    /// None yet.
    Absent,
    /// Coefficients as written.
    Given {
        /// [W m⁻² K⁻¹], `[points of the face]`.
        coefficient: Vec<f64>,
        factor: Straight,
        air_offset: f64,
    },
    /// Free convection alone.
    Still { outlook: Outlook },
    /// A fan's film with free convection.
    Fan { outlook: Outlook, film: FanFilm },
    /// Wind with free convection.
    Breeze { outlook: Outlook, size: f64, wind: WindFilm },
    /// Air moved along the face, and perhaps the wind, with free convection.
    Stream { outlook: Outlook, stream: Stream, wind: Option<WindFilm> },
}

/// The wind's film on a face through a stretch.
#[derive(Debug, Clone, Copy)]
pub(super) struct WindFilm {
    pub(super) wind: Straight,
    scale: [f64; 3],
    depth: [f64; 3],
}

/// What moves along a face besides the film its author wrote.
pub(super) struct Moving<'a> {
    /// Of `[ventilation]`.
    pub(super) stream: Option<&'a Stream>,
    /// Fraction of the wind that the telescope lets through, where there is one [-].
    pub(super) shelter: Option<f64>,
}

/// A fan's film at the points of a face, straight in the air's temperature.
pub(super) struct FanFilm {
    fan: FanBehind,
    fan_speed: f64,
    pressure: f64,
    /// Air at which `at_reference` holds \[K\].
    reference: f64,
    at_reference: Vec<Forced>,
    /// Change of the film per kelvin of air [W m⁻² K⁻²], `[points of the face]`.
    per_kelvin: Vec<f64>,
}

/// Where a law acts.
pub(super) struct Site<'a> {
    pub(super) name: FaceName,
    pub(super) position: &'a [f64],
    pub(super) shape: Shape,
}

/// When a law acts.
pub(super) struct Weather<'a> {
    pub(super) stretch: Stretch,
    pub(super) night: &'a Conditions,
    pub(super) air: &'a AirCurve,
}

/// An instant of the stretch.
pub(super) struct Instant<'a> {
    /// Part of the stretch that has passed [-].
    pub(super) part: f64,
    /// Night air \[K\].
    pub(super) night: f64,
    /// Air around the glass \[K\].
    pub(super) air: f64,
    pub(super) free: FreeAir,
    pub(super) tables: &'a Tables,
}

impl Law {
    /// The law of a film in a new stretch; what `before` holds is kept where it still is true.
    pub(super) fn settled(
        before: Self,
        (film, moving): (&Film, &Moving<'_>),
        site: &Site<'_>,
        weather: &Weather<'_>,
    ) -> Self {
        let stretch = weather.stretch;
        let outlook = Outlook::of(site.name);
        match film {
            Film::Given { coefficient, factor, air_offset } => {
                let at = |&position: &f64| coefficient.at(position, Side::After);
                let coefficient = match before {
                    Self::Given { coefficient, .. } => coefficient,
                    _ => site.position.iter().map(at).collect(),
                };
                let factor = stretch.straight(factor);
                Self::Given { coefficient, factor, air_offset: air_offset.kelvins() }
            }
            Film::FanBehind(fan) if site.name == FaceName::Back => {
                let film = match before {
                    Self::Fan { film, .. } if film.holds_in(weather) => film,
                    _ => FanFilm::new(fan, site, weather),
                };
                Self::Fan { outlook, film }
            }
            // A fan behind the mirror does not reach the other faces.
            Film::Still | Film::FanBehind(_) => {
                let size = site.shape.diameter;
                let shelter = moving.shelter.filter(|shelter| *shelter > 0.0);
                let wind = shelter.and_then(|shelter| WindFilm::of(shelter, size, weather));
                match (moving.stream, wind) {
                    (Some(stream), wind) => Self::Stream { outlook, stream: stream.clone(), wind },
                    (None, Some(wind)) => Self::Breeze { outlook, size, wind },
                    (None, None) => Self::Still { outlook },
                }
            }
            Film::Breeze { shelter } => {
                let size = site.shape.diameter;
                let calm = Straight { start: 0.0, end: 0.0 };
                let calm = WindFilm { wind: calm, scale: [0.0; 3], depth: [0.0; 3] };
                let wind = WindFilm::of(*shelter, size, weather).unwrap_or(calm);
                Self::Breeze { outlook, size, wind }
            }
        }
    }

    /// Fills in the exchange at the points of a face.
    pub(super) fn fill(
        &self,
        instant: &Instant<'_>,
        skin: &Skin,
        place: &Place<'_>,
        arrays: (&[f64], &mut [Exchange]),
    ) {
        let air = instant.air;
        match self {
            // Streams are filled in along their way, see `Stream::fill`.
            Self::Absent | Self::Stream { .. } => {}
            Self::Given { coefficient, factor, air_offset } => {
                let factor = factor.at(instant.part);
                let driving = instant.night + air_offset;
                let film = |point: usize, surface: f64| {
                    let film = coefficient[point] * factor;
                    (film * (surface - driving), film)
                };
                skin.fill(driving, film, place, arrays);
            }
            Self::Still { outlook } => {
                let free = instant.tables.free(*outlook, &instant.free);
                let film = |point: usize, surface: f64| {
                    let difference = surface - air;
                    let scaled = free.scaled(difference);
                    let even = free.at(&scaled);
                    let film = match place.rising.get(point) {
                        Some(&[warm, cold]) => {
                            let share = if difference >= 0.0 { warm } else { cold };
                            even.convecting(&scaled, share)
                        }
                        None => even,
                    };
                    film.exchange(difference)
                };
                skin.fill(air, film, place, arrays);
            }
            Self::Fan { outlook, film } => {
                let free = instant.tables.free(*outlook, &instant.free);
                let buoyancy = free.normal_gravity / air;
                let warmer = instant.night - film.reference;
                let film = |point: usize, surface: f64| {
                    let reference = film.at_reference[point];
                    let forced = Forced {
                        film: reference.film + warmer * film.per_kelvin[point],
                        ..reference
                    };
                    let difference = surface - air;
                    mixed(forced, &free, buoyancy, difference).exchange(difference)
                };
                skin.fill(air, film, place, arrays);
            }
            Self::Breeze { outlook, wind, .. } => {
                let free = instant.tables.free(*outlook, &instant.free);
                let buoyancy = free.normal_gravity / air;
                let forced = wind.at(instant.part);
                let film = |point: usize, surface: f64| {
                    let difference = surface - air;
                    let forced = forced.scaled(shaped(place.wind_shape, point));
                    mixed(forced, &free, buoyancy, difference).exchange(difference)
                };
                skin.fill(air, film, place, arrays);
            }
        }
    }

    /// The way the face looks; `None` where no correlation is used.
    pub(super) fn outlook(&self) -> Option<Outlook> {
        match self {
            Self::Absent | Self::Given { .. } => None,
            Self::Still { outlook }
            | Self::Fan { outlook, .. }
            | Self::Breeze { outlook, .. }
            | Self::Stream { outlook, .. } => Some(*outlook),
        }
    }

    /// Air blown at the glass by a fan of the face's own [m³/s].
    pub(super) fn flow(&self) -> f64 {
        match self {
            Self::Fan { film, .. } => film.fan.flow.m3_per_s() * film.fan_speed.max(0.0),
            _ => 0.0,
        }
    }
}

/// Wind below which its film is taken in proportion [m/s]; free convection rules there.
const CALM: f64 = 1e-3;

impl WindFilm {
    /// The film of the night's wind behind a shelter; `None` if the wind is not known.
    fn of(shelter: f64, size: f64, weather: &Weather<'_>) -> Option<Self> {
        let wind = weather.stretch.straight(weather.night.wind.as_ref()?);
        Some(Self {
            wind: Straight { start: shelter * wind.start, end: shelter * wind.end },
            scale: weather.air.parabola(|air| forced::breeze(1.0, size, air).film),
            depth: weather.air.parabola(|air| forced::breeze(1.0, size, air).sluggishness),
        })
    }

    /// At a part of the stretch, from the values at 1 m/s: the film goes with the square
    /// root of the speed, depth over speed squared with its power −5/2.
    pub(super) fn at(&self, part: f64) -> Forced {
        let wind = self.wind.at(part);
        let felt = wind.max(CALM);
        let root = felt.sqrt();
        Forced {
            film: scale_at(&self.scale, part) * root * (wind.max(0.0) / felt),
            sluggishness: scale_at(&self.depth, part) / (felt * felt * root),
        }
    }
}

fn scale_at([a, b, c]: &[f64; 3], part: f64) -> f64 {
    a + part * (b + part * c)
}

impl FanFilm {
    fn new(fan: &FanBehind, site: &Site<'_>, weather: &Weather<'_>) -> Self {
        let fan_speed = weather.fan_speed();
        let pressure = weather.air.pressure();
        let values = weather.night.air.values();
        let cold = values.iter().copied().fold(f64::INFINITY, f64::min);
        let warm = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let along = |kelvin: f64| -> Vec<Forced> {
            let air = usual_air(kelvin, pressure);
            let fan = Fan::new(fan, fan_speed, &air);
            site.position.iter().map(|&radius| fan.at(radius)).collect()
        };
        let at_reference = along(cold);
        // A night of one temperature has no second column to take a slope from.
        let span = if warm - cold > 0.1 { warm - cold } else { 1.0 };
        let at_warm = along(cold + span);
        let per_kelvin =
            at_warm.iter().zip(&at_reference).map(|(w, c)| (w.film - c.film) / span).collect();
        Self { fan: fan.clone(), fan_speed, pressure, reference: cold, at_reference, per_kelvin }
    }

    fn holds_in(&self, weather: &Weather<'_>) -> bool {
        let pressure = weather.air.pressure();
        self.fan_speed.to_bits() == weather.fan_speed().to_bits()
            && (pressure / self.pressure - 1.0).abs() <= PRESSURE_KEPT
    }

    /// The fan in the air of the middle of the stretch.
    pub(super) fn fan<'a>(&'a self, air: &'a AirProperties) -> Fan<'a> {
        Fan::new(&self.fan, self.fan_speed, air)
    }

    /// Whether the fan turns.
    pub(super) fn turns(&self) -> bool {
        self.fan_speed > 0.0
    }
}

impl Weather<'_> {
    /// Of the telescope \[rad\].
    pub(super) fn altitude(&self) -> f64 {
        self.stretch.straight(&self.night.altitude).at(0.5)
    }

    fn fan_speed(&self) -> f64 {
        self.stretch.straight(&self.night.fan_speed).at(0.5)
    }
}

/// Air of a temperature \[K\] and pressure \[Pa\] for forced films, where humidity moves nothing that matters.
pub(crate) fn usual_air(kelvin: f64, pressure: f64) -> AirProperties {
    let (temperature, pressure) =
        (Temperature::from_kelvin(kelvin), Pressure::from_pascals(pressure));
    properties(temperature, pressure, vapour_pressure(temperature, 0.6, pressure))
}

impl Outlook {
    fn of(name: FaceName) -> Self {
        match name {
            FaceName::Front => Self::Front,
            FaceName::Back => Self::Back,
            FaceName::Rim => Self::Rim,
            FaceName::Hole => Self::Hole,
        }
    }
}
