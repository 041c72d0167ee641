//! Every argument and key of every call checked against the word's own data.

use super::call::Call;
use super::read::cure::cure;
use super::read::values::Fault;
use super::spec::UNLESS_IT_RUNS;
use crate::model::{Arg, OptionSpec, Options, Takes, Word};
use crate::problem::{Problem, nearest, wording};
use crate::script::run::Run;
use crate::script::value::{Map, Value, short};
use crate::source::Origin;

/// Checks every argument and key; `None` if anything is wrong, which has then
/// been reported, or if a part in it was spoilt before.
pub(in crate::script) fn check(
    run: &mut Run,
    word: &'static Word,
    values: &[Value],
    origin: Origin,
) -> Option<Call> {
    let (map, values) = match values.split_last() {
        Some((Value::Map(map), rest)) => (Some(map.clone()), rest),
        _ => (None, values),
    };
    if let Some(problem) = wrong_number(word, values.len(), origin) {
        run.report(problem);
        return None;
    }
    let mut call = Call { word, parts: Vec::new(), options: Options::default(), origin };
    let mut good = true;
    for (arg, value) in word.args.iter().zip(values) {
        good &= read_arg(run, &mut call, arg, value);
    }
    good &= read_options(run, &mut call, &map.unwrap_or_default());
    good.then_some(call)
}

/// Too few or too many arguments.
fn wrong_number(word: &Word, given: usize, origin: Origin) -> Option<Problem> {
    if given == word.args.len() {
        return None;
    }
    let takes = signature(word);
    let message = if given > word.args.len() {
        let wants = wording::count(word.args.len(), "argument", "arguments");
        format!("`{}` takes {wants} before its options, but has {given}", word.name)
    } else {
        let missing = word.args.iter().skip(given).map(|a| a.name);
        format!("`{}` needs {}", word.name, wording::all_of(missing))
    };
    let code = if given > word.args.len() { "too-many-arguments" } else { "missing-argument" };
    Some(Problem::error(code, message).at(origin).help(format!("it is written {takes}")))
}

/// A word with its arguments as it is written.
pub(in crate::script) fn signature(word: &Word) -> String {
    format!("`{}`", word.written())
}

/// Reads one argument into the call.
fn read_arg(run: &mut Run, call: &mut Call, arg: &'static Arg, value: &Value) -> bool {
    let fault = match arg.takes {
        Takes::Part | Takes::Parts => match Run::parts(value, arg.takes == Takes::Parts) {
            Ok(parts) => {
                call.parts.push(parts);
                return true;
            }
            Err(fault) => fault,
        },
        Takes::Value(kind) => match run.read(kind, value, arg.name) {
            Ok(value) => {
                call.options.0.insert(arg.name, value);
                return true;
            }
            Err(fault) => fault,
        },
    };
    if let Some(fault) = fault {
        let at = call.origin;
        run.report(problem(call.word, arg.name, fault, at));
    }
    false
}

/// Reads the option map into the call: unknown keys first, then values, then
/// what is missing.
fn read_options(run: &mut Run, call: &mut Call, map: &Map) -> bool {
    let word = call.word;
    let mut good = true;
    run.stand_beside(word, map);
    for (key, value) in map {
        let at = run.key_origin(call.origin, key);
        let Some(spec) = word.options.iter().find(|o| o.key == key.as_str()) else {
            run.report(unknown_option(word, key, at));
            good = false;
            continue;
        };
        match run.read(spec.kind, value, spec.key) {
            Ok(value) => {
                call.options.0.insert(spec.key, value);
            }
            Err(fault) => {
                good = false;
                if let Some(fault) = fault {
                    run.report(problem(word, spec.key, fault, at));
                }
            }
        }
    }
    let needed =
        |o: &OptionSpec| o.default.is_empty() || (o.default == UNLESS_IT_RUNS && !map.contains_key("runs"));
    let missing: Vec<&OptionSpec> =
        word.options.iter().filter(|o| needed(o) && !map.contains_key(o.key)).collect();
    if missing.is_empty() {
        return good;
    }
    let names = wording::all_of(missing.iter().map(|o| o.key));
    let option = if missing.len() == 1 { "the option" } else { "the options" };
    let help = missing.iter().map(|o| format!("`{}`: {}", o.key, o.says)).collect::<Vec<_>>().join("; ");
    let help = format!("{help}; as in {}", shown_in(word));
    run.report(
        Problem::error("missing-option", format!("`{}` needs {option} {names}", word.name))
            .at(call.origin)
            .help(help),
    );
    false
}

/// The line of a word's example in which it stands.
fn shown_in(word: &Word) -> String {
    let call = format!("{}(", word.name);
    let line = word.example.lines().find(|line| line.contains(&call)).unwrap_or(word.example);
    format!("`{}`", line.trim())
}

/// A key the word does not have.
fn unknown_option(word: &Word, key: &str, at: Origin) -> Problem {
    let keys = || word.options.iter().map(|o| o.key);
    let takes = match word.options {
        [] => format!("`{}` takes no options", word.name),
        _ => format!("`{}` takes {}", word.name, wording::all_of(keys())),
    };
    let help = match nearest(key, keys()) {
        Some(near) => format!("did you mean `{near}`? {takes}"),
        None => format!("{takes}, as in {}", shown_in(word)),
    };
    let key = short(key);
    Problem::error("unknown-option", format!("`{}` has no option `{key}`", word.name)).at(at).help(help)
}

/// A fault of one argument or option as a problem.
pub(in crate::script) fn problem(word: &Word, name: &str, fault: Fault, at: Origin) -> Problem {
    let message = format!("`{name}` of `{}` {}", word.name, fault.says);
    let problem = Problem::error(fault.code, message).at(at);
    if let Some(help) = fault.help {
        return problem.help(help);
    }
    if let Some(option) = word.options.iter().find(|o| o.key == name).filter(|o| !o.says.is_empty()) {
        return problem.help(format!("`{name}`: {}", option.says));
    }
    match word.args.iter().find(|arg| arg.name == name) {
        Some(arg) => problem.help(cure(arg.takes)),
        None => problem.help(format!("it is written {}", signature(word))),
    }
}
