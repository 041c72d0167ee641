//! The answer to `words`: a list, what is asked about, or a page.

use std::path::Path;

use super::super::args::Words;
use super::super::{Ended, Terminal, files, write_all};
use super::entry::{Entry, Part, parts, plain};
use super::grid::paragraph;
use super::inches::in_inches;
use super::topics::{Topic, topic, topics};
use super::{guide, html, page, text};
use crate::File;
use crate::measure::Unit;
use crate::model::Word;
use crate::problem::{Problem, nearest, wording};
use crate::script;
use crate::source::Sources;

/// Runs `words`.
pub(in crate::cli) fn run(
    given: &Words,
    words: &'static [&'static Word],
    terminal: &mut Terminal<'_>,
) -> Ended {
    let mut parts = parts(words);
    if given.units == Some(Unit::Inch) {
        in_inches(&mut parts);
    }
    if let Some(path) = &given.page {
        let page = match (given.guide, is_html(path)) {
            (true, for_browser) => Page { text: guide::page(for_browser), count: None },
            (false, true) => Page { text: html::page(&parts, words), count: Some(entries(&parts).count()) },
            (false, false) => Page { text: page::page(&parts), count: Some(entries(&parts).count()) },
        };
        return write_page(path, page, terminal);
    }
    if given.guide {
        terminal.answer(&guide::text());
        return if terminal.failed() { Ended::Files } else { Ended::Done };
    }
    if given.schema {
        terminal.answer(crate::output::SCHEMA);
        return if terminal.failed() { Ended::Files } else { Ended::Done };
    }
    let asked = given.asked.join(" ");
    let answer = if given.asked.is_empty() { Some(text::list(&parts)) } else { about(&parts, &asked) };
    let Some(answer) = answer else {
        terminal.problems(&[unknown(&parts, &asked)], &Sources::default());
        return Ended::WrongUse;
    };
    terminal.answer(&answer);
    if terminal.failed() { Ended::Files } else { Ended::Done }
}

/// All entries of the reference.
fn entries(parts: &[Part]) -> impl Iterator<Item = &Entry> + Clone {
    parts.iter().flat_map(|part| &part.entries)
}

/// The entries of the words so called, or else a list of those that mention what was
/// asked for; `None` if no word does.
fn about(parts: &[Part], asked: &str) -> Option<String> {
    let exact: Vec<String> = entries(parts).filter(|e| e.is_called(asked)).map(text::entry).collect();
    if !exact.is_empty() {
        return Some(exact.join("\n"));
    }
    if plain(asked).is_empty() {
        return None;
    }
    if let Some(topic) = topic(asked) {
        return Some(led(parts, topic));
    }
    let found: Vec<Part> = parts
        .iter()
        .map(|part| Part {
            title: part.title,
            entries: part.entries.iter().filter(|e| e.speaks_of(asked)).cloned().collect(),
        })
        .filter(|part| !part.entries.is_empty())
        .collect();
    if !found.is_empty() {
        return Some(text::list(&found));
    }
    let told: Vec<String> = topics(asked).into_iter().map(|topic| led(parts, topic)).collect();
    if !told.is_empty() {
        return Some(told.join("\n"));
    }
    let each = named_in(parts, asked);
    (!each.is_empty()).then(|| text::list(&each))
}

/// The words that a question names one by one: `glass door` names a pane and a door.
fn named_in(parts: &[Part], asked: &str) -> Vec<Part> {
    let words: Vec<&str> = asked.split_whitespace().collect();
    let is_named = |entry: &&Entry| words.iter().any(|word| entry.is_called(word));
    let of = |part: &Part| Part {
        title: part.title,
        entries: part.entries.iter().filter(is_named).cloned().collect(),
    };
    parts.iter().map(of).filter(|part| !part.entries.is_empty()).collect()
}

/// What a topic leads to: how it is done, and the words for it, the nearest first.
fn led(parts: &[Part], topic: &Topic) -> String {
    let named = topic.words.iter().filter_map(|word| entries(parts).find(|e| e.name == *word));
    let part = Part { title: "Words for it", entries: named.cloned().collect() };
    format!("{}\n{}", paragraph(&text::sentence(topic.says), 0), text::list(&[part]))
}

/// Nothing was found: what may have been meant.
fn unknown(parts: &[Part], asked: &str) -> Problem {
    let message = format!("there is no word `{}` and none that speaks of it", asked.trim());
    let problem = Problem::error("unknown-word", message);
    let ours = script::british(asked.trim()).filter(|ours| entries(parts).any(|e| e.is_called(ours)));
    if let Some(ours) = ours {
        return problem.help(format!("here it is called `{ours}`"));
    }
    let near = near(parts, asked);
    if near.is_empty() {
        return problem.help("`rodwright words` lists all words");
    }
    problem.help(format!("did you mean {}?", wording::one_of(near)))
}

/// At most this many names are offered for one that is unknown.
const OFFERED: usize = 3;

/// The names nearest to what was asked for, nearest first.
fn near<'a>(parts: &'a [Part], asked: &str) -> Vec<&'a str> {
    let mut near: Vec<&str> = Vec::new();
    while near.len() < OFFERED {
        let left = entries(parts).map(|e| e.name.as_str()).filter(|name| !near.contains(name));
        match nearest(asked, left) {
            Some(name) => near.push(name),
            None => break,
        }
    }
    near
}

/// A page to be written.
struct Page {
    /// Its text.
    text: String,
    /// How many words stand on it; `None` for the guide.
    count: Option<usize>,
}

/// Writes the page, whole or not at all, and never over a file that is no such
/// page: a name typed by mistake must cost nobody his text.
fn write_page(path: &Path, page: Page, terminal: &mut Terminal<'_>) -> Ended {
    let count = page.count.map_or_else(|| "the guide".into(), |count| wording::count(count, "word", "words"));
    let written = name_of(path).and_then(|name| {
        ours_or_none(path)?;
        let folder = path.parent().filter(|f| !f.as_os_str().is_empty()).unwrap_or(Path::new("."));
        write_all(folder, &[File { name, bytes: page.text.into_bytes() }]).map_err(|error| error.why)
    });
    if let Err(why) = written {
        let problem =
            Problem::error("unwritable-file", format!("`{}` cannot be written: {why}", path.display()))
                .help("nothing was changed; give `--page` another name, such as `words.md`");
        terminal.problems(&[problem], &Sources::default());
        return Ended::Files;
    }
    terminal.answer(&format!("{count} written to {}\n", path.display()));
    if terminal.failed() { Ended::Files } else { Ended::Done }
}

/// Whether a page is asked for as HTML, by the ending of its name.
fn is_html(path: &Path) -> bool {
    path.extension().is_some_and(|e| e.eq_ignore_ascii_case("html") || e.eq_ignore_ascii_case("htm"))
}

/// The name of the file a path leads to.
fn name_of(path: &Path) -> Result<String, String> {
    let name = path.file_name().ok_or("it names no file")?;
    name.to_str().map(str::to_owned).ok_or_else(|| "its name is not UTF-8 text".into())
}

/// An error unless the file is not there or is an earlier page of ours.
fn ours_or_none(path: &Path) -> Result<(), String> {
    let html = [html::TITLE, guide::PAGE_TITLE].map(html::start);
    let mut ours = [page::TITLE, guide::TITLE].into_iter().chain(html.iter().map(String::as_str));
    match std::fs::read(path) {
        Ok(bytes) if ours.any(|start| bytes.starts_with(start.as_bytes())) => Ok(()),
        Ok(_) => Err("there is a file of that name that is not such a page".into()),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(()),
        Err(error) => Err(files::why(&error)),
    }
}
