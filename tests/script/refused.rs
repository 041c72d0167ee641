//! What is said of scripts that no file of a reasonable size can show: too large, too
//! slow, and declarations that cannot be read without running the script.

use std::sync::Arc;

use rodwright::problem::render_all;
use rodwright::script::{Limits, LoadError, Loader, Request, declared, evaluate};

use crate::support::golden::golden;
use crate::support::scripts::request;

/// A loader whose time is always up.
struct Late;

impl Loader for Late {
    fn read(&self, _: &str) -> Result<String, LoadError> {
        Err(LoadError::NotFound)
    }

    fn time_is_up(&self) -> bool {
        true
    }
}

#[test]
fn scripts_that_are_too_much_are_said() {
    let large = Limits { script: 20, ..Limits::default() };
    let text = "job(\"Bench\");\npiece(\"Bench\");\n".to_owned();
    let large = evaluate(&Request { limits: large, ..request("bench.rhai", text) });
    let text = "job(\"Bench\");\nlet n = 0;\nwhile n < 100000 { n += 1; }\n".to_owned();
    let slow = evaluate(&Request { loader: Arc::new(Late), ..request("bench.rhai", text) });
    let text = "job(\"Bench\");\nlet k = sqrt(4.0);\nsize(\"width\", k * 300);\n".to_owned();
    let worked_out = declared(&request("bench.rhai", text));
    let cases = [
        ("too large", render_all(&large.problems, &large.sources)),
        ("too slow", render_all(&slow.problems, &slow.sources)),
        ("a size that is worked out", render_all(&worked_out.problems, &worked_out.sources)),
    ];
    golden(file!(), &cases);
}
