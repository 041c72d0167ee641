//! What is settled and said when a script has run to its end.

use super::job::end_piece;
use super::site::leave_enough;
use super::size::settings_left;
use crate::model::{OptionValue, StockId};
use crate::problem::{Problem, Severity};
use crate::script::given::{Given, Which};
use crate::script::run::Run;
use crate::source::{Origin, SourceId, Span};

/// Ends a script that ran to its end: the last piece is settled, and what is
/// missing from the whole is said.
pub(in crate::script) fn finish(run: &mut Run, script: &str) {
    end_piece(run);
    settings_left(run);
    leave_enough(&mut run.job);
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
    if run.problems.iter().any(|p| p.severity == Severity::Error) {
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
    unused_stocks(run);
}

/// Tells of each stock that a type was given and no part was made of: what a choice
/// leaves out must not take a stock with it unseen.
fn unused_stocks(run: &mut Run) {
    let unused: Vec<Given> = run.given.iter().filter(|given| !used(run, given)).cloned().collect();
    for Given { key, says, stock, place, shared, .. } in unused {
        let name = match &stock {
            Which::Own(id) => run.job.stock.get(id.0).map_or("", |stock| &stock.name),
            Which::Known(name) => name,
        };
        let message = if shared {
            format!("nothing in this job is made of `{name}`, given as `{key}` in `stock`")
        } else {
            format!("nothing that is made here is of `{name}`, given as `{key}`")
        };
        let help = format!("`{key}` is {says}: leave it out, or ask for what is made of it");
        run.report(Problem::advice("unused-stock", message).at(place).help(help));
    }
}

/// Whether a part, or what a joint brings, is of a stock: in the type it was given to, or,
/// of a map that serves several, anywhere in the job.
fn used(run: &Run, given: &Given) -> bool {
    let here = |origin: Origin| given.shared || origin.user == given.call.user;
    let is = |id: StockId| match &given.stock {
        Which::Own(own) => *own == id,
        Which::Known(name) => run.job.stock.get(id.0).is_some_and(|s| s.name.eq_ignore_ascii_case(name)),
    };
    let brought = |value: &OptionValue| matches!(value, OptionValue::Stock(id) if is(*id));
    run.job.parts.iter().any(|part| here(part.origin) && is(part.stock))
        || run.job.works.iter().any(|work| here(work.origin) && work.options.0.values().any(brought))
}
