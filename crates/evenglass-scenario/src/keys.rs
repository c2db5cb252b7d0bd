//! Every key of a scenario file: what it holds, within which limits, and what it means.
//!
//! One description serves the reader, the JSON Schema and the guide, so that the
//! three cannot disagree.

mod arrangements;
mod faces;
mod fans;
mod layers;
mod mirror;
mod night;
mod results;
mod telescope;

use evenglass_units::Kind;

pub(crate) use arrangements::{ARRANGEMENTS, PATHS, PLATE, SECONDS};
pub(crate) use faces::{BACK, BACK_FILMS, FRONT, FRONT_FILMS, HARMONIC, HOLE, RIM};
pub(crate) use fans::FANS;
pub(crate) use layers::LAYER_KINDS;
pub(crate) use mirror::MIRROR;
pub(crate) use night::{AIR_KINDS, EVENT, NIGHT};
pub(crate) use results::{GOOD, OUTPUT, SITE};
pub(crate) use telescope::TELESCOPE;

/// A table of keys.
#[derive(Debug)]
pub(crate) struct Group {
    /// Name of the section, or of the kind in a table with kinds.
    pub(crate) name: &'static str,
    pub(crate) doc: &'static str,
    pub(crate) keys: &'static [Key],
}

/// One key of a table.
#[derive(Debug)]
pub(crate) struct Key {
    pub(crate) name: &'static str,
    pub(crate) shape: Shape,
    pub(crate) need: Need,
    pub(crate) doc: &'static str,
}

/// Whether a key may be left out.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Need {
    Required,
    Optional,
    /// Left out it means this value, as one would write it.
    Default(&'static str),
}

