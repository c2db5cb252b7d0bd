//! Numbers as a person reads them: two digits, a real minus sign, clock times.

mod light;

use evenglass_simulation::scenario::{Clock, Scenario, Side};

pub(crate) use light::{correction, lopsided, micrometres, nanometres};

/// `value` with as many digits as the physics carries: two, and none below 0.01; a dash
/// where there is no value.
pub(crate) fn plain(value: f64) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let size = value.abs();
    let text = match size {
        s if s >= 9.95 => format!("{value:.0}"),
        s if s >= 0.095 => format!("{value:.1}"),
        s if s >= 0.005 => format!("{value:.2}"),
        _ => "0".to_owned(),
    };
    text.replace('-', "−")
}

/// Like [`plain`], with its sign always shown.
pub(crate) fn signed(value: f64) -> String {
    let text = plain(value);
    if text != "0" && value.is_finite() && value > 0.0 { format!("+{text}") } else { text }
}

/// The size of a difference with its unit: "0.6 K", or "less than 0.01 K".
pub(crate) fn kelvins(value: f64) -> String {
    if value.abs() < 0.005 {
        return "less than 0.01 K".to_owned();
    }
    format!("{} K", plain(value.abs()))
}

/// "0.6 K warmer than the air", or that there is no difference to speak of.
pub(crate) fn compared(value: f64, than: &str) -> String {
    if value.abs() < 0.005 {
        return format!("within 0.01 K of {than}");
    }
    let direction = if value > 0.0 { "warmer" } else { "colder" };
    format!("{} {direction} than {than}", kelvins(value))
}

/// Hours of a stretch: "4.9 h".
pub(crate) fn hours(value: f64) -> String {
    format!("{value:.1} h")
}

/// `value` rounded to two significant digits.
pub(crate) fn two_digits(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    // Through text: a product by 0.1 would leave 2.9000000000000004.
    format!("{value:.1e}").parse().unwrap_or(value)
}

/// Minutes between two times: "25 min", "1 h 10 min".
pub(crate) fn minutes(seconds: f64) -> String {
    let whole = (seconds.abs() / 60.0).round();
    let (h, min) = ((whole / 60.0).floor(), whole % 60.0);
    match (h > 0.0, min > 0.0) {
        (false, _) => format!("{min:.0} min"),
        (true, false) => format!("{h:.0} h"),
        (true, true) => format!("{h:.0} h {min:.0} min"),
    }
}

/// A time of the run \[s\] as a person says it: "22:40", and with the day in long runs.
#[must_use]
pub fn moment(scenario: &Scenario, seconds: f64) -> String {
    let clock = &scenario.night.start;
    let hm = clock.hm(seconds);
    if scenario.night.duration.hours() <= 24.0 {
        hm
    } else {
        format!("{hm} on {}", day(clock, seconds))
    }
}

/// Two times of the run \[s\] joined by a word, a day that both have said once.
pub(crate) fn moments(scenario: &Scenario, (from, to): (f64, f64), word: &str) -> String {
    let clock = &scenario.night.start;
    let first =
        if day(clock, from) == day(clock, to) { clock.hm(from) } else { moment(scenario, from) };
    format!("{first} {word} {}", moment(scenario, to))
}

/// The day of a time of the run \[s\]: "4 Oct", or "day 2" where no date was given.
#[must_use]
pub fn day(clock: &Clock, seconds: f64) -> String {
    const MONTHS: [&str; 12] =
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let date = clock.at((seconds / 60.0).round() * 60.0).date();
    if clock.has_date() {
        let month = usize::try_from(date.month() - 1).ok().and_then(|m| MONTHS.get(m));
        return format!("{} {}", date.day(), month.unwrap_or(&"?"));
    }
    let first = clock.at(0.0).date();
    let passed = date.duration_since(first).as_hours() / 24;
    format!("day {}", passed + 1)
}

/// "406 mm soda-lime, 41 mm at the rim, f/4.5, 60 mm hole".
pub(crate) fn mirror(scenario: &Scenario) -> String {
    let mirror = &scenario.mirror;
    let millimetres = |metres: f64| {
        let mm = (metres * 1e4).round() / 10.0;
        format!("{mm} mm")
    };
    let glass = match mirror.glass.name.as_str() {
        "custom" => "custom glass",
        name => name,
    };
    let mut parts = vec![
        format!("{} {glass}", millimetres(mirror.diameter.metres())),
        format!("{} thick at the rim", millimetres(mirror.edge_thickness.metres())),
        mirror.focal_ratio.map_or("flat front".to_owned(), |ratio| {
            format!("f/{}", (ratio * 100.0).round() / 100.0)
        }),
    ];
    parts.extend(mirror.hole_diameter.map(|hole| format!("{} hole", millimetres(hole.metres()))));
    parts.join(", ")
}

/// "3 Oct, from 20:00, 8 h, air 18 °C to 11 °C, glass 20 °C at the start".
pub(crate) fn night(scenario: &Scenario) -> String {
    let night = &scenario.night;
    let start = if night.start.has_date() {
        format!("{}, from {}", day(&night.start, 0.0), night.start.hm(0.0))
    } else {
        format!("from {}", night.start.hm(0.0))
    };
    let duration = night.duration.seconds();
    let air = |time: f64| {
        celsius(evenglass_units::Temperature::from_kelvin(night.air.at(time, Side::After)))
    };
    let (first, last) = (air(0.0), air(duration));
    let air = if first == last { format!("air {first}") } else { format!("air {first} to {last}") };
    let glass = celsius(night.glass_temperature);
    format!("{start}, {}, {air}, glass {glass} at the start", minutes(duration))
}

/// "18 °C", with a tenth where there is one.
pub(crate) fn celsius(temperature: evenglass_units::Temperature) -> String {
    let tenths = (temperature.celsius() * 10.0).round() / 10.0 + 0.0;
    format!("{tenths} °C").replace('-', "−")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_lone_third_digit_and_a_real_minus_sign() {
        assert_eq!(plain(12.34), "12");
        assert_eq!(plain(9.96), "10");
        assert_eq!(plain(-1.26), "−1.3");
        assert_eq!(plain(0.62), "0.6");
        assert_eq!(plain(0.044), "0.04");
        assert_eq!(plain(-1e-9), "0");
        assert_eq!([f64::NAN, f64::INFINITY].map(plain), ["–", "–"]);
        assert_eq!([f64::NAN, f64::INFINITY].map(signed), ["–", "–"]);
        assert_eq!(signed(0.44), "+0.4");
        assert_eq!(signed(1e-9), "0");
        assert_eq!(kelvins(-1e-9), "less than 0.01 K");
    }

    #[test]
    fn spans_are_said_in_hours_and_minutes() {
        assert_eq!(minutes(1500.0), "25 min");
        assert_eq!(minutes(-4200.0), "1 h 10 min");
        assert_eq!(minutes(7200.0), "2 h");
        let shown = [312_345.0, 2.9, 2.94, -0.057, 10.4].map(|v| format!("{}", two_digits(v)));
        assert_eq!(shown, ["310000", "2.9", "2.9", "-0.057", "10"]);
    }
}
