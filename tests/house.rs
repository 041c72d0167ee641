//! The house rules as tests: who may use whom, how long files are, that every
//! file says what it is.

use std::fs;
use std::path::{Path, PathBuf};

/// The modules in dependency order: each may use only those before it.
/// `checks`, `cutting` and `assembly` stand side by side and do not use one
/// another.
const ORDER: [&str; 17] = [
    "measure", "source", "problem", "geometry", "solid", "paper", "timber", "model", "script", "joinery",
    "checks", "cutting", "assembly", "wording", "drawing", "output", "cli",
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
        "LICENSE",
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
    assert!(packages <= 246, "{packages} locked packages, the aim is 245 besides this one");
}
