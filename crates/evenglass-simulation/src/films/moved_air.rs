//! The systems of a scenario, brought to the state of fans and air of each stretch.
//!
//! A state's films cost a network and perhaps a sheet to solve; they are kept for as
//! long as the fans keep their speed, and run straight in the night air's temperature.

use std::sync::Arc;

use evenglass_airflow::fan::Rotor;
use evenglass_airflow::network::Operating;
use evenglass_convection::sheet::Sheet;
use evenglass_disc::FaceName;
use evenglass_materials::moist_air::AirProperties;
use evenglass_scenario::Scenario;
use evenglass_scenario::scenario::Cover;

use super::forced::Forced;
use super::law::usual_air;
use super::lopsided::Turn;
use super::stream::{Buoyancy, End, Route, Stream};
use super::{FaceFilms, Stretch};
use crate::ventilation::field::{Around, Field, Local};
use crate::ventilation::moved::{Moved, Planned, Sense, Source, plan};

/// Relative change of pressure below which a state's films are kept.
const PRESSURE_KEPT: f64 = 1e-3;

/// Film at which a stream keeps half of a point's heat and lets the other half rise
/// [W m⁻² K⁻¹]: free convection's at small differences (eq. V-7).
const HALF_KEPT: f64 = 1.0;

/// Share of the air that comes back from the space under a vented cover [-]: an estimate,
/// 0.2 to 0.8.
const VENTED_RETURN: f64 = 0.5;

/// Everything `[ventilation]` does in the present stretch.
pub(super) struct MovedAir {
    systems: Vec<System>,
    cold: f64,
    warm: f64,
    /// Where around the axis films are taken; `None` is their mean.
    turn: Option<Turn>,
}

struct System {
    planned: Planned,
    rotor: Rotor,
    state: Option<State>,
}

/// A system's air in one state, at one place around the axis.
struct State {
    blown: Arc<Blown>,
    streams: Vec<(FaceName, Stream)>,
    route: Option<Route>,
}

/// A system's air at one speed and pressure, all around the axis.
struct Blown {
    speed: f64,
    pressure: f64,
    /// In the order in which the air meets them.
    faces: Vec<BlownFace>,
    route: Option<Route>,
    /// What reaches the glass in the coldest air [m³/s].
    to_glass: f64,
    operating: Option<Operating>,
    sheet: Option<Arc<Sheet>>,
}

/// Moved air at the points of a face, in the coldest and in the warmest air of the night.
struct BlownFace {
    name: FaceName,
    sense: Sense,
    cold: BlownPoints,
    warm: BlownPoints,
}

struct BlownPoints {
    /// Means around the axis, `[points of the face]`.
    mean: Vec<Local>,
    /// Films around it, likewise; empty where they are even.
    around: Vec<Around>,
}

/// What the fans do in the present stretch.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Running {
    /// Fraction of full speed at which the main fans run [-].
    pub(super) speed: f64,
    /// Air of the main fans that reaches the glass [m³/s].
    pub(super) flow: f64,
}

impl MovedAir {
    pub(super) fn of(scenario: &Scenario, turn: Option<Turn>) -> Option<Self> {
        let systems: Vec<System> = plan(scenario)
            .into_iter()
            .map(|planned| System { planned, rotor: Rotor::Standing, state: None })
            .collect();
        if systems.is_empty() {
            return None;
        }
        let values = scenario.night.air.values();
        let cold = values.iter().copied().fold(f64::INFINITY, f64::min);
        let warm = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        // A night of one temperature has no second column to take a slope from.
        let warm = if warm - cold > 0.1 { warm } else { cold + 1.0 };
        Some(Self { systems, cold, warm, turn })
    }

    /// Moves to a stretch of the night.
    ///
    /// * `requested` — speed asked of the fans [-]; `pressure` — of the air \[Pa\]
    pub(super) fn enter(
        &mut self,
        stretch: Stretch,
        (requested, pressure): (f64, f64),
        faces: &[FaceFilms],
    ) {
        let time = 0.5 * (stretch.from + stretch.to);
        let span = (self.cold, self.warm);
        for system in &mut self.systems {
            let speed = system.planned.running_speed(requested, time, system.rotor);
            system.rotor = if speed > 0.0 { Rotor::Turning } else { Rotor::Standing };
            let holds = system.state.as_ref().is_some_and(|state| {
                state.blown.speed.to_bits() == speed.to_bits()
                    && (pressure / state.blown.pressure - 1.0).abs() <= PRESSURE_KEPT
            });
            if !holds {
                let running = (speed, pressure);
                let blown = Blown::new(&system.planned, running, span, (faces, self.turn));
                system.state = Some(State::new(Arc::new(blown), span, (faces, self.turn)));
            }
        }
    }

