//! One accepted time step, and the state at any time within it.

use crate::grid::Grid;
use crate::material::Material;

/// One accepted step, which knows the state at any time within it.
#[derive(Debug)]
pub struct Span<'s> {
    pub(crate) from: f64,
    pub(crate) to: f64,
    pub(crate) grid: &'s Grid,
    pub(crate) material: &'s Material,
    pub(crate) before: &'s [f64],
    pub(crate) after: &'s [f64],
    pub(crate) bend: [&'s [f64]; 2],
    pub(crate) lost: [f64; 4],
}

impl Span<'_> {
    /// Start of the step \[s\].
    #[must_use]
    pub fn from_s(&self) -> f64 {
        self.from
    }

    /// End of the step \[s\].
    #[must_use]
    pub fn to_s(&self) -> f64 {
        self.to
    }

    /// Temperature of every point [°C] at `time_s` within the step.
    ///
    /// # Panics
    /// If `celsius` is not as long as the grid has points.
    pub fn celsius(&self, time_s: f64, celsius: &mut [f64]) {
        assert_eq!(celsius.len(), self.grid.len(), "one temperature per point");
        let weight = dense_weights((time_s - self.from) / (self.to - self.from));
        for (n, value) in celsius.iter_mut().enumerate() {
            let stored = weight[0] * self.before[n]
                + weight[1] * self.after[n]
                + weight[2] * self.bend[0][n]
                + weight[3] * self.bend[1][n];
            *value = self.material.celsius(stored / self.grid.volume[n]);
        }
    }

    /// Weighted sum of temperatures [°C] over a few points at `time_s` within the step.
    #[must_use]
    pub fn celsius_of(&self, terms: &[(usize, f64)], time_s: f64) -> f64 {
        let weight = dense_weights((time_s - self.from) / (self.to - self.from));
        let sum = terms.iter().map(|&(n, share)| {
            let stored = weight[0] * self.before[n]
                + weight[1] * self.after[n]
                + weight[2] * self.bend[0][n]
                + weight[3] * self.bend[1][n];
            share * self.material.celsius(stored / self.grid.volume[n])
        });
        sum.sum()
    }

    /// Heat that has left the glass since the start \[J\] at `time_s` within the step.
    #[must_use]
    pub fn heat_lost_j(&self, time_s: f64) -> f64 {
        let weight = dense_weights((time_s - self.from) / (self.to - self.from));
        weight.iter().zip(&self.lost).map(|(w, q)| w * q).sum()
    }
}

/// Weights of start, end and the two bending terms at a fraction of the step.
fn dense_weights(fraction: f64) -> [f64; 4] {
    let (s, rest) = (fraction, 1.0 - fraction);
    [rest, s, s * rest, s * rest * s]
}
