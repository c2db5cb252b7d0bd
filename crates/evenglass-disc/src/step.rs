//! Marching the glass through a stretch of the night.

use evenglass_units::Temperature;
use thiserror::Error;

use crate::boundary::{Exchange, Surroundings};
use crate::grid::Grid;
use crate::material::Material;
use crate::rosenbrock::{A, C, DENSE, GAMMA, STAGES, TIME, TIME_SLOPE};
use crate::skyline::Skyline;
use crate::span::Span;
use crate::thermal::Thermal;

/// Why a stretch could not be computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum StepError {
    /// The step size fell to nothing: the heat exchange is not a smooth finite function.
    #[error("no time step is small enough at {time_s} s: the heat exchange is not finite there")]
    StepTooSmall {
        /// Where \[s\].
        time_s: f64,
    },
    /// More steps than any night needs.
    #[error("more than {limit} time steps before {time_s} s")]
    TooManySteps {
        /// The limit.
        limit: usize,
        /// Where it was reached \[s\].
        time_s: f64,
    },
}

/// Most steps in one stretch; an eight-hour night takes some twenty.
const STEP_LIMIT: usize = 200_000;

/// A step shorter than this is given up \[s\].
const SHORTEST_STEP: f64 = 1e-6;

/// First step after a jump \[s\]: the layer of glass it reaches is 0.7 mm thick,
/// thinner than any block.
const FIRST_STEP: f64 = 1.0;

/// The glass on its way through the night.
///
/// The unknown is the heat stored at each point, so that whatever leaves one
/// point arrives at another or outside: stored and lost heat balance to the
/// last bits with any specific heat, radiation and step size.
#[derive(Debug)]
pub struct Stepper<'g> {
    grid: &'g Grid,
    thermal: Thermal<'g>,
    /// Volume of the glass \[m³\].
    volume: f64,
    tolerance: f64,
    time: f64,
    /// Heat stored at each point above 0 °C \[J\].
    stored: Vec<f64>,
    /// Heat that left the glass \[J\].
    lost: f64,
    next_step: f64,
    work: Workspace,
    /// Steps taken and refused, and matrices factored.
    effort: Effort,
}

/// What a stretch or a night cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Effort {
    /// Accepted steps.
    pub steps: usize,
    /// Steps refused for their error.
    pub refused: usize,
    /// Matrices factored.
    pub factored: usize,
}

#[derive(Debug)]
struct Workspace {
    matrix: Skyline,
    /// What the factored matrix was made from: step, and slopes and capacities.
    made_from: (f64, Vec<f64>, Vec<f64>),
    /// Heat capacity by heat potential at each point [J m W⁻¹], at the step's start.
    capacity: Vec<f64>,
    stage: [Vec<f64>; STAGES],
    stage_lost: [f64; STAGES],
    /// Bending terms of the dense output.
    bend: [Vec<f64>; 2],
    state: Vec<f64>,
    potential: Vec<f64>,
    rate: Vec<f64>,
    surface: Vec<f64>,
    exchange: Vec<Exchange>,
    /// Exchange a little later, and its change of flow out of each point [W/s].
    exchange_ahead: Vec<Exchange>,
    flow_change: Vec<f64>,
    slope: Vec<f64>,
}

impl<'g> Stepper<'g> {
    /// Glass at one temperature everywhere, at `time_s`.
    #[must_use]
    pub fn uniform(grid: &'g Grid, material: Material, start: Temperature, tolerance: f64) -> Self {
        let heat = material.stored_heat(start.celsius());
        let stored = grid.volume.iter().map(|volume| volume * heat).collect();
        let (points, surface) = (grid.len(), grid.surface.points.len());
        let work = Workspace {
            matrix: grid.conduction.clone(),
            made_from: (0.0, vec![], vec![]),
            capacity: vec![0.0; points],
            stage: std::array::from_fn(|_| vec![0.0; points]),
            stage_lost: [0.0; STAGES],
            bend: std::array::from_fn(|_| vec![0.0; points]),
            state: vec![0.0; points],
            potential: vec![0.0; points],
            rate: vec![0.0; points],
            surface: vec![0.0; surface],
            exchange: vec![Exchange::default(); surface],
            exchange_ahead: vec![Exchange::default(); surface],
            flow_change: vec![0.0; points],
            slope: vec![0.0; surface],
        };
        let effort = Effort::default();
        Self {
            grid,
            thermal: Thermal::new(material, &grid.volume),
            volume: grid.total_volume(),
            tolerance,
            time: 0.0,
            stored,
            lost: 0.0,
            next_step: 0.0,
            work,
            effort,
        }
    }

