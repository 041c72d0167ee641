//! `grain_run` and `after_glue_up`: in what order things are cut.

use super::call::{Call, Does};
use super::saying::Saying;
use crate::model::{Arg, GrainRun, Takes, Word};
use crate::problem::Problem;
use crate::script::run::Run;
use crate::script::value::Value;

/// The words bound in the usual way.
pub(in crate::script) const WORDS: &[(&Word, Does)] =
    &[(&GRAIN_RUN, Does { act: grain_run, spoilt: || Value::Nothing })];

static GRAIN_RUN: Word = Word {
    name: "grain_run",
    args: &[Arg { name: "parts", takes: Takes::Parts }],
    options: &[],
    says: "cuts the parts from one strip in this order, so that the figure runs on",
    rule: "",
    example: "grain_run([left, top, right]);",
};

/// `after_glue_up`, bound by itself.
pub(in crate::script) const AFTER: &[Saying] = &[Saying {
    name: "after_glue_up",
    written: "after_glue_up(|| { … })",
    says: "the joints and cuts in it are made when the parts are glued together",
    example: "after_glue_up(|| chamfer(top, \"top\", #{ width: 3, edges: \"front\" }));",
}];

fn grain_run(run: &mut Run, call: &Call) -> Value {
    let parts = call.parts.first().cloned().unwrap_or_default();
    if parts.len() < 2 {
        run.report(
            Problem::error("too-few-parts", "`grain_run` needs two parts or more")
                .at(call.origin)
                .help("list the parts in the order the figure runs through them"),
        );
        return Value::Nothing;
    }
    run.job.grain_runs.push(GrainRun { parts, origin: call.origin });
    Value::Nothing
}
