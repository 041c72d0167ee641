//! Words for those who write furniture types: what a type takes, what makes it
//! impossible, and where what it makes stands.

use rhai::{Dynamic, Engine, EvalAltResult, FnPtr, Map, NativeCallContext, Position};

use super::call::{Call, Does};
use super::read::values::FARTHEST;
use super::saying::Saying;
use super::spec::value;
use super::takes::{self, Take, Taken};
use crate::geometry::DVec3;
use crate::measure::Unit;
use crate::model::{OptionKind, Word};
use crate::problem::{Problem, Severity};
use crate::script::engine::arithmetic::number;
use crate::script::engine::run::{Run, Shared};
use crate::script::engine::value::{describe, short};
use crate::script::engine::{failure, origin};
use crate::source::Origin;

/// The words bound in the usual way.
pub(in crate::script) const WORDS: &[(&Word, Does)] = &[
    (&AT_LEAST, Does { act: at_least, spoilt: || Dynamic::UNIT }),
    (&AT_MOST, Does { act: at_most, spoilt: || Dynamic::UNIT }),
    (&REFUSE, Does { act: refuse, spoilt: || Dynamic::UNIT }),
    (&THICKNESS, Does { act: thickness, spoilt: || Dynamic::from_float(1.0) }),
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
        name: "moved",
        written: "moved(x, y, z, || { … })",
        says: "parts made in it stand so far to the right, to the back and up; gives what its last line gives",
        example: "let ply = sheet_stock(\"Oak plywood\", #{ thick: 18 });\npiece(\"Shelves\");\n\
                  let shelf = moved(100, 0, 300, || panel(\"Shelf\", ply, #{ x: [0, 500], y: [0, 280], z: [0, 18] }));",
    },
];

/// Binds `options` and `moved`.
pub(in crate::script) fn register_types(engine: &mut Engine, run: &Shared) {
    let shared = run.clone();
    engine.register_fn(
        "options",
        move |context: NativeCallContext,
              asked: Dynamic,
              takes: Dynamic|
              -> Result<Map, Box<EvalAltResult>> {
            options(&mut shared.borrow_mut(), &context, &asked, &takes)
        },
    );
    let shared = run.clone();
    engine.register_fn(
        "moved",
        move |context: NativeCallContext, x: Dynamic, y: Dynamic, z: Dynamic, makes: FnPtr| {
            moved(&shared, &context, [x, y, z], &makes)
        },
    );
}

/// Checks what a type was asked for.
fn options(
    run: &mut Run,
    context: &NativeCallContext,
    asked: &Dynamic,
    takes: &Dynamic,
) -> Result<Map, Box<EvalAltResult>> {
    let here = run.origin(context);
    run.numbers_of(here);
    let takes =
        takes::read(run, takes).map_err(|why| stop(run, Problem::error("wrong-type", why).at(here)))?;
    let (at, by_user) = asked_at(run, context, here);
    let Some(map) = asked.flatten_clone().try_cast::<Map>() else {
        let says = format!("a furniture type takes a map of options, not {}", describe(asked));
        let help = "write it as `#{ width: 900 }`, or `#{}` for everything as usual";
        return Err(stop(run, Problem::error("wrong-type", says).at(at).help(help)));
    };
    let before = errors(run);
    let mut whole = Map::new();
    for key in map.keys().filter(|k| takes.iter().all(|t| t.name != k.as_str())) {
        let place = run.key_origin(at, key);
        let says = format!("there is no option `{}` of this furniture type", short(key));
        run.report(Problem::error("unknown-option", says).at(place).help(takes::unknown_key(&takes, key)));
    }
    for take in &takes {
        let taken = match map.get(take.name.as_str()) {
            Some(given) => read_one(run, take, given, (at, by_user)),
            None => Some(take.usual()),
        };
        run.numbers_of(here);
        let value = match taken {
            Some(Taken::Length(mm)) => Dynamic::from_float(mm / run.unit().in_mm()),
            Some(Taken::As(value)) => value,
            None => continue,
        };
        whole.insert(take.name.as_str().into(), value);
    }
    // A part or stock that was spoilt before has its own problem already.
    if errors(run) > before || whole.len() < takes.len() { Err(stopped()) } else { Ok(whole) }
}

/// Reads one value that was given, in the unit of who gave it; a fault is
/// reported.
fn read_one(run: &mut Run, take: &Take, given: &Dynamic, from: (Origin, bool)) -> Option<Taken> {
    let (at, by_user) = from;
    run.numbers_in(if by_user { run.job.unit } else { Unit::Mm });
    match take.checked(run, &given.flatten_clone()) {
        Ok(taken) => Some(taken),
        Err(fault) => {
            if let Some(fault) = fault {
                let place = run.key_origin(at, &take.name);
                let help = fault.help.unwrap_or_else(|| format!("`{}`: {}", take.name, take.says));
                run.report(
                    Problem::error(fault.code, format!("`{}` {}", take.name, fault.says))
                        .at(place)
                        .help(help),
                );
            }
            None
        }
    }
}

