//! `[[event]]`: what changes during the run, and when.

use crate::keys::EVENT;
use crate::ledger::At;
use crate::moment::Times;
use crate::profile::Profile;
use crate::read::Reader;
use crate::scenario::{Cover, Event};
use crate::tree::{Node, Value};

/// Steps of the things an event can change, each in the order of time \[s\].
#[derive(Debug, Clone, Default)]
pub(crate) struct Changes {
    pub(crate) fan_speed: Vec<(f64, f64)>,
    pub(crate) altitude: Vec<(f64, f64)>,
    pub(crate) cover: Vec<(f64, Cover)>,
    pub(crate) secondary_heater: Vec<(f64, f64)>,
}

/// A change and where its value stands.
struct Change<'a, T> {
    at: f64,
    value: T,
    place: &'a At,
}

/// Reads all events.
pub(crate) fn read(file: &Reader<'_>, times: &Times) -> Changes {
    let Some(node) = file.table.get("event") else { return Changes::default() };
    let mut speed = Vec::new();
    let mut altitude = Vec::new();
    let mut cover = Vec::new();
    let mut heater = Vec::new();
    let items = items(file, node);
    let labels: Vec<String> = (0..items.len()).map(|index| format!("event {index}")).collect();
    for (item, label) in items.iter().zip(&labels) {
        let Value::Table(table) = &item.value else {
            file.wrong_sort("event", item, "a table");
            continue;
        };
        let event = Reader::new(file.ledger, (table, &item.at), &EVENT, label);
        let at = event.moment("at", times);
        let (s, a, c) = (event.number("fan_speed"), event.si("altitude"), event.choice("cover"));
        let warmed = event.number("secondary_heater");
        if table.entries.iter().all(|entry| entry.key == "at") {
            let help =
                "name what changes: fan_speed = 0.3, cover = \"off\" or altitude = \"60 deg\"";
            let fact = format!("{label} changes nothing");
            event.ledger.note("scenario::missing-key", event.at, fact, help.to_owned());
        }
        let Some(at) = at else { continue };
        if let Some((code, fact, help)) = times.outside(at) {
            let fact = fact.replacen("this", &format!("`{}`", event.written("at")), 1);
            event.ledger.note(code, event.place("at"), fact, help);
            continue;
        }
        speed.extend(s.map(|value| Change { at, value, place: event.place("fan_speed") }));
        altitude.extend(a.map(|value| Change { at, value, place: event.place("altitude") }));
        let place = event.place("secondary_heater");
        heater.extend(warmed.map(|value| Change { at, value, place }));
        let value = c.map(cover_named);
        cover.extend(value.map(|value| Change { at, value, place: event.place("cover") }));
    }
    Changes {
        fan_speed: in_order(file, "fan_speed", speed),
        altitude: in_order(file, "altitude", altitude),
        cover: in_order(file, "cover", cover),
        secondary_heater: in_order(file, "secondary_heater", heater),
    }
}

/// The events in the order of the file; those that cannot be read are left out.
pub(crate) fn listed(file: &Reader<'_>, times: &Times) -> Vec<Event> {
    let Some(node) = file.table.get("event") else { return vec![] };
    let one = |(index, item): (usize, &Node)| {
        let Value::Table(table) = &item.value else { return None };
        let event = Reader::new(file.ledger, (table, &item.at), &EVENT, "event");
        let (at_s, fan_speed) = (event.moment("at", times)?, event.number("fan_speed"));
        Some(Event { index, at_s, fan_speed })
    };
    items(file, node).iter().enumerate().filter_map(one).collect()
}

fn items<'a>(file: &Reader<'a>, node: &'a Node) -> &'a [Node] {
    match &node.value {
        Value::List(items) => items,
        Value::Table(_) => {
            let help = "write each event below a line [[event]], with two brackets".to_owned();
            file.ledger.note(
                "scenario::type",
                &node.at,
                "[event] stands for one section, events are a list".to_owned(),
                help,
            );
            &[]
        }
        _ => {
            file.wrong_sort("event", node, "a list of tables");
            &[]
        }
    }
}

fn in_order<T>(file: &Reader<'_>, key: &str, mut changes: Vec<Change<'_, T>>) -> Vec<(f64, T)> {
    changes.sort_by(|a, b| a.at.total_cmp(&b.at));
    for pair in changes.windows(2) {
        if pair[1].at <= pair[0].at {
            let fact = format!("two events set `{key}` at the same time");
            let help = "keep one of them, or give the other another time".to_owned();
            let later =
                [&pair[0], &pair[1]].into_iter().max_by_key(|change| change.place.span.start);
            let place = later.map_or(pair[1].place, |change| change.place);
            file.ledger.note("scenario::conflict", place, fact, help);
        }
    }
    changes.into_iter().map(|change| (change.at, change.value)).collect()
}

/// The cover of a word that `choice` has let through.
pub(crate) fn cover_named(word: &str) -> Cover {
    match word {
        "on" => Cover::On,
        "vented" => Cover::Vented,
        _ => Cover::Off,
    }
}

/// A step profile: `first` from the start, then each change; one at the start replaces it.
pub(crate) fn steps(first: f64, changes: &[(f64, f64)]) -> Profile {
    let mut positions = vec![0.0];
    let mut values = vec![first];
    for &(at, value) in changes {
        let before = values[values.len() - 1];
        if at > 0.0 {
            positions.extend([at, at]);
            values.extend([before, value]);
        } else {
            values[0] = value;
        }
    }
    Profile::new(positions, values)
}

/// The states of the cover, the first at 0.
pub(crate) fn states(first: Cover, changes: &[(f64, Cover)]) -> Vec<(f64, Cover)> {
    let mut states = vec![(0.0, first)];
    for &(at, cover) in changes {
        if at > 0.0 {
            states.push((at, cover));
        } else {
            states[0].1 = cover;
        }
    }
    states
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "whole numbers pass through unchanged")]
mod tests {
    use super::*;
    use crate::profile::Side;

    #[test]
    fn a_change_is_a_step_that_holds() {
        let profile = steps(1.0, &[(3600.0, 0.4), (7200.0, 0.2)]);
        assert_eq!(profile.at(3600.0, Side::Before), 1.0);
        assert_eq!(profile.at(3600.0, Side::After), 0.4);
        assert_eq!(profile.at(7199.0, Side::After), 0.4);
        assert_eq!(profile.at(1e6, Side::After), 0.2);
    }

    #[test]
    fn a_change_at_the_start_replaces_the_first_value() {
        assert_eq!(steps(1.0, &[(0.0, 0.5)]), Profile::constant(0.5));
        assert_eq!(states(Cover::Off, &[(0.0, Cover::On)]), [(0.0, Cover::On)]);
    }
}
