//! Bad input: each script in the folders of `tests/script/problems/`, with the whole
//! text of its problems as a case of the file named like its folder.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rodwright::cli::Folder;
use rodwright::problem::render_all;
use rodwright::script::{Limits, Request, evaluate};

use crate::support::golden::golden_in;

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
    if text.starts_with("// limit in piece") {
        limits.in_piece = 10;
    }
    if text.starts_with("// limit printed") {
        limits.printed = 2;
    }
    if text.starts_with("// limit problems") {
        limits.problems = 4;
    }
    let request = Request {
        name: path.file_name().unwrap().to_str().unwrap().to_owned(),
        settings: settings(&text),
        loader: Arc::new(Folder::of_script(path, limits.script)),
        words: rodwright::words(),
        limits,
        text,
    };
    let evaluated = evaluate(&request);
    render_all(&evaluated.problems, &evaluated.sources)
}

#[test]
fn every_bad_script_gets_its_whole_message() {
    let mut groups: Vec<PathBuf> = fs::read_dir(CASES).unwrap().map(|e| e.unwrap().path()).collect();
    groups.retain(|path| path.is_dir());
    groups.sort();
    assert!(groups.len() > 5);
    for group in groups {
        let mut scripts: Vec<PathBuf> = fs::read_dir(&group).unwrap().map(|e| e.unwrap().path()).collect();
        scripts.retain(|path| path.extension().is_some_and(|e| e == "rhai"));
        scripts.sort();
        let name = |path: &PathBuf| path.file_stem().unwrap().to_str().unwrap().to_owned();
        let cases: Vec<(String, String)> = scripts.iter().map(|path| (name(path), found(path))).collect();
        golden_in(&group.with_extension("txt"), &cases);
    }
}
