//! Every written list is as `words --schema` says: each key told of, none missing, each
//! of its type.

use serde_json::Value;

use super::papers::{Papers, items};

/// What of a value is not as its schema has it.
pub(crate) fn faults(papers: &Papers) -> Vec<String> {
    let schema: Value = serde_json::from_str(rodwright::output::SCHEMA).unwrap();
    let mut found = Vec::new();
    for (file, value) in &papers.0 {
        let name = file.trim_start_matches('-').trim_end_matches(".json");
        let told = &schema["$defs"][name];
        if told.is_null() {
            found.push(format!("nothing is told of {file}"));
        }
        check(value, told, &schema, name, &mut found);
        if value["version"] != 2 {
            found.push(format!("{file} is of no version"));
        }
    }
    found
}

/// The name of a value's type; a whole number is an integer and a number.
fn is(value: &Value, kind: &str) -> bool {
    match kind {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "string" => value.is_string(),
        "number" => value.is_number(),
        "integer" => value.is_u64(),
        "boolean" => value.is_boolean(),
        "null" => value.is_null(),
        _ => false,
    }
}

fn check(value: &Value, told: &Value, schema: &Value, at: &str, found: &mut Vec<String>) {
    if let Some(name) = told["$ref"].as_str().and_then(|path| path.rsplit('/').next()) {
        return check(value, &schema["$defs"][name], schema, at, found);
    }
    let kinds = match &told["type"] {
        Value::String(one) => vec![one.clone()],
        more => items(more).iter().filter_map(|kind| kind.as_str().map(str::to_owned)).collect(),
    };
    if !kinds.iter().any(|kind| is(value, kind)) {
        found.push(format!("{at} is no {}: {value}", kinds.join(" or ")));
        return;
    }
    if let (Some(object), Some(known)) = (value.as_object(), told["properties"].as_object()) {
        for (key, inner) in object {
            match known.get(key) {
                Some(told) => check(inner, told, schema, &format!("{at}.{key}"), found),
                None => found.push(format!("{at}.{key} is not told of")),
            }
        }
        let missing =
            items(&told["required"]).into_iter().filter(|key| !object.contains_key(key.as_str().unwrap()));
        found.extend(missing.map(|key| format!("{at} has no {key}")));
    }
    if let (Some(list), false) = (value.as_array(), told["items"].is_null()) {
        for inner in list {
            check(inner, &told["items"], schema, &format!("{at}[]"), found);
        }
    }
}
