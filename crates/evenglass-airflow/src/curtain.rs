//! A sheet of air against a breeze.

/// Speed over wind from which a sheet stands [-]; ours, an order of magnitude.
const STANDS: f64 = 4.0;

/// Speed over wind below which its windward or leeward part is turned round [-]; ours.
const BREAKS: f64 = 2.0;

/// What a breeze does to a sheet that blows inward over a mirror.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// It stands.
    Stable,
    /// Its middle wanders.
    Disturbed,
    /// The wind reaches the mirror.
    Broken,
}

/// The verdict on a sheet that leaves its slot at `speed` in a breeze of `wind` [m/s] at
/// the mirror (eq. N-42).
///
/// Nobody seems to have measured a sheet from a ring; that a jet against the wind is
/// turned round once the wind exceeds half its peak speed is all there is to go by.
#[must_use]
pub fn verdict(speed: f64, wind: f64) -> Verdict {
    if wind <= 0.0 || speed >= STANDS * wind {
        Verdict::Stable
    } else if speed >= BREAKS * wind {
        Verdict::Disturbed
    } else {
        Verdict::Broken
    }
}

/// Momentum of a sheet over that of the wind on what it covers [-] (eq. N-43); infinite
/// without wind. Plane curtains in doorways seal from 0.1 to 0.3.
///
/// * `speed`, `wind` — [m/s]; `width` — of the slot, `span` — of what it covers \[m\]
///
/// # Source
/// F. C. Hayes and W. F. Stoecker, "Heat transfer characteristics of the air curtain",
/// ASHRAE Trans. 75 (1969) 153–167; limits by L. Guyonnaud et al., Exp. Fluids 28 (2000)
/// 377–384; both from memory.
#[must_use]
pub fn momentum_ratio(speed: f64, wind: f64, width: f64, span: f64) -> f64 {
    let against = wind * wind * span;
    if against > 0.0 { speed * speed * width / against } else { f64::INFINITY }
}

/// How far a breeze across it bends a sheet \[m\] over `span` \[m\] (eq. N-44).
///
/// # Source
/// The wind's pressure on the sheet turns its momentum: a parabola.
#[must_use]
pub fn bend(speed: f64, wind: f64, width: f64, span: f64) -> f64 {
    0.5 * span / momentum_ratio(speed, wind, width, span)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn a_sheet_of_two_metres_a_second_stands_half_and_breaks_beyond_one() {
        assert_eq!(verdict(2.0, 0.0), Verdict::Stable);
        assert_eq!(verdict(2.0, 0.5), Verdict::Stable);
        assert_eq!(verdict(2.0, 0.51), Verdict::Disturbed);
        assert_eq!(verdict(2.0, 1.0), Verdict::Disturbed);
        assert_eq!(verdict(2.0, 1.01), Verdict::Broken);
        assert_eq!(verdict(0.0, 0.1), Verdict::Broken);
    }

    /// 4 m²/s² · 8 mm over 0.25 m²/s² · 0.6 m = 0.21333; x = H/(2 D).
    #[test]
    fn momentum_and_bend_are_those_worked_by_hand() {
        assert_relative_eq!(momentum_ratio(2.0, 0.5, 0.008, 0.6), 0.213_333, epsilon = 1e-6);
        assert_relative_eq!(bend(2.0, 0.5, 0.008, 0.6), 1.406_25, max_relative = 1e-9);
        assert!(momentum_ratio(2.0, 0.0, 0.008, 0.6).is_infinite());
        assert_relative_eq!(bend(2.0, 0.0, 0.008, 0.6), 0.0);
    }
}
