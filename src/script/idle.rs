//! Choices that change nothing as the others stand: knobs where there are no doors.

use rayon::prelude::*;

use super::{Request, evaluate};
use crate::model::{Job, SizeKind, Work};

/// Finds the choices of a job that change neither its parts nor what is worked on them,
/// and marks them: a client who reads of knobs looks for doors. Every trial runs the
/// script anew, so this is done only where somebody is told of choices.
pub fn mark_idle(request: &Request, job: &mut Job) {
    let now: &Job = job;
    let idle: Vec<bool> = now
        .sizes
        .par_iter()
        .with_max_len(1)
        .map(|size| {
            let SizeKind::Choice { among, .. } = &size.decl.kind else { return false };
            let others = among.iter().filter(|other| size.text.as_ref() != Some(other));
            among.len() > 1
                && others
                    .map(|other| with(request, &size.decl.name, other))
                    .all(|tried| tried.is_some_and(|tried| same(&tried, now)))
        })
        .collect();
    for (size, idle) in job.sizes.iter_mut().zip(idle) {
        size.idle = idle;
    }
}

/// The job with one choice set otherwise; `None` where it cannot be made so.
fn with(request: &Request, name: &str, value: &str) -> Option<Job> {
    let mut other = request.clone();
    other.settings.retain(|(set, _)| set != name);
    other.settings.push((name.to_owned(), value.to_owned()));
    evaluate(&other).job
}

/// Whether two jobs of one script have the same parts of the same materials, worked alike.
fn same(tried: &Job, now: &Job) -> bool {
    let stock = |job: &Job, at: usize| job.stock.get(at).map(|stock| stock.name.clone());
    let work =
        |a: &Work, b: &Work| a.word.name == b.word.name && a.parts == b.parts && a.options == b.options;
    tried.parts.len() == now.parts.len()
        && tried.works.len() == now.works.len()
        && tried.parts.iter().zip(&now.parts).all(|(a, b)| {
            (a.at, a.size, a.face, a.edge) == (b.at, b.size, b.face, b.edge)
                && a.form == b.form
                && stock(tried, a.stock.0) == stock(now, b.stock.0)
        })
        && tried.works.iter().zip(&now.works).all(|(a, b)| work(a, b))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A shelf, and before it a door if one is wanted, wider for knobs than for pulls.
    const SCRIPT: &str = r#"job("Test", #{ unit: "mm" });
let doors = choice("doors", "none", ["none", "plain"]);
let handles = choice("handles", "knobs", ["knobs", "pulls"]);
let oak = board_stock("Oak", #{ thick: [27] });
piece("Piece");
board("Shelf", oak, #{ x: [0, 400], y: [0, 200], z: [0, 20], grain: "x" });
if doors != "none" {
    let wide = if handles == "knobs" { 400 } else { 380 };
    board("Door", oak, #{ x: [0, wide], y: [-20, 0], z: [20, 300], grain: "z" });
}
"#;

    fn idle(doors: &str) -> Vec<bool> {
        let settings = vec![("doors".to_owned(), doors.to_owned())];
        let request = Request { text: SCRIPT.to_owned(), settings, ..Request::of_nothing() };
        let mut job = evaluate(&request).job.unwrap();
        mark_idle(&request, &mut job);
        job.sizes.iter().map(|size| size.idle).collect()
    }

    #[test]
    fn handles_count_only_where_there_are_doors() {
        assert_eq!(idle("none"), [false, true]);
        assert_eq!(idle("plain"), [false, false]);
    }
}
