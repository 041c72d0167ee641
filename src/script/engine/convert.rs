//! Values of the engine as values of a script, and back.

use rhai::{Array, Dynamic, FnPtr, Map};

use crate::script::value::{Against, Between, PartRef, StockRef, Value};

/// A value of the engine as a word reads it.
pub(in crate::script) fn value(from: &Dynamic) -> Value {
    let from = from.flatten_clone();
    if from.is_unit() {
        return Value::Nothing;
    }
    if let Ok(n) = from.as_float() {
        return Value::Number(n);
    }
    if let Ok(n) = from.as_int() {
        return Value::Whole(n);
    }
    if let Ok(yes) = from.as_bool() {
        return Value::YesNo(yes);
    }
    if let Ok(text) = from.as_immutable_string_ref() {
        return Value::Text(text.to_string());
    }
    if from.is_char() {
        return Value::Letter;
    }
    if let Some(list) = from.read_lock::<Array>() {
        return Value::List(list.iter().map(value).collect());
    }
    if let Some(map) = from.read_lock::<Map>() {
        return Value::Map(map.iter().map(|(key, one)| (key.to_string(), value(one))).collect());
    }
    of_ours(&from)
}

/// A value of a type that we gave the engine, or that no word takes.
fn of_ours(from: &Dynamic) -> Value {
    if let Some(part) = from.clone().try_cast::<PartRef>() {
        Value::Part(part)
    } else if let Some(stock) = from.clone().try_cast::<StockRef>() {
        Value::Stock(stock)
    } else if let Some(between) = from.clone().try_cast::<Between>() {
        Value::Between(between)
    } else if let Some(against) = from.clone().try_cast::<Against>() {
        Value::Against(against)
    } else if from.is::<FnPtr>() {
        Value::Function
    } else {
        Value::Other
    }
}

/// A value as the engine keeps it. What no word gives becomes nothing.
pub(in crate::script) fn dynamic(from: Value) -> Dynamic {
    match from {
        Value::Nothing | Value::Letter | Value::Function | Value::Other => Dynamic::UNIT,
        Value::YesNo(yes) => Dynamic::from_bool(yes),
        Value::Whole(n) => Dynamic::from_int(n),
        Value::Number(n) => Dynamic::from_float(n),
        Value::Text(text) => Dynamic::from(text),
        Value::List(list) => Dynamic::from_array(list.into_iter().map(dynamic).collect()),
        Value::Map(map) => {
            Dynamic::from_map(map.into_iter().map(|(key, one)| (key.into(), dynamic(one))).collect())
        }
        Value::Part(part) => Dynamic::from(part),
        Value::Stock(stock) => Dynamic::from(stock),
        Value::Between(between) => Dynamic::from(between),
        Value::Against(against) => Dynamic::from(against),
    }
}
