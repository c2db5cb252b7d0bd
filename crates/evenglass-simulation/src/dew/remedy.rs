//! What would keep a mirror dry: more air, warmth, a heater, foil. Pure functions.

/// The numbers for the worst instant of a night.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Remedies {
    /// Film that it had then, both sides together over the area of its face [W m⁻² K⁻¹].
    pub film_now: f64,
    /// Film that would have kept the margin asked for; `None` where moved air cannot, being too
    /// near its dew point itself [W m⁻² K⁻¹].
    pub film_needed: Option<f64>,
    /// By how much it would have had to be warmer \[K\].
    pub warming_k: f64,
    /// Power of the heater that keeps the margin asked for \[W\]; `None` for the primary.
    pub heater_w: Option<f64>,
    /// Margin it would have settled at with foil on its back, unheated \[K\]; `None` for the
    /// primary.
    pub foil_margin_k: Option<f64>,
}

/// Film that keeps a face a margin above the dew point while it loses heat by radiation
/// (eq. D-16) [W m⁻² K⁻¹]; `None` where air is nearer to its dew point than that, so that no
/// film suffices. A face that gains needs none.
///
/// * `radiated` — net [W m⁻²]
/// * `air_margin` — air minus dew point \[K\]; `target` — margin wanted \[K\]
///
/// ```
/// use evenglass_simulation::dew::remedy::film_needed;
///
/// // A bare face that loses 60 W/m² in air of 10 °C and 90 %, 1.56 K above its dew point.
/// let film = film_needed(60.0, 1.5628, 0.0).unwrap();
/// assert!((film - 38.39).abs() < 0.01);
/// assert_eq!(film_needed(60.0, 0.3, 0.5), None);
/// ```
#[must_use]
pub fn film_needed(radiated: f64, air_margin: f64, target: f64) -> Option<f64> {
    let room = air_margin - target;
    if radiated <= 0.0 {
        return (room >= 0.0).then_some(0.0);
    }
    (room > 0.0).then(|| radiated / room)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_face_that_gains_by_radiation_needs_no_film_unless_the_air_is_too_damp() {
        assert_eq!(film_needed(-3.0, 2.0, 0.5), Some(0.0));
        assert_eq!(film_needed(-3.0, 0.2, 0.5), None);
    }
}
