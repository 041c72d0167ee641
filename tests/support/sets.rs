//! The scripts of the project through the whole tool, in every look.

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use rodwright::drawing::{Look, Paper, Profile};
use rodwright::examine;
use rodwright::joinery::WorkedJob;
use rodwright::measure::Unit;
use rodwright::model::Job;
use rodwright::paper::lint::Finding;
use rodwright::problem::{Problem, render_all};
use rodwright::script::{Limits, NoModules, Request};

/// The folder of the project.
pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Names of the scripts in `scripts/`, in order.
pub(crate) fn scripts() -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(root().join("scripts"))
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "rhai"))
        .map(|p| p.file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

/// A request for a script of the project with some sizes set.
pub(crate) fn request(script: &str, settings: &[(&str, &str)]) -> Request {
    let settings = settings.iter().map(|(n, v)| ((*n).into(), (*v).into())).collect();
    Request { settings, ..request_at(&format!("scripts/{script}.rhai")) }
}

/// A request for the script at a path of the project.
fn request_at(name: &str) -> Request {
    Request {
        text: fs::read_to_string(root().join(name)).unwrap(),
        name: name.into(),
        settings: Vec::new(),
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    }
}

/// The worked job; a problem of any kind fails the test.
pub(crate) fn worked(script: &str, settings: &[(&str, &str)]) -> (Job, WorkedJob) {
    let done = examine(&request(script, settings));
    none(&done.problems, &done.sources, script);
    done.worked.unwrap()
}

/// Fails with what was found, if anything.
pub(crate) fn none(problems: &[Problem], sources: &rodwright::source::Sources, script: &str) {
    assert!(problems.is_empty(), "{script}:\n{}", render_all(problems, sources));
}

/// Every paper with the units and practices it is used with.
pub(crate) fn looks() -> Vec<Look> {
    let mut all = Vec::new();
    for paper in [Paper::A4, Paper::A3, Paper::Letter, Paper::Tabloid] {
        for unit in [Unit::Mm, Unit::Inch] {
            for profile in [Profile::Iso, Profile::Asme] {
                all.push(Look::new(paper, unit, profile));
            }
        }
    }
    // The large papers in their own unit and practice, British practice, and
    // overall sizes in feet and inches.
    for paper in [Paper::A2, Paper::A1, Paper::A0] {
        all.push(Look::new(paper, Unit::Mm, Profile::Iso));
    }
    for paper in [Paper::C, Paper::D, Paper::E] {
        all.push(Look { feet: true, finest: 16, ..Look::new(paper, Unit::Inch, Profile::Asme) });
    }
    for paper in [Paper::A4, Paper::A3] {
        all.push(Look::new(paper, Unit::Mm, Profile::Uk));
    }
    all
}

/// Findings as lines to read.
pub(crate) fn describe(found: &[Finding]) -> String {
    let lines: Vec<String> = found
        .iter()
        .take(40)
        .map(|f| format!("  sheet {} at {:.0}, {:.0}: {} {}", f.sheet, f.at.x, f.at.y, f.rule, f.message))
        .collect();
    format!("{} findings\n{}", found.len(), lines.join("\n"))
}
