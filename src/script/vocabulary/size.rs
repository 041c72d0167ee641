//! `size`, `count`, `choice`, `yes_no`: what can be changed from outside, and
//! `mm` and `inch`.

use super::call::{Call, Does};
use super::read::values::FARTHEST;
use super::spec::{option, value};
use crate::measure::{INCH, read_length};
use crate::model::{OptionKind, OptionValue, SizeDecl, SizeKind, SizeValue, Usual, Word};
use crate::problem::{Problem, nearest, wording};
use crate::script::run::Run;
use crate::script::value::{Value, short};

/// How far a size may be past its range by the rounding of inches, mm.
const ROUNDED: f64 = 1e-7;

/// The words.
pub(in crate::script) const WORDS: &[(&Word, Does)] = &[
    (&SIZE, Does { act: size, spoilt: || Value::Number(0.0) }),
    (&COUNT, Does { act: count, spoilt: || Value::Whole(1) }),
    (&CHOICE, Does { act: choice, spoilt: || Value::Text(String::new()) }),
    (&YES_NO, Does { act: yes_no, spoilt: || Value::YesNo(false) }),
    (&MM, Does { act: mm, spoilt: || Value::Number(0.0) }),
    (&INCH_WORD, Does { act: inch, spoilt: || Value::Number(0.0) }),
];

/// Any length.
const LENGTH: OptionKind = OptionKind::Length { min: -FARTHEST, max: FARTHEST };
/// Any whole number.
const WHOLE: OptionKind = OptionKind::Count { min: 0, max: 1_000_000 };

static SIZE: Word = Word {
    name: "size",
    args: &[value("name", OptionKind::Text), value("default", LENGTH)],
    options: &[
        option("from", LENGTH, &[Usual::Words("no least")], "least value"),
        option("to", LENGTH, &[Usual::Words("no greatest")], "greatest value"),
        option("says", OptionKind::Text, &[Usual::Words("nothing")], "one sentence about it"),
    ],
    says: "declares a length that can be changed from outside, and gives its value",
    rule: "",
    example: "let width = size(\"width\", 900, #{ from: 500, to: 1400, says: \"overall width\" });",
};

static COUNT: Word = Word {
    name: "count",
    args: &[value("name", OptionKind::Text), value("default", WHOLE)],
    options: &[
        option("from", WHOLE, &[Usual::Words("no least")], "least value"),
        option("to", WHOLE, &[Usual::Words("no greatest")], "greatest value"),
        option("says", OptionKind::Text, &[Usual::Words("nothing")], "one sentence about it"),
    ],
    says: "declares a whole number that can be changed from outside, and gives its value",
    rule: "",
    example: "let shelves = count(\"shelves\", 2, #{ from: 1, to: 4 });",
};

static CHOICE: Word = Word {
    name: "choice",
    args: &[
        value("name", OptionKind::Text),
        value("default", OptionKind::Text),
        value("among", OptionKind::Texts),
    ],
    options: &[option("says", OptionKind::Text, &[Usual::Words("nothing")], "one sentence about it")],
    says: "declares a choice among texts that can be changed from outside, and gives its value",
    rule: "",
    example: "let back = choice(\"back\", \"groove\", [\"groove\", \"rebate\"]);",
};

static YES_NO: Word = Word {
    name: "yes_no",
    args: &[value("name", OptionKind::Text), value("default", OptionKind::YesNo)],
    options: &[option("says", OptionKind::Text, &[Usual::Words("nothing")], "one sentence about it")],
    says: "declares a yes or no that can be changed from outside, and gives its value",
    rule: "",
    example: "let glazed = yes_no(\"glazed\", true);",
};

static MM: Word = Word {
    name: "mm",
    args: &[value("length", OptionKind::Ratio { min: -FARTHEST, max: FARTHEST })],
    options: &[],
    says: "a length in mm, whatever the script's unit",
    rule: "",
    example: "let t = mm(18);",
};

static INCH_WORD: Word = Word {
    name: "inch",
    args: &[value("length", OptionKind::Ratio { min: -FARTHEST / INCH, max: FARTHEST / INCH })],
    options: &[],
    says: "a length in inches, whatever the script's unit",
    rule: "25.4 mm to the inch exactly (ISO 31-1)",
    example: "let t = inch(3/4);",
};

fn mm(run: &mut Run, call: &Call) -> Value {
    in_unit(run, call.options.number("length").unwrap_or(0.0))
}

fn inch(run: &mut Run, call: &Call) -> Value {
    in_unit(run, call.options.number("length").unwrap_or(0.0) * INCH)
}

