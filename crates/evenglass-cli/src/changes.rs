//! Small changes of a scenario that a maker could make, each as options of the command line.
//!
//! Which there are follows from the scenario: a slot is varied where there is one, a rim is
//! sealed where it is bare. Each is made by the same overrides that `--set` makes, so that
//! what helps can be typed.

mod earlier;

use evenglass_scenario::scenario::{Event, Face, Film, Scenario};
use evenglass_scenario::ventilation::{Arrangement, FanData, Fans, System};
use evenglass_scenario::{Override, Side};

/// One change.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Change {
    /// What to call it.
    pub(crate) label: String,
    pub(crate) overrides: Vec<Override>,
    /// By how much the run begins earlier \[s\], with everything else as it was on the clock.
    pub(crate) earlier_s: f64,
}

/// Share by which flows, films and slots are changed [-].
const QUARTER: f64 = 0.25;
const FIFTH: f64 = 0.2;

/// Times by which the run is begun earlier \[min\].
const EARLIER: [u32; 2] = [30, 60];

/// Glass that expands by more than this [K⁻¹] is worth replacing by borosilicate.
const EXPANDS: f64 = 4e-6;

/// A strip that seals a rim.
const FOAM: &str = "{ thickness = \"6 mm\", conductivity = \"0.035 W/m/K\" }";

impl Change {
    fn new(label: impl Into<String>, changes: &[(&str, String)]) -> Self {
        let label = label.into();
        let one = |(key, value): &(&str, String)| Override {
            key: (*key).to_owned(),
            value: value.clone(),
            option: format!("change '{label}'"),
        };
        let overrides = changes.iter().map(one).collect();
        Self { label, overrides, earlier_s: 0.0 }
    }

    /// The change as it would be typed.
    pub(crate) fn as_options(&self) -> String {
        let one = |change: &Override| format!("--set '{}={}'", change.key, change.value);
        self.overrides.iter().map(one).collect::<Vec<_>>().join(" ")
    }

    /// Whether `changed`, which came of this change, is otherwise the same night as `base`: what
    /// is written in time from the start moves with a start that is earlier.
    pub(crate) fn leaves_the_night(&self, base: &Scenario, changed: &Scenario) -> bool {
        self.earlier_s <= 0.0 || earlier::same_on_the_clock(base, changed, self.earlier_s)
    }
}

/// The changes that make sense for a scenario; `events` as they stand in its file. Two of the
/// same label are two ways to make one change.
pub(crate) fn changes(base: &Scenario, events: &[Event]) -> Vec<Change> {
    let mut all = vec![];
    all.extend(rim(&base.rim));
    all.extend(air(base));
    all.extend(full_speed(base, events));
    for minutes in EARLIER {
        all.extend(earlier::start(base, events, minutes));
    }
    let thickness = 1e3 * base.mirror.edge_thickness.metres() * (1.0 - FIFTH);
    all.push(Change::new(
        "glass 20 % thinner",
        &[("mirror.edge_thickness", quantity(thickness, "mm"))],
    ));
    if base.mirror.glass.expansion.per_kelvin() > EXPANDS {
        all.push(Change::new("borosilicate glass", &[("mirror.glass", "borosilicate".to_owned())]));
    }
    all
}

/// A strip of foam around a rim that has none, twice as much around one that has.
fn rim(rim: &Face) -> Option<Change> {
    if let Film::Given { coefficient, .. } = &rim.film
        && coefficient.values().iter().all(|&film| film <= 0.0)
    {
        return None;
    }
    Some(match rim.insulation {
        None => Change::new("rim in 6 mm of foam", &[("rim.insulation", FOAM.to_owned())]),
        Some(layer) => {
            let twice = quantity(2e3 * layer.thickness.metres(), "mm");
            Change::new("rim foam twice as thick", &[("rim.insulation.thickness", twice)])
        }
    })
}

/// More and less air, and wider and narrower slots.
fn air(base: &Scenario) -> Vec<Change> {
    let Some(ventilation) = &base.ventilation else { return by_films(base) };
    let mut all = vec![];
    if let Some(fans) = &ventilation.main.fans {
        for (share, word) in [(1.0 + QUARTER, "more"), (1.0 - QUARTER, "less")] {
            all.push(Change::new(format!("fans of 25 % {word} flow"), &[fan_flow(fans, share)]));
        }
    }
    if let Some((key, width)) = slot(&ventilation.main) {
        for (share, word) in [(1.0 + FIFTH, "wider"), (1.0 - FIFTH, "narrower")] {
            let width = quantity(1e3 * width * share, "mm");
            all.push(Change::new(format!("slot 20 % {word}"), &[(key, width)]));
        }
    }
    all
}

