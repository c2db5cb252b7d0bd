//! Changes to a scenario typed on the command line.

use toml::de::DeValue;

use crate::fault::{Fault, Place, ScenarioError};
use crate::keys::{
    AIR_KINDS, ARRANGEMENTS, BACK_FILMS, FRONT_FILMS, Group, LAYER_KINDS, PATHS, SECONDS,
};
use crate::ledger::{At, Ledger};
use crate::suggest::shown;
use crate::tree::{Entry, Node, Origin, Table, Value, from_value};

/// A change of one key: `mirror.diameter=24 in`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Override {
    /// Dotted path of the key; an event is `event.0.fan_speed`, counted from 0.
    pub key: String,
    /// TOML if it parses, else a text.
    pub value: String,
    /// The option it was typed after, which is where its faults lie: `--set`, `--vary`,
    /// or `--variant 'bare rim'`.
    pub option: String,
}

/// A named set of changes: `bare rim: rim.film.coefficient=12 W/m2/K; mirror.glass=borosilicate`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Variant {
    /// What to call it.
    pub label: String,
    /// The changes, in their order.
    pub overrides: Vec<Override>,
}

/// Reads `KEY=VALUE`.
///
/// # Errors
/// If there is no `=`, or the key is not a dotted path.
pub fn parse_override(text: &str) -> Result<Override, ScenarioError> {
    read_override(text, "--set")
        .map_err(|(message, help)| typed_fault("--set", text, message, help))
}

/// Reads `LABEL: KEY=VALUE; KEY=VALUE`. Without a label the changes are their own.
///
/// A semicolon within quotes, brackets or braces does not separate.
///
/// # Errors
/// If a change cannot be read, or there is none.
pub fn parse_variant(text: &str) -> Result<Variant, ScenarioError> {
    let fault = |(message, help)| typed_fault("--variant", text, message, help);
    // The last colon before the first `=` ends the name, so that it may hold a clock time;
    // in what follows the `=` colons belong to values.
    let colon = text[..text.find('=').unwrap_or(text.len())].rfind(':');
    let (label, changes) = match colon {
        Some(colon) => (text[..colon].trim(), &text[colon + 1..]),
        None => (text.trim(), text),
    };
    if label.is_empty() {
        return Err(fault(("the variant has no name".to_owned(), VARIANT_HELP.to_owned())));
    }
    let option = format!("--variant '{}'", shown(label));
    let overrides = split_outside(changes, ';')
        .into_iter()
        .filter(|change| !change.trim().is_empty())
        .map(|change| {
            let no_equals = !change.contains('=');
            read_override(change, &option).map_err(|(message, help)| {
                fault((message, if no_equals { VARIANT_HELP.to_owned() } else { help }))
            })
        })
        .collect::<Result<Vec<_>, _>>()?;
    if overrides.is_empty() {
        let message = format!("the variant `{}` changes nothing", shown(label));
        return Err(fault((message, VARIANT_HELP.to_owned())));
    }
    Ok(Variant { label: label.to_owned(), overrides })
}

const VARIANT_HELP: &str = "write it as 'name: key=value', for example 'bare rim: rim.film.coefficient=12 W/m2/K; mirror.glass=borosilicate'";

/// Splits at `separator` where it is not inside quotes, brackets or braces.
pub(crate) fn split_outside(text: &str, separator: char) -> Vec<&str> {
    let mut parts = Vec::new();
    let (mut start, mut depth) = (0, 0_usize);
    let mut quote = None;
    for (index, c) in text.char_indices() {
        match (quote, c) {
            (Some(open), c) if c == open => quote = None,
            // A quote after a digit is the inch of `24"`.
            (None, '"' | '\'') if !text[start..index].ends_with(|p: char| p.is_ascii_digit()) => {
                quote = Some(c);
            }
            (None, '[' | '{' | '(') => depth += 1,
            (None, ']' | '}' | ')') => depth = depth.saturating_sub(1),
            (None, c) if c == separator && depth == 0 => {
                parts.push(&text[start..index]);
                start = index + c.len_utf8();
            }
            _ => {}
        }
    }
    parts.push(&text[start..]);
    parts
}

/// A fault in something typed.
pub(crate) fn typed_fault(
    option: &str,
    text: &str,
    message: String,
    help: String,
) -> ScenarioError {
    let code = if option == "--vary" { "scenario::axis" } else { "scenario::override" };
    let place = Place { name: option.to_owned(), source: text.into(), span: 0..text.len() };
    ScenarioError { faults: vec![Fault { code, message, help: Some(help), place: Some(place) }] }
}

