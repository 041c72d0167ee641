//! `rodwright words`: that the reference is whole, that it reads well, and that
//! what it shows can be done. `UPDATE=1 cargo test --test suite words` writes the
//! golden texts anew; read them before they are kept.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use rodwright::cli::{Ended, Terminal, run};
use rodwright::model::{OptionKind, OptionSpec, Usual, Word};
use rodwright::problem::{Severity, render_all};
use rodwright::script::{Limits, NoModules, Request, chapters, furniture};

use crate::support::golden::golden_text;

/// Runs `words` with these words of joinery.
fn words_of(joinery: &'static [&'static Word], line: &[&str]) -> (Ended, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = ["rodwright", "words"].iter().chain(line).map(OsString::from);
    let ended = run(line, joinery, &mut Terminal::new(&mut out, &mut err));
    (ended, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

/// Runs `words` with the whole vocabulary.
fn words(line: &[&str]) -> (Ended, String, String) {
    words_of(rodwright::words(), line)
}

/// What `words` answers, which must be all it says.
fn answer(line: &[&str]) -> String {
    let (ended, out, err) = words(line);
    assert_eq!((ended, err.as_str()), (Ended::Done, ""), "{line:?}");
    out
}

/// Compares with a golden text.
fn golden(name: &str, found: &str) {
    golden_text(&Path::new("tests/script/words").join(name).with_extension("txt"), found);
}

/// Names of everything in the reference, with an example for each.
pub(crate) fn examples() -> Vec<(String, String)> {
    let mut all = Vec::new();
    for chapter in chapters(rodwright::words()) {
        all.extend(chapter.words.iter().map(|w| (w.name.to_owned(), w.example.to_owned())));
        all.extend(chapter.sayings.iter().map(|s| (s.name.to_owned(), s.example.to_owned())));
    }
    for made in furniture() {
        all.push((format!("{}::{}", made.module, made.name), made.example));
    }
    all
}

/// Every option with the name of its word.
fn options() -> Vec<(String, &'static OptionSpec)> {
    let words = chapters(rodwright::words()).into_iter().flat_map(|chapter| chapter.words);
    words
        .flat_map(|word| word.options.iter().map(|option| (format!("{} {}", word.name, option.key), option)))
        .collect()
}

/// Whether a script could give the option this value; `None` for words and what is only
/// said beside a value.
fn could_be_given(kind: OptionKind, usual: Usual) -> Option<bool> {
    Some(match (kind, usual) {
        (_, Usual::Words(_) | Usual::By(..) | Usual::OneOf(_) | Usual::Screw(..)) => return None,
        (OptionKind::Length { min, max }, Usual::Length(v) | Usual::Sold(v))
        | (OptionKind::Angle { min, max }, Usual::Angle(v))
        | (OptionKind::Ratio { min, max }, Usual::Bare(v)) => min <= v && v <= max,
        (OptionKind::Count { min, max }, Usual::Count(v)) => (min..=max).contains(&v),
        (OptionKind::Choice(among), Usual::Text(text)) => among.contains(&text),
        (OptionKind::Side, Usual::Text(text)) => {
            ["left", "right", "front", "back", "top", "bottom"].contains(&text)
        }
        // A diameter alone: the length goes by the parts.
        (OptionKind::Pair, Usual::Pair(..) | Usual::SoldPair(..) | Usual::Length(_) | Usual::Sold(_))
        | (OptionKind::Text, Usual::Text(_))
        | (OptionKind::YesNo, Usual::YesNo(_)) => true,
        _ => false,
    })
}

/// A default out of the range of its option could not be written in a script: `0: flush`
/// means leaving the option out, so that nothing is no fault.
#[test]
fn what_is_usual_is_of_the_kind_of_its_option() {
    for (name, option) in options() {
        let nothing = matches!(option.default.first(), Some(Usual::Length(0.0) | Usual::Angle(0.0)));
        let first = option.default.first().and_then(|usual| could_be_given(option.kind, *usual));
        assert!(nothing || first != Some(false), "{name}: {:?} of {:?}", option.default, option.kind);
    }
}

/// A figure in words could come to say another than the joint works to.
#[test]
fn figures_of_defaults_are_values() {
    for (name, option) in options() {
        for usual in option.default {
            let Usual::Words(text) = usual else { continue };
            // M6 is the name of a thread, not a figure that is worked to.
            let figure = |word: &str| word.contains(|c: char| c.is_ascii_digit()) && !word.starts_with('M');
            assert!(!text.split_whitespace().any(figure), "{name}: {text}");
        }
    }
}

/// Closed forms: what the constants say, as the reference prints it.
#[test]
fn defaults_are_printed_with_their_units() {
    let printed = |name: &str| options().into_iter().find(|(n, _)| n == name).unwrap().1.left_out();
    assert_eq!(printed("lipping thick"), "6 mm");
    assert_eq!(printed("lipping proud"), "0: flush");
    assert_eq!(printed("hanging_cleat bevel"), "45°");
    assert_eq!(printed("biscuits inset"), "50 mm, less where the parts meet on under 200");
    assert_eq!(printed("cutting kerf"), "3.2 mm");
    // What is sold in millimetres has a space that no conversion breaks.
    assert_eq!(printed("cup_hinges cup"), "35\u{a0}mm and 13\u{a0}mm");
    assert!(printed("dowels dowel").starts_with("the thickness of 6, 8, 10, 12 or 16 mm nearest 0.45 of"));
    assert!(printed("pocket_screws screw").starts_with("\"4x25\" in parts up to 14 mm, "));
    assert!(printed("runners long").ends_with("250 to 600\u{a0}mm in steps of 50\u{a0}mm"));
    assert!(printed("cup_hinges reach").ends_with("an inset arm reaches 4\u{a0}mm back"));
}

#[test]
fn the_list_reads_as_set() {
    // A fixed few of the joints and shapings: new ones must not change it.
    let few = ["mitre", "housing", "dovetails", "lipping", "chamfer", "hole"];
    let few: Vec<&'static Word> =
        rodwright::words().iter().copied().filter(|w| few.contains(&w.name)).collect();
    let (ended, out, err) = words_of(Vec::leak(few), &[]);
    assert_eq!((ended, err.as_str()), (Ended::Done, ""));
    let library = out.find("Furniture of the library").unwrap();
    golden("list", &out[..library]);
}

#[test]
fn entries_read_as_set() {
    for name in ["mitre", "sheet_stock", "loose_tenons", "between"] {
        golden(name, &answer(&[name]));
    }
    assert_eq!(answer(&["Loose-Tenons"]), answer(&["loose_tenons"]));
    // A type of the library is known by its module too.
    let library = answer(&["bookcase"]);
    assert!(library.starts_with("bookcase::make(#{ … })\n\nA bookcase: "), "{library}");
    let width = library.lines().find(|line| line.trim_start().starts_with("width ")).unwrap_or_default();
    assert!(width.contains(" length ") && width.contains(" 300 to 1800 mm "), "{library}");
    assert_eq!(library, answer(&["bookcase::make"]));
}

#[test]
fn every_word_is_in_the_list_once_on_one_line() {
    let list = answer(&[]);
    for (name, _) in examples() {
        let lines: Vec<&str> = list
            .lines()
            .filter(|l| l.starts_with("  ") && l.split_whitespace().next() == Some(&*name))
            .collect();
        assert_eq!(lines.len(), 1, "{name}");
        assert!(lines[0].split_whitespace().count() > 2, "{name} says nothing");
    }
}

/// Frames by the name of the word they serve.
pub(crate) fn frames() -> BTreeMap<String, String> {
    let text = fs::read_to_string("src/cli/words/frames.txt").unwrap();
    let blocks = text.split("\n--- ").skip(1).filter_map(|block| block.split_once('\n'));
    blocks
        .flat_map(|(names, frame)| names.split(' ').map(|name| (name.to_owned(), frame.to_owned())))
        .collect()
}

#[test]
fn a_text_finds_the_words_that_speak_of_it() {
    let found = answer(&["tenon"]);
    assert!(found.starts_with("Joints\n  loose_tenons  "), "{found}");
    assert!(!found.contains("butt "), "{found}");
    // `kerf` is an option of `cutting` and stands in no name.
    assert!(answer(&["KERF"]).contains("\n  cutting  "));
    // A finding word for word: the source of a rule.
    assert!(answer(&["iso 31"]).contains("\n  inch  "));
}

#[test]
fn what_is_not_there_is_wrong_use_with_the_nearest_names() {
    let cases = [
        (
            "mittre",
            "error[unknown-word]: there is no word `mittre` and none that speaks of it\n = help: did you mean `mitre`?",
        ),
        (
            "plow",
            "error[unknown-word]: there is no word `plow` and none that speaks of it\n = help: here it is called `groove`",
        ),
        (
            "xylophone",
            "error[unknown-word]: there is no word `xylophone` and none that speaks of it\n = help: `rodwright words` lists all words",
        ),
    ];
    for (asked, says) in cases {
        let (ended, out, err) = words(&[asked]);
        assert_eq!((ended.code(), out.as_str(), err), (2, "", format!("{says}\n\n1 error\n")));
    }
    let (ended, _, err) = words(&["shet_stock"]);
    assert_eq!(ended, Ended::WrongUse);
    assert!(err.contains("did you mean `sheet_stock`"), "{err}");
    assert_eq!(words(&[" "]).0, Ended::WrongUse);
    assert_eq!(words(&["mitre", "--page", "x.md"]).0, Ended::WrongUse);
}

#[test]
fn the_page_is_whole_and_spares_other_files() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("new/words.md");
    let written = |path: &Path| words(&["--page", path.to_str().unwrap()]);
    let count = examples().len();
    let said = format!("{count} words written to {}\n", path.display());
    assert_eq!(written(&path), (Ended::Done, said, String::new()));
    let page = fs::read_to_string(&path).unwrap();
    for (name, example) in examples() {
        assert!(page.contains(&format!("\n### {name}\n")), "{name}");
        assert!(page.contains(&format!("```rhai\n{example}\n```\n")), "{name}");
    }
    // Every row of a table has as many cells as its heading.
    let cells = |line: &str| line.replace("\\|", "").matches('|').count();
    let lines: Vec<&str> = page.lines().collect();
    for pair in lines.windows(2).filter(|p| p.iter().all(|l| l.starts_with('|'))) {
        assert_eq!(cells(pair[0]), cells(pair[1]), "{pair:?}");
    }
    // Every link of the contents leads to a heading.
    let anchors: Vec<String> = lines
        .iter()
        .filter_map(|l| l.strip_prefix("### ").or_else(|| l.strip_prefix("## ")))
        .map(|h| h.to_lowercase().replace(' ', "-").replace(':', ""))
        .collect();
    for link in page.split("](#").skip(1).filter_map(|rest| rest.split(')').next()) {
        assert!(anchors.iter().any(|a| a == link), "{link}");
    }

    // Once more over the earlier page, but never over anything else.
    assert_eq!(written(&path).0, Ended::Done);
    assert_eq!(fs::read_to_string(&path).unwrap(), page);
    let mine = folder.path().join("README.md");
    fs::write(&mine, "# Mine\n").unwrap();
    let (ended, out, err) = written(&mine);
    assert_eq!((ended.code(), out.as_str()), (3, ""));
    assert_eq!(
        err,
        format!(
            "error[unwritable-file]: `{}` cannot be written: there is a file of that name that is not such a page\n = help: \
             nothing was changed; give `--page` another name, such as `words.md`\n\n1 error\n",
            mine.display()
        )
    );
    assert_eq!(fs::read_to_string(&mine).unwrap(), "# Mine\n");
    assert_eq!(written(folder.path()).0.code(), 3);
    assert_eq!(written(Path::new("..")).0.code(), 3);
}

#[test]
fn the_page_for_a_browser_is_whole_and_well_formed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("words.html");
    assert_eq!(words(&["--page", path.to_str().unwrap()]).0, Ended::Done);
    let page = fs::read_to_string(&path).unwrap();
    let allowed = roxmltree::ParsingOptions { allow_dtd: true, ..roxmltree::ParsingOptions::default() };
    let tree = roxmltree::Document::parse_with_options(&page, allowed).unwrap();
    let named = |tag: &'static str| tree.descendants().filter(move |n| n.has_tag_name(tag));
    let ids: Vec<&str> = named("article").filter_map(|a| a.attribute("id")).collect();
    let links: Vec<&str> = named("a").filter_map(|a| a.attribute("href")?.strip_prefix('#')).collect();
    assert_eq!(ids, links);
    for (name, example) in examples() {
        let article = named("article").find(|a| a.attribute("id") == Some(&*name)).unwrap();
        let shown =
            article.descendants().filter(|n| n.has_tag_name("pre")).filter_map(|n| n.text()).next_back();
        assert_eq!(shown, Some(&*example), "{name}");
    }
    for table in named("table") {
        let cells = |row: roxmltree::Node<'_, '_>| row.children().filter(roxmltree::Node::is_element).count();
        let rows: Vec<usize> = table.children().filter(|n| n.has_tag_name("tr")).map(cells).collect();
        assert!(rows.len() > 1 && rows.iter().all(|n| *n == rows[0]), "{rows:?}");
    }
    // Over an earlier page, and never over anything else.
    assert_eq!(words(&["--page", path.to_str().unwrap()]).0, Ended::Done);
    let mine = folder.path().join("mine.html");
    fs::write(&mine, "<p>Mine</p>").unwrap();
    assert_eq!(words(&["--page", mine.to_str().unwrap()]).0, Ended::Files);
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    /// The example of every word makes what it says, without a problem. A frame with
    /// parts alone has nothing that holds or hangs them; these warnings are the frame's.
    #[test]
    fn every_example_can_be_done() {
        let frames = frames();
        let joinery: Vec<&str> = rodwright::words().iter().map(|w| w.name).collect();
        for (name, example) in examples() {
            let frame = match frames.get(&name) {
                Some(frame) => frame,
                None if joinery.contains(&&*name) => {
                    panic!("give `{name}` a frame in src/cli/words/frames.txt")
                }
                None => &frames["*"],
            };
            let text = frame.replace("EXAMPLE", &example);
            let request = Request {
                name: name.clone(),
                text,
                settings: Vec::new(),
                loader: Arc::new(NoModules),
                words: rodwright::words(),
                limits: Limits::default(),
            };
            let done = rodwright::examine(&request);
            let alone = ["held-by-nothing", "hung-by-nothing"];
            let loose =
                |code: &str| alone.contains(&code) && (!joinery.contains(&&*name) || name == "trim_to");
            let wrong = done.problems.iter().any(|p| p.severity != Severity::Advice && !loose(p.code));
            assert!(!wrong, "{name}:\n{}", render_all(&done.problems, &done.sources));
            let (job, worked) = done.worked.unwrap();
            if joinery.contains(&&*name) {
                assert!(job.works.iter().any(|w| w.word.name == name), "{name} was not done");
                assert!(!worked.parts.is_empty());
            }
        }
    }

    #[test]
    fn nothing_is_wider_than_a_hundred_characters() {
        let mut all = answer(&[]);
        for (name, _) in examples() {
            all += &answer(&[&name]);
        }
        for line in all.lines() {
            assert!(line.chars().count() <= 100, "{line}");
            assert_eq!(line, line.trim_end());
        }
    }

    #[test]
    fn every_word_says_what_it_takes() {
        let mut seen = Vec::new();
        for chapter in chapters(rodwright::words()) {
            for word in &chapter.words {
                assert!(!word.says.is_empty() && !word.says.ends_with('.'), "{}", word.name);
                assert!(word.example.contains(word.name), "the example of `{}` does not show it", word.name);
                let entry = answer(&[word.name]);
                for option in word.options {
                    let says = format!("`{}` of `{}`", option.key, word.name);
                    assert!(!option.says.is_empty(), "{says}");
                    let row = entry.lines().find(|l| l.trim_start().split("  ").next() == Some(option.key));
                    let cells: Vec<&str> =
                        row.unwrap().split("  ").filter(|c| !c.trim().is_empty()).collect();
                    assert!(
                        cells.len() >= 4 || (cells.len() == 3 && option.says.len() < 2),
                        "{says}: {cells:?}"
                    );
                }
                seen.push(word.name);
            }
            for saying in chapter.sayings {
                assert!(!saying.says.is_empty() && !saying.written.is_empty(), "{}", saying.name);
                seen.push(saying.name);
            }
        }
        for word in rodwright::words().iter().chain(&rodwright::script::own_words()) {
            assert_eq!(seen.iter().filter(|s| **s == word.name).count(), 1, "{}", word.name);
        }
        for made in furniture() {
            assert!(
                !made.says.is_empty(),
                "{}::{} has no comment that says what it makes",
                made.module,
                made.name
            );
        }
    }
}
