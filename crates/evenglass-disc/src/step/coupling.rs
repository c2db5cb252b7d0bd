//! How boundary points and bodies act on one another within a stage.
//!
//! The matrix of a stage is that of the glass with the points' own slopes, which is
//! factored directly, less the coupling. Only flows at boundary points and into
//! bodies are coupled, a hundred numbers, and as many for each part that varies around the
//! axis, which films that vary couple to the mean and to one another: for them a small system is solved by
//! conjugate residuals, each column of which costs one solution with the factored
//! matrix and one heat exchange. The six stages share their columns.
//! docs/physics/conduction.md, eqs. K-12 to K-14.

use crate::boundary::{
    BodyExchange, Exchange, ExchangeState, Exchanges, Surroundings, Temperatures,
};

use crate::fields::Fields;
use crate::sectors::Sectors;

/// Largest change of a temperature in a difference \[K\]. Films are straight over so
/// little, and the rounding of 300 K leaves ten digits.
const NUDGE: f64 = 1e-3;

/// Most columns in a step; with more, something is not smooth.
const MOST_COLUMNS: usize = 48;

/// The linear problem of a stage, as far as it is the same for all six.
pub(super) struct Linear<'a, S> {
    pub(super) surroundings: &'a S,
    /// Start of the step \[s\].
    pub(super) time: f64,
    /// True surface of each boundary point \[m²\].
    pub(super) area: &'a [f64],
    /// Factored.
    pub(super) fields: &'a Fields<'a>,
    pub(super) sectors: &'a Sectors,
    /// Flow out of each boundary point by heat potential there \[m\].
    pub(super) slope: &'a [f64],
    /// Flow into each body by its temperature [W/K].
    pub(super) body_slope: &'a [f64],
    /// Heat capacity / (γ step) − slope of each body [W/K].
    pub(super) body_diagonal: &'a [f64],
}

/// Where a step starts.
pub(super) struct Start<'a> {
    /// In all sectors and of all bodies \[K\], and the exchange there.
    pub(super) temperatures: Temperatures<'a>,
    pub(super) exchange: &'a [Exchange],
    pub(super) body_exchange: &'a [BodyExchange],
    /// Change of conductivity around the axis, see [`Sectors::bend`].
    pub(super) bend: Vec<f64>,
}

/// The coupling of a step. Flows \[W\] are vectors of all boundary points, out of the
/// glass, for each field, and then all bodies, into them.
#[derive(Debug, Default)]
pub(super) struct Coupling {
    /// Temperatures at the step's start \[K\], and the exchange there.
    surface: Vec<f64>,
    bodies: Vec<f64>,
    exchange: Vec<Exchange>,
    body_exchange: Vec<BodyExchange>,
    /// Temperature by heat potential at each boundary point of the mean [m K W⁻¹].
    kelvin: Vec<f64>,
    bend: Vec<f64>,
    /// Change of a temperature during the stage by flow [K/W]: what makes flows comparable.
    weight: Vec<f64>,
    columns: Vec<Column>,
    /// Flows that come with a solution, and what of them it does not account for.
    dragged: Vec<f64>,
    open: Vec<f64>,
    asked: usize,
    probe: Probe,
}

/// Coupled flows, the change they make, and what remains of them less the flows that this
/// change drags along.
#[derive(Debug)]
struct Column {
    flow: Vec<f64>,
    change: Vec<f64>,
    body_change: Vec<f64>,
    remainder: Vec<f64>,
}

/// Temperatures moved a little, and the exchange there.
#[derive(Debug, Default)]
struct Probe {
    surface: Vec<f64>,
    bodies: Vec<f64>,
    exchange: Vec<Exchange>,
    body_exchange: Vec<BodyExchange>,
}

