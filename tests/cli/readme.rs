//! What the README says is so.

use std::ffi::OsString;
use std::path::Path;
use std::sync::Arc;

use rodwright::cli::{Ended, Terminal, run};
use rodwright::script::{Limits, NoModules, Request};

const README: &str = include_str!("../../README.md");
const DEVELOPERS: &str = include_str!("../../DEVELOPERS.md");

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
fn words_and_files_named_are_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
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
        if Path::new(picture).extension().is_some_and(|e| e == "png") {
            assert!(root.join(picture).exists(), "the picture {picture} is not there");
        }
    }
}

/// The words of a line as a shell reads them.
fn shell_words(line: &str) -> Vec<String> {
    let (mut words, mut word, mut quoted, mut escaped) = (Vec::new(), String::new(), false, false);
    for letter in line.chars() {
        match letter {
            _ if escaped => {
                word.push(letter);
                escaped = false;
            }
            '\\' => escaped = true,
            '"' => quoted = !quoted,
            ' ' if !quoted => words.extend(Some(std::mem::take(&mut word)).filter(|w| !w.is_empty())),
            _ => word.push(letter),
        }
    }
    words.extend(Some(word).filter(|w| !w.is_empty()));
    words
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    /// Every command of the README does what it says, one after another; files of the reader's
    /// own stand in a folder of the test.
    #[test]
    fn the_commands_of_the_readme_can_be_typed() {
        let folder = tempfile::tempdir().unwrap();
        let mut typed = 0;
        for line in blocks("sh").into_iter().flat_map(str::lines) {
            let Some(rest) = line.strip_prefix("cargo run --release -- ") else { continue };
            let mut own = false;
            let given = shell_words(rest).into_iter().map(|word| {
                let is_script = word.ends_with(".rhai") && !Path::new(&word).starts_with("scripts");
                // What a command before has made, such as the rates in a job's folder.
                let made = word.split_once('/').is_some_and(|(first, _)| folder.path().join(first).exists());
                let named = matches!(word.as_str(), "--out" | "--page" | "--job");
                let put = std::mem::replace(&mut own, named) || is_script || made;
                if put { folder.path().join(word).into_os_string() } else { OsString::from(word) }
            });
            let line_given: Vec<OsString> = [OsString::from("rodwright")].into_iter().chain(given).collect();
            let (mut out, mut err) = (Vec::new(), Vec::new());
            let ended = run(line_given, rodwright::words(), &mut Terminal::new(&mut out, &mut err));
            let remarks = String::from_utf8(err).unwrap();
            // A change that touches cut parts is warned of.
            // With drawers open a cabinet that is fixed to no wall tips: that is meant.
            let tips =
                remarks.starts_with("advice[tips]") && remarks.trim_end().ends_with("\n1 piece of advice");
            let quiet = if line.contains("--cut") || tips { "" } else { remarks.as_str() };
            assert_eq!((ended, quiet), (Ended::Done, ""), "{line}: {remarks}");
            typed += 1;
        }
        assert!(typed > 15, "{typed}");
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
            assert!(
                set.problems.iter().all(|problem| problem.code == "tips"),
                "{}",
                rodwright::problem::render_all(&set.problems, &set.sources)
            );
            assert!(set.files.len() > 5);
        }
    }
}
