//! That the tests can be found: no file left out of `main.rs`, no folder too full, no
//! golden text without its test, no data without its source and terms.

use std::fs;
use std::path::{Path, PathBuf};

fn tests() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests")
}

/// What stands in a folder, in order.
fn entries(folder: &Path) -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    all.sort();
    all
}

/// A folder and all folders in it.
fn folders(from: PathBuf) -> Vec<PathBuf> {
    let inner = entries(&from).into_iter().filter(|p| p.is_dir()).flat_map(folders).collect();
    [vec![from], inner].concat()
}

fn stem(path: &Path) -> &str {
    path.file_stem().unwrap().to_str().unwrap()
}

/// The files of all folders of the tests that end in `ending`.
fn files(ending: &str) -> Vec<PathBuf> {
    let all = folders(tests()).into_iter().flat_map(|folder| entries(&folder));
    all.filter(|p| p.is_file() && p.extension().is_some_and(|e| e == ending)).collect()
}

/// A file that nothing names is not compiled, and its tests pass by not being there.
#[test]
fn every_file_is_on_the_map() {
    let main = fs::read_to_string(tests().join("main.rs")).unwrap();
    for path in files("rs") {
        let folder = path.parent().unwrap();
        if path.ends_with("main.rs") || path.ends_with("mod.rs") || folder.ends_with("benches") {
            continue;
        }
        let above = [folder.join("mod.rs"), folder.join("main.rs"), folder.with_extension("rs")];
        let named = above.iter().filter_map(|file| fs::read_to_string(file).ok()).chain([main.clone()]);
        let line = format!("mod {};", stem(&path));
        let mut named = named.flat_map(|text| text.lines().map(|l| l.trim().to_owned()).collect::<Vec<_>>());
        assert!(
            named.any(|l| l.trim_start_matches("pub(crate) ") == line),
            "{} is not on the map",
            path.display()
        );
    }
}

#[test]
fn no_folder_is_too_full_to_look_through() {
    for folder in folders(tests()) {
        let count = entries(&folder).iter().filter(|p| p.is_file()).count();
        assert!(count <= 20, "{} holds {count} files", folder.display());
    }
}

/// Beside a golden text stands the test, or the folder of its cases; a folder of
/// whole texts is named like its test.
#[test]
fn every_golden_text_stands_beside_its_test() {
    for path in files("txt") {
        let folder = path.parent().unwrap();
        let beside = path.with_extension("rs").is_file() || path.with_extension("").is_dir();
        assert!(beside || folder.with_extension("rs").is_file(), "{} has no test beside it", path.display());
    }
}

#[test]
fn data_say_where_they_come_from_and_on_what_terms() {
    for folder in entries(&tests().join("data")).into_iter().filter(|p| p.is_dir()) {
        let text = fs::read_to_string(folder.join("README.md")).unwrap_or_default();
        let lower = text.to_lowercase();
        for word in ["source", "terms"] {
            assert!(lower.contains(word), "{} has no README with its {word}", folder.display());
        }
        for file in entries(&folder).iter().filter(|p| !p.ends_with("README.md")) {
            let named = text.contains(&format!("`{}`", file.file_name().unwrap().to_string_lossy()))
                || text.contains(&format!("`{}`", stem(file)));
            assert!(named, "{}: the README does not tell of it", file.display());
        }
    }
}
