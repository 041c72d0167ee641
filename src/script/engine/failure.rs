//! What stops a script, in the maker's words.

use rhai::{
    AST, ASTNode, Dynamic, Engine, EvalAltResult, Expr, LexError, ParseError, ParseErrorType, Position, Stmt,
};

use super::bare;
use super::bounded::SWITCHED_OFF;
use super::convert::value;
use super::memory::HELD;
use super::{origin, syntax};
use crate::measure::{Unit, in_script, read_length};
use crate::problem::{Problem, nearest, wording};
use crate::script::american;
use crate::script::library::LIBRARY;
use crate::script::run::Run;
use crate::script::value::{describe, short};
use crate::source::{Origin, SourceId, Span};

/// Token of an error whose problem has been reported already.
#[derive(Clone, Debug)]
struct Reported;

/// Token of a module that was refused, with the reason.
#[derive(Clone, Debug)]
struct Refused(String);

/// Token of a text that is a length and was to be joined to a number.
#[derive(Clone, Debug)]
struct JoinedLength {
    text: String,
    number: String,
}

/// Token of a value that a function does not take, and what to do.
#[derive(Clone, Debug)]
struct WrongValue(String, String);

/// The error of a function that is given what it does not take, for those that are not
/// told where they stand.
#[allow(clippy::unnecessary_box_returns, reason = "the engine carries its errors boxed")]
pub(super) fn wrong_value(says: impl Into<String>, help: impl Into<String>) -> Box<EvalAltResult> {
    EvalAltResult::ErrorRuntime(wrong_value_of(says, help), Position::NONE).into()
}

/// Its token.
pub(super) fn wrong_value_of(says: impl Into<String>, help: impl Into<String>) -> Dynamic {
    Dynamic::from(WrongValue(says.into(), help.into()))
}

/// The token of a length in text that was to be joined to a number.
pub(super) fn joined_length(text: &str, number: &str) -> Dynamic {
    Dynamic::from(JoinedLength { text: short(text), number: number.to_owned() })
}

/// The token of an error whose problem has been reported already.
pub(in crate::script) fn reported() -> Dynamic {
    Dynamic::from(Reported)
}

/// The token of a module refused for a reason.
pub(in crate::script) fn refused(why: &str) -> Dynamic {
    Dynamic::from(Refused(why.to_owned()))
}

/// Stops a script that has grown past its limits.
#[allow(clippy::unnecessary_box_returns, reason = "the engine carries its errors boxed")]
pub(in crate::script) fn stop(run: &mut Run, at: Origin) -> Box<EvalAltResult> {
    let limits = run.limits;
    let (message, help) = if run.too_many_problems() {
        (
            format!("{} problems already: the rest is not looked at", limits.problems),
            "mend the first ones first",
        )
    } else if run.job.parts.len() > limits.parts {
        (format!("the job has more than {} parts", limits.parts), "look for a loop that makes too many")
    } else if run.piece_too_large() {
        (
            format!("a piece has more than {} parts", limits.in_piece),
            "look for a loop that makes too many, or begin another piece",
        )
    } else if run.too_much_work() {
        (
            format!("the job has more than {} parts, joints and cuts together", limits.works),
            "look for a loop that makes too many",
        )
    } else if run.job.notes.len() > limits.notes {
        (format!("the job has more than {} notes", limits.notes), "look for a loop that makes too many")
    } else {
        (
            format!(
                "names, notes and lists of the job come to more than {} million bytes",
                limits.data / 1_000_000
            ),
            "look for a text or a list that grows without an end",
        )
    };
    run.report(Problem::error("too-much", message).at(at).help(help));
    EvalAltResult::ErrorRuntime(reported(), Position::NONE).into()
}

/// A problem before its place is known.
struct Said {
    /// Code.
    code: &'static str,
    /// What is wrong.
    says: String,
    /// What to do.
    help: Option<String>,
}

/// What is wrong and what to do.
fn said(code: &'static str, message: impl Into<String>, help: impl Into<String>) -> Said {
    Said { code, says: message.into(), help: Some(help.into()) }
}

/// Reports a script that does not parse.
pub(in crate::script) fn report_parse(run: &mut Run, engine: &Engine, source: SourceId, error: &ParseError) {
    let place = origin::span(&run.sources, source, error.position());
    let (said, place) = match bare_length(run, place) {
        Some(found) => found,
        None => match bare_option(run, place) {
            Some(said) => (said, place),
            None => (parse_message(run, engine, source, error.err_type()), place),
        },
    };
    finish(run, said, Origin { user: place, library: None }, &[]);
}

