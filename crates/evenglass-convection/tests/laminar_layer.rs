//! The laminar closed forms beside the boundary layer equations they stand for.

use approx::assert_relative_eq;
use evenglass_convection::laminar_jet::{
    LaminarJet, PEAK, REACH, beta_with_third, flow_ratio, momentum_ratio, plane_distance,
};

const PRANDTL: f64 = 0.71;

/// The layer of a jet that leaves a slot with one speed, along an isothermal wall, in
/// units of the slot, the speed and the slot's Reynolds number: `u uₓ + v u_y = u_yy`,
/// `u Tₓ + v T_y = T_yy/Pr`.
struct Layer {
    height: Vec<f64>,
    speed: Vec<f64>,
    /// 1 at the wall, 0 in the jet.
    warmth: Vec<f64>,
    distance: f64,
    /// Of the ring the jet leaves inward; infinite for a plane wall.
    ring: f64,
}

/// What the layer is compared by.
struct Profile {
    film: f64,
    shear: f64,
    peak: f64,
    flow: f64,
    momentum: f64,
}

impl Layer {
    /// Points close enough for the layer at the lip, then ever wider.
    fn leaving(ring: f64) -> Self {
        let mut height = vec![0.0];
        let mut step = 0.006;
        while height[height.len() - 1] < 80.0 {
            let last = height[height.len() - 1];
            if last > 1.5 {
                step *= 1.03;
            }
            height.push(last + step);
        }
        let in_jet = |y: &f64| if *y < 1.0 - 1e-9 { 1.0 } else { 0.0 };
        let mut speed: Vec<f64> = height.iter().map(in_jet).collect();
        speed[0] = 0.0;
        let mut warmth = vec![0.0; height.len()];
        warmth[0] = 1.0;
        Self { height, speed, warmth, distance: 0.0, ring }
    }

    /// Points that the jet's edge has reached; farther out the equations say nothing and
    /// a thin veil of numerical diffusion would.
    fn reached(&self, distance: f64) -> usize {
        let top = 1.0 + 25.0 * distance.sqrt();
        self.height.partition_point(|y| *y <= top).clamp(10, self.height.len() - 1) + 1
    }

    /// One implicit step; the speed across the layer is iterated with that along it.
    fn step(&mut self, length: f64) {
        let points = self.reached(self.distance + length);
        let (old_speed, old_warmth) = (self.speed.clone(), self.warmth.clone());
        for _ in 0..40 {
            let rise = self.rise(&old_speed, length, points);
            self.speed = self.solve(&old_speed, (0.0, 1.0), &rise, length);
            for speed in &mut self.speed {
                *speed = speed.max(0.0);
            }
            self.warmth = self.solve(&old_warmth, (1.0, 1.0 / PRANDTL), &rise, length);
        }
        self.distance += length;
    }

    /// Girth of the layer over that at the ring.
    fn girth(&self, distance: f64) -> f64 {
        1.0 - distance / self.ring
    }

    /// Speed away from the wall, by continuity.
    fn rise(&self, old: &[f64], length: f64, points: usize) -> Vec<f64> {
        let [before, middle, after] =
            [0.0, 0.5, 1.0].map(|part| self.girth(self.distance + part * length));
        let change = |j: usize| (after * self.speed[j] - before * old[j]) / (middle * length);
        let mut rise = vec![0.0; points];
        for j in 1..points {
            let step = self.height[j] - self.height[j - 1];
            rise[j] = rise[j - 1] - 0.5 * step * (change(j) + change(j - 1));
        }
        rise
    }

    /// Solves `u fₓ + v f_y = D f_yy` for one step, with f at the wall and D as given.
    fn solve(
        &self,
        old: &[f64],
        (wall, diffusion): (f64, f64),
        rise: &[f64],
        length: f64,
    ) -> Vec<f64> {
        let points = rise.len();
        let mut above = vec![0.0; points];
        let mut value = old.to_vec();
        value[0] = wall;
        for j in 1..points - 1 {
            let (low, high) = self.across(j, rise[j], diffusion);
            let carried = self.speed[j].max(1e-12) / length;
            let pivot = carried - low - high - low * above[j - 1];
            above[j] = high / pivot;
            value[j] = (carried * old[j] - low * value[j - 1]) / pivot;
        }
        for j in (1..points - 1).rev() {
            value[j] -= above[j] * value[j + 1];
        }
        value
    }

    /// What the neighbours of a point count in the crossing and spreading terms: centred where diffusion
    /// prevails, else from where the air comes.
    fn across(&self, j: usize, rise: f64, diffusion: f64) -> (f64, f64) {
        let (below, above) =
            (self.height[j] - self.height[j - 1], self.height[j + 1] - self.height[j]);
        let both = below + above;
        let (low, high) = (-2.0 * diffusion / (below * both), -2.0 * diffusion / (above * both));
        if rise.abs() * below.max(above) < 1.9 * diffusion {
            (low - rise * above / (below * both), high + rise * below / (above * both))
        } else {
            (low - rise.max(0.0) / below, high + rise.min(0.0) / above)
        }
    }

