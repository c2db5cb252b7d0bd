//! How loud fans are.

/// Speed below which a fan counts as silent as at it [-].
const SLOWEST: f64 = 1e-3;

/// Level that bearings and motor electronics hold up whatever the speed \[dB\] (common
/// practice, no source).
pub const FLOOR: f64 = 25.0;

/// One standard deviation of a level by these rules \[dB\].
pub const SIGMA: f64 = 3.0;

/// Change of sound level against one fan at full speed \[dB\] (eq. N-30): 50 dB for each
/// factor of ten in speed, 10 dB in count.
///
/// * `speed` — share of full speed [-], held at 0.001 below; `count` — fans, at least 1
///
/// # Source
/// Exponent of axial fans in the fan sound law as ASHRAE and AMCA 301 give it (from
/// memory).
#[must_use]
pub fn level_change(speed: f64, count: u64) -> f64 {
    50.0 * speed.max(SLOWEST).log10() + 10.0 * (count.max(1) as f64).log10()
}

/// Sound pressure level at a distance from a source on the ground or a wall, from its
/// sound power level \[dB\] (eq. N-31).
///
/// * `power_level` — \[dB re 1 pW\]; `distance` — \[m\], above 0
///
/// # Source
/// Power spread over half a sphere: 10 log₁₀(2π) = 8 dB.
#[must_use]
pub fn level_at(power_level: f64, distance: f64) -> f64 {
    power_level - 8.0 - 20.0 * distance.max(SLOWEST).log10()
}

/// What remains of a level given by the law for lower speeds \[dB\]: not below [`FLOOR`]
/// of a fan that turns.
#[must_use]
pub fn audible(level: f64) -> f64 {
    level.max(FLOOR)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// 50 log₁₀ 2 = 15.0515, 10 log₁₀ 4 = 6.0206.
    #[test]
    fn half_speed_takes_fifteen_decibels_and_four_fans_bring_six() {
        assert_relative_eq!(level_change(0.5, 1), -15.0515, epsilon = 5e-5);
        assert_relative_eq!(level_change(0.5, 4), -15.0515 + 6.0206, epsilon = 1e-4);
        assert_relative_eq!(level_change(1.0, 0), 0.0);
        assert_relative_eq!(level_change(0.0, 1), -150.0);
    }

    #[test]
    fn twice_the_distance_is_six_decibels_quieter() {
        assert_relative_eq!(level_at(50.0, 1.0), 42.0);
        assert_relative_eq!(level_at(50.0, 2.0), 42.0 - 6.0206, epsilon = 5e-5);
    }

    #[test]
    fn a_turning_fan_is_never_quieter_than_its_bearings() {
        assert_relative_eq!(audible(-20.0), FLOOR);
        assert_relative_eq!(audible(31.0), 31.0);
    }
}