/// A length written as on a rule, where the language reads none: `58 1/2`, `5/8"`, `18mm`.
fn bare_length(run: &Run, place: Span) -> Option<(Said, Span)> {
    let text = &run.sources.get(place.source)?.text;
    let begins = text.get(..place.start)?.rfind('\n').map_or(0, |at| at + 1);
    let line = text.get(begins..)?.lines().next()?;
    let found = bare::find(line)?;
    let start = begins + found.at;
    let place = Span { source: place.source, start, end: start + found.written.len() };
    Some((said("syntax", found.says(), found.help()), place))
}

/// An option outside of braces, `panel("Side", ply, x: [0, 18])`: its name is then taken for that of a value.
fn bare_option(run: &Run, place: Span) -> Option<Said> {
    let text = run.sources.get(place.source)?.text.get(place.start..)?;
    let ends = text.find(|c: char| !c.is_alphanumeric() && c != '_')?;
    let (name, after) = text.split_at_checked(ends).filter(|(name, _)| !name.is_empty())?;
    let value = after.trim_start().strip_prefix(':').filter(|value| !value.starts_with(':'))?;
    let shown = value.lines().next().unwrap_or_default().trim();
    // Far enough to know the line by; a list may run on.
    let shown =
        if shown.is_empty() || shown.chars().count() > 24 || shown.contains(')') { "…" } else { shown };
    Some(said(
        "syntax",
        format!("the option `{}` stands outside of `#{{ }}`", short(name)),
        format!("put all options between braces: `#{{ {name}: {} }}`", shown.trim_end_matches([',', ';'])),
    ))
}

/// Reports what stopped a running script.
pub(in crate::script) fn report(run: &mut Run, engine: &Engine, error: &EvalAltResult) {
    let mut source = SourceId(0);
    let mut calls: Vec<Span> = Vec::new();
    let mut error = error;
    loop {
        match error {
            EvalAltResult::ErrorInFunctionCall(_, file, inner, position) => {
                calls.push(origin::span(&run.sources, source, *position));
                source = origin::source_id(Some(file));
                error = inner;
            }
            EvalAltResult::ErrorInModule(file, inner, position) => {
                calls.push(origin::span(&run.sources, source, *position));
                if file.parse::<u32>().is_ok() {
                    source = origin::source_id(Some(file));
                }
                error = inner;
            }
            _ => break,
        }
    }
    if let EvalAltResult::ErrorRuntime(token, _) = error
        && token.is::<Reported>()
    {
        return;
    }
    let place = origin::span(&run.sources, source, error.position());
    let library = |s: &Span| run.sources.get(s.source).is_some_and(|s| s.library);
    let at = match calls.iter().rev().find(|s| !library(s)) {
        Some(user) if library(&place) => Origin { user: *user, library: Some(place) },
        _ => Origin { user: place, library: None },
    };
    calls.retain(|c| !library(c) && *c != at.user);
    let said = message(run, engine, source, error);
    finish(run, said, at, &calls);
}

/// Reports every word of a stopped script that does not exist: the run itself
/// comes no further than the first.
pub(in crate::script) fn report_unknown_words(run: &mut Run, engine: &Engine, ast: &AST) {
    let known = names(engine);
    let own: Vec<String> = ast.iter_functions().map(|f| f.name.to_owned()).collect();
    let mut unknown: Vec<(String, Position)> = Vec::new();
    ast.walk(&mut |path: &[ASTNode]| {
        let call = match path.last() {
            Some(ASTNode::Expr(Expr::FnCall(call, at)) | ASTNode::Stmt(Stmt::FnCall(call, at))) => {
                Some((call, *at))
            }
            _ => None,
        };
        if let Some((call, position)) = call
            && call.namespace.is_empty()
            && !call.is_operator_call()
            && !KEYWORDS.contains(&call.name.as_str())
            && known.binary_search_by(|k| k.as_str().cmp(call.name.as_str())).is_err()
            && !own.iter().any(|o| *o == call.name.as_str())
        {
            unknown.push((call.name.to_string(), position));
        }
        true
    });
    for (name, position) in unknown {
        let place = origin::span(&run.sources, SourceId(0), position);
        let here =
            |p: &Problem| p.code == "unknown-word" && p.places.first().is_some_and(|p| p.span == place);
        if run.problems.iter().any(here) {
            continue;
        }
        let said = unknown_word(run, &name, &known);
        finish(run, said, Origin { user: place, library: None }, &[]);
    }
}

/// Functions the engine holds itself and does not list.
const KEYWORDS: [&str; 10] =
    ["print", "debug", "type_of", "call", "curry", "Fn", "is_def_var", "is_def_fn", "is_shared", "eval"];

