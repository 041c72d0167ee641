//! The house rules as tests: who may use whom, how long files are, that every
//! file says what it is.

use std::fs;
use std::path::{Path, PathBuf};

/// The modules in dependency order: each may use only those before it.
/// `checks`, `cutting` and `assembly` stand side by side and do not use one
/// another.
const ORDER: [&str; 24] = [
    "measure",
    "source",
    "problem",
    "geometry",
    "solid",
    "paper",
    "timber",
    "model",
    "script",
    "joinery",
    "machining",
    "checks",
    "cutting",
    "assembly",
    "estimate",
    "revision",
    "wording",
    "drawing",
    "exchange",
    "output",
    "quoting",
    "changing",
    "nearby",
    "cli",
];

/// What a module may not name besides those after it.
const APART: [(&str, &[&str]); 5] = [
    ("checks", &["cutting", "assembly"]),
    ("cutting", &["checks", "assembly"]),
    ("assembly", &["checks", "cutting"]),
    ("joinery", &["script"]),
    ("output", &["solid", "script", "joinery"]),
];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn rust_files(folder: &Path, into: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            rust_files(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
}

fn sources() -> Vec<(String, String)> {
    let mut files = Vec::new();
    rust_files(&root().join("src"), &mut files);
    files
        .into_iter()
        .map(|path| {
            let name = path.strip_prefix(root().join("src")).unwrap().to_string_lossy().replace('\\', "/");
            (name, fs::read_to_string(path).unwrap())
        })
        .collect()
}

/// Code before the tests of a file.
fn code(text: &str) -> &str {
    text.split("\n#[cfg(test)]").next().unwrap()
}

#[test]
fn modules_use_only_those_above_them() {
    let mut wrong = Vec::new();
    for (name, text) in sources() {
        let module = name.split(['/', '.']).next().unwrap().to_string();
        let Some(at) = ORDER.iter().position(|m| *m == module) else { continue };
        let apart = APART.iter().find(|(m, _)| *m == module).map_or(&[][..], |(_, list)| list);
        for other in ORDER[at + 1..].iter().chain(apart) {
            for pattern in
                [format!("crate::{other}::"), format!("crate::{other};"), format!("crate::{{{other}")]
            {
                if code(&text).lines().any(|l| !l.trim_start().starts_with("//") && l.contains(&pattern)) {
                    wrong.push(format!("{name} uses {other}"));
                }
            }
        }
    }
    wrong.dedup();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn only_the_engine_of_the_script_module_names_rhai() {
    for (name, text) in sources() {
        if !name.starts_with("script/engine/") {
            let named =
                code(&text).lines().any(|l| l.contains("rhai::") && !l.trim_start().starts_with("//"));
            assert!(!named, "{name} names rhai");
        }
    }
}

#[test]
fn files_are_short_and_say_what_they_are() {
    let mut wrong = Vec::new();
    for (name, text) in sources() {
        let lines = code(&text).lines().count();
        if lines > 600 {
            wrong.push(format!("{name} has {lines} lines before its tests"));
        }
        if !text.starts_with("//!") {
            wrong.push(format!("{name} does not say what it is"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn only_agreed_things_stand_at_the_top() {
    let agreed = [
        ".cargo",
        ".ci",
        ".clippy.toml",
        ".git",
        ".gitignore",
        ".rustfmt.toml",
        "Cargo.lock",
        "Cargo.toml",
        "DEVELOPERS.md",
        "LICENSE-APACHE",
        "LICENSE-MIT",
        "README.md",
        // What the README's first command makes; not part of the project.
        "out",
        "output-samples",
        "scripts",
        "src",
        "stdlib",
        "target",
        "tests",
    ];
    for entry in fs::read_dir(root()).unwrap() {
        let name = entry.unwrap().file_name().to_string_lossy().into_owned();
        assert!(agreed.contains(&name.as_str()), "{name} stands at the top level");
    }
}

#[test]
fn dependencies_stay_few() {
    let lock = fs::read_to_string(root().join("Cargo.lock")).unwrap();
    let packages = lock.matches("[[package]]").count();
    // Some 25 of them only serve the comparison of renders in tests.
    assert!(packages <= 225, "{packages} locked packages, the aim is 225");
}

/// Where joints may be known by their words: where words are defined and read, and
/// where a sentence is made of them.
const KNOW_WORDS: [&str; 5] = ["joinery", "model", "script", "cli", "wording"];

/// What takes a sentence apart, or looks for something in it.
const TAKE_APART: [&str; 9] = [
    ".split",
    ".contains(",
    ".starts_with(",
    ".ends_with(",
    ".strip_",
    ".find(",
    ".rfind(",
    ".trim_",
    ".matches(",
];

/// What gives a sentence about a joint or what it needs, as it stands in the code.
const SENTENCES: [&str; 8] =
    [".says", ".setting", ".what", ".called(", ".setting_of(", ".summary(", ".setting(", ".item("];

/// Why a line outside the stages that know words knows a joint by its word, if it
/// does: it has a name to compare with, or looks into the word.
fn knows_a_word(line: &str, names: &[&str]) -> Option<String> {
    if line.contains(".word.")
        || (line.contains(".word {") && line.contains("match "))
        || (line.contains(".word)") && line.contains("contains("))
        || [".word == ", ".word != "].iter().any(|pattern| line.contains(pattern))
    {
        return Some("asks which word a joint has".into());
    }
    let named = names.iter().find(|name| {
        let literal = format!("\"{name}\"");
        let compared = [
            format!("== {literal}"),
            format!("!= {literal}"),
            format!("&{literal}"),
            format!("{literal} =>"),
            format!("{literal} |"),
        ];
        // What has an underscore is a word of the script, and no word of the trade
        // that a list would print.
        (name.contains('_') && line.contains(&literal))
            || (line.trim_start().starts_with("const ") && line.contains(&literal))
            || compared.iter().any(|pattern| line.contains(pattern))
    });
    named.map(|name| format!("names `{name}`"))
}

/// Whether a line takes apart a sentence about a joint.
fn takes_a_sentence_apart(line: &str) -> bool {
    SENTENCES.iter().any(|sentence| {
        line.match_indices(sentence).any(|(at, _)| {
            let rest = &line[at + sentence.len()..];
            // Past the arguments of a call.
            let rest = if sentence.ends_with('(') {
                rest.split_once(')').map_or("", |(_, rest)| rest)
            } else {
                rest
            };
            TAKE_APART.iter().any(|verb| rest.starts_with(verb))
        })
    })
}

/// A later stage asks joints for their traits, and the wording for sentences: it
/// knows no words, reads no sentences and makes none of facts.
#[test]
fn facts_travel_as_facts() {
    let names: Vec<&str> = rodwright::words().iter().map(|word| word.name).collect();
    let mut wrong = Vec::new();
    for (name, text) in sources() {
        let module = name.split(['/', '.']).next().unwrap();
        if KNOW_WORDS.contains(&module) {
            continue;
        }
        let lines = code(&text).lines().enumerate();
        for (number, line) in lines.filter(|(_, line)| !line.trim_start().starts_with("//")) {
            let at = format!("{name}:{}", number + 1);
            wrong.extend(knows_a_word(line, &names).map(|why| format!("{at} {why}")));
            if takes_a_sentence_apart(line) {
                wrong.push(format!("{at} takes a sentence apart"));
            }
            if [".facts", "facts::", "Facts"].iter().any(|pattern| line.contains(pattern)) {
                wrong.push(format!("{at} reads the facts of a joint: ask its traits, or the wording"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
