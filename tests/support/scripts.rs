//! Scripts written in a test, through the whole tool.

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

/// The job of a script, worked without a problem of any kind.
#[track_caller]
pub(crate) fn made(text: &str) -> (Job, WorkedJob) {
    let done = rodwright::examine(&request("test", text.into()));
    assert_eq!(render_all(&done.problems, &done.sources), "", "{text}");
    done.worked.unwrap()
}