/// A length in mm as a number of the script's unit.
fn in_unit(run: &Run, mm: f64) -> Value {
    Value::Number(mm / run.unit().in_mm())
}

/// A declaration in the making: the call, and the name declared.
struct Declaring<'a> {
    /// The call.
    call: &'a Call,
    /// The name.
    name: &'a str,
}

/// What is wrong with a value set from outside, and what to do.
struct Wrong<'a> {
    code: &'static str,
    says: &'a str,
    help: String,
}

impl<'a> Declaring<'a> {
    /// Starts a declaration; a name that is taken or empty is reported.
    fn new(run: &mut Run, call: &'a Call) -> Self {
        let name = call.options.text("name").unwrap_or_default();
        let before = run.job.sizes.iter().find(|s| s.decl.name == name).map(|s| s.decl.origin);
        if let Some(before) = before {
            run.report(
                Problem::error("size-twice", format!("`{name}` is declared twice"))
                    .at(call.origin)
                    .place(before.user, "first declared here")
                    .help("give each size its own name"),
            );
        }
        if name.is_empty() || name.contains(['=', ' ']) {
            run.report(
                Problem::error("bad-name", format!("`{name}` cannot be the name of a size"))
                    .at(call.origin)
                    .help("use a name without spaces and `=`, such as `door_height`"),
            );
        }
        Self { call, name }
    }

    /// The text set from outside for it; the last one said counts.
    fn setting(&self, run: &mut Run) -> Option<String> {
        let found = run.settings.iter().rev().find(|(n, _)| n == self.name).map(|(_, v)| v.clone());
        if found.is_some() {
            run.taken.insert(self.name.to_owned());
        }
        found
    }

    /// Reports a setting that will not do.
    fn bad_setting(&self, run: &mut Run, text: &str, fault: Wrong<'_>) {
        let Wrong { code, says: message, help } = fault;
        let text = short(text);
        run.report(
            Problem::error(code, format!("`{}` is set to `{text}`: {message}", self.name))
                .place(self.call.origin.user, "declared here")
                .help(help),
        );
    }

    /// Reports a default that its own declaration does not allow.
    fn bad_default(&self, run: &mut Run, message: String) {
        let help = "mend the default or the range".to_owned();
        run.report(Problem::error("out-of-range", message).at(self.call.origin).help(help));
    }

    /// Keeps the declaration with its value.
    fn keep(self, run: &mut Run, kind: SizeKind, number: Option<f64>, text: Option<String>) {
        let decl = SizeDecl {
            name: self.name.to_owned(),
            kind,
            says: self.call.options.text("says").unwrap_or_default().to_owned(),
            origin: self.call.origin,
        };
        run.job.sizes.push(SizeValue { decl, number, text, idle: false });
    }
}

/// `500 mm to 1400 mm`, `500 mm or more`.
fn range(from: Option<String>, to: Option<String>) -> String {
    match (from, to) {
        (Some(from), Some(to)) => format!("{from} to {to}"),
        (Some(from), None) => format!("{from} or more"),
        (None, Some(to)) => format!("{to} or less"),
        (None, None) => "any value".into(),
    }
}

/// Whether a value lies in a range either end of which may be open. The slack
/// is far below the grid lengths are kept to.
fn inside(value: f64, from: Option<f64>, to: Option<f64>) -> bool {
    from.is_none_or(|from| value >= from - ROUNDED) && to.is_none_or(|to| value <= to + ROUNDED)
}

fn size(run: &mut Run, call: &Call) -> Value {
    let declaring = Declaring::new(run, call);
    let number = |key| call.options.number(key);
    let (default, from, to) = (number("default").unwrap_or(0.0), number("from"), number("to"));
    let allowed = range(from.map(|v| run.show(v)), to.map(|v| run.show(v)));
    if !inside(default, from, to) {
        let message =
            format!("the default of `{}`, {}, is not within {allowed}", declaring.name, run.show(default));
        declaring.bad_default(run, message);
    }
    let mut value = default;
    if let Some(text) = declaring.setting(run) {
        match read_length(&text, run.unit()) {
            Ok(mm) if inside(mm, from, to) && mm.abs() <= FARTHEST => value = mm,
            Ok(mm) => {
                let message = format!("{} is out of its range", run.show(mm));
                let help = format!("it can be {allowed}");
                declaring.bad_setting(run, &text, Wrong { code: "out-of-range", says: &message, help });
            }
            Err(why) => {
                let help = format!("write a length such as {}", run.show(default));
                let message = why.to_string();
                declaring.bad_setting(run, &text, Wrong { code: "bad-setting", says: &message, help });
            }
        }
    }
    declaring.keep(run, SizeKind::Length { default, from, to }, Some(value), None);
    in_unit(run, value)
}

