//! What a script can say that is no word: it takes functions or gives places, and so
//! is bound by itself.

use rhai::{Dynamic, Engine, EvalAltResult, FLOAT, FnPtr, NativeCallContext, Position};

use super::arithmetic::number;
use super::convert::{dynamic, value};
use super::failure::{reported, wrong_value};
use super::origin::{caller, origin};
use crate::geometry::DVec3;
use crate::measure::{self, INCH, Unit};
use crate::model::Side;
use crate::problem::{Problem, Severity, wording};
use crate::script::given::{Given, Which};
use crate::script::inch_rule::says_in;
use crate::script::library::LIBRARY;
use crate::script::library::takes::{self, Take, Taken};
use crate::script::run::{Run, Shared};
use crate::script::value::{Against, Between, Map, PartRef, StockRef, Value, describe, short};
use crate::source::Origin;

/// Binds `between` and `against`, which give places.
pub(in crate::script) fn register_places(engine: &mut Engine) {
    engine
        .register_type_with_name::<PartRef>("part")
        .register_type_with_name::<StockRef>("stock")
        .register_fn("between", |a: PartRef, b: PartRef| Between(a, b))
        .register_fn("against", |part: PartRef| Against { part, side: None })
        .register_fn("against", |part: PartRef, side: &str| match Side::from_name(side) {
            Some(side) => Ok(Against { part, side: Some(side) }),
            None => Err(wrong_value(
                format!("`against` takes a side of the part, not `{}`", short(side)),
                "write `against(part, \"left\")`, or `right`, `front`, `back`, `bottom`, `top`",
            )),
        } as Result<Against, Box<EvalAltResult>>)
        .register_fn("==", |a: PartRef, b: PartRef| a == b)
        .register_fn("!=", |a: PartRef, b: PartRef| a != b);
}

/// Binds `after_glue_up(|| …)`: it calls back into the script, so the run
/// must not be held while it does.
pub(in crate::script) fn register_after(engine: &mut Engine, run: &Shared) {
    let shared = run.clone();
    engine.register_fn("after_glue_up", move |context: NativeCallContext, works: FnPtr| {
        let before = std::mem::replace(&mut shared.borrow_mut().after_glue_up, true);
        let result = works.call_within_context::<Dynamic>(&context, ());
        shared.borrow_mut().after_glue_up = before;
        result.map(|_| ())
    });
    let shared = run.clone();
    engine.register_fn("after_glue_up", move |context: NativeCallContext, _wrong: Dynamic| {
        let mut run = shared.borrow_mut();
        let origin = origin(&run.sources, &context);
        run.report(
            Problem::error("wrong-type", "`after_glue_up` takes what is done then, after `||`")
                .at(origin)
                .help("write `after_glue_up(|| rebate(panel, rail))`"),
        );
    });
}

/// Binds `options` and `moved`.
pub(in crate::script) fn register_types(engine: &mut Engine, run: &Shared) {
    let shared = run.clone();
    engine.register_fn(
        "options",
        move |context: NativeCallContext,
              asked: Dynamic,
              takes: Dynamic|
              -> Result<rhai::Map, Box<EvalAltResult>> {
            options(&mut shared.borrow_mut(), &context, &value(&asked), &value(&takes))
        },
    );
    let shared = run.clone();
    engine.register_fn(
        "by_unit",
        move |metric: Dynamic, inches: Dynamic| -> Result<FLOAT, Box<EvalAltResult>> {
            let length = |value: &Dynamic| {
                number(value).ok_or_else(|| {
                    wrong_value(
                        "`by_unit` takes two numbers",
                        "it is written `by_unit(2440, 96)`, in mm and in inches",
                    )
                })
            };
            let (metric, inches) = (length(&metric)?, length(&inches)?);
            Ok(if shared.borrow().job.unit == Unit::Inch { inches * INCH } else { metric })
        },
    );
    for (name, tidy) in [("near", measure::near as fn(Unit, f64) -> f64), ("down", measure::down)] {
        let shared = run.clone();
        engine.register_fn(name, move |length: Dynamic| -> Result<FLOAT, Box<EvalAltResult>> {
            let length = number(&length).ok_or_else(|| {
                wrong_value(format!("`{name}` takes a number of mm"), format!("it is written `{name}(22)`"))
            })?;
            Ok(tidy(shared.borrow().job.unit, length))
        });
    }
    let shared = run.clone();
    engine.register_fn(
        "moved",
        move |context: NativeCallContext, x: Dynamic, y: Dynamic, z: Dynamic, makes: FnPtr| {
            moved(&shared, &context, [x, y, z], &makes)
        },
    );
}