    /// The same at another place around the axis than `first`, which has entered the stretch.
    pub(super) fn enter_beside(&mut self, first: &Self, faces: &[FaceFilms]) {
        let span = (self.cold, self.warm);
        for (system, first) in self.systems.iter_mut().zip(&first.systems) {
            let Some(State { blown, .. }) = &first.state else { continue };
            let holds = system.state.as_ref().is_some_and(|state| Arc::ptr_eq(&state.blown, blown));
            if !holds {
                system.state = Some(State::new(Arc::clone(blown), span, (faces, self.turn)));
            }
        }
    }

    /// The stream along a face, if any system moves air there.
    pub(super) fn stream(&self, face: FaceName) -> Option<&Stream> {
        let states = self.systems.iter().filter_map(|system| system.state.as_ref());
        let mut streams = states.flat_map(|state| &state.streams);
        streams.find(|(name, _)| *name == face).map(|(_, stream)| stream)
    }

    /// The ways of all moved air.
    pub(super) fn routes(&self) -> impl Iterator<Item = &Route> {
        self.systems.iter().filter_map(|system| system.state.as_ref()?.route.as_ref())
    }

    pub(super) fn running(&self) -> Running {
        let states = || self.systems.iter().filter_map(|system| system.state.as_ref());
        Running {
            speed: states().next().map_or(0.0, |state| state.blown.speed),
            flow: states().next().map_or(0.0, |state| state.blown.to_glass),
        }
    }

    /// Air that fans put in the place of that inside, as the mouth is open to it [m³/s]:
    /// under a cover a stream mixes with the air inside, and its heat is counted there.
    pub(super) fn through_mouth(&self) -> f64 {
        let passing = |route: &Route| match (route.source, route.end) {
            (Source::Around, End::Outside) => route.flow,
            (Source::Outside | Source::PastTheWalls, End::Above) if route.returned <= 0.0 => {
                route.flow
            }
            _ => 0.0,
        };
        self.routes().map(passing).sum()
    }

    /// Balance and sheet of every system.
    pub(super) fn states(&self) -> impl Iterator<Item = (&Operating, Option<&Sheet>)> {
        let states = self.systems.iter().filter_map(|system| system.state.as_ref());
        let blown = states.map(|state| &state.blown);
        blown.filter_map(|blown| Some((blown.operating.as_ref()?, blown.sheet.as_deref())))
    }

    /// Settles what cover and walls do to the air on its way.
    ///
    /// * `preheating` — share of the way to the wall's temperature, for a flow [m³/s]
    pub(super) fn settle(&mut self, cover: Cover, preheating: impl Fn(f64) -> f64) {
        for system in &mut self.systems {
            if let Some(route) = system.state.as_mut().and_then(|state| state.route.as_mut()) {
                route.preheating = match route.source {
                    Source::PastTheWalls => preheating(route.flow),
                    Source::Outside | Source::Around => 0.0,
                };
                route.returned = match (route.source, route.end, cover) {
                    (Source::Around, ..) | (_, End::Above, Cover::On) => 1.0,
                    (_, End::Above, Cover::Vented) => VENTED_RETURN,
                    (_, End::Above, Cover::Off) | (_, End::Outside, _) => 0.0,
                };
            }
        }
    }
}

impl Blown {
    /// * `cold`, `warm` — of the night's air \[K\]
    fn new(
        planned: &Planned,
        (speed, pressure): (f64, f64),
        (cold, warm): (f64, f64),
        (faces, turn): (&[FaceFilms], Option<Turn>),
    ) -> Self {
        let (cold_air, warm_air) = (usual_air(cold, pressure), usual_air(warm, pressure));
        let at_cold = planned.moved(speed, &cold_air);
        let at_warm = planned.moved(speed, &warm_air);
        let faces = at_cold
            .way
            .iter()
            .filter_map(|&(name, sense)| {
                let face = faces.iter().find(|face| face.name == name)?;
                let points = |field| BlownPoints::of(field, &face.position, turn);
                let (cold, warm) = (points(at_cold.field(name)?), points(at_warm.field(name)?));
                Some(BlownFace { name, sense, cold, warm })
            })
            .collect();
        let route = route(&at_cold, &cold_air);
        let to_glass = at_cold.flows.reaching();
        let Moved { operating, sheet, .. } = at_cold;
        Self { speed, pressure, faces, route, to_glass, operating, sheet }
    }
}

impl BlownPoints {
    fn of(field: &Field<'_>, position: &[f64], turn: Option<Turn>) -> Self {
        match turn {
            Some(turn) if field.is_lopsided() => {
                let sampled = position.iter().map(|&at| field.sampled(at));
                let (mean, around): (Vec<Local>, Vec<Around>) = sampled.unzip();
                Self { mean, around: around.iter().map(|all| turn.followed(all)).collect() }
            }
            _ => Self { mean: position.iter().map(|&at| field.mean(at)).collect(), around: vec![] },
        }
    }

