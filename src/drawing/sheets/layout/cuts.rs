//! The cuts of a sheet layout in order, with fence distances.

use super::picture::Bare;
use crate::cutting::sheets::{Becomes, Cut, CutKind, CutSequence, Fence};
use crate::cutting::{CuttingList, SheetCutting};
use crate::drawing::kit::dimension::figure::length_runs;
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{length_text, plain, stacked};
use crate::drawing::page::look::Look;
use crate::machining::setup::Distances;
use crate::paper::Run;

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
    // Away from its picture it must say what it cuts up.
    table.of = what(look, cutting);
    let teller = Teller { list, cutting, sequence, look };
    for same in alike(&passes(&teller), &teller) {
        table.rows.push(Row::Cells(same.cells(&teller)));
    }
    table
}

/// What is cut up, by its name and thickness: `Cherry 4/4`.
pub(super) fn what(look: &Look, cutting: &SheetCutting) -> String {
    let quarters = look.words().quarters(cutting.thick).filter(|_| cutting.boards);
    let thick = quarters.unwrap_or_else(|| length_text(look, cutting.thick));
    format!("{} {thick}", cutting.name)
}

/// Cuts at one fence, each off what the one before it left: a board cut up from its end.
#[derive(Clone)]
struct Pass {
    /// Number of the first, from 0, and how many.
    first: usize,
    count: usize,
    /// The panel taken up for the first.
    panel: usize,
    /// What each but the last gives, and what the last does.
    gives: [String; 2],
}

/// The cuts in order, those off one piece at one setting together.
fn passes(teller: &Teller<'_>) -> Vec<Pass> {
    let cuts = &teller.sequence.cuts;
    let mut all: Vec<Pass> = Vec::new();
    for (number, cut) in cuts.iter().enumerate() {
        let gives = teller.gives(cut);
        let before = number.checked_sub(1).and_then(|before| cuts.get(before));
        let goes_on = before.is_some_and(|before| {
            sides(before).1 == Some(cut.panel) && same_setting(before, cut) && cut.kind != CutKind::Trim
        });
        match all.last_mut() {
            // What the last leaves may be an offcut: it gives more than those before it.
            Some(pass) if goes_on && teller.piece(cut) == pass.gives[0] => {
                pass.count += 1;
                pass.gives[1] = gives;
            }
            _ => all.push(Pass {
                first: number,
                count: 1,
                panel: cut.panel,
                gives: [teller.piece(cut), gives],
            }),
        }
    }
    all
}

/// Whether two cuts are made without touching the fence in between.
fn same_setting(a: &Cut, b: &Cut) -> bool {
    (a.kind, a.distance, a.edge()) == (b.kind, b.distance, b.edge())
}

/// Passes over pieces of one size that are cut alike.
struct Alike {
    passes: Vec<Pass>,
}

/// Passes in order, those alike that follow one another together.
fn alike(passes: &[Pass], teller: &Teller<'_>) -> Vec<Alike> {
    let mut all: Vec<Alike> = Vec::new();
    for pass in passes {
        let like = all.last().and_then(|last| last.passes.last()).is_some_and(|last| {
            let [a, b] = [last, pass].map(|pass| teller.sequence.cuts.get(pass.first));
            let set = a.zip(b).is_some_and(|(a, b)| same_setting(a, b));
            let [one, other] = [last, pass].map(|pass| {
                let side = teller.side(pass.panel).map(|(side, _)| side);
                (teller.size(pass.panel), side)
            });
            // A whole board or sheet is taken up by itself.
            set && one == other && one.1.is_some() && last.gives == pass.gives && last.count == pass.count
        });
        match all.last_mut().filter(|_| like) {
            Some(last) => last.passes.push(pass.clone()),
            None => all.push(Alike { passes: vec![pass.clone()] }),
        }
    }
    all
}

impl Alike {
    /// The row of the table.
    fn cells(&self, teller: &Teller<'_>) -> Vec<Vec<Run>> {
        let [Some(first), Some(last)] = [self.passes.first(), self.passes.last()] else { return Vec::new() };
        let Some(cut) = teller.sequence.cuts.get(first.first) else { return Vec::new() };
        let (from, to) = (first.first + 1, last.first + last.count);
        let number = if from == to { from.to_string() } else { format!("{from} to {to}") };
        vec![
            plain(number),
            stacked(&self.taken(first, teller)),
            plain(cut.kind.name()),
            length_runs(teller.look, teller.cutting.grid.mm(cut.distance)),
            plain(cut.edge()),
            stacked(&self.gives(first)),
        ]
    }

    /// What is taken up, one after another.
    fn taken(&self, first: &Pass, teller: &Teller<'_>) -> String {
        let sides: Vec<(Side, usize)> =
            self.passes.iter().filter_map(|pass| teller.side(pass.panel)).collect();
        let what = match sides.as_slice() {
            [(Side::AtFence, _), _, ..] => "pieces",
            [(Side::Beyond, _), _, ..] => "rests",
            _ => return teller.taken(first.panel),
        };
        let numbers: Vec<usize> = sides.iter().map(|(_, number)| *number).collect();
        format!("{what} of {}, each {}", in_runs(&numbers), teller.size(first.panel))
    }

