//! Air that moves along the glass and is warmed by it.
//!
//! A [`Stream`] is the film of one face in one state of fans and cover. A [`Route`] is
//! the way one body of air takes from face to face: it carries the heat it has taken
//! up, and drives each point with its own temperature.

use evenglass_disc::{Exchange, FaceName};

use super::change::{Changes, State};
use super::forced::{Forced, mixed, opposed};
use super::lopsided::{Place, shaped};
use super::natural::{FreeAir, Outlook, Tables};
use super::skin::Skin;
use crate::ventilation::moved::Source;

/// Moved air along one face, straight in the night air's temperature.
#[derive(Debug, Clone)]
pub(super) struct Stream {
    /// Night air at which `forced` holds \[K\].
    pub(super) reference: f64,
    /// The film that drives a point: where the stream has little left to give, on the air
    /// around. `[points of the face]`.
    pub(super) forced: Vec<Forced>,
    /// The film by which the stream itself takes up heat [W m⁻² K⁻¹], `[points of the face]`.
    pub(super) carrying: Vec<f64>,
    /// Change of the film per kelvin of night air [W m⁻² K⁻²], `[points of the face]`.
    pub(super) per_kelvin: Vec<f64>,
    /// Warming of the air at a point by the heat with which it comes to the face [K/W],
    /// `[points of the face]`.
    pub(super) arriving: Vec<f64>,
    /// Its warming by what it has taken up on the face before [K/W], `[points of the face]`.
    pub(super) gain: Vec<f64>,
    /// Share of the stream's own temperature in what drives a point [-], `[points of the
    /// face]`; the rest is that of the air around.
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
    pub(super) source: Source,
    pub(super) end: End,
    /// Faces in the order in which it meets them.
    pub(super) faces: Vec<FaceName>,
    /// The base of the column it ends in: heat that warms that flow by a kelvin [W/K].
    pub(super) column_capacity: Option<f64>,
}

/// Where moved air goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    /// Into the space above the mirror, which a cover may close.
    Above,
    /// Outside.
    Outside,
}

