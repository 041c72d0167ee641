//! The cuts of one sheet in the order they are made, with fence distances.

use super::model::{Axis, Piece, SheetJob, SheetLayout, What};

/// What kind of cut it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutKind {
    /// Takes the trim off an edge of the bare sheet.
    Trim,
    /// Along the length of the sheet.
    Rip,
    /// Across the length of the sheet.
    Crosscut,
}

/// Which edge of the panel lies against the fence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fence {
    /// The low edge: left, or the lower one.
    Low,
    /// The high edge: right, or the upper one.
    High,
}

/// What a panel becomes in the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Becomes {
    /// It is cut further.
    CutUp,
    /// A finished part, as a place in [`SheetJob::parts`].
    Part(usize),
    /// Left over.
    Offcut,
}

/// A piece of material at some time of the cutting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutPanel {
    /// Its corner on the bare sheet.
    pub at: [i64; 2],
    /// Its size along x and y.
    pub size: [i64; 2],
    /// What becomes of it.
    pub becomes: Becomes,
}

/// One cut, right across a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut {
    /// The panel that is cut, as a place in [`CutSequence::panels`].
    pub panel: usize,
    /// What kind of cut.
    pub kind: CutKind,
    /// The direction in which the fence distance is measured.
    pub axis: Axis,
    /// Distance from fence to blade: the size of the piece against the fence.
    pub distance: i64,
    /// The edge against the fence.
    pub fence: Fence,
    /// The panel on the low side, unless the cut leaves nothing there.
    pub low: Option<usize>,
    /// The panel on the high side, unless the cut leaves nothing there.
    pub high: Option<usize>,
}

impl CutKind {
    /// Its name on sheets and in lists.
    pub fn name(self) -> &'static str {
        match self {
            Self::Trim => "trim",
            Self::Rip => "rip",
            Self::Crosscut => "crosscut",
        }
    }
}

impl Cut {
    /// The edge against the fence, the sheet lying with its low corner at the
    /// lower left.
    pub fn edge(&self) -> &'static str {
        match (self.axis, self.fence) {
            (Axis::X, Fence::Low) => "left",
            (Axis::X, Fence::High) => "right",
            (Axis::Y, Fence::Low) => "lower",
            (Axis::Y, Fence::High) => "upper",
        }
    }
}

/// The panels and cuts of one sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CutSequence {
    /// Every piece of material; the first is the bare sheet.
    pub panels: Vec<CutPanel>,
    /// The cuts in order.
    pub cuts: Vec<Cut>,
}

/// The cuts that turn a bare sheet into the pieces of its layout: trims first,
/// then level by level within each strip, a strip being finished before the
/// next is begun.
pub fn cut_sequence(job: &SheetJob, layout: &SheetLayout) -> CutSequence {
    let mut maker = Maker { kerf: job.kerf, made: CutSequence::default() };
    let Some(sheet) = job.sheets.get(layout.sheet) else {
        return maker.made;
    };
    let mut panel = maker.panel([0, 0], sheet.size, Becomes::CutUp);
    for (side, &amount) in sheet.trim.iter().enumerate() {
        if amount > 0 {
            let axis = if side < 2 { Axis::X } else { Axis::Y };
            let edge = Edge { axis, low: side % 2 == 0 };
            panel = maker.trim(panel, edge, amount, CutKind::Trim);
        }
    }
    maker.cut_up(panel, &layout.usable);
    maker.made
}

/// An edge of a panel: across an axis, at its low or its high end.
#[derive(Clone, Copy)]
struct Edge {
    axis: Axis,
    low: bool,
}

/// Collects panels and cuts.
struct Maker {
    kerf: i64,
    made: CutSequence,
}

impl Maker {
    /// Adds a panel.
    fn panel(&mut self, at: [i64; 2], size: [i64; 2], becomes: Becomes) -> usize {
        self.made.panels.push(CutPanel { at, size, becomes });
        self.made.panels.len() - 1
    }

    /// The kind of a cut whose fence distance is measured along this axis.
    fn kind(axis: Axis) -> CutKind {
        match axis {
            Axis::X => CutKind::Crosscut,
            Axis::Y => CutKind::Rip,
        }
    }

    /// Takes `amount`, the kerf in it, off one edge; gives the panel kept.
    fn trim(&mut self, panel: usize, edge: Edge, amount: i64, kind: CutKind) -> usize {
        let Edge { axis, low } = edge;
        self.made.panels[panel].becomes = Becomes::CutUp;
        let CutPanel { at, size, .. } = self.made.panels[panel];
        let along = axis.index();
        let (mut kept_at, mut kept, mut off_at, mut off) = (at, size, at, size);
        kept[along] -= amount;
        off[along] = amount - self.kerf;
        if low {
            kept_at[along] += amount;
        } else {
            off_at[along] += kept[along] + self.kerf;
        }
        let off = (off[along] > 0).then(|| self.panel(off_at, off, Becomes::Offcut));
        let distance = kept[along];
        let kept = self.panel(kept_at, kept, Becomes::CutUp);
        let (low_panel, high_panel, fence) =
            if low { (off, Some(kept), Fence::High) } else { (Some(kept), off, Fence::Low) };
        self.made.cuts.push(Cut { panel, kind, axis, distance, fence, low: low_panel, high: high_panel });
        kept
    }

    /// Cuts a panel into what the layout says it is.
    fn cut_up(&mut self, panel: usize, piece: &Piece) {
        match &piece.what {
            What::Part { part, .. } => self.made.panels[panel].becomes = Becomes::Part(*part),
            What::Offcut => self.made.panels[panel].becomes = Becomes::Offcut,
            What::Divided { along, pieces } => self.divide(panel, *along, pieces),
        }
    }

    /// Cuts a strip into its pieces, then each of them.
    fn divide(&mut self, panel: usize, axis: Axis, pieces: &[Piece]) {
        let along = axis.index();
        let mut rest = panel;
        let mut made = Vec::new();
        for piece in pieces {
            let at = self.made.panels[rest].at;
            // Less than a kerf before the piece falls to one skimming cut.
            let before = piece.at[along] - at[along];
            if before > 0 {
                rest = self.trim(rest, Edge { axis, low: true }, before, Self::kind(axis));
            }
            let CutPanel { at, size, .. } = self.made.panels[rest];
            if size[along] == piece.size[along] {
                made.push((rest, piece));
                break;
            }
            let low = self.panel(at, piece.size, Becomes::CutUp);
            let (mut high_at, mut high_size) = (at, size);
            high_at[along] += piece.size[along] + self.kerf;
            high_size[along] -= piece.size[along] + self.kerf;
            let high = (high_size[along] > 0).then(|| self.panel(high_at, high_size, Becomes::Offcut));
            self.made.panels[rest].becomes = Becomes::CutUp;
            self.made.cuts.push(Cut {
                panel: rest,
                kind: Self::kind(axis),
                axis,
                distance: piece.size[along],
                fence: Fence::Low,
                low: Some(low),
                high,
            });
            made.push((low, piece));
            let Some(high) = high else { break };
            rest = high;
        }
        for (panel, piece) in made {
            self.cut_up(panel, piece);
        }
    }
}
