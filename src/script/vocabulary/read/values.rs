//! Values checked against what a word takes.

use super::texts::text;
use crate::measure::{self, Unit, as_meant, read_length, read_pair};
use crate::model::{OptionKind, OptionValue, PartId, Revision, Side};
use crate::problem::{nearest, wording};
use crate::script::inch_rule::range_in;
use crate::script::run::Run;
use crate::script::value::{PartRef, StockRef, Value, describe, short};
use crate::timber::numbered;

/// Coordinates and sizes reach this far, mm. Solids are exact for pieces to
/// 5 m; twice that leaves room for a piece set beside another.
pub(in crate::script) const FARTHEST: f64 = 10_000.0;

/// Lengths are kept to a millionth of a mm, which is far below what anyone
/// means and far above what arithmetic leaves behind.
pub(super) const GRID: f64 = 1.0e6;

/// Options that name a screw.
const SCREWS: [&str; 2] = ["screw", "fixing"];
/// The option that names a dowel.
const DOWEL: &str = "dowel";
/// The key of a loose tenon: thickness and length.
const TENON: &str = "tenon";
/// No screw is longer, mm.
const LONGEST_SCREW: f64 = 305.0;

/// Why a value will not do. `says` follows the name of the option.
#[derive(Debug, PartialEq)]
pub(in crate::script) struct Fault {
    /// Code of the problem.
    pub(in crate::script) code: &'static str,
    /// `must be a length, not the text …`.
    pub(in crate::script) says: String,
    /// What to do.
    pub(in crate::script) help: Option<String>,
}

/// A value, a fault, or nothing because a part or stock in it was spoilt
/// before and has its own problem.
pub(in crate::script) type Read<T> = Result<T, Option<Fault>>;

/// A fault of type: the value is not of the kind wanted.
pub(in crate::script) fn wrong_type<T>(wants: &str, value: &Value) -> Read<T> {
    fault("wrong-type", format!("must be {wants}, not {}", describe(value)))
}

/// A fault without help.
pub(in crate::script) fn fault<T>(code: &'static str, message: String) -> Read<T> {
    Err(Some(Fault { code, says: message, help: None }))
}

/// A fault with help.
pub(in crate::script) fn fault_help<T>(code: &'static str, message: String, help: String) -> Read<T> {
    Err(Some(Fault { code, says: message, help: Some(help) }))
}

impl Run {
    /// Checks one value against a kind; `axis_key` is the key it stands under,
    /// which names the axis of a span and says how long a text may be.
    pub(in crate::script) fn read(
        &self,
        kind: OptionKind,
        value: &Value,
        axis_key: &str,
    ) -> Read<OptionValue> {
        match kind {
            OptionKind::Length { min, max } => self.length_in(value, min, max).map(OptionValue::Number),
            OptionKind::Lengths => self.lengths(value).map(OptionValue::Lengths),
            OptionKind::Pair if SCREWS.contains(&axis_key) => self.screw(value),
            OptionKind::Pair if axis_key == DOWEL => self.in_the_library(value, numbered::dowel_instead_of),
            OptionKind::Pair if axis_key == TENON => {
                self.in_the_library(value, numbered::loose_tenon_instead_of)
            }
            OptionKind::Pair => self.pair(value),
            OptionKind::Count { min, max } => count(value, min, max),
            OptionKind::Angle { min, max } => plain(value, min, max, "an angle in degrees", "°"),
            OptionKind::Ratio { min, max } => plain(value, min, max, "a number", ""),
            OptionKind::Choice(among) => choice(value, among),
            OptionKind::YesNo => match value.yes_no() {
                Some(yes) => Ok(OptionValue::YesNo(yes)),
                None => wrong_type("true or false", value),
            },
            OptionKind::Text => text(value, axis_key).map(OptionValue::Text),
            OptionKind::Texts => {
                list(value, "a list of texts", |one| text(one, axis_key)).map(OptionValue::Texts)
            }
            OptionKind::Side => side(value).map(|s| OptionValue::Sides(vec![s])),
            OptionKind::Sides => sides(value).map(OptionValue::Sides),
            OptionKind::Stock => match value {
                Value::Stock(StockRef(Some(id))) => Ok(OptionValue::Stock(*id)),
                Value::Stock(StockRef(None)) => Err(None),
                _ => wrong_type("a stock", value),
            },
            OptionKind::Points => self.corners(value),
            OptionKind::Places => self.places(value),
            OptionKind::Stations => self.stations(value),
            OptionKind::Turn => self.turns(value),
            OptionKind::Runs => self.runs(value),
            OptionKind::Sheets => self.sheets(value).map(OptionValue::Sheets),
            OptionKind::Boards => self.boards(value).map(OptionValue::Boards),
            OptionKind::Revisions => list(value, "a list of revisions", revision).map(OptionValue::Revisions),
            OptionKind::Span => {
                self.span(value, axis_of(axis_key)).map(|(a, b)| OptionValue::Lengths(vec![a, b]))
            }
        }
    }

