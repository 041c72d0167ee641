//! One real piece for each joint family, put through the whole tool: no problem,
//! a clean sheet and a part that can be made from nothing but its drawing.

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use rodwright::drawing::{Look, Paper, Profile};
use rodwright::joinery::{CutKind, WorkedPart};
use rodwright::measure::Unit;
use rodwright::paper::lint::judge_set;
use rodwright::problem::{Severity, render_all};
use rodwright::script::{Limits, NoModules, Request};
use rodwright::{Choices, draw, examine, set_out};

use crate::drawing::parts::all_come_back;
use crate::support::scripts::scripts_in;
use crate::support::sets::looks;

/// The scripts of `tests/drawing/families`, in order.
fn scripts() -> Vec<PathBuf> {
    let mut all = scripts_in("tests/drawing/families");
    // `ONLY=name` looks at one of them.
    if let Some(only) = std::env::var_os("ONLY") {
        all.retain(|p| p.file_stem() == Some(&only));
    }
    assert!(!all.is_empty());
    all
}

fn request(path: &PathBuf) -> Request {
    Request {
        name: path.file_name().unwrap().to_string_lossy().into_owned(),
        text: fs::read_to_string(path).unwrap(),
        settings: Vec::new(),
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    }
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    /// Two looks each and a third in turn; `LOOKS=all` tries all twenty.
    #[test]
    fn every_family_is_drawn_clean_and_rebuilt_from_its_sizes() {
        let fixed = [
            Look::new(Paper::A3, Unit::Mm, Profile::Iso),
            Look::new(Paper::Letter, Unit::Inch, Profile::Asme),
        ];
        let every = looks();
        let whole = std::env::var("LOOKS").is_ok_and(|v| v == "all");
        let mut wrong = Vec::new();
        for (i, path) in scripts().iter().enumerate() {
            let turn = &every[(7 * i + 3) % every.len()..][..1];
            let looks = if whole { every.clone() } else { [&fixed[..], turn].concat() };
            let done = examine(&request(path));
            let sound = done.problems.iter().all(|p| p.severity == Severity::Advice);
            assert!(sound, "{}", render_all(&done.problems, &done.sources));
            let (job, worked) = done.worked.unwrap();
            for look in &looks {
                let drawn = draw(&job, &worked, look);
                assert!(drawn.problems.is_empty(), "{path:?}: {:?}", drawn.problems);
                for f in judge_set(&drawn.sheets) {
                    wrong.push(format!(
                        "{:?} {:?} sheet {} at {:.0}, {:.0}: {} {}",
                        path.file_stem().unwrap(),
                        look.paper,
                        f.sheet,
                        f.at.x,
                        f.at.y,
                        f.rule,
                        f.message
                    ));
                }
                // A shaped outline, or a moulding, is marked from its template at full
                // size, not from figures.
                let by_template = |kind: CutKind| matches!(kind, CutKind::Outline | CutKind::Moulding);
                let shaped = |p: &WorkedPart| p.cuts.iter().any(|c| by_template(c.kind));
                if !worked.parts.iter().any(shaped) {
                    all_come_back(&job, &worked, look);
                }
            }
        }
        assert!(wrong.is_empty(), "{} findings\n{}", wrong.len(), wrong.join("\n"));
    }

    #[test]
    fn every_family_is_set_out_to_files() {
        for path in scripts() {
            let set = set_out(&request(&path), &Choices::default());
            let sound = set.problems.iter().all(|p| p.severity == Severity::Advice);
            assert!(sound, "{}", render_all(&set.problems, &set.sources));
            assert!(set.files.len() >= 6, "{path:?}");
        }
    }
}
