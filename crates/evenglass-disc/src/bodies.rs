//! Bodies of one temperature beside the glass: a wall, the air of a box.

use crate::boundary::BodyExchange;
use crate::rosenbrock::{A, C, DENSE, GAMMA, STAGES, TIME_SLOPE};

/// A body of one temperature beside the glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Heat that warms it by a kelvin [J/K], more than nothing.
    pub heat_capacity_j_per_k: f64,
    /// Its temperature at the start \[K\].
    pub start_k: f64,
}

/// The bodies on their way through the night.
///
/// As in the glass, the unknown is heat: what each body has taken up since the start.
#[derive(Debug, Clone, Default)]
pub(crate) struct Bodies {
    body: Vec<Body>,
    /// Heat taken up since the start \[J\].
    gained: Vec<f64>,
    /// The same at the state evaluated last, and the temperature there \[K\].
    state: Vec<f64>,
    pub(crate) kelvin: Vec<f64>,
    /// Exchange there, a little later, and the change of flow between them [W/s].
    pub(crate) exchange: Vec<BodyExchange>,
    pub(crate) exchange_ahead: Vec<BodyExchange>,
    flow_change: Vec<f64>,
    /// Slopes at the step's start, none above zero [W/K].
    slope: Vec<f64>,
    stage: [Vec<f64>; STAGES],
    bend: [Vec<f64>; 2],
}

/// The bodies' share of a [`crate::Span`].
#[derive(Debug)]
pub(crate) struct BodySpan<'s> {
    body: &'s [Body],
    before: &'s [f64],
    after: &'s [f64],
    bend: &'s [Vec<f64>; 2],
}

impl Bodies {
    pub(crate) fn new(bodies: &[Body]) -> Self {
        let zeros = vec![0.0; bodies.len()];
        Self {
            body: bodies.to_vec(),
            gained: zeros.clone(),
            state: zeros.clone(),
            kelvin: bodies.iter().map(|body| body.start_k).collect(),
            exchange: vec![BodyExchange::default(); bodies.len()],
            exchange_ahead: vec![BodyExchange::default(); bodies.len()],
            flow_change: zeros.clone(),
            slope: zeros.clone(),
            stage: std::array::from_fn(|_| zeros.clone()),
            bend: std::array::from_fn(|_| zeros.clone()),
        }
    }

    pub(crate) fn len(&self) -> usize {
        self.body.len()
    }

    /// State = start of the step + earlier stages.
    pub(crate) fn set_state(&mut self, stage: usize) {
        for n in 0..self.len() {
            let earlier = A[stage].iter().zip(&self.stage[..stage]);
            self.state[n] = self.gained[n] + earlier.map(|(a, stage)| a * stage[n]).sum::<f64>();
            self.kelvin[n] = self.body[n].kelvin(self.state[n]);
        }
    }

    /// Takes the change of flow by time alone from the exchanges here and `nudge` seconds later.
    pub(crate) fn take_change(&mut self, nudge: f64) {
        let exchanges = self.exchange_ahead.iter().zip(&self.exchange);
        for (change, (ahead, here)) in self.flow_change.iter_mut().zip(exchanges) {
            *change = (ahead.flow_w - here.flow_w) / nudge;
        }
    }

    /// Takes the slopes of the exchange evaluated last. One above zero, of a body that heats
    /// itself, is left to the coupling: it could make the diagonal vanish.
    pub(crate) fn take_slopes(&mut self) {
        for (slope, exchange) in self.slope.iter_mut().zip(&self.exchange) {
            *slope = exchange.slope_w_per_k.min(0.0);
        }
    }

    pub(crate) fn slopes(&self) -> &[f64] {
        &self.slope
    }

    /// Heat capacities [J/K].
    pub(crate) fn capacities(&self) -> impl Iterator<Item = f64> {
        self.body.iter().map(|body| body.heat_capacity_j_per_k)
    }

    /// Flow into a body for which a stage is solved, without what its solution adds \[W\].
    pub(crate) fn stage_flow(&self, body: usize, stage: usize, length: f64) -> f64 {
        let earlier = C[stage].iter().zip(&self.stage[..stage]);
        self.exchange[body].flow_w
            + earlier.map(|(c, heat)| c * heat[body]).sum::<f64>() / length
            + length * TIME_SLOPE[stage] * self.flow_change[body]
    }

    /// Ends a stage: `change_k` is its solution \[K\] and `dragged` the flow into the bodies
    /// \[W\] that comes with the solutions of others.
    pub(crate) fn end_stage(
        &mut self,
        stage: usize,
        length: f64,
        change_k: &[f64],
        dragged: &[f64],
    ) {
        for n in 0..self.len() {
            let own = self.slope[n] * change_k[n];
            let flow = self.stage_flow(n, stage, length) + own + dragged[n];
            self.stage[stage][n] = GAMMA * length * flow;
        }
    }

    /// Largest difference to the embedded method \[K\].
    pub(crate) fn error(&self) -> f64 {
        let last = self.stage[STAGES - 1].iter().zip(self.capacities());
        // Unlike `f64::max` this keeps what is not a number.
        last.map(|(heat, capacity)| (heat / capacity).abs()).fold(0.0, |largest, error| {
            if error > largest || error.is_nan() { error } else { largest }
        })
    }

    /// Completes the step's state and its dense output.
    pub(crate) fn complete(&mut self) {
        for n in 0..self.len() {
            self.state[n] += self.stage[STAGES - 1][n];
            for (bend, weights) in self.bend.iter_mut().zip(&DENSE) {
                let stages = weights.iter().zip(&self.stage);
                bend[n] = stages.map(|(weight, stage)| weight * stage[n]).sum();
            }
        }
    }

    pub(crate) fn span(&self) -> BodySpan<'_> {
        let Self { body, gained, state, bend, .. } = self;
        BodySpan { body, before: gained, after: state, bend }
    }

    /// Takes over the completed step.
    pub(crate) fn accept(&mut self) {
        self.gained.copy_from_slice(&self.state);
        self.rewind();
    }

    /// Back to the start of the step.
    pub(crate) fn rewind(&mut self) {
        self.set_state(0);
    }
}

impl BodySpan<'_> {
    /// Temperature \[K\] for the weights of start, end and bending terms.
    pub(crate) fn kelvin(&self, body: usize, weight: [f64; 4]) -> f64 {
        let gained = weight[0] * self.before[body]
            + weight[1] * self.after[body]
            + weight[2] * self.bend[0][body]
            + weight[3] * self.bend[1][body];
        self.body[body].kelvin(gained)
    }
}

impl Body {
    fn kelvin(&self, gained: f64) -> f64 {
        self.start_k + gained / self.heat_capacity_j_per_k
    }
}
