//! A scenario in plain words: what `evenglass check` says was understood.

mod moved_air;

use std::iter;

use evenglass_report::{day, moment};
use evenglass_scenario::scenario::{Cell, Cover, Face, Film, Mirror, RadiantSurroundings};
use evenglass_scenario::{Profile, Scenario, Side};
use evenglass_units::Temperature;

use crate::shape::{Shape, glass_mass_kg};
use crate::wrapping::{WIDTH, broken};

/// Width of the column of names on the left.
const NAMES: usize = 11;

/// The facts, one line each, under the title.
pub(crate) fn facts(scenario: &Scenario) -> String {
    let mut lines = vec![scenario.title.clone(), String::new()];
    for (name, told) in sections(scenario) {
        let names = [name].into_iter().chain(iter::repeat(""));
        let told = told.iter().flat_map(|line| broken(line, WIDTH - NAMES));
        lines.extend(names.zip(told).map(|(name, line)| format!("{name:<NAMES$}{line}")));
    }
    lines.join("\n") + "\n"
}

fn sections(scenario: &Scenario) -> Vec<(&'static str, Vec<String>)> {
    let mut sections = vec![
        ("Mirror", mirror(&scenario.mirror)),
        ("Night", night(scenario)),
        ("Fan", fan(scenario)),
        ("Cover", cover(scenario)),
        ("Telescope", scenario.telescope.as_ref().map(moved_air::telescope).unwrap_or_default()),
        ("Air", scenario.ventilation.as_ref().map(moved_air::ventilation).unwrap_or_default()),
        ("Front", face_of(scenario, &scenario.front)),
        ("Back", face_of(scenario, &scenario.back)),
        ("Rim", face_of(scenario, &scenario.rim)),
    ];
    if let Some(wall) = &scenario.hole {
        sections.push(("Hole", face_of(scenario, wall)));
    }
    sections.push(("Good when", vec![good(scenario)]));
    sections.push(("Written", vec![output(scenario)]));
    sections
}

fn mirror(mirror: &Mirror) -> Vec<String> {
    let shape = Shape::of(mirror);
    let hole = mirror
        .hole_diameter
        .map_or_else(String::new, |hole| format!(", with a hole of {:.0} mm", 1e3 * hole.metres()));
    let outline = format!(
        "{:.0} mm of {}{hole}, {}",
        1e3 * shape.diameter_m,
        mirror.glass.name,
        mass(glass_mass_kg(mirror))
    );
    [vec![outline], front(mirror, &shape)].concat()
}

/// "1.9 kg", "340 g", "1.6 g".
fn mass(kilograms: f64) -> String {
    match kilograms {
        kg if kg >= 0.995 => format!("{kg:.1} kg"),
        kg if kg >= 0.009_95 => format!("{:.0} g", 1e3 * kg),
        kg => format!("{:.1} g", 1e3 * kg),
    }
}

fn front(mirror: &Mirror, shape: &Shape) -> Vec<String> {
    let edge = 1e3 * shape.edge_thickness_m;
    let (Some(ratio), Some(radius)) = (mirror.focal_ratio, shape.radius_of_curvature_m()) else {
        return vec![format!("flat front; {edge:.1} mm thick")];
    };
    let inner = 1e3 * shape.inner_thickness_m();
    let place = if mirror.hole_diameter.is_some() { "hole" } else { "centre" };
    vec![
        format!(
            "front f/{ratio}: focal length {:.0} mm, radius of curvature {:.0} mm",
            500.0 * radius,
            1e3 * radius
        ),
        format!(
            "glass at the rim: {edge:.1} mm, at the {place}: {inner:.1} mm; the front is {:.2} mm deep",
            edge - inner
        ),
    ]
}

fn night(scenario: &Scenario) -> Vec<String> {
    let night = &scenario.night;
    let seconds = night.duration.seconds();
    let air = |time| {
        format!("{:.1} °C", Temperature::from_kelvin(night.air.at(time, Side::After)).celsius())
    };
    let from = moment(scenario, 0.0);
    let date = if night.start.has_date() && !from.contains(" on ") {
        format!("{}, ", day(&night.start, 0.0))
    } else {
        String::new()
    };
    vec![
        format!("{date}{from} to {} ({:.1} h)", moment(scenario, seconds), night.duration.hours()),
        format!("glass at the start: {:.1} °C", night.glass_temperature.celsius()),
        format!("air: {} at the start, {} at the end", air(0.0), air(seconds)),
    ]
}

fn fan(scenario: &Scenario) -> Vec<String> {
    let faces = [&scenario.front, &scenario.back, &scenario.rim];
    let ventilated = scenario.ventilation.iter().flat_map(|v| [Some(&v.main), v.second.as_ref()]);
    let has_fans = ventilated.flatten().any(|system| system.fans.is_some());
    if !has_fans && !faces.iter().any(|face| matches!(face.film, Film::FanBehind(_))) {
        return Vec::new();
    }
    let speed = &scenario.night.fan_speed;
    let mut told = Vec::new();
    let mut last = None;
    for &time in speed.positions() {
        let value = speed.at(time, Side::After);
        if last != Some(value) {
            told.push(format!("{:.0} % from {}", 100.0 * value, moment(scenario, time)));
        }
        last = Some(value);
    }
    vec![told.join(", ")]
}