impl Coupling {
    /// Begins a step.
    ///
    /// * `kelvin` — temperature by heat potential at each boundary point of the mean [m K W⁻¹]
    pub(super) fn start(&mut self, start: &Start<'_>, kelvin: impl Iterator<Item = f64>) {
        start.temperatures.surface.clone_into(&mut self.surface);
        start.temperatures.bodies.clone_into(&mut self.bodies);
        start.exchange.clone_into(&mut self.exchange);
        start.body_exchange.clone_into(&mut self.body_exchange);
        start.bend.clone_into(&mut self.bend);
        self.kelvin.clear();
        self.kelvin.extend(kelvin);
        self.probe.exchange.clone_from(&self.exchange);
        self.probe.body_exchange.clone_from(&self.body_exchange);
        self.columns.clear();
    }

    /// Nothing is coupled.
    pub(super) fn clear(&mut self) {
        self.open.clear();
    }

    /// Says by how many kelvins per watt a flow counts.
    pub(super) fn weigh(&mut self, weight: impl Iterator<Item = f64>) {
        self.weight.clear();
        self.weight.extend(weight);
    }

    /// Flows that come with the solution, by differences at the start of the step \[W\].
    pub(super) fn dragged(&self) -> &[f64] {
        &self.dragged
    }

    /// What of the dragged flows the solution does not account for \[W\]; empty without coupling.
    pub(super) fn open(&self) -> &[f64] {
        &self.open
    }

    /// Heat exchanges asked for since this was last called.
    pub(super) fn take_asked(&mut self) -> usize {
        std::mem::take(&mut self.asked)
    }

    /// Adds the coupling to the potentials of the points and temperatures of the bodies that
    /// solve the stage without, until at most `allowed` kelvins stay open; returns
    /// whether that was reached.
    pub(super) fn solve<S: Surroundings>(
        &mut self,
        linear: &Linear<'_, S>,
        (change, body_change): (&mut [f64], &mut [f64]),
        allowed: f64,
    ) -> bool {
        let mut open = self.drag(linear, change, body_change);
        let mut dragged = open.clone();
        let mut next = 0;
        loop {
            let size = norm(&self.weight, &open);
            if next == self.columns.len() && size <= allowed {
                (self.dragged, self.open) = (dragged, open);
                return true;
            }
            if next == self.columns.len()
                && (next == MOST_COLUMNS || !self.add_column(linear, &open))
            {
                return false;
            }
            let column = &self.columns[next];
            let share = product(&self.weight, &column.remainder, &open);
            add(change, share, &column.change);
            add(body_change, share, &column.body_change);
            add(&mut open, -share, &column.remainder);
            // What is dragged = the flows solved for + what stays open.
            add(&mut dragged, share, &column.flow);
            add(&mut dragged, -share, &column.remainder);
            next += 1;
        }
    }

    /// Adds the column that begins with the given flows; false if it is not finite or not new.
    fn add_column<S: Surroundings>(&mut self, linear: &Linear<'_, S>, flow: &[f64]) -> bool {
        let (change, body_change) = linear.respond(flow);
        let drag = self.drag(linear, &change, &body_change);
        let remainder = flow.iter().zip(&drag).map(|(flow, drag)| flow - drag).collect();
        let mut column = Column { flow: flow.to_vec(), change, body_change, remainder };
        let before = norm(&self.weight, &column.remainder);
        for earlier in &self.columns {
            let share = product(&self.weight, &earlier.remainder, &column.remainder);
            column.add(-share, earlier);
        }
        let size = norm(&self.weight, &column.remainder);
        // Twelve digits lost leave nothing but rounding.
        if !(size > 1e-12 * before && size.is_finite()) {
            return false;
        }
        column.scale(1.0 / size);
        self.columns.push(column);
        true
    }

