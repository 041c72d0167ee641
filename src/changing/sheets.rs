//! The files of a change: for the client the first page in words and the new drawings
//! with their changed sizes marked, for the shop what becomes of each part.

use super::compared::{Change, Whole};
use crate::drawing::{
    ChangeSheet, Choices, Look, SheetKind, change_sheets, change_tables, draw_kinds, mark_changes,
};
use crate::estimate::{Currency, Decimal};
use crate::joinery::PartSource;
use crate::machining::Machined;
use crate::model::{Job, JobHead, Revision, SizeValue};
use crate::output::{File, Info, csv_text, pdf, svg};
use crate::paper::Sheet;
use crate::problem::wording::{and_list, capital, count};
use crate::revision::Fate;
use crate::wording::Words;
use crate::wording::change::{ChangeRow, salvage_cells};

/// The files, named by what follows the script's name. `currency` is that of the prices.
///
/// # Errors
/// The reason why they could not be made; that is a fault of this program.
pub fn change_files(
    change: &Change,
    choices: &Choices,
    currency: Option<&Currency>,
    lost: &str,
) -> Result<Vec<File>, String> {
    let look = choices.look(&change.new.job);
    let says = says(change, currency, &look);
    let summary = says.first().map_or_else(String::new, |(_, points)| points.join("; "));
    let job = Job {
        head: revised(&change.old.job.head, &change.new.job.head, &summary, &look),
        ..change.new.job.clone()
    };
    let letter = job.head.revision.clone().unwrap_or_default();
    let mut sheets = change_sheets(
        &ChangeSheet {
            head: &job.head,
            old: (&change.old.job, &change.old.worked),
            new: (&job, &change.new.worked),
            says,
        },
        &look,
    );
    let old = drawn(&change.old, &change.old.job, &choices.look(&change.old.job));
    let mut new = drawn(&change.new, &job, &look);
    mark_changes(&old, &mut new, &letter);
    sheets.extend(new);
    let info = Info { subject: format!("Change {letter}"), ..Info::of(&job.head) };
    let mut files = vec![File { name: "-change.pdf".into(), bytes: pdf::write(&sheets, &info)? }];
    let page = |(at, sheet): (usize, &Sheet)| File {
        name: format!("-change-{:02}.svg", at + 1),
        bytes: svg::write(sheet).into_bytes(),
    };
    files.extend(sheets.iter().enumerate().map(page));
    let words = look.words();
    let salvage: Vec<[String; 2]> = change.salvage.iter().map(|one| salvage_cells(words, one)).collect();
    let inside = change_tables(&job, &change.rows, (&salvage, &[lost.to_owned()]), &look);
    let info = Info { subject: format!("Change {letter}, for the shop"), ..info };
    files.push(File { name: "-change-shop.pdf".into(), bytes: pdf::write(&inside, &info)? });
    files.push(File { name: "-change.csv".into(), bytes: csv_text(&table(&change.rows)).into_bytes() });
    Ok(files)
}

/// Arrangement and notes of a job.
fn drawn(whole: &Whole, job: &Job, look: &Look) -> Vec<Sheet> {
    let machined = Machined::new(job, &whole.worked);
    let chosen = |kind| matches!(kind, SheetKind::GeneralArrangement | SheetKind::Notes);
    draw_kinds(&machined, &whole.lists, &whole.orders, (look, &chosen)).0
}

/// The head with the revision of the change: that of the script where it has a new one,
/// else the letter after the old one.
fn revised(old: &JobHead, new: &JobHead, says: &str, look: &Look) -> JobHead {
    if new.revision != old.revision {
        return new.clone();
    }
    let rev = next(old.revision.as_deref());
    let mut head = JobHead { revision: Some(rev.clone()), ..new.clone() };
    head.revisions.push(Revision { rev, date: look.date.clone(), says: says.to_owned() });
    head
}

/// The letter after one: A, B to Z without I and O, which read as figures (ISO 7200
/// leaves the choice; common practice).
fn next(letter: Option<&str>) -> String {
    const LETTERS: &str = "ABCDEFGHJKLMNPQRSTUVWXYZ";
    let Some(letter) = letter else { return "A".into() };
    if let Ok(number) = letter.parse::<u32>() {
        return number.saturating_add(1).to_string();
    }
    let after = letter.chars().next().and_then(|known| {
        let at = LETTERS.find(known.to_ascii_uppercase())?;
        LETTERS.get(at + 1..at + 2)
    });
    after.map_or_else(|| format!("{letter}A"), str::to_owned)
}

