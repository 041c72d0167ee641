//! Every code of a problem has a golden text, so that someone has read what is said.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use crate::support::golden::all_golden_texts;

/// Codes that no input known to us brings about, and why.
const NEVER: [(&str, &str); 8] = [
    (
        "does-not-close",
        "the kernel tries a solid again with other tolerances; none is known that never closes",
    ),
    ("dxf", "drawings of flat parts are text made in memory"),
    ("gltf", "a picture in three dimensions fails only beyond four gigabytes"),
    ("job", "the job file is text made in memory"),
    ("lists", "the workbook is made in memory from bounded texts"),
    ("obstacle-without-size", "spans that are missing, empty or backwards are refused as they are read"),
    ("pdf", "the PDF is made in memory from our own sheets and fonts"),
    ("svg", "the pictures are text made in memory"),
];

/// The source files, without their tests and comments.
fn sources() -> Vec<(PathBuf, String)> {
    let mut all = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    while let Some(folder) = folders.pop() {
        for path in fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()) {
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") && !path.ends_with("tests.rs") {
                let text = fs::read_to_string(&path).unwrap();
                let code = text.split("\n#[cfg(test)]").next().unwrap();
                let lines: Vec<&str> = code.lines().filter(|l| !l.trim_start().starts_with("//")).collect();
                all.push((path, lines.join("\n")));
            }
        }
    }
    all
}

/// Whether a text could be a code: `parts-cross`.
fn is_code(text: &str) -> bool {
    text.split('-').all(|word| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase()))
}

/// Names of functions and closures of a text with a parameter `code`, and whether
/// other files may call them.
fn callees(text: &str) -> Vec<(&str, bool)> {
    let name = |before: &'static str, end: char| {
        let starts = text.match_indices(before).map(move |(at, _)| at + before.len());
        starts.filter_map(move |at| {
            let (name, rest) = text[at..].split_once(end)?;
            let parameters = rest.split(['{', ';']).next()?;
            let public = text[..at].trim_end_matches(before).trim_end().ends_with(['b', ')']);
            Some((name.split('<').next()?, parameters, public))
        })
    };
    let functions = name("fn ", '(').filter(|(_, parameters, _)| parameters.contains("code: &'static str"));
    let functions = functions.map(|(name, _, public)| (name, public));
    let closures = name("let ", '=').filter_map(|(name, after, _)| {
        let parameters = after.trim_start().strip_prefix('|')?.split('|').next()?;
        parameters
            .split(',')
            .any(|one| one.split(':').next().unwrap().trim() == "code")
            .then_some(name.trim())
    });
    functions.chain(closures.map(|name| (name, false))).filter(|(name, _)| *name != "new").collect()
}

/// The first text among the arguments after a bracket, unless a bracket or the end of
/// the call comes before it.
fn first_text(arguments: &str) -> Option<&str> {
    let (before, rest) = arguments.split_once('"')?;
    let plain = before.trim_start_matches(['&', '*']).chars().all(|c| !"();{}".contains(c));
    plain.then(|| rest.split('"').next().unwrap())
}

/// Every code that the sources give a problem, with the files that do.
fn codes(sources: &[(PathBuf, String)]) -> BTreeMap<String, BTreeSet<PathBuf>> {
    let public: BTreeSet<&str> =
        sources.iter().flat_map(|(_, t)| callees(t)).filter(|(_, public)| *public).map(|(n, _)| n).collect();
    let mut all: BTreeMap<String, BTreeSet<PathBuf>> = BTreeMap::new();
    for (path, text) in sources {
        let mut keep = |code: &str| {
            if is_code(code) {
                all.entry(code.to_owned()).or_default().insert(path.clone());
            }
        };
        let own: BTreeSet<&str> = callees(text).into_iter().map(|(name, _)| name).collect();
        for name in public.union(&own) {
            let call = format!("{name}(");
            for (at, _) in text.match_indices(&call) {
                let whole = !text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_');
                if let Some(code) = first_text(&text[at + call.len()..]).filter(|_| whole) {
                    keep(code);
                }
            }
        }
        for (at, found) in text.match_indices("code: \"") {
            keep(text[at + found.len()..].split('"').next().unwrap());
        }
        for (at, found) in text.match_indices("fn code(&self) -> &'static str {") {
            first_text(&text[at + found.len()..]).map(&mut keep);
        }
        // A code that was chosen before the call: any text of the file that could be one.
        if text.contains("(code,") || text.contains(", code,") {
            let texts = text.split('"').skip(1).step_by(2);
            texts.filter(|text| text.contains('-')).for_each(&mut keep);
        }
    }
    all
}