    /// A length in mm within the reach of any piece.
    pub(in crate::script) fn length(&self, value: &Value) -> Read<f64> {
        let mm = if let Some(n) = value.number() {
            n * self.unit().in_mm()
        } else if let Some(text) = value.text() {
            self.length_text(text)?
        } else {
            return wrong_type("a length", value);
        };
        if !mm.is_finite() {
            return fault("not-a-size", "is not a finite number".into());
        }
        if mm.abs() > FARTHEST {
            let (is, to) = (self.show(mm), self.show(FARTHEST));
            return fault_help(
                "size-too-large",
                format!("is {is}; lengths reach to {to}"),
                format!("plain numbers are in {}; `mm(…)` and `inch(…)` convert", self.unit().name()),
            );
        }
        Ok((mm * GRID).round() / GRID)
    }

    /// A length written as text, which must say its unit or be a fraction.
    fn length_text(&self, text: &str) -> Read<f64> {
        if !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '.') {
            return fault_help(
                "missing-unit",
                format!("is the text `{}`, which has no unit", short(text)),
                format!(
                    "write it without quotes for {}, or with its unit: \"{text} mm\" or \"{text} in\"",
                    self.unit().name()
                ),
            );
        }
        match read_length(text, self.unit()) {
            Ok(mm) => Ok(mm),
            Err(why) => fault_help(
                "wrong-type",
                format!("must be a length, not the text `{}`: {why}", short(text)),
                match as_meant(text) {
                    Some(meant) => format!("write it \"{meant}\""),
                    None => {
                        "a length in text is written like \"18 mm\", \"23 5/8\" or \"1' 6 1/2 in\"".into()
                    }
                },
            ),
        }
    }

    /// A length within a range, mm.
    pub(in crate::script) fn length_in(&self, value: &Value, min: f64, max: f64) -> Read<f64> {
        let mm = self.length(value)?;
        if mm < min || mm > max {
            // As the words tell it: in inches by marks of a rule, to the safe side.
            let (low, high) = range_in(self.unit(), (min, max));
            let range = if max >= FARTHEST {
                format!("{} or more", self.show(low))
            } else {
                format!("{} to {}", self.show(low), self.show(high))
            };
            return fault("out-of-range", format!("is {}; it must be {range}", self.show(mm)));
        }
        Ok(mm)
    }

    /// One length or a list of them.
    pub(in crate::script) fn lengths(&self, value: &Value) -> Read<Vec<f64>> {
        match value.list() {
            Some(list) => list.iter().map(|v| self.length(v)).collect(),
            None => match self.length(value) {
                Ok(one) => Ok(vec![one]),
                Err(Some(f)) if f.code == "wrong-type" => wrong_type("a length or a list of lengths", value),
                Err(other) => Err(other),
            },
        }
    }

    /// A screw: diameter and length, `"4x30"`, or number and length, `"#8x1 1/4"`. In a
    /// script in inches a whole number before the length is that of the screw.
    fn screw(&self, value: &Value) -> Read<OptionValue> {
        let inches = self.unit() == Unit::Inch;
        let text = value.text().unwrap_or_default();
        let Some((size, length)) = text.split_once(['x', '×', 'X']) else { return self.metric_screw(value) };
        let numbered = ["#", "No. ", "No.", "no. "].iter().find_map(|sign| size.trim().strip_prefix(sign));
        let fraction = length.contains('/') && !size.contains("mm");
        let number = match numbered {
            Some(number) => number.trim(),
            None if inches || fraction => size.trim(),
            None => return self.metric_screw(value),
        };
        let Ok(number) = number.parse::<u32>() else { return self.metric_screw(value) };
        let length = length.trim();
        let example = format!("\"#{number}x1 1/4\"");
        let Some(wide) = numbered::shank(number) else {
            let numbers: Vec<String> = numbered::numbers().map(|one| format!("#{one}")).collect();
            let numbers = wording::one_of(numbers.iter().map(String::as_str));
            let help = format!("write {numbers}, or a metric size with its unit: \"4 mm x 30 mm\"");
            return fault_help(
                "unknown-choice",
                format!("is of a number, {number}, that screws are not sold by"),
                help,
            );
        };
        match read_length(length, Unit::Inch) {
            Ok(long) if long > 0.0 && long <= LONGEST_SCREW => Ok(OptionValue::Pair(wide, long)),
            Ok(long) => fault_help(
                "out-of-range",
                format!("is {} long, more than any screw", self.show(long)),
                format!(
                    "a screw by its number is in inches, {example}; a metric one has its unit, \"4 mm x 30 mm\""
                ),
            ),
            Err(why) => fault_help(
                "wrong-type",
                format!("must be a screw, not the text `{}`: {why}", short(text)),
                format!("number and length are written like {example}"),
            ),
        }
    }

    /// A screw by its diameter; one of the library is, in a job in inches, what an inch shop
    /// takes instead.
    fn metric_screw(&self, value: &Value) -> Read<OptionValue> {
        self.in_the_library(value, numbered::told_instead_of)
    }

    /// Two lengths in mm; of a type of the library, in a job in inches, what `instead` makes of
    /// them.
    fn in_the_library(&self, value: &Value, instead: fn((f64, f64)) -> (f64, f64)) -> Read<OptionValue> {
        let read = self.pair(value)?;
        let library = self.unit() == Unit::Mm && self.job.unit == Unit::Inch;
        Ok(match read {
            OptionValue::Pair(wide, long) if library => {
                let (wide, long) = instead((wide, long));
                OptionValue::Pair(wide, long)
            }
            other => other,
        })
    }

    /// Two lengths: `"8x40"` or `[8, 40]`.
    fn pair(&self, value: &Value) -> Read<OptionValue> {
        let wants = "two lengths such as \"8x40\"";
        if let Some(text) = value.text() {
            return match read_pair(text, self.unit()) {
                Ok((a, b)) if a > 0.0 && b > 0.0 && a.max(b) <= FARTHEST => Ok(OptionValue::Pair(a, b)),
                Ok(_) => {
                    fault("out-of-range", format!("is `{}`; both lengths must be more than 0", short(text)))
                }
                Err(_) => wrong_type(wants, value),
            };
        }
        match value.list() {
            Some([a, b]) => {
                let (a, b) = (self.length(a)?, self.length(b)?);
                if a > 0.0 && b > 0.0 {
                    return Ok(OptionValue::Pair(a, b));
                }
                let (a, b) = (self.show(a), self.show(b));
                fault("out-of-range", format!("is {a} and {b}; both lengths must be more than 0"))
            }
            _ => wrong_type(wants, value),
        }
    }

    /// One part, or a list of parts that may hold lists.
    pub(in crate::script) fn parts(value: &Value, many: bool) -> Read<Vec<PartId>> {
        let wants = if many { "a part or a list of parts" } else { "a part" };
        if let Value::Part(PartRef(part)) = value {
            return part.map(|p| vec![p]).ok_or(None);
        }
        match value.list() {
            Some(list) if many => {
                let mut found = Vec::new();
                let mut spoilt = false;
                for item in list {
                    match Self::parts(item, many) {
                        Ok(parts) => found.extend(parts),
                        Err(None) => spoilt = true,
                        Err(fault) => return Err(fault),
                    }
                }
                if spoilt { Err(None) } else { Ok(found) }
            }
            _ => wrong_type(wants, value),
        }
    }
}