fn read_override(text: &str, option: &str) -> Result<Override, (String, String)> {
    let (key, value) = text.split_once('=').ok_or_else(|| {
        (
            format!("`{}` has no `=`", shown(text)),
            "write it as KEY=VALUE, for example mirror.diameter=24 in".to_owned(),
        )
    })?;
    let key = read_key(key)?;
    Ok(Override { key, value: value.trim().to_owned(), option: option.to_owned() })
}

/// A dotted path without spaces around the dots.
pub(crate) fn read_key(text: &str) -> Result<String, (String, String)> {
    let parts: Vec<&str> = text.split('.').map(str::trim).collect();
    let plain = |part: &&str| {
        !part.is_empty() && part.chars().all(|c| c.is_alphanumeric() || c == '_' || c == '-')
    };
    if parts.iter().all(plain) {
        return Ok(parts.join("."));
    }
    Err((
        format!("`{}` is not the path of a key", shown(text.trim())),
        "join sections and keys by dots, for example mirror.diameter or event.0.fan_speed"
            .to_owned(),
    ))
}

/// Sections within sections; no key lies deeper.
const DEEPEST: usize = 16;

/// Puts the changes into the tables of a file.
pub(crate) fn apply(root: &mut Table, overrides: &[Override], ledger: &mut Ledger) {
    for change in overrides {
        let typed = format!("{}={}", change.key, change.value);
        let text = ledger.add_text(&change.option, &typed);
        let after_equals = change.key.len() + 1;
        let node = read_value(&change.value, Origin { text, shift: after_equals });
        let mut segments = Vec::new();
        let mut start = 0;
        for segment in change.key.split('.') {
            let at = At { text, span: start..start + segment.len() };
            segments.push((segment, at));
            start += segment.len() + 1;
        }
        let placed = if segments.len() > DEEPEST {
            let at = At { text, span: 0..change.key.len() };
            let message = format!("`{}` has more dots than any key", shown(&change.key));
            Err((at, message, "give the path of a key, such as mirror.diameter".to_owned()))
        } else {
            place(root, &segments, node)
        };
        if let Err((at, message, help)) = placed {
            ledger.note("scenario::override", &at, message, help);
        }
    }
}

/// A TOML value if it is one, else a text.
fn read_value(value: &str, origin: Origin) -> Node {
    if let Ok(parsed) = DeValue::parse(value) {
        return from_value(parsed, origin);
    }
    let span = origin.shift..origin.shift + value.len();
    Node { value: Value::Text(value.to_owned()), at: At { text: origin.text, span } }
}

type Misplaced = (At, String, String);

fn place(table: &mut Table, path: &[(&str, At)], node: Node) -> Result<(), Misplaced> {
    let Some(((key, at), rest)) = path.split_first() else { return Ok(()) };
    if rest.is_empty() {
        if *key == "kind" {
            forget_other_kind(table, &node);
        }
        forget_displaced(table, key, &node.value);
        table.set(Entry { key: (*key).to_owned(), at: at.clone(), node });
        return Ok(());
    }
    if table.get(key).is_none() {
        let value = Value::Table(Table::default());
        let node = Node { value, at: at.clone() };
        table.set(Entry { key: (*key).to_owned(), at: at.clone(), node });
    }
    let inner = table.entries.iter_mut().find(|entry| entry.key == *key);
    let Some(inner) = inner else { return Ok(()) };
    place_inside(&mut inner.node, (key, at), rest, node)
}

fn place_inside(
    inner: &mut Node,
    (key, at): (&str, &At),
    rest: &[(&str, At)],
    node: Node,
) -> Result<(), Misplaced> {
    let noun = inner.value.noun();
    match &mut inner.value {
        Value::Table(table) => place(table, rest, node),
        Value::List(items) => {
            let (index, index_at) = &rest[0];
            let count = items.len();
            let item = index.parse::<usize>().ok().and_then(|index| items.get_mut(index));
            match (item, &rest[1..]) {
                (Some(item), []) => *item = node,
                (Some(item), rest) => return place_inside(item, (index, index_at), rest, node),
                (None, _) => {
                    let message = format!("`{key}` has no entry number `{}`", shown(index));
                    let help = match count {
                        0 => format!("`{key}` is empty"),
                        1 => format!("there is one, number 0: write {key}.0"),
                        _ => format!("they are numbered 0 to {}", count - 1),
                    };
                    return Err((index_at.clone(), message, help));
                }
            }
            Ok(())
        }
        _ => Err((
            at.clone(),
            format!("`{key}` is {noun} here and has no key `{}`", shown(rest[0].0)),
            format!("set `{key}` itself, or give it as a table in the file"),
        )),
    }
}

/// Everything that has kinds. The same word may be a kind in several.
const FAMILIES: [&[Group]; 7] =
    [FRONT_FILMS, BACK_FILMS, AIR_KINDS, ARRANGEMENTS, SECONDS, PATHS, LAYER_KINDS];

