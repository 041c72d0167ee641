//! Scripts by lot that were answered ill once, and how they are answered since. Each is as
//! short as it still shows the fault.

use std::sync::mpsc::channel;
use std::thread;
use std::time::Duration;

use crate::support::scripts::request;

/// Codes of what is found in a script, each once, within a time that is many times what it
/// takes unoptimised on a machine with other work.
#[track_caller]
fn found(text: &str) -> Vec<&'static str> {
    let (done, wait) = channel();
    let text = text.to_owned();
    thread::spawn(move || {
        let done_with = rodwright::examine(&request("once.rhai", text));
        assert!(done_with.problems.iter().all(|p| p.help.is_some() && !p.places.is_empty()));
        let _gone_if_too_late = done.send(done_with.problems);
    });
    let problems = wait.recv_timeout(Duration::from_secs(60)).expect("an answer within a minute");
    let mut codes: Vec<&str> = problems.iter().map(|p| p.code).collect();
    codes.sort_unstable();
    codes.dedup();
    codes
}

/// A type made anew where it stands already, as a line does that is said twice.
fn twice(times: usize, type_and_call: (&str, &str)) -> String {
    let (name, call) = type_and_call;
    format!(
        "import \"{name}\" as {name};\njob(\"Twice\");\npiece(\"Twice\");\nfor again in 0..{times} {{ {name}::{call}; }}\n"
    )
}

mod slow_tests {
    use super::*;

    /// Each part runs into all others there, each of its faces into each of theirs, and each
    /// facet of a turned one looks another way.
    #[test]
    fn parts_that_fill_one_another_are_told_soon() {
        for made in [
            ("corner_case", "make(#{ wall: 560, shape: \"square\" })"),
            ("case", "make(#{ width: 760, corners: \"mitred\", back: \"rebate\" })"),
            ("face_frame", "make(#{ width: 700, rows: 2, joint: \"pocket screws\" })"),
            ("post", "make(#{ height: 800, cap: false, rings: 2 })"),
            ("stand", "make(#{ sides: 8, lean: 4 })"),
        ] {
            let codes = found(&twice(2, made));
            assert!(codes.contains(&"parts-cross") || codes.contains(&"same-name"), "{made:?}: {codes:?}");
        }
    }
}