/// The same fans with another flow at every pressure.
fn fan_flow(fans: &Fans, share: f64) -> (&'static str, String) {
    match &fans.curve {
        FanData::Ends { free_flow, .. } => {
            ("ventilation.fans.free_flow", quantity(1e3 * free_flow.m3_per_s() * share, "L/s"))
        }
        FanData::Points(points) => {
            let flow = |point: &(evenglass_units::VolumeRate, _)| {
                format!("\"{}\"", quantity(1e3 * point.0.m3_per_s() * share, "L/s"))
            };
            let flows = points.iter().map(flow).collect::<Vec<_>>().join(", ");
            ("ventilation.fans.flow", format!("[{flows}]"))
        }
    }
}

/// Key and width \[m\] of a slot that the air leaves through.
fn slot(system: &System) -> Option<(&'static str, f64)> {
    match &system.arrangement {
        Arrangement::RingNozzle(ring) if ring.slot_range.is_none() => {
            Some(("ventilation.slot", ring.slot.metres()))
        }
        Arrangement::Plenum { outlet, .. } => {
            Some(("ventilation.outlet.width", outlet.width.metres()))
        }
        _ => None,
    }
}

/// The back's air without a section `[ventilation]`.
fn by_films(base: &Scenario) -> Vec<Change> {
    let shares = [(1.0 + QUARTER, "more"), (1.0 - QUARTER, "less")];
    match &base.back.film {
        Film::FanBehind(fan) => {
            let flow = 1e3 * fan.flow.m3_per_s();
            let one = |(share, word): (f64, &str)| {
                let flow = quantity(flow * share, "L/s");
                Change::new(format!("25 % {word} flow behind"), &[("back.film.flow", flow)])
            };
            shares.map(one).to_vec()
        }
        Film::Given { coefficient, .. } if is_even(coefficient.values()) => {
            let film = coefficient.values().first().copied().unwrap_or(0.0);
            let one = |(share, word): (f64, &str)| {
                let film = quantity(film * share, "W/m2/K");
                Change::new(format!("25 % {word} film behind"), &[("back.film.coefficient", film)])
            };
            shares.map(one).to_vec()
        }
        Film::Still => fan_behind(base).into_iter().collect(),
        Film::Given { .. } | Film::Breeze { .. } => vec![],
    }
}

/// A film that is the same everywhere, and is one.
fn is_even(values: &[f64]) -> bool {
    let first = values.first().copied().unwrap_or(0.0);
    first > 0.0 && values.iter().all(|value| (value - first).abs() <= 1e-12 * first)
}

/// A quiet fan behind a mirror that has none: common practice, no source.
fn fan_behind(base: &Scenario) -> Option<Change> {
    let (small, large) = (("80 mm", "30 mm", "8 L/s"), ("120 mm", "40 mm", "20 L/s"));
    let (fan, hub, flow) = match base.mirror.diameter.metres() {
        diameter if diameter < 0.12 => return None,
        diameter if diameter < 0.3 => small,
        _ => large,
    };
    let film = format!(
        "{{ kind = \"fan-behind\", fan_diameter = \"{fan}\", hub_diameter = \"{hub}\", distance = \
         \"50 mm\", flow = \"{flow}\", cell = \"open\" }}"
    );
    Some(Change::new(format!("a fan behind, {flow}"), &[("back.film", film)]))
}

/// The fans at the night's highest speed throughout, where they are turned down at times.
fn full_speed(base: &Scenario, events: &[Event]) -> Option<Change> {
    let speeds = base.night.fan_speed.values();
    let highest = speeds.iter().copied().fold(0.0, f64::max);
    let fans = base.ventilation.as_ref().is_some_and(|air| air.main.fans.is_some());
    let fans = fans || matches!(base.back.film, Film::FanBehind(_));
    if !fans || highest <= 0.0 || speeds.iter().all(|&speed| speed >= highest) {
        return None;
    }
    let start = ("night.fan_speed".to_owned(), base.night.fan_speed.at(0.0, Side::After));
    let later = events.iter().filter_map(|event| {
        event.fan_speed.map(|speed| (format!("event.{}.fan_speed", event.index), speed))
    });
    let slower = std::iter::once(start).chain(later).filter(|(_, speed)| *speed < highest);
    let keys: Vec<(String, f64)> = slower.collect();
    let changes: Vec<(&str, String)> =
        keys.iter().map(|(key, _)| (key.as_str(), format!("{highest}"))).collect();
    Some(Change::new("fans never turned down", &changes))
}

