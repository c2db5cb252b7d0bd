//! A scenario as written: tables, lists and values, each with its place.

use toml::Spanned;
use toml::de::{DeTable, DeValue};
use toml::value::Datetime;

use crate::ledger::{At, Ledger};

/// A value and where it stands.
#[derive(Debug, Clone)]
pub(crate) struct Node {
    pub(crate) value: Value,
    pub(crate) at: At,
}

/// What a TOML value can be.
#[derive(Debug, Clone)]
pub(crate) enum Value {
    Text(String),
    Number(f64),
    Flag,
    Moment(Datetime),
    List(Vec<Node>),
    Table(Table),
}

/// Keys and their values, in no particular order.
#[derive(Debug, Clone, Default)]
pub(crate) struct Table {
    pub(crate) entries: Vec<Entry>,
}

/// A key, where it stands, and its value.
#[derive(Debug, Clone)]
pub(crate) struct Entry {
    pub(crate) key: String,
    pub(crate) at: At,
    pub(crate) node: Node,
}

impl Table {
    /// The value of a key.
    pub(crate) fn get(&self, key: &str) -> Option<&Node> {
        self.entry(key).map(|entry| &entry.node)
    }

    /// A key with its place and value.
    pub(crate) fn entry(&self, key: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.key == key)
    }

    /// Puts a value in place of whatever the key had.
    pub(crate) fn set(&mut self, entry: Entry) {
        match self.entries.iter_mut().find(|old| old.key == entry.key) {
            Some(old) => *old = entry,
            None => self.entries.push(entry),
        }
    }
}

impl Value {
    /// In words, for messages: "a text", "a list".
    pub(crate) fn noun(&self) -> &'static str {
        match self {
            Self::Text(_) => "a text",
            Self::Number(_) => "a bare number",
            Self::Flag => "a bare true or false",
            Self::Moment(_) => "a date or time",
            Self::List(_) => "a list",
            Self::Table(_) => "a table",
        }
    }
}

/// The tables of a file; syntax faults go to the ledger and give `None`.
pub(crate) fn file(text: &str, ledger: &Ledger) -> Option<Table> {
    let (table, errors) = DeTable::parse_recoverable(text);
    for error in &errors {
        note_syntax(text, error, ledger);
    }
    errors.is_empty().then(|| from_table(table.into_inner(), Origin { text: 0, shift: 0 }))
}

/// Where a parsed text stands: spans move by `shift` bytes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Origin {
    pub(crate) text: usize,
    pub(crate) shift: usize,
}

impl Origin {
    fn at(self, span: std::ops::Range<usize>) -> At {
        At { text: self.text, span: span.start + self.shift..span.end + self.shift }
    }
}

fn from_table(table: DeTable<'_>, origin: Origin) -> Table {
    let entries = table
        .into_iter()
        .map(|(key, value)| Entry {
            at: origin.at(key.span()),
            key: key.into_inner().into_owned(),
            node: from_value(value, origin),
        })
        .collect();
    Table { entries }
}

/// A node from TOML's own value.
pub(crate) fn from_value(value: Spanned<DeValue<'_>>, origin: Origin) -> Node {
    let at = origin.at(value.span());
    let value = match value.into_inner() {
        DeValue::String(text) => Value::Text(text.into_owned()),
        DeValue::Integer(number) => {
            #[allow(clippy::cast_precision_loss, reason = "a number of 2^53 is out of every range")]
            let exact = i64::from_str_radix(number.as_str(), number.radix()).map(|i| i as f64);
            Value::Number(exact.unwrap_or(f64::INFINITY))
        }
        DeValue::Float(number) => Value::Number(number.as_str().parse().unwrap_or(f64::INFINITY)),
        DeValue::Boolean(_) => Value::Flag,
        DeValue::Datetime(moment) => Value::Moment(moment),
        DeValue::Array(items) => {
            Value::List(items.into_iter().map(|item| from_value(item, origin)).collect())
        }
        DeValue::Table(table) => Value::Table(from_table(table, origin)),
    };
    Node { value, at }
}

fn note_syntax(text: &str, error: &toml::de::Error, ledger: &Ledger) {
    let span = error.span().unwrap_or(0..0);
    let said = error.message().lines().next().unwrap_or("this cannot be read").to_lowercase();
    let help = if said.contains("duplicate") {
        "keep one of the two".to_owned()
    } else if said.contains("invalid basic string") || said.contains("invalid literal string") {
        "close the quotes on the same line".to_owned()
    } else if said.contains("unclosed") {
        "close the bracket".to_owned()
    } else {
        let start = text[..floor(text, span.start)].rfind('\n').map_or(0, |newline| newline + 1);
        let line = text[start..].lines().next().unwrap_or("");
        syntax_help(line)
    };
    let at = At { text: 0, span };
    ledger.note("scenario::syntax", &at, format!("not valid TOML: {said}"), help);
}

fn floor(text: &str, mut index: usize) -> usize {
    index = index.min(text.len());
    while !text.is_char_boundary(index) {
        index -= 1;
    }
    index
}

/// The commonest slip is a quantity without its quotes.
fn syntax_help(line: &str) -> String {
    let line = line.split(" #").next().unwrap_or(line);
    if let Some((key, value)) = line.split_once('=') {
        let (key, value) = (key.trim(), value.trim());
        let plain = !value.is_empty() && !value.contains(['"', '[', '{', '\'', '=']);
        if plain && value.chars().count() <= 40 && key.chars().count() <= 40 {
            return format!("put the value in quotes: {key} = \"{value}\"");
        }
    }
    "a line is `key = value`, `[section]` or a `# comment`; texts and quantities stand in quotes"
        .to_owned()
}
