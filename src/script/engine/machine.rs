//! The engine made, limited and run.

use std::cell::RefCell;
use std::rc::Rc;

use rhai::packages::{
    ArithmeticPackage, BasicArrayPackage, BasicFnPackage, BasicIteratorPackage, BasicMapPackage,
    BasicStringPackage, LanguageCorePackage, LogicPackage, MoreStringPackage, Package,
};
use rhai::{AST, ASTNode, Dynamic, Engine, Expr, OptimizationLevel, Scope, Stmt, Token};

use super::bind::register;
use super::memory::Memory;
use super::stack::on_wide_stack;
use super::{arithmetic, bounded, failure, joins, modules, origin};
use crate::problem::Problem;
use crate::script::request::{Evaluated, Limits, Request};
use crate::script::run::{Run, Shared};
use crate::script::value::short;
use crate::script::vocabulary::finish;
use crate::source::{Origin, SourceId, Span};

/// Runs a script. Never panics and never runs for ever, whatever the text.
pub fn evaluate(request: &Request) -> Evaluated {
    on_wide_stack(|| run(request))
}

/// Runs the script of a request here.
fn run(request: &Request) -> Evaluated {
    let run: Shared = Rc::new(RefCell::new(Run::new(request)));
    let engine = engine(&run, request);
    let finished = match compile(&engine, &run, request) {
        Some(ast) => match engine.run_ast_with_scope(&mut Scope::new(), &ast) {
            Ok(()) => true,
            Err(error) => {
                failure::report(&mut run.borrow_mut(), &engine, &error);
                // Words of a later version are unknown by right.
                if run.borrow().problems.iter().all(|p| p.code != "later-version") {
                    failure::report_unknown_words(&mut run.borrow_mut(), &engine, &ast);
                }
                false
            }
        },
        None => false,
    };
    let mut run = run.borrow_mut();
    if finished {
        finish(&mut run, &request.name);
    }
    let sources = std::mem::take(&mut run.sources);
    let problems = run.take_problems();
    let job = finished.then(|| run.job.clone());
    Evaluated { sources, job, problems }
}

/// Compiles the main script; a failure is reported.
pub(in crate::script) fn compile(engine: &Engine, run: &Shared, request: &Request) -> Option<AST> {
    if request.text.len() > request.limits.script {
        run.borrow_mut().report(
            Problem::error("script-too-large", format!("`{}` is too large for a script", request.name))
                .help("a script is a few pages of text; is this the right file?"),
        );
        return None;
    }
    match engine.compile(&request.text) {
        Ok(mut ast) => {
            ast.set_source(origin::source_name(SourceId(0)));
            Some(ast)
        }
        Err(error) => {
            failure::report_parse(&mut run.borrow_mut(), engine, SourceId(0), &error);
            None
        }
    }
}

/// An engine that knows our words and nothing of the outside.
pub(in crate::script) fn engine(run: &Shared, request: &Request) -> Engine {
    // The order of the engine's own listings follows a hash seed; a fixed one
    // makes every run the same. It can be set once in a process: later calls fail.
    let _already_set = rhai::config::hashing::set_hashing_seed(Some([7, 11, 13, 17]));
    let mut engine = Engine::new_raw();
    packages(&mut engine);
    limits(&mut engine, request);
    language(&mut engine, request.limits);
    arithmetic::register(&mut engine);
    joins::register(&mut engine);
    bounded::register(&mut engine, request.limits);
    prints(&mut engine, run);
    register(&mut engine, run, request.words);
    engine.set_module_resolver(modules::Resolver::new(run, request));
    engine
}

/// The language's own functions of lists, maps and texts; none of time or chance.
fn packages(engine: &mut Engine) {
    LanguageCorePackage::new().register_into_engine(engine);
    ArithmeticPackage::new().register_into_engine(engine);
    BasicStringPackage::new().register_into_engine(engine);
    BasicIteratorPackage::new().register_into_engine(engine);
    BasicFnPackage::new().register_into_engine(engine);
    LogicPackage::new().register_into_engine(engine);
    BasicArrayPackage::new().register_into_engine(engine);
    BasicMapPackage::new().register_into_engine(engine);
    MoreStringPackage::new().register_into_engine(engine);
}

/// Bounds on what a script may do.
fn limits(engine: &mut Engine, request: &Request) {
    let limits = request.limits;
    engine
        .set_max_operations(limits.operations)
        .set_max_call_levels(limits.calls)
        .set_max_array_size(limits.entries)
        .set_max_map_size(limits.entries)
        .set_max_string_size(limits.text)
        .set_max_expr_depths(64, 32)
        .set_max_variables(2_000)
        .set_max_functions(1_000)
        .set_max_modules(100);
    let loader = request.loader.clone();
    engine.on_progress(move |operations| {
        (operations % 1024 == 0 && loader.time_is_up()).then_some(Dynamic::UNIT)
    });
}

