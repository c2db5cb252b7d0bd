//! Marching the glass through a stretch of the night.

use evenglass_units::Temperature;
use thiserror::Error;

use crate::bodies::{Bodies, Body};
use crate::boundary::Surroundings;
use crate::fields::Fields;
use crate::grid::Grid;
use crate::material::Material;
use crate::rosenbrock::{A, DENSE, STAGES};
use crate::sectors::Sectors;
use crate::span::Span;
use crate::thermal::Thermal;
use crate::variation::{Part, Variation};

use stage::Workspace;

mod coupling;
mod stage;

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
    /// Heat stored at each point above 0 °C \[J\], mean around the axis; then, point by
    /// point, the amplitude of each part that varies.
    stored: Vec<f64>,
    /// Heat that left the glass \[J\].
    lost: f64,
    bodies: Bodies,
    fields: Fields<'g>,
    sectors: Sectors,
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
    /// Heat exchanges asked for only to learn how points and bodies act on one another.
    pub coupling: usize,
}

impl<'g> Stepper<'g> {
    /// Glass at one temperature everywhere, at `time_s`.
    #[must_use]
    pub fn uniform(grid: &'g Grid, material: Material, start: Temperature, tolerance: f64) -> Self {
        let heat = material.stored_heat(start.celsius());
        let stored = grid.volume.iter().map(|volume| volume * heat).collect();
        let variation = Variation::round();
        let (fields, sectors) = (Fields::new(grid, &variation), Sectors::new(&variation));
        let work = Workspace::new(grid, &fields, &sectors);
        let effort = Effort::default();
        Self {
            grid,
            thermal: Thermal::new(material, &grid.volume),
            volume: grid.total_volume(),
            tolerance,
            time: 0.0,
            stored,
            lost: 0.0,
            bodies: Bodies::default(),
            fields,
            sectors,
            next_step: 0.0,
            work,
            effort,
        }
    }

    /// The same glass beside bodies, in the order in which [`Surroundings`] meets them.
    ///
    /// # Panics
    /// If a heat capacity is not above zero.
    #[must_use]
    pub fn with_bodies(mut self, bodies: &[Body]) -> Self {
        for body in bodies {
            assert!(body.heat_capacity_j_per_k > 0.0, "a body stores heat: {body:?}");
        }
        self.bodies = Bodies::new(bodies);
        self
    }

    /// The same glass, whose temperature may vary around the axis; so far it does not.
    #[must_use]
    pub fn varying(mut self, variation: &Variation) -> Self {
        self.fields = Fields::new(self.grid, variation);
        self.sectors = Sectors::new(variation);
        self.work = Workspace::new(self.grid, &self.fields, &self.sectors);
        self.stored.truncate(self.grid.len());
        self.stored.resize(self.fields.unknowns(), 0.0);
        self
    }

    /// The same glass with the amplitude of a part \[K\] given at every point by radius and
    /// height above the back \[m\]. On the axis a part is zero.
    ///
    /// # Panics
    /// If the part does not vary.
    #[must_use]
    pub fn with_part(mut self, part: Part, kelvin: impl Fn(f64, f64) -> f64) -> Self {
        let place = self.sectors.place(part).expect("only a part that varies has an amplitude");
        let points = self.grid.len();
        let heights = self.grid.heights();
        let (mean, parts) = self.stored.split_at_mut(points);
        let target = parts[place * points..].iter_mut().zip(mean).zip(&self.grid.volume);
        for (((target, mean), volume), ((i, _), height)) in target.zip(heights.indexed_iter()) {
            let radius = self.grid.radii()[i];
            let amplitude = if radius > 0.0 { kelvin(radius, *height) } else { 0.0 };
            let material = &self.thermal.material;
            *target = volume * material.heat_capacity(material.celsius(*mean / volume)) * amplitude;
        }
        self
    }

    /// Temperature of each body \[K\].
    #[must_use]
    pub fn body_kelvin(&self) -> &[f64] {
        &self.bodies.kelvin
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
        self.mean().iter().sum()
    }

    /// Heat stored at each point, mean around the axis \[J\].
    fn mean(&self) -> &[f64] {
        &self.stored[..self.grid.len()]
    }

    /// Heat that warms the glass as it is now by a kelvin [J/K].
    #[must_use]
    pub fn heat_capacity_j_per_k(&self) -> f64 {
        let material = &self.thermal.material;
        let mean = material.celsius(self.heat_stored_j() / self.volume);
        self.volume * material.heat_capacity(mean)
    }

    /// Temperature of every point, mean around the axis [°C].
    #[must_use]
    pub fn celsius(&self) -> Vec<f64> {
        let heat = self.mean().iter().zip(&self.grid.volume);
        heat.map(|(stored, volume)| self.thermal.material.celsius(stored / volume)).collect()
    }

    /// Amplitude of a part at every point \[K\]; zero if it does not vary.
    #[must_use]
    pub fn part_kelvin(&self, part: Part) -> Vec<f64> {
        let points = self.grid.len();
        let Some(place) = self.sectors.place(part) else { return vec![0.0; points] };
        let heat = self.stored[(1 + place) * points..].iter().zip(self.mean()).enumerate();
        heat.map(|(n, (part, mean))| self.thermal.amplitude(*part, *mean, n)).collect()
    }

    /// Temperature of the surface at every boundary point \[K\], as [`Surroundings`] sees it,
    /// `[sectors · points]`.
    #[must_use]
    pub fn surface_kelvin(&self) -> Vec<f64> {
        self.sectors.surface_of(&self.fields, &self.thermal, &self.stored)
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
    ///
    /// # Panics
    /// If the surroundings have another number of bodies or of sectors than the stepper.
    pub fn advance(
        &mut self,
        until_s: f64,
        surroundings: &impl Surroundings,
        mut observe: impl FnMut(&Span<'_>),
    ) -> Result<(), StepError> {
        let (met, known) = (surroundings.bodies(), self.bodies.len());
        assert_eq!(met, known, "the surroundings exchange heat with the bodies of the stepper");
        let (met, known) = (surroundings.sectors(), self.sectors.len());
        assert_eq!(met, known, "the surroundings exchange heat in the sectors of the stepper");
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
                self.bodies.rewind();
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
        self.bodies.complete();
        observe(&Span {
            from: self.time,
            to: end,
            grid: self.grid,
            thermal: &self.thermal,
            around: (&self.fields, &self.sectors),
            before: &self.stored,
            after: &work.state,
            bend: [&work.bend[0], &work.bend[1]],
            lost: [self.lost, lost_after, lost_bend[0], lost_bend[1]],
            bodies: self.bodies.span(),
        });
        self.bodies.accept();
        std::mem::swap(&mut self.stored, &mut work.state);
        self.lost = lost_after;
        self.time = end;
        self.effort.steps += 1;
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

#[cfg(test)]
mod tests;