/// Keeps the problem with the last few calls that led to it.
fn finish(run: &mut Run, said: Said, at: Origin, calls: &[Span]) {
    let mut problem = Problem::error(said.code, said.says).at(at);
    let mut shown: Vec<Span> = Vec::new();
    for call in calls.iter().rev().filter(|c| c.end > c.start) {
        if shown.len() < 2 && !shown.contains(call) {
            shown.push(*call);
            problem = problem.place(*call, "called here");
        }
    }
    run.report(match said.help {
        Some(help) => problem.help(help),
        None => problem,
    });
}

/// What a parse error means.
fn parse_message(run: &Run, engine: &Engine, source: SourceId, error: &ParseErrorType) -> Said {
    match error {
        ParseErrorType::VariableUndefined(name) => undefined(run, engine, source, name),
        ParseErrorType::ModuleUndefined(name) => said(
            "unknown-module",
            format!("no module is imported as `{name}`"),
            format!("write `import \"{name}\" as {name};` at the top"),
        ),
        ParseErrorType::MissingToken(token, _) => said(
            "syntax",
            format!("`{token}` is missing here"),
            match token.as_str() {
                ":" => "an option and its value are written `depth: 6`, with a comma before the next".into(),
                _ => format!(
                    "write `{token}` here, or look for a comma or a bracket left out before this place"
                ),
            },
        ),
        ParseErrorType::UnexpectedEOF => said(
            "syntax",
            "the script ends in the middle of something",
            "look for a bracket that is not closed",
        ),
        ParseErrorType::DuplicatedProperty(key) => {
            said("syntax", format!("the option `{key}` is written twice"), "leave one of them out")
        }
        ParseErrorType::ExprTooDeep => {
            said("syntax", "this is nested too deeply", "name the inner parts with `let` and use the names")
        }
        ParseErrorType::BadInput(LexError::UnexpectedInput(sign)) => said(
            "syntax",
            format!("`{}` cannot stand here", short(sign)),
            "names are written with the letters a to z, digits and `_`; anything else goes in quotes",
        ),
        other => {
            let (says, help) = syntax::told(other);
            said("syntax", says, help)
        }
    }
}

/// What it means that a running script is past a limit, if it is.
fn past_a_limit(run: &Run, error: &EvalAltResult) -> Option<Said> {
    use EvalAltResult as E;
    let limits = run.limits;
    Some(match error {
        E::ErrorTooManyOperations(_) => said(
            "endless-loop",
            format!(
                "the script does not come to an end within {} million steps",
                limits.operations / 1_000_000
            ),
            "look for a loop that never ends here or above",
        ),
        E::ErrorStackOverflow(_) => said(
            "endless-calls",
            format!("functions call one another more than {} deep", limits.calls),
            "look for a function that calls itself without an end",
        ),
        E::ErrorDataTooLarge(what, _) => said(
            "too-much-data",
            if what == HELD {
                format!("all variables together hold more than {} million bytes", limits.held / 1_000_000)
            } else if what.to_lowercase().contains("string") {
                format!("a text grows too large: texts reach {} bytes", limits.text)
            } else {
                format!("a list or map grows too large: it can hold {} entries", limits.entries)
            },
            "look for a loop that adds to it without an end",
        ),
        E::ErrorTooManyVariables(_) => {
            said("too-much-data", "the script has too many variables", "use lists, or functions")
        }
        E::ErrorTooManyModules(_) => {
            said("too-much-data", "too many modules are imported", "import each once")
        }
        E::ErrorTerminated(..) => {
            said("too-slow", "the script takes too long", "look for a loop that does too much")
        }
        _ => return None,
    })
}

