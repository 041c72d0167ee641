//! What a furniture type takes: a list of maps in the type's own script, read
//! into data. The same data checks what the type is asked for, is printed in the
//! reference, and is declared by a script made to start from.

use crate::measure::Unit;
use crate::model::{OptionKind, OptionValue};
use crate::problem::{nearest, wording};
use crate::script::inch_rule::usual_in;
use crate::script::run::Run;
use crate::script::value::{Map, StockRef, Value, describe};
use crate::script::vocabulary::read::values::{Fault, Read, unknown_choice};

/// One thing a furniture type can be asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Take {
    /// Its key in the map of options.
    pub name: String,
    /// What it takes, its range and what it is when left out.
    pub kind: TakeKind,
    /// One sentence.
    pub says: String,
}

/// What an option of a furniture type takes. Lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub enum TakeKind {
    /// A length.
    Length {
        /// When left out.
        usual: f64,
        /// Least.
        from: f64,
        /// Greatest.
        to: f64,
    },
    /// A whole number.
    Count {
        /// When left out.
        usual: u32,
        /// Least.
        from: u32,
        /// Greatest.
        to: u32,
    },
    /// One of some texts.
    Choice {
        /// When left out.
        usual: String,
        /// All there are.
        among: Vec<String>,
    },
    /// Yes or no.
    YesNo {
        /// When left out.
        usual: bool,
    },
    /// A stock of the script, or the name of one the library knows.
    Stock {
        /// When left out.
        usual: String,
        /// The names the library knows.
        among: Vec<String>,
    },
    /// A list of lengths; empty when left out.
    Lengths {
        /// Least of each.
        from: f64,
        /// Greatest of each.
        to: f64,
    },
    /// Parts the type is joined to; none when left out.
    Parts,
}

/// The greatest count a type can ask for.
const MOST: f64 = 1.0e6;

/// The keys a description of an option may have.
const KEYS: [&str; 11] =
    ["name", "says", "length", "lengths", "count", "choice", "yes_no", "stock", "parts", "from", "to"];

/// Reads a list of descriptions; what is wrong with one is for the author of the
/// type.
pub(in crate::script) fn read(run: &Run, list: &Value) -> Result<Vec<Take>, String> {
    let Some(list) = list.list() else {
        return Err(format!("what a type takes must be a list of maps, not {}", describe(list)));
    };
    let mut takes: Vec<Take> = Vec::new();
    for item in list {
        let take = one(run, item)?;
        if takes.iter().any(|t| t.name == take.name) {
            return Err(format!("`{}` stands twice in what the type takes", take.name));
        }
        takes.push(take);
    }
    Ok(takes)
}

/// Reads one description.
fn one(run: &Run, item: &Value) -> Result<Take, String> {
    let Some(map) = item.map() else {
        return Err(format!("what a type takes must be a list of maps, not of {}", describe(item)));
    };
    let text = |key: &str| map.get(key).and_then(Value::text).map(str::to_owned);
    let Some(name) = text("name").filter(|n| !n.is_empty()) else {
        return Err("each thing a type takes needs a `name`".into());
    };
    if let Some(key) = map.keys().find(|k| !KEYS.contains(&k.as_str()) && k.as_str() != "among") {
        return Err(format!("`{name}` of the type has a key `{key}`, which says nothing"));
    }
    let message = text("says").unwrap_or_default();
    let kind = kind(run, map).ok_or_else(|| {
        format!(
            "`{name}` of the type needs one of `length`, `lengths` and `count` with `from` and `to`, `choice` and `stock` with \
             `among`, `yes_no`, `parts`"
        )
    })?;
    Ok(Take { name, kind, says: message })
}

/// The kind of one description, if it says one whole.
fn kind(run: &Run, map: &Map) -> Option<TakeKind> {
    let length = |key: &str| run.length(map.get(key)?).ok();
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "whole and within u32 by the check"
    )]
    let count = |key: &str| {
        let n = map.get(key)?.number()?;
        (n.fract() == 0.0 && (0.0..=MOST).contains(&n)).then_some(n as u32)
    };
    let text = |key: &str| map.get(key)?.text().map(str::to_owned);
    let among = || {
        let list = map.get("among")?.list()?;
        list.iter().map(|v| v.text().map(str::to_owned)).collect::<Option<Vec<String>>>()
    };
    if map.contains_key("length") {
        Some(TakeKind::Length { usual: length("length")?, from: length("from")?, to: length("to")? })
    } else if map.contains_key("lengths") {
        Some(TakeKind::Lengths { from: length("from")?, to: length("to")? })
    } else if map.contains_key("count") {
        Some(TakeKind::Count { usual: count("count")?, from: count("from")?, to: count("to")? })
    } else if map.contains_key("choice") {
        Some(TakeKind::Choice { usual: text("choice")?, among: among()? })
    } else if map.contains_key("stock") {
        Some(TakeKind::Stock { usual: text("stock")?, among: among()? })
    } else if map.contains_key("yes_no") {
        Some(TakeKind::YesNo { usual: map.get("yes_no")?.yes_no()? })
    } else {
        map.contains_key("parts").then_some(TakeKind::Parts)
    }
}

