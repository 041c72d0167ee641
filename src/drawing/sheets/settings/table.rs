//! The settings sheet: cuts grouped by machine setting, so that all parts that
//! need one are made together.

use super::gather::{Machine, Setting, settings};
use crate::cutting::CuttingList;
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{on_sheet, plain};
use crate::drawing::page::look::Look;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::drawing::sheets::lists::cutting_list::flow;
use crate::joinery::WorkedJob;
use crate::model::Job;

/// The sheets of settings.
pub(in crate::drawing) fn settings_sheets(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    look: &Look,
) -> Vec<SheetBody> {
    let columns = vec![
        Column::words("Cut"),
        Column::words("Set"),
        Column::words("Against the fence"),
        Column::words("Stop to the middle"),
        Column::words("Parts"),
    ];
    let mut table = Table::new("Settings: each made once for all its parts", columns);
    table.repeats = 2;
    let mut heading: Option<(bool, Machine)> = None;
    let mut last: Option<(&'static str, String)> = None;
    for setting in settings(job, worked, list, look) {
        let here = (setting.later, setting.machine);
        if heading != Some(here) {
            let when = match (setting.later, setting.machine) {
                // Its heading is long enough without the rest.
                (true, Machine::SawSquare) => ", glued up",
                (true, _) => ", after the glue-up",
                (false, _) => "",
            };
            table.rows.push(Row::Heading(format!("{}{when}", setting.machine.name())));
            heading = Some(here);
            last = None;
        }
        // A setting that stands for several lines is said once.
        let now = Some((setting.cut, setting.set.clone()));
        let (cut, set) = if last == now { ("", "") } else { (setting.cut, setting.set.as_str()) };
        last.clone_from(&now);
        table.rows.push(Row::Cells(vec![
            plain(cut),
            on_sheet(set),
            on_sheet(&setting.against.text()),
            on_sheet(&setting.stops.text()),
            on_sheet(&parts(&setting)),
        ]));
    }
    if table.rows.is_empty() {
        return Vec::new();
    }
    flow(&[table], SheetKind::Settings, "Machine settings", look)
}

/// `2 Left side, 3 cuts; 4 Bottom`.
fn parts(setting: &Setting) -> String {
    let one = |(name, cuts): &(String, usize)| match cuts {
        1 => name.clone(),
        n => format!("{name}, {n} cuts"),
    };
    setting.parts.iter().map(one).collect::<Vec<_>>().join("; ")
}
