//! The buying list: one order for all the pieces of the job.

use super::cutting_list::flow;
use crate::cutting::{BuyLine, BuyingList, Group};
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{length_text, on_sheet, plain, stacked};
use crate::drawing::page::look::Look;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::measure::{self, Unit};

/// The sheets of the list.
pub(in crate::drawing) fn buying_sheets(buying: &BuyingList, look: &Look) -> Vec<SheetBody> {
    if buying.lines.is_empty() {
        return Vec::new();
    }
    let priced = buying.lines.iter().any(|line| line.price.is_some());
    let mut columns = vec![
        Column::figures(if look.unit == Unit::Inch { "Qty" } else { "Quantity" }),
        Column::words("Unit"),
        Column::words("What"),
        Column::words("Size"),
        Column::words("Remarks"),
    ];
    if priced {
        columns.extend([Column::figures("Price"), Column::figures("Cost")]);
    }
    let mut table = Table::new("To buy, for all pieces of the job", columns);
    for group in Group::ALL {
        let mut lines = buying.lines.iter().filter(|line| line.group == group).peekable();
        if lines.peek().is_some() {
            table.rows.push(Row::Heading(group.name().into()));
        }
        table.rows.extend(lines.map(|line| row(line, priced, look)));
    }
    if priced {
        let (total, without) = look.words().total(buying);
        let open = match without {
            0 => String::new(),
            n => format!(", {} without a price", lines_count(n)),
        };
        table.rows.push(Row::Heading(format!("Priced lines together {}{open}", money(total))));
    }
    if !buying.nearby.is_empty() {
        table.rows.push(Row::Heading("Sizes near by that save".into()));
    }
    for near in &buying.nearby {
        let (change, saves) = look.words().nearby(near);
        let mut cells =
            vec![plain(""), plain(""), on_sheet(&change), plain(""), on_sheet(&set_plainly(&saves))];
        if priced {
            cells.extend([plain(""), plain("")]);
        }
        table.rows.push(Row::Cells(cells));
    }
    flow(&[table], SheetKind::Buying, "Buying list", look)
}

/// Money as the lettering can set it: it has no narrow space.
fn money(amount: f64) -> String {
    set_plainly(&measure::money(amount))
}

/// Text without narrow spaces, which the lettering has not.
fn set_plainly(text: &str) -> String {
    text.replace('\u{202f}', " ")
}

/// `3 lines`.
fn lines_count(n: usize) -> String {
    crate::problem::wording::count(n, "line", "lines")
}

fn row(line: &BuyLine, priced: bool, look: &Look) -> Row {
    let ordered = look.words().ordered(line);
    let mut cells = vec![
        plain(measure::number(ordered.quantity, ordered.decimals)),
        plain(ordered.unit),
        on_sheet(&look.words().goods(&line.what)),
        stacked(&size(line, look)),
        on_sheet(&look.words().line_remark(line)),
    ];
    if priced {
        cells.push(plain(ordered.price.map(money).unwrap_or_default()));
        cells.push(plain(ordered.cost.map(money).unwrap_or_default()));
    }
    Row::Cells(cells)
}

/// `2440 × 1220, 18 thick`.
fn size(line: &BuyLine, look: &Look) -> String {
    let show = |mm: &f64| length_text(look, *mm);
    match line.size.as_slice() {
        [] => String::new(),
        [thick] => look.words().sawn(*thick, &show(thick)),
        [long, wide] => format!("{} × {}", show(long), show(wide)),
        [long, wide, thick, ..] => format!("{} × {}, {} thick", show(long), show(wide), show(thick)),
    }
}