/// What a face's points need to exchange heat with a stream.
pub(super) struct Along<'a> {
    pub(super) outlook: Outlook,
    pub(super) skin: Skin,
    pub(super) place: Place<'a>,
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
    /// The stream takes up what its own film carries (eq. V-6); what the true film gives
    /// off beyond that, by free convection, rises into the air around. Each point is
    /// driven by the air halfway through the surface it answers for, so that the sum of
    /// the points' heat is the heat of the air, to rounding.
    pub(super) fn fill(
        &self,
        heat: f64,
        along: &Along<'_>,
        (temperature, exchange): (&[f64], &mut [Exchange]),
    ) -> Taken {
        let free = along.tables.free(along.outlook, along.free);
        let buoyancy = free.normal_gravity / along.night;
        let warmer = along.night - self.reference;
        // First down the stream, which is quick: the driving temperature of every point,
        // left where its flux will be, and the share of it that is the point's own.
        let mut carried = 0.0;
        for &point in &self.order {
            let i = along.place.index[point];
            let glass = temperature[i] - along.around;
            let passing = self.passing(point, along, (heat, carried), glass);
            carried += passing.taken;
            let driving = along.around + self.share[point] * passing.excess;
            exchange[i] = Exchange { flux: driving, slope: self.share[point] * passing.own };
        }
        // Then the films, which no longer wait for one another.
        let mut given = 0.0;
        for (point, &i) in along.place.index.iter().enumerate() {
            let Exchange { flux: driving, slope: own } = exchange[i];
            let film = self.forced[point].film + warmer * self.per_kelvin[point];
            let uneven = along.skin.factor * shaped(along.place.shape, point);
            let wind = along.wind.map(|wind| wind.scaled(shaped(along.place.wind_shape, point)));
            let forced = with_wind(Forced { film, ..self.forced[point] }, wind);
            exchange[i] = along.skin.at(driving, temperature[i], |surface| {
                let difference = surface - driving;
                let conductance = match self.buoyancy {
                    Buoyancy::Assists => mixed(forced, &free, buoyancy, difference),
                    Buoyancy::Opposes => opposed(forced, &free, difference),
                };
                let (flux, slope) = conductance.exchange(difference);
                (uneven * flux, uneven * slope)
            });
            let response = along.skin.response(temperature[i], exchange[i], 0.0);
            exchange[i].slope -= own * response.to_driving;
            let outer = along.skin.outer(temperature[i], exchange[i].flux);
            given += (exchange[i].flux - along.skin.radiated(outer)) * along.area[point];
        }
        Taken { carried, given_up: given - carried }
    }

    /// How exchange and air change with temperatures, to first order, from the exchange
    /// at a state; fluxes beyond those of the points' own slopes.
    ///
    /// * `heat` — change of the heat with which the air arrives \[W\]
    /// * `changes` — of the glass, of the air around and of what is radiated to \[K\]
    pub(super) fn follow(
        &self,
        heat: f64,
        along: &Along<'_>,
        (state, changes): (&State<'_>, &Changes<'_>),
        flux: &mut [Exchange],
    ) -> Taken {
        let mut carried = 0.0;
        let mut given = 0.0;
        for &point in &self.order {
            let i = along.place.index[point];
            let glass = changes.glass[i] - changes.around;
            let passing = self.passing(point, along, (heat, carried), glass);
            carried += passing.taken;
            let own = self.share[point] * passing.own;
            let driving = changes.around + self.share[point] * passing.excess;
            let response = along.skin.response(state.temperature[i], state.exchange[i], own);
            // The point's own part of the driving temperature is in its slope.
            let others = driving - own * changes.glass[i];
            flux[i].flux = -response.to_driving * others - response.to_radiant * changes.radiant;
            let whole = flux[i].flux + state.exchange[i].slope * changes.glass[i];
            let radiated = along.skin.radiated_change(&response, changes, (i, whole));
            given += (whole - radiated) * along.area[point];
        }
        Taken { carried, given_up: given - carried }
    }

    /// One point on the way of the air that came to the face with `heat` and has taken up
    /// `carried` before it \[W\], the glass being `glass` kelvins warmer than the air around.
    #[inline]
    fn passing(
        &self,
        point: usize,
        along: &Along<'_>,
        (heat, carried): (f64, f64),
        glass: f64,
    ) -> Passing {
        let film = self.carrying[point] + (along.night - self.reference) * self.per_kelvin[point];
        let film = along.skin.factor * shaped(along.place.shape, point) * film;
        let met = along.skin.layer.map_or(film, |layer| film * layer / (film + layer));
        let thinner = along.night / self.reference;
        let (arriving, gain) = (thinner * self.arriving[point], thinner * self.gain[point]);
        let conductance = met * along.area[point];
        let halfway = 0.5 * gain * conductance;
        let inverse = 1.0 / (1.0 + halfway);
        let excess = (arriving * heat + gain * carried + halfway * glass) * inverse;
        Passing { excess, own: halfway * inverse, taken: conductance * (glass - excess) }
    }
}

/// The air of a stream at one point.
#[derive(Debug, Clone, Copy)]
struct Passing {
    /// Warmer than the air around \[K\].
    excess: f64,
    /// Share of that which is the point's own doing [-].
    own: f64,
    /// Heat taken up there \[W\].
    taken: f64,
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

    /// Change of [`Route::arriving`] with the air around and the wall \[W\].
    pub(super) fn arriving_change(&self, around: f64, wall: f64) -> f64 {
        let drawn = self.returned * around;
        self.capacity * (drawn + self.preheating * (wall - drawn) - around)
    }

    /// Change of [`Route::wall_heat`] \[W\].
    pub(super) fn wall_heat_change(&self, around: f64, wall: f64) -> f64 {
        self.capacity * self.preheating * (wall - self.returned * around)
    }

    /// Heat the wall gives to the air before the glass \[W\].
    pub(super) fn wall_heat(&self, night: f64, around: f64, wall: f64) -> f64 {
        let drawn = night + self.returned * (around - night);
        self.capacity * self.preheating * (wall - drawn)
    }
}