/// Every code in a golden text.
fn golden_codes() -> BTreeSet<String> {
    let mut all = BTreeSet::new();
    for (_, text) in all_golden_texts() {
        for severity in ["error[", "warning[", "advice["] {
            for after in text.split(severity).skip(1) {
                all.extend(after.split_once("]: ").map(|(code, _)| code.to_owned()));
            }
        }
    }
    all
}

#[test]
fn every_code_has_a_golden_text() {
    let codes = codes(&sources());
    assert!(codes.len() > 120, "only {} codes are found in the source", codes.len());
    let golden = golden_codes();
    let never: BTreeSet<&str> = NEVER.iter().map(|(code, _)| *code).collect();
    let missing: Vec<_> =
        codes.iter().filter(|(code, _)| !golden.contains(*code) && !never.contains(code.as_str())).collect();
    assert!(missing.is_empty(), "no golden text has these codes: {missing:#?}");
    for (code, why) in NEVER {
        assert!(!golden.contains(code), "`{code}` stands in a golden text, and yet: {why}");
        assert!(codes.contains_key(code), "`{code}` is no longer a code");
    }
    let unknown: Vec<&String> = golden.iter().filter(|code| !codes.contains_key(*code)).collect();
    assert!(unknown.is_empty(), "no source gives these codes, or this test no longer sees it: {unknown:?}");
}

#[test]
fn codes_are_found_however_they_are_given() {
    let text = "pub(super) fn problem(at: Origin, code: &'static str) -> Problem { Problem { code } }\n\
        fn f() { let wrong = |code, says: String| problem(at, code, says); wrong(\"given-to-closure\", says);\n\
        problem(at, \"given-to-function\"); Said { code: \"given-to-field\" };\n\
        fn code(&self) -> &'static str { \"given-by-method\" }\n\
        let code = if thick { \"chosen-before\" } else { \"chosen\" }; other(\"not-a-call-we-know\")";
    let found = codes(&[(PathBuf::from("a.rs"), text.replace("at, code, says", "at, code"))]);
    let found: Vec<&str> = found.keys().map(String::as_str).collect();
    assert_eq!(found, ["given-by-method", "given-to-closure", "given-to-field", "given-to-function"]);
    let found = codes(&[(PathBuf::from("a.rs"), text.to_owned())]);
    assert!(found.contains_key("chosen-before") && !found.contains_key("chosen"));
}

/// Words of programmers, which no maker is to read. Script text between backticks is left out.
const TALK: [&str; 13] = [
    "array",
    "boolean",
    "bound",
    "closure",
    "infer",
    "integer",
    "iterator",
    "null",
    "parameter",
    "pointer",
    "proven",
    "str",
    "undefined",
];

/// The programmers' words in the messages and cures of a golden text.
fn talk(text: &str) -> Vec<&'static str> {
    let told = text.lines().filter(|line| {
        line.trim_start().starts_with("= help: ")
            || ["error[", "warning[", "advice["].iter().any(|s| line.starts_with(s))
    });
    let plain =
        told.flat_map(|line| line.split('`').step_by(2)).flat_map(|s| s.split(|c: char| !c.is_alphabetic()));
    plain.filter_map(|word| TALK.into_iter().find(|talk| word.eq_ignore_ascii_case(talk))).collect()
}

#[test]
fn messages_are_without_programmers_talk() {
    assert_eq!(talk("error[x]: not an array but `bound`\n  = help: infer it"), ["array", "infer"]);
    for (path, text) in all_golden_texts() {
        assert_eq!(talk(&text), [""; 0], "{}", path.display());
    }
}
