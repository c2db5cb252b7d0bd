//! When and where films jump or have kinks, known before the night starts.

use evenglass_airflow::fan::Rotor;
use evenglass_disc::{Breaks, FacePositions};
use evenglass_scenario::scenario::{Cell, Face, FanBehind, Film, RadiantSurroundings};
use evenglass_scenario::{Profile, Scenario, Side};

use super::law::usual_air;
use super::{Shape, faces_of};
use crate::ventilation::moved::{Moved, Planned, plan};

/// Change of slope that counts as a kink, as a share of the slopes themselves.
const KINK: f64 = 1e-9;

/// A film that changes within this length \[m\] has jumped as far as the glass can tell.
const STEEP: f64 = 0.002;

/// A step of a film this small [W m⁻² K⁻¹] leaves no mark at the accuracy held.
const SMALL_STEP: f64 = 0.5;

/// Relative change of a supply voltage within which the fans keep their speed.
const VOLTAGE_STEP: f64 = 0.02;

/// Times at which any input jumps or has a kink \[s\]: ascending, each once, inside the
/// run without its ends.
pub(crate) fn event_times(scenario: &Scenario) -> Vec<f64> {
    let night = &scenario.night;
    let always = [&night.air, &night.pressure, &night.fan_speed, &night.altitude];
    let known = [&night.dew_point, &night.wind, &night.cloud].into_iter().flatten();
    let mut times: Vec<f64> = always.into_iter().chain(known).flat_map(kinks).collect();
    times.extend(night.cover.iter().map(|&(time, _)| time));
    for (_, face) in faces_of(scenario) {
        times.extend(face_times(face));
    }
    for supply in supplies(scenario) {
        times.extend(kinks(supply));
        times.extend(between(supply));
    }
    let end = night.duration.seconds();
    times.retain(|&time| time > 0.0 && time < end);
    sorted(times)
}

/// Supply voltages of all fans.
fn supplies(scenario: &Scenario) -> impl Iterator<Item = &Profile> {
    let ventilation = scenario.ventilation.iter();
    let systems = ventilation.flat_map(|v| Some(&v.main).into_iter().chain(&v.second));
    systems.filter_map(|system| system.fans.as_ref()?.supply_voltage.as_ref())
}

/// Times between which a voltage that runs straight changes by at most [`VOLTAGE_STEP`]:
/// fans keep their speed in between.
fn between(supply: &Profile) -> Vec<f64> {
    let pairs = supply.positions().windows(2).zip(supply.values().windows(2));
    let mut times = Vec::new();
    for (position, value) in pairs {
        let relative = (value[1] - value[0]).abs() / value[0].max(value[1]).max(1e-9);
        let parts = (relative / VOLTAGE_STEP).ceil().clamp(1.0, 200.0);
        let mut part = 1.0;
        while part < parts {
            times.push(position[0] + (position[1] - position[0]) * part / parts);
            part += 1.0;
        }
    }
    times
}

fn face_times(face: &Face) -> Vec<f64> {
    let factor = match &face.film {
        Film::Given { factor, .. } => kinks(factor),
        Film::Still | Film::FanBehind(_) | Film::Breeze { .. } => Vec::new(),
    };
    let radiant = match face.radiation.as_ref().map(|radiation| &radiation.surroundings) {
        Some(RadiantSurroundings::Temperature(profile)) => kinks(profile),
        Some(RadiantSurroundings::Air) | None => Vec::new(),
    };
    factor.into_iter().chain(radiant).collect()
}

/// Places at which the film of a face jumps or has a kink, inside the face.
pub(crate) fn breaks(scenario: &Scenario) -> Breaks {
    let mut breaks = written_breaks(scenario);
    let shape = Shape::of(scenario);
    let radii = (0.5 * shape.hole_diameter, 0.5 * shape.diameter);
    for moved in moved_at_most(scenario) {
        for (field, kinks) in
            [(&moved.front, &mut breaks.kinks.front), (&moved.back, &mut breaks.kinks.back)]
        {
            kinks.extend(field.iter().flat_map(|field| field.breaks.iter().copied()));
            kinks.retain(|&place| place > radii.0 && place < radii.1);
            *kinks = apart(sorted(std::mem::take(kinks)), NEAR * radii.1);
        }
    }
    breaks
}

/// Kinks of moved air nearer to each other than this share of the radius count as one.
const NEAR: f64 = 0.02;

/// A list in ascending order without what follows too closely.
fn apart(list: Vec<f64>, least: f64) -> Vec<f64> {
    let mut kept: Vec<f64> = Vec::new();
    for place in list {
        if kept.last().is_none_or(|last| place - last > least) {
            kept.push(place);
        }
    }
    kept
}