/// What a failure of a running script means.
fn message(run: &Run, engine: &Engine, source: SourceId, error: &EvalAltResult) -> Said {
    use EvalAltResult as E;
    if let Some(said) = past_a_limit(run, error) {
        return said;
    }
    match error {
        E::ErrorFunctionNotFound(signature, _) => unknown_function(run, engine, signature),
        E::ErrorVariableNotFound(name, _) => undefined(run, engine, source, name),
        E::ErrorParsing(kind, _) => parse_message(run, engine, source, kind),
        E::ErrorPropertyNotFound(name, _) => said(
            "unknown-key",
            format!("there is nothing called `{name}` in this"),
            "`print(…);` of what stands before the point tells the names it has",
        ),
        E::ErrorArithmetic(why, _) => {
            said("arithmetic", lower(why), "look at the figures this is worked out from")
        }
        E::ErrorArrayBounds(entries, at, _) => said(
            "no-entry",
            format!("the list has {}, and none at {at}", wording::count(*entries, "entry", "entries")),
            "the first entry is at 0",
        ),
        E::ErrorFor(_) => said(
            "wrong-type",
            "`for` needs a list or a range",
            "write `for i in 0..3` or `for side in [left, right]`",
        ),
        E::ErrorMismatchDataType(wants, found, _) | E::ErrorMismatchOutputType(wants, found, _) => said(
            "wrong-type",
            format!("this must be {}, not {}", kind_name(wants), kind_name(found)),
            "look at where the value comes from",
        ),
        E::ErrorRuntime(token, _) => thrown(run, token),
        E::ErrorModuleNotFound(path, _) => {
            said("bad-module", format!("there is no module `{path}`"), MODULES)
        }
        E::ErrorIndexNotFound(..)
        | E::ErrorIndexingType(..)
        | E::ErrorStringBounds(..)
        | E::ErrorBitFieldBounds(..) => said(
            "script-error",
            "there is nothing at this place of the value",
            "only lists and texts have places in `[ ]`, the first of them 0, and maps names after a point",
        ),
        E::ErrorAssignmentToConstant(name, _) | E::ErrorNonPureMethodCallOnConstant(name, _) => said(
            "script-error",
            format!("`{}` would change a constant", short(name)),
            "make it with `let`, and it can be changed",
        ),
        E::ErrorDotExpr(..) => said(
            "unknown-key",
            "this has nothing of that name",
            "look at what stands before the point: only option maps hold values by name",
        ),
        E::ErrorUnboundThis(_) => said(
            "script-error",
            "`this` stands for nothing here",
            "give the function what it works on in its brackets",
        ),
        _ => said("script-error", "the script cannot go on here", "look at the values of this line"),
    }
}

/// Where modules can be.
const MODULES: &str =
    "a module is a furniture type such as `case`, or a file in the script's folder or below it";

/// An error the script threw, or a module refused.
fn thrown(run: &Run, token: &Dynamic) -> Said {
    if let Some(Refused(why)) = token.clone().try_cast::<Refused>() {
        return said("bad-module", why, MODULES);
    }
    if let Some(WrongValue(says, help)) = token.clone().try_cast::<WrongValue>() {
        return said("wrong-type", says, help);
    }
    if let Some(JoinedLength { text, number }) = token.clone().try_cast::<JoinedLength>() {
        return said(
            "joined-length",
            format!(
                "`{text}` is a length in quotes: with {number} it would be taken as letters, not as a length"
            ),
            number_instead(run.job.unit, &text),
        );
    }
    let message = match token.as_immutable_string_ref() {
        Ok(text) => short(&text),
        Err(_) => describe(&value(token)),
    };
    said(
        "stopped",
        format!("the script stops itself: {message}"),
        "mend what it asks for; its author ends it here",
    )
}

/// How a length in a text is written as a number to work with, in a job in `unit`.
fn number_instead(unit: Unit, text: &str) -> String {
    let to_name = "to make a name, begin the text with a word";
    match read_length(text, unit) {
        Ok(mm) => {
            let number = in_script(unit, mm);
            format!(
                "to work with the length write it as a number, {number}: `let wide = {number};`; {to_name}"
            )
        }
        Err(_) => format!(
            "to work with a length write it as a number: `60 + 1/2`, `mm(18)`, `inch(3/4)`; {to_name}"
        ),
    }
}

/// A function that does not exist, or not for these values.
fn unknown_function(run: &Run, engine: &Engine, signature: &str) -> Said {
    let (name, types) = signature.split_once(" (").unwrap_or((signature, ""));
    let types = types.trim_end_matches(')');
    let kinds: Vec<&str> = types.split(", ").filter(|t| !t.is_empty()).map(kind_name).collect();
    if !name.starts_with(|c: char| c.is_alphabetic() || c == '_') {
        let help = if kinds.contains(&"a text") && kinds.contains(&"a number") {
            "a length to work with is a number, not a text: `60 + 1/2`, `mm(18)`, `inch(3/4)`"
        } else {
            "look at where the two values come from"
        };
        return said("wrong-type", format!("`{name}` does not work on {}", kinds.join(" and ")), help);
    }
    let known = names(engine);
    if known.iter().any(|k| k == name) {
        let given = if kinds.is_empty() { "nothing".to_owned() } else { kinds.join(" and ") };
        return said(
            "wrong-type",
            format!("`{name}` does not take {given}"),
            "look at the kinds and number of its values",
        );
    }
    unknown_word(run, name, &known)
}

