//! The settings sheet: cuts grouped by machine setting, so that all parts that
//! need one are made together.

use super::lists::cutting_list::flow;
use crate::cutting::Settings;
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{on_sheet, plain, text_width};
use crate::drawing::page::look::Look;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::joinery::Machine;
use crate::paper::Weight;
use crate::wording::Words;
use crate::wording::machines::care;
use crate::wording::setups::{SetUpRow, machine, stood, stood_caution};

/// The sheets of settings.
pub(in crate::drawing) fn settings_sheets(settings: &Settings, look: &Look) -> Vec<SheetBody> {
    let heads = ["Cut", "Set", "Fence", "Against the fence", "Stop to the middle", "Parts"];
    let mut table =
        Table::new("Settings: each made once for all its parts", heads.map(Column::words).to_vec());
    table.repeats = 2;
    let words = Words { lengths: look.style() };
    let mut heading: Option<(bool, Machine)> = None;
    let mut last: Option<(String, String)> = None;
    let mut machines: Vec<Machine> = Vec::new();
    for setup in &settings.set_ups {
        let here = (setup.later, setup.machine);
        if heading != Some(here) {
            table.rows.push(Row::Heading(machine(setup.machine, setup.later)));
            machines.push(setup.machine);
            heading = Some(here);
            last = None;
        }
        let row = words.settings_row(settings, setup);
        // A cutter that stays in the machine is said once.
        let now = (row.task.clone(), row.set.clone());
        let again = last.as_ref() == Some(&now);
        last = Some(now);
        table.rows.push(cells(&row, again));
    }
    if settings.set_ups.iter().any(stood) {
        table.rows.push(Row::Heading(stood_caution().to_owned()));
    }
    if table.rows.is_empty() {
        return Vec::new();
    }
    let (table, left) = with_care(table, &machines, look);
    let mut tables = vec![table];
    tables.extend(left);
    flow(&tables, SheetKind::Settings, "Machine settings", look)
}

/// The table with what to take care of behind the heading of each machine where its line has
/// room, and a table of the rest.
fn with_care(mut table: Table, machines: &[Machine], look: &Look) -> (Table, Option<Table>) {
    let (height, most) = (look.small(), look.room().above().width());
    let wide = table.set(height, most).width() - IN_HEADING * height;
    let mut left =
        Table::new("At these machines", vec![Column::words("Machine"), Column::words("Take care")]);
    let mut machines = machines.iter();
    for row in &mut table.rows {
        let Row::Heading(text) = row else { continue };
        let Some(care) = machines.next().map(|machine| care(*machine)) else { break };
        let whole = format!("{text}. Take care: {care}");
        if text_width(&whole, height, Weight::SemiBold) <= wide {
            *text = whole;
        } else {
            left.rows.push(Row::Cells(vec![plain(text.clone()), plain(care)]));
        }
    }
    let left = (!left.rows.is_empty()).then_some(left);
    (table, left)
}

/// White beside the words of a heading, in text heights.
const IN_HEADING: f64 = 3.0;

/// The cells of a row; what it shares with the row before is left out.
fn cells(row: &SetUpRow, again: bool) -> Row {
    let (task, set) = if again { ("", "") } else { (row.task.as_str(), row.set.as_str()) };
    Row::Cells(vec![
        plain(task),
        on_sheet(set),
        on_sheet(&row.fence),
        on_sheet(&row.against),
        on_sheet(&row.stops),
        on_sheet(&row.parts),
    ])
}