impl Take {
    /// Whether it is what something is made of.
    pub(in crate::script) fn is_stock(&self) -> bool {
        matches!(self.kind, TakeKind::Stock { .. })
    }

    /// The value given for it, checked. Lengths in mm; what stands for parts and
    /// stocks is kept as it came.
    pub(in crate::script) fn checked(&self, run: &Run, value: &Value) -> Read<Taken> {
        let kind = match &self.kind {
            TakeKind::Length { from, to, .. } => OptionKind::Length { min: *from, max: *to },
            TakeKind::Count { from, to, .. } => OptionKind::Count { min: *from, max: *to },
            TakeKind::YesNo { .. } => OptionKind::YesNo,
            TakeKind::Choice { among, .. } => return chosen(value, among).map(Taken::As),
            TakeKind::Stock { among, .. } => {
                return match value {
                    Value::Stock(StockRef(None)) => Err(None),
                    Value::Stock(_) => Ok(Taken::As(value.clone())),
                    _ => chosen(value, among).map(Taken::As),
                };
            }
            TakeKind::Lengths { from, to } => return each(run, value, &self.name, (*from, *to)),
            TakeKind::Parts => return Run::parts(value, true).map(|_| Taken::As(value.clone())),
        };
        Ok(match run.read(kind, value, &self.name)? {
            OptionValue::Number(mm) => Taken::Length(mm),
            OptionValue::Count(n) => Taken::As(Value::Whole(n.into())),
            OptionValue::YesNo(yes) => Taken::As(Value::YesNo(yes)),
            _ => Taken::As(value.clone()),
        })
    }

    /// What it is when left out, in a job in `unit`.
    pub(in crate::script) fn usual(&self, unit: Unit) -> Taken {
        match &self.kind {
            TakeKind::Length { usual, from, to } => Taken::Length(usual_in(unit, *usual, (*from, *to))),
            TakeKind::Count { usual, .. } => Taken::As(Value::Whole((*usual).into())),
            TakeKind::Choice { usual, .. } | TakeKind::Stock { usual, .. } => {
                Taken::As(Value::Text(usual.clone()))
            }
            TakeKind::YesNo { usual } => Taken::As(Value::YesNo(*usual)),
            TakeKind::Lengths { .. } => Taken::Lengths(Vec::new()),
            TakeKind::Parts => Taken::As(Value::List(Vec::new())),
        }
    }
}

/// A checked value of an option.
pub(in crate::script) enum Taken {
    /// A length, mm.
    Length(f64),
    /// Lengths, mm.
    Lengths(Vec<f64>),
    /// Anything else, as it is kept.
    As(Value),
}

/// A list of lengths, each within its range.
fn each(run: &Run, value: &Value, name: &str, (min, max): (f64, f64)) -> Read<Taken> {
    let Some(list) = value.list() else {
        let says = format!("must be a list of lengths, not {}", describe(value));
        return Err(Some(Fault {
            code: "wrong-type",
            says,
            help: Some(format!("write it as `{name}: [100, 150]`")),
        }));
    };
    let mut all = Vec::new();
    for one in list {
        match run.read(OptionKind::Length { min, max }, one, name)? {
            OptionValue::Number(mm) => all.push(mm),
            _ => return Err(None),
        }
    }
    Ok(Taken::Lengths(all))
}

/// One of some texts.
fn chosen(value: &Value, among: &[String]) -> Read<Value> {
    let names: Vec<&str> = among.iter().map(String::as_str).collect();
    match value.text() {
        Some(said) if names.contains(&said) => Ok(value.clone()),
        Some(said) => unknown_choice(said, &names),
        None => Err(Some(Fault {
            code: "wrong-type",
            says: format!("must be {}, not {}", wording::one_of(names), describe(value)),
            help: None,
        })),
    }
}

/// What to do about a key that a type does not take.
pub(in crate::script) fn unknown_key(takes: &[Take], key: &str) -> String {
    let names = || takes.iter().map(|t| t.name.as_str());
    let all = format!("it takes {}", wording::all_of(names()));
    match nearest(key, names()) {
        Some(near) => format!("did you mean `{near}`? {all}"),
        None => all,
    }
}
