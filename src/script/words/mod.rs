//! Words bound to the engine: every argument and key of every call is checked
//! here, in one place, against the word's own data.

mod job;
mod library;
mod order;
mod parts;
mod site;
mod size;
mod stock;

use std::any::TypeId;

use rhai::{Dynamic, Engine, Map, NativeCallContext};

pub(super) use self::size::settings_left;
use super::read::Fault;
use super::reference::{self, Saying};
use super::run::{Run, Shared};
use crate::model::{Arg, OptionKind, OptionSpec, OptionValue, Options, PartId, Takes, Word, Work};
use crate::problem::{Problem, nearest, wording};
use crate::source::{Origin, SourceId, Span};

/// A call whose arguments and options have been checked.
pub(super) struct Call {
    /// The word.
    pub(super) word: &'static Word,
    /// Parts given for each part argument.
    pub(super) parts: Vec<Vec<PartId>>,
    /// Values and options.
    pub(super) options: Options,
    /// Where it was written.
    pub(super) origin: Origin,
}

impl Call {
    /// How much it hands over, about; what was made of it takes as much as a
    /// short name.
    fn bytes(&self) -> usize {
        let parts: usize = self.parts.iter().map(Vec::len).sum();
        let options: usize = self.options.0.values().map(OptionValue::bytes).sum();
        32 + parts * size_of::<PartId>() + options
    }
}

/// What an own word does with a checked call.
type Act = fn(&mut Run, &Call) -> Dynamic;

/// What a word of the language does, and what it gives when its call is wrong.
#[derive(Clone, Copy)]
pub(super) struct Does {
    /// Does the work.
    act: Act,
    /// The value that stands for what could not be made.
    spoilt: fn() -> Dynamic,
}

