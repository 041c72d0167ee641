//! The layouts as CSV and JSON: one row for each piece on each layout, and for
//! the JSON the cuts too. Lengths of the CSV are in the unit of the job, those of the JSON in
//! millimetres.

use super::{VERSION, csv};
use crate::cutting::sheets::{self, Becomes, CutSequence, Fence, Piece, SheetLayout, What};
use crate::cutting::{Alike, CuttingList, Proof, SheetCutting};
use crate::output::file::File;
use crate::output::number::{heads, length};
use crate::output::writer::{Finished, Writer};
use crate::wording::Words;

/// What the JSON file holds.
#[derive(serde::Serialize)]
struct Written<'a> {
    /// The version of what the files hold.
    version: u32,
    /// The layouts.
    layouts: &'a [Layout],
}

/// One layout.
#[derive(serde::Serialize)]
struct Layout {
    /// `sheet` or `board`.
    kind: &'static str,
    /// How many are cut by it.
    count: usize,
    /// The stock.
    stock: String,
    /// Thickness as bought, mm.
    thickness: f64,
    /// Length of the sheet or board, mm.
    length: f64,
    /// Width of the sheet or board, mm.
    width: f64,
    /// Width of the saw cut, mm.
    saw_cut: f64,
    /// Whether it lies in the shop.
    on_hand: bool,
    /// What all layouts of this stock come to, what no others come to less than,
    /// and whether they are proven the least; nothing where no bound is known.
    proof: Option<Least>,
    /// What is cut from it.
    pieces: Vec<Placed>,
    /// The cuts in order.
    cuts: Vec<Cut>,
}

/// How good all layouts of a stock are together.
#[derive(serde::Serialize)]
struct Least {
    /// What they come to.
    found: f64,
    /// What every choice of layouts comes to at the least.
    bound: f64,
    /// Whether these come to the least.
    proven: bool,
    /// What is counted: `price` or `m2` bought; what lies in the shop
    /// counts a hundredth.
    unit: &'static str,
}

impl From<Proof> for Least {
    fn from(proof: Proof) -> Self {
        Self { found: proof.found, bound: proof.bound, proven: proof.proven, unit: proof.unit }
    }
}

/// A part or offcut on a layout.
#[derive(serde::Serialize)]
struct Placed {
    /// `part` or `offcut`.
    what: &'static str,
    /// Number with its hand.
    mark: String,
    /// Name.
    name: String,
    /// From the left end, mm.
    x: f64,
    /// From the foot, mm.
    y: f64,
    /// Size along x, mm.
    along_x: f64,
    /// Size along y, mm.
    along_y: f64,
    /// For a part of a grain run, which of its parts it is, from 1.
    in_run: Option<usize>,
}

/// One cut.
#[derive(serde::Serialize)]
struct Cut {
    /// `trim`, `rip` or `crosscut`.
    kind: &'static str,
    /// Corner of the panel taken up, x and y on the sheet, mm.
    panel_at: [f64; 2],
    /// Its size along x and y, mm.
    panel_size: [f64; 2],
    /// Fence to blade, mm.
    fence: f64,
    /// Which edge lies against the fence.
    edge: &'static str,
    /// Number of the part the piece at the fence is, if it is finished.
    part: Option<String>,
}

/// Writes `-layouts.csv` and `-layouts.json`.
pub(in crate::output) struct LayoutFiles;

impl Writer for LayoutFiles {
    fn code(&self) -> &'static str {
        "lists"
    }

    fn makes(&self) -> &'static str {
        "the lists"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        let (list, layouts) = (&set.lists.list, &set.lists.layouts);
        let cuttings = layouts.sheets.iter().chain(&layouts.boards);
        let all: Vec<Layout> = cuttings.flat_map(|cutting| of_sheets(list, cutting)).collect();
        if all.is_empty() {
            return Ok(Vec::new());
        }
        let written = Written { version: VERSION, layouts: &all };
        let json = serde_json::to_string_pretty(&written).unwrap_or_default() + "\n";
        Ok(vec![File::text("-layouts.csv", table(&all, set.words)), File::text("-layouts.json", json)])
    }
}

