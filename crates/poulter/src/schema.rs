//! What the JSON Schema of the door says beyond its own types: house rules, and what each question asks.

use schemars::{JsonSchema, Schema};
use serde_json::Value;

/// The door takes house rules out of every kind before the question is read, so the schema names them here.
pub(crate) fn with_house_rules(schema: &mut Schema) {
    let Some(Value::Array(kinds)) = schema.get_mut("oneOf") else {
        return;
    };
    let house_rules = serde_json::json!({
        "description": "Rules of the caller's own as TOML text; a looser one than the standard's never decides.",
        "type": ["string", "null"],
        "default": null,
    });
    for kind in kinds {
        if let Some(properties) = kind.get_mut("properties").and_then(Value::as_object_mut) {
            properties.insert("house_rules".to_owned(), house_rules.clone());
        }
    }
}

/// What a type says of itself.
pub(crate) fn description_of<T: JsonSchema>() -> String {
    let schema = schemars::schema_for!(T);
    let said = schema.get("description").and_then(Value::as_str);
    said.unwrap_or_default().to_owned()
}
