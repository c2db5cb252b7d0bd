//! The six stages of a step.

use crate::boundary::{Surroundings, Temperatures};
use crate::grid::Grid;
use crate::rosenbrock::{A, C, GAMMA, STAGES, TIME, TIME_SLOPE};

use super::coupling::{Coupling, Linear, Start};
use super::{Stepper, add_weighted};
use crate::fields::Fields;
use crate::sectors::{Answer, Sectors};

/// Vectors over points hold those of all fields, see [`Fields`].
#[derive(Debug)]
pub(super) struct Workspace {
    /// What the factored matrices were made from: step, and slopes and capacities.
    made_from: (f64, Vec<f64>, Vec<f64>),
    /// Heat capacity by heat potential at each point of the mean [J m W⁻¹], at the step's start.
    capacity: Vec<f64>,
    pub(super) stage: [Vec<f64>; STAGES],
    pub(super) stage_lost: [f64; STAGES],
    /// Bending terms of the dense output.
    pub(super) bend: [Vec<f64>; 2],
    pub(super) state: Vec<f64>,
    potential: Vec<f64>,
    rate: Vec<f64>,
    /// Temperature of the mean at each boundary point \[K\].
    surface: Vec<f64>,
    exchange: Answer,
    /// Exchange a little later, and its change of flow out of each point [W/s].
    exchange_ahead: Answer,
    flow_change: Vec<f64>,
    /// Flow out of each boundary point by heat potential there, mean around the axis [m].
    slope: Vec<f64>,
    /// How points and bodies act on one another.
    coupling: Coupling,
}

impl Workspace {
    pub(super) fn new(grid: &Grid, fields: &Fields<'_>, sectors: &Sectors) -> Self {
        let (points, surface) = (fields.len() * grid.len(), grid.surface.points.len());
        Self {
            made_from: (0.0, vec![], vec![]),
            capacity: vec![0.0; grid.len()],
            stage: std::array::from_fn(|_| vec![0.0; points]),
            stage_lost: [0.0; STAGES],
            bend: std::array::from_fn(|_| vec![0.0; points]),
            state: vec![0.0; points],
            potential: vec![0.0; points],
            rate: vec![0.0; points],
            surface: vec![0.0; surface],
            exchange: Answer::new(surface, sectors),
            exchange_ahead: Answer::new(surface, sectors),
            flow_change: vec![0.0; points],
            slope: vec![0.0; surface],
            coupling: Coupling::default(),
        }
    }
}

/// What may stay open of a stage's coupling, as a share of the step's tolerance. A hundredth
/// of it costs half as many exchanges again and changes no temperature by 1 % of the tolerance.
const COUPLING_OPEN: f64 = 1e-3;

/// A tolerance above this \[K\] leaves the steps to the caller, who wants to see the error of
/// the steps and not that of their solution.
const FREE_STEPS: f64 = 0.1;

/// What may stay open then \[K\].
const LEAST_OPEN: f64 = 1e-9;

/// What may stay open of a stage's coupling \[K\].
fn coupling_open(tolerance: f64) -> f64 {
    if tolerance > FREE_STEPS { LEAST_OPEN } else { (COUPLING_OPEN * tolerance).max(LEAST_OPEN) }
}

