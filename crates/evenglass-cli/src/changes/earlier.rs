//! The same night, begun earlier.

use evenglass_scenario::scenario::{Event, Face, Film, RadiantSurroundings, Scenario};
use evenglass_scenario::{Profile, Side};

use super::{Change, quantity};

/// The longest run that clock times without dates can describe \[s\].
const DAY: f64 = 86_400.0;

/// The run begun `minutes` earlier, ending when it did; events keep their place on the clock.
///
/// Air that falls at a steady rate is continued backwards; a table is held before its first
/// point, and a weather file must reach back that far. Where the profile does not tell which of
/// the two it is, both ways are given. Empty where the run would be too long for clock times.
pub(super) fn start(base: &Scenario, events: &[Event], minutes: u32) -> Vec<Change> {
    let (night, by) = (&base.night, 60.0 * f64::from(minutes));
    let duration = night.duration.seconds() + by;
    if duration > DAY {
        return vec![];
    }
    let clock = |seconds: f64| {
        let time = night.start.hms(seconds);
        time.strip_suffix(":00").map_or_else(|| time.clone(), str::to_owned)
    };
    // A day later, so that the clock does not pass the start of its calendar.
    let mut changes = vec![
        ("night.start".to_owned(), clock(DAY - by)),
        ("night.duration".to_owned(), quantity(duration / 60.0, "min")),
    ];
    changes.extend(
        events.iter().map(|event| (format!("event.{}.at", event.index), clock(event.at_s))),
    );
    let fallen = steady_fall(&night.air).map(|fall| {
        let from = night.air.at(0.0, Side::After) - 273.15 - fall * by;
        ("night.air.from".to_owned(), quantity(from, "degC"))
    });
    let way = |more: Option<(String, String)>| {
        let all: Vec<_> = changes.iter().cloned().chain(more).collect();
        let all: Vec<(&str, String)> =
            all.iter().map(|(key, value)| (key.as_str(), value.clone())).collect();
        let change = Change::new(format!("begun {minutes} min earlier"), &all);
        Change { earlier_s: by, ..change }
    };
    fallen.map(|from| way(Some(from))).into_iter().chain([way(None)]).collect()
}

/// Rate [K/s] of air that is written as falling: two or three points from the start, the last
/// stretch level.
fn steady_fall(air: &Profile) -> Option<f64> {
    let (times, values) = (air.positions(), air.values());
    let [first, second, ..] = *times else { return None };
    let falls = first <= 0.0 && second > first && values[1] < values[0];
    let level = values[1..].windows(2).all(|pair| (pair[0] - pair[1]).abs() < 1e-9);
    (falls && level).then(|| (values[1] - values[0]) / (second - first))
}

/// Whether everything that is given against time is the same on the clock, in a run that begins
/// earlier by a time \[s\].
pub(super) fn same_on_the_clock(base: &Scenario, changed: &Scenario, by: f64) -> bool {
    let (old, new) = (given(base), given(changed));
    let duration = base.night.duration.seconds();
    let covers = base.night.cover.iter().skip(1).map(|(time, cover)| (time + by, *cover));
    let later = changed.night.cover.iter().skip(1).copied();
    old.len() == new.len()
        && old.iter().zip(new).all(|(old, new)| same(old, new, (by, duration)))
        && covers.eq(later)
}

/// Everything that is given against time.
fn given(scenario: &Scenario) -> Vec<&Profile> {
    let night = &scenario.night;
    let mut all = vec![&night.air, &night.pressure, &night.fan_speed, &night.altitude];
    all.extend([&night.dew_point, &night.wind, &night.cloud].into_iter().flatten());
    let faces = [Some(&scenario.front), Some(&scenario.back), Some(&scenario.rim)];
    for face in faces.into_iter().chain([scenario.hole.as_ref()]).flatten() {
        all.extend(of_face(face));
    }
    let systems = scenario
        .ventilation
        .iter()
        .flat_map(|air| [Some(&air.main), air.second.as_ref()].into_iter().flatten());
    let fans = systems.filter_map(|system| system.fans.as_ref());
    all.extend(fans.filter_map(|fans| fans.supply_voltage.as_ref()));
    all
}

