//! The sheet index: the first of the notes, on the first sheet where that has room.

use super::look::Look;
use super::plate::Plate;
use super::sheet_body::{SheetBody, SheetKind};
use crate::drawing::kit::table::{Column, Row, SetTable, Table};
use crate::drawing::kit::words::{on_sheet, plain};

/// The index of sheets with these titles, as a block of its own.
pub(super) fn body(titles: &[String], look: &Look) -> SheetBody {
    let titles: Vec<&str> = titles.iter().map(String::as_str).collect();
    let index = table(&titles);
    let set = |share: f64| index.set(look.small(), look.room().above().width() * share);
    let drawn = |set: &SetTable<'_>| {
        let mut plate = Plate::new(look);
        // More rows than a small sheet is high go on beside them.
        let area = look.room().above();
        let (mut at, mut next) = (area.origin(), 0);
        while next < index.rows.len() {
            let drawn = set.draw(&mut plate, at, next, area.y1);
            if drawn.next == next {
                break;
            }
            next = drawn.next;
            at.x += set.width() + APART;
        }
        SheetBody { marks: plate.marks, ..SheetBody::new(SheetKind::Notes, "Notes") }
    };
    let (wide, narrow) = (set(WIDEST), set(NARROWER));
    let mut body = drawn(&wide);
    if narrow.width() < wide.width() && !narrow.squeezed() {
        body.narrower.push(drawn(&narrow));
    }
    body
}

/// White between what goes on beside one another, mm.
const APART: f64 = 6.0;
/// Most of the width of the paper that it takes: sheets that carry several things have
/// long titles.
const WIDEST: f64 = 0.48;
/// The width that it is tried at beside something else, where long titles take two lines.
const NARROWER: f64 = 0.36;

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
        .find(|(_, rest)| rest.split_once(" of ").is_some_and(|(sheet, of)| whole(sheet) && whole(of)))
        .map_or(title, |(stem, _)| stem)
}

/// Whether a text is a whole number: what follows the count of a shared sheet is its own.
fn whole(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|c| c.is_ascii_digit())
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
            "Parts, sheet 3 of 3; Machine settings",
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
            ["5", "Parts, sheet 3 of 3; Machine settings"],
            ["6", "Shelf, sheet metal"],
        ];
        assert_eq!(rows, expected);
    }
}