/// The air every system moves when its fans run as fast as they ever do this night.
fn moved_at_most(scenario: &Scenario) -> Vec<Moved> {
    let night = &scenario.night;
    let asked = night.fan_speed.values().iter().copied().fold(0.0, f64::max);
    let air = night.air.values();
    let mean = air.iter().sum::<f64>() / air.len() as f64;
    let air = usual_air(mean, night.pressure.at(0.0, Side::After));
    let moved =
        |system: &Planned| system.moved(system.running_speed(asked, 0.0, Rotor::Turning), &air);
    plan(scenario).iter().map(moved).collect()
}

/// Breaks of the films that stand in the scenario.
fn written_breaks(scenario: &Scenario) -> Breaks {
    Breaks {
        jumps: positions(scenario, |film| match film {
            Film::Given { coefficient, .. } => jumps(coefficient),
            Film::FanBehind(_) | Film::Still | Film::Breeze { .. } => Vec::new(),
        }),
        kinks: positions(scenario, |film| match film {
            Film::Given { coefficient, .. } => kinks(coefficient),
            Film::FanBehind(fan) => fan_breaks(fan),
            Film::Still | Film::Breeze { .. } => Vec::new(),
        }),
    }
}

/// The places a film names, face by face, without those outside the face.
fn positions(scenario: &Scenario, places: impl Fn(&Film) -> Vec<f64>) -> FacePositions {
    let shape = Shape::of(scenario);
    let radii = (0.5 * shape.hole_diameter, 0.5 * shape.diameter);
    let inside = |face: &Face, (from, to): (f64, f64)| {
        let mut places = places(&face.film);
        places.retain(|&place| place > from && place < to);
        sorted(places)
    };
    let hole = scenario.hole.as_ref();
    FacePositions {
        front: inside(&scenario.front, radii),
        back: inside(&scenario.back, radii),
        rim: inside(&scenario.rim, (0.0, shape.rim_height)),
        hole: hole.map_or_else(Vec::new, |face| inside(face, (0.0, shape.hole_height))),
    }
}

/// Both ends of every step of a profile that is steep on the scale of a millimetre.
fn jumps(profile: &Profile) -> Vec<f64> {
    let points = profile.positions().windows(2).zip(profile.values().windows(2));
    let steep = points.filter(|(position, value)| {
        position[1] - position[0] < STEEP && (value[1] - value[0]).abs() > SMALL_STEP
    });
    steep.flat_map(|(position, _)| [position[0], position[1]]).collect()
}

/// Blade tips, the end of the fade to the wall flow, and where the depth or the length
/// of that flow leaves its smallest value.
pub(crate) fn fan_breaks(fan: &FanBehind) -> Vec<f64> {
    let diameter = fan.fan_diameter.metres();
    let last = match fan.cell {
        Cell::Open => diameter / 0.9,
        Cell::Closed { .. } => 0.75 * diameter,
    };
    vec![0.5 * diameter, diameter, last]
}

/// Positions at which a profile jumps or changes its slope.
fn kinks(profile: &Profile) -> Vec<f64> {
    let pairs = profile.positions().iter().copied().zip(profile.values().iter().copied());
    let mut point: Vec<(f64, f64)> = pairs.collect();
    // A point written twice is no jump.
    point.dedup();
    let last = point.len() - 1;
    let slope = |i: usize| (point[i + 1].1 - point[i].1) / (point[i + 1].0 - point[i].0);
    let is_kink = |i: usize| {
        // A jump divides by zero: an infinite slope.
        let before = if i == 0 { 0.0 } else { slope(i - 1) };
        let after = if i == last { 0.0 } else { slope(i) };
        let allowed = KINK * before.abs().max(after.abs());
        !(before.is_finite() && after.is_finite()) || (after - before).abs() > allowed
    };
    (0..=last).filter(|&i| is_kink(i)).map(|i| point[i].0).collect()
}

fn sorted(mut list: Vec<f64>) -> Vec<f64> {
    list.sort_by(f64::total_cmp);
    list.dedup();
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_on_a_straight_line_are_no_kinks_and_the_held_ends_are() {
        let line = Profile::new(vec![0.0, 1.0, 2.0, 3.0], vec![5.0, 6.0, 7.0, 7.0]);
        assert_eq!(kinks(&line), [0.0, 2.0]);
        assert!(kinks(&Profile::constant(3.0)).is_empty());
    }

    #[test]
    fn a_jump_is_found_on_both_of_its_points() {
        let jump = Profile::new(vec![0.0, 1.0, 1.0, 2.0], vec![5.0, 5.0, 6.0, 6.0]);
        assert_eq!(sorted(kinks(&jump)), [1.0]);
        let twice = Profile::new(vec![0.0, 1.0, 1.0, 2.0], vec![5.0, 5.0, 5.0, 5.0]);
        assert!(kinks(&twice).is_empty(), "a point written twice is no jump");
    }
}