    /// Time reached \[s\].
    #[must_use]
    pub fn time_s(&self) -> f64 {
        self.time
    }

    /// Heat that has left the glass since the start \[J\].
    #[must_use]
    pub fn heat_lost_j(&self) -> f64 {
        self.lost
    }

    /// Heat stored in the glass above 0 °C \[J\].
    #[must_use]
    pub fn heat_stored_j(&self) -> f64 {
        self.stored.iter().sum()
    }

    /// Heat that warms the glass as it is now by a kelvin [J/K].
    #[must_use]
    pub fn heat_capacity_j_per_k(&self) -> f64 {
        let material = &self.thermal.material;
        let mean = material.celsius(self.heat_stored_j() / self.volume);
        self.volume * material.heat_capacity(mean)
    }

    /// Temperature of every point [°C].
    #[must_use]
    pub fn celsius(&self) -> Vec<f64> {
        let heat = self.stored.iter().zip(&self.grid.volume);
        heat.map(|(stored, volume)| self.thermal.material.celsius(stored / volume)).collect()
    }

    /// Temperature of the surface at every boundary point \[K\], as [`Surroundings`] sees it.
    #[must_use]
    pub fn surface_kelvin(&self) -> Vec<f64> {
        let mut potential = vec![0.0; self.grid.len()];
        let mut kelvin = vec![0.0; self.grid.surface.points.len()];
        self.thermal.potential(&self.stored, &mut potential);
        self.thermal.surface_kelvin(&self.grid.surface, &potential, &mut kelvin);
        kelvin
    }

    /// What it cost so far.
    #[must_use]
    pub fn effort(&self) -> Effort {
        self.effort
    }

    /// Says that what surrounds the glass has just jumped: the next step is small.
    pub fn expect_jump(&mut self) {
        self.next_step = 0.0;
    }

