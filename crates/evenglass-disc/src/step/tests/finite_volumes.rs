//! The same physics by other means: a flat disc cut into cells around the axis as well as
//! along the radius and through the thickness, second order in space and time.
//!
//! Nothing is shared with the solver under test: no waves around the axis, no Fourier
//! orders, no stored heat; a film in any direction is a number for each cell. Two grids
//! are combined so that the second order of their error drops out.

use std::f64::consts::{FRAC_1_SQRT_2, PI, TAU};

use super::lopsided::{Lopsided, glass_of_tests};
use crate::FaceName;

/// What is compared: volume means.
#[derive(Debug, Clone, Copy)]
pub(super) struct Moments {
    /// Of the temperature above the air \[K\].
    pub(super) mean: f64,
    /// Of the temperature times 2 (r/a)^m cos mθ \[K\], m = 1 … 4.
    pub(super) around: [f64; 4],
}

/// Moments of a flat disc of (radius, thickness) \[m\] that starts `excess` kelvins above the air.
pub(super) fn moments(size: (f64, f64), films: &Lopsided<'_>, excess: f64, until: f64) -> Moments {
    let [coarse, fine] = [1, 2].map(|fineness| {
        let mut disc = Disc::new(size, films, fineness);
        let steps = 60 * fineness;
        let mut kelvin = vec![excess; disc.capacity.len()];
        disc.march(&mut kelvin, until / f64::from(u32::try_from(steps).unwrap()), steps);
        disc.moments(&kelvin)
    });
    let extrapolate = |coarse: f64, fine: f64| (4.0 * fine - coarse) / 3.0;
    Moments {
        mean: extrapolate(coarse.mean, fine.mean),
        around: std::array::from_fn(|m| extrapolate(coarse.around[m], fine.around[m])),
    }
}

/// Cells in the order radius, angle, height, the last one running fastest.
struct Disc {
    size: (f64, f64),
    cells: [usize; 3],
    /// Of each cell [J/K].
    capacity: Vec<f64>,
    /// From each cell to the air [W/K].
    to_air: Vec<f64>,
    /// (cell, cell, W/K)
    links: Vec<(usize, usize, f64)>,
}

impl Disc {
    fn new(size: (f64, f64), films: &Lopsided<'_>, fineness: usize) -> Self {
        let cells = [14, 16, 6].map(|count| count * fineness);
        let (heat, conductivity) = glass_of_tests();
        let [dr, dt, dz] = [size.0, TAU, size.1];
        let [dr, dt, dz] = [dr / cells[0] as f64, dt / cells[1] as f64, dz / cells[2] as f64];
        let count = cells.iter().product();
        let mut disc = Self {
            size,
            cells,
            capacity: vec![0.0; count],
            to_air: vec![0.0; count],
            links: vec![],
        };
        for i in 0..cells[0] {
            let radius = (i as f64 + 0.5) * dr;
            for j in 0..cells[1] {
                let angle = (j as f64 + 0.5) * dt;
                for k in 0..cells[2] {
                    let here = disc.index(i, j, k);
                    disc.capacity[here] = heat * radius * dr * dt * dz;
                    let next = disc.index(i, (j + 1) % cells[1], k);
                    disc.links.push((here, next, conductivity * dr * dz / (radius * dt)));
                    // A film and the half cell before it, one after the other.
                    let through = |film: f64, half: f64| film / (1.0 + film * half / conductivity);
                    if k + 1 < cells[2] {
                        let up = conductivity * radius * dr * dt / dz;
                        disc.links.push((here, disc.index(i, j, k + 1), up));
                    } else {
                        let film = films.film(FaceName::Front, angle);
                        disc.to_air[here] += through(film, 0.5 * dz) * radius * dr * dt;
                    }
                    if k == 0 {
                        let film = films.film(FaceName::Back, angle);
                        disc.to_air[here] += through(film, 0.5 * dz) * radius * dr * dt;
                    }
                    let edge = (radius + 0.5 * dr) * dt * dz;
                    if i + 1 < cells[0] {
                        disc.links.push((here, disc.index(i + 1, j, k), conductivity * edge / dr));
                    } else {
                        let film = films.film(FaceName::Rim, angle);
                        disc.to_air[here] += through(film, 0.5 * dr) * edge;
                    }
                }
            }
        }
        disc
    }