/// Another kind makes the file's keys of the old kind meaningless; they go, unless both have
/// them and mean the same: the distance of a fan behind is not that of a fan above.
fn forget_other_kind(table: &mut Table, kind: &Node) {
    let Value::Text(wanted) = &kind.value else { return };
    let Some(Value::Text(old)) = table.get("kind").map(|node| &node.value) else { return };
    if old == wanted {
        return;
    }
    let old = old.clone();
    let of = |family: &'static [Group], name: &str| family.iter().find(|g| g.name == name);
    let pairs = || FAMILIES.into_iter().filter_map(|f| Some((of(f, &old)?, of(f, wanted)?)));
    let news = || FAMILIES.into_iter().filter_map(|f| of(f, wanted));
    if news().next().is_none() {
        return;
    }
    let meant = |group: &'static Group, key: &str| {
        group.keys.iter().find(|known| known.name == key).map(|known| known.doc)
    };
    let stays = |key: &str| match pairs().next() {
        Some(_) => pairs().any(|(old, new)| {
            let doc = meant(new, key);
            doc.is_some() && doc == meant(old, key)
        }),
        None => news().any(|new| meant(new, key).is_some()),
    };
    table.entries.retain(|entry| entry.at.text != 0 || stays(&entry.key));
    // A gap alone does not close a cell that the old kind did not have.
    if table.get("cell").is_none() && news().any(|new| meant(new, "cell").is_some()) {
        table.entries.retain(|entry| entry.at.text != 0 || entry.key != "gap");
    }
}

/// Some keys stand instead of others: the file's ones go when the other is typed.
fn forget_displaced(table: &mut Table, key: &str, value: &Value) {
    let displaced: &[&str] = match (key, value) {
        ("dew_point", _) => &["relative_humidity"],
        ("relative_humidity", _) => &["dew_point"],
        ("coefficient", Value::Text(_)) => &["radius", "height"],
        ("cell", Value::Text(cell)) if cell == "open" => &["gap"],
        ("feed", Value::Text(feed)) if feed == "even" => &["feed_angle"],
        ("free_flow" | "max_pressure", _) => &["flow", "pressure"],
        ("flow" | "pressure", Value::List(_)) => &["free_flow", "max_pressure"],
        _ => &[],
    };
    table.entries.retain(|entry| entry.at.text != 0 || !displaced.contains(&entry.key.as_str()));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn change(key: &str, value: &str) -> Override {
        changed(key, value, "--set")
    }

    fn changed(key: &str, value: &str, option: &str) -> Override {
        Override { key: key.to_owned(), value: value.to_owned(), option: option.to_owned() }
    }

    #[test]
    fn a_change_is_a_dotted_key_and_a_value() {
        let read = parse_override(" mirror . diameter = 24 in ").unwrap();
        assert_eq!(read, change("mirror.diameter", "24 in"));
        for wrong in ["mirror.diameter", "=3", "mirror..diameter=3", "mirror.dia meter=3"] {
            let error = parse_override(wrong).unwrap_err();
            assert_eq!(error.faults[0].code, "scenario::override", "{wrong}");
        }
    }

    #[test]
    fn a_variant_has_a_label_and_several_changes() {
        let text = "bare rim: rim.film.coefficient=12 W/m2/K; mirror.glass=borosilicate";
        let variant = parse_variant(text).unwrap();
        assert_eq!(variant.label, "bare rim");
        let change = |key, value, label| changed(key, value, &format!("--variant '{label}'"));
        let wanted = [
            change("rim.film.coefficient", "12 W/m2/K", "bare rim"),
            change("mirror.glass", "borosilicate", "bare rim"),
        ];
        assert_eq!(variant.overrides, wanted);
        let clock = parse_variant("event.0.at=22:30").unwrap();
        assert_eq!(clock.label, "event.0.at=22:30");
        assert_eq!(clock.overrides, [change("event.0.at", "22:30", "event.0.at=22:30")]);
        let named = parse_variant("fan from 18:00: night.start=18:00; event.0.at=22:30").unwrap();
        assert_eq!(named.label, "fan from 18:00");
        assert_eq!(named.overrides[0].key, "night.start");
        assert!(parse_variant("nothing:").is_err());
        let bare = parse_variant("foo").unwrap_err();
        let help = bare.faults[0].help.as_deref().unwrap();
        assert!(help.contains("'name: key=value'"), "{help}");
        assert!(parse_variant("").is_err());
        let quoted =
            parse_variant("a: title=\"x; y\"; mirror.diameter=24\"; night.cover=on").unwrap();
        assert_eq!(quoted.overrides.len(), 3);
    }
}
