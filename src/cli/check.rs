//! `check`: problems only, of the script, the job and the sheets of its set.

use super::args::Check;
use super::{Ended, Terminal};
use crate::model::Word;
use crate::problem::{Problem, summary};
use crate::source::Sources;

/// Runs `check`.
pub(super) fn run(given: &Check, words: &'static [&'static Word], terminal: &mut Terminal<'_>) -> Ended {
    let request = match super::request::request(&given.script, words, terminal) {
        Ok(request) => request,
        Err(ended) => return ended,
    };
    let choices = match super::setout::choices(&given.look, terminal) {
        Ok(choices) => choices,
        Err(ended) => return ended,
    };
    let (problems, sources) = crate::look_over(&request, &choices);
    if given.json {
        terminal.answer(&json(&problems, &sources));
    } else {
        terminal.problems(&problems, &sources);
        if problems.is_empty() {
            terminal.answer(&format!("{}: {}\n", request.name, summary(&[])));
        }
    }
    if terminal.failed() { Ended::Files } else { Ended::of(&problems) }
}

/// A problem as JSON shows it.
#[derive(serde::Serialize)]
struct Shown<'a> {
    /// How much it matters.
    severity: crate::problem::Severity,
    /// Its code.
    code: &'a str,
    /// What is wrong.
    message: &'a str,
    /// What to do.
    help: Option<&'a str>,
    /// Parts concerned.
    parts: &'a [String],
    /// Where.
    places: Vec<ShownPlace<'a>>,
}

/// A place as JSON shows it.
#[derive(serde::Serialize)]
struct ShownPlace<'a> {
    /// The script.
    script: &'a str,
    /// Line, from 1.
    line: usize,
    /// Column in characters, from 1.
    column: usize,
    /// The label under it.
    label: &'a str,
}

/// Problems as JSON, in the order found.
fn json(problems: &[Problem], sources: &Sources) -> String {
    let shown: Vec<Shown<'_>> = problems
        .iter()
        .map(|p| Shown {
            severity: p.severity,
            code: p.code,
            message: &p.message,
            help: p.help.as_deref(),
            parts: &p.parts,
            places: p.places.iter().filter_map(|place| shown_place(place, sources)).collect(),
        })
        .collect();
    // Strings, numbers and lists always have a JSON form.
    serde_json::to_string_pretty(&shown).unwrap_or_default() + "\n"
}

/// A place with its line and column.
fn shown_place<'a>(place: &'a crate::problem::Place, sources: &'a Sources) -> Option<ShownPlace<'a>> {
    let (line, column) = sources.line_column(place.span)?;
    let script = &sources.get(place.span.source)?.name;
    Some(ShownPlace { script, line, column, label: &place.label })
}