    fn index(&self, i: usize, j: usize, k: usize) -> usize {
        (i * self.cells[1] + j) * self.cells[2] + k
    }

    /// Heat that leaves each cell \[W\].
    fn leaving(&self, kelvin: &[f64]) -> Vec<f64> {
        let mut flow: Vec<f64> = self.to_air.iter().zip(kelvin).map(|(g, t)| g * t).collect();
        for &(a, b, conductance) in &self.links {
            let through = conductance * (kelvin[a] - kelvin[b]);
            flow[a] += through;
            flow[b] -= through;
        }
        flow
    }

    /// Two implicit stages a step, L-stable and of order 2.
    fn march(&mut self, kelvin: &mut [f64], step: f64, steps: usize) {
        let gamma = 1.0 - FRAC_1_SQRT_2;
        for _ in 0..steps {
            let first = self.implicit(kelvin, gamma * step);
            let between: Vec<f64> = kelvin
                .iter()
                .zip(&first)
                .map(|(t, rate)| t + (1.0 - gamma) * step * rate)
                .collect();
            let second = self.implicit(&between, gamma * step);
            for ((t, between), rate) in kelvin.iter_mut().zip(&between).zip(&second) {
                *t = between + gamma * step * rate;
            }
        }
    }

    /// Rate x [K/s] with capacity · x = -leaving(t + length · x), by conjugate gradients.
    fn implicit(&self, kelvin: &[f64], length: f64) -> Vec<f64> {
        let apply = |x: &[f64]| -> Vec<f64> {
            let leaving = self.leaving(x);
            let own = self.capacity.iter().zip(x);
            own.zip(leaving).map(|((c, x), leaving)| c * x + length * leaving).collect()
        };
        let dot = |a: &[f64], b: &[f64]| -> f64 { a.iter().zip(b).map(|(a, b)| a * b).sum() };
        let mut rate = vec![0.0; kelvin.len()];
        let mut residual: Vec<f64> = self.leaving(kelvin).iter().map(|flow| -flow).collect();
        let scaled = |residual: &[f64]| -> Vec<f64> {
            residual.iter().zip(&self.capacity).map(|(r, c)| r / c).collect()
        };
        let mut direction = scaled(&residual);
        let mut size = dot(&residual, &direction);
        let goal = 1e-20 * size;
        for _ in 0..400 {
            if size <= goal {
                return rate;
            }
            let applied = apply(&direction);
            let share = size / dot(&direction, &applied);
            for n in 0..rate.len() {
                rate[n] += share * direction[n];
                residual[n] -= share * applied[n];
            }
            let next = scaled(&residual);
            let after = dot(&residual, &next);
            for (direction, next) in direction.iter_mut().zip(next) {
                *direction = next + after / size * *direction;
            }
            size = after;
        }
        panic!("conjugate gradients end");
    }

    fn moments(&self, kelvin: &[f64]) -> Moments {
        let (radius, thickness) = self.size;
        let (heat, _) = glass_of_tests();
        let whole = heat * PI * radius * radius * thickness;
        let mut moments = Moments { mean: 0.0, around: [0.0; 4] };
        for (n, (kelvin, capacity)) in kelvin.iter().zip(&self.capacity).enumerate() {
            let share = capacity / whole * kelvin;
            let ring = n / self.cells[2];
            let relative = ((ring / self.cells[1]) as f64 + 0.5) / self.cells[0] as f64;
            let angle = ((ring % self.cells[1]) as f64 + 0.5) * TAU / self.cells[1] as f64;
            moments.mean += share;
            for (m, moment) in (1..).zip(&mut moments.around) {
                *moment += 2.0 * share * relative.powi(m) * (f64::from(m) * angle).cos();
            }
        }
        moments
    }
}