/// A number with four digits, and its unit.
fn quantity(value: f64, unit: &str) -> String {
    let rounded: f64 = format!("{value:.3e}").parse().unwrap_or(value);
    format!("{rounded} {unit}")
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;

    const NIGHT: &str = "[mirror]\ndiameter = '400 mm'\nedge_thickness = '40 mm'\n\
        focal_ratio = 4.5\nglass = 'soda-lime'\n[night]\nstart = '20:00'\nduration = '8 h'\n\
        glass_temperature = '20 degC'\nair = { kind = 'falling', from = '18 degC', rate = '-1 K/h' }\n";

    fn scenario(more: &str, overrides: &[Override]) -> Scenario {
        let text = format!("{NIGHT}{more}");
        match evenglass_scenario::parse("n.toml", &text, Path::new(""), overrides) {
            Ok(scenario) => scenario,
            Err(error) => panic!("{error}"),
        }
    }

    fn labels(more: &str) -> Vec<String> {
        let base = scenario(more, &[]);
        changes(&base, &[]).into_iter().map(|change| change.label).collect()
    }

    #[test]
    fn every_change_is_a_scenario_that_can_be_typed() {
        for more in ["", "[back]\nfilm = { kind = 'given', coefficient = '8 W/m2/K' }\n", RING] {
            let base = scenario(more, &[]);
            let all = changes(&base, &[]);
            assert!(all.len() >= 5, "{more}: {all:?}");
            let mut made: Vec<&str> = vec![];
            for change in &all {
                let changed = scenario(more, &change.overrides);
                assert_ne!(changed, base, "{} changes nothing", change.label);
                assert!(change.label.chars().count() <= 23, "{}", change.label);
                if change.leaves_the_night(&base, &changed) {
                    made.push(&change.label);
                }
            }
            // The second way to begin earlier would begin the fall earlier.
            let labels = all.iter().filter(|change| !made.contains(&change.label.as_str()));
            assert_eq!(labels.count(), 0, "{made:?}");
        }
    }

    const RING: &str = "[telescope]\nform = 'truss'\nclearance = '20 mm'\nlength = '150 mm'\n\
        [ventilation]\nkind = 'ring-nozzle'\nslot = '3 mm'\nheight = '2 mm'\n\
        fans = { diameter = '60 mm', free_flow = '7 L/s', max_pressure = '20 Pa', power = '0.6 W' }\n";

    #[test]
    fn what_is_not_there_is_not_changed() {
        let still = labels("");
        assert!(still.contains(&"a fan behind, 20 L/s".to_owned()), "{still:?}");
        assert!(!still.iter().any(|label| label.contains("slot")), "{still:?}");
        let ring = labels(RING);
        assert!(ring.contains(&"slot 20 % narrower".to_owned()), "{ring:?}");
        assert!(ring.contains(&"fans of 25 % more flow".to_owned()), "{ring:?}");
        assert!(!ring.iter().any(|label| label.contains("behind")), "{ring:?}");
        let sealed = labels("[rim]\nfilm = { kind = 'given', coefficient = '0 W/m2/K' }\n");
        assert!(!sealed.iter().any(|label| label.contains("foam")), "{sealed:?}");
        let foam =
            labels("[rim]\ninsulation = { thickness = '6 mm', conductivity = '0.035 W/m/K' }\n");
        assert!(foam.contains(&"rim foam twice as thick".to_owned()), "{foam:?}");
    }

    #[test]
    fn a_change_is_shown_as_options() {
        let change = Change::new("thin", &[("a.b", "3 mm".to_owned()), ("c", "0.5".to_owned())]);
        assert_eq!(change.as_options(), "--set 'a.b=3 mm' --set 'c=0.5'");
        assert_eq!(quantity(32.800_000_1, "mm"), "32.8 mm");
    }

    #[test]
    fn fans_that_are_turned_down_are_offered_full_speed() {
        let more = "[[event]]\nat = '22:00'\nfan_speed = 0.5\n[back]\nfilm = { kind = 'fan-behind', \
            fan_diameter = '120 mm', hub_diameter = '40 mm', distance = '60 mm', flow = '20 L/s', \
            cell = 'open' }\n";
        let base = scenario(more, &[]);
        let event = Event { index: 0, at_s: 7200.0, fan_speed: Some(0.5) };
        let all = changes(&base, &[event]);
        let full = all.iter().find(|change| change.label == "fans never turned down").unwrap();
        assert_eq!(full.as_options(), "--set 'event.0.fan_speed=1'");
        assert_eq!(scenario(more, &full.overrides).night.fan_speed.values(), [1.0, 1.0, 1.0]);
    }
}
