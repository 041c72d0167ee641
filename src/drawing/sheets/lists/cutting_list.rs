//! The cutting list with lippings.

use crate::cutting::{CutRow, CuttingList, FoldedPanel};
use crate::drawing::kit::dimension::figure::length_runs;
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{length_text, on_sheet, plain, stacked, unmarked};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::Plate;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::measure::{self, Unit};
use crate::paper::Run;

/// Sizes nearer than this read the same, mm.
const SAME: f64 = 0.01;

/// Most width of a table of sentences, in text heights.
const COLUMN: f64 = 72.0;

/// The sheets of the list; tables run on to further sheets with their heads.
pub(in crate::drawing) fn cutting_list(list: &CuttingList, look: &Look) -> Vec<SheetBody> {
    let mut tables = vec![parts(list, look)];
    if !list.folded.is_empty() {
        tables.push(folded(list, look));
    }
    if !list.lippings.is_empty() {
        tables.push(lippings(list, look));
    }
    flow(&tables, SheetKind::CuttingList, "Cutting list", look)
}

/// Sets tables, each a block by itself from the corner of the sheet; what is longer than
/// a sheet runs on.
pub(in crate::drawing) fn flow(
    tables: &[Table],
    kind: SheetKind,
    title: &str,
    look: &Look,
) -> Vec<SheetBody> {
    let area = look.room().above();
    let height = look.small();
    let mut bodies = Vec::new();
    for table in tables {
        // Sentences read easily in lines of some sixty letters.
        let most = if kind == SheetKind::Notes { area.width().min(COLUMN * height) } else { area.width() };
        let set = table.set(height, most);
        let mut next = 0;
        while next < table.rows.len() {
            let mut plate = Plate::new(look);
            let drawn = set.draw(&mut plate, area.origin(), next, area.y1);
            if drawn.next == next {
                break;
            }
            let runs_on = next > 0;
            next = drawn.next;
            let mut body = SheetBody { marks: plate.marks, runs_on, ..SheetBody::new(kind, title) };
            if !runs_on && next == table.rows.len() {
                body.narrower = narrower(table, set.width(), (kind, look));
            }
            bodies.push(body);
        }
    }
    bodies
}

/// Shares of the width of the paper that a table is tried at beside something else.
const NARROWER: [f64; 4] = [0.62, 0.48, 0.4, 0.32];

/// A table narrower than this reads like a ribbon, mm.
const LEAST: f64 = 84.0;

/// A table set narrower than `wide`, as far as no word has to be broken and one sheet
/// holds it.
fn narrower(table: &Table, wide: f64, (kind, look): (SheetKind, &Look)) -> Vec<SheetBody> {
    let area = look.room().above();
    let set = |share: f64| {
        let most = share * area.width();
        let set = table.set(look.small(), most);
        if wide <= most || most < LEAST || set.squeezed() || set.full_height() > area.height() {
            return None;
        }
        let mut plate = Plate::new(look);
        set.draw(&mut plate, area.origin(), 0, area.y1);
        Some(SheetBody { marks: plate.marks, ..SheetBody::new(kind, "") })
    };
    NARROWER.into_iter().filter_map(set).collect()
}

fn parts(list: &CuttingList, look: &Look) -> Table {
    let weighed = list.parts.iter().any(|row| row.mass.is_some());
    let mut columns = vec![
        Column::items("No."),
        Column::words("Part"),
        Column::figures(look.words().of_each()),
        Column::figures("Length"),
        Column::figures("Width"),
        Column::figures("Thick"),
        Column::words("Cut first to"),
        Column::words("Lipped"),
        Column::words("Remarks"),
    ];
    if weighed {
        columns.push(Column::figures(if look.unit == Unit::Inch { "lb each" } else { "kg each" }));
    }
    let mut table = Table::new("Cutting list: finished sizes, joints included, lippings not", columns);
    let mut stock = "";
    let mut thick = f64::NAN;
    for row in &list.parts {
        if row.stock != stock || (row.thickness - thick).abs() > SAME {
            let heading = format!("{}, {} thick", row.stock, unmarked(&look.style().text(row.thickness)));
            table.rows.push(Row::Heading(heading));
            (stock, thick) = (&row.stock, row.thickness);
        }
        let mut cells = sizes(row, look);
        cells.push(stacked(&rough(row, look)));
        cells.push(stacked(&lipped(row, look)));
        cells.push(on_sheet(&look.words().remarks(row)));
        if weighed {
            cells.push(plain(
                row.mass.map_or_else(String::new, |kg| measure::number(look.words().weight(kg).0, 2)),
            ));
        }
        table.rows.push(Row::Cells(cells));
    }
    table
}

