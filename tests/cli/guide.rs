//! The lessons of the guide and the examples to copy: each can be set out as it stands.

use std::ffi::OsString;
use std::fs;
use std::sync::Arc;

use rodwright::cli::{Ended, Terminal, run};
use rodwright::problem::render_all;
use rodwright::script::{Limits, NoModules, Request};

const README: &str = include_str!("../../README.md");

/// How a command ended and what it answered; it may remark nothing.
fn answer(line: &[&str]) -> (Ended, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = ["rodwright"].iter().chain(line).map(OsString::from);
    let ended = run(line, rodwright::words(), &mut Terminal::new(&mut out, &mut err));
    assert_eq!(String::from_utf8(err).unwrap(), "");
    (ended, String::from_utf8(out).unwrap())
}

/// The script of an example.
fn example(name: &str, unit: &str) -> String {
    let (ended, script) = answer(&["start", "--example", name, "--units", unit]);
    assert_eq!(ended, Ended::Done);
    script
}

fn asked(name: &str, text: String, settings: &[(&str, &str)]) -> Request {
    Request {
        name: name.into(),
        text,
        settings: settings.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect(),
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    }
}

/// Names of the lessons, from the heads of the guide: `3  What can be changed  (sizes)`.
fn lessons() -> Vec<String> {
    let (ended, guide) = answer(&["words", "--guide"]);
    assert_eq!(ended, Ended::Done);
    let heads =
        guide.lines().filter(|line| line.starts_with(|c: char| c.is_ascii_digit()) && line.ends_with(')'));
    heads.map(|head| head.rsplit_once('(').unwrap().1.trim_end_matches(')').to_owned()).collect()
}

#[test]
fn the_readme_and_the_guide_have_the_scripts_that_start_writes() {
    for unit in ["mm", "in"] {
        let script = example("hall_cabinet", unit);
        assert!(
            README.contains(&format!("```rhai\n{script}```\n")),
            "the README has another cabinet in {unit}"
        );
    }
    let lessons = lessons();
    assert_eq!(lessons.len(), 10, "{lessons:?}");
    for name in lessons {
        assert!(
            example(&name, "mm").starts_with(['j', 'i']),
            "{name} begins with neither `job` nor `import`"
        );
    }
}

#[test]
fn the_guide_is_a_page_too_and_spares_other_files() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    for name in ["guide.md", "guide.html"] {
        let line = ["words", "--guide", "--page", &path(name)];
        let said = format!("the guide written to {}\n", path(name));
        assert_eq!(answer(&line), (Ended::Done, said.clone()));
        // Once more over the earlier page.
        assert_eq!(answer(&line), (Ended::Done, said));
    }
    let page = fs::read_to_string(path("guide.md")).unwrap();
    assert!(page.contains(&format!("```rhai\n{}```\n", example("curves", "mm"))));
    let page = fs::read_to_string(path("guide.html")).unwrap();
    let allowed = roxmltree::ParsingOptions { allow_dtd: true, ..roxmltree::ParsingOptions::default() };
    let tree = roxmltree::Document::parse_with_options(&page, allowed).unwrap();
    let ids: Vec<&str> = tree.descendants().filter_map(|n| n.attribute("id")).collect();
    assert_eq!(ids, lessons());
    let script = example("sizes", "mm");
    assert!(tree.descendants().any(|n| n.has_tag_name("pre") && n.text() == Some(&script)));
    fs::write(path("mine.md"), "# Mine\n").unwrap();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = ["rodwright", "words", "--guide", "--page", &path("mine.md")].map(OsString::from);
    assert_eq!(run(line, rodwright::words(), &mut Terminal::new(&mut out, &mut err)), Ended::Files);
    assert_eq!(fs::read_to_string(path("mine.md")).unwrap(), "# Mine\n");
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn each_lesson_is_a_whole_script_without_a_problem() {
        for name in lessons() {
            let done = rodwright::examine(&asked(&name, example(&name, "mm"), &[]));
            assert!(done.problems.is_empty(), "{name}: {}", render_all(&done.problems, &done.sources));
            assert!(!done.worked.unwrap().1.parts.is_empty(), "{name}");
        }
    }

    /// The cabinet holds at the ends of its ranges, told here by hand.
    #[test]
    fn the_cabinet_can_be_altered_in_either_unit() {
        let mm = [["700", "600", "360"], ["1100", "1000", "450"], ["700", "1000", "450"]];
        let inches = [["28", "24", "14"], ["44", "40", "18"], ["44", "24", "14"]];
        for (unit, sizes) in [("mm", mm), ("in", inches)] {
            let script = example("hall_cabinet", unit);
            for [width, height, depth] in sizes {
                let settings = [("width", width), ("height", height), ("depth", depth)];
                let done = rodwright::examine(&asked("hall_cabinet", script.clone(), &settings));
                let told = render_all(&done.problems, &done.sources);
                // With drawers open a cabinet that is fixed to no wall tips: that is meant.
                let sound = done.problems.iter().all(|problem| problem.code == "tips");
                assert!(sound, "{unit} {settings:?}: {told}");
            }
        }
    }
}