/// How strict the language is.
#[allow(
    deprecated,
    reason = "the debugging interface is marked volatile; `origin` and the layers of names below are all that lean on it"
)]
pub(in crate::script) fn language(engine: &mut Engine, limits: Limits) {
    engine
        .set_optimization_level(OptimizationLevel::None)
        .set_fast_operators(false)
        .set_strict_variables(true)
        .set_fail_on_invalid_map_property(true)
        .disable_symbol("eval")
        // The language keeps `case` back for itself without using it; it is a
        // good name for a piece of furniture.
        .on_parse_token(|token, _, _| match token {
            Token::Reserved(word) if *word == "case" => Token::Identifier(word),
            other => other,
        });
    // Registered so that the engine keeps its stack of calls, and to be asked at
    // every step.
    let memory = RefCell::new(Memory::default());
    engine.register_debugger(
        |_, debugger| debugger,
        move |mut context, _, node, _, at| {
            // A function begins with a step that does nothing. What the engine has
            // found by name it keeps for the whole run, though functions of one name
            // stand in several modules (each furniture type has its `takes`): so each
            // call gets a layer of its own. The engine drops it when the function
            // ends; the guard would drop it at once.
            if matches!(node, ASTNode::Stmt(Stmt::Noop(_))) {
                std::mem::forget(context.new_frame().with_new_caching_layer());
            }
            let calls = matches!(
                node,
                ASTNode::Expr(Expr::FnCall(..) | Expr::MethodCall(..)) | ASTNode::Stmt(Stmt::FnCall(..))
            );
            memory.borrow_mut().step(&context, (calls, at), limits)?;
            Ok(rhai::debugger::DebuggerCommand::StepInto)
        },
    );
}

/// `print` and `debug` become advice: a script has no terminal.
fn prints(engine: &mut Engine, run: &Shared) {
    let shared = run.clone();
    engine.on_print(move |text| printed(&shared, text, None));
    let shared = run.clone();
    engine.on_debug(move |text, source, position| {
        let place = origin::span(&shared.borrow().sources, origin::source_id(source), position);
        printed(&shared, text, Some(place));
    });
}

/// Keeps what a script printed.
fn printed(run: &Shared, text: &str, place: Option<Span>) {
    let mut run = run.borrow_mut();
    let before = run.problems.iter().filter(|problem| problem.code == "printed").count();
    if before > run.limits.printed {
        return;
    }
    if before == run.limits.printed {
        let most = run.limits.printed;
        let problem = Problem::advice("printed", format!("the script says more than {most} things"));
        run.report(problem.help("those after them are left out: look for a loop that says too much"));
        return;
    }
    let problem = Problem::advice("printed", format!("the script says: {}", short(text)));
    let problem = match place {
        Some(user) => problem.at(Origin { user, library: None }),
        None => problem,
    };
    run.report(problem);
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::script::vocabulary::chapters::own;

    /// The functions of the language that a script is meant to have, besides our words.
    /// What is not here must not answer: a new version of the engine may bring anything.
    const OFFERED: &str = "abs acos after_glue_up against all append asin atan between bits by_unit bytes ceiling chars chop \
         clear contains cos crop debug dedup down drain end ends_with extract fill_with filter find \
         find_map floor for_each get index_of insert is_anonymous is_empty is_even is_exclusive \
         is_inclusive is_odd is_zero keys len make_lower make_upper map max min mixin moved name near \
         options order order_by order_desc pad parse_json pop print push range reduce reduce_rev \
         remove replace retain reverse round set set_tag shift sign sin some sort sort_by sort_desc \
         splice split split_rev sqrt start starts_with sub_string tag take tan to_binary to_blob \
         to_chars to_debug to_hex to_int to_json to_lower to_octal to_string to_upper trim truncate \
         values zip";

    #[test]
    fn no_function_answers_that_is_not_meant_to() {
        let request = Request::of_nothing();
        let run: Shared = Rc::new(RefCell::new(Run::new(&request)));
        let offered = failure::names(&engine(&run, &request));
        let ours: BTreeSet<&str> = own().map(|(word, _)| word.name).collect();
        let rest: Vec<&str> =
            offered.iter().map(String::as_str).filter(|name| !ours.contains(name)).collect();
        assert_eq!(rest, OFFERED.split_whitespace().collect::<Vec<_>>());
    }
}
