//! Bad input: each script in `tests/script/problems/` with the whole text of its
//! problems beside it. `UPDATE=1 cargo test --test suite problems` writes what is
//! found; look at it before it is kept.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rodwright::cli::Folder;
use rodwright::problem::render_all;
use rodwright::script::{Limits, Request, evaluate};

/// The folder of the cases.
const CASES: &str = "tests/script/problems";

/// Values after `// set: ` lines at the head of a case.
fn settings(text: &str) -> Vec<(String, String)> {
    text.lines()
        .map_while(|line| line.strip_prefix("// set: "))
        .map(|set| set.split_once('=').map(|(n, v)| (n.to_owned(), v.to_owned())).unwrap())
        .collect()
}

/// The problems of one case as text.
fn found(path: &Path) -> String {
    let text = fs::read_to_string(path).unwrap();
    let mut limits = Limits { operations: 1_000_000, ..Limits::default() };
    if text.starts_with("// limit parts") {
        limits.parts = 20;
    }
    if text.starts_with("// limit problems") {
        limits.problems = 4;
    }
    let request = Request {
        name: path.file_name().unwrap().to_str().unwrap().to_owned(),
        settings: settings(&text),
        loader: Arc::new(Folder::of_script(path, limits.text)),
        words: rodwright::words(),
        limits,
        text,
    };
    let evaluated = evaluate(&request);
    render_all(&evaluated.problems, &evaluated.sources)
}

#[test]
fn every_bad_script_gets_its_whole_message() {
    let all = |ending: &str| -> BTreeSet<PathBuf> {
        let groups = fs::read_dir(CASES).unwrap().map(|e| e.unwrap().path());
        let files = groups.flat_map(|group| fs::read_dir(group).unwrap()).map(|e| e.unwrap().path());
        files.filter(|p| p.extension().is_some_and(|e| e == ending)).map(|p| p.with_extension("")).collect()
    };
    let update = std::env::var_os("UPDATE").is_some();
    let mut wrong = String::new();
    for case in &all("rhai") {
        let script = case.with_extension("rhai");
        let expected = script.with_extension("txt");
        let found = found(&script);
        if update {
            fs::write(&expected, &found).unwrap();
        }
        let wanted = fs::read_to_string(&expected).unwrap_or_default();
        if found != wanted || found.is_empty() {
            let name = case.to_string_lossy();
            wrong.extend(["--- ", &name, ", expected:\n", &wanted, "--- found:\n", &found, "\n"]);
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert_eq!(all("rhai"), all("txt"), "each case has its expected text, and each text its case");
}
