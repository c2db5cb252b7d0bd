//! Reads one table by the description of its keys, and notes everything that is wrong with it.

mod typed;

use std::fmt::Write as _;

use evenglass_units::parse;

use crate::keys::{FILE, Group, Key, LATER, MISNAMED, Need, Quantity, Range, Shape};
use crate::ledger::{At, Ledger};
use crate::moment::{Moment, Times, from_toml, read_moment};
use crate::remedy::{did_you_mean, number_help, outside, range_help, too_far, unit_help};
use crate::suggest::{choices, listed, nearest, shown};
use crate::tree::{Node, Table, Value};

pub(crate) use typed::mm;

/// A table under reading.
///
/// Getting a key that is absent or wrong gives `None`; what is wrong has then
/// been noted, once.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Reader<'a> {
    pub(crate) ledger: &'a Ledger,
    pub(crate) table: &'a Table,
    /// The table's head.
    pub(crate) at: &'a At,
    group: &'static Group,
    /// Set where the table has a `kind` besides the keys of its group.
    kinds: Option<&'static [Group]>,
    /// How messages call the table: "[mirror]", "`film` in [back]".
    label: &'a str,
}

impl<'a> Reader<'a> {
    /// Begins with a table, noting unknown and missing keys.
    pub(crate) fn new(
        ledger: &'a Ledger,
        (table, at): (&'a Table, &'a At),
        group: &'static Group,
        label: &'a str,
    ) -> Self {
        Self { ledger, table, at, group, kinds: None, label }.checked()
    }

    fn checked(self) -> Self {
        self.note_unknown();
        self.note_missing();
        self
    }