/// What a key holds.
#[derive(Debug)]
pub(crate) enum Shape {
    /// Free text, with an example.
    Text(&'static str),
    /// A bare number, with an example.
    Number(Range, &'static str),
    /// A number with its unit.
    Quantity(Quantity),
    /// One of these words.
    Choice(&'static [&'static str]),
    /// The name of a glass in the table of glasses.
    GlassName,
    /// A duration from the start, or a clock time.
    Moment,
    /// A clock time.
    Clock,
    /// A calendar date.
    Date,
    List(&'static Shape),
    Table(&'static Group),
    /// A table whose `kind` decides its other keys.
    Kinds(&'static [Group]),
    /// `[[name]]`, as often as wanted.
    Tables(&'static Group),
    OneOf(&'static [Shape]),
}

/// A number with its unit, and its limits.
#[derive(Debug)]
pub(crate) struct Quantity {
    pub(crate) kind: Kind,
    pub(crate) range: Range,
    pub(crate) example: &'static str,
}

/// Limits, in SI.
#[derive(Debug)]
pub(crate) struct Range {
    pub(crate) lowest: f64,
    pub(crate) highest: f64,
    /// The same in words: "20 mm to 2 m".
    pub(crate) words: &'static str,
}

impl Range {
    /// Whether any positive value is allowed, and zero is not.
    pub(crate) fn excludes_zero(&self) -> bool {
        self.lowest > 0.0 && self.lowest <= f64::MIN_POSITIVE
    }

    /// Whether a value lies inside, a hair of rounding forgiven.
    pub(crate) fn contains(&self, value: f64) -> bool {
        let slack = 1e-9 * self.lowest.abs().max(self.highest.abs());
        (!self.excludes_zero() || value > 0.0)
            && value >= self.lowest - slack
            && value <= self.highest + slack
    }
}

const fn range(lowest: f64, highest: f64, words: &'static str) -> Range {
    Range { lowest, highest, words }
}

const fn required(name: &'static str, shape: Shape, doc: &'static str) -> Key {
    Key { name, shape, need: Need::Required, doc }
}

const fn optional(name: &'static str, shape: Shape, doc: &'static str) -> Key {
    Key { name, shape, need: Need::Optional, doc }
}

const fn default(name: &'static str, shape: Shape, value: &'static str, doc: &'static str) -> Key {
    Key { name, shape, need: Need::Default(value), doc }
}

const fn quantity(kind: Kind, range: Range, example: &'static str) -> Shape {
    Shape::Quantity(Quantity { kind, range, example })
}

/// Kelvin of −60 °C and 60 °C.
const COLDEST: f64 = 213.15;
const HOTTEST: f64 = 333.15;

const fn temperature(example: &'static str) -> Shape {
    quantity(Kind::TEMPERATURE, range(COLDEST, HOTTEST, "-60 degC to 60 degC"), example)
}

const TIMES: Key = required(
    "time",
    Shape::List(&Shape::Moment),
    "Times, not going back; a repeated time is a jump.",
);

/// The whole file.
pub(crate) static FILE: Group = Group {
    name: "",
    doc: "One mirror, one night, and the air on every face of the glass.",
    keys: &[
        optional(
            "title",
            Shape::Text("16 inch, one fan behind"),
            "What you call it; left out, the name of the file.",
        ),
        required("mirror", Shape::Table(&MIRROR), MIRROR.doc),
        required("night", Shape::Table(&NIGHT), NIGHT.doc),
        optional("event", Shape::Tables(&EVENT), EVENT.doc),
        optional("front", Shape::Table(&FRONT), FRONT.doc),
        optional("back", Shape::Table(&BACK), BACK.doc),
        optional("rim", Shape::Table(&RIM), RIM.doc),
        optional("hole", Shape::Table(&HOLE), HOLE.doc),
        optional("telescope", Shape::Table(&TELESCOPE), TELESCOPE.doc),
        optional("ventilation", Shape::Kinds(ARRANGEMENTS), arrangements::DOC),
        optional("good", Shape::Table(&GOOD), GOOD.doc),
        optional("site", Shape::Table(&SITE), SITE.doc),
        optional("output", Shape::Table(&OUTPUT), OUTPUT.doc),
    ],
};

/// Sections that scenario files will have and this version cannot compute, with what to do instead.
pub(crate) const LATER: &[(&str, &str)] =
    &[("limits", "leave the section out; noise and cost are not computed yet")];

/// Words people write, and the key they mean where it exists.
pub(crate) const MISNAMED: &[(&str, &str)] = &[
    ("thickness", "edge_thickness"),
    ("focal_length", "focal_ratio"),
    ("f_ratio", "focal_ratio"),
    ("f", "focal_ratio"),
    ("material", "glass"),
    ("hole", "hole_diameter"),
    ("radius", "height"),
    ("height", "radius"),
    ("humidity", "relative_humidity"),
    ("rh", "relative_humidity"),
    ("dewpoint", "dew_point"),
    ("air_temperature", "air"),
    ("initial_temperature", "glass_temperature"),
    ("time", "at"),
    ("at", "time"),
    ("events", "event"),
    ("length", "duration"),
    ("end", "duration"),
    ("side", "rim"),
    ("edge", "rim"),
    ("temperature", "value"),
    ("value", "temperature"),
    ("h", "coefficient"),
    ("step", "interval"),
    ("kind", "form"),
    ("fan", "fans"),
    ("filter", "layers"),
    ("ventilator", "ventilation"),
    ("fans", "ventilation"),
    ("tube", "telescope"),
    ("ring", "slot"),
];

impl Shape {
    /// The quantity among what the key may hold.
    pub(crate) fn quantity(&self) -> Option<&Quantity> {
        match self {
            Self::Quantity(quantity) => Some(quantity),
            Self::List(inner) => inner.quantity(),
            Self::OneOf(shapes) => shapes.iter().find_map(Self::quantity),
            _ => None,
        }
    }

    /// The limits of the bare number among what the key may hold.
    pub(crate) fn number(&self) -> Option<&Range> {
        match self {
            Self::Number(range, _) => Some(range),
            Self::List(inner) => inner.number(),
            Self::OneOf(shapes) => shapes.iter().find_map(Self::number),
            _ => None,
        }
    }

    /// The words among what the key may hold.
    pub(crate) fn choice(&self) -> Option<&'static [&'static str]> {
        match self {
            Self::Choice(words) => Some(words),
            Self::OneOf(shapes) => shapes.iter().find_map(Self::choice),
            _ => None,
        }
    }

    /// The table among what the key may hold.
    pub(crate) fn group(&self) -> Option<&'static Group> {
        match self {
            Self::Table(group) | Self::Tables(group) => Some(group),
            Self::List(inner) => inner.group(),
            Self::OneOf(shapes) => shapes.iter().find_map(Self::group),
            _ => None,
        }
    }

    /// The kinds of table among what the key may hold.
    pub(crate) fn kinds(&self) -> Option<&'static [Group]> {
        match self {
            Self::Kinds(kinds) => Some(kinds),
            Self::List(inner) => inner.kinds(),
            _ => None,
        }
    }

    /// A value one could write, as TOML.
    pub(crate) fn example(&self) -> String {
        match self {
            Self::Text(example) => format!("\"{example}\""),
            Self::Number(_, example) => (*example).to_owned(),
            Self::Quantity(quantity) => format!("\"{}\"", quantity.example),
            Self::Choice(words) => format!("\"{}\"", words[0]),
            Self::GlassName => "\"soda-lime\"".to_owned(),
            Self::Moment => "\"2 h\"".to_owned(),
            Self::Clock => "\"20:00\"".to_owned(),
            Self::Date => "\"2026-10-03\"".to_owned(),
            Self::List(inner) => format!("[{}]", inner.example()),
            Self::Table(group) | Self::Tables(group) => inline(group, ""),
            Self::Kinds(kinds) => inline(&kinds[0], &format!("kind = \"{}\"", kinds[0].name)),
            Self::OneOf(shapes) => shapes[0].example(),
        }
    }
}

/// Keys that stand in examples although others may stand instead of them.
const SHOWN: &[(&str, &str)] =
    &[("fans", "free_flow"), ("fans", "max_pressure"), ("wall", "material")];

fn inline(group: &Group, first: &str) -> String {
    let shown =
        |key: &Key| matches!(key.need, Need::Required) || SHOWN.contains(&(group.name, key.name));
    let keys = group
        .keys
        .iter()
        .filter(|key| shown(key))
        .map(|key| format!("{} = {}", key.name, key.shape.example()));
    let all: Vec<String> =
        Some(first.to_owned()).into_iter().filter(|f| !f.is_empty()).chain(keys).collect();
    format!("{{ {} }}", all.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Calls `check` with every key of the file, at every depth.
    fn every_key(group: &'static Group, check: &mut impl FnMut(&'static Key)) {
        for key in group.keys {
            check(key);
            let kinds = key.shape.kinds().unwrap_or_default();
            for inner in kinds.iter().chain(key.shape.group()) {
                every_key(inner, check);
            }
        }
    }

    #[test]
    fn every_example_and_every_default_is_within_its_own_limits() {
        let mut count = 0;
        every_key(&FILE, &mut |key| {
            let default = match key.need {
                Need::Default(value) => Some(value.trim_matches('"')),
                _ => None,
            };
            if let Some(quantity) = key.shape.quantity() {
                let default = default.filter(|value| *value != "air");
                for text in [Some(quantity.example), default].into_iter().flatten() {
                    let value = evenglass_units::parse(text, quantity.kind).unwrap();
                    assert!(quantity.range.contains(value), "{}: {text}", key.name);
                    count += 1;
                }
            } else if let Some(range) = key.shape.number() {
                let example = key.shape.example();
                for text in [Some(example.trim_matches(['[', ']'])), default].into_iter().flatten()
                {
                    assert!(range.contains(text.parse().unwrap()), "{}: {text}", key.name);
                    count += 1;
                }
            } else if let (Some(words), Some(default)) = (key.shape.choice(), default) {
                assert!(words.contains(&default), "{}: {default}", key.name);
            }
        });
        assert!(count > 80, "only {count} examples and defaults");
    }

    #[test]
    fn every_limit_in_words_is_the_limit_in_si() {
        let mut count = 0;
        every_key(&FILE, &mut |key| {
            let Some(quantity) = key.shape.quantity() else { return };
            let Some((low, high)) = quantity.range.words.split_once(" to ") else { return };
            let si = |text| evenglass_units::parse(text, quantity.kind);
            let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
            assert!(near(si(low).unwrap(), quantity.range.lowest), "{}: {low}", key.name);
            // "the duration of the run" is checked against the run.
            if let Ok(high) = si(high) {
                assert!(near(high, quantity.range.highest), "{}: {high}", key.name);
            }
            count += 1;
        });
        assert!(count > 60, "only {count} limits");
    }

    #[test]
    fn a_range_forgives_rounding_but_not_a_zero_that_must_be_positive() {
        let positive = range(f64::MIN_POSITIVE, 2.0, "more than 0 to 2");
        assert!(positive.contains(2.0 + 1e-12));
        assert!(!positive.contains(0.0));
        assert!(!positive.contains(2.1));
        assert!(range(0.0, 1.0, "0 to 1").contains(0.0));
    }
}