/// A chapter: its title, its words with what they do, and what is bound in
/// another way.
type Chapter = (&'static str, &'static [(&'static Word, Does)], &'static [Saying]);

/// The chapter that joints and shapings follow.
pub(super) const PARTS: &str = "Parts and their places";

/// The language in reading order.
pub(super) fn chapters() -> [Chapter; 8] {
    [
        ("Job and pieces", job::WORDS, &[]),
        ("Sizes that can be changed", size::WORDS, &[]),
        ("Stock", stock::WORDS, &[]),
        (PARTS, parts::WORDS, parts::PLACES),
        ("Order of work", order::WORDS, order::AFTER),
        ("Furniture types", library::WORDS, library::TYPES),
        ("Numbers", &[], reference::NUMBERS),
        ("The language", &[], reference::LANGUAGE),
    ]
}

/// Words of the language with what they do.
pub(super) fn own() -> impl Iterator<Item = (&'static Word, Does)> {
    chapters().into_iter().flat_map(|(_, words, _)| words).copied()
}

/// Binds all words.
pub(super) fn register(engine: &mut Engine, run: &Shared, joinery: &'static [&'static Word]) {
    for (word, does) in own() {
        bind(engine, run, word, does);
    }
    for word in joinery {
        bind(engine, run, word, Does { act: add_work, spoilt: || Dynamic::UNIT });
    }
    parts::register_places(engine);
    order::register_after(engine, run);
    library::register_types(engine, run);
}

/// Calls with up to this many arguments more than the word takes reach the
/// word, so that it can say what is too much.
const SPARE: usize = 3;

/// Binds one word for every number of arguments.
fn bind(engine: &mut Engine, run: &Shared, word: &'static Word, does: Does) {
    for n in 0..=word.args.len() + SPARE {
        let run = run.clone();
        engine.register_raw_fn(word.name, vec![TypeId::of::<Dynamic>(); n], move |context, args| {
            let values: Vec<Dynamic> = args.iter().map(|a| a.flatten_clone()).collect();
            perform(&mut run.borrow_mut(), &context, word, does, &values)
        });
    }
}

/// Checks a call and does it.
fn perform(
    run: &mut Run,
    context: &NativeCallContext,
    word: &'static Word,
    does: Does,
    values: &[Dynamic],
) -> Result<Dynamic, Box<rhai::EvalAltResult>> {
    let origin = run.origin(context);
    run.numbers_of(origin);
    run.counted = library::are_counts(values);
    let call = check(run, word, values, origin);
    let made = match call {
        Some(call) => {
            run.data += call.bytes();
            (does.act)(run, &call)
        }
        None => (does.spoilt)(),
    };
    run.begun = true;
    if run.ended {
        return Err(
            rhai::EvalAltResult::ErrorRuntime(super::failure::reported(), rhai::Position::NONE).into()
        );
    }
    if run.too_many_problems() || run.too_large() {
        return Err(super::failure::stop(run, origin));
    }
    Ok(made)
}

/// A joinery word becomes a work of the job.
fn add_work(run: &mut Run, call: &Call) -> Dynamic {
    run.job.works.push(Work {
        word: call.word,
        parts: call.parts.clone(),
        options: call.options.clone(),
        after_glue_up: run.after_glue_up,
        origin: call.origin,
    });
    Dynamic::UNIT
}

/// Checks every argument and key; `None` if anything is wrong, which has then
/// been reported, or if a part in it was spoilt before.
fn check(run: &mut Run, word: &'static Word, values: &[Dynamic], origin: Origin) -> Option<Call> {
    let (map, values) = match values.split_last() {
        Some((last, rest)) if last.is_map() => (last.clone().try_cast::<Map>(), rest),
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
    let says = if given > word.args.len() {
        let wants = wording::count(word.args.len(), "argument", "arguments");
        format!("`{}` takes {wants} before its options, but has {given}", word.name)
    } else {
        let missing = word.args.iter().skip(given).map(|a| a.name);
        format!("`{}` needs {}", word.name, wording::all_of(missing))
    };
    let code = if given > word.args.len() { "too-many-arguments" } else { "missing-argument" };
    Some(Problem::error(code, says).at(origin).help(format!("it is written {takes}")))
}

/// A word with its arguments as it is written.
pub(super) fn signature(word: &Word) -> String {
    format!("`{}`", word.written())
}

/// Reads one argument into the call.
fn read_arg(run: &mut Run, call: &mut Call, arg: &'static Arg, value: &Dynamic) -> bool {
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
    let missing: Vec<&OptionSpec> =
        word.options.iter().filter(|o| o.default.is_empty() && !map.contains_key(o.key)).collect();
    if missing.is_empty() {
        return good;
    }
    let names = wording::all_of(missing.iter().map(|o| o.key));
    let option = if missing.len() == 1 { "the option" } else { "the options" };
    let help = missing.iter().map(|o| format!("`{}`: {}", o.key, o.says)).collect::<Vec<_>>().join("; ");
    run.report(
        Problem::error("missing-option", format!("`{}` needs {option} {names}", word.name))
            .at(call.origin)
            .help(help),
    );
    false
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
        None => takes,
    };
    let key = super::value::short(key);
    Problem::error("unknown-option", format!("`{}` has no option `{key}`", word.name)).at(at).help(help)
}

/// A fault of one argument or option as a problem.
pub(super) fn problem(word: &Word, name: &str, fault: Fault, at: Origin) -> Problem {
    let says = format!("`{name}` of `{}` {}", word.name, fault.says);
    let problem = Problem::error(fault.code, says).at(at);
    match fault.help {
        Some(help) => problem.help(help),
        None => match word.options.iter().find(|o| o.key == name).filter(|o| !o.says.is_empty()) {
            Some(option) => problem.help(format!("`{name}`: {}", option.says)),
            None => problem,
        },
    }
}

/// An argument that is a value.
const fn value(name: &'static str, kind: OptionKind) -> Arg {
    Arg { name, takes: Takes::Value(kind) }
}

/// An option that may be left out.
const fn option(
    key: &'static str,
    kind: OptionKind,
    default: &'static str,
    says: &'static str,
) -> OptionSpec {
    OptionSpec { key, kind, default, says }
}

/// Any length from `min` mm up.
const fn length_from(min: f64) -> OptionKind {
    OptionKind::Length { min, max: super::read::FARTHEST }
}

/// A plain amount: a price, a density.
const AMOUNT: OptionKind = OptionKind::Ratio { min: 0.0, max: 1.0e6 };

/// Ends a script that ran to its end: the last piece is settled, and what is
/// missing from the whole is said.
pub(super) fn finish(run: &mut Run, script: &str) {
    job::end_piece(run);
    settings_left(run);
    let start = Span { source: SourceId(0), start: 0, end: 0 };
    if !run.job_said {
        let stem = script.rsplit(['/', '\\']).next().unwrap_or(script);
        stem.trim_end_matches(".rhai").clone_into(&mut run.job.head.title);
        run.report(
            Problem::warning("no-job", "the script does not say what job it is")
                .place(start, "")
                .help("begin with `job(\"Wall shelf\", #{ unit: \"mm\" });`"),
        );
    }
    if run.job.pieces.is_empty() {
        run.report(
            Problem::error("no-piece", "the script makes no piece")
                .place(start, "")
                .help("begin one with `piece(\"Cabinet\");` and give it parts"),
        );
    }
    // Where something is wrong already, a piece may be empty because of it.
    if run.problems.iter().any(|p| p.severity == crate::problem::Severity::Error) {
        return;
    }
    for (i, piece) in run.job.pieces.clone().into_iter().enumerate() {
        if run.job.parts.iter().all(|p| p.piece.0 != i) {
            run.report(
                Problem::error("empty-piece", format!("the piece `{}` has no parts", piece.name))
                    .at(piece.origin)
                    .help("give it parts with `panel`, `board` or `pane`"),
            );
        }
    }
}
