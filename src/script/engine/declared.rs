//! What a script lets be changed, read without running the rest of it.
//!
//! Kept are the statements at the top of the script that declare a size, say
//! `job`, or name a plain value; only those are run.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::rc::Rc;

use rhai::{AST, Expr, FnCallExpr, Module, Position, Scope, Stmt};

use super::machine::{compile, engine};
use super::stack::on_wide_stack;
use super::{failure, origin};
use crate::problem::Problem;
use crate::script::request::{Declared, Request};
use crate::script::run::{Run, Shared};
use crate::script::vocabulary::settings_left;
use crate::source::{Origin, SourceId};

/// Words that declare.
const DECLARING: [&str; 4] = ["size", "count", "choice", "yes_no"];

/// Reads what a script lets be changed, without running the rest of it.
pub fn declared(request: &Request) -> Declared {
    on_wide_stack(|| read(request))
}

/// Reads the declarations of a script here.
fn read(request: &Request) -> Declared {
    let run: Shared = Rc::new(RefCell::new(Run::new(request)));
    let engine = engine(&run, request);
    if let Some(ast) = compile(&engine, &run, request) {
        let mut keeping = Keeping::default();
        let kept: Vec<Stmt> = ast.statements().iter().filter_map(|s| keeping.keep(s)).collect();
        let mut declarations = AST::new(kept, Module::new());
        declarations.set_source(origin::source_name(SourceId(0)));
        let result = engine.run_ast_with_scope(&mut Scope::new(), &declarations);
        let mut run = run.borrow_mut();
        if let Err(error) = result {
            failure::report(&mut run, &engine, &error);
        }
        for (name, position) in keeping.worked_out {
            report_worked_out(&mut run, &name, position);
        }
    }
    let mut run = run.borrow_mut();
    settings_left(&mut run);
    Declared {
        sources: std::mem::take(&mut run.sources),
        title: std::mem::take(&mut run.job.head.title),
        unit: run.job_said.then_some(run.job.unit),
        sizes: run.job.sizes.drain(..).map(|s| s.decl).collect(),
        problems: run.take_problems(),
    }
}

/// Says that a declaration cannot be read without running the script.
fn report_worked_out(run: &mut Run, word: &str, position: Position) {
    let place = origin::span(&run.sources, SourceId(0), position);
    run.report(
        Problem::warning(
            "worked-out-size",
            format!("what this `{word}` declares is worked out by the script, so it is not listed"),
        )
        .at(Origin { user: place, library: None })
        .help("declare sizes at the top of the script with plain values, or values of plain names"),
    );
}

/// Which statements are kept.
#[derive(Default)]
struct Keeping {
    /// Names that have a plain or declared value.
    known: BTreeSet<String>,
    /// Declarations that cannot be read by themselves: word and place.
    worked_out: Vec<(String, Position)>,
}

impl Keeping {
    /// The statement to run in place of one of the script, if any. The engine
    /// finds variables by counting back, so one that is not kept leaves an
    /// empty variable in its place.
    fn keep(&mut self, statement: &Stmt) -> Option<Stmt> {
        match statement {
            Stmt::Var(var, flags, position) => {
                let name = var.0.name.to_string();
                if self.plain(&var.1) || self.declares(&var.1) {
                    self.known.insert(name);
                    return Some(statement.clone());
                }
                self.known.remove(&name);
                let mut empty = var.clone();
                empty.1 = Expr::Unit(*position);
                Some(Stmt::Var(empty, *flags, *position))
            }
            Stmt::FnCall(call, position) => self.says_job(call, *position).then(|| statement.clone()),
            Stmt::Expr(expr) => match &**expr {
                Expr::FnCall(call, position) => self.says_job(call, *position).then(|| statement.clone()),
                _ => None,
            },
            _ => None,
        }
    }

    /// Whether a value is the call of a declaring word with plain arguments.
    fn declares(&mut self, value: &Expr) -> bool {
        let Expr::FnCall(call, position) = value else { return false };
        DECLARING.contains(&call.name.as_str()) && self.readable(call, *position)
    }

    /// Whether a call says the job.
    fn says_job(&mut self, call: &FnCallExpr, position: Position) -> bool {
        (call.name == "job" || DECLARING.contains(&call.name.as_str())) && self.readable(call, position)
    }

    /// Whether the arguments of a call are plain; a call whose are not is
    /// remembered.
    fn readable(&mut self, call: &FnCallExpr, position: Position) -> bool {
        let plain = call.args.iter().all(|a| self.plain(a));
        if !plain {
            self.worked_out.push((call.name.to_string(), position));
        }
        plain
    }

    /// Whether a value needs nothing but figures, texts, plain names and
    /// arithmetic.
    fn plain(&self, value: &Expr) -> bool {
        match value {
            Expr::Array(list, _) => list.iter().all(|v| self.plain(v)),
            Expr::Map(map, _) => map.0.iter().all(|(_, v)| self.plain(v)),
            Expr::FnCall(call, _) => {
                let plain = call.is_operator_call() || ["mm", "inch"].contains(&call.name.as_str());
                plain && call.args.iter().all(|a| self.plain(a))
            }
            Expr::Variable(variable, ..) => self.known.contains(variable.1.as_str()),
            other => other.is_constant(),
        }
    }
}
