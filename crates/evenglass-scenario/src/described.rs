//! The description of keys, for programs that explain them.

use crate::guide::value;
use crate::keys::{FILE, Group, Key, Need};

/// A key in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyText {
    /// Its name.
    pub name: &'static str,
    /// What may stand there: an example with its limits, or the words.
    pub value: String,
    /// What leaving it out means: "needed", "may be left out", or the default.
    pub left_out: String,
    /// One sentence.
    pub about: &'static str,
}

/// The keys of the table at a path, such as `["ventilation", "plenum", "plate"]`: sections
/// and keys, and after a key whose table has kinds, the kind.
///
/// `None` if there is no such table.
///
/// ```
/// let keys = evenglass_scenario::keys_of(&["mirror"]).unwrap();
/// assert_eq!(keys[0].name, "diameter");
/// assert_eq!(keys[0].left_out, "needed");
/// ```
#[must_use]
pub fn keys_of(path: &[&str]) -> Option<Vec<KeyText>> {
    Some(group_at(path)?.keys.iter().map(told).collect())
}

/// The kinds of table at a path, such as `["ventilation"]`, each with one sentence.
#[must_use]
pub fn kinds_of(path: &[&str]) -> Vec<(&'static str, &'static str)> {
    let kinds = key_at(path).and_then(|key| key.shape.kinds()).unwrap_or_default();
    kinds.iter().map(|group| (group.name, group.doc)).collect()
}

/// The words a key may hold, such as those of
/// `["ventilation", "fan-behind", "layers", "filter", "media"]`.
#[must_use]
pub fn words_of(path: &[&str]) -> &'static [&'static str] {
    key_at(path).and_then(|key| key.shape.choice()).unwrap_or_default()
}

fn key_at(path: &[&str]) -> Option<&'static Key> {
    let (name, table) = path.split_last()?;
    group_at(table)?.keys.iter().find(|key| key.name == *name)
}

fn group_at(path: &[&str]) -> Option<&'static Group> {
    let mut group: &'static Group = &FILE;
    let mut rest = path;
    while let Some((name, after)) = rest.split_first() {
        let key = group.keys.iter().find(|key| key.name == *name)?;
        (group, rest) = match (key.shape.group(), key.shape.kinds(), after.split_first()) {
            (Some(group), _, _) => (group, after),
            (None, Some(kinds), Some((kind, after))) => {
                (kinds.iter().find(|group| group.name == *kind)?, after)
            }
            _ => return None,
        };
    }
    Some(group)
}

fn told(key: &Key) -> KeyText {
    let left_out = match key.need {
        Need::Required => "needed".to_owned(),
        Need::Optional => "may be left out".to_owned(),
        Need::Default(value) => format!("left out, {value}"),
    };
    // The guide's marks are for pages.
    KeyText { name: key.name, value: value(key).replace('`', ""), left_out, about: key.doc }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_is_found_through_sections_kinds_and_lists() {
        let plate = keys_of(&["ventilation", "plenum", "plate"]).unwrap();
        assert!(plate.iter().any(|key| key.name == "holes"), "{plate:?}");
        let filter = keys_of(&["ventilation", "suction", "layers", "filter"]).unwrap();
        assert_eq!(filter[0].name, "media");
        assert!(keys_of(&["ventilation"]).is_none(), "its keys depend on the kind");
        assert!(keys_of(&["ventilation", "plenums"]).is_none());
        assert!(keys_of(&["mirror", "diameter"]).is_none(), "no table");
    }

    #[test]
    fn kinds_and_words_are_those_that_can_be_written() {
        let kinds = kinds_of(&["ventilation"]);
        assert_eq!(kinds.len(), 10);
        assert_eq!(kinds[0].0, "fan-behind");
        assert!(words_of(&["telescope", "wall", "material"]).contains(&"plywood"));
        assert!(words_of(&["mirror", "diameter"]).is_empty() && kinds_of(&["mirror"]).is_empty());
    }

    #[test]
    fn a_key_says_its_example_its_limits_and_its_default() {
        let offset = keys_of(&["ventilation", "fan-behind"]).unwrap();
        let offset = offset.iter().find(|key| key.name == "offset").unwrap();
        assert_eq!(offset.value, "\"30 mm\"; 0 mm to 1 m");
        assert_eq!(offset.left_out, "left out, \"0 mm\"");
    }
}
