//! Figure and focus in words.

use std::f64::consts::TAU;

use evenglass_simulation::image::{Image, Lopsided};

use super::{plain, two_digits};

/// A correction within this of the polished one is called unchanged [%] (a judgement, no source).
const SAME_CORRECTION: f64 = 0.5;

/// Lopsided errors below this \[m\], or below this share of the whole figure, are not told of
/// (judgements, no source).
const NO_LOPSIDED: (f64, f64) = (1e-9, 0.15);

/// The size of a surface error: "12 nm".
pub(crate) fn nanometres(metres: f64) -> String {
    let size = two_digits(metres.abs() * 1e9);
    if size < 0.05 { "less than 0.1 nm".to_owned() } else { format!("{} nm", plain(size)) }
}

/// The size of a way of the focus: "45 µm", "1.4 mm".
pub(crate) fn micrometres(metres: f64) -> String {
    let size = two_digits(metres.abs() * 1e6);
    if size >= 1000.0 {
        return format!("{} mm", plain(size / 1000.0));
    }
    if size < 0.5 { "less than 1 µm".to_owned() } else { format!("{size:.0} µm") }
}

/// "over-corrected by 6.1 %"; `None` where there is no paraboloid to be corrected to.
pub(crate) fn correction(percent: f64) -> Option<String> {
    if !percent.is_finite() {
        return None;
    }
    let size = percent.abs();
    if size < SAME_CORRECTION {
        return Some("correction as polished".to_owned());
    }
    let way = if percent > 0.0 { "over" } else { "under" };
    Some(format!("{way}-corrected by {} %", plain(two_digits(size))))
}

/// What stands out of round, and where on a clock seen from the front; `None` where it does
/// not matter beside the rest of the figure.
pub(crate) fn lopsided(image: &Image) -> Option<String> {
    let all = [
        ("astigmatism", 2_u32, image.astigmatism),
        ("coma", 1, image.coma),
        ("trefoil", 3, image.trefoil),
    ];
    let least = NO_LOPSIDED.0.max(NO_LOPSIDED.1 * image.total_rms_m);
    let told = all.into_iter().filter(|(_, _, pair)| pair.size_m >= least);
    let told: Vec<String> = told
        .map(|(name, order, pair)| {
            format!("{name} {} (high at {})", nanometres(pair.size_m), hours(order, pair))
        })
        .collect();
    (!told.is_empty()).then(|| {
        format!(
            "Out of round: {}, on the clock as seen from the front with 12 up when the telescope \
             points low.",
            told.join(", ")
        )
    })
}

/// Where the surface is high, as hours of a clock: angles run the other way round.
fn hours(order: u32, pair: Lopsided) -> String {
    let hour = |turn: u32| {
        let angle = pair.angle + TAU * f64::from(turn) / f64::from(order);
        let hour = (12.0 - 12.0 * angle / TAU).rem_euclid(12.0).round();
        if hour < 1.0 { 12.0 } else { hour }
    };
    let mut all: Vec<f64> = (0..order).map(hour).collect();
    all.sort_by(|a, b| (a % 12.0).total_cmp(&(b % 12.0)));
    let mut named: Vec<String> = all.iter().map(|hour| format!("{hour:.0}")).collect();
    let last = named.pop().unwrap_or_default();
    let all = if named.is_empty() { last } else { format!("{} and {last}", named.join(", ")) };
    format!("{all} o'clock")
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    #[test]
    fn errors_of_the_surface_and_ways_of_the_focus_have_two_digits() {
        assert_eq!(
            [1.23e-8, 9.96e-9, 0.66e-9, 1.234e-7].map(nanometres),
            ["12 nm", "10 nm", "0.7 nm", "120 nm"]
        );
        assert_eq!(nanometres(1e-12), "less than 0.1 nm");
        assert_eq!(
            [-4.53e-5, 1.44e-3, 1e-8].map(micrometres),
            ["45 µm", "1.4 mm", "less than 1 µm"]
        );
    }

    #[test]
    fn a_correction_says_its_sign_in_words() {
        assert_eq!(correction(6.12).unwrap(), "over-corrected by 6.1 %");
        assert_eq!(correction(-10.3).unwrap(), "under-corrected by 10 %");
        assert_eq!(correction(0.3).unwrap(), "correction as polished");
        assert_eq!(correction(f64::NAN), None);
    }

    /// Angles run anticlockwise from 12, hours clockwise.
    #[test]
    fn a_place_on_the_rim_is_an_hour_of_the_clock() {
        let at = |angle| Lopsided { size_m: 1e-8, angle };
        assert_eq!(hours(1, at(PI / 2.0)), "9 o'clock");
        assert_eq!(hours(1, at(0.0)), "12 o'clock");
        assert_eq!(hours(2, at(0.0)), "12 and 6 o'clock");
        assert_eq!(hours(2, at(PI / 2.0)), "3 and 9 o'clock");
        assert_eq!(hours(3, at(0.0)), "12, 4 and 8 o'clock");
    }
}
