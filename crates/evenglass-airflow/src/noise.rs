//! How loud fans are.

/// Speed below which a fan is as silent as at it [-].
const SLOWEST: f64 = 1e-3;

/// Change of sound level against one fan at full speed [dB] (eq. A-30): 50 dB for each
/// factor of ten in speed, 10 dB in count; σ 3 dB.
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