    fn profile(&self) -> Profile {
        let sum = |f: &dyn Fn(usize) -> f64| {
            let slice = |j: usize| 0.5 * (f(j) + f(j - 1)) * (self.height[j] - self.height[j - 1]);
            (1..self.height.len()).map(slice).sum::<f64>() * self.girth(self.distance)
        };
        // Second order at the wall; the first two steps are alike.
        let slope = |f: &[f64]| (4.0 * f[1] - 3.0 * f[0] - f[2]) / (2.0 * self.height[1]);
        Profile {
            film: -slope(&self.warmth),
            shear: slope(&self.speed),
            peak: self.speed.iter().copied().fold(0.0, f64::max),
            flow: sum(&|j| self.speed[j]),
            momentum: sum(&|j| self.speed[j].powi(2)),
        }
    }

    /// The layer at ascending distances.
    fn march(ring: f64, distances: &[f64]) -> Vec<Profile> {
        let mut layer = Self::leaving(ring);
        let to = |distance: &f64| {
            while layer.distance < distance * (1.0 - 1e-9) {
                let length = (0.01 * layer.distance).max(3e-6);
                layer.step(length.min(distance - layer.distance));
            }
            layer.profile()
        };
        distances.iter().map(to).collect()
    }
}

/// The closed forms in the same units.
const JET: LaminarJet = LaminarJet { speed: 1.0, thickness: 1.0, kinematic_viscosity: 1.0 };

/// From deep in the core, where lip and numbers are forgotten, to the far jet. The march loses
/// 1 % of its momentum at the lip and 2 to 4 % of the shear by the end, where the closed
/// form is exact; halving its steps halves that. The film's own fit is within 2 %.
#[test]
fn closed_forms_follow_the_boundary_layer_equations_on_a_plane_wall() {
    let relative = [0.03, 0.1, 0.2, 0.4, 0.65, 1.0, 2.0, 5.0, 12.0, 25.0];
    let layers = Layer::march(f64::INFINITY, &relative.map(|x| x * REACH));
    for (relative, layer) in relative.into_iter().zip(layers) {
        let distance = relative * REACH;
        let close = |ours: f64, marched: f64, allowed: f64, what: &str| {
            let gap = ours / marched - 1.0;
            assert!(gap.abs() <= allowed, "{what} at {relative}: {ours}, marched {marched}");
        };
        close(JET.film(distance, 1.0, PRANDTL), layer.film, 0.025, "film");
        close(JET.wall_shear_rate(distance), layer.shear, 0.04, "shear");
        close(flow_ratio(relative), layer.flow, 0.02, "flow");
        close(momentum_ratio(relative), layer.momentum, 0.04, "momentum");
        let peak = (1.41 * momentum_ratio(relative) / flow_ratio(relative)).min(1.0);
        close(peak, layer.peak, 0.04, "peak");
    }
}

/// 610 mm, a slot of 7.3 mm at Re = 172: a sixth of the usual speed. The converging layer is
/// marched as it is, without the transformation.
#[test]
fn the_transformation_turns_a_plane_layer_into_one_that_converges() {
    let ring = 0.305 / (172.0 * 0.0073);
    let shares = [0.1, 0.3, 0.5, 0.7, 0.8];
    let layers = Layer::march(ring, &shares.map(|share| share * ring));
    for (share, layer) in shares.into_iter().zip(layers) {
        let plane = plane_distance(ring, share * ring);
        let film = (1.0 - share) * JET.film(plane, 1.0, PRANDTL);
        assert_relative_eq!(film, layer.film, max_relative = 0.025);
        let shear = (1.0 - share) * JET.wall_shear_rate(plane);
        assert_relative_eq!(shear, layer.shear, max_relative = 0.025);
    }
}

/// M. B. Glauert, J. Fluid Mech. 1 (1956) 625–643: f‴ + f f″ + 2 f′² = 0 from rest at the
/// wall with f″ = 2/9 ends at f = 1 and runs through the peak 2^(−5/3); the warmth that
/// such a layer carries, θ″ + Pr f θ′ = 0, leaves the wall with the slope 1/B(1/3, Pr).
#[test]
fn the_far_wall_jet_is_glauerts_and_its_warmth_schwarz_and_caswells() {
    // f, f′, f″, ∫f and ∫exp(−Pr ∫f).
    let slope = |[f, first, second, integral, _]: [f64; 5]| {
        let third = -f * second - 2.0 * first * first;
        [first, second, third, f, (-PRANDTL * integral).exp()]
    };
    let step = 0.01;
    let mut state = [0.0, 0.0, 2.0 / 9.0, 0.0, 0.0];
    let mut peak = 0.0f64;
    for _ in 0..4000 {
        let ahead = |rate: [f64; 5], part: f64| {
            let mut moved = state;
            for (value, rate) in moved.iter_mut().zip(rate) {
                *value += part * step * rate;
            }
            moved
        };
        let first = slope(state);
        let second = slope(ahead(first, 0.5));
        let third = slope(ahead(second, 0.5));
        let fourth = slope(ahead(third, 1.0));
        for i in 0..5 {
            state[i] += step / 6.0 * (first[i] + 2.0 * (second[i] + third[i]) + fourth[i]);
        }
        peak = peak.max(state[1]);
    }
    assert_relative_eq!(state[0], 1.0, max_relative = 1e-7);
    // The peak is read at the points of the march.
    assert_relative_eq!(peak, PEAK, max_relative = 1e-5);
    assert_relative_eq!(state[4], beta_with_third(PRANDTL), max_relative = 1e-6);
}