    fn at(&self, turn: Option<Turn>) -> Vec<Local> {
        match turn {
            Some(Turn { angle, .. }) if !self.around.is_empty() => {
                let points = self.mean.iter().zip(&self.around);
                points.map(|(mean, around)| Local { film: around.at(angle), ..*mean }).collect()
            }
            _ => self.mean.clone(),
        }
    }
}

impl State {
    fn new(
        blown: Arc<Blown>,
        (cold, warm): (f64, f64),
        (faces, turn): (&[FaceFilms], Option<Turn>),
    ) -> Self {
        let mut met = 0.0;
        let along = |blown: &BlownFace| {
            let face = faces.iter().find(|face| face.name == blown.name)?;
            Some((blown.name, stream(face, (blown, turn), (cold, warm - cold), &mut met)))
        };
        let streams = blown.faces.iter().filter_map(along).collect();
        Self { streams, route: blown.route.clone(), blown }
    }
}

/// The stream along a face.
///
/// * `reference`, `span` — coldest air of the night, and by how much it may be warmer \[K\]
/// * `met` — transfer units the air has met on its way so far [-]
fn stream(
    face: &FaceFilms,
    (blown, turn): (&BlownFace, Option<Turn>),
    (reference, span): (f64, f64),
    met: &mut f64,
) -> Stream {
    let sense = blown.sense;
    let (at_cold, at_warm) = (blown.cold.at(turn), blown.warm.at(turn));
    let mut order: Vec<usize> = (0..face.position.len()).collect();
    order.sort_by(|&a, &b| face.position[a].total_cmp(&face.position[b]));
    if sense == Sense::Descending {
        order.reverse();
    }
    let fresh = fresh(&at_cold, &face.area, &order, met);
    let share: Vec<f64> =
        at_cold.iter().zip(&fresh).map(|(l, fresh)| kept(l.film * fresh)).collect();
    let film = |((local, fresh), share): ((&Local, &f64), &f64)| Forced {
        film: local.film * (share + (1.0 - share) * fresh),
        sluggishness: local.sluggishness,
    };
    let slope = |(warm, cold): (&Local, &Local)| (warm.film - cold.film) / span;
    let falls = face.name == FaceName::Rim && sense == Sense::Descending;
    Stream {
        reference,
        forced: at_cold.iter().zip(&fresh).zip(&share).map(film).collect(),
        carrying: at_cold.iter().map(|local| local.film).collect(),
        per_kelvin: at_warm.iter().zip(&at_cold).map(slope).collect(),
        arriving: at_cold.iter().map(|local| local.arriving).collect(),
        gain: at_cold.iter().map(|local| local.gain).collect(),
        share,
        order,
        buoyancy: if falls { Buoyancy::Opposes } else { Buoyancy::Assists },
    }
}

/// Share of its temperature with which a stream drives a point (eq. V-7) [-].
///
/// * `film` — that the stream still has to give [W m⁻² K⁻¹]
fn kept(film: f64) -> f64 {
    let cube = film.powi(3);
    cube / (cube + HALF_KEPT.powi(3))
}

/// Share of its coolness that the air has left at each point, for glass of one
/// temperature (eq. V-9) [-].
fn fresh(local: &[Local], area: &[f64], order: &[usize], met: &mut f64) -> Vec<f64> {
    let mut left = vec![1.0; local.len()];
    for &point in order {
        let units = local[point].film * area[point] * local[point].gain;
        left[point] = (-(*met + 0.5 * units)).exp();
        *met += units;
    }
    left
}

/// The way of the moved air; what the cover does to it is settled with each stretch.
fn route(moved: &Moved, air: &AirProperties) -> Option<Route> {
    let operating = moved.operating.as_ref()?;
    let flow = moved.flows.reaching();
    if flow <= 0.0 {
        return None;
    }
    let volume_heat = air.density * air.specific_heat;
    // Fans that push warm the air before the glass, fans that pull behind it.
    let pulled =
        moved.way.last().is_some_and(|&(face, _)| face == FaceName::Back) && moved.way.len() > 1;
    let capacity = volume_heat * flow;
    Some(Route {
        capacity,
        flow,
        fan_heat: if pulled { 0.0 } else { operating.temperature_rise * capacity },
        preheating: 0.0,
        returned: 0.0,
        source: moved.source,
        end: if moved.column_flow.is_some() { End::Above } else { End::Outside },
        faces: moved.way.iter().map(|&(face, _)| face).collect(),
        column_capacity: moved.column_flow.map(|flow| volume_heat * flow),
    })
}
