//! Filters as a maker buys them.

use crate::ventilation::network::medium;

/// Pressure drop \[Pa\] of a clean filter of a class, as `media` names it, at a speed of the
/// air on its face \[m/s\].
///
/// Typical values from memory, σ 40 %: what the computation itself takes where a filter is
/// given by its class alone.
///
/// ```
/// // 8 v + 5 v² at 0.5 m/s.
/// assert!((evenglass_simulation::typical_drop("coarse", 0.5) - 5.25).abs() < 1e-12);
/// ```
#[must_use]
pub fn typical_drop(media: &str, face_speed: f64) -> f64 {
    let (linear, quadratic) = medium(media).coefficients();
    linear * face_speed + quadratic * face_speed * face_speed
}
