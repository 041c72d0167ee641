//! What a script holds in its variables, and how it is called in messages.

use rhai::{Array, Dynamic, FnPtr, ImmutableString, Map};

use super::arithmetic::number;
use crate::measure;
use crate::model::{PartId, Side, StockId};

/// A part in a script's variable; `None` when it could not be made, so that
/// what is said about it later is passed over in silence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::script) struct PartRef(pub(in crate::script) Option<PartId>);

/// A stock in a script's variable; `None` when it could not be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::script) struct StockRef(pub(in crate::script) Option<StockId>);

/// The space between two parts, on the axis it is used on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::script) struct Between(pub(in crate::script) PartRef, pub(in crate::script) PartRef);

/// The face of a part that a space begins or ends at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::script) struct Against {
    /// The part.
    pub(in crate::script) part: PartRef,
    /// Which of its sides; `None` for the one that looks into the space.
    pub(in crate::script) side: Option<Side>,
}

/// A value as it is called in a message: ``the text `abc` ``, `the number 8`.
pub(in crate::script) fn describe(value: &Dynamic) -> String {
    let value = value.flatten_clone();
    if value.is_unit() {
        return "nothing".into();
    }
    if let Some(n) = number(&value) {
        return format!("the number {}", measure::number(n, 3));
    }
    if let Ok(yes) = value.as_bool() {
        return yes.to_string();
    }
    if let Ok(text) = value.as_immutable_string_ref() {
        return format!("the text `{}`", short(&text));
    }
    if value.is_char() {
        return "a single character".into();
    }
    if let Some(list) = value.read_lock::<Array>() {
        return format!("a list of {}", list.len());
    }
    if value.is::<Map>() {
        return "an option map".into();
    }
    kind(&value).into()
}

/// The kind of a value that is neither number, text, list nor map.
fn kind(value: &Dynamic) -> &'static str {
    if value.is::<PartRef>() {
        "a part"
    } else if value.is::<StockRef>() {
        "a stock"
    } else if value.is::<Between>() {
        "the space `between` two parts"
    } else if value.is::<Against>() {
        "a place `against` a part"
    } else if value.is::<FnPtr>() {
        "a function"
    } else if value.is::<ImmutableString>() {
        "a text"
    } else {
        "something else"
    }
}

/// At most forty characters of a text.
pub(in crate::script) fn short(text: &str) -> String {
    let mut shown: String = text.chars().take(40).collect();
    if shown.len() < text.len() {
        shown.push('…');
    }
    shown
}
