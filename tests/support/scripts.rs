//! Scripts written in a test, through the whole tool.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rodwright::joinery::WorkedJob;
use rodwright::model::Job;
use rodwright::problem::render_all;
use rodwright::script::{Limits, NoModules, Request};

/// A script to be run with the words of the project, its sizes as they stand.
pub(crate) fn request(name: &str, text: String) -> Request {
    Request {
        name: name.into(),
        text,
        settings: Vec::new(),
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    }
}

/// Everything found in a script, as the maker reads it.
pub(crate) fn found(text: &str) -> String {
    let done = rodwright::examine(&request("years.rhai", text.into()));
    render_all(&done.problems, &done.sources)
}

/// The job of a script, worked without a problem of any kind.
#[track_caller]
pub(crate) fn made(text: &str) -> (Job, WorkedJob) {
    let done = rodwright::examine(&request("test", text.into()));
    assert_eq!(render_all(&done.problems, &done.sources), "", "{text}");
    done.worked.unwrap()
}

/// The scripts in a folder of the project and in the folders in it, in the order of
/// their names.
pub(crate) fn scripts_in(folder: &str) -> Vec<PathBuf> {
    let mut all = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(folder) = folders.pop() {
        for path in fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()) {
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rhai") {
                all.push(path);
            }
        }
    }
    all.sort_by(|a, b| a.file_name().cmp(&b.file_name()));
    all
}

/// A request for the piece of a joint family in `tests/drawing/families/`.
pub(crate) fn family(name: &str) -> Request {
    let named = |path: &PathBuf| path.file_stem().is_some_and(|stem| stem == name);
    let path = scripts_in("tests/drawing/families").into_iter().find(named).unwrap();
    request(name, fs::read_to_string(path).unwrap())
}
