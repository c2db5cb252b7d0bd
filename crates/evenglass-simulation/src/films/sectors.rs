//! What surrounds glass whose films differ around the axis: films for each of its sectors.
//!
//! Every sector has films, streams and the heat they carry of its own, as if the whole
//! mirror were like it; what they do to wall and inside air is the mean of all sectors.

use evenglass_disc::{
    Body, BodyExchange, Exchange, ExchangeState, Exchanges, Grid, Surroundings, Temperatures,
    Variation,
};
use evenglass_scenario::Scenario;

use super::{AirState, Films, Shapes};
use crate::result::Warning;

/// Films of every sector; of a round mirror there is one, with the films' means.
pub(crate) struct Sectors {
    films: Vec<Films>,
    /// Boundary points of each.
    points: usize,
}

impl Sectors {
    /// Films of a scenario around a disc, within no stretch yet: [`Sectors::enter`] comes
    /// before the first exchange.
    pub(crate) fn new(scenario: &Scenario, grid: &Grid, variation: &Variation) -> Self {
        let surface = (grid.boundary(), grid.boundary_areas_m2());
        let films = if variation.is_round() {
            vec![Films::new(scenario, surface, None)]
        } else {
            let shapes = Shapes::new(scenario, grid.boundary(), *variation);
            let angles = variation.angles().into_iter();
            angles.map(|angle| Films::new(scenario, surface, Some((angle, &shapes)))).collect()
        };
        Self { films, points: grid.boundary().len() }
    }

    /// Moves to the stretch between two neighbouring event times, see [`Films::enter`].
    pub(crate) fn enter(&mut self, from_s: f64, to_s: f64) {
        let Some((first, others)) = self.films.split_first_mut() else { return };
        first.enter(from_s, to_s);
        for films in others {
            films.enter_beside(first);
        }
    }

    /// The bodies beside the glass at the start of the night.
    pub(crate) fn start_of_bodies(&self) -> Vec<Body> {
        self.films[0].start_of_bodies()
    }

    /// What left its range so far.
    pub(crate) fn warnings(&self) -> Vec<Warning> {
        self.films[0].warnings()
    }

    /// Whether `[ventilation]` moves the air.
    pub(crate) fn moves_air(&self) -> bool {
        self.films[0].moves_air()
    }

    /// The air at a time; of what differs between the sectors, the mean.
    pub(crate) fn air_state(&self, time_s: f64, temperatures: &Temperatures<'_>) -> AirState {
        let bodies = temperatures.bodies;
        let states = self.films.iter().enumerate().map(|(sector, films)| {
            let surface = self.part_of(sector, temperatures.surface);
            films.air_state(time_s, &Temperatures { surface, bodies })
        });
        let states: Vec<AirState> = states.collect();
        let share = 1.0 / states.len() as f64;
        let excess = states.iter().map(|state| state.column_excess);
        let excess: Option<f64> = excess.sum();
        let film: f64 = states.iter().map(|state| state.front_film).sum();
        AirState {
            column_excess: excess.map(|sum| share * sum),
            front_film: share * film,
            ..states[0]
        }
    }

    fn part_of<'t, T>(&self, sector: usize, all: &'t [T]) -> &'t [T] {
        // Without moved air nobody asks for the surface.
        if all.is_empty() { all } else { &all[sector * self.points..(sector + 1) * self.points] }
    }
}

impl Surroundings for Sectors {
    fn exchange(&self, time_s: f64, temperature: &[f64], exchange: &mut [Exchange]) {
        for (sector, films) in self.films.iter().enumerate() {
            let range = sector * self.points..(sector + 1) * self.points;
            films.exchange(time_s, &temperature[range.clone()], &mut exchange[range]);
        }
    }

    fn sectors(&self) -> usize {
        self.films.len()
    }

    fn bodies(&self) -> usize {
        self.films[0].bodies()
    }

    fn is_coupled(&self) -> bool {
        self.films[0].is_coupled()
    }

    fn exchange_with_bodies(
        &self,
        time_s: f64,
        temperatures: &Temperatures<'_>,
        exchanges: Exchanges<'_>,
    ) {
        if let [films] = &self.films[..] {
            return films.exchange_with_bodies(time_s, temperatures, exchanges);
        }
        let mut bodies = vec![BodyExchange::default(); exchanges.bodies.len()];
        exchanges.bodies.fill(BodyExchange::default());
        for (sector, films) in self.films.iter().enumerate() {
            let surface = self.part_of(sector, temperatures.surface);
            let here = Temperatures { surface, bodies: temperatures.bodies };
            let range = sector * self.points..(sector + 1) * self.points;
            let surface = &mut exchanges.surface[range];
            films.exchange_with_bodies(time_s, &here, Exchanges { surface, bodies: &mut bodies });
            self.add_share(&bodies, exchanges.bodies);
        }
    }

    fn follow(
        &self,
        time_s: f64,
        state: &ExchangeState<'_>,
        change: &Temperatures<'_>,
        flows: Exchanges<'_>,
    ) -> bool {
        if let [films] = &self.films[..] {
            return films.follow(time_s, state, change, flows);
        }
        let mut bodies = vec![BodyExchange::default(); flows.bodies.len()];
        flows.bodies.fill(BodyExchange::default());
        for (sector, films) in self.films.iter().enumerate() {
            let temperatures = Temperatures {
                surface: self.part_of(sector, state.temperatures.surface),
                bodies: state.temperatures.bodies,
            };
            let here = ExchangeState {
                temperatures,
                surface: self.part_of(sector, state.surface),
                bodies: state.bodies,
            };
            let surface = self.part_of(sector, change.surface);
            let change = Temperatures { surface, bodies: change.bodies };
            let range = sector * self.points..(sector + 1) * self.points;
            let surface = &mut flows.surface[range];
            let flows_here = Exchanges { surface, bodies: &mut bodies };
            if !films.follow(time_s, &here, &change, flows_here) {
                return false;
            }
            self.add_share(&bodies, flows.bodies);
        }
        true
    }
}

impl Sectors {
    /// Adds a sector's share of what bodies exchange.
    fn add_share(&self, sector: &[BodyExchange], all: &mut [BodyExchange]) {
        let share = 1.0 / self.films.len() as f64;
        for (sum, part) in all.iter_mut().zip(sector) {
            sum.flow_w += share * part.flow_w;
            sum.slope_w_per_k += share * part.slope_w_per_k;
        }
    }
}