    /// The flows that changes of potentials and of the bodies' temperatures bring with them
    /// beyond those of the slopes in the matrices.
    ///
    /// * `change` — of stored heat, as potentials
    fn drag<S: Surroundings>(
        &mut self,
        linear: &Linear<'_, S>,
        change: &[f64],
        body_change: &[f64],
    ) -> Vec<f64> {
        let own = linear.fields.at_surface(change);
        let mut drag = Vec::with_capacity(self.weight.len());
        if linear.sectors.is_round() {
            let kelvins = own.iter().zip(&self.kelvin).map(|(theta, kelvin)| theta * kelvin);
            self.look_beyond(linear, &kelvins.collect::<Vec<f64>>(), body_change);
            let beyond = self.probe.exchange.iter().zip(linear.area);
            drag.extend(beyond.map(|(beyond, area)| beyond.flux * area));
        } else {
            drag.extend(self.drag_around(linear, (change, &own), body_change));
        }
        drag.extend(self.probe.body_exchange.iter().map(|beyond| beyond.flow_w));
        drag
    }

    /// Flows out of the boundary points of all fields, where some vary around the axis.
    ///
    /// * `own` — of the change, at the surface
    fn drag_around<S: Surroundings>(
        &mut self,
        linear: &Linear<'_, S>,
        (change, own): (&[f64], &[f64]),
        body_change: &[f64],
    ) -> Vec<f64> {
        let points = linear.slope.len();
        let kelvins = self.field_kelvins(linear.fields, change, own);
        let kelvins = linear.sectors.spread(&kelvins, points);
        self.look_beyond(linear, &kelvins, body_change);
        let slopes = self.exchange.iter().zip(&kelvins).map(|(heat, dt)| heat.slope * dt);
        let flux = self.probe.exchange.iter().zip(slopes).map(|(beyond, own)| beyond.flux + own);
        let mut drag = linear.sectors.gather(&flux.collect::<Vec<f64>>(), points);
        for (drag, own) in drag.chunks_exact_mut(points).zip(own.chunks_exact(points)) {
            let slopes = linear.area.iter().zip(linear.slope);
            for ((flow, own), (area, slope)) in drag.iter_mut().zip(own).zip(slopes) {
                *flow = *flow * area - slope * own;
            }
        }
        drag
    }

    /// Changes of the surface temperatures of all fields \[K\].
    ///
    /// * `own` — of the change, at the surface
    fn field_kelvins(&self, fields: &Fields<'_>, change: &[f64], own: &[f64]) -> Vec<f64> {
        let points = self.kelvin.len();
        let mut kelvins = if fields.has_drift() {
            let mut potential = change.to_vec();
            fields.add_drift(&mut potential);
            fields.at_surface(&potential)
        } else {
            own.to_vec()
        };
        for field in kelvins.chunks_exact_mut(points) {
            for (value, kelvin) in field.iter_mut().zip(&self.kelvin) {
                *value *= kelvin;
            }
        }
        let (mean, parts) = kelvins.split_at_mut(points);
        let bends = self.bend.chunks_exact(points);
        for (part, bend) in parts.chunks_exact_mut(points).zip(bends) {
            let bend = bend.iter().zip(&*mean).zip(&self.kelvin);
            for (value, ((bend, mean), kelvin)) in part.iter_mut().zip(bend) {
                *value -= bend * mean * kelvin;
            }
        }
        kelvins
    }

