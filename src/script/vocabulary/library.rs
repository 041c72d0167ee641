//! Words for those who write furniture types: what a type takes, what makes it
//! impossible, and where what it makes stands.

use super::call::{Call, Does};
use super::read::values::{AXES, FARTHEST};
use super::saying::Saying;
use super::spec::value;
use crate::measure::{Unit, down};
use crate::model::{Arg, OptionKind, Takes, Word};
use crate::problem::Problem;
use crate::script::inch_rule::why_in;
use crate::script::run::Run;
use crate::script::value::Value;
use crate::source::Origin;

/// The words bound in the usual way.
pub(in crate::script) const WORDS: &[(&Word, Does)] = &[
    (&AT_LEAST, Does { act: at_least, spoilt: || Value::Nothing }),
    (&AT_MOST, Does { act: at_most, spoilt: || Value::Nothing }),
    (&REFUSE, Does { act: refuse, spoilt: || Value::Nothing }),
    (&SPAN, Does { act: span, spoilt: || Value::List(vec![Value::Number(0.0), Value::Number(1.0)]) }),
    (&THICKNESS, Does { act: thickness, spoilt: || Value::Number(1.0) }),
];

/// Any length or number.
const ANY: OptionKind = OptionKind::Length { min: -FARTHEST, max: FARTHEST };

static AT_LEAST: Word = Word {
    name: "at_least",
    args: &[
        value("name", OptionKind::Text),
        value("length", ANY),
        value("least", ANY),
        value("why", OptionKind::Text),
    ],
    options: &[],
    says: "refuses to make a type whose size of this name is less than it can be made with, at the line that asked \
           for it",
    rule: "",
    example: "at_least(\"width\", 450, 300, \"two doors of 150 mm each\");",
};

static AT_MOST: Word = Word {
    name: "at_most",
    args: &[
        value("name", OptionKind::Text),
        value("length", ANY),
        value("most", ANY),
        value("why", OptionKind::Text),
    ],
    options: &[],
    says: "refuses to make a type whose size of this name is more than it can be made with, at the line that asked \
           for it",
    rule: "",
    example: "at_most(\"width\", 1800, 2420, \"the shelf is cut from a sheet of 2440 mm\");",
};

static REFUSE: Word = Word {
    name: "refuse",
    args: &[value("name", OptionKind::Text), value("why", OptionKind::Text), value("help", OptionKind::Text)],
    options: &[],
    says: "refuses to make a type for what it was asked under this name, at the line that asked for it",
    rule: "",
    example: "if 300 > 400 { refuse(\"width\", \"leaves no room for a door\", \"make it wider\"); }",
};

static THICKNESS: Word = Word {
    name: "thickness",
    args: &[value("stock", OptionKind::Stock)],
    options: &[],
    says: "the thickness of a sheet or glass stock",
    rule: "",
    example: "let ply = sheet_stock(\"Oak plywood\", #{ thick: 19 });\nlet t = thickness(ply);",
};

static SPAN: Word = Word {
    name: "span",
    args: &[Arg { name: "part", takes: Takes::Part }, value("axis", OptionKind::Choice(&AXES))],
    options: &[],
    says: "from where to where a part reaches along an axis, `[from, to]`, counted as its parts are where `span` stands",
    rule: "",
    example: "let ends = span(left, \"y\");\nlet deep = ends[1] - ends[0];",
};

/// `options` and `moved`, bound by themselves.
pub(in crate::script) const TYPES: &[Saying] = &[
    Saying {
        name: "options",
        written: "options(asked, takes)",
        says: "checks the map a furniture type was asked for against the list of what it takes, and gives the whole map",
        example: "let takes = [\n    #{ name: \"width\", length: 900, from: 300, to: 1200, says: \"overall width\" },\n    \
                  #{ name: \"shelves\", count: 3, from: 1, to: 8, says: \"fixed shelves\" },\n];\n\
                  let asked = options(#{ shelves: 2 }, takes);\nlet wide = asked.width;",
    },
    Saying {
        name: "by_unit",
        written: "by_unit(mm, inches)",
        says: "a length of a type, in mm: the first in a job in millimetres, so many inches in a job in inches, for what is \
               sold by either",
        example: "let long = by_unit(2440, 96);",
    },
    Saying {
        name: "near",
        written: "near(mm)",
        says: "a size that a type chooses itself, in mm: as it stands in a job in millimetres, in a job in inches the \
               nearest that such a shop sets out by: thirty-seconds up to 1.2 mm, sixteenths up to 5, eighths up to 40, halves up to 200, whole \
               inches over that",
        example: "let rail = near(22);",
    },
    Saying {
        name: "down",
        written: "down(mm)",
        says: "a size that a type works out, in mm: the next below of whole millimetres, or of sixteenths of an inch in a \
               job in inches",
        example: "let deep = down(387.4);",
    },
    Saying {
        name: "moved",
        written: "moved(x, y, z, || { … })",
        says: "parts made in it stand so far to the right, to the back and up; gives what its last line gives",
        example: "let ply = sheet_stock(\"Oak plywood\", #{ thick: 18 });\npiece(\"Shelves\");\n\
                  let shelf = moved(100, 0, 300, || panel(\"Shelf\", ply, #{ x: [0, 500], y: [0, 280], z: [0, 18] }));",
    },
];