/// The types of the library that do take an option of this name; nothing if none does.
fn elsewhere(key: &str) -> String {
    let line = format!("#{{ name: \"{key}\",");
    let types = LIBRARY.iter().filter(|(_, text)| text.contains(&line)).map(|(module, _)| *module);
    let types: Vec<&str> = types.collect();
    match types.as_slice() {
        [] => String::new(),
        [only] => format!("; `{only}` takes `{key}`"),
        several => format!("; {} take `{key}`", wording::all_of(several.iter().copied())),
    }
}

/// How one thing that a type takes is written.
const A_TAKE: &str =
    "each is written like `#{ name: \"width\", length: 900, from: 300, to: 1200, says: \"overall width\" }`";

/// Checks what a type was asked for.
fn options(
    run: &mut Run,
    context: &NativeCallContext,
    asked: &Value,
    takes: &Value,
) -> Result<rhai::Map, Box<EvalAltResult>> {
    let here = origin(&run.sources, context);
    run.numbers_of(here);
    let takes = takes::read(run, takes)
        .map_err(|why| stop(run, Problem::error("wrong-type", why).at(here).help(A_TAKE)))?;
    let (at, by_user) = asked_at(run, context, here);
    let Some(map) = asked.map() else {
        let message = format!("a furniture type takes a map of options, not {}", describe(asked));
        let help = "write it as `#{ width: 900 }`, or `#{}` for everything as usual";
        return Err(stop(run, Problem::error("wrong-type", message).at(at).help(help)));
    };
    let before = errors(run);
    let mut whole = rhai::Map::new();
    let stocks = shared_stock(run, map, &takes, at);
    let read = |key: &str| key == STOCK && takes.iter().any(Take::is_stock);
    for key in map.keys().filter(|k| takes.iter().all(|t| t.name != k.as_str()) && !read(k)) {
        let place = run.key_origin(at, key);
        let message = format!("there is no option `{}` of this furniture type", short(key));
        let help = format!("{}{}", takes::unknown_key(&takes, key), elsewhere(key));
        run.report(Problem::error("unknown-option", message).at(place).help(help));
    }
    for take in &takes {
        let own = map.get(take.name.as_str());
        let shared = || stocks.filter(|_| take.is_stock())?.get(take.name.as_str());
        let taken = match own.or_else(shared) {
            Some(given) => read_one(run, take, given, (at, by_user)),
            None => Some(take.usual(run.job.unit)),
        };
        // A type of the script's own may do with its stocks as it likes.
        if let (Some(Taken::As(value)), true) = (&taken, by_user && here.library.is_some() && take.is_stock())
        {
            keep_given(run, take, value, (at, own.is_none()));
        }
        run.numbers_of(here);
        let value = match taken {
            Some(Taken::Length(mm)) => Value::Number(mm / run.unit().in_mm()),
            Some(Taken::Lengths(all)) => {
                Value::List(all.into_iter().map(|mm| Value::Number(mm / run.unit().in_mm())).collect())
            }
            Some(Taken::As(value)) => value,
            None => continue,
        };
        whole.insert(take.name.as_str().into(), dynamic(value));
    }
    // A part or stock that was spoilt before has its own problem already.
    if errors(run) > before || whole.len() < takes.len() { Err(stopped()) } else { Ok(whole) }
}

