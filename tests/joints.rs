//! Joints find their places and cut both parts.

use std::sync::Arc;

use rodwright::joinery::{self, WorkedJob};
use rodwright::problem::render_all;
use rodwright::script::{Limits, NoModules, Request, evaluate};
use rodwright::solid::Standing;

/// A script worked: its parts and joints, and its problems as the maker reads
/// them.
fn worked(name: &str, text: &str, settings: &[(&str, &str)]) -> (WorkedJob, String) {
    let evaluated = evaluate(&Request {
        name: name.into(),
        text: text.into(),
        settings: settings.iter().map(|(n, v)| ((*n).into(), (*v).into())).collect(),
        loader: Arc::new(NoModules),
        words: joinery::words(),
        limits: Limits::default(),
    });
    let mut problems = evaluated.problems;
    let (job, more) = evaluated.job.as_ref().map(joinery::work).unwrap_or_default();
    problems.extend(more);
    (job, render_all(&problems, &evaluated.sources))
}

/// A script of the project, worked without a problem.
fn script(name: &str, settings: &[(&str, &str)]) -> WorkedJob {
    let text = std::fs::read_to_string(format!("scripts/{name}.rhai")).unwrap();
    let (job, problems) = worked(name, &text, settings);
    assert_eq!(problems, "", "{name} {settings:?}");
    job
}

#[test]
fn the_three_scripts_are_worked() {
    for (name, settings) in [
        ("periodicals_cabinet", &[][..]),
        ("periodicals_cabinet", &[("back", "rebate"), ("width", "1211.3")]),
        ("low_bookcase", &[]),
        ("low_bookcase", &[("inches", "yes"), ("housing", "through"), ("shelves", "4"), ("height", "1300")]),
        ("notice_frame", &[]),
        ("notice_frame", &[("glass", "no"), ("face", "60")]),
    ] {
        let job = script(name, settings);
        assert!(!job.joints.is_empty());
        for part in &job.parts {
            let (low, high) = part.solid.bounds().unwrap();
            // No part is larger than its blank, and none is wasted.
            assert!(low.abs().max_element() < 1e-6, "{name}: {} begins at {low}", part.name);
            assert!((high - part.size).abs().max_element() < 1e-6, "{name}: {} ends at {high}", part.name);
            assert!(part.number > 0);
        }
        clear_of_one_another(&job);
    }
}

/// No two parts of a job stand in one another, as cut.
fn clear_of_one_another(job: &WorkedJob) {
    let standing: Vec<Standing> = job.parts.iter().map(|p| Standing::new(&p.solid, &p.at)).collect();
    for (i, a) in job.parts.iter().enumerate() {
        for (j, b) in job.parts.iter().enumerate().skip(i + 1) {
            let deep = standing[i].interferes(&standing[j]);
            assert_eq!(deep, None, "{} and {} cross", a.name, b.name);
        }
    }
}
