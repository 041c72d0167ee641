//! How the job is finished: grit, coats and hours, and what of each part when.

use crate::assembly::Order;
use crate::cutting::{BETWEEN_COATS, GRITS};
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::plain;
use crate::drawing::page::look::Look;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::drawing::sheets::lists::cutting_list::flow;
use crate::joinery::WorkedJob;
use crate::measure::{Unit, number};
use crate::model::{Finish, Job, PieceId};
use crate::wording::assembly::{FinishTable, Telling, finish_table};

/// The tables of how a job is finished, each a block by itself; nothing where it says none.
pub(in crate::drawing) fn finishing(
    job: &Job,
    worked: &WorkedJob,
    orders: &[Order],
    look: &Look,
) -> Vec<SheetBody> {
    let Some(finish) = &job.finish else { return Vec::new() };
    let found = finish_table(Telling { job, worked, words: look.words() }, orders);
    let mut tables = vec![coats(finish, found.as_ref())];
    tables.extend(found.map(|found| by_part(job, &found, look)));
    tables
        .iter()
        .flat_map(|table| flow(std::slice::from_ref(table), SheetKind::Notes, "Finishing", look))
        .collect()
}

/// What goes on, how often, on what, and when the next may.
fn coats(finish: &Finish, found: Option<&FinishTable>) -> Table {
    let mut table = Table::new("Finishing", vec![Column::words("What"), Column::words("How")]);
    let mut row = |what: &str, how: String| table.rows.push(Row::Cells(vec![plain(what), plain(how)]));
    row("Finish", finish.what.clone());
    row("Coats", finish.coats.to_string());
    row("Sand with the grain", GRITS.map(|grit| grit.to_string()).join(", "));
    if finish.coats > 1 {
        row("Between coats", BETWEEN_COATS.to_string());
    }
    let next = match finish.dries {
        Some(hours) => format!("{} h", number(hours, 1)),
        None => "as its maker says".into(),
    };
    row("Next coat after", next);
    if let Some(FinishTable { in_all: [surface, needs], .. }) = found {
        row("Surface", surface.clone());
        row("Needs, all coats", format!("about {needs}"));
    }
    table
}

/// What of each part is finished, and when.
fn by_part(job: &Job, found: &FinishTable, look: &Look) -> Table {
    let unit = if look.unit == Unit::Mm { "m²" } else { "sq ft" };
    let columns = vec![
        Column::items("Part"),
        Column::words("Name"),
        Column::figures(look.words().of_each()),
        Column::words("When: step"),
        Column::figures("Face side"),
        Column::figures("Back side"),
        Column::figures("Edges, ends"),
        Column::figures("Glued: mask"),
    ];
    let mut table = Table::new(format!("Finished of each part, {unit}"), columns);
    let mut piece: Option<PieceId> = None;
    for row in &found.rows {
        if job.pieces.len() > 1 && piece != Some(row.piece) {
            table.rows.push(Row::Heading(job.pieces.get(row.piece.0).map_or("", |p| &p.name).to_owned()));
        }
        piece = Some(row.piece);
        let first = [row.mark.clone(), row.name.clone(), row.count.to_string(), row.when.clone()];
        table.rows.push(Row::Cells(first.into_iter().chain(row.areas.iter().cloned()).map(plain).collect()));
    }
    table
}
