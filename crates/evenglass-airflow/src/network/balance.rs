//! Finds where the pressure of the fans is used up.

use crate::fan::{MotorPlace, STALL_SHARE};

use crate::root::falling_root;
use crate::{Air, exchange, noise};

use super::{Branch, BranchFlow, Network, Operating, Reason, State, series_drop};

/// Efficiency with which blades turn shaft power into flow and pressure [-]; common
/// practice, no source. What they lose warms the stream.
const BLADE_EFFICIENCY: f64 = 0.5;

/// Most that a fan warms its stream \[K\]: with less flow the heat of the motor finds
/// other ways out. Ours.
const MOST_RISE: f64 = 20.0;

/// Share of the free flow by which derivatives are taken [-].
const SMALL_STEP: f64 = 1e-5;

/// Share of a fan's greatest pressure that a branch must resist all its free flow with
/// [-]: less is lost in the rounding of that pressure.
const LEAST_SHARE: f64 = 1e-12;

/// Flow, plenum pressure, and the flows of the branches.
struct Balance {
    flow: f64,
    plenum: f64,
    shares: Vec<f64>,
}

impl Network {
    /// The balance at a speed of the fans (eqs. N-25 to N-27).
    ///
    /// * `speed` — share of full speed at which the fans would turn [-]; below the
    ///   motor's least they stand. Whether they start from rest is asked of
    ///   [`crate::fan::Motor::running_speed`].
    ///
    /// Flows of the branches add up to the trunk's to rounding, and drops along each way
    /// to the pressure over the bank.
    #[must_use]
    pub fn operate(&self, speed: f64, air: &Air) -> Operating {
        if let Some(reason) = self.why_not(speed, air) {
            return self.at_rest(State::NoOperatingPoint { reason }, air);
        }
        if speed <= 0.0 || speed < self.bank.motor.minimum_speed {
            return self.at_rest(State::Stopped, air);
        }
        let balance = self.balance(speed, air);
        self.describe(&balance, speed, air)
    }

    /// The speed at which branch number `branch` (from 0) carries `wanted` [m³/s]: none
    /// if full speed is too slow, or the fans would stop.
    #[must_use]
    pub fn speed_for_flow(&self, branch: usize, wanted: f64, air: &Air) -> Option<f64> {
        let asked = branch < self.branches.len() && wanted > 0.0;
        if !asked || self.why_not(1.0, air).is_some() {
            return None;
        }
        let lacking = |speed: f64| {
            let flow = if speed > 0.0 { self.balance(speed, air).shares[branch] } else { 0.0 };
            wanted - flow
        };
        if lacking(1.0) > 0.0 {
            return None;
        }
        let speed = falling_root(lacking, 0.0, 1.0);
        (speed >= self.bank.motor.minimum_speed).then_some(speed)
    }

    fn why_not(&self, speed: f64, air: &Air) -> Option<Reason> {
        if !speed.is_finite() || !air.is_physical() {
            return Some(Reason::NotPhysical);
        }
        if self.bank.running() == 0 {
            return Some(Reason::NoFan);
        }
        let free = self.bank.free_flow(1.0);
        let least = LEAST_SHARE * self.bank.curve.pressure(0.0, 1.0, air.density);
        let open = |branch: &&Branch| series_drop(&branch.layers, free, air) <= least;
        let branch = self.branches.iter().find(open)?;
        Some(Reason::NoResistance { branch: branch.name.clone() })
    }

    /// Looks for the plenum pressure, not for the flow: each branch then answers with its
    /// own flow, and the trunk's is their sum by construction.
    fn balance(&self, speed: f64, air: &Air) -> Balance {
        let most = self.bank.free_flow(speed);
        let pressure = |flow: f64| self.bank.pressure(flow, speed, air.density);
        let left = |flow: f64| pressure(flow) - series_drop(&self.trunk, flow, air);
        if self.branches.is_empty() {
            let flow = falling_root(left, 0.0, most);
            return Balance { flow, plenum: 0.0, shares: vec![] };
        }
        let shares = |plenum: f64| -> Vec<f64> {
            self.branches.iter().map(|branch| branch.flow(plenum, most, air)).collect()
        };
        let excess = |plenum: f64| left(shares(plenum).iter().sum()) - plenum;
        let plenum = falling_root(excess, 0.0, pressure(0.0));
        let shares = shares(plenum);
        Balance { flow: shares.iter().sum(), plenum, shares }
    }

