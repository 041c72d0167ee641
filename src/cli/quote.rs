//! `quote`: a quotation for the client.

use std::path::{Path, PathBuf};

use super::args::Quote;
use super::setout::{choices, stem};
use super::{Ended, Terminal, loader, write_all};
use crate::File;
use crate::estimate::{self, Rates};
use crate::model::Word;
use crate::problem::{Problem, wording};
use crate::quoting::{Found, QuoteRequest, quote};
use crate::script::Limits;
use crate::source::Sources;

/// Most things offered side by side, the first counted: more have no room on a page.
const MOST_OFFERS: usize = 6;

/// Runs `quote`.
pub(super) fn run(given: &Quote, words: &'static [&'static Word], terminal: &mut Terminal<'_>) -> Ended {
    let request = match super::request::request(&given.script, words, terminal) {
        Ok(request) => request,
        Err(ended) => return ended,
    };
    let options = match options(&given.option) {
        Ok(options) => options,
        Err(problem) => {
            terminal.problems(&[problem], &Sources::default());
            return Ended::WrongUse;
        }
    };
    let rates = match rates(&given.rates, terminal) {
        Ok(rates) => rates,
        Err(ended) => return ended,
    };
    let choices = match choices(&given.look, terminal) {
        Ok(choices) => choices,
        Err(ended) => return ended,
    };
    let quoted = quote(&QuoteRequest {
        request: &request,
        choices: &choices,
        rates: &rates,
        options: &options,
        count: given.count,
        with: &given.with,
        inside: given.inside,
        accept: &given.accept,
    });
    for found in &quoted.found {
        if !found.option.is_empty() {
            terminal.say(&format!("option `{}`:\n", found.option));
        }
        terminal.problems(&found.problems, &found.sources);
    }
    terminal.problems(&needless(&given.accept, &quoted.found), &Sources::default());
    if quoted.files.is_empty() || quoted.has_errors() {
        return Ended::Problems;
    }
    let stem = stem(&given.script.script);
    let folder = given.out.clone().unwrap_or_else(|| PathBuf::from(&stem));
    deliver(&folder, &stem, (quoted.files, &quoted.totals), terminal)
}

/// The rates of a file; what is wrong with them is on the terminal.
pub(super) fn rates(path: &Path, terminal: &mut Terminal<'_>) -> Result<Rates, Ended> {
    let name = path.display().to_string();
    let text = loader::read_script(path, Limits::default().text).map_err(|why| {
        let problem = Problem::error("unreadable-file", format!("`{name}` cannot be read: {why}"))
            .help("`rodwright start --rates --out rates.toml` writes a file of rates to start from");
        terminal.problems(&[problem], &Sources::default());
        Ended::Files
    })?;
    let (rates, problems, sources) = estimate::read(&name, &text);
    terminal.problems(&problems, &sources);
    rates.ok_or(Ended::Problems)
}

/// The title of an option and what it sets.
type Asked = (String, Vec<(String, String)>);

/// `TITLE NAME=VALUE ...`, one after the other: a title is what has no `=`.
fn options(given: &[String]) -> Result<Vec<Asked>, Problem> {
    let mut all: Vec<Asked> = Vec::new();
    let wrong = |message: String| {
        Problem::error("bad-option", message)
            .help("give a title and what changes: `--option \"ash, open\" timber=ash doors=none`")
    };
    for word in given {
        match (word.split_once('='), all.last_mut()) {
            (None, _) => all.push((word.trim().to_owned(), Vec::new())),
            (Some((name, value)), Some((_, settings))) if !name.trim().is_empty() => {
                settings.push((name.trim().to_owned(), value.trim().to_owned()));
            }
            (Some(_), _) => return Err(wrong(format!("`{word}` stands before the title of its option"))),
        }
    }
    if let Some((title, _)) = all.iter().find(|(_, settings)| settings.is_empty()) {
        return Err(wrong(format!("the option `{title}` changes nothing")));
    }
    if all.len() >= MOST_OFFERS {
        let message = format!(
            "{} things are offered with the first; {MOST_OFFERS} have room side by side",
            all.len() + 1
        );
        return Err(Problem::error("bad-option", message).help("make two quotations"));
    }
    Ok(all)
}

/// Codes that are acknowledged though nothing says them: often a slip.
fn needless(accept: &[String], found: &[Found]) -> Vec<Problem> {
    let codes: Vec<&str> = found.iter().flat_map(|f| &f.problems).map(|problem| problem.code).collect();
    let unknown = accept.iter().filter(|code| !codes.contains(&code.as_str()));
    let problem = |code: &String| {
        let help = match crate::problem::nearest(code, codes.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "leave it out".into(),
        };
        Problem::warning("nothing-to-accept", format!("there is no warning `{code}` to accept")).help(help)
    };
    unknown.map(problem).collect()
}

/// Writes the files and says what was written and what it comes to.
fn deliver(
    folder: &Path,
    stem: &str,
    (files, totals): (Vec<File>, &[(String, String)]),
    terminal: &mut Terminal<'_>,
) -> Ended {
    let files: Vec<File> =
        files.into_iter().map(|f| File { name: format!("{stem}{}", f.name), ..f }).collect();
    if let Err(error) = write_all(folder, &files) {
        let path = error.path.display();
        let problem = Problem::error("unwritable-file", format!("`{path}` cannot be written: {}", error.why))
            .help("nothing was changed; choose another folder with `--out`, or make room in this one");
        terminal.problems(&[problem], &Sources::default());
        return Ended::Files;
    }
    let names: Vec<String> = files.iter().map(|file| folder.join(&file.name).display().to_string()).collect();
    let mut answer = format!("written to {}\n", wording::and_list(&names));
    for (title, total) in totals {
        let title = if title.is_empty() { "total to pay" } else { title };
        answer += title;
        answer += ": ";
        answer += total;
        answer += "\n";
    }
    terminal.answer(&answer);
    if terminal.failed() { Ended::Files } else { Ended::Done }
}