fn sizes(row: &CutRow, look: &Look) -> Vec<Vec<Run>> {
    vec![
        plain(row.mark.clone()),
        plain(row.name.clone()),
        plain(row.quantity.to_string()),
        length_runs(look, row.length),
        length_runs(look, row.width),
        length_runs(look, row.thickness),
    ]
}

/// The rough size where it is not the finished one: `902 × 296`, with the thickness where
/// that differs too, `912.5 × 65 × 27 sawn`.
fn rough(row: &CutRow, look: &Look) -> String {
    let Some(rough) = row.rough else { return String::new() };
    let finished = [row.length, row.width, row.thickness];
    let differs = |axis: usize| (rough[axis] - finished[axis]).abs() > SAME;
    if ![0, 1, 2].into_iter().any(differs) {
        return String::new();
    }
    let show = |axis: usize| {
        let shown = length_text(look, rough[axis]);
        if row.sawn == Some(axis) { look.words().sawn(rough[axis], &shown) } else { shown }
    };
    let flat = format!("{} × {}", show(0), show(1));
    if differs(2) { format!("{flat} × {}", show(2)) } else { flat }
}

/// `front 6`, by side.
fn lipped(row: &CutRow, look: &Look) -> String {
    let edges: Vec<String> = row
        .lipped
        .iter()
        .map(|lipping| format!("{} {}", lipping.side.name(), length_text(look, lipping.thick)))
        .collect();
    edges.join(", ")
}

/// Panels that are cut as one, with the lines they are folded on.
fn folded(list: &CuttingList, look: &Look) -> Table {
    let columns = vec![
        Column::marks("No."),
        Column::words("Folded panel"),
        Column::figures(look.words().of_each()),
        Column::figures("Length"),
        Column::figures("Width"),
        Column::figures("Thick"),
        Column::words("Cut first to"),
        Column::words("V grooves"),
    ];
    let mut table = Table::new("Panels: each cut in one, grooved and folded into its parts", columns);
    for panel in &list.folded {
        let mut cells = sizes(&panel.row, look);
        cells.push(stacked(&rough(&panel.row, look)));
        cells.push(stacked(&grooves(panel, look)));
        table.rows.push(Row::Cells(cells));
    }
    table
}

/// `at 220, 269 from the end of Top`.
fn grooves(panel: &FoldedPanel, look: &Look) -> String {
    let at: Vec<String> = panel.folds.iter().map(|fold| length_text(look, fold.at)).collect();
    let first = panel.names.first().map_or("", String::as_str);
    format!("at {} from the free edge of {first}", at.join(", "))
}

fn lippings(list: &CuttingList, look: &Look) -> Table {
    let columns = vec![
        Column::items("No."),
        Column::words("Lipping"),
        Column::figures(look.words().of_each()),
        Column::figures("Length"),
        Column::figures("Width"),
        Column::figures("Thick"),
        Column::words("Cut first to"),
        Column::words("Stock"),
        Column::words("Glued to"),
        Column::words("Remarks"),
    ];
    let mut table = Table::new("Lippings: finished sizes", columns);
    for row in &list.lippings {
        let mut cells = sizes(row, look);
        cells.push(stacked(&rough(row, look)));
        cells.push(plain(row.stock.clone()));
        cells.push(plain(row.of.clone().unwrap_or_default()));
        cells.push(on_sheet(&look.words().remarks(row)));
        table.rows.push(Row::Cells(cells));
    }
    table
}