fn cover(scenario: &Scenario) -> Vec<String> {
    let night = &scenario.night;
    if night.cover.iter().all(|(_, state)| *state == Cover::Off) {
        return Vec::new();
    }
    let told = night.cover.iter().map(|(time, state)| {
        let state = match state {
            Cover::On => "on",
            Cover::Vented => "vented",
            Cover::Off => "off",
        };
        format!("{state} from {}", moment(scenario, *time))
    });
    vec![told.collect::<Vec<_>>().join(", ")]
}

/// With `[ventilation]` every film comes from there, but for those given.
fn face_of(scenario: &Scenario, side: &Face) -> Vec<String> {
    let film = match (&scenario.ventilation, &side.film) {
        (None, film) | (Some(_), film @ Film::Given { .. }) => film_told(film),
        (Some(_), _) => vec!["the film that comes of the air above".to_owned()],
    };
    let surroundings = match scenario.telescope {
        None => "surroundings as warm as the air",
        Some(_) if std::ptr::eq(side, &raw const scenario.front) => "the walls and the sky",
        Some(_) => "the walls",
    };
    face(side, (film, surroundings))
}

/// * `surroundings` — what a face looks at of which no temperature is given
fn face(face: &Face, (film, surroundings): (Vec<String>, &str)) -> Vec<String> {
    let mut told = film;
    if let Some(layer) = face.insulation {
        told.push(format!("behind {:.0} mm of insulation", 1e3 * layer.thickness.metres()));
    }
    if !face.uneven.is_empty() {
        told.push("uneven around the axis".to_owned());
    }
    told.push(match &face.radiation {
        None => "no radiation".to_owned(),
        Some(radiation) => format!(
            "radiates to {}, emissivity {:.2}",
            match radiation.surroundings {
                RadiantSurroundings::Air => surroundings,
                RadiantSurroundings::Temperature(_) => "the surroundings given",
            },
            radiation.emissivity
        ),
    });
    told
}

fn film_told(film: &Film) -> Vec<String> {
    match film {
        Film::Still => vec!["still air".to_owned()],
        Film::Breeze { shelter } => vec![format!("breeze, {:.0} % of the wind", 100.0 * shelter)],
        Film::FanBehind(fan) => {
            let cell = match fan.cell {
                Cell::Open => "open cell".to_owned(),
                Cell::Closed { gap } => format!("closed cell, gap {:.0} mm", 1e3 * gap.metres()),
            };
            vec![
                format!(
                    "fan behind the middle: {:.0} mm across, {:.0} mm away",
                    1e3 * fan.fan_diameter.metres(),
                    1e3 * fan.distance.metres()
                ),
                format!("{} L/s at full speed, {cell}", short(1e3 * fan.flow.m3_per_s())),
            ]
        }
        Film::Given { coefficient, factor, air_offset } => {
            let mut told = vec![format!("given, {} W/m²/K", range(coefficient))];
            if range(factor) != "1" {
                told.push(format!("times {} through the night", range(factor)));
            }
            if air_offset.kelvins() != 0.0 {
                told.push(format!("air {:+.1} K from the night's", air_offset.kelvins()));
            }
            told
        }
    }
}

/// "8", or "4 to 25" where the profile varies.
fn range(profile: &Profile) -> String {
    let (low, high) = profile
        .values()
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &v| (low.min(v), high.max(v)));
    let (low, high) = (short(low), short(high));
    if low == high { low } else { format!("{low} to {high}") }
}

/// At most two decimals, and none that are zeros.
fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn good(scenario: &Scenario) -> String {
    let good = &scenario.good;
    let front = good.front_minus_air.map_or_else(String::new, |limit| {
        format!(", the front is within {} K of the air", short(limit.kelvins()))
    });
    let dew = if scenario.night.dew_point.is_some() {
        format!(", the mirrors are {} K above the dew point", short(good.dew_margin.kelvins()))
    } else {
        String::new()
    };
    format!(
        "the surface is within {} nm RMS after refocusing, shimmer within {} arcsec{dew}{front}, for at least {} min",
        short(1e9 * good.figure_rms.metres()),
        short(good.shimmer_arcsec),
        short(good.held_for.seconds() / 60.0)
    )
}

fn output(scenario: &Scenario) -> String {
    let output = &scenario.output;
    let rows = format!("a row every {} min", short(output.interval.seconds() / 60.0));
    if output.fields_at.is_empty() {
        return rows;
    }
    let clocks: Vec<_> = output.fields_at.iter().map(|&time| moment(scenario, time)).collect();
    format!("{rows}; fields at {}", clocks.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_disc_weighs_grams() {
        assert_eq!(mass(8.04), "8.0 kg");
        assert_eq!(mass(0.34), "340 g");
        assert_eq!(mass(0.001_57), "1.6 g");
    }

    #[test]
    fn a_profile_is_told_by_its_range_without_idle_zeros() {
        assert_eq!(range(&Profile::constant(8.0)), "8");
        assert_eq!(range(&Profile::new(vec![0.0, 1.0], vec![25.0, 4.5])), "4.5 to 25");
    }
}
