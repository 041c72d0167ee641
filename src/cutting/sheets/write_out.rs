//! From the search's sheets to layouts with places in 0.1 mm.

use super::model::{Axis, Piece, RunPlace, SheetJob, SheetLayout, What};
use super::panel::{Kind, NONE, Panel};
use super::shop::{Content, Shop};

/// Hands out the copies of each block as they are met.
pub(super) struct Writer<'a> {
    job: &'a SheetJob,
    shop: &'a Shop,
    used: Vec<usize>,
}

impl<'a> Writer<'a> {
    /// Nothing handed out yet.
    pub(super) fn new(job: &'a SheetJob, shop: &'a Shop) -> Self {
        Self { job, shop, used: vec![0; shop.blocks.len()] }
    }

    /// The layout of one sheet.
    pub(super) fn layout(&mut self, panel: &Panel) -> SheetLayout {
        let trim = self.job.sheets[panel.kind].trim;
        let usable = self.node(panel, 0, [trim[0], trim[2]]);
        SheetLayout { sheet: panel.kind, usable }
    }

    /// What remains of a block: its copies not yet handed out.
    pub(super) fn next_copy(&mut self, block: usize) -> (bool, usize) {
        let turn = self.used[block];
        self.used[block] += 1;
        match &self.shop.blocks[block].content {
            Content::Parts(list) => (false, list[turn]),
            Content::Runs(list) => (true, list[turn]),
        }
    }

    /// One node and all under it.
    fn node(&mut self, panel: &Panel, link: u32, at: [i64; 2]) -> Piece {
        let node = panel.node(link);
        let size = node.size.map(|side| i64::from(side) - self.job.kerf);
        let what = match node.kind {
            Kind::Empty | Kind::Free => What::Offcut,
            Kind::Block { block, turned } => return self.block(block as usize, turned, at, size),
            Kind::Strip { axis, slack } => {
                let mut links = Vec::new();
                let mut child = node.first;
                while child != NONE {
                    links.push(child);
                    child = panel.node(child).next;
                }
                // Larger pieces come first, as a shop would cut them; like
                // pieces then follow one another at one fence setting.
                links.sort_by_key(|&link| std::cmp::Reverse(panel.node(link).size[axis.index()]));
                let mut pieces = Vec::new();
                let mut corner = at;
                for link in links {
                    let piece = self.node(panel, link, corner);
                    corner[axis.index()] += piece.size[axis.index()] + self.job.kerf;
                    push(&mut pieces, piece, axis);
                }
                let mut rest = size;
                rest[axis.index()] = i64::from(slack) - self.job.kerf;
                if rest[axis.index()] > 0 {
                    pieces.push(Piece { at: corner, size: rest, what: What::Offcut });
                }
                What::Divided { along: axis, pieces }
            }
        };
        Piece { at, size, what }
    }

    /// A part, or a run cut into its parts.
    fn block(&mut self, block: usize, turned: bool, at: [i64; 2], size: [i64; 2]) -> Piece {
        let (is_run, index) = self.next_copy(block);
        if is_run {
            return self.run(index, turned, at, size);
        }
        let turned = size != self.job.parts[index].size;
        Piece { at, size, what: What::Part { part: index, turned, run: None } }
    }

    /// The parts of a run, in order, flush at the low edge of the strip.
    fn run(&self, index: usize, turned: bool, at: [i64; 2], size: [i64; 2]) -> Piece {
        let run = &self.job.runs[index];
        let axis = if turned { run.axis.other() } else { run.axis };
        let (along, across) = (axis.index(), axis.other().index());
        let spare = run.gap.unwrap_or(self.job.kerf) - self.job.kerf;
        let mut pieces = Vec::new();
        let mut corner = at;
        for (member, &part) in run.parts.iter().enumerate() {
            if member > 0 && spare > 0 {
                // The distance beyond one kerf is a strip that falls away.
                let mut gap = size;
                gap[along] = spare - self.job.kerf;
                if gap[along] > 0 {
                    pieces.push(Piece { at: corner, size: gap, what: What::Offcut });
                }
                corner[along] += spare;
            }
            let mut own = self.job.parts[part].size;
            if turned {
                own.swap(0, 1);
            }
            let place = Some(RunPlace { run: index, member });
            let what = What::Part { part, turned, run: place };
            let finished = Piece { at: corner, size: own, what };
            pieces.push(widen(finished, axis.other(), size[across], self.job.kerf));
            corner[along] += own[along] + self.job.kerf;
        }
        Piece { at, size, what: What::Divided { along: axis, pieces } }
    }
}

/// Adds a piece to a strip; a run that follows the strip's own axis becomes
/// pieces of that strip.
fn push(pieces: &mut Vec<Piece>, piece: Piece, axis: Axis) {
    match piece.what {
        What::Divided { along, pieces: inner } if along == axis => pieces.extend(inner),
        _ => pieces.push(piece),
    }
}

/// A piece of the strip's full width, out of which a narrower part is cut.
fn widen(part: Piece, axis: Axis, width: i64, kerf: i64) -> Piece {
    let across = axis.index();
    let left = width - part.size[across];
    if left <= 0 {
        return part;
    }
    let (at, mut size) = (part.at, part.size);
    size[across] = width;
    let mut rest = Piece { at, size, what: What::Offcut };
    rest.at[across] += part.size[across] + kerf;
    rest.size[across] = left - kerf;
    let mut pieces = vec![part];
    if left > kerf {
        pieces.push(rest);
    }
    Piece { at, size, what: What::Divided { along: axis, pieces } }
}