fn of_face(face: &Face) -> Vec<&Profile> {
    let mut all = vec![];
    if let Film::Given { factor, .. } = &face.film {
        all.push(factor);
    }
    let surroundings = face.radiation.as_ref().map(|radiation| &radiation.surroundings);
    if let Some(RadiantSurroundings::Temperature(temperature)) = surroundings {
        all.push(temperature);
    }
    all
}

/// Values nearer than this share are the same but for rounding in what is typed.
const ROUNDING: f64 = 1e-4;

fn same(old: &Profile, new: &Profile, (by, duration): (f64, f64)) -> bool {
    let quarters = (0..=96_u32).map(|n| duration * f64::from(n) / 96.0);
    let points = old.positions().iter().copied();
    let times = quarters.chain(points).filter(|time| (0.0..=duration).contains(time));
    times.into_iter().all(|time| {
        // A little beside the jumps, whose times are typed to the second.
        [time - 2.0, time + 2.0].into_iter().filter(|t| (0.0..=duration).contains(t)).all(|t| {
            let (a, b) = (old.at(t, Side::After), new.at(t + by, Side::After));
            (a - b).abs() <= ROUNDING * a.abs().max(1e-9)
        })
    })
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;

    fn night(start: &str, air: &str, more: &str) -> Scenario {
        let text = format!(
            "[mirror]\ndiameter = '400 mm'\nedge_thickness = '40 mm'\nglass = 'soda-lime'\n\
             [night]\nstart = '{start}'\nduration = '8 h'\nglass_temperature = '20 degC'\n\
             air = {air}\n{more}"
        );
        read(&text, &[])
    }

    fn read(text: &str, overrides: &[evenglass_scenario::Override]) -> Scenario {
        match evenglass_scenario::parse("n.toml", text, Path::new(""), overrides) {
            Ok(scenario) => scenario,
            Err(error) => panic!("{error}"),
        }
    }

    const FALLING: &str =
        "{ kind = 'falling', from = '18 degC', rate = '-1 K/h', floor = '9 degC' }";

    #[test]
    fn an_earlier_start_is_typed_with_its_clock_air_and_events() {
        let base = night("20:00", FALLING, "[[event]]\nat = '2 h'\nfan_speed = 0.5\n");
        let event = Event { index: 0, at_s: 7200.0, fan_speed: Some(0.5) };
        let options = start(&base, &[event], 30)[0].as_options();
        for wanted in
            ["night.start=19:30", "night.duration=510 min", "from=18.5 degC", "event.0.at=22:00"]
        {
            assert!(options.contains(wanted), "{wanted}: {options}");
        }
        let after_midnight = night("00:15", FALLING, "");
        let options = start(&after_midnight, &[], 30)[0].as_options();
        assert!(options.contains("night.start=23:45"), "{options}");
    }

    #[test]
    fn what_would_move_on_the_clock_is_noticed() {
        let table = |time: &str| {
            format!("{{ kind = 'table', time = [{time}], temperature = ['18 degC', '9 degC'] }}")
        };
        let (clock, span) = (table("'20:00', '02:00'"), table("'0 h', '6 h'"));
        let shift = |air: &str| (night("20:00", air, ""), night("19:30", air, ""));
        let (base, earlier) = shift(&clock);
        assert!(same_on_the_clock(&base, &earlier, 1800.0), "clock times stay");
        let (base, earlier) = shift(&span);
        assert!(!same_on_the_clock(&base, &earlier, 1800.0), "durations move");
        let factor = "[back]\nfilm = { kind = 'given', coefficient = '8 W/m2/K', factor = { time = \
                      ['1 h', '1 h'], value = [1.0, 0.3] } }\n";
        let air = "{ kind = 'steady', temperature = '9 degC' }";
        let (base, earlier) = (night("20:00", air, factor), night("19:30", air, factor));
        assert!(!same_on_the_clock(&base, &earlier, 1800.0), "a factor moves");
    }
}