/// What is said on the first page.
fn says(change: &Change, currency: Option<&Currency>, look: &Look) -> Vec<(String, Vec<String>)> {
    let words = look.words();
    let mut all = vec![("What changes".to_owned(), sizes(change, words))];
    let named = |keep: &dyn Fn(&Fate, &ChangeRow) -> bool| {
        let mut names: Vec<String> = Vec::new();
        let pairs = change.pairs.iter().zip(&change.rows);
        for (pair, _) in pairs.filter(|(pair, row)| keep(&pair.fate, row)) {
            let part = match (pair.new, pair.old) {
                (Some(new), _) => change.new.standing().part(new),
                (None, Some(old)) => change.old.standing().part(old),
                (None, None) => None,
            };
            // The client reads of parts, not of their lippings.
            let whole = part.filter(|part| matches!(part.source, PartSource::Part(_)));
            names.extend(whole.map(|part| part.name.clone()).filter(|name| !names.contains(name)));
        }
        names
    };
    let mut parts = Vec::new();
    let differs = |fate: &Fate| matches!(fate, Fate::Trimmed(_) | Fate::Remade(_));
    for (what, names) in [
        ("New", named(&|fate, _| *fate == Fate::New)),
        ("No longer there", named(&|fate, _| *fate == Fate::Dropped)),
        ("Made in another size", named(&|fate, row| differs(fate) && row.was != row.now)),
        ("Of the same size, worked otherwise", named(&|fate, row| differs(fate) && row.was == row.now)),
    ] {
        if !names.is_empty() {
            parts.push(format!("{what}: {}.", short(&names)));
        }
    }
    all.push(("What it means".to_owned(), parts));
    all.push(("What is cut already".to_owned(), cut(change)));
    if let (Some((before, after)), Some(currency)) = (change.totals, currency) {
        all.push(("Price".to_owned(), vec![price(currency, before, after)]));
    }
    all
}

/// Most names in a sentence for the client.
const MOST_NAMES: usize = 8;

fn short(names: &[String]) -> String {
    if names.len() <= MOST_NAMES + 1 {
        return and_list(names);
    }
    let mut named: Vec<String> = names.iter().take(MOST_NAMES).cloned().collect();
    named.push(count(names.len() - MOST_NAMES, "more", "more"));
    and_list(&named)
}

/// Declared sizes that differ: `Width 900 mm, now 980 mm`.
fn sizes(change: &Change, words: Words) -> Vec<String> {
    let (old, new) = (&change.old.job.sizes, &change.new.job.sizes);
    let value = |size: &SizeValue| words.size_text(size);
    let mut all = Vec::new();
    for size in new {
        let name = capital(&Words::size_name(size));
        match old.iter().find(|one| one.decl.name == size.decl.name) {
            Some(was) if (was.number, &was.text) == (size.number, &size.text) => {}
            Some(was) => all.push(format!("{name}: {} before, now {}", value(was), value(size))),
            None => all.push(format!("{name}: {}", value(size))),
        }
    }
    if all.is_empty() && change.pairs.iter().any(|pair| pair.fate != Fate::Unchanged) {
        all.push("The design itself; see both pictures".into());
    }
    if all.is_empty() {
        all.push("Nothing".into());
    }
    all
}

/// What becomes of cut parts, without a figure of cost.
fn cut(change: &Change) -> Vec<String> {
    let name = |at: &usize| {
        let part = change.old.standing().part(change.pairs.get(*at)?.old?)?;
        matches!(part.source, PartSource::Part(_)).then(|| part.name.clone())
    };
    let is_sawn = |at: &usize| {
        let fate = change.pairs.get(*at).map(|pair| &pair.fate);
        matches!(fate, Some(Fate::Trimmed(trim)) if !trim.off.is_empty())
    };
    let (sawn, worked): (Vec<usize>, Vec<usize>) =
        change.kept.trimmed.iter().map(|(at, _)| *at).partition(|at| is_sawn(at));
    let trimmed = sawn.iter().chain(&worked).filter_map(name).count();
    let lost: Vec<String> = change.kept.lost.iter().filter_map(|(at, _)| name(at)).collect();
    let mut all = Vec::new();
    for (what, which) in [("Cut down and used", sawn), ("Used, with some more work", worked)] {
        let names: Vec<String> = which.iter().filter_map(name).collect();
        if !names.is_empty() {
            all.push(format!("{what}: {}.", short(&names)));
        }
    }
    if !lost.is_empty() {
        all.push(format!("Of no use in this piece any more: {}.", short(&lost)));
    }
    let own = |index: usize| {
        change.new.standing().part(index).is_some_and(|part| matches!(part.source, PartSource::Part(_)))
    };
    let there = change.kept.there.iter().filter(|(index, _)| own(*index)).count();
    let kept = there.saturating_sub(trimmed);
    if kept > 0 {
        all.push(format!("{} used as cut.", count(kept, "part is", "parts are")));
    }
    all
}

fn price(currency: &Currency, before: Decimal, after: Decimal) -> String {
    let by = (after - before).abs();
    let change = match after.cmp(&before) {
        std::cmp::Ordering::Greater => format!("{} more", currency.show(by)),
        std::cmp::Ordering::Less => format!("{} less", currency.show(by)),
        std::cmp::Ordering::Equal => "the same".into(),
    };
    format!(
        "{} before, {} now: {change}. What is cut and lost is not in it.",
        currency.show(before),
        currency.show(after)
    )
}

/// The rows as a table for a spreadsheet.
fn table(rows: &[ChangeRow]) -> Vec<Vec<String>> {
    let heads = ["number", "part", "was", "now", "quantity", "cut", "fate", "to do"];
    let mut all = vec![heads.map(str::to_owned).to_vec()];
    all.extend(rows.iter().map(|row| {
        vec![
            row.mark.clone(),
            row.part.clone(),
            row.was.clone(),
            row.now.clone(),
            row.quantity.to_string(),
            row.cut.to_string(),
            row.fate.to_owned(),
            row.what.clone(),
        ]
    }));
    all
}
