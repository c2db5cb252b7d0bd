//! Roots of functions that only fall.

/// Evaluations after which the bracket is taken as it is: thrice those of halving from
/// the whole range of `f64`.
const MOST_EVALUATIONS: usize = 3300;

/// Where `f`, which never rises, crosses zero between `low` and `high`, to rounding.
///
/// An end at which `f` has the wrong sign already is the answer.
pub(crate) fn falling_root(f: impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let (mut at_low, mut at_high) = (f(low), f(high));
    if at_low <= 0.0 {
        return low;
    }
    if at_high >= 0.0 {
        return high;
    }
    let mut lagging = 0;
    // Width of the bracket when it was last seen to halve, and evaluations since.
    let (mut width, mut since) = (high - low, 0);
    for _ in 0..MOST_EVALUATIONS {
        let middle = 0.5 * (low + high);
        let tolerance = f64::EPSILON * low.abs().max(high.abs());
        if high - low <= 2.0 * tolerance || middle <= low || middle >= high {
            break;
        }
        // A secant that has arrived looks just beyond the root, to bring the other end
        // near; the middle when three of them have not halved the bracket.
        if high - low <= 0.5 * width {
            (width, since) = (high - low, 0);
        }
        since += 1;
        let secant = low + (high - low) * at_low / (at_low - at_high);
        let inside = secant.max(low + tolerance).min(high - tolerance);
        let usable = since <= 3 && secant.is_finite() && inside > low && inside < high;
        let next = if usable { inside } else { middle };
        let value = f(next);
        // An end that stays twice is made lighter (the Illinois rule).
        if value > 0.0 {
            (low, at_low) = (next, value);
            at_high *= if lagging > 0 { 0.5 } else { 1.0 };
            lagging = 1;
        } else if value < 0.0 {
            (high, at_high) = (next, value);
            at_low *= if lagging < 0 { 0.5 } else { 1.0 };
            lagging = -1;
        } else {
            return next;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn a_root_is_found_to_rounding_at_any_size() {
        for wanted in [1e-12, 3.0, 4e7] {
            let root = falling_root(|x| wanted * wanted - x * x, 0.0, 1e9);
            assert_relative_eq!(root, wanted, max_relative = 1e-14);
        }
    }

    #[test]
    fn a_bracket_without_a_root_answers_with_its_nearer_end() {
        assert_relative_eq!(falling_root(|x| 1.0 - x, 2.0, 3.0), 2.0);
        assert_relative_eq!(falling_root(|x| 4.0 - x, 2.0, 3.0), 3.0);
    }

    #[test]
    fn an_infinite_end_does_no_harm() {
        let wall = |x: f64| if x > 2.0 { f64::NEG_INFINITY } else { 1.0 - x };
        assert_relative_eq!(falling_root(wall, 0.0, 100.0), 1.0, max_relative = 1e-14);
    }

    #[test]
    fn smooth_functions_take_fewer_evaluations_than_halving() {
        let count = std::cell::Cell::new(0);
        let counted = |x: f64| {
            count.set(count.get() + 1);
            3.0 - x - x * x
        };
        let root = falling_root(counted, 0.0, 1e3);
        assert_relative_eq!(root, 1.302_775_637_731_994_6, max_relative = 1e-15);
        // Halving takes 62 from a bracket of 10³ to the last bit of a number near 1.
        assert!(count.get() < 62, "{}", count.get());
    }
}