/// The least space worth a part, mm.
pub(in crate::script) const LEAST: f64 = 0.1;

/// Names of the axes.
pub(in crate::script) const AXES: [&str; 3] = ["x", "y", "z"];

/// The axis a key names; x for any other key.
pub(in crate::script) fn axis_of(key: &str) -> usize {
    AXES.iter().position(|a| *a == key).unwrap_or(0)
}

/// A number in a range that is no length.
pub(in crate::script) fn plain(
    value: &Value,
    min: f64,
    max: f64,
    wants: &str,
    sign: &str,
) -> Read<OptionValue> {
    let Some(n) = value.number() else { return wrong_type(wants, value) };
    if !n.is_finite() {
        return fault("not-a-size", "is not a finite number".into());
    }
    if n < min || n > max {
        let show = |v| measure::number(v, 3);
        return fault(
            "out-of-range",
            format!("is {}{sign}; it must be {}{sign} to {}{sign}", show(n), show(min), show(max)),
        );
    }
    Ok(OptionValue::Number(n))
}

/// A whole number in a range.
pub(in crate::script) fn count(value: &Value, min: u32, max: u32) -> Read<OptionValue> {
    let Some(n) = value.number() else { return wrong_type("a whole number", value) };
    if !n.is_finite() || n.fract() != 0.0 {
        return wrong_type("a whole number", value);
    }
    if n < f64::from(min) || n > f64::from(max) {
        return fault("out-of-range", format!("is {}; it must be {min} to {max}", measure::number(n, 0)));
    }
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "whole and within u32 by the check"
    )]
    Ok(OptionValue::Count(n as u32))
}