    /// The table of a key.
    pub(crate) fn inner<'b>(&self, key: &str, label: &'b str) -> Option<Reader<'b>>
    where
        'a: 'b,
    {
        let group = self.key(key).shape.group()?;
        let node = self.table.get(key)?;
        let table = self.table_of(key, node)?;
        Some(Reader::new(self.ledger, (table, &node.at), group, label))
    }

    /// The table of a key whose `kind` decides its other keys.
    pub(crate) fn kind<'b>(&self, key: &str, label: &'b str) -> Option<(&'static str, Reader<'b>)>
    where
        'a: 'b,
    {
        self.kind_at(key, self.table.get(key)?, label)
    }

    /// The same of one node, such as an entry of the key's list.
    pub(crate) fn kind_at<'b>(
        &self,
        key: &str,
        node: &'a Node,
        label: &'b str,
    ) -> Option<(&'static str, Reader<'b>)>
    where
        'a: 'b,
    {
        let kinds = self.key(key).shape.kinds()?;
        let table = self.table_of(key, node)?;
        let names: Vec<&str> = kinds.iter().map(|group| group.name).collect();
        let Some(kind) = table.get("kind") else {
            let help = format!("add kind = {}", choices(names));
            self.ledger.note(
                "scenario::missing-key",
                &node.at,
                format!("{label} has no `kind`"),
                help,
            );
            return None;
        };
        let Value::Text(name) = &kind.value else {
            self.wrong_sort("kind", kind, &choices(names));
            return None;
        };
        let Some(group) = kinds.iter().find(|group| group.name == name.as_str()) else {
            let fact = format!("`{}` is not a kind of {label}", shown(name));
            self.ledger.note("scenario::choice", &kind.at, fact, did_you_mean(name, &names));
            return None;
        };
        let at = &node.at;
        let reader =
            Reader { ledger: self.ledger, table, at, group, kinds: Some(kinds), label }.checked();
        Some((group.name, reader))
    }

    /// Whether the key stands there, right or wrong.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.get(key).is_some()
    }

    /// Where the key's value stands, or else the table.
    pub(crate) fn place(&self, key: &str) -> &'a At {
        self.table.get(key).map_or(self.at, |node| &node.at)
    }

    /// The key's value as written, for messages; its default where it is left out.
    pub(crate) fn written(&self, key: &str) -> String {
        match (self.table.get(key), self.key(key).need) {
            (Some(node), _) => shown(self.ledger.text_at(&node.at).trim_matches('"')),
            (None, Need::Default(value)) => value.trim_matches('"').to_owned(),
            (None, _) => String::new(),
        }
    }

    /// Notes a contradiction at a key.
    pub(crate) fn conflict(&self, key: &str, fact: String, help: String) {
        self.ledger.note("scenario::conflict", self.place(key), fact, help);
    }

    /// A free text.
    pub(crate) fn text(&self, key: &str) -> Option<&'a str> {
        let node = self.table.get(key)?;
        let Value::Text(text) = &node.value else {
            self.wrong_sort(key, node, "a text in quotes");
            return None;
        };
        let fact = if text.trim().is_empty() {
            format!("`{key}` is empty")
        } else if text.chars().count() > 200 {
            format!("`{key}` is longer than 200 characters")
        } else if text.chars().any(char::is_control) {
            format!("`{key}` holds a control character")
        } else {
            return Some(text);
        };
        let help =
            format!("write a short text on one line: {key} = {}", self.key(key).shape.example());
        self.ledger.note("scenario::range", &node.at, fact, help);
        None
    }

    /// A number with its unit, in SI.
    pub(crate) fn si(&self, key: &str) -> Option<f64> {
        let spec = self.key(key);
        let quantity = spec.shape.quantity()?;
        match (self.table.get(key), spec.need) {
            (Some(node), _) => self.quantity_at(key, node, quantity),
            (None, Need::Default(text)) => parse(text.trim_matches('"'), quantity.kind).ok(),
            (None, _) => None,
        }
    }

    /// A bare number.
    pub(crate) fn number(&self, key: &str) -> Option<f64> {
        let spec = self.key(key);
        let range = spec.shape.number()?;
        match (self.table.get(key), spec.need) {
            (Some(node), _) => self.number_at(key, node, range),
            (None, Need::Default(text)) => text.parse().ok(),
            (None, _) => None,
        }
    }

    /// One of the words of a choice.
    pub(crate) fn choice(&self, key: &str) -> Option<&'static str> {
        let spec = self.key(key);
        let words = spec.shape.choice()?;
        let (node, text) = match (self.table.get(key), spec.need) {
            (None, Need::Default(text)) => {
                return words.iter().find(|word| **word == text.trim_matches('"')).copied();
            }
            (None, _) => return None,
            (Some(node), _) => {
                let Value::Text(text) = &node.value else {
                    self.wrong_sort(key, node, &choices(words.iter().copied()));
                    return None;
                };
                (node, text.as_str())
            }
        };
        let found = words.iter().find(|word| **word == text).copied();
        if found.is_none() {
            let fact = format!("`{}` is not a value of `{key}`", shown(text));
            let mut help = did_you_mean(text, words);
            if let Some(quantity) = spec.shape.quantity() {
                let _ =
                    write!(help, ", or {} such as \"{}\"", quantity.kind.noun(), quantity.example);
            }
            self.ledger.note("scenario::choice", &node.at, fact, help);
        }
        found
    }

    /// A time, in seconds from the start.
    pub(crate) fn moment(&self, key: &str, times: &Times) -> Option<f64> {
        self.table.get(key).and_then(|node| self.moment_at(key, node, times))
    }

    /// The entries of a list that must not be empty.
    pub(crate) fn list(&self, key: &str) -> Option<&'a [Node]> {
        let node = self.table.get(key)?;
        match &node.value {
            Value::List(items) if items.is_empty() => {
                let help =
                    format!("write at least one entry: {key} = {}", self.key(key).shape.example());
                self.ledger.note("scenario::table", &node.at, format!("`{key}` is empty"), help);
                None
            }
            Value::List(items) => Some(items),
            _ => {
                self.wrong_sort(
                    key,
                    node,
                    &format!("a list such as {}", self.key(key).shape.example()),
                );
                None
            }
        }
    }

    /// A list of quantities in SI.
    pub(crate) fn si_list(&self, key: &str) -> Option<Vec<f64>> {
        let quantity = self.key(key).shape.quantity()?;
        let items = self.list(key)?;
        all(items.iter().map(|item| self.quantity_at(key, item, quantity)))
    }

    /// A list of bare numbers.
    pub(crate) fn number_list(&self, key: &str) -> Option<Vec<f64>> {
        let range = self.key(key).shape.number()?;
        let items = self.list(key)?;
        all(items.iter().map(|item| self.number_at(key, item, range)))
    }

    /// A list of times in seconds from the start.
    pub(crate) fn moment_list(&self, key: &str, times: &Times) -> Option<Vec<f64>> {
        let items = self.list(key)?;
        all(items.iter().map(|item| self.moment_at(key, item, times)))
    }

    /// A time in seconds from the start, at a node.
    pub(crate) fn moment_at(&self, key: &str, node: &Node, times: &Times) -> Option<f64> {
        let moment = match &node.value {
            Value::Text(text) => read_moment(text),
            Value::Moment(moment) => from_toml(moment),
            _ => {
                self.wrong_sort(key, node, "a time such as \"2 h\" or \"22:30\"");
                return None;
            }
        };
        if let Ok(Moment::After(seconds)) = moment
            && seconds < 0.0
        {
            let fact = format!("`{}` is before the start of the run", self.shown_at(node));
            let help = "times count from the start: write \"0 h\" or later".to_owned();
            self.ledger.note("scenario::time", &node.at, fact, help);
            return None;
        }
        match moment.and_then(|moment| times.seconds(moment)) {
            Ok(seconds) => seconds,
            Err((code, fact, help)) => {
                self.ledger.note(code, &node.at, fact, help);
                None
            }
        }
    }

    /// Notes that a value is of the wrong sort.
    pub(crate) fn wrong_sort(&self, key: &str, node: &Node, wanted: &str) {
        let fact = format!("`{key}` is {}, {wanted} is wanted", node.value.noun());
        let spec = self.group.keys.iter().find(|spec| spec.name == key);
        let help = match spec.map(|spec| &spec.shape) {
            Some(Shape::Table(_) | Shape::Kinds(_)) if self.group.name.is_empty() => {
                format!("write a section: a line [{key}] and its keys below it")
            }
            Some(shape) => format!("write it as {key} = {}", shape.example()),
            None => format!("write {wanted}"),
        };
        self.ledger.note("scenario::type", &node.at, fact, help);
    }

    fn key(&self, name: &str) -> &'static Key {
        let found = self.group.keys.iter().find(|key| key.name == name);
        found.expect("the reader asks only for keys that are described")
    }

    fn shown_at(&self, node: &Node) -> String {
        shown(self.ledger.text_at(&node.at).trim_matches('"'))
    }

    fn table_of(&self, key: &str, node: &'a Node) -> Option<&'a Table> {
        if let Value::Table(table) = &node.value {
            return Some(table);
        }
        self.wrong_sort(key, node, "a table");
        None
    }

    fn quantity_at(&self, key: &str, node: &Node, quantity: &Quantity) -> Option<f64> {
        let Value::Text(text) = &node.value else {
            self.note_unquoted(key, node, quantity);
            return None;
        };
        match parse(text, quantity.kind) {
            Ok(value) if quantity.range.contains(value) => Some(value),
            Ok(value) => {
                let fact = outside(key, text, too_far(quantity, value));
                let help = range_help(text, quantity);
                self.ledger.note("scenario::range", &node.at, fact, help);
                None
            }
            Err(error) => {
                let help = unit_help(&error, text, quantity);
                self.ledger.note("scenario::unit", &node.at, error.to_string(), help);
                None
            }
        }
    }

    fn note_unquoted(&self, key: &str, node: &Node, quantity: &Quantity) {
        if let Value::Number(_) = node.value {
            let number = self.shown_at(node);
            let fact = format!("`{number}` has no unit, {} is wanted", quantity.kind.noun());
            let help =
                format!("write it in quotes with its unit, such as \"{}\"", quantity.example);
            self.ledger.note("scenario::unit", &node.at, fact, help);
        } else {
            self.wrong_sort(
                key,
                node,
                &format!("{} such as \"{}\"", quantity.kind.noun(), quantity.example),
            );
        }
    }

    fn number_at(&self, key: &str, node: &Node, range: &Range) -> Option<f64> {
        match &node.value {
            Value::Number(value) if value.is_finite() && range.contains(*value) => Some(*value),
            Value::Number(value) if value.is_nan() => {
                let fact = format!("`{key}` is not a number");
                self.ledger.note(
                    "scenario::range",
                    &node.at,
                    fact,
                    format!("choose {}", range.words),
                );
                None
            }
            Value::Number(value) => {
                let far = if *value > range.highest { "too large" } else { "too small" };
                let fact = outside(key, &self.shown_at(node), far);
                let percent = range.highest <= 1.0 && *value >= 2.0 && *value <= 100.0;
                let help = if percent {
                    format!("write a fraction: {} for {value} %", value / 100.0)
                } else {
                    format!("choose {}", range.words)
                };
                self.ledger.note("scenario::range", &node.at, fact, help);
                None
            }
            Value::Text(text) => {
                let fact =
                    format!("`{key}` is the text `{}`, a bare number is wanted", shown(text));
                self.ledger.note("scenario::type", &node.at, fact, number_help(key, text, range));
                None
            }
            _ => {
                self.wrong_sort(key, node, "a bare number");
                None
            }
        }
    }

    fn note_unknown(&self) {
        let names: Vec<&str> = self.group.keys.iter().map(|key| key.name).collect();
        for entry in &self.table.entries {
            let known = names.contains(&entry.key.as_str())
                || (self.kinds.is_some() && entry.key == "kind");
            if known {
                continue;
            }
            if self.ledger.is_full() {
                return;
            }
            let later =
                LATER.iter().find(|(name, _)| self.group.name.is_empty() && *name == entry.key);
            if let Some((name, help)) = later {
                let fact = format!("this version cannot compute [{name}] yet");
                self.ledger.note("scenario::later", &entry.at, fact, (*help).to_owned());
                continue;
            }
            let what = if self.group.name.is_empty() { "section or key" } else { "key" };
            let fact = format!("unknown {what} `{}` in {}", shown(&entry.key), self.label);
            let help = self.unknown_help(&entry.key, &names);
            self.ledger.note("scenario::unknown-key", &entry.at, fact, help);
        }
    }

    fn unknown_help(&self, key: &str, names: &[&str]) -> String {
        if self.group.name == "event" && has_key(&crate::keys::NIGHT, key) {
            return "an event can change `fan_speed`, `cover`, `altitude` and `secondary_heater`; what the air does is a table in [night]".to_owned();
        }
        let other = self.kinds.into_iter().flatten();
        let homes: Vec<&str> =
            other.filter(|kind| has_key(kind, key)).map(|kind| kind.name).collect();
        if !homes.is_empty() {
            let here = self.group.name;
            return format!(
                "`{key}` goes with kind = {}; here the kind is \"{here}\"",
                choices(homes)
            );
        }
        if let Some(meant) = self.meant(key) {
            let slip = nearest(key, [meant]).is_some();
            return if slip {
                format!("did you mean `{meant}`?")
            } else {
                format!("it is called `{meant}` here")
            };
        }
        let sections = FILE.keys.iter().filter(|section| {
            let kinds = section.shape.kinds().unwrap_or_default().iter();
            kinds.chain(section.shape.group()).any(|group| has_key(group, key))
        });
        let homes: Vec<String> = sections
            .map(|section| match section.shape {
                Shape::Tables(_) => format!("[[{}]]", section.name),
                _ => format!("[{}]", section.name),
            })
            .collect();
        match homes.as_slice() {
            [] if names.is_empty() => "it has no further keys: leave this out".to_owned(),
            [] => format!("the keys here are {}", listed(names.iter().copied())),
            homes => format!("it is a key of {}", homes.join(" and ")),
        }
    }

    /// What an unknown key of this table was meant to be, if that can be told.
    fn meant(&self, key: &str) -> Option<&'static str> {
        let names = || self.group.keys.iter().map(|spec| spec.name);
        nearest(key, names()).or_else(|| {
            let renamed = MISNAMED.iter().filter(|(wrong, _)| *wrong == key.to_lowercase());
            renamed.map(|(_, right)| *right).find(|right| names().any(|name| name == *right))
        })
    }

    fn is_misspelt(&self, name: &str) -> bool {
        let known = |key: &str| self.group.keys.iter().any(|spec| spec.name == key);
        let unknown = self.table.entries.iter().filter(|entry| !known(&entry.key));
        unknown.take(100).any(|entry| self.meant(&entry.key) == Some(name))
    }

    fn note_missing(&self) {
        for key in self.group.keys {
            let required = matches!(key.need, Need::Required) && !self.has(key.name);
            // A misspelt key has been noted with its right name; it is not missing as well.
            if required && !self.is_misspelt(key.name) {
                let section = self.group.name.is_empty();
                let (fact, help) = if section {
                    (
                        format!("there is no [{}] section", key.name),
                        format!("add a line [{}] and its keys below it", key.name),
                    )
                } else {
                    (
                        format!("{} has no `{}`", self.label, key.name),
                        format!("add {} = {}", key.name, key.shape.example()),
                    )
                };
                self.ledger.note("scenario::missing-key", self.at, fact, help);
            }
        }
    }
}

fn has_key(group: &Group, key: &str) -> bool {
    group.keys.iter().any(|known| known.name == key)
}

/// All values, or `None` if one is missing; every one is read, so that every fault is noted.
fn all(values: impl Iterator<Item = Option<f64>>) -> Option<Vec<f64>> {
    let read: Vec<Option<f64>> = values.collect();
    read.into_iter().collect()
}
