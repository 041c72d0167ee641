//! `sizes`: what can be changed in a script.

use super::args::{Script, Sizes};
use super::words::grid::grid;
use super::{Ended, Terminal};
use crate::measure::{LengthStyle, Unit, number};
use crate::model::{SizeDecl, SizeKind, Word};
use crate::script::{self, Declared};

/// Runs `sizes`.
pub(super) fn run(given: &Sizes, words: &'static [&'static Word], terminal: &mut Terminal<'_>) -> Ended {
    let script = Script { script: given.script.clone(), set: Vec::new(), nearest: false };
    let request = match super::request::request(&script, words, terminal) {
        Ok(request) => request,
        Err(ended) => return ended,
    };
    let declared = script::declared(&request);
    terminal.problems(&declared.problems, &declared.sources);
    terminal.answer(&if given.json { json(&declared) } else { table(&declared) });
    if terminal.failed() { Ended::Files } else { Ended::of(&declared.problems) }
}

/// A length as the script's author would write it after `--set`.
fn length(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Mm => number(mm, 3).replace('−', "-"),
        Unit::Inch => {
            let shown = LengthStyle { finest: 64, ..LengthStyle::INCH }.show(mm);
            if shown.rounded { number(mm / unit.in_mm(), 4).replace('−', "-") } else { plain(&shown) }
        }
    }
}

/// An inch length in signs a keyboard has.
fn plain(shown: &crate::measure::ShownLength) -> String {
    shown.to_string().replace('−', "-").replace('″', "")
}

/// Default and what it can be, as text.
fn shown(decl: &SizeDecl, unit: Unit) -> (String, String) {
    let range = |from: Option<String>, to: Option<String>, sign: &str| match (from, to) {
        (Some(from), Some(to)) => format!("{from} to {to}{sign}"),
        (Some(from), None) => format!("{from} or more{sign}"),
        (None, Some(to)) => format!("{to} or less{sign}"),
        (None, None) => format!("any{sign}"),
    };
    match &decl.kind {
        SizeKind::Length { default, from, to } => {
            let show = |mm: &f64| length(*mm, unit);
            let sign = format!(" {}", unit.name());
            (show(default), range(from.as_ref().map(show), to.as_ref().map(show), &sign))
        }
        SizeKind::Count { default, from, to } => {
            (default.to_string(), range(from.map(|v| v.to_string()), to.map(|v| v.to_string()), ""))
        }
        SizeKind::Choice { default, among } => (default.clone(), among.join(", ")),
        SizeKind::YesNo { default } => ((if *default { "yes" } else { "no" }).into(), "yes, no".into()),
    }
}

/// A table with a column each for name, default, what it can be, and what it is.
fn table(declared: &Declared) -> String {
    let unit = declared.unit.unwrap_or(Unit::Mm);
    let mut rows = vec![["name", "value", "can be", "what it is"].map(str::to_owned)];
    for decl in &declared.sizes {
        let (default, can_be) = shown(decl, unit);
        rows.push([decl.name.clone(), default, can_be, decl.says.clone()]);
    }
    if rows.len() == 1 {
        return "the script declares nothing that can be changed\n".into();
    }
    let cells: Vec<Vec<&str>> = rows.iter().map(|row| row.iter().map(String::as_str).collect()).collect();
    grid(&cells, 0)
}

/// A size as JSON shows it; lengths in mm.
#[derive(serde::Serialize)]
struct Shown<'a> {
    /// Its name.
    name: &'a str,
    /// `length`, `count`, `choice` or `yes_no`.
    kind: &'a str,
    /// Its default.
    default: serde_json::Value,
    /// Least.
    #[serde(skip_serializing_if = "Option::is_none")]
    from: Option<f64>,
    /// Greatest.
    #[serde(skip_serializing_if = "Option::is_none")]
    to: Option<f64>,
    /// What may be chosen.
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    among: &'a [String],
    /// One sentence.
    says: &'a str,
}

/// Title, unit and sizes as JSON; lengths in mm.
fn json(declared: &Declared) -> String {
    let sizes: Vec<Shown<'_>> = declared.sizes.iter().map(as_json).collect();
    let whole = serde_json::json!({
        "title": declared.title,
        "unit": declared.unit.unwrap_or(Unit::Mm),
        "sizes": sizes,
    });
    // Strings, numbers and lists always have a JSON form.
    serde_json::to_string_pretty(&whole).unwrap_or_default() + "\n"
}

/// One size for JSON.
fn as_json(decl: &SizeDecl) -> Shown<'_> {
    let blank = Shown {
        name: &decl.name,
        kind: "length",
        default: serde_json::Value::Null,
        from: None,
        to: None,
        among: &[],
        says: &decl.says,
    };
    match &decl.kind {
        SizeKind::Length { default, from, to } => {
            Shown { default: (*default).into(), from: *from, to: *to, ..blank }
        }
        SizeKind::Count { default, from, to } => Shown {
            kind: "count",
            default: (*default).into(),
            from: from.map(|v| v as f64),
            to: to.map(|v| v as f64),
            ..blank
        },
        SizeKind::Choice { default, among } => {
            Shown { kind: "choice", default: default.as_str().into(), among, ..blank }
        }
        SizeKind::YesNo { default } => Shown { kind: "yes_no", default: (*default).into(), ..blank },
    }
}
