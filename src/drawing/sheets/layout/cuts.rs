//! The cuts of a sheet layout in order, with fence distances.

use super::picture::Bare;
use crate::cutting::sheets::{Becomes, Cut, CutKind, CutSequence, Fence};
use crate::cutting::{CuttingList, SheetCutting};
use crate::drawing::kit::dimension::figure::length_runs;
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{length_text, plain, stacked};
use crate::drawing::page::look::Look;
use crate::geometry::tolerance::TENTHS;

/// The table of cuts.
pub(in crate::drawing) fn cuts(
    list: &CuttingList,
    cutting: &SheetCutting,
    sequence: &CutSequence,
    look: &Look,
) -> Table {
    let columns = vec![
        Column::figures("Cut"),
        Column::words("Take"),
        Column::words("Saw"),
        Column::figures("Fence"),
        Column::words("On fence"),
        Column::words("Gives"),
    ];
    let mut table = Table::new("Cuts in order", columns);
    let teller = Teller { list, cutting, sequence, look };
    for (number, cut) in sequence.cuts.iter().enumerate() {
        table.rows.push(Row::Cells(vec![
            plain((number + 1).to_string()),
            stacked(&teller.taken(cut.panel)),
            plain(cut.kind.name()),
            length_runs(look, cut.distance as f64 / TENTHS),
            plain(cut.edge()),
            stacked(&teller.gives(cut)),
        ]));
    }
    table
}

/// Tells panels apart in words.
struct Teller<'a> {
    list: &'a CuttingList,
    cutting: &'a SheetCutting,
    sequence: &'a CutSequence,
    look: &'a Look,
}

impl Teller<'_> {
    /// What is taken up for a cut: the sheet, what an earlier cut gave on the
    /// fence's side, or what it left on the other.
    fn taken(&self, panel: usize) -> String {
        let size = self.size(panel);
        for (number, cut) in self.sequence.cuts.iter().enumerate() {
            let number = number + 1;
            let (at_fence, beyond) = sides(cut);
            if at_fence == Some(panel) {
                return format!("piece of {number}, {size}");
            }
            if beyond == Some(panel) {
                return format!("rest of {number}, {size}");
            }
        }
        let whole = if self.cutting.boards { "board" } else { "sheet" };
        format!("{whole}, {size}")
    }

    /// What a cut gives: the piece at the fence, and the rest if it needs no
    /// further cut.
    fn gives(&self, cut: &Cut) -> String {
        let (at_fence, beyond) = sides(cut);
        let mut gives = Vec::new();
        if let Some(panel) = at_fence {
            gives.push(self.becomes(panel).unwrap_or_else(|| format!("piece {}", self.size(panel))));
        }
        if let Some(end) = beyond.filter(|_| cut.kind != CutKind::Trim).and_then(|panel| self.becomes(panel))
        {
            gives.push(format!("rest is {end}"));
        }
        gives.join("; ")
    }

    /// What a panel is in the end; `None` if it is cut further.
    fn becomes(&self, panel: usize) -> Option<String> {
        let made = self.sequence.panels.get(panel)?;
        match made.becomes {
            Becomes::CutUp => None,
            Becomes::Part(part) => {
                let row = self.cutting.row(part, self.list)?;
                Some(format!("{} {}", row.mark, row.name))
            }
            Becomes::Offcut => {
                let kept = made.size.iter().all(|side| *side >= self.cutting.job.useful_offcut);
                Some(if kept { format!("offcut {}", self.size(panel)) } else { "waste".into() })
            }
        }
    }

    /// `864 × 294`.
    fn size(&self, panel: usize) -> String {
        let Some(panel) = self.sequence.panels.get(panel) else { return String::new() };
        let [x, y] = panel.size.map(|side| length_text(self.look, side as f64 / TENTHS));
        format!("{x} × {y}")
    }
}

/// The panels a cut makes: at the fence, and beyond the blade.
fn sides(cut: &Cut) -> (Option<usize>, Option<usize>) {
    match cut.fence {
        Fence::Low => (cut.low, cut.high),
        Fence::High => (cut.high, cut.low),
    }
}

/// Parts too small on the paper for their whole label, with where they lie.
pub(in crate::drawing) fn unlabelled(
    list: &CuttingList,
    cutting: &SheetCutting,
    bare: &[Bare],
    look: &Look,
) -> Option<Table> {
    let columns = vec![
        Column::marks("No."),
        Column::words("Part"),
        Column::figures("Length"),
        Column::figures("Width"),
        Column::figures("From left"),
        Column::figures("From foot"),
    ];
    let mut table = Table::new("Too small for their labels above", columns);
    for one in bare {
        let Some(row) = cutting.row(one.part, list) else { continue };
        let [mut long, mut wide, _] = row.rough.unwrap_or([row.length, row.width, row.thickness]);
        // A lipping or a stave is as wide as it is ripped from its board.
        if let Some(part) = cutting.job.parts.get(one.part).filter(|_| cutting.boards) {
            [long, wide] = part.size.map(|side| side as f64 / TENTHS);
        }
        table.rows.push(Row::Cells(vec![
            plain(row.mark.clone()),
            plain(row.name.clone()),
            length_runs(look, long),
            length_runs(look, wide),
            length_runs(look, one.at[0]),
            length_runs(look, one.at[1]),
        ]));
    }
    (!table.rows.is_empty()).then_some(table)
}