/// The option by which one map of stocks is given to a type, and to others alike.
pub(in crate::script) const STOCK: &str = "stock";

/// The stocks given in one map, by the names of the options they stand for, if the type is
/// made of any. One map serves several types, so that a name only another takes is let
/// pass; one that none takes is reported.
fn shared_stock<'a>(run: &mut Run, map: &'a Map, takes: &[Take], at: Origin) -> Option<&'a Map> {
    let names: Vec<&str> = takes.iter().filter(|t| t.is_stock()).map(|t| t.name.as_str()).collect();
    let given = map.get(STOCK).filter(|_| !names.is_empty())?;
    let place = run.key_origin(at, STOCK);
    let example = format!("#{{ {}: my_stock }}", names.first().copied().unwrap_or_default());
    let Some(stocks) = given.map() else {
        let message = format!("`{STOCK}` must be a map of stocks, not {}", describe(given));
        let help = format!(
            "write it as `{STOCK}: {example}`; its names can be {}",
            wording::all_of(names.iter().copied())
        );
        run.report(Problem::error("wrong-type", message).at(place).help(help));
        return None;
    };
    for key in stocks.keys().filter(|k| !names.contains(&k.as_str()) && elsewhere(k).is_empty()) {
        let message = format!("no furniture type has a stock `{}`", short(key));
        let help = format!("this one takes {}", wording::all_of(names.iter().copied()));
        run.report(Problem::error("unknown-option", message).at(place).help(help));
    }
    Some(stocks)
}

/// Keeps a stock that a script gave, or named outright: a name that comes of a choice is the
/// client's, who may choose other things that leave it out.
fn keep_given(run: &mut Run, take: &Take, value: &Value, (call, shared): (Origin, bool)) {
    let place = run.key_origin(call, if shared { STOCK } else { &take.name });
    let stock = match value {
        Value::Stock(StockRef(Some(id))) => Which::Own(*id),
        Value::Text(name) if !name.starts_with(AS_ANOTHER) && outright(run, place) => {
            Which::Known(name.clone())
        }
        _ => return,
    };
    let says = says_in(run.job.unit, take.says.split(';').next().unwrap_or(&take.says));
    let given = Given { key: take.name.clone(), says, stock, call, place, shared };
    if !run.given.contains(&given) {
        run.given.push(given);
    }
}

/// How the name of a stock begins that is as another one.
const AS_ANOTHER: &str = "as the ";

/// Whether a text stands behind the key at `place`, and no variable.
fn outright(run: &Run, place: Origin) -> bool {
    let text = run.sources.get(place.user.source).map_or("", |source| &*source.text);
    let after = text.get(place.user.end..).unwrap_or("").trim_start();
    after.strip_prefix(':').is_some_and(|value| value.trim_start().starts_with('"'))
}

/// Reads one value that was given, in the unit of who gave it; a fault is
/// reported.
fn read_one(run: &mut Run, take: &Take, given: &Value, from: (Origin, bool)) -> Option<Taken> {
    let (at, by_user) = from;
    run.numbers_in(if by_user { run.job.unit } else { Unit::Mm });
    match take.checked(run, given) {
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
    match caller(&run.sources, context) {
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
    EvalAltResult::ErrorRuntime(reported(), Position::NONE).into()
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
        let here = origin(&run.sources, context);
        run.numbers_of(here);
        let mut step = [0.0; 3];
        for (axis, length) in by.iter().enumerate() {
            step[axis] = run.length(&value(length)).map_err(|fault| {
                let Some(fault) = fault else { return stopped() };
                let message = format!("`moved` takes three lengths: one {}", fault.says);
                let help = "it is written `moved(100, 0, 300, || panel(…))`: so far to the right, to the back and up";
                stop(&mut run, Problem::error("wrong-type", message).at(here).help(help))
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
