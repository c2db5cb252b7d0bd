//! The JSON Schema of scenario files, for completion and hints in editors.

use evenglass_materials::glass;
use serde_json::{Map, Value, json};

use crate::keys::{FANS, FILE, Group, Key, LAYER_KINDS, Need, PLATE, Range, SECONDS, Shape};

/// A number and something behind it; which units fit is for the program to say.
const QUANTITY_PATTERN: &str = r"^\s*[-+\u2212]?\s*\.?\d[^,]*[^\d\s.,][^,]*$";
const CLOCK_PATTERN: &str = r"^\d{1,2}:\d{2}(:\d{2})?$";

/// The JSON Schema (draft 2020-12) of scenario files, as text.
///
/// It comes from the same description of keys that the reader uses. A schema
/// cannot say everything: units and contradictions are found by reading.
#[must_use]
pub fn schema() -> String {
    let mut root = object(&FILE, None);
    root.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
    root.insert("title".to_owned(), json!("evenglass scenario"));
    let shared = SHARED.iter().map(|(name, shape)| ((*name).to_owned(), written_out(shape).into()));
    root.insert("$defs".to_owned(), Value::Object(shared.collect()));
    format!("{:#}\n", Value::Object(root))
}

fn object(group: &Group, kind: Option<&str>) -> Map<String, Value> {
    let mut properties: Map<String, Value> =
        group.keys.iter().map(|key| (key.name.to_owned(), property(key))).collect();
    let mut required: Vec<&str> = group
        .keys
        .iter()
        .filter(|key| matches!(key.need, Need::Required))
        .map(|key| key.name)
        .collect();
    if let Some(kind) = kind {
        properties.insert("kind".to_owned(), json!({ "const": kind }));
        required.insert(0, "kind");
    }
    let mut object = Map::new();
    object.insert("type".to_owned(), json!("object"));
    object.insert("description".to_owned(), json!(group.doc));
    object.insert("properties".to_owned(), Value::Object(properties));
    object.insert("additionalProperties".to_owned(), json!(false));
    if !required.is_empty() {
        object.insert("required".to_owned(), json!(required));
    }
    object
}

fn property(key: &Key) -> Value {
    let mut value = of(&key.shape);
    value.insert("description".to_owned(), json!(described(key)));
    if let Need::Default(written) = key.need {
        let number = written.parse::<f64>().ok().map(|number| json!(number));
        let default = number.unwrap_or_else(|| json!(written.trim_matches('"')));
        value.insert("default".to_owned(), default);
    }
    Value::Object(value)
}

fn described(key: &Key) -> String {
    match key.shape.quantity() {
        Some(quantity) => format!("{} From {}.", key.doc, quantity.range.words),
        None => key.doc.to_owned(),
    }
}

/// Tables that many keys hold; each is written once.
static SHARED: [(&str, Shape); 4] = [
    ("fans", Shape::Table(&FANS)),
    ("layer", Shape::Kinds(LAYER_KINDS)),
    ("plate", Shape::Table(&PLATE)),
    ("second", Shape::Kinds(SECONDS)),
];

fn of(shape: &Shape) -> Map<String, Value> {
    let same = |other: &Shape| match (shape, other) {
        (Shape::Table(one), Shape::Table(other)) => std::ptr::eq(*one, *other),
        (Shape::Kinds(one), Shape::Kinds(other)) => {
            one.iter().map(|kind| kind.name).eq(other.iter().map(|kind| kind.name))
        }
        _ => false,
    };
    match SHARED.iter().find(|(_, shared)| same(shared)) {
        Some((name, _)) => Map::from_iter([("$ref".to_owned(), json!(format!("#/$defs/{name}")))]),
        None => written_out(shape),
    }
}

fn written_out(shape: &Shape) -> Map<String, Value> {
    let value = match shape {
        Shape::Text(example) => json!({
            "type": "string", "minLength": 1, "maxLength": 200, "examples": [example],
        }),
        Shape::Number(range, _) => return number(range),
        Shape::Quantity(quantity) => json!({
            "type": "string", "pattern": QUANTITY_PATTERN, "examples": [quantity.example],
        }),
        Shape::Choice(words) => json!({ "enum": words }),
        Shape::GlassName => json!({ "enum": glass::names() }),
        Shape::Moment => json!({ "type": "string", "examples": ["2 h", "22:30"] }),
        Shape::Clock => json!({
            "type": "string", "pattern": CLOCK_PATTERN, "examples": ["20:00"],
        }),
        Shape::Date => json!({ "type": "string", "format": "date", "examples": ["2026-10-03"] }),
        Shape::List(inner) => json!({ "type": "array", "items": of(inner), "minItems": 1 }),
        Shape::Table(group) => return object(group, None),
        Shape::Kinds(kinds) => {
            let kinds: Vec<_> = kinds.iter().map(|kind| object(kind, Some(kind.name))).collect();
            json!({ "oneOf": kinds })
        }
        Shape::Tables(group) => json!({ "type": "array", "items": object(group, None) }),
        Shape::OneOf(shapes) => {
            let shapes: Vec<_> = shapes.iter().map(of).collect();
            json!({ "anyOf": shapes })
        }
    };
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

fn number(range: &Range) -> Map<String, Value> {
    let mut map = Map::new();
    map.insert("type".to_owned(), json!("number"));
    if range.excludes_zero() {
        map.insert("exclusiveMinimum".to_owned(), json!(0));
    } else {
        map.insert("minimum".to_owned(), json!(range.lowest));
    }
    map.insert("maximum".to_owned(), json!(range.highest));
    map
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::keys::ARRANGEMENTS;

    #[test]
    fn the_schema_on_disk_is_the_one_the_reader_follows() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../scenarios/scenario.schema.json");
        if std::env::var_os("EVENGLASS_UPDATE").is_some() {
            fs::write(path, schema()).unwrap();
        }
        let on_disk = fs::read_to_string(path).unwrap_or_default();
        assert!(
            on_disk == schema(),
            "scenarios/scenario.schema.json is stale: run the tests with EVENGLASS_UPDATE=1"
        );
    }

    #[test]
    fn every_section_is_an_object_that_takes_no_unknown_keys() {
        let schema: Value = serde_json::from_str(&schema()).unwrap();
        let sections = ["mirror", "night", "telescope", "good", "site", "output", "front", "hole"];
        for section in sections {
            let section = &schema["properties"][section];
            assert_eq!(section["additionalProperties"], json!(false));
            assert!(section["properties"].as_object().unwrap().len() > 1);
        }
        assert_eq!(schema["required"], json!(["mirror", "night"]));
    }

    #[test]
    fn every_arrangement_is_in_the_schema_and_what_it_refers_to_is_too() {
        let text = schema();
        let schema: Value = serde_json::from_str(&text).unwrap();
        let kinds = schema["properties"]["ventilation"]["oneOf"].as_array().unwrap();
        assert_eq!(kinds.len(), ARRANGEMENTS.len());
        assert_eq!(kinds[0]["properties"]["kind"]["const"], json!(ARRANGEMENTS[0].name));
        let references: Vec<&str> =
            text.split("\"#/$defs/").skip(1).map(|rest| rest.split('"').next().unwrap()).collect();
        assert!(references.len() > 8, "only {} references", references.len());
        for name in references {
            assert!(schema["$defs"][name].is_object(), "{name}");
        }
    }
}
