//! Tables of points: the lists held against each other.

use crate::moment::Times;
use crate::profile::Profile;
use crate::read::Reader;
use crate::tree::Value;

/// A profile from two lists of a table.
///
/// * `keys` — names of the positions' list and of the values' list
pub(crate) fn points(
    reader: &Reader<'_>,
    keys: (&str, &str),
    positions: Option<Vec<f64>>,
    values: Option<Vec<f64>>,
) -> Option<Profile> {
    let (positions, values) = (positions?, values?);
    if positions.len() != values.len() {
        let fact = format!(
            "`{}` has {} entries and `{}` has {}",
            keys.0,
            positions.len(),
            keys.1,
            values.len()
        );
        let help = format!("give `{}` one entry for each entry of `{}`", keys.1, keys.0);
        reader.ledger.note("scenario::table", reader.place(keys.1), fact, help);
        return None;
    }
    for (index, pair) in positions.windows(2).enumerate() {
        if pair[1] < pair[0] {
            let fact = format!("`{}` goes back at entry {}", keys.0, index + 2);
            let help = match keys.0 {
                "time" => {
                    "put the points in the order of time; a clock time before that of the start is the next day"
                }
                _ => "put the points in rising order; repeat a position for a jump",
            };
            reader.ledger.note(
                "scenario::table",
                item(reader, keys.0, index + 1),
                fact,
                help.to_owned(),
            );
            return None;
        }
    }
    if let Some(index) = positions.windows(3).position(|three| three[2] <= three[0]) {
        let fact = format!("`{}` has three entries at one position", keys.0);
        let help = "a jump has two entries: the value before it and the value after it".to_owned();
        reader.ledger.note("scenario::table", item(reader, keys.0, index + 2), fact, help);
        return None;
    }
    Some(Profile::new(positions, values))
}

fn item<'a>(reader: &Reader<'a>, key: &str, index: usize) -> &'a crate::ledger::At {
    match reader.table.get(key).map(|node| &node.value) {
        Some(Value::List(items)) if index < items.len() => &items[index].at,
        _ => reader.place(key),
    }
}

/// A value with a unit, or `{ time, <values> }` of such.
pub(crate) fn si(reader: &Reader<'_>, key: &str, values: &str, times: &Times) -> Option<Profile> {
    match reader.table.get(key).map(|node| &node.value) {
        Some(Value::Table(_)) => {
            let label = format!("`{key}`");
            let table = reader.inner(key, &label)?;
            let time = table.moment_list("time", times);
            points(&table, ("time", values), time, table.si_list(values))
        }
        _ => reader.si(key).map(Profile::constant),
    }
}

/// A bare number, or `{ time, value }` of such.
pub(crate) fn number(reader: &Reader<'_>, key: &str, times: &Times) -> Option<Profile> {
    match reader.table.get(key).map(|node| &node.value) {
        Some(Value::Table(_)) => {
            let label = format!("`{key}`");
            let table = reader.inner(key, &label)?;
            let time = table.moment_list("time", times);
            points(&table, ("time", "value"), time, table.number_list("value"))
        }
        _ => reader.number(key).map(Profile::constant),
    }
}