fn at_least(run: &mut Run, call: &Call) -> Value {
    bound(run, call, "least", |value, bound| value < bound - SLACK)
}

fn at_most(run: &mut Run, call: &Call) -> Value {
    bound(run, call, "most", |value, bound| value > bound + SLACK)
}

/// The step of the bounds that are told in inches, mm.
const SIXTEENTH: f64 = 25.4 / 16.0;
/// Sizes that differ by less are the same, mm.
const SLACK: f64 = 1e-6;

/// Refuses a size beyond a bound.
fn bound(run: &mut Run, call: &Call, key: &str, beyond: fn(f64, f64) -> bool) -> Value {
    let (value, bound) =
        (call.options.number("length").unwrap_or(0.0), call.options.number(key).unwrap_or(0.0));
    if !beyond(value, bound) {
        return Value::Nothing;
    }
    let name = call.options.text("name").unwrap_or_default();
    let counted = run.counted;
    let show = |mm: f64| if counted { crate::measure::number(mm, 0) } else { run.show(mm) };
    let than = if key == "least" { "at least" } else { "at most" };
    // A bound that is no whole fraction is told to the safe side: as told it is not refused again.
    let safe = match run.job.unit {
        Unit::Inch if !counted && key == "least" => down(Unit::Inch, bound + SIXTEENTH - SLACK),
        Unit::Inch if !counted => down(Unit::Inch, bound),
        _ => bound,
    };
    let message = format!("`{name}` is {}; it must be {than} {}", show(value), show(safe));
    let why = why_in(run.job.unit, call.options.text("why").unwrap_or_default());
    give_up(run, call, message, why)
}

fn refuse(run: &mut Run, call: &Call) -> Value {
    let text = |key| call.options.text(key).unwrap_or_default();
    let message = format!("`{}` {}", text("name"), text("why"));
    give_up(run, call, message, text("help").to_owned())
}

/// Reports what makes a type impossible and ends the script.
fn give_up(run: &mut Run, call: &Call, message: String, help: String) -> Value {
    let name = call.options.text("name").unwrap_or_default();
    // Only the user's own line is pointed at: there the size can be changed.
    let user = Origin { user: call.origin.user, library: None };
    let at = run.key_origin(user, name);
    run.report(Problem::error("impossible-size", message).at(at).help(help));
    run.ended = true;
    Value::Nothing
}

/// Where a part reaches along an axis, as one counts inside `moved`.
fn span(run: &mut Run, call: &Call) -> Value {
    let axis = call.options.text("axis").and_then(|name| AXES.iter().position(|axis| *axis == name));
    let (Some(part), Some(axis)) = (call.parts.iter().flatten().next().copied(), axis) else {
        return Value::Nothing;
    };
    let (from, to) = run.reach_of(part, axis);
    let unit = run.unit().in_mm();
    Value::List(vec![Value::Number(from / unit), Value::Number(to / unit)])
}

fn thickness(run: &mut Run, call: &Call) -> Value {
    let stock = call.options.stock("stock").and_then(|id| run.job.stock.get(id.0));
    match stock.map(|s| (s.fixed_thickness(), s.name.clone())) {
        Some((Some(mm), _)) => return Value::Number(mm / run.unit().in_mm()),
        Some((None, name)) => run.report(
            Problem::error("wrong-stock", format!("`{name}` has no thickness of its own"))
                .at(call.origin)
                .help("solid timber is planed to the thickness its part fills; ask for that of a sheet or of glass"),
        ),
        None => (),
    }
    Value::Number(1.0)
}

/// Whether values of a call are counts: whole numbers of the language, which
/// lengths of a type never are.
pub(in crate::script) fn are_counts(values: &[Value]) -> bool {
    let numbers: Vec<&Value> = values.iter().filter(|v| v.number().is_some()).collect();
    !numbers.is_empty() && numbers.iter().all(|v| matches!(v, Value::Whole(_)))
}
