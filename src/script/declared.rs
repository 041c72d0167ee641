//! What a script lets be changed, read without running the rest of it.
//!
//! Kept are the statements at the top of the script that declare a size, say
//! `job`, or name a plain value; only those are run.

use std::cell::RefCell;
use std::rc::Rc;

use rhai::{AST, Engine, Expr, Module, Scope, Stmt};

use super::run::{Run, Shared};
use super::{Declared, Request, engine, failure};

/// Words that declare.
const DECLARING: [&str; 4] = ["size", "count", "choice", "yes_no"];

/// Reads the declarations of a script.
pub(super) fn declared(request: &Request) -> Declared {
    let run: Shared = Rc::new(RefCell::new(Run::new(request)));
    let engine = engine::engine(&run, request);
    if let Some(ast) = engine::compile(&engine, &run, request) {
        let kept: Vec<Stmt> = ast.statements().iter().filter(|s| keep(s)).cloned().collect();
        let mut declarations = AST::new(kept, Module::new());
        declarations.set_source(super::origin::source_name(crate::source::SourceId(0)));
        run_declarations(&engine, &run, &declarations);
    }
    let mut run = run.borrow_mut();
    super::words::settings_left(&mut run);
    Declared {
        sources: std::mem::take(&mut run.sources),
        title: std::mem::take(&mut run.job.head.title),
        unit: run.job_said.then_some(run.job.unit),
        sizes: run.job.sizes.drain(..).map(|s| s.decl).collect(),
        problems: std::mem::take(&mut run.problems),
    }
}

/// Runs what was kept.
fn run_declarations(engine: &Engine, run: &Shared, ast: &AST) {
    if let Err(error) = engine.run_ast_with_scope(&mut Scope::new(), ast) {
        failure::report(&mut run.borrow_mut(), engine, &error);
    }
}

/// Whether a statement declares a size, says `job` or names a plain value.
fn keep(statement: &Stmt) -> bool {
    match statement {
        Stmt::Var(var, ..) => match &var.1 {
            Expr::FnCall(call, _) => DECLARING.contains(&call.name.as_str()) && call.args.iter().all(simple),
            value => value.is_constant(),
        },
        Stmt::FnCall(call, _) => call.name == "job" && call.args.iter().all(simple),
        Stmt::Expr(expr) => {
            matches!(&**expr, Expr::FnCall(call, _) if call.name == "job" && call.args.iter().all(simple))
        }
        _ => false,
    }
}

/// Whether a value needs nothing but figures, texts, names of plain values and
/// arithmetic.
fn simple(value: &Expr) -> bool {
    match value {
        Expr::Array(list, _) => list.iter().all(simple),
        Expr::Map(map, _) => map.0.iter().all(|(_, v)| simple(v)),
        Expr::FnCall(call, _) => {
            let plain = call.is_operator_call() || ["mm", "inch"].contains(&call.name.as_str());
            plain && call.args.iter().all(simple)
        }
        Expr::Variable(..) => true,
        other => other.is_constant(),
    }
}
