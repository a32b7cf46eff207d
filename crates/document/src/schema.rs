//! A shape as JSON Schema, draft 2020-12.
//!
//! It says as much as a schema can: keys, kinds, words, units by pattern. Bounds of quantities and
//! what belongs together stay with the reader.

use quantity::{Dimension, pattern};
use serde_json::{Map, Value, json};

use crate::shape::{Field, Kind, Need, Shape};

impl Shape {
    /// The JSON Schema of a file of this shape.
    #[must_use]
    pub fn json_schema(&self, title: &str) -> Value {
        let mut schema = table(self);
        schema.insert("$schema".into(), "https://json-schema.org/draft/2020-12/schema".into());
        schema.insert("title".into(), title.into());
        Value::Object(schema)
    }
}

/// A TOML text as JSON, days as text, for a validator; none when it is no TOML.
#[must_use]
pub fn as_json(text: &str) -> Option<Value> {
    let table: toml::Table = text.parse().ok()?;
    Some(json_of(&toml::Value::Table(table)))
}

fn json_of(value: &toml::Value) -> Value {
    match value {
        toml::Value::String(text) => json!(text),
        toml::Value::Integer(n) => json!(n),
        toml::Value::Float(x) => json!(x),
        toml::Value::Boolean(b) => json!(b),
        toml::Value::Datetime(date) => json!(date.to_string()),
        toml::Value::Array(items) => items.iter().map(json_of).collect(),
        toml::Value::Table(table) => {
            Value::Object(table.iter().map(|(key, v)| (key.clone(), json_of(v))).collect())
        }
    }
}

fn table(shape: &Shape) -> Map<String, Value> {
    let mut properties = Map::new();
    for field in shape.fields {
        properties.insert(field.key.to_owned(), described(field));
    }
    let required: Vec<_> =
        shape.fields.iter().filter(|f| f.need == Need::Required).map(|f| f.key).collect();
    let mut schema = Map::new();
    schema.insert("description".into(), shape.doc.into());
    schema.insert("type".into(), "object".into());
    schema.insert("properties".into(), Value::Object(properties));
    schema.insert("required".into(), json!(required));
    schema.insert("additionalProperties".into(), false.into());
    schema
}

fn described(field: &Field) -> Value {
    let mut schema = match kind(&field.kind) {
        Value::Object(map) => map,
        other => return other,
    };
    schema.insert("description".into(), field.doc.into());
    if let (Some((least, greatest)), Kind::Integer | Kind::Number) = (field.range, &field.kind) {
        schema.insert("minimum".into(), json!(least));
        schema.insert("maximum".into(), json!(greatest));
    }
    Value::Object(schema)
}

fn kind(of: &Kind) -> Value {
    match of {
        Kind::Text => json!({ "type": "string", "pattern": "\\S" }),
        Kind::Word(_) | Kind::WordFrom(_) => json!({ "type": "string", "enum": of.words() }),
        Kind::Integer => json!({ "type": "integer" }),
        Kind::Number => json!({ "type": "number" }),
        Kind::Bool => json!({ "type": "boolean" }),
        Kind::Date => json!({ "type": "string", "pattern": "^\\d{4}-\\d{2}-\\d{2}$" }),
        Kind::Quantity(kinds) => quantity(kinds, &[]),
        Kind::QuantityOrWord(kinds, words) => quantity(kinds, words),
        Kind::List(item) => json!({ "type": "array", "items": kind(item) }),
        Kind::Table(shape) => Value::Object(table(shape)),
        Kind::Tables(shape) => json!({ "type": "array", "items": table(shape) }),
        Kind::Named(shape) => json!({ "type": "object", "additionalProperties": table(shape) }),
        Kind::Either(a, b) => json!({ "anyOf": [kind(a), kind(b)] }),
    }
}

fn quantity(kinds: &[Dimension], words: &[&str]) -> Value {
    let examples: Vec<_> = kinds.iter().map(|kind| kind.example()).collect();
    let text = json!({ "type": "string", "pattern": pattern(kinds), "examples": examples });
    let mut any = vec![text];
    if kinds.contains(&Dimension::Extract) {
        any.push(json!({ "type": "number", "minimum": 0.97, "maximum": 1.2 }));
    }
    if !words.is_empty() {
        any.push(json!({ "type": "string", "enum": words }));
    }
    if any.len() == 1 { any.remove(0) } else { json!({ "anyOf": any }) }
}