/// Where the type was asked for, and whether by a script of the user's own: one
/// type of the library may make another.
fn asked_at(run: &Run, context: &NativeCallContext, here: Origin) -> (Origin, bool) {
    match origin::caller(&run.sources, context) {
        Some((call, true)) => (Origin { user: here.user, library: Some(call) }, false),
        Some((call, false)) => (Origin { user: call, library: None }, true),
        None => (here, here.library.is_none()),
    }
}

/// How many errors there are.
fn errors(run: &Run) -> usize {
    run.problems.iter().filter(|p| p.severity == Severity::Error).count()
}

/// The end of a script whose problem has been reported.
#[allow(clippy::unnecessary_box_returns, reason = "the engine carries its errors boxed")]
fn stopped() -> Box<EvalAltResult> {
    EvalAltResult::ErrorRuntime(failure::reported(), Position::NONE).into()
}

/// Reports what ends the script.
#[allow(clippy::unnecessary_box_returns, reason = "the engine carries its errors boxed")]
fn stop(run: &mut Run, problem: Problem) -> Box<EvalAltResult> {
    run.report(problem);
    stopped()
}

/// Makes parts that stand elsewhere. The run must not be held meanwhile.
#[expect(clippy::needless_pass_by_value, reason = "the engine gives its values away")]
fn moved(
    run: &Shared,
    context: &NativeCallContext,
    by: [Dynamic; 3],
    makes: &FnPtr,
) -> Result<Dynamic, Box<EvalAltResult>> {
    let before = {
        let mut run = run.borrow_mut();
        let here = run.origin(context);
        run.numbers_of(here);
        let mut step = [0.0; 3];
        for (axis, value) in by.iter().enumerate() {
            step[axis] = run.length(&value.flatten_clone()).map_err(|fault| {
                let says = fault
                    .map_or_else(String::new, |f| format!("`moved` takes three lengths: one {}", f.says));
                stop(&mut run, Problem::error("wrong-type", says).at(here))
            })?;
        }
        let before = run.shift;
        run.shift += DVec3::from_array(step);
        before
    };
    let made = makes.call_within_context::<Dynamic>(context, ());
    run.borrow_mut().shift = before;
    made
}

fn at_least(run: &mut Run, call: &Call) -> Dynamic {
    bound(run, call, "least", |value, bound| value < bound - SLACK)
}

fn at_most(run: &mut Run, call: &Call) -> Dynamic {
    bound(run, call, "most", |value, bound| value > bound + SLACK)
}

/// Sizes that differ by less are the same, mm.
const SLACK: f64 = 1e-6;

/// Refuses a size beyond a bound.
fn bound(run: &mut Run, call: &Call, key: &str, beyond: fn(f64, f64) -> bool) -> Dynamic {
    let (value, bound) =
        (call.options.number("length").unwrap_or(0.0), call.options.number(key).unwrap_or(0.0));
    if !beyond(value, bound) {
        return Dynamic::UNIT;
    }
    let name = call.options.text("name").unwrap_or_default();
    let counted = run.counted;
    let show = |mm: f64| if counted { crate::measure::number(mm, 0) } else { run.show(mm) };
    let than = if key == "least" { "at least" } else { "at most" };
    let says = format!("`{name}` is {}; it must be {than} {}", show(value), show(bound));
    give_up(run, call, says, call.options.text("why").unwrap_or_default().to_owned())
}

fn refuse(run: &mut Run, call: &Call) -> Dynamic {
    let text = |key| call.options.text(key).unwrap_or_default();
    let says = format!("`{}` {}", text("name"), text("why"));
    give_up(run, call, says, text("help").to_owned())
}

/// Reports what makes a type impossible and ends the script.
fn give_up(run: &mut Run, call: &Call, says: String, help: String) -> Dynamic {
    let name = call.options.text("name").unwrap_or_default();
    // Only the user's own line is pointed at: there the size can be changed.
    let user = Origin { user: call.origin.user, library: None };
    let at = run.key_origin(user, name);
    run.report(Problem::error("impossible-size", says).at(at).help(help));
    run.ended = true;
    Dynamic::UNIT
}

fn thickness(run: &mut Run, call: &Call) -> Dynamic {
    let stock = call.options.stock("stock").and_then(|id| run.job.stock.get(id.0));
    match stock.map(|s| (s.fixed_thickness(), s.name.clone())) {
        Some((Some(mm), _)) => return Dynamic::from_float(mm / run.unit().in_mm()),
        Some((None, name)) => run.report(
            Problem::error("wrong-stock", format!("`{name}` has no thickness of its own"))
                .at(call.origin)
                .help("solid timber is planed to the thickness its part fills; ask for that of a sheet or of glass"),
        ),
        None => (),
    }
    Dynamic::from_float(1.0)
}

/// Whether values of a call are counts: whole numbers of the language, which
/// lengths of a type never are.
pub(in crate::script) fn are_counts(values: &[Dynamic]) -> bool {
    let numbers: Vec<&Dynamic> = values.iter().filter(|v| number(v).is_some()).collect();
    !numbers.is_empty() && numbers.iter().all(|v| v.is_int())
}
