//! The rows of a table of sizes: settings of the script, and the folder of each.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::book;
use crate::cli::csv::{self, Csv, Fault};
use crate::model::SizeDecl;
use crate::problem::{Problem, nearest, wording};

/// The head of the column that names rows.
const NAME: &str = "name";

/// A row ready to be worked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Ready {
    /// Its number among the rows, from 1.
    pub(super) number: usize,
    /// The line of the file it begins on.
    pub(super) line: usize,
    /// Its name, and that of its folder.
    pub(super) name: String,
    /// What it sets, by the heads that all rows share.
    pub(super) settings: Box<[(Arc<str>, String)]>,
    /// What is wrong with it already.
    pub(super) wrong: Option<String>,
}

/// A table with the heads that set something.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Rows {
    /// The heads, as the file has them.
    pub(super) heads: Vec<Arc<str>>,
    /// The rows.
    pub(super) list: Vec<Ready>,
}

impl Rows {
    /// The heads that set something.
    pub(super) fn own(&self) -> impl Iterator<Item = &Arc<str>> {
        self.heads.iter().filter(|head| ***head != *NAME)
    }
}

/// The rows of a table for a script that declares `sizes`.
pub(super) fn rows(file: &str, bytes: Vec<u8>, sizes: &[SizeDecl]) -> Result<Rows, Vec<Problem>> {
    let table = read(file, bytes).map_err(|problem| vec![problem])?;
    let problems = heads(file, &table.heads, sizes);
    if !problems.is_empty() {
        return Err(problems);
    }
    if table.rows.is_empty() {
        let problem = Problem::error("bad-table", format!("`{file}` has heads and no rows"))
            .help("write a row of values under the heads for each piece wanted");
        return Err(vec![problem]);
    }
    Ok(ready(table))
}

/// The table of a text or of the first sheet of a workbook.
fn read(file: &str, bytes: Vec<u8>) -> Result<Csv, Problem> {
    if book::is_book(&bytes) {
        return book::read(&bytes).map_err(|why| {
            Problem::error("bad-table", format!("`{file}`: {why}"))
                .help("save it anew as a workbook (.xlsx), or its first sheet as CSV, UTF-8")
        });
    }
    let text = String::from_utf8(bytes).map_err(|_| {
        Problem::error("bad-table", format!("`{file}` is neither UTF-8 text nor a workbook"))
            .help("a spreadsheet saves a table as a workbook (.xlsx) or as CSV, UTF-8")
    })?;
    csv::read(&text).map_err(|fault| unreadable(file, &fault))
}

fn unreadable(file: &str, fault: &Fault) -> Problem {
    let Fault { line, column, why } = fault;
    Problem::error("bad-table", format!("`{file}`, line {line}, column {column}: {why}")).help(
        "a cell with a comma, a quotation mark or two lines stands in quotation marks, those in it doubled",
    )
}

/// What is wrong with the heads.
fn heads(file: &str, heads: &[String], sizes: &[SizeDecl]) -> Vec<Problem> {
    let names: Vec<&str> = sizes.iter().map(|size| size.name.as_str()).collect();
    let known: Vec<&str> =
        [NAME].into_iter().chain(names.iter().copied().filter(|name| *name != NAME)).collect();
    let mut problems = Vec::new();
    for (at, head) in heads.iter().enumerate() {
        let column = at + 1;
        let what = if heads[..at].contains(head) {
            format!("the head `{head}` stands there twice")
        } else if known.contains(&head.as_str()) {
            continue;
        } else if head.is_empty() {
            "a column has no head".into()
        } else {
            format!("nothing in the script is called `{head}`")
        };
        let all = format!("heads can be {}", wording::all_of(known.iter().copied()));
        let help = match nearest(head, known.iter().copied()).filter(|near| near != head) {
            Some(near) => format!("did you mean `{near}`? {all}"),
            None => all,
        };
        problems.push(Problem::error("bad-head", format!("`{file}`, column {column}: {what}")).help(help));
    }
    if problems.is_empty() && !heads.iter().any(|head| names.contains(&head.as_str())) {
        let all = wording::all_of(known.iter().copied());
        problems.push(
            Problem::error("bad-head", format!("`{file}` has no head that changes anything"))
                .help(format!("heads can be {all}")),
        );
    }
    problems
}

/// The rows with what they set; the cells of the table are taken over, not copied.
fn ready(table: Csv) -> Rows {
    let wide = table.rows.len().to_string().len();
    let heads: Vec<Arc<str>> = table.heads.into_iter().map(Arc::from).collect();
    let named = heads.iter().position(|head| **head == *NAME);
    let mut taken: BTreeSet<String> = BTreeSet::new();
    let row = |(at, row): (usize, csv::CsvRow)| {
        let number = at + 1;
        let said = named.and_then(|column| row.cells.get(column)).filter(|cell| !cell.is_empty());
        let name = said.cloned().unwrap_or_else(|| format!("row-{number:0wide$}"));
        let mut wrong = None;
        if row.cells.len() > heads.len() {
            let under = wording::count(heads.len(), "head", "heads");
            wrong = Some(format!("it has {} cells under {under}", row.cells.len()));
        } else if let Some(why) = no_folder(&name) {
            wrong = Some(format!("no folder can be called `{name}`: {why}"));
        } else if !taken.insert(name.to_lowercase()) {
            wrong = Some(format!("a row above it is called `{name}` too"));
        }
        let pairs = heads.iter().cloned().zip(row.cells);
        let set = pairs.filter(|(head, cell)| **head != *NAME && !cell.is_empty());
        let settings: Box<[(Arc<str>, String)]> = set.collect();
        Ready { number, line: row.line, name, settings, wrong }
    };
    let list = table.rows.into_iter().enumerate().map(row).collect();
    Rows { heads, list }
}

/// Longest name of a folder, in letters: what every file system takes.
const LONGEST: usize = 80;

/// Why a name is none for a folder.
fn no_folder(name: &str) -> Option<&'static str> {
    let bad = |c: char| c.is_control() || "/\\:*?\"<>|".contains(c);
    if name.chars().any(bad) {
        Some("leave out / \\ : * ? \" < > |")
    } else if name.starts_with('.') || name.ends_with('.') {
        Some("it must not begin or end with a point")
    } else if name.chars().count() > LONGEST {
        Some("it is too long")
    } else {
        None
    }
}
