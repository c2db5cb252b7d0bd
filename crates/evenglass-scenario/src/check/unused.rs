//! Keys that are read and checked for later versions, and do nothing yet.

use crate::tree::{Node, Table, Value};

/// Path of a key, and the section beside which it is of use already.
const NOT_YET: &[(&str, Option<&str>)] = &[
    ("night.cloud", Some("telescope")),
    ("site.latitude", None),
    ("site.longitude", None),
    ("site.utc_offset", None),
];

/// Those that the author wrote.
pub(crate) fn unused(root: &Table) -> Vec<&'static str> {
    let idle = |beside: Option<&str>| beside.is_none_or(|section| root.get(section).is_none());
    let written = NOT_YET.iter().filter(|(path, beside)| idle(*beside) && at(root, path).is_some());
    written.map(|(path, _)| *path).collect()
}

fn at<'a>(root: &'a Table, path: &str) -> Option<&'a Node> {
    let (first, rest) = match path.split_once('.') {
        Some((first, rest)) => (first, Some(rest)),
        None => (path, None),
    };
    let node = root.get(first)?;
    match (rest, &node.value) {
        (None, _) => Some(node),
        (Some(rest), Value::Table(table)) => at(table, rest),
        (Some(_), _) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::keys::FILE;
    use crate::keys_of;

    #[test]
    fn every_key_that_is_said_to_do_nothing_can_be_written() {
        for (path, beside) in NOT_YET {
            let parts: Vec<&str> = path.split('.').collect();
            let (name, table) = parts.split_last().unwrap();
            let keys = keys_of(table).unwrap();
            assert!(keys.iter().any(|key| key.name == *name), "{path}");
            for section in [Some(table[0]), *beside].into_iter().flatten() {
                assert!(FILE.keys.iter().any(|key| key.name == section), "{section}");
            }
        }
    }
}