fn count(run: &mut Run, call: &Call) -> Value {
    let declaring = Declaring::new(run, call);
    let whole = |key| call.options.count(key).map(i64::from);
    let (default, from, to) = (whole("default").unwrap_or(0), whole("from"), whole("to"));
    let allowed = range(from.map(|v| v.to_string()), to.map(|v| v.to_string()));
    let fits =
        |v: i64| from.is_none_or(|f| v >= f) && to.is_none_or(|t| v <= t) && (0..=1_000_000).contains(&v);
    if !fits(default) {
        let message = format!("the default of `{}`, {default}, is not within {allowed}", declaring.name);
        declaring.bad_default(run, message);
    }
    let mut value = default;
    if let Some(text) = declaring.setting(run) {
        match text.trim().parse::<i64>() {
            Ok(n) if fits(n) => value = n,
            Ok(n) => {
                let message = format!("{n} is out of its range");
                let help = format!("it can be {allowed}");
                declaring.bad_setting(run, &text, Wrong { code: "out-of-range", says: &message, help });
            }
            Err(_) => {
                let message = "that is not a whole number";
                let help = format!("it can be {allowed}");
                declaring.bad_setting(run, &text, Wrong { code: "bad-setting", says: message, help });
            }
        }
    }
    declaring.keep(run, SizeKind::Count { default, from, to }, Some(value as f64), None);
    Value::Whole(value)
}

fn choice(run: &mut Run, call: &Call) -> Value {
    let declaring = Declaring::new(run, call);
    let default = call.options.text("default").unwrap_or_default().to_owned();
    let among = match call.options.0.get("among") {
        Some(OptionValue::Texts(texts)) => texts.clone(),
        _ => Vec::new(),
    };
    let names = || among.iter().map(String::as_str);
    let can_be = format!("it can be {}", wording::one_of(names()));
    if !among.contains(&default) {
        let message = format!("the default of `{}`, `{default}`, is not among its choices", declaring.name);
        declaring.bad_default(run, message);
    }
    let mut value = default.clone();
    if let Some(text) = declaring.setting(run) {
        if among.iter().any(|a| *a == text.trim()) {
            text.trim().clone_into(&mut value);
        } else {
            let help = match nearest(&text, names()) {
                Some(near) => format!("did you mean `{near}`? {can_be}"),
                None => can_be,
            };
            let message = "that is not among its choices";
            declaring.bad_setting(run, &text, Wrong { code: "unknown-choice", says: message, help });
        }
    }
    declaring.keep(run, SizeKind::Choice { default, among }, None, Some(value.clone()));
    Value::Text(value)
}

fn yes_no(run: &mut Run, call: &Call) -> Value {
    let declaring = Declaring::new(run, call);
    let default = call.options.yes("default");
    let mut value = default;
    if let Some(text) = declaring.setting(run) {
        match text.trim() {
            "yes" | "true" => value = true,
            "no" | "false" => value = false,
            _ => {
                let message = "that is neither yes nor no";
                let help = "write `yes` or `no`".into();
                declaring.bad_setting(run, &text, Wrong { code: "bad-setting", says: message, help });
            }
        }
    }
    let shown = if value { "yes" } else { "no" };
    declaring.keep(run, SizeKind::YesNo { default }, None, Some(shown.to_owned()));
    Value::YesNo(value)
}

/// Settings from outside that no declaration took, as problems.
pub(in crate::script) fn settings_left(run: &mut Run) {
    let names: Vec<String> = run.job.sizes.iter().map(|s| s.decl.name.clone()).collect();
    let names = || names.iter().map(String::as_str);
    let left: Vec<String> =
        run.settings.iter().map(|(n, _)| n.clone()).filter(|n| !run.taken.contains(n)).collect();
    for name in left {
        let can_be = match names().count() {
            0 => "the script declares nothing that can be set".to_owned(),
            _ => format!("what can be set: {}", wording::all_of(names())),
        };
        let help = match nearest(&name, names()) {
            Some(near) => format!("did you mean `{near}`? {can_be}"),
            None => can_be,
        };
        let name = short(&name);
        run.report(
            Problem::error("unknown-setting", format!("there is no size or choice `{name}` to set"))
                .help(help),
        );
    }
}
