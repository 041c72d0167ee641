//! What is settled and said when a script has run to its end.

use super::job::end_piece;
use super::size::settings_left;
use crate::problem::{Problem, Severity};
use crate::script::run::Run;
use crate::source::{SourceId, Span};

/// Ends a script that ran to its end: the last piece is settled, and what is
/// missing from the whole is said.
pub(in crate::script) fn finish(run: &mut Run, script: &str) {
    end_piece(run);
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
}
