//! One row of a table: its set written whole, or why there is none.

use std::path::Path;
use std::sync::Arc;

use super::super::args::Files;
use super::super::files::{left_over, write_all};
use super::super::loader::Folder;
use super::rows::Ready;
use crate::drawing::Choices;
use crate::estimate::{Decimal, Price, Rates};
use crate::problem::{Problem, Severity};
use crate::quoting::{listed, worked_out};
use crate::script::Request;
use crate::{File, set_out};

/// What is done with each row.
pub(super) struct Task<'a> {
    /// The script with what is set for all.
    pub(super) request: &'a Request,
    /// Where it stands.
    pub(super) script: &'a Path,
    /// The look of the sets.
    pub(super) choices: &'a Choices,
    /// The shop's rates, if a price is asked for.
    pub(super) rates: Option<&'a Rates>,
    /// Which files are written.
    pub(super) files: Files,
    /// The folder of all.
    pub(super) folder: &'a Path,
    /// The name files begin with.
    pub(super) stem: &'a str,
}

/// What is asked for a row.
#[derive(Clone, Copy, Debug)]
pub(super) struct Asked {
    /// The price before tax.
    pub(super) net: Decimal,
    /// Tax.
    pub(super) tax: Decimal,
    /// Both.
    pub(super) total: Decimal,
}

/// What came of a row.
#[derive(Clone, Debug, Default)]
pub(super) struct Outcome {
    /// Its errors, a line each.
    pub(super) problems: Vec<String>,
    /// Codes of its warnings.
    pub(super) warnings: Vec<&'static str>,
    /// Its price.
    pub(super) price: Option<Asked>,
    /// Whether an earlier run had made just this.
    pub(super) kept: bool,
    /// Whether its files could not be written.
    pub(super) unwritten: bool,
}

impl Outcome {
    /// Whether it is done.
    pub(super) fn good(&self) -> bool {
        self.problems.is_empty()
    }

    fn take(&mut self, problems: &[Problem]) {
        for problem in problems {
            match problem.severity {
                Severity::Error => {
                    let help = problem.help.as_ref().map(|help| format!("; {help}")).unwrap_or_default();
                    self.problems.push(format!("{} ({}){help}", problem.message, problem.code));
                }
                Severity::Warning if !self.warnings.contains(&problem.code) => {
                    self.warnings.push(problem.code);
                }
                Severity::Warning | Severity::Advice => {}
            }
        }
    }
}

/// Works a row.
pub(super) fn work(task: &Task<'_>, row: &Ready) -> Outcome {
    let mut outcome = Outcome::default();
    if let Some(wrong) = &row.wrong {
        outcome.problems.push(wrong.clone());
        return outcome;
    }
    let mut request = task.request.clone();
    request.settings.retain(|(name, _)| !row.settings.iter().any(|(own, _)| **own == **name));
    request.settings.extend(row.settings.iter().map(|(name, value)| (name.to_string(), value.clone())));
    // Each row has the whole time a script may take.
    request.loader = Arc::new(Folder::of_script(task.script, request.limits.script));
    let listed = if let Some(rates) = task.rates {
        let (worked, found) = worked_out(&request, rates, 1);
        for lot in &found {
            outcome.take(&lot.problems);
        }
        worked.map(|worked| {
            let Price { net, tax, total, .. } = worked.estimate.price;
            outcome.price = Some(Asked { net, tax, total });
            worked.listed
        })
    } else {
        let (listed, found) = listed(&request, 1);
        outcome.take(&found.problems);
        listed
    };
    let files = match (listed, task.files) {
        (None, _) | (_, Files::None) => return outcome,
        (Some(listed), Files::Lists) => {
            let (files, problems) = listed.files(task.choices);
            outcome.take(&problems);
            files
        }
        (Some(_), Files::All) => {
            let set = set_out(&request, task.choices);
            // What was found on the way to the lists is told already.
            if set.has_errors() && outcome.good() {
                outcome.take(&set.problems);
            }
            set.files
        }
    };
    if outcome.good() {
        write(task, row, files, &mut outcome);
    }
    outcome
}

/// Writes the files of a row, unless what stands there is already the same.
fn write(task: &Task<'_>, row: &Ready, files: Vec<File>, outcome: &mut Outcome) {
    let named = |file: File| File { name: format!("{}{}", task.stem, file.name), ..file };
    let files: Vec<File> = files.into_iter().map(named).collect();
    let folder = task.folder.join(&row.name);
    // Same input, same bytes: what stands there and is the same needs no writing, and
    // what differs by a letter is written anew.
    let same = |file: &File| std::fs::read(folder.join(&file.name)).is_ok_and(|bytes| bytes == file.bytes);
    if files.iter().all(same) {
        outcome.kept = true;
        // What a killed run left beside a set that is whole still goes.
        if !left_over(&folder) {
            return;
        }
    }
    if let Err(error) = write_all(&folder, &files) {
        outcome.unwritten = true;
        outcome.problems.push(format!("`{}` cannot be written: {}", error.path.display(), error.why));
    }
}
