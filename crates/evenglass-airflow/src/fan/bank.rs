//! Several fans that work together.

use crate::root::falling_root;

use super::{Curve, Motor};

/// Loss of a standing fan on the speed through its open annulus [-]; common practice, no
/// source.
const STANDING_LOSS: f64 = 2.5;

/// What closes the opening of a fan that stands still.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shutter {
    /// Nothing: air flows back through it.
    Open,
    /// A flap that falls shut.
    Shuttered,
}

/// Like fans: `parallel` stacks side by side, each of `series` fans behind one another.
///
/// Side by side flows add, behind one another pressures add. Failed fans are spread
/// evenly over the stacks. A stack with a failed fan blows through it; one whose fans
/// have all failed is a hole through which the others blow back, unless it has a shutter.
#[derive(Debug, Clone, PartialEq)]
pub struct Bank {
    /// Of one fan.
    pub curve: Curve,
    /// Stacks side by side.
    pub parallel: u32,
    /// Fans behind one another in each stack.
    pub series: u32,
    /// Fans that stand still, of all `parallel` × `series`.
    pub failed: u32,
    /// Annulus between hub and casing of one fan [m²].
    pub open_area: f64,
    /// On a stack whose fans have all failed.
    pub shutter: Shutter,
    /// Of one fan.
    pub motor: Motor,
}

/// Stacks that have the same number of failed fans.
#[derive(Debug, Clone, Copy)]
struct Group {
    stacks: f64,
    running: u32,
    failed: u32,
}

impl Bank {
    /// Fans that turn.
    #[must_use]
    pub fn running(&self) -> u64 {
        let all = u64::from(self.parallel) * u64::from(self.series);
        all.saturating_sub(u64::from(self.failed))
    }

    /// Flow that no resistance can hold back at `speed` [m³/s].
    #[must_use]
    pub fn free_flow(&self, speed: f64) -> f64 {
        f64::from(self.parallel) * self.curve.free_flow() * speed.max(0.0)
    }

    /// Static pressure over the bank \[Pa\] at its flow [m³/s]; falls as flow grows.
    ///
    /// * `speed` — [-]; `density` — [kg/m³]
    #[must_use]
    pub fn pressure(&self, flow: f64, speed: f64, density: f64) -> f64 {
        let [more, less] = self.groups();
        let group = more.or(less);
        let (Some(more), Some(less)) = (more, less) else {
            return group.map_or(0.0, |g| self.stack(g, flow / g.stacks, speed, density));
        };
        let fuller = self.flow_of_fuller(less, more, flow, (speed, density));
        self.stack(less, fuller, speed, density)
    }

    /// Flow through each running stack [m³/s], when the bank moves `flow`: more, where
    /// air flows back through failed ones.
    #[must_use]
    pub fn running_flow(&self, flow: f64, speed: f64, density: f64) -> f64 {
        match self.groups() {
            [Some(more), Some(less)] => self.flow_of_fuller(less, more, flow, (speed, density)),
            [more, less] => more.or(less).map_or(0.0, |group| flow / group.stacks),
        }
    }

    /// Stacks with more, and with less failed fans. Shut ones are left out.
    fn groups(&self) -> [Option<Group>; 2] {
        let failed = self.failed.min(self.parallel.saturating_mul(self.series));
        let each = failed.checked_div(self.parallel).unwrap_or(0);
        let with_more = failed.checked_rem(self.parallel).unwrap_or(0);
        let group = |stacks: u32, failed: u32| {
            let running = self.series.saturating_sub(failed);
            let shut = running == 0 && self.shutter == Shutter::Shuttered;
            (stacks > 0 && self.series > 0 && !shut).then_some(Group {
                stacks: f64::from(stacks),
                running,
                failed,
            })
        };
        [group(with_more, each + 1), group(self.parallel - with_more, each)]
    }

    /// Pressure over a stack at the flow through it (eq. A-5).
    fn stack(&self, group: Group, flow: f64, speed: f64, density: f64) -> f64 {
        let driven = match group.running {
            0 => 0.0,
            running => f64::from(running) * self.curve.pressure(flow, speed, density),
        };
        let through = flow / self.open_area;
        if group.failed == 0 || flow == 0.0 {
            return driven;
        }
        driven - f64::from(group.failed) * 0.5 * STANDING_LOSS * density * through * through.abs()
    }

    /// Flow through a stack with less failed fans, when those with more take the rest at
    /// the same pressure.
    fn flow_of_fuller(&self, less: Group, more: Group, flow: f64, state: (f64, f64)) -> f64 {
        let (speed, density) = state;
        let rest = |fuller: f64| (flow - less.stacks * fuller) / more.stacks;
        let excess = |fuller: f64| {
            let emptier = self.stack(more, rest(fuller), speed, density);
            self.stack(less, fuller, speed, density) - emptier
        };
        // Wider than any flow that one stack can have while the others add up to `flow`.
        let most = 2.0 * (flow.abs() / less.stacks).max(self.curve.free_flow() * speed);
        falling_root(excess, -most, most)
    }
}
