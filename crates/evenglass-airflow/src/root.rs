//! Roots of functions that only fall.

/// Evaluations after which the bracket is taken as it is; bisection alone needs 1100
/// for the whole range of `f64`, and secants save most of them.
const MOST_EVALUATIONS: usize = 1200;

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
    for count in 0..MOST_EVALUATIONS {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        // Secants, and every third time the middle, so that neither end lags behind.
        let secant = low + (high - low) * at_low / (at_low - at_high);
        let next = if count % 3 < 2 && secant > low && secant < high { secant } else { middle };
        let value = f(next);
        if value > 0.0 {
            (low, at_low) = (next, value);
            // The end that stays is made lighter (the Illinois rule).
            at_high *= 0.5;
        } else if value < 0.0 {
            (high, at_high) = (next, value);
            at_low *= 0.5;
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
}