/// One of some texts.
pub(in crate::script) fn choice(value: &Value, among: &[&'static str]) -> Read<OptionValue> {
    let Some(said) = value.text() else {
        return wrong_type(&wording::one_of(among.iter().copied()), value);
    };
    if among.contains(&said) {
        return Ok(OptionValue::Text(said.to_owned()));
    }
    unknown_choice(said, among)
}

/// A text that is none of those there are.
pub(in crate::script) fn unknown_choice<T>(said: &str, among: &[&str]) -> Read<T> {
    let can_be = format!("it can be {}", wording::one_of(among.iter().copied()));
    let help = match nearest(said, among.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? {can_be}"),
        None => can_be,
    };
    fault_help("unknown-choice", format!("cannot be `{}`", short(said)), help)
}

/// A side of the piece.
fn side(value: &Value) -> Read<Side> {
    let names = Side::ALL.map(Side::name);
    let Some(said) = value.text() else { return wrong_type("a side of the piece", value) };
    match Side::from_name(said) {
        Some(side) => Ok(side),
        None => unknown_choice(said, &names),
    }
}

/// A side or a list of sides.
fn sides(value: &Value) -> Read<Vec<Side>> {
    if value.list().is_some() { list(value, "a list of sides", side) } else { side(value).map(|s| vec![s]) }
}

/// A list whose every entry reads.
fn list<T>(value: &Value, wants: &str, one: impl Fn(&Value) -> Read<T>) -> Read<Vec<T>> {
    match value.list() {
        Some(list) => list.iter().map(one).collect(),
        None => wrong_type(wants, value),
    }
}

/// One revision: `#{ rev: "A", date: "2026-03-31", says: "..." }`, the date
/// left out where none is meant.
fn revision(value: &Value) -> Read<Revision> {
    let Some(map) = value.map() else {
        return wrong_type("a revision such as #{ rev: \"A\", date: \"2026-03-31\", says: \"…\" }", value);
    };
    if let Some(key) = map.keys().find(|k| !["rev", "date", "says"].contains(&k.as_str())) {
        let message = format!("has no key `{}`", short(key));
        return fault_help("unknown-option", message, "a revision has `rev`, `date` and `says`".into());
    }
    let (Some(rev), Some(message)) = (map.get("rev"), map.get("says")) else {
        return fault("missing-option", "needs `rev` and `says`".into());
    };
    let (rev, message) = (text(rev, "rev")?, text(message, "says")?);
    if rev.trim().is_empty() || rev.chars().count() > 2 {
        let message = format!("has the revision `{}`, which is not one or two characters", short(&rev));
        return fault_help(
            "not-a-revision",
            message,
            "the title block has room for `A` or `12` (ISO 7200)".into(),
        );
    }
    let date = map.get("date").map(|date| text(date, "date")).transpose()?;
    match date.as_deref().map(measure::date).transpose() {
        Ok(_) => Ok(Revision { rev, date, says: message }),
        Err(why) => fault("not-a-date", format!("has a date that cannot be read: {why}")),
    }
}
