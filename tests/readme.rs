//! What the README says is so.

use std::sync::Arc;

use rodwright::script::{Limits, NoModules, Request};

const README: &str = include_str!("../README.md");
const DEVELOPERS: &str = include_str!("../DEVELOPERS.md");

/// Blocks of the README in one language.
fn blocks(language: &str) -> Vec<&'static str> {
    README
        .split("```")
        .skip(1)
        .step_by(2)
        .filter_map(|block| block.strip_prefix(language)?.strip_prefix('\n'))
        .collect()
}

#[test]
fn the_script_of_the_readme_sets_out() {
    let scripts = blocks("rhai");
    assert!(!scripts.is_empty());
    for text in scripts {
        let request = Request {
            name: "README".into(),
            text: text.into(),
            settings: Vec::new(),
            loader: Arc::new(NoModules),
            words: rodwright::words(),
            limits: Limits::default(),
        };
        let set = rodwright::set_out(&request, &rodwright::Choices::default());
        assert!(set.problems.is_empty(), "{}", rodwright::problem::render_all(&set.problems, &set.sources));
        assert!(set.files.len() > 5);
    }
}

#[test]
fn words_and_files_named_are_there() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    for word in rodwright::words() {
        assert!(README.contains(&format!("`{}`", word.name)), "README lacks the word `{}`", word.name);
    }
    for text in [README, DEVELOPERS] {
        for named in text.split('`').skip(1).step_by(2) {
            let path = named.trim_end_matches('/');
            let looks = ["src/", "scripts/", "tests/", "output-samples", "stdlib", ".ci/"];
            if looks.iter().any(|l| path.starts_with(l))
                && !path.contains([' ', '*'])
                && !path.contains("NAME")
            {
                assert!(root.join(path).exists(), "`{path}` is named but is not there");
            }
        }
    }
    for picture in README.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
        if std::path::Path::new(picture).extension().is_some_and(|e| e == "png") {
            assert!(root.join(picture).exists(), "the picture {picture} is not there");
        }
    }
}