    /// Finds the fluxes in all sectors and flows into bodies that changes of temperatures
    /// bring with them beyond those of each one's own slope; they are left in `probe`.
    fn look_beyond<S: Surroundings>(
        &mut self,
        linear: &Linear<'_, S>,
        kelvins: &[f64],
        body_change: &[f64],
    ) {
        let alone = body_change.is_empty() && !linear.surroundings.is_coupled();
        if !alone && self.follow(linear, kelvins, body_change) {
            return;
        }
        let all = kelvins.iter().chain(body_change);
        let largest = all.fold(0.0, |a: f64, b| a.max(b.abs()));
        let probe = &mut self.probe;
        if alone || largest == 0.0 {
            probe.exchange.fill(Exchange::default());
            probe.body_exchange.fill(BodyExchange::default());
            return;
        }
        let nudge = NUDGE / largest;
        probe.surface.clear();
        probe.surface.extend(self.surface.iter().zip(kelvins).map(|(t, dt)| t + nudge * dt));
        probe.bodies.clear();
        probe.bodies.extend(self.bodies.iter().zip(body_change).map(|(t, dt)| t + nudge * dt));
        let temperatures = Temperatures { surface: &probe.surface, bodies: &probe.bodies };
        let exchanges =
            Exchanges { surface: &mut probe.exchange, bodies: &mut probe.body_exchange };
        linear.surroundings.exchange_with_bodies(linear.time, &temperatures, exchanges);
        self.asked += 1;

        for ((there, here), dt) in probe.exchange.iter_mut().zip(&self.exchange).zip(kelvins) {
            there.flux = (there.flux - here.flux) / nudge - here.slope * dt;
        }
        let exchanges = probe.body_exchange.iter_mut().zip(&self.body_exchange);
        for ((there, here), (slope, change)) in
            exchanges.zip(linear.body_slope.iter().zip(body_change))
        {
            there.flow_w = (there.flow_w - here.flow_w) / nudge - slope * change;
        }
    }

    /// The same from the derivatives of the surroundings; whether they know them.
    fn follow<S: Surroundings>(
        &mut self,
        linear: &Linear<'_, S>,
        kelvins: &[f64],
        body_change: &[f64],
    ) -> bool {
        let state = ExchangeState {
            temperatures: Temperatures { surface: &self.surface, bodies: &self.bodies },
            surface: &self.exchange,
            bodies: &self.body_exchange,
        };
        let change = Temperatures { surface: kelvins, bodies: body_change };
        let probe = &mut self.probe;
        let flows = Exchanges { surface: &mut probe.exchange, bodies: &mut probe.body_exchange };
        if !linear.surroundings.follow(linear.time, &state, &change, flows) {
            return false;
        }
        // A body's slope is cut at zero, its derivative is not.
        let into = probe.body_exchange.iter_mut().zip(&self.body_exchange);
        for ((flow, own), (slope, change)) in into.zip(linear.body_slope.iter().zip(body_change)) {
            flow.flow_w += (own.slope_w_per_k - slope) * change;
        }
        true
    }
}

impl<S> Linear<'_, S> {
    /// Change of stored heat, as potentials, and of the bodies' temperatures under flows,
    /// without coupling.
    fn respond(&self, flow: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let (out, into_bodies) = flow.split_at(self.fields.len() * self.slope.len());
        let mut change = vec![0.0; self.fields.unknowns()];
        self.fields.draw(out, 1.0, &mut change);
        self.fields.solve(&mut change);
        let bodies = into_bodies.iter().zip(self.body_diagonal);
        (change, bodies.map(|(flow, diagonal)| flow / diagonal).collect())
    }
}

impl Column {
    fn add(&mut self, share: f64, other: &Self) {
        add(&mut self.flow, share, &other.flow);
        add(&mut self.change, share, &other.change);
        add(&mut self.body_change, share, &other.body_change);
        add(&mut self.remainder, share, &other.remainder);
    }

    fn scale(&mut self, factor: f64) {
        let Self { flow, change, body_change, remainder } = self;
        for value in flow.iter_mut().chain(change).chain(body_change).chain(remainder) {
            *value *= factor;
        }
    }
}

fn add(target: &mut [f64], share: f64, other: &[f64]) {
    for (value, other) in target.iter_mut().zip(other) {
        *value += share * other;
    }
}

/// Σ (weight a) (weight b).
fn product(weight: &[f64], a: &[f64], b: &[f64]) -> f64 {
    weight.iter().zip(a.iter().zip(b)).map(|(w, (a, b))| (w * a) * (w * b)).sum()
}

fn norm(weight: &[f64], flow: &[f64]) -> f64 {
    product(weight, flow, flow).sqrt()
}
