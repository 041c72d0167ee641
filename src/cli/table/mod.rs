//! `table`: a set and a price for each row of a table of sizes.

mod book;
mod rows;
mod summary;
mod work;

use std::io::IsTerminal;
use std::path::PathBuf;

use rayon::prelude::*;

use self::rows::{Rows, rows};
use self::summary::Summary;
use self::work::{Outcome, Task, work};
use super::args::Table;
use super::setout::{choices, stem};
use super::{Ended, Terminal, loader, write_all};
use crate::File;
use crate::model::Word;
use crate::problem::{Problem, Severity, wording};
use crate::script;
use crate::source::Sources;

/// Rows worked side by side before the terminal is told: what they hold is then let go,
/// so that a long table takes no more memory than a short one.
const AT_A_TIME: usize = 32;
/// Most bytes of a table: a hundred thousand rows of usual length.
const MOST: usize = 50_000_000;

/// Runs `table`.
pub(super) fn run(given: &Table, words: &'static [&'static Word], terminal: &mut Terminal<'_>) -> Ended {
    let request = match super::request::request(&given.script, words, terminal) {
        Ok(request) => request,
        Err(ended) => return ended,
    };
    let rates = match given.rates.as_deref().map(|path| super::quote::rates(path, terminal)).transpose() {
        Ok(rates) => rates,
        Err(ended) => return ended,
    };
    let table = match table(given, &request, terminal) {
        Ok(table) => table,
        Err(ended) => return ended,
    };
    let stem = stem(&given.script.script);
    let folder = given.out.clone().unwrap_or_else(|| PathBuf::from(&stem));
    let choices = match choices(&given.look, terminal) {
        Ok(choices) => choices,
        Err(ended) => return ended,
    };
    let task = Task {
        request: &request,
        script: &given.script.script,
        choices: &choices,
        rates: rates.as_ref(),
        files: given.files,
        folder: &folder,
        stem: &stem,
    };
    let done = all(&task, &table, terminal);
    say(&table, &done, &given.table.display().to_string(), terminal);
    let Summary { rows, good, kept, unwritten, .. } = done;
    let name = format!("{stem}-table.csv");
    let file = File { name: name.clone(), bytes: done.text.into_bytes() };
    if let Err(error) = write_all(&folder, &[file]) {
        let path = error.path.display();
        let problem = Problem::error("unwritable-file", format!("`{path}` cannot be written: {}", error.why))
            .help("rows that are done are kept; make room and say the same line again");
        terminal.problems(&[problem], &Sources::default());
        return Ended::Files;
    }
    let all_rows = wording::count(rows, "row", "rows");
    let kept = if kept > 0 { format!(", {kept} of them from an earlier run") } else { String::new() };
    terminal.answer(&format!(
        "{good} of {all_rows} done{kept}; they are listed in {}\n",
        folder.join(name).display()
    ));
    if terminal.failed() || unwritten {
        return Ended::Files;
    }
    if good == rows { Ended::Done } else { Ended::Problems }
}

/// The rows of the table; what is wrong with it as a whole is on the terminal.
fn table(given: &Table, request: &script::Request, terminal: &mut Terminal<'_>) -> Result<Rows, Ended> {
    let file = given.table.display().to_string();
    let bytes = loader::read_bytes(&given.table, MOST).map_err(|why| {
        let help = "a table is a workbook (.xlsx) or a text file of comma-separated values";
        let problem = Problem::error("unreadable-file", format!("`{file}` cannot be read: {why}")).help(help);
        terminal.problems(&[problem], &Sources::default());
        Ended::Files
    })?;
    let declared = script::declared(request);
    if declared.problems.iter().any(|problem| problem.severity == Severity::Error) {
        terminal.problems(&declared.problems, &declared.sources);
        return Err(Ended::Problems);
    }
    rows(&file, bytes, &declared.sizes).map_err(|problems| {
        terminal.problems(&problems, &Sources::default());
        Ended::Problems
    })
}

/// All rows, some at a time; on a terminal with how far it is.
fn all<'a>(task: &Task<'a>, table: &'a Rows, terminal: &mut Terminal<'_>) -> Summary<'a> {
    let shown = std::io::stderr().is_terminal();
    let mut summary = Summary::of(table, task.rates);
    for some in table.list.chunks(AT_A_TIME) {
        let done: Vec<Outcome> = some.par_iter().with_max_len(1).map(|row| work(task, row)).collect();
        for (row, one) in some.iter().zip(done) {
            summary.take(row, one);
        }
        if shown {
            terminal.say(&format!("\r{} of {} rows", summary.rows, table.list.len()));
        }
    }
    if shown {
        terminal.say("\n");
    }
    summary
}

/// What is wrong with rows, by row and column.
fn say(table: &Rows, done: &Summary<'_>, file: &str, terminal: &mut Terminal<'_>) {
    for (row, problems) in &done.wrong {
        terminal.say(&format!("{file}, line {}, row {} `{}`:\n", row.line, row.number, row.name));
        for problem in problems {
            terminal.say(&format!("  {}{problem}\n", column(table, problem)));
        }
    }
    let more = (done.rows - done.good).saturating_sub(done.wrong.len());
    if more > 0 {
        let more = wording::count(more, "more row has", "more rows have");
        terminal.say(&format!("{more} problems; the summary names them\n"));
    }
}

/// The column a problem is about: that whose head it names.
fn column(table: &Rows, problem: &str) -> String {
    match table.heads.iter().position(|head| problem.contains(&format!("`{head}`"))) {
        Some(at) => format!("column {}: ", at + 1),
        None => String::new(),
    }
}
