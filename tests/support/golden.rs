//! Golden texts: what was found once, read by someone, and kept beside the test that
//! finds it again. `UPDATE=1` writes them anew; read the difference before it is kept.

use std::fs;
use std::path::{Path, PathBuf};

use rodwright::problem::{Problem, Severity};

/// Compares named texts with the file beside a test, which gives its `file!()`: the
/// same path ending in `.txt`.
#[track_caller]
pub(crate) fn golden<N: AsRef<str>>(test: &str, cases: &[(N, String)]) {
    golden_in(&Path::new(test).with_extension("txt"), cases);
}

/// Compares named texts with a file of the project. A case begins with a line
/// `--- name ---`, so that a new one moves no other.
#[track_caller]
pub(crate) fn golden_in<N: AsRef<str>>(path: &Path, cases: &[(N, String)]) {
    let found: Vec<(&str, &str)> =
        cases.iter().map(|(name, text)| (name.as_ref(), text.trim_end_matches('\n'))).collect();
    for (at, (name, text)) in found.iter().enumerate() {
        assert!(!text.is_empty(), "{}: nothing is said in the case `{name}`", path.display());
        assert!(!found[..at].iter().any(|(n, _)| n == name), "{}: two cases `{name}`", path.display());
    }
    let whole: Vec<String> = found.iter().map(|(name, text)| format!("--- {name} ---\n{text}\n")).collect();
    let whole = whole.join("\n");
    if let Some(kept) = kept(path, &whole) {
        panic!("{}\n{}\nUPDATE=1 writes it anew", path.display(), differences(&split(&kept), &found));
    }
}

/// What cases kept and found differ in.
fn differences(kept: &[(&str, &str)], found: &[(&str, &str)]) -> String {
    let mut wrong = String::new();
    for (name, text) in found {
        match kept.iter().find(|(n, _)| n == name) {
            Some((_, wanted)) if wanted == text => {}
            Some((_, wanted)) => {
                wrong.extend(["--- ", name, ": expected\n", wanted, "\n--- but found\n", text, "\n"]);
            }
            None => wrong.extend(["--- ", name, ": is not there; found\n", text, "\n"]),
        }
    }
    for (name, _) in kept.iter().filter(|(n, _)| !found.iter().any(|(name, _)| n == name)) {
        wrong.extend(["--- ", name, ": stands there, but is not a case\n"]);
    }
    wrong
}

/// Compares one text with a file of the project.
#[track_caller]
pub(crate) fn golden_text(path: &Path, text: &str) {
    if let Some(kept) = kept(path, text) {
        assert_eq!(text, kept, "{}: UPDATE=1 writes it anew", path.display());
    }
}

/// What stands in a file, or `None` if it is as it should be.
fn kept(path: &Path, wanted: &str) -> Option<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    if std::env::var_os("UPDATE").is_some() {
        fs::write(path, wanted).unwrap();
        return None;
    }
    let kept = fs::read_to_string(path).unwrap_or_default();
    (kept != wanted).then_some(kept)
}

/// The cases of a golden file: names and texts.
fn split(text: &str) -> Vec<(&str, &str)> {
    let blocks = text.strip_prefix("--- ").unwrap_or_default().split("\n--- ");
    blocks
        .filter_map(|block| block.split_once(" ---\n"))
        .map(|(name, text)| (name, text.trim_end_matches('\n')))
        .collect()
}

/// Problems without their places, as a golden text has them.
pub(crate) fn without_places(problems: &[Problem]) -> String {
    let one = |problem: &Problem| {
        let severity = match problem.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Advice => "advice",
        };
        let help = problem.help.as_ref().map(|help| format!("= help: {help}\n")).unwrap_or_default();
        format!("{severity}[{}]: {}\n{help}", problem.code, problem.message)
    };
    problems.iter().map(one).collect()
}

/// Every golden text of the project, whatever its kind.
pub(crate) fn all_golden_texts() -> Vec<(PathBuf, String)> {
    let mut all = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("tests")];
    while let Some(folder) = folders.pop() {
        for path in fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()) {
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "txt") {
                let text = fs::read_to_string(&path).unwrap();
                all.push((path, text));
            }
        }
    }
    all.sort();
    all
}

#[test]
fn cases_are_compared_by_their_names() {
    let kept = split("--- one ---\nfirst\n\n--- two ---\nsecond\nline\n");
    assert_eq!(kept, [("one", "first"), ("two", "second\nline")]);
    assert_eq!(differences(&kept, &[("two", "second\nline"), ("one", "first")]), "");
    let wrong = differences(&kept, &[("one", "else"), ("three", "third")]);
    assert_eq!(
        wrong,
        "--- one: expected\nfirst\n--- but found\nelse\n--- three: is not there; found\nthird\n\
         --- two: stands there, but is not a case\n"
    );
}
