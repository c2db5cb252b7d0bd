//! Air that moves along the glass and is warmed by it.
//!
//! A [`Stream`] is the film of one face in one state of fans and cover. A [`Route`] is
//! the way one body of air takes from face to face: it carries the heat it has taken
//! up, and drives each point with its own temperature.

use evenglass_disc::{Exchange, FaceName};

use super::forced::{Forced, mixed, opposed};
use super::natural::{FreeAir, Outlook, Tables};
use super::skin::Skin;

/// Moved air along one face, straight in the night air's temperature.
#[derive(Debug, Clone)]
pub(super) struct Stream {
    /// Night air at which `forced` holds \[K\].
    pub(super) reference: f64,
    /// `[points of the face]`.
    pub(super) forced: Vec<Forced>,
    /// Change of the film per kelvin of night air [W m⁻² K⁻²], `[points of the face]`.
    pub(super) per_kelvin: Vec<f64>,
    /// Warming of the air at a point by the heat it carries [K/W], `[points of the face]`.
    pub(super) gain: Vec<f64>,
    /// Share of a point's heat that the stream takes with it [-], `[points of the face]`;
    /// the rest rises into the air around.
    pub(super) share: Vec<f64>,
    /// Points in the order in which the air meets them.
    pub(super) order: Vec<usize>,
    pub(super) buoyancy: Buoyancy,
}

/// How free convection stands to a stream along an upright face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Buoyancy {
    /// It helps, or the face is level.
    Assists,
    /// The stream runs down a warm wall.
    Opposes,
}

/// The way of one body of air past the glass.
#[derive(Debug, Clone)]
pub(super) struct Route {
    /// Heat that warms its flow by a kelvin [W/K].
    pub(super) capacity: f64,
    /// [m³/s]
    pub(super) flow: f64,
    /// Heat of fan and motor \[W\].
    pub(super) fan_heat: f64,
    /// Share of the way to the wall's temperature on which it is brought before the glass [-].
    pub(super) preheating: f64,
    /// Share of it that comes back from the air around the glass [-].
    pub(super) returned: f64,
    pub(super) end: End,
    /// Faces in the order in which it meets them.
    pub(super) faces: Vec<FaceName>,
    /// The base of the column it ends in: heat that warms that flow by a kelvin [W/K].
    pub(super) column_capacity: Option<f64>,
}

/// Where moved air comes from and goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    /// From outside into the space above the mirror, which a cover may close.
    Above,
    /// From outside to outside.
    Outside,
    /// From the space above the mirror to outside.
    Drawn,
}

/// What a face's points need to exchange heat with a stream.
pub(super) struct Along<'a> {
    pub(super) outlook: Outlook,
    pub(super) skin: Skin,
    /// Of each of the face's points in `temperature` and `exchange`.
    pub(super) index: &'a [usize],
    /// True surface of each \[m²\].
    pub(super) area: &'a [f64],
    /// The wind that reaches the face as well.
    pub(super) wind: Option<Forced>,
    /// Air around the glass \[K\].
    pub(super) around: f64,
    /// Night air \[K\]: streams were computed for it.
    pub(super) night: f64,
    pub(super) free: &'a FreeAir,
    pub(super) tables: &'a Tables,
}

/// Heat that left a face by its air \[W\].
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Taken {
    /// Into the stream.
    pub(super) carried: f64,
    /// Into the air around.
    pub(super) given_up: f64,
}

impl Stream {
    /// Fills in the exchange of a face whose air arrives with `heat` \[W\] above the air
    /// around; returns what it takes with it and what it leaves behind.
    ///
    /// Each point is driven by the air halfway through the surface it answers for, which
    /// is what makes the sum of the points' heat the heat of the air, to rounding.
    pub(super) fn fill(
        &self,
        heat: f64,
        along: &Along<'_>,
        (temperature, exchange): (&[f64], &mut [Exchange]),
    ) -> Taken {
        let free = along.tables.free(along.outlook, along.free);
        let buoyancy = free.normal_gravity / along.night;
        let warmer = along.night - self.reference;
        let thinner = along.night / self.reference;
        let mut taken = Taken::default();
        for &point in &self.order {
            let i = along.index[point];
            let film = self.forced[point].film + warmer * self.per_kelvin[point];
            let forced = with_wind(Forced { film, ..self.forced[point] }, along.wind);
            let share = self.share[point];
            let gain = thinner * self.gain[point];
            let met = along.skin.layer.map_or(film, |layer| film * layer / (film + layer));
            let halfway = 0.5 * share * gain * share * along.area[point] * met;
            let glass = temperature[i] - along.around;
            // Share of the driving temperature that the point itself makes.
            let own = halfway / (1.0 + halfway);
            let arrived = share * gain * (heat + taken.carried) / (1.0 + halfway);
            let driving = along.around + arrived + own * glass;
            exchange[i] = along.skin.at(driving, temperature[i], |surface| {
                let difference = surface - driving;
                let conductance = match self.buoyancy {
                    Buoyancy::Assists => mixed(forced, &free, buoyancy, difference),
                    Buoyancy::Opposes => opposed(forced, &free, difference),
                };
                let (flux, slope) = conductance.exchange(difference);
                (flux, slope * (1.0 - own))
            });
            let outer = along.skin.outer(temperature[i], exchange[i].flux);
            let to_air = (exchange[i].flux - along.skin.radiated(outer)) * along.area[point];
            taken.carried += share * to_air;
            taken.given_up += (1.0 - share) * to_air;
        }
        taken
    }
}

/// A stream and the wind together (eq. F-3).
fn with_wind(forced: Forced, wind: Option<Forced>) -> Forced {
    match wind {
        Some(wind) if wind.film > 0.0 => Forced {
            film: (forced.film.powi(3) + wind.film.powi(3)).cbrt(),
            sluggishness: forced.sluggishness.min(wind.sluggishness),
        },
        _ => forced,
    }
}

impl Route {
    /// Heat with which the air meets the first face, above the air around \[W\].
    ///
    /// * `night`, `around`, `wall` — temperatures \[K\]
    pub(super) fn arriving(&self, night: f64, around: f64, wall: f64) -> f64 {
        let drawn = night + self.returned * (around - night);
        let met = drawn + self.preheating * (wall - drawn);
        self.capacity * (met - around) + self.fan_heat
    }

    /// Heat the wall gives to the air before the glass \[W\].
    pub(super) fn from_wall(&self, night: f64, around: f64, wall: f64) -> f64 {
        let drawn = night + self.returned * (around - night);
        self.capacity * self.preheating * (wall - drawn)
    }
}
