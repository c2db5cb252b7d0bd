//! The fields that make up the temperature of the glass, and the matrices of a step.
//!
//! The first field is the mean around the axis. Each part that varies around it adds its
//! amplitude. A vector over fields holds all points of the mean, then all of each part; at
//! the surface likewise. docs/physics/conduction.md, eqs. K-15 to K-19.

use crate::grid::Grid;
use crate::rosenbrock::GAMMA;
use crate::skyline::Skyline;
use crate::surface::Surface;
use crate::thermal::Thermal;
use crate::variation::Variation;

/// Everything about the fields that is linear within a step.
#[derive(Debug)]
pub(crate) struct Fields<'g> {
    grid: &'g Grid,
    /// Factored matrix of the mean.
    mean: Skyline,
    orders: Vec<Order>,
    /// Place in `orders` of each part.
    part_order: Vec<usize>,
    /// The surface as parts see it.
    surface: Surface,
    /// Change of a part's potential by that of the mean while the part keeps its heat,
    /// `[parts · points]`; empty with constant properties.
    drift: Vec<f64>,
}

/// What cosine and sine of an order share.
#[derive(Debug)]
struct Order {
    conduction: Skyline,
    /// Factored matrix of the step.
    matrix: Skyline,
}

impl<'g> Fields<'g> {
    pub(crate) fn new(grid: &'g Grid, variation: &Variation) -> Self {
        let numbers = variation.orders();
        let place = |order| numbers.iter().position(|&n| n == order);
        let parts = variation.parts();
        let part_order = parts.iter().filter_map(|part| place(part.order)).collect();
        let orders = numbers.iter().map(|&order| {
            let conduction = grid.conduction_of_order(order);
            Order { matrix: conduction.clone(), conduction }
        });
        Self {
            grid,
            mean: grid.conduction.clone(),
            orders: orders.collect(),
            part_order,
            surface: if parts.is_empty() { Surface::default() } else { grid.surface_off_axis() },
            drift: vec![],
        }
    }

    /// Number of fields.
    pub(crate) fn len(&self) -> usize {
        1 + self.part_order.len()
    }

    /// Points of all fields together.
    pub(crate) fn unknowns(&self) -> usize {
        self.len() * self.grid.len()
    }

    /// The surface as a field sees it.
    pub(crate) fn surface(&self, field: usize) -> &Surface {
        if field == 0 { &self.grid.surface } else { &self.surface }
    }

    /// Heat conducted into each point \[W\].
    pub(crate) fn conduct(&self, potential: &[f64], rate: &mut [f64]) {
        let points = self.grid.len();
        self.grid.conduction.multiply(&potential[..points], &mut rate[..points]);
        for (part, &order) in self.part_order.iter().enumerate() {
            let range = (1 + part) * points..(2 + part) * points;
            self.orders[order].conduction.multiply(&potential[range.clone()], &mut rate[range]);
        }
        for value in rate.iter_mut() {
            *value = -*value;
        }
    }

    /// Factors capacity / (γ step) + conduction + film slopes; returns how many matrices.
    pub(crate) fn factor(&mut self, capacity: &[f64], length: f64, slope: &[f64]) -> usize {
        let inverse = 1.0 / (GAMMA * length);
        let surface = &self.grid.surface;
        assemble(&mut self.mean, &self.grid.conduction, (capacity, inverse), (surface, slope));
        for Order { conduction, matrix } in &mut self.orders {
            assemble(matrix, conduction, (capacity, inverse), (&self.surface, slope));
        }
        1 + self.orders.len()
    }

    /// Notes how the potentials of the parts follow that of the mean.
    pub(crate) fn note_drift(&mut self, thermal: &Thermal<'_>, stored: &[f64], potential: &[f64]) {
        self.drift.clear();
        let points = self.grid.len();
        if thermal.material.is_constant() || self.part_order.is_empty() {
            return;
        }
        for part in potential[points..].chunks_exact(points) {
            let drift =
                thermal.drift(&stored[..points]).zip(part).map(|(drift, theta)| drift * theta);
            self.drift.extend(drift);
        }
    }