fn of_sheets(list: &CuttingList, cutting: &SheetCutting) -> Vec<Layout> {
    let mm = |steps| cutting.grid.mm(steps);
    let layout = |(one, sequence): &(Alike<SheetLayout>, CutSequence)| {
        let size = cutting.sizes.get(one.layout.sheet);
        let mut pieces = Vec::new();
        leaves(list, cutting, &one.layout.usable, &mut pieces);
        let panel = |index: usize| sequence.panels.get(index);
        let cut = |cut: &sheets::Cut| {
            let at_fence = if cut.fence == Fence::Low { cut.low } else { cut.high };
            let part = at_fence.and_then(panel).and_then(|panel| match panel.becomes {
                Becomes::Part(part) => Some(cutting.row(part, list)?.mark.clone()),
                Becomes::CutUp | Becomes::Offcut => None,
            });
            Cut {
                kind: cut.kind.name(),
                panel_at: panel(cut.panel).map_or([0.0; 2], |panel| panel.at.map(mm)),
                panel_size: panel(cut.panel).map_or([0.0; 2], |panel| panel.size.map(mm)),
                fence: mm(cut.distance),
                edge: cut.edge(),
                part,
            }
        };
        Layout {
            kind: if cutting.boards { "board" } else { "sheet" },
            count: one.count,
            stock: cutting.name.clone(),
            thickness: cutting.thick,
            length: size.map_or(0.0, |size| size.length),
            width: size.map_or(0.0, |size| size.width),
            saw_cut: mm(cutting.job.kerf),
            on_hand: size.is_some_and(|size| size.on_hand),
            proof: cutting.proof().map(Least::from),
            pieces,
            cuts: sequence.cuts.iter().map(cut).collect(),
        }
    };
    cutting.layouts.iter().map(layout).collect()
}

/// Collects the parts and offcuts of a piece.
fn leaves(list: &CuttingList, cutting: &SheetCutting, piece: &Piece, found: &mut Vec<Placed>) {
    let (what, part, in_run) = match &piece.what {
        What::Divided { pieces, .. } => {
            for inner in pieces {
                leaves(list, cutting, inner, found);
            }
            return;
        }
        What::Part { part, run, .. } => ("part", cutting.row(*part, list), run.map(|run| run.member + 1)),
        What::Offcut => ("offcut", None, None),
    };
    let mm = |steps| cutting.grid.mm(steps);
    found.push(Placed {
        what,
        mark: part.map(|row| row.mark.clone()).unwrap_or_default(),
        name: part.map(|row| row.name.clone()).unwrap_or_default(),
        x: mm(piece.at[0]),
        y: mm(piece.at[1]),
        along_x: mm(piece.size[0]),
        along_y: mm(piece.size[1]),
        in_run,
    });
}

/// All pieces as rows.
fn table(all: &[Layout], words: Words) -> String {
    let head = [
        "layout",
        "count",
        "kind",
        "stock",
        "thickness mm",
        "sheet length mm",
        "sheet width mm",
        "on hand",
        "what",
        "number",
        "name",
        "x mm",
        "y mm",
        "along x mm",
        "along y mm",
        "in run",
    ];
    let mut rows = vec![heads(words, &head)];
    for (number, layout) in all.iter().enumerate() {
        for piece in &layout.pieces {
            rows.push(vec![
                (number + 1).to_string(),
                layout.count.to_string(),
                layout.kind.into(),
                layout.stock.clone(),
                length(words, layout.thickness),
                length(words, layout.length),
                length(words, layout.width),
                if layout.on_hand { "yes" } else { "no" }.into(),
                piece.what.into(),
                piece.mark.clone(),
                piece.name.clone(),
                length(words, piece.x),
                length(words, piece.y),
                length(words, piece.along_x),
                length(words, piece.along_y),
                piece.in_run.map(|n| n.to_string()).unwrap_or_default(),
            ]);
        }
    }
    csv::write(&rows)
}
