//! What a script holds in its variables, and how it is called in messages.

use std::collections::BTreeMap;

use crate::measure;
use crate::model::{PartId, Side, StockId};

/// A value of a script.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::script) enum Value {
    /// Nothing.
    Nothing,
    /// True or false.
    YesNo(bool),
    /// A whole number as the language counts.
    Whole(i64),
    /// Any other number.
    Number(f64),
    /// A text.
    Text(String),
    /// A single character, which is no text.
    Letter,
    /// A list.
    List(Vec<Value>),
    /// A map.
    Map(Map),
    /// A part.
    Part(PartRef),
    /// A stock.
    Stock(StockRef),
    /// The space between two parts.
    Between(Between),
    /// A place against a part.
    Against(Against),
    /// A function.
    Function,
    /// What no word takes.
    Other,
}

/// Values by name.
pub(in crate::script) type Map = BTreeMap<String, Value>;

impl Value {
    /// A number of either kind.
    pub(in crate::script) fn number(&self) -> Option<f64> {
        match self {
            Self::Whole(n) => Some(*n as f64),
            Self::Number(n) => Some(*n),
            _ => None,
        }
    }

    /// A text.
    pub(in crate::script) fn text(&self) -> Option<&str> {
        match self {
            Self::Text(text) => Some(text),
            _ => None,
        }
    }

    /// True or false.
    pub(in crate::script) fn yes_no(&self) -> Option<bool> {
        match self {
            Self::YesNo(yes) => Some(*yes),
            _ => None,
        }
    }

    /// The entries of a list.
    pub(in crate::script) fn list(&self) -> Option<&[Value]> {
        match self {
            Self::List(list) => Some(list),
            _ => None,
        }
    }

    /// A map.
    pub(in crate::script) fn map(&self) -> Option<&Map> {
        match self {
            Self::Map(map) => Some(map),
            _ => None,
        }
    }
}

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
pub(in crate::script) fn describe(value: &Value) -> String {
    match value {
        Value::Nothing => "nothing".into(),
        Value::YesNo(yes) => yes.to_string(),
        Value::Whole(n) => format!("the number {}", measure::number(*n as f64, SHOWN)),
        Value::Number(n) => format!("the number {}", measure::number(*n, SHOWN)),
        Value::Text(text) => format!("the text `{}`", short(text)),
        Value::Letter => "a single character".into(),
        Value::List(list) => format!("a list of {}", list.len()),
        Value::Map(_) => "an option map".into(),
        Value::Part(_) => "a part".into(),
        Value::Stock(_) => "a stock".into(),
        Value::Between(_) => "the space `between` two parts".into(),
        Value::Against(_) => "a place `against` a part".into(),
        Value::Function => "a function".into(),
        Value::Other => "something else".into(),
    }
}

/// Figures after the point that a number is shown with.
const SHOWN: usize = 3;

/// At most forty characters of a text.
pub(in crate::script) fn short(text: &str) -> String {
    let mut shown: String = text.chars().take(40).collect();
    if shown.len() < text.len() {
        shown.push('…');
    }
    shown
}
