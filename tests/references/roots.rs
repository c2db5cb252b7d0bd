//! Roots by bisection, integrals by Simpson's rule.

/// The first `count` sign changes of `function` above `from`, looked for in steps of `step`.
///
/// `step` must be shorter than the distance between two roots.
pub(crate) fn first(count: usize, from: f64, step: f64, function: impl Fn(f64) -> f64) -> Vec<f64> {
    let mut roots = Vec::with_capacity(count);
    let mut low = from;
    let mut at_low = function(low);
    while roots.len() < count {
        let high = low + step;
        let at_high = function(high);
        if at_low.is_sign_negative() != at_high.is_sign_negative() {
            roots.push(bisect(low, high, &function));
        }
        (low, at_low) = (high, at_high);
    }
    roots
}

fn bisect(mut low: f64, mut high: f64, function: &impl Fn(f64) -> f64) -> f64 {
    let starts_negative = function(low).is_sign_negative();
    // 100 halvings reach the last bit of any double.
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if function(middle).is_sign_negative() == starts_negative {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Integral of `function` over `[low, high]` with `2 * panels` intervals.
pub(crate) fn integral(low: f64, high: f64, panels: u32, function: impl Fn(f64) -> f64) -> f64 {
    let width = (high - low) / f64::from(2 * panels);
    let inner: f64 = (1..2 * panels)
        .map(|i| if i % 2 == 1 { 4.0 } else { 2.0 } * function(low + f64::from(i) * width))
        .sum();
    (function(low) + inner + function(high)) * width / 3.0
}