    /// What comes of it.
    fn gives(&self, first: &Pass) -> String {
        let [piece, last] = &first.gives;
        let each = if self.passes.len() > 1 { "each " } else { "" };
        if first.count == 1 {
            return format!("{each}{last}");
        }
        let rest = last.strip_prefix(piece.as_str()).unwrap_or_default();
        format!("{each}{} times: {piece}{rest}", first.count)
    }
}

/// `3 to 7, 9`.
fn in_runs(numbers: &[usize]) -> String {
    let runs = numbers.chunk_by(|a, b| a + 1 == *b);
    let texts = runs.map(|run| match run {
        [one] => one.to_string(),
        [one, other] => format!("{one}, {other}"),
        [one, .., last] => format!("{one} to {last}"),
        [] => String::new(),
    });
    texts.collect::<Vec<_>>().join(", ")
}

/// The side of an earlier cut that a panel was on.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    /// Against the fence.
    AtFence,
    /// Beyond the blade.
    Beyond,
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
        match self.side(panel) {
            Some((Side::AtFence, number)) => format!("piece of {number}, {size}"),
            Some((Side::Beyond, number)) => format!("rest of {number}, {size}"),
            None => format!("{}, {size}", if self.cutting.boards { "board" } else { "sheet" }),
        }
    }

    /// The number of the cut that a panel came of, from 1, and its side of it; `None` of
    /// the whole sheet.
    fn side(&self, panel: usize) -> Option<(Side, usize)> {
        self.sequence.cuts.iter().enumerate().find_map(|(number, cut)| {
            let (at_fence, beyond) = sides(cut);
            let side = [(at_fence, Side::AtFence), (beyond, Side::Beyond)];
            side.into_iter().find(|(of, _)| *of == Some(panel)).map(|(_, side)| (side, number + 1))
        })
    }

    /// What a cut gives at the fence.
    fn piece(&self, cut: &Cut) -> String {
        let Some(panel) = sides(cut).0 else { return String::new() };
        self.becomes(panel).unwrap_or_else(|| format!("piece {}", self.size(panel)))
    }

    /// What a cut gives: the piece at the fence, and the rest if it needs no
    /// further cut.
    fn gives(&self, cut: &Cut) -> String {
        let beyond = sides(cut).1;
        let end = beyond.filter(|_| cut.kind != CutKind::Trim).and_then(|panel| self.becomes(panel));
        let rest = end.map(|end| format!("rest is {end}"));
        let all = [Some(self.piece(cut)).filter(|piece| !piece.is_empty()), rest];
        all.into_iter().flatten().collect::<Vec<_>>().join("; ")
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
        let [x, y] = panel.size.map(|side| length_text(self.look, self.cutting.grid.mm(side)));
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
    for lies in lying(list, cutting, bare) {
        let size = lies.size.map(|side| length_runs(look, side));
        let at =
            [lies.left, lies.foot].map(|places| stacked(&look.words().distances(&Distances::of(places))));
        let mut cells = vec![plain(lies.mark), plain(lies.name)];
        cells.extend(size.into_iter().chain(at));
        table.rows.push(Row::Cells(cells));
    }
    (!table.rows.is_empty()).then_some(table)
}

/// Parts of one kind that lie in rows, by rough length and width, mm.
struct Lying {
    mark: String,
    name: String,
    size: [f64; 2],
    left: Vec<f64>,
    foot: Vec<f64>,
}

/// The parts that carry no label, in the order of the layout: those of a row together,
/// and rows that lie over one another.
fn lying(list: &CuttingList, cutting: &SheetCutting, bare: &[Bare]) -> Vec<Lying> {
    let mut all: Vec<Lying> = Vec::new();
    for one in bare {
        let Some(row) = cutting.row(one.part, list) else { continue };
        let [mut long, mut wide, _] = row.rough.unwrap_or([row.length, row.width, row.thickness]);
        // A lipping or a stave is as wide as it is ripped from its board.
        if let Some(part) = cutting.job.parts.get(one.part).filter(|_| cutting.boards) {
            [long, wide] = part.size.map(|side| cutting.grid.mm(side));
        }
        let [left, foot] = one.at;
        let like = |lies: &&mut Lying| {
            lies.mark == row.mark && agree(&lies.size, &[long, wide]) && agree(&lies.foot, &[foot])
        };
        match all.iter_mut().find(like) {
            Some(lies) => lies.left.push(left),
            None => all.push(Lying {
                mark: row.mark.clone(),
                name: row.name.clone(),
                size: [long, wide],
                left: vec![left],
                foot: vec![foot],
            }),
        }
    }
    let mut rows: Vec<Lying> = Vec::new();
    for lies in all {
        let like = |row: &&mut Lying| {
            row.mark == lies.mark && agree(&row.size, &lies.size) && agree(&row.left, &lies.left)
        };
        match rows.iter_mut().find(like) {
            Some(row) => row.foot.extend(lies.foot),
            None => rows.push(lies),
        }
    }
    rows
}

/// What a saw does not see, mm: half of the tenth that layouts count in.
const SEEN: f64 = 0.05;

/// Whether lengths are the same as the saw sees them.
fn agree(one: &[f64], other: &[f64]) -> bool {
    one.len() == other.len() && one.iter().zip(other).all(|(a, b)| (a - b).abs() < SEEN)
}