impl Stepper<'_> {
    /// Computes the stages of a step of `length` seconds; returns its error \[K\].
    pub(super) fn attempt(&mut self, length: f64, surroundings: &impl Surroundings) -> f64 {
        self.work.state.copy_from_slice(&self.stored);
        let here = self.evaluate(self.time, surroundings);
        let change = self.change_of_flow(1e-4 * length, surroundings);
        self.prepare_matrix(length);
        let coupled =
            surroundings.is_coupled() || self.bodies.len() > 0 || !self.sectors.is_round();
        if coupled {
            self.prepare_coupling(length);
        } else {
            self.work.coupling.clear();
        }
        for (stage, fraction) in TIME.iter().enumerate() {
            let flow = if stage == 0 {
                here
            } else {
                self.set_state(stage);
                self.evaluate(self.time + fraction * length, surroundings)
            };
            self.solve_stage(stage, length);
            let mut through = 0.0;
            if coupled {
                match self.couple_stage(stage, length, surroundings) {
                    Some(dragged) => through = dragged,
                    // A shorter step couples less.
                    None => return f64::INFINITY,
                }
            }
            self.end_stage(stage, length, [flow, change, through]);
        }
        self.error()
    }

    /// How the heat flow out of each point changes by time alone, by a difference
    /// over `nudge` seconds, into `flow_change`; returns the sum [W/s].
    fn change_of_flow(&mut self, nudge: f64, surroundings: &impl Surroundings) -> f64 {
        let work = &mut self.work;
        let bodies = &mut self.bodies;
        let temperatures = Temperatures { surface: &work.surface, bodies: &bodies.kelvin };
        let exchanges = (&mut work.exchange_ahead, &mut bodies.exchange_ahead[..]);
        self.sectors.ask(surroundings, self.time + nudge, &temperatures, exchanges);
        bodies.take_change(nudge);
        work.flow_change.fill(0.0);
        let mut total = 0.0;
        let (ahead, here) = (&work.exchange_ahead, &work.exchange);
        for (point, (ahead, here)) in ahead.mean.iter().zip(&here.mean).enumerate() {
            let change = (ahead.flux - here.flux) / nudge * self.grid.surface.area[point];
            total += change;
            for &(n, weight) in self.grid.surface.terms(point) {
                work.flow_change[n] += weight * change;
            }
        }
        let parts = ahead.part.iter().zip(&here.part);
        let change: Vec<f64> = parts.map(|(ahead, here)| (ahead - here) / nudge).collect();
        self.fields.draw_parts(&change, -1.0, &mut work.flow_change);
        total
    }

    /// `state` = start + earlier stages.
    fn set_state(&mut self, stage: usize) {
        let Workspace { state, stage: stages, .. } = &mut self.work;
        state.copy_from_slice(&self.stored);
        add_weighted(state, &A[stage], &stages[..stage], 1.0);
        self.bodies.set_state(stage);
    }

    /// Rate of stored heat at every point \[W\] for `state` into `rate`; returns
    /// the heat flow out of the glass \[W\].
    fn evaluate(&mut self, time: f64, surroundings: &impl Surroundings) -> f64 {
        let Workspace { state, potential, rate, surface, exchange, .. } = &mut self.work;
        self.thermal.potentials(state, potential);
        self.thermal.surface_kelvin(&self.grid.surface, potential, surface);
        self.sectors.note_surface(&self.fields, &self.thermal, (surface, potential));
        let bodies = &mut self.bodies;
        let temperatures = Temperatures { surface, bodies: &bodies.kelvin };
        let exchanges = (&mut *exchange, &mut bodies.exchange[..]);
        self.sectors.ask(surroundings, time, &temperatures, exchanges);
        self.fields.conduct(potential, rate);
        let mut total = 0.0;
        for (point, heat) in exchange.mean.iter().enumerate() {
            let flow = heat.flux * self.grid.surface.area[point];
            total += flow;
            for &(n, weight) in self.grid.surface.terms(point) {
                rate[n] -= weight * flow;
            }
        }
        self.fields.draw_parts(&exchange.part, 1.0, rate);
        total
    }

    /// Factors capacity / (γ step) + conduction + film slopes of every field, for the state
    /// and the exchange evaluated last, unless those very matrices are at hand.
    fn prepare_matrix(&mut self, length: f64) {
        let work = &mut self.work;
        self.thermal.capacity(&self.stored, &mut work.capacity);
        for (point, slope) in work.slope.iter_mut().enumerate() {
            let conductivity = self.thermal.conductivity(work.surface[point]);
            let film = work.exchange.mean[point].slope;
            *slope = film * self.grid.surface.area[point] / conductivity;
        }
        let (made_length, made_slope, made_capacity) = &mut work.made_from;
        if made_length.to_bits() == length.to_bits()
            && *made_slope == work.slope
            && *made_capacity == work.capacity
        {
            return;
        }
        *made_length = length;
        made_slope.clone_from(&work.slope);
        made_capacity.clone_from(&work.capacity);
        self.effort.factored += self.fields.factor(&work.capacity, length, &work.slope);
    }

    /// Solves a stage without the coupling, for potentials in place of stored heat.
    fn solve_stage(&mut self, stage: usize, length: f64) {
        let work = &mut self.work;
        let (earlier, rest) = work.stage.split_at_mut(stage);
        let solution = &mut rest[0];
        let (inverse, time_slope) = (1.0 / length, length * TIME_SLOPE[stage]);
        for ((value, rate), change) in solution.iter_mut().zip(&work.rate).zip(&work.flow_change) {
            *value = rate - time_slope * change;
        }
        add_weighted(solution, &C[stage], earlier, inverse);
        self.fields.solve(solution);
    }

    /// Notes where the step starts: there the coupling is linear.
    fn prepare_coupling(&mut self, length: f64) {
        let work = &mut self.work;
        self.bodies.take_slopes();
        self.fields.note_drift(&self.thermal, &self.stored, &work.potential);
        let kelvin = |point: usize| 1.0 / self.thermal.conductivity(work.surface[point]);
        work.coupling.start(
            &Start {
                temperatures: Temperatures {
                    surface: self.sectors.surface(&work.surface),
                    bodies: &self.bodies.kelvin,
                },
                exchange: work.exchange.asked(),
                body_exchange: &self.bodies.exchange,
                bend: self.sectors.bend(&self.thermal),
            },
            (0..work.surface.len()).map(kelvin),
        );
        let share = 1.0 / (self.volume.sqrt() * self.thermal.material.conductivity(0.0));
        let fields = (0..self.fields.len()).map(|field| (field, self.fields.surface(field)));
        let glass = fields.flat_map(|(field, surface)| {
            // Squares of cosines and sines have the mean one half.
            let share = if field == 0 { share } else { share * std::f64::consts::FRAC_1_SQRT_2 };
            let (volume, capacity) = (&self.grid.volume, &work.capacity);
            (0..surface.points.len()).map(move |point| {
                let terms = surface.terms(point).iter();
                let squares = terms.map(|&(n, w)| volume[n] * (w / capacity[n]).powi(2));
                share * squares.sum::<f64>().sqrt()
            })
        });
        let bodies = self.bodies.capacities().map(|capacity| 1.0 / capacity);
        work.coupling.weigh(glass.chain(bodies).map(|kelvin| GAMMA * length * kelvin));
    }

    /// Adds what points and bodies do to one another to a stage solved without; returns the heat flow
    /// out of the glass that comes with it \[W\], or `None` if it cannot be found.
    fn couple_stage(
        &mut self,
        stage: usize,
        length: f64,
        surroundings: &impl Surroundings,
    ) -> Option<f64> {
        let (work, bodies) = (&mut self.work, &mut self.bodies);
        let diagonal: Vec<f64> = bodies
            .capacities()
            .zip(bodies.slopes())
            .map(|(capacity, slope)| capacity / (GAMMA * length) - slope)
            .collect();
        let linear = Linear {
            surroundings,
            time: self.time,
            area: &self.grid.surface.area,
            fields: &self.fields,
            sectors: &self.sectors,
            slope: &work.slope,
            body_slope: bodies.slopes(),
            body_diagonal: &diagonal,
        };
        let mut change: Vec<f64> =
            (0..bodies.len()).map(|n| bodies.stage_flow(n, stage, length) / diagonal[n]).collect();
        let solution = (&mut work.stage[stage][..], &mut change[..]);
        let solved = work.coupling.solve(&linear, solution, coupling_open(self.tolerance));
        self.effort.coupling += work.coupling.take_asked();
        if !solved {
            return None;
        }
        let boundary = work.slope.len();
        let (dragged, body_dragged) =
            work.coupling.dragged().split_at(self.fields.len() * boundary);
        bodies.end_stage(stage, length, &change, body_dragged);
        Some(dragged[..boundary].iter().sum())
    }

    /// From the potentials of a stage to its heat, stored and lost.
    ///
    /// * `flows` — out of the glass at the stage's state, its change in time, and what comes
    ///   with the coupling
    fn end_stage(&mut self, stage: usize, length: f64, flows: [f64; 3]) {
        let work = &mut self.work;
        let solution = &mut work.stage[stage];
        let [flow, flow_change, mut through] = flows;
        let (inverse, time_slope) = (1.0 / length, length * TIME_SLOPE[stage]);
        // Heat that leaves through the change of the surface's potential.
        for (point, slope) in work.slope.iter().enumerate() {
            let terms = self.grid.surface.terms(point);
            through += slope * terms.iter().map(|&(n, weight)| weight * solution[n]).sum::<f64>();
        }
        let sum: f64 = C[stage].iter().zip(&work.stage_lost[..stage]).map(|(c, q)| c * q).sum();
        work.stage_lost[stage] =
            GAMMA * length * (flow + inverse * sum + time_slope * flow_change + through);
        for field in solution.chunks_exact_mut(work.capacity.len()) {
            for (value, capacity) in field.iter_mut().zip(&work.capacity) {
                *value *= capacity;
            }
        }
        // What the coupling's solution left open is carried, so that no heat is lost.
        self.fields.draw(work.coupling.open(), GAMMA * length, solution);
    }

    /// Difference to the embedded method \[K\]: root mean square over the volume and around
    /// the axis, or of a body if that is larger.
    fn error(&self) -> f64 {
        let work = &self.work;
        let mut sum = 0.0;
        for (field, last) in work.stage[STAGES - 1].chunks_exact(work.capacity.len()).enumerate() {
            let share = if field == 0 { 1.0 } else { 0.5 };
            for ((last, capacity), volume) in last.iter().zip(&work.capacity).zip(&self.grid.volume)
            {
                let error = last / capacity;
                sum += share * volume * error * error;
            }
        }
        // The error of the potential over the conductivity, whose small changes do not matter here.
        let glass = (sum / self.volume).sqrt() / self.thermal.material.conductivity(0.0);
        let bodies = self.bodies.error();
        if bodies > glass || bodies.is_nan() { bodies } else { glass }
    }
}
