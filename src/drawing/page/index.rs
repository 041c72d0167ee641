//! The sheet index: in the free corner of the first sheet, else at the head of
//! the notes.

use super::look::Look;
use super::plate::Plate;
use super::sheet_body::SheetBody;
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{on_sheet, plain};

/// Puts the notes among the sheets, at place `at`, and the index where there is
/// room for it. `notes` makes the notes, with an index at their head if given.
pub(in crate::drawing) fn put(
    bodies: &mut Vec<SheetBody>,
    at: usize,
    look: &Look,
    notes: impl Fn(Option<&Table>) -> Vec<SheetBody>,
) {
    let plain = notes(None);
    let others: Vec<String> = bodies.iter().map(|body| body.title.clone()).collect();
    let with = |notes: &[SheetBody]| {
        let mut titles: Vec<&str> = others.iter().map(String::as_str).collect();
        titles.splice(at..at, notes.iter().map(|body| body.title.as_str()));
        table(&titles)
    };
    let index = with(&plain);
    if first_sheet(bodies, &index, look) {
        bodies.splice(at..at, plain);
        return;
    }
    // The index may itself take a sheet of notes more, which it then lists.
    let mut sheets = notes(Some(&index));
    for _ in 0..3 {
        let again = notes(Some(&with(&sheets)));
        let settled = again.len() == sheets.len();
        sheets = again;
        if settled {
            break;
        }
    }
    bodies.splice(at..at, sheets);
}

/// The index: sheets that go on under one title in one row.
fn table(titles: &[&str]) -> Table {
    let mut table = Table::new("Sheets", vec![Column::figures("Sheet"), Column::words("Shows")]);
    let mut runs: Vec<(usize, usize, &str)> = Vec::new();
    for (i, title) in titles.iter().enumerate() {
        let title = stem(title);
        match runs.last_mut() {
            Some(last) if last.2 == title => last.1 = i + 1,
            _ => runs.push((i + 1, i + 1, title)),
        }
    }
    for (from, to, title) in runs {
        let sheets = if from == to { from.to_string() } else { format!("{from} to {to}") };
        table.rows.push(Row::Cells(vec![plain(sheets), on_sheet(title)]));
    }
    table
}

/// A title without what tells it from the sheets it goes on to.
fn stem(title: &str) -> &str {
    [", sheet ", ", tile "]
        .iter()
        .filter_map(|mark| title.rsplit_once(mark))
        .find(|(_, rest)| rest.starts_with(|c: char| c.is_ascii_digit()) && rest.contains(" of "))
        .map_or(title, |(stem, _)| stem)
}

/// Draws the index into the free place of the first sheet, if it fits.
fn first_sheet(bodies: &mut [SheetBody], table: &Table, look: &Look) -> bool {
    let Some((first, free)) = bodies.first_mut().and_then(|body| body.free.map(|free| (body, free))) else {
        return false;
    };
    let set = table.set(look.small(), free.width());
    if set.full_height() > free.height() {
        return false;
    }
    let mut plate = Plate::new(look);
    set.draw(&mut plate, (free.x0, free.y1 - set.full_height()).into(), 0, free.y1);
    first.marks.append(&mut plate.marks);
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::kit::table::Row;
    use crate::drawing::kit::words::read;

    #[test]
    fn sheets_under_one_title_share_a_row() {
        let titles = [
            "Case: general arrangement",
            "notes",
            "Parts, sheet 1 of 2",
            "Parts, sheet 2 of 2",
            "Shelf, sheet metal",
        ];
        let rows: Vec<Vec<String>> = table(&titles)
            .rows
            .iter()
            .filter_map(|row| match row {
                Row::Cells(cells) => Some(cells.iter().map(|c| read(c)).collect()),
                Row::Heading(_) => None,
            })
            .collect();
        let expected = [
            ["1", "Case: general arrangement"],
            ["2", "notes"],
            ["3 to 4", "Parts"],
            ["5", "Shelf, sheet metal"],
        ];
        assert_eq!(rows, expected);
    }
}