    fn describe(&self, balance: &Balance, speed: f64, air: &Air) -> Operating {
        let Balance { flow, plenum, .. } = *balance;
        let density = air.density;
        // Blowing freely, a fan has no pressure but what rounding leaves.
        let fan_pressure = self.bank.pressure(flow, speed, density).max(0.0) + 0.0;
        let running = self.bank.running();
        let each = self.bank.running_flow(flow, speed, density);
        let stalls = each < STALL_SHARE * self.bank.curve.free_flow() * speed;
        let air_power = fan_pressure * flow;
        let electric_power =
            (running as f64 * self.bank.motor.power(speed, density)).max(air_power);
        let heat_to_air = match self.bank.motor.in_stream {
            MotorPlace::InStream => electric_power,
            MotorPlace::Outside => (air_power / BLADE_EFFICIENCY).min(electric_power),
        };
        let temperature_rise = exchange::warming(heat_to_air, flow, air).min(MOST_RISE);
        let branch = |(branch, flow): (&Branch, &f64)| branch.at(*flow, air);
        Operating {
            state: if stalls { State::Stalling } else { State::Running },
            speed,
            flow,
            fan_pressure,
            plenum_pressure: plenum,
            trunk: self.trunk.iter().map(|layer| layer.passage(flow, air)).collect(),
            branches: self.branches.iter().zip(&balance.shares).map(branch).collect(),
            air_power,
            electric_power,
            heat_to_air,
            temperature_rise,
            noise_change_db: noise::level_change(speed, running),
            flow_sigma: self.flow_sigma(balance, speed, air),
        }
    }

    fn at_rest(&self, state: State, air: &Air) -> Operating {
        Operating {
            state,
            speed: 0.0,
            flow: 0.0,
            fan_pressure: 0.0,
            plenum_pressure: 0.0,
            trunk: self.trunk.iter().map(|layer| layer.passage(0.0, air)).collect(),
            branches: self.branches.iter().map(|branch| branch.at(0.0, air)).collect(),
            air_power: 0.0,
            electric_power: 0.0,
            heat_to_air: 0.0,
            temperature_rise: 0.0,
            noise_change_db: noise::level_change(0.0, 1),
            flow_sigma: 0.0,
        }
    }

    /// To first order in the deviations of curve and layers, all independent (eq. N-28).
    fn flow_sigma(&self, balance: &Balance, speed: f64, air: &Air) -> f64 {
        let Balance { flow, .. } = *balance;
        let step = SMALL_STEP * self.bank.free_flow(speed);
        if flow <= 2.0 * step {
            return 0.0;
        }
        let slope = |f: &dyn Fn(f64) -> f64, at: f64| {
            let step = step.min(SMALL_STEP * at);
            (f(at + step) - f(at - step)) / (2.0 * step)
        };
        let pressure = |q: f64| self.bank.pressure(q, speed, air.density);
        let left = |q: f64| pressure(q) - series_drop(&self.trunk, q, air);
        // The curve may be off in pressure and, no less, in flow.
        let off = pressure(flow).hypot(flow * slope(&pressure, flow));
        let mut before = (off * self.bank.curve.relative_sigma()).powi(2);
        for layer in &self.trunk {
            before += (layer.drop(flow, air) * layer.law.relative_sigma()).powi(2);
        }
        let falling = -slope(&left, flow);
        if self.branches.is_empty() {
            return before.sqrt() / falling / flow;
        }
        let (mut admittance, mut behind) = (0.0, 0.0);
        for (branch, share) in self.branches.iter().zip(&balance.shares) {
            if *share <= 0.0 {
                continue;
            }
            let rising = slope(&|q| series_drop(&branch.layers, q, air), *share);
            admittance += 1.0 / rising;
            for layer in &branch.layers {
                let deviation = layer.drop(*share, air) * layer.law.relative_sigma();
                behind += (deviation / rising).powi(2);
            }
        }
        let variance = before * admittance * admittance + behind;
        variance.sqrt() / (1.0 + falling * admittance) / flow
    }
}

impl Branch {
    /// Flow at which the branch uses up `pressure`, at most `most` [m³/s].
    fn flow(&self, pressure: f64, most: f64, air: &Air) -> f64 {
        falling_root(|flow| pressure - series_drop(&self.layers, flow, air), 0.0, most)
    }

    fn at(&self, flow: f64, air: &Air) -> BranchFlow {
        BranchFlow {
            name: self.name.clone(),
            flow,
            passages: self.layers.iter().map(|layer| layer.passage(flow, air)).collect(),
        }
    }
}
