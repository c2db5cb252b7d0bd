//! One accepted time step, and the state at any time within it.

use crate::bodies::BodySpan;
use crate::fields::Fields;
use crate::grid::Grid;
use crate::sectors::Sectors;
use crate::thermal::Thermal;
use crate::variation::Part;

/// One accepted step, which knows the state at any time within it.
#[derive(Debug)]
pub struct Span<'s> {
    pub(crate) from: f64,
    pub(crate) to: f64,
    pub(crate) grid: &'s Grid,
    pub(crate) thermal: &'s Thermal<'s>,
    pub(crate) around: (&'s Fields<'s>, &'s Sectors),
    /// Over all points of all fields.
    pub(crate) before: &'s [f64],
    pub(crate) after: &'s [f64],
    pub(crate) bend: [&'s [f64]; 2],
    pub(crate) lost: [f64; 4],
    pub(crate) bodies: BodySpan<'s>,
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

    /// Temperature of every point, mean around the axis [°C], at `time_s` within the step.
    ///
    /// # Panics
    /// If `celsius` is not as long as the grid has points.
    pub fn celsius(&self, time_s: f64, celsius: &mut [f64]) {
        assert_eq!(celsius.len(), self.grid.len(), "one temperature per point");
        let weight = self.weights(time_s);
        for (n, value) in celsius.iter_mut().enumerate() {
            let stored = self.stored(n, weight);
            *value = self.thermal.material.celsius(stored / self.grid.volume[n]);
        }
    }

    /// Amplitude of a part at every point \[K\] at `time_s` within the step; zero if it does
    /// not vary.
    ///
    /// # Panics
    /// If `kelvin` is not as long as the grid has points.
    pub fn part_kelvin(&self, part: Part, time_s: f64, kelvin: &mut [f64]) {
        let points = self.grid.len();
        assert_eq!(kelvin.len(), points, "one amplitude per point");
        let Some(place) = self.around.1.place(part) else {
            kelvin.fill(0.0);
            return;
        };
        let weight = self.weights(time_s);
        for (n, value) in kelvin.iter_mut().enumerate() {
            let (mean, part) =
                (self.stored(n, weight), self.stored((1 + place) * points + n, weight));
            *value = self.thermal.amplitude(part, mean, n);
        }
    }

    /// Weighted sum of temperatures [°C] over a few points at `time_s` within the step.
    #[must_use]
    pub fn celsius_of(&self, terms: &[(usize, f64)], time_s: f64) -> f64 {
        let weight = self.weights(time_s);
        let sum = terms.iter().map(|&(n, share)| {
            let stored = self.stored(n, weight);
            share * self.thermal.material.celsius(stored / self.grid.volume[n])
        });
        sum.sum()
    }

    /// Heat that has left the glass since the start \[J\] at `time_s` within the step.
    #[must_use]
    pub fn heat_lost_j(&self, time_s: f64) -> f64 {
        let weight = self.weights(time_s);
        weight.iter().zip(&self.lost).map(|(w, q)| w * q).sum()
    }

    /// Temperature of the surface at every boundary point \[K\] at `time_s` within the step,
    /// as [`crate::Surroundings`] sees it, `[sectors · points]`.
    ///
    /// # Panics
    /// If `kelvin` is not as long.
    pub fn surface_kelvin(&self, time_s: f64, kelvin: &mut [f64]) {
        let (fields, sectors) = self.around;
        let weight = self.weights(time_s);
        let stored: Vec<f64> = (0..self.before.len()).map(|n| self.stored(n, weight)).collect();
        let found = sectors.surface_of(fields, self.thermal, &stored);
        assert_eq!(kelvin.len(), found.len(), "one temperature per boundary point and sector");
        kelvin.copy_from_slice(&found);
    }

    /// Temperature of a body \[K\] at `time_s` within the step.
    ///
    /// # Panics
    /// If there are not as many bodies.
    #[must_use]
    pub fn body_kelvin(&self, body: usize, time_s: f64) -> f64 {
        self.bodies.kelvin(body, self.weights(time_s))
    }

    fn weights(&self, time_s: f64) -> [f64; 4] {
        dense_weights((time_s - self.from) / (self.to - self.from))
    }

    /// Heat stored at a point \[J\].
    #[expect(clippy::inline_always, reason = "called, reading a field takes three times as long")]
    #[inline(always)]
    fn stored(&self, point: usize, weight: [f64; 4]) -> f64 {
        weight[0] * self.before[point]
            + weight[1] * self.after[point]
            + weight[2] * self.bend[0][point]
            + weight[3] * self.bend[1][point]
    }
}

/// Weights of start, end and the two bending terms at a fraction of the step.
fn dense_weights(fraction: f64) -> [f64; 4] {
    let (s, rest) = (fraction, 1.0 - fraction);
    [rest, s, s * rest, s * rest * s]
}
