//! `compare`: what a change does to every part.

use std::path::Path;

use super::args::{Compare, Script};
use super::setout::{choices, saved_job, stem};
use super::words::grid::grid;
use super::{Ended, Terminal, cut_list, write_all};
use crate::File;
use crate::changing::{Change, CompareRequest, Earlier, change_files, compared};
use crate::estimate::{Currency, Rates};
use crate::model::Word;
use crate::problem::{Problem, Severity};
use crate::source::Sources;
use crate::wording::Words;
use crate::wording::change::{ChangeRow, lost_sentence, salvage_cells};

/// Runs `compare`.
pub(super) fn run(given: &Compare, words: &'static [&'static Word], terminal: &mut Terminal<'_>) -> Ended {
    match ended(given, words, terminal) {
        Ok(ended) | Err(ended) => ended,
    }
}

fn ended(
    given: &Compare,
    words: &'static [&'static Word],
    terminal: &mut Terminal<'_>,
) -> Result<Ended, Ended> {
    let now = super::request::request(&given.script, words, terminal)?;
    let before = earlier(given, words, terminal)?;
    let ticked = given.cut.as_ref().map(|file| cut_list::read(file, terminal)).transpose()?;
    let rates = given.rates.as_deref().map(|path| super::quote::rates(path, terminal)).transpose()?;
    let choices = choices(&given.look, terminal)?;
    let (change, found) = compared(&CompareRequest {
        before: &before,
        now: &now,
        ticked: ticked.as_ref(),
        rates: rates.as_ref(),
        choices: &choices,
    });
    for one in &found {
        if !one.option.is_empty() && !one.problems.is_empty() {
            terminal.say(&format!("{}:\n", one.option));
        }
        terminal.problems(&one.problems, &one.sources);
    }
    let Some(change) = change else { return Err(Ended::Problems) };
    let (text, lost) = answer(&change, rates.as_ref());
    terminal.answer(&text);
    let wrong = found.iter().flat_map(|one| &one.problems).any(|one| one.severity == Severity::Error);
    let ended = if wrong { Ended::Problems } else { Ended::Done };
    if let Some(folder) = &given.out {
        let files = change_files(&change, &choices, rates.as_ref().map(|rates| rates.currency), &lost);
        let files = files.map_err(|why| {
            let problem = Problem::error("pdf", format!("the PDF could not be made: {why}"));
            terminal.problems(&[problem], &Sources::default());
            Ended::Problems
        })?;
        return Ok(match deliver_to(folder, &stem(&given.script.script), files, terminal) {
            Ended::Done => ended,
            other => other,
        });
    }
    Ok(if terminal.failed() { Ended::Files } else { ended })
}

/// Writes the change sheets under the script's name.
fn deliver_to(folder: &Path, stem: &str, files: Vec<File>, terminal: &mut Terminal<'_>) -> Ended {
    let files: Vec<File> =
        files.into_iter().map(|file| File { name: format!("{stem}{}", file.name), ..file }).collect();
    if let Err(error) = write_all(folder, &files) {
        let path = error.path.display();
        let problem = Problem::error("unwritable-file", format!("`{path}` cannot be written: {}", error.why))
            .help(error.help("choose another folder with `--out`, or make room in this one"));
        terminal.problems(&[problem], &Sources::default());
        return Ended::Files;
    }
    let sheet = folder.join(format!("{stem}-change.pdf"));
    let shop = folder.join(format!("{stem}-change-shop.pdf"));
    terminal.answer(&format!("for the client: {}\nfor the shop: {}\n", sheet.display(), shop.display()));
    if terminal.failed() { Ended::Files } else { Ended::Done }
}

/// The job as it was: a job file by its ending, else a script.
fn earlier(
    given: &Compare,
    words: &'static [&'static Word],
    terminal: &mut Terminal<'_>,
) -> Result<Earlier, Ended> {
    if given.before.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json")) {
        return Ok(Earlier::Saved(saved_job(&given.before, terminal)?.states));
    }
    let script = Script { script: given.before.clone(), set: given.was.clone(), nearest: false };
    Ok(Earlier::Script(Box::new(super::request::request(&script, words, terminal)?)))
}

/// The change as text, and what is lost, in a sentence.
fn answer(change: &Change, rates: Option<&Rates>) -> (String, String) {
    let mut rows = vec![["part", "was", "now", "cut", "", "what to do"].map(str::to_owned).to_vec()];
    let row = |row: &ChangeRow| {
        let cut = if row.cut > 0 { row.cut.to_string() } else { String::new() };
        vec![row.part.clone(), row.was.clone(), row.now.clone(), cut, row.fate.to_owned(), row.what.clone()]
    };
    rows.extend(change.rows.iter().filter(|row| row.fate != "unchanged" || row.cut > 0).map(row));
    let cells: Vec<Vec<&str>> = rows.iter().map(|row| row.iter().map(String::as_str).collect()).collect();
    let mut text = if cells.len() > 1 { grid(&cells, 0) + "\n" } else { "no part changes\n\n".to_owned() };
    let same = change.rows.iter().filter(|row| row.fate == "unchanged" && row.cut == 0).count();
    if same > 0 && cells.len() > 1 {
        text += &crate::problem::wording::count(same, "part is", "parts are");
        text += " unchanged\n";
    }
    let money = (!change.lost.money.is_zero()).then(|| match rates {
        Some(rates) => rates.currency.show(rates.currency.round(change.lost.money)),
        None => change.lost.money.round_dp(2).to_string(),
    });
    let lost = lost_sentence(&change.lost, money);
    if !change.cut.is_empty() {
        text += &lost;
        text += "\n";
    }
    let words = Words::of(change.new.job.unit);
    for [from, parts] in change.salvage.iter().map(|one| salvage_cells(words, one)) {
        text += &["from ", &from, ": cut ", &parts, "\n"].concat();
    }
    if let (Some((before, after)), Some(currency)) = (change.totals, rates.map(|rates| rates.currency)) {
        text += &price(currency, before, after);
    }
    (text, lost)
}

fn price(currency: &Currency, before: crate::estimate::Decimal, after: crate::estimate::Decimal) -> String {
    format!("price: {} before, {} now\n", currency.show(before), currency.show(after))
}