    /// Marches to `until_s`, which is landed on exactly; `observe` sees every accepted step.
    ///
    /// # Errors
    /// If the heat exchange is not finite, or needs absurdly many steps.
    pub fn advance(
        &mut self,
        until_s: f64,
        surroundings: &impl Surroundings,
        mut observe: impl FnMut(&Span<'_>),
    ) -> Result<(), StepError> {
        let mut count = 0;
        let mut step = if self.next_step > 0.0 { self.next_step } else { FIRST_STEP };
        while self.time < until_s {
            let remaining = until_s - self.time;
            // No sliver is left for a last step.
            let landing = step >= 0.999 * remaining;
            let length =
                if landing { remaining } else { step.min(0.5 * remaining.max(2.0 * step)) };
            let error = self.attempt(length, surroundings);
            let growth = step_growth(error / self.tolerance);
            count += 1;
            if count > STEP_LIMIT {
                return Err(StepError::TooManySteps { limit: STEP_LIMIT, time_s: self.time });
            }
            if error <= self.tolerance {
                let end = if landing { until_s } else { self.time + length };
                self.accept(end, &mut observe);
                // A step cut short by the landing says little about the next.
                step = if landing { step.max(length * growth) } else { length * growth };
            } else {
                self.effort.refused += 1;
                step = length * growth;
                if step < SHORTEST_STEP {
                    return Err(StepError::StepTooSmall { time_s: self.time });
                }
            }
        }
        self.next_step = step;
        Ok(())
    }

    /// Takes over the attempted step.
    fn accept(&mut self, end: f64, observe: &mut impl FnMut(&Span<'_>)) {
        let work = &mut self.work;
        let mut lost_bend = [0.0; 2];
        for (bend, weights) in work.bend.iter_mut().zip(&DENSE) {
            bend.fill(0.0);
            add_weighted(bend, weights, &work.stage, 1.0);
        }
        for (sum, weights) in lost_bend.iter_mut().zip(&DENSE) {
            *sum = weights.iter().zip(&work.stage_lost).map(|(w, stage)| w * stage).sum();
        }
        let lost_after =
            self.lost + combined(&A[STAGES - 1], &work.stage_lost) + work.stage_lost[STAGES - 1];
        // `state` holds the last stage's state; the last stage itself completes the step.
        for (after, last) in work.state.iter_mut().zip(&work.stage[STAGES - 1]) {
            *after += last;
        }
        observe(&Span {
            from: self.time,
            to: end,
            grid: self.grid,
            material: &self.thermal.material,
            before: &self.stored,
            after: &work.state,
            bend: [&work.bend[0], &work.bend[1]],
            lost: [self.lost, lost_after, lost_bend[0], lost_bend[1]],
        });
        std::mem::swap(&mut self.stored, &mut work.state);
        self.lost = lost_after;
        self.time = end;
        self.effort.steps += 1;
    }

    /// Computes the stages of a step of `length` seconds; returns its error \[K\].
    fn attempt(&mut self, length: f64, surroundings: &impl Surroundings) -> f64 {
        self.work.state.copy_from_slice(&self.stored);
        let here = self.evaluate(self.time, surroundings);
        let change = self.change_of_flow(1e-4 * length, surroundings);
        self.prepare_matrix(length);
        for (stage, fraction) in TIME.iter().enumerate() {
            let flow = if stage == 0 {
                here
            } else {
                self.set_state(stage);
                self.evaluate(self.time + fraction * length, surroundings)
            };
            self.solve_stage(stage, length, flow, change);
        }
        self.error()
    }

    /// How the heat flow out of each point changes by time alone, by a difference
    /// over `nudge` seconds, into `flow_change`; returns the sum [W/s].
    fn change_of_flow(&mut self, nudge: f64, surroundings: &impl Surroundings) -> f64 {
        let work = &mut self.work;
        surroundings.exchange(self.time + nudge, &work.surface, &mut work.exchange_ahead);
        work.flow_change.fill(0.0);
        let mut total = 0.0;
        for (point, (ahead, here)) in work.exchange_ahead.iter().zip(&work.exchange).enumerate() {
            let change = (ahead.flux - here.flux) / nudge * self.grid.surface.area[point];
            total += change;
            for &(n, weight) in self.grid.surface.terms(point) {
                work.flow_change[n] += weight * change;
            }
        }
        total
    }

    /// `state` = start + earlier stages.
    fn set_state(&mut self, stage: usize) {
        let Workspace { state, stage: stages, .. } = &mut self.work;
        state.copy_from_slice(&self.stored);
        add_weighted(state, &A[stage], &stages[..stage], 1.0);
    }

    /// Rate of stored heat at every point \[W\] for `state` into `rate`; returns
    /// the heat flow out of the glass \[W\].
    fn evaluate(&mut self, time: f64, surroundings: &impl Surroundings) -> f64 {
        let Workspace { state, potential, rate, surface, exchange, .. } = &mut self.work;
        self.thermal.potential(state, potential);
        self.thermal.surface_kelvin(&self.grid.surface, potential, surface);
        surroundings.exchange(time, surface, exchange);
        self.grid.conduction.multiply(potential, rate);
        for value in rate.iter_mut() {
            *value = -*value;
        }
        let mut total = 0.0;
        for (point, heat) in exchange.iter().enumerate() {
            let flow = heat.flux * self.grid.surface.area[point];
            total += flow;
            for &(n, weight) in self.grid.surface.terms(point) {
                rate[n] -= weight * flow;
            }
        }
        total
    }

    /// Factors capacity / (γ step) + conduction + film slopes, for the state and
    /// the exchange evaluated last, unless that very matrix is at hand.
    fn prepare_matrix(&mut self, length: f64) {
        let work = &mut self.work;
        self.thermal.capacity(&self.stored, &mut work.capacity);
        for (point, slope) in work.slope.iter_mut().enumerate() {
            let conductivity = self.thermal.conductivity(work.surface[point]);
            *slope = work.exchange[point].slope * self.grid.surface.area[point] / conductivity;
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
        work.matrix.copy_from(&self.grid.conduction);
        work.matrix.add_diagonal(&work.capacity, 1.0 / (GAMMA * length));
        for (point, &slope) in work.slope.iter().enumerate() {
            let terms = self.grid.surface.terms(point);
            for (i, &(row, a)) in terms.iter().enumerate() {
                for &(column, b) in &terms[..=i] {
                    work.matrix.add(row, column, slope * a * b);
                }
            }
        }
        work.matrix.factor();
        self.effort.factored += 1;
    }

    fn solve_stage(&mut self, stage: usize, length: f64, flow: f64, flow_change: f64) {
        let work = &mut self.work;
        let (earlier, rest) = work.stage.split_at_mut(stage);
        let solution = &mut rest[0];
        let (inverse, time_slope) = (1.0 / length, length * TIME_SLOPE[stage]);
        for ((value, rate), change) in solution.iter_mut().zip(&work.rate).zip(&work.flow_change) {
            *value = rate - time_slope * change;
        }
        add_weighted(solution, &C[stage], earlier, inverse);
        work.matrix.solve(solution);
        // Heat that leaves through the change of the surface's potential.
        let mut through = 0.0;
        for (point, slope) in work.slope.iter().enumerate() {
            let terms = self.grid.surface.terms(point);
            through += slope * terms.iter().map(|&(n, weight)| weight * solution[n]).sum::<f64>();
        }
        let sum: f64 = C[stage].iter().zip(&work.stage_lost[..stage]).map(|(c, q)| c * q).sum();
        work.stage_lost[stage] =
            GAMMA * length * (flow + inverse * sum + time_slope * flow_change + through);
        for (value, capacity) in solution.iter_mut().zip(&work.capacity) {
            *value *= capacity;
        }
    }

    /// Root mean square over the volume of the difference to the embedded method \[K\].
    fn error(&self) -> f64 {
        let work = &self.work;
        let mut sum = 0.0;
        for ((last, capacity), volume) in
            work.stage[STAGES - 1].iter().zip(&work.capacity).zip(&self.grid.volume)
        {
            let error = last / capacity;
            sum += volume * error * error;
        }
        // The error of the potential over the conductivity, whose small changes do not matter here.
        (sum / self.volume).sqrt() / self.thermal.material.conductivity(0.0)
    }
}

/// target += factor · Σ weight · stage, point by point.
fn add_weighted(target: &mut [f64], weights: &[f64], stages: &[Vec<f64>], factor: f64) {
    for (weight, stage) in weights.iter().zip(stages) {
        let weight = factor * weight;
        for (value, term) in target.iter_mut().zip(stage) {
            *value += weight * term;
        }
    }
}

/// Σ weight · stage.
fn combined(weights: &[f64], stages: &[f64]) -> f64 {
    weights.iter().zip(stages).map(|(w, s)| w * s).sum()
}

/// Factor from a step's error, in tolerances, to the next step; the embedded
/// method has order 3. Anything not finite shrinks the step.
fn step_growth(relative_error: f64) -> f64 {
    if relative_error.is_finite() {
        (0.85 * relative_error.max(1e-12).powf(-0.25)).clamp(0.15, 6.0)
    } else {
        0.15
    }
}