    /// Whether the potentials of the parts follow that of the mean.
    pub(crate) fn has_drift(&self) -> bool {
        !self.drift.is_empty()
    }

    /// From changes of stored heat, as potentials, to changes of potential.
    pub(crate) fn add_drift(&self, change: &mut [f64]) {
        let points = self.grid.len();
        let (mean, parts) = change.split_at_mut(points);
        for (part, drift) in parts.chunks_exact_mut(points).zip(self.drift.chunks_exact(points)) {
            for ((value, drift), mean) in part.iter_mut().zip(drift).zip(&*mean) {
                *value += drift * mean;
            }
        }
    }

    /// Solves with the factored matrices; what parts conduct because the mean changes their
    /// conductivity and capacity comes from the solution of the mean.
    pub(crate) fn solve(&self, vector: &mut [f64]) {
        let points = self.grid.len();
        let (mean, parts) = vector.split_at_mut(points);
        self.mean.solve(mean);
        let mut drifted = vec![0.0; if self.drift.is_empty() { 0 } else { points }];
        let mut conducted = drifted.clone();
        for (part, value) in parts.chunks_exact_mut(points).enumerate() {
            let Order { conduction, matrix } = &self.orders[self.part_order[part]];
            if !self.drift.is_empty() {
                let drift = &self.drift[part * points..][..points];
                for ((drifted, drift), mean) in drifted.iter_mut().zip(drift).zip(&*mean) {
                    *drifted = drift * mean;
                }
                conduction.multiply(&drifted, &mut conducted);
                for (value, conducted) in value.iter_mut().zip(&conducted) {
                    *value -= conducted;
                }
            }
            matrix.solve(value);
        }
    }

    /// Values of every field at every boundary point.
    pub(crate) fn at_surface(&self, values: &[f64]) -> Vec<f64> {
        let points = self.grid.surface.points.len();
        let mut at_surface = Vec::with_capacity(self.len() * points);
        for (field, values) in values.chunks_exact(self.grid.len()).enumerate() {
            let surface = self.surface(field);
            at_surface.extend((0..points).map(|point| {
                surface.terms(point).iter().map(|&(n, weight)| weight * values[n]).sum::<f64>()
            }));
        }
        at_surface
    }

    /// Takes `factor` times the flows out of the boundary points from the points of the fields.
    pub(crate) fn draw(&self, flow: &[f64], factor: f64, target: &mut [f64]) {
        let boundary = self.grid.surface.points.len();
        let fields = target.chunks_exact_mut(self.grid.len()).zip(flow.chunks_exact(boundary));
        for (field, (target, flow)) in fields.enumerate() {
            let surface = self.surface(field);
            for (point, flow) in flow.iter().enumerate() {
                for &(n, weight) in surface.terms(point) {
                    target[n] -= factor * weight * flow;
                }
            }
        }
    }

    /// The same for fluxes [W m⁻²] of the parts alone.
    pub(crate) fn draw_parts(&self, flux: &[f64], factor: f64, target: &mut [f64]) {
        let (points, boundary) = (self.grid.len(), self.grid.surface.points.len());
        let parts = target[points..].chunks_exact_mut(points).zip(flux.chunks_exact(boundary));
        for (target, flux) in parts {
            for (point, (flux, area)) in flux.iter().zip(&self.surface.area).enumerate() {
                let flow = factor * flux * area;
                for &(node, weight) in self.surface.terms(point) {
                    target[node] -= weight * flow;
                }
            }
        }
    }
}

fn assemble(
    matrix: &mut Skyline,
    conduction: &Skyline,
    (capacity, inverse): (&[f64], f64),
    (surface, slope): (&Surface, &[f64]),
) {
    matrix.copy_from(conduction);
    matrix.add_diagonal(capacity, inverse);
    for (point, &slope) in slope.iter().enumerate() {
        let terms = surface.terms(point);
        for (i, &(row, a)) in terms.iter().enumerate() {
            for &(column, b) in &terms[..=i] {
                matrix.add(row, column, slope * a * b);
            }
        }
    }
    matrix.factor();
}
