//! What becomes of each part, and what can be got from what is lost: for the shop.

use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::plain;
use crate::drawing::page::gather::gather_few;
use crate::drawing::page::look::Look;
use crate::drawing::page::sheet_body::SheetKind;
use crate::drawing::set::finish;
use crate::drawing::sheets::lists::cutting_list::flow;
use crate::model::Job;
use crate::paper::Sheet;
use crate::wording::change::ChangeRow;

/// The sheets for the shop: parts, what is salvaged as lines of two cells, and what is
/// lost in sentences.
pub fn change_tables(
    job: &Job,
    rows: &[ChangeRow],
    (salvage, lost): (&[[String; 2]], &[String]),
    look: &Look,
) -> Vec<Sheet> {
    let off = look.words().of_each();
    let heads = ["No.", "Part", "Was", "Now", off, "Cut", "It is", "To do"];
    let columns = heads.map(|head| match head {
        "To do" => Column::words(head),
        "No." | "Off" | "Qty" | "Cut" => Column::marks(head),
        // Names and sizes are read at a glance where they stay on one line.
        _ => Column { wraps: false, ..Column::words(head) },
    });
    let mut parts = Table::new("Parts", columns.to_vec());
    parts.rows.extend(rows.iter().map(|row| {
        let cut = if row.cut > 0 { row.cut.to_string() } else { String::new() };
        let cells =
            [&row.mark, &row.part, &row.was, &row.now, &row.quantity.to_string(), &cut, row.fate, &row.what]
                .map(|cell: &str| plain(cell.to_owned()));
        Row::Cells(cells.to_vec())
    }));
    let mut found =
        Table::new("New parts out of old ones", vec![Column::words("From"), Column::words("Cut")]);
    found.rows.extend(salvage.iter().map(|cells| Row::Cells(cells.clone().map(plain).to_vec())));
    let mut gone = Table::new("Lost", vec![Column::words("What was cut and is of no more use")]);
    gone.rows.extend(lost.iter().map(|words| Row::Cells(vec![plain(words.clone())])));
    let tables: Vec<Table> =
        [parts, found, gone].into_iter().filter(|table| !table.rows.is_empty()).collect();
    finish(job, gather_few(flow(&tables, SheetKind::Change, "Change", look), look), look)
}