/// A word that is not of the vocabulary.
fn unknown_word(run: &Run, name: &str, known: &[String]) -> Said {
    let message = format!("there is no word `{}`", short(name));
    if let Some(ours) = american::ours(name) {
        return said("unknown-word", message, format!("here it is called `{ours}`"));
    }
    if closures(run).any(|closure| closure == name) {
        let help = format!(
            "write `{name}.call(…)`, or make it a word of your own, which sees no names outside it: `fn {name}(…) {{ … }}`"
        );
        let message = format!("`{name}` keeps something to do: its name alone does not do it");
        return said("unknown-word", message, help);
    }
    if LIBRARY.iter().any(|(module, _)| *module == name) {
        return said("unknown-word", message, of_library(name));
    }
    let functions: Vec<&str> = known.iter().map(String::as_str).chain(declared_names(run)).collect();
    match nearest(name, functions) {
        Some(near) => said("unknown-word", message, format!("did you mean `{near}`?")),
        None => said("unknown-word", message, "look at the word's spelling, or define it with `fn`"),
    }
}

/// How a furniture type of the library is brought in and made.
fn of_library(name: &str) -> String {
    format!(
        "it is a furniture type: write `import \"{name}\" as {name};` at the top and `{name}::make(#{{ … }})` here"
    )
}

/// A name that nothing was given.
fn undefined(run: &Run, engine: &Engine, source: SourceId, name: &str) -> Said {
    let message = format!("nothing is called `{}` here", short(name));
    let text = run.sources.get(source).map_or("", |s| &*s.text);
    let near = nearest(name, variables(text).filter(|v| *v != name));
    if let Some(near) = near {
        return said("unknown-name", message, format!("did you mean `{near}`?"));
    }
    if LIBRARY.iter().any(|(module, _)| *module == name) {
        return said("unknown-name", message, of_library(name));
    }
    if names(engine).iter().any(|k| k == name) {
        return said("unknown-name", message, format!("`{name}` is a word: write `{name}(…)`"));
    }
    said("unknown-name", message, format!("give it a value before this line: `let {name} = …;`"))
}

/// Names of all functions a script can call, sorted.
pub(super) fn names(engine: &Engine) -> Vec<String> {
    let mut names: Vec<String> = engine
        .gen_fn_signatures(true)
        .iter()
        .filter_map(|s| s.split('(').next())
        .map(|s| s.rsplit(' ').next().unwrap_or(s).to_owned())
        .filter(|s| s.starts_with(|c: char| c.is_alphabetic()) && !s.contains('$'))
        .filter(|s| !SWITCHED_OFF.contains(&s.as_str()))
        .collect();
    names.sort();
    names.dedup();
    names
}

/// Names the main script gives to functions.
fn declared_names(run: &Run) -> impl Iterator<Item = &str> {
    let text = run.sources.get(SourceId(0)).map_or("", |s| &*s.text);
    after(text, &["fn"])
}

/// Names the main script gives to closures: `let f = |x| …`.
fn closures(run: &Run) -> impl Iterator<Item = &str> {
    let text = run.sources.get(SourceId(0)).map_or("", |s| &*s.text);
    text.split("let ").skip(1).filter_map(|after| {
        let (name, value) = after.split_once('=')?;
        value.trim_start().starts_with('|').then(|| name.trim())
    })
}

/// Names a script gives to values.
fn variables(text: &str) -> impl Iterator<Item = &str> {
    after(text, &["let", "const", "for", "as"])
}

/// Words that follow one of some words.
fn after<'a>(text: &'a str, leads: &'static [&'static str]) -> impl Iterator<Item = &'a str> {
    let mut before = "";
    text.split(|c: char| !c.is_alphanumeric() && c != '_').filter(|w| !w.is_empty()).filter(move |word| {
        let follows = leads.contains(&before);
        before = word;
        follows
    })
}

/// A type of the engine in the maker's words.
fn kind_name(kind: &str) -> &str {
    match kind {
        "i64" | "f64" => "a number",
        // Words of the language's own library list every kind of text there is.
        kind if kind == "char" || kind == "string" || kind.contains("&str") => "a text",
        "array" => "a list",
        "map" => "an option map",
        "bool" => "true or false",
        "()" => "nothing",
        "part" => "a part",
        "stock" => "a stock",
        "Fn" => "something to do",
        kind if kind.contains("range") => "a range",
        kind if kind.ends_with("Between") || kind.ends_with("Against") => "a place",
        // A name of our own or of the engine's inside says nothing to a maker.
        _ => "something else",
    }
}

/// The engine's sentences begin with a capital and may end with a stop; ours do not.
fn lower(text: &str) -> String {
    let text = text.trim_end_matches('.').replace('\'', "`");
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => String::new(),
    }
}
