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
    /// Annulus between hub and casing of one fan \[m²\].
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

    /// Pressure over a stack at the flow through it (eq. N-5).
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

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;
    use crate::fan::MotorPlace;

    fn one() -> Bank {
        let motor = Motor {
            minimum_speed: 0.0,
            start_speed: 0.0,
            rated_power: 2.0,
            in_stream: MotorPlace::InStream,
        };
        Bank {
            curve: Curve::from_ends(0.04, 40.0).unwrap(),
            parallel: 1,
            series: 1,
            failed: 0,
            open_area: 0.006,
            shutter: Shutter::Open,
            motor,
        }
    }

    fn pressure(bank: &Bank, flow: f64) -> f64 {
        bank.pressure(flow, 0.8, 1.2)
    }

    #[test]
    fn flows_add_side_by_side_and_pressures_behind_one_another() {
        let alone = pressure(&one(), 0.013);
        let three = Bank { parallel: 3, ..one() };
        assert_relative_eq!(pressure(&three, 0.039), alone, max_relative = 1e-12);
        let two = Bank { series: 2, ..one() };
        assert_relative_eq!(pressure(&two, 0.013), 2.0 * alone, max_relative = 1e-12);
    }

    #[test]
    fn behind_shutters_a_failed_fan_counts_as_none() {
        let shutter = Shutter::Shuttered;
        let failed = Bank { parallel: 3, failed: 1, shutter, ..one() };
        let without = Bank { parallel: 2, ..one() };
        assert_relative_eq!(pressure(&failed, 0.02), pressure(&without, 0.02));
        assert_eq!(failed.running(), 2);
    }

    /// What the running fans move beyond the bank's flow goes back through the hole:
    /// p = 2.5 ρ/2 (q/A)².
    #[test]
    fn through_an_open_failed_fan_the_others_blow_back() {
        let bank = Bank { parallel: 3, failed: 1, ..one() };
        let pressure = pressure(&bank, 0.02);
        let each = bank.running_flow(0.02, 0.8, 1.2);
        let back = 2.0 * each - 0.02;
        assert!(back > 0.0);
        let through = 2.5 * 0.6 * (back / 0.006).powi(2);
        assert_relative_eq!(pressure, through, max_relative = 1e-9);
        assert_relative_eq!(pressure, one().pressure(each, 0.8, 1.2), max_relative = 1e-12);
        // Left open, it gives less than behind a shutter.
        let shut = Bank { shutter: Shutter::Shuttered, ..bank };
        assert!(shut.pressure(0.02, 0.8, 1.2) > pressure);
    }

    /// 2.5 · 0.6 · (0.012/0.006)² = 6 Pa.
    #[test]
    fn behind_a_failed_fan_the_other_blows_through_it() {
        let bank = Bank { series: 2, failed: 1, ..one() };
        let expected = pressure(&one(), 0.012) - 6.0;
        assert_relative_eq!(pressure(&bank, 0.012), expected, max_relative = 1e-12);
    }

    #[test]
    fn failed_fans_are_spread_over_the_stacks() {
        let bank = Bank { parallel: 2, series: 2, failed: 2, ..one() };
        let stack = Bank { series: 2, failed: 1, ..one() };
        assert_relative_eq!(pressure(&bank, 0.02), pressure(&stack, 0.01), max_relative = 1e-12);
        assert_eq!(bank.running(), 2);
    }

    #[test]
    fn a_bank_of_nothing_has_no_pressure_and_does_no_harm() {
        for (parallel, series, failed) in [(0, 1, 0), (1, 0, 0), (2, 1, 7), (0, 0, 3)] {
            let bank = Bank { parallel, series, failed, ..one() };
            assert_eq!(bank.running(), 0);
            assert_relative_eq!(pressure(&bank, 0.0), 0.0);
            assert!(pressure(&bank, 0.01) <= 0.0);
        }
        let many = Bank { parallel: u32::MAX, series: u32::MAX, failed: u32::MAX, ..one() };
        assert!(pressure(&many, 0.01) > 0.0);
    }

    #[test]
    fn two_holes_share_what_goes_back() {
        let bank = Bank { parallel: 5, failed: 2, ..one() };
        let pressure = pressure(&bank, 0.03);
        let back = (3.0 * bank.running_flow(0.03, 0.8, 1.2) - 0.03) / 2.0;
        let through = 2.5 * 0.6 * (back / 0.006).powi(2);
        assert!(back > 0.0);
        assert_relative_eq!(pressure, through, max_relative = 1e-9);
    }
}
