//! What lost parts and offcuts still hold, and which new parts are laid on them.

use super::{CutPart, Standing};
use crate::cutting::sheets::{Piece, SheetLayout, What};
use crate::cutting::{SheetCutting, SheetRow, ShopLists};
use crate::geometry::{DVec2, DVec3};
use crate::joinery::{PartSource, WorkedPart};
use crate::model::{BoardSize, Cutting, Grain, Job, SheetSize, StockKind};
use crate::solid::Prism;

use super::tolerance::SAME;

/// What a spare is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// Sheet goods.
    Sheet,
    /// Solid timber as thick as it was sawn.
    Sawn,
    /// Solid timber that is planed to the thickness of a part.
    Planed,
}

/// What is left over of a job as it was: sheet or board that is free of cuts.
#[derive(Clone, Debug, PartialEq)]
pub struct Spare {
    /// What it is of.
    pub of: Of,
    /// The lost part it is; `None` for an offcut.
    pub part: Option<String>,
    /// The name of its stock.
    pub stock: String,
    /// Its thickness, mm.
    pub thick: f64,
    /// Along the grain and across it, mm.
    pub size: [f64; 2],
}

/// New parts that are laid on a spare.
#[derive(Clone, Debug, PartialEq)]
pub struct Salvage {
    /// The spare.
    pub spare: Spare,
    /// The names of what is cut from it.
    pub parts: Vec<String>,
}

impl Spare {
    /// What it is offered as to the layouts: thickness, length and width, mm. Boards on
    /// hand are taken to need planing and their ends cut off; a part that is planed and cut
    /// does not, and the ends of an offcut are sawn.
    fn offered(&self, rules: &Cutting) -> (f64, [f64; 2]) {
        let [long, wide] = self.size;
        let whole = long + 2.0 * rules.end_trim;
        match self.of {
            Of::Sheet => (self.thick, self.size),
            Of::Sawn => (self.thick, [whole, wide]),
            Of::Planed => (self.thick + rules.planing, [whole, wide]),
        }
    }
}

/// What is left over of a job: of the lost parts, so many of each, the largest rectangle
/// without a cut; and the offcuts worth keeping of the sheets and boards that cut parts
/// came from.
pub fn spares(old: Standing<'_>, lost: &[(usize, usize)], cut: &[CutPart], lists: &ShopLists) -> Vec<Spare> {
    let mut all = Vec::new();
    for (index, count) in lost {
        let Some(part) = old.part(*index) else { continue };
        let Some(stock) = old.job.stock.get(part.stock.0) else { continue };
        // A lipping stays glued to what is lost.
        let loose = matches!(part.source, PartSource::Part(_));
        let (of, thick) = match stock.kind {
            StockKind::Sheet { thick, .. } => (Of::Sheet, thick),
            StockKind::Board { .. } if loose => (Of::Planed, part.size.z),
            _ => continue,
        };
        let size = clear(part);
        if size[0].min(size[1]) > old.job.cutting.kerf {
            let one = Spare { of, part: Some(part.name.clone()), stock: stock.name.clone(), thick, size };
            all.extend(std::iter::repeat_n(one, *count));
        }
    }
    let laid = lists.layouts.sheets.iter().chain(&lists.layouts.boards);
    all.extend(laid.flat_map(|cutting| offcuts(old, cut, (cutting, lists))));
    all
}

/// Length and width of the largest rectangle of a part, along and across its grain, that
/// no cut touches, mm.
fn clear(part: &WorkedPart) -> [f64; 2] {
    let taken: Vec<(DVec2, DVec2)> = part.cuts.iter().map(|cut| extent(&cut.shape)).collect();
    let mut xs: Vec<f64> = taken.iter().flat_map(|(a, b)| [a.x, b.x]).chain([0.0, part.size.x]).collect();
    xs.retain(|x| (0.0..=part.size.x).contains(x));
    xs.sort_by(f64::total_cmp);
    xs.dedup_by(|a, b| (*a - *b).abs() < SAME);
    let mut best = [0.0, 0.0];
    for (at, from) in xs.iter().enumerate() {
        for to in &xs[at + 1..] {
            let beside = taken.iter().filter(|(a, b)| a.x < to - SAME && b.x > from + SAME);
            let mut bands: Vec<(f64, f64)> = beside.map(|(a, b)| (a.y, b.y)).collect();
            bands.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut low = 0.0;
            for (a, b) in bands.into_iter().chain([(part.size.y, part.size.y)]) {
                if (to - from) * (a - low) > best[0] * best[1] {
                    best = [to - from, a - low];
                }
                low = f64::max(low, b);
            }
        }
    }
    best
}

/// What a cut covers of a part, seen on its face.
fn extent(prism: &Prism) -> (DVec2, DVec2) {
    let corners = prism.outline.rings.iter().flat_map(|ring| &ring.points);
    let points =
        corners.flat_map(|p| [prism.from, prism.to].map(|z| prism.at.point(DVec3::new(p.x, p.y, z))));
    points.fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), p| {
        let p = DVec2::new(p.x, p.y);
        (low.min(p), high.max(p))
    })
}

/// Offcuts of the sheets or boards that a cut part came from: those are in pieces.
fn offcuts(old: Standing<'_>, cut: &[CutPart], (laid, lists): (&SheetCutting, &ShopLists)) -> Vec<Spare> {
    let job = old.job;
    let is_cut = |index: &usize| old.part(*index).is_some_and(|p| cut.iter().any(|one| one.part == p.name));
    let mut all = Vec::new();
    for layout in &laid.plan.layouts {
        if !is_told(job, laid, layout.sheet) {
            continue;
        }
        let mut in_pieces = false;
        let mut free = Vec::new();
        walk(&layout.usable, &mut |piece| match &piece.what {
            What::Part { part, .. } => {
                in_pieces |= laid.row(*part, &lists.list).is_some_and(|row| row.which.iter().any(is_cut));
            }
            What::Offcut => free.push(piece.size.map(|side| laid.grid.mm(side))),
            What::Divided { .. } => {}
        });
        let kept = |size: &[f64; 2]| in_pieces && size[0].min(size[1]) >= job.cutting.offcut;
        all.extend(free.into_iter().filter(kept).map(|size| Spare {
            of: if laid.boards { Of::Sawn } else { Of::Sheet },
            part: None,
            stock: laid.name.clone(),
            thick: laid.thick,
            size: along_grain(job, laid, size),
        }));
    }
    all
}

/// Whether a sheet or board is as wide as its layout has it. Boards whose widths are not
/// told are as wide as the log allowed, and so is what is left of them.
pub(super) fn is_told(job: &Job, laid: &SheetCutting, size: usize) -> bool {
    let widths = job.stock.get(laid.stock.0).map(|stock| &stock.kind);
    let told = matches!(widths, Some(StockKind::Board { widths, .. }) if !widths.is_empty());
    !laid.boards || told || laid.sizes.get(size).is_some_and(|size| size.on_hand)
}

/// Length and width on a sheet as along the grain and across it.
pub(super) fn along_grain(job: &Job, laid: &SheetCutting, [x, y]: [f64; 2]) -> [f64; 2] {
    if is_turned(job, laid) { [y, x] } else { [x, y] }
}

/// Whether the grain runs across the length of a sheet.
pub(super) fn is_turned(job: &Job, laid: &SheetCutting) -> bool {
    let kind = job.stock.get(laid.stock.0).map(|stock| &stock.kind);
    matches!(kind, Some(StockKind::Sheet { grain: Grain::Width, .. }))
}

/// Every rectangle of a sheet that is cut no further.
fn walk(piece: &Piece, each: &mut dyn FnMut(&Piece)) {
    let mut next = vec![piece];
    while let Some(piece) = next.pop() {
        match &piece.what {
            What::Divided { pieces, .. } => next.extend(pieces.iter().rev()),
            What::Part { .. } | What::Offcut => each(piece),
        }
    }
}

/// A job to which spares are on hand.
pub fn offer(job: &Job, spares: &[Spare]) -> Job {
    let mut job = job.clone();
    let rules = job.cutting.clone();
    for stock in &mut job.stock {
        let own = spares.iter().filter(|one| one.stock == stock.name);
        let size = |[length, width]: [f64; 2]| SheetSize {
            length,
            width,
            price: None,
            count: Some(1),
            on_hand: true,
            edge: 0.0,
        };
        match &mut stock.kind {
            StockKind::Sheet { thick, sizes, grain, .. } => {
                let own = own.filter(|one| one.of == Of::Sheet && (one.thick - *thick).abs() < SAME);
                let lies = |one: &Spare| {
                    let [along, across] = one.offered(&rules).1;
                    size(if *grain == Grain::Width { [across, along] } else { [along, across] })
                };
                let more: Vec<SheetSize> = own.map(lies).collect();
                sizes.splice(0..0, more);
            }
            StockKind::Board { on_hand, .. } => {
                let own = own.filter(|one| one.of != Of::Sheet).map(|one| one.offered(&rules));
                let more: Vec<BoardSize> =
                    own.map(|(thick, sides)| BoardSize { thick, size: size(sides) }).collect();
                on_hand.splice(0..0, more);
            }
            _ => {}
        }
    }
    job
}

/// What is laid on spares that were offered.
pub fn salvaged(new: Standing<'_>, lists: &ShopLists, spares: &[Spare]) -> Vec<Salvage> {
    let job = new.job;
    let mut left: Vec<&Spare> = spares.iter().collect();
    let mut names = Names::new(new, lists);
    let mut all = Vec::new();
    for laid in lists.layouts.sheets.iter().chain(&lists.layouts.boards) {
        for layout in &laid.plan.layouts {
            let Some(spare) = take_spare((job, laid), layout, &mut left) else { continue };
            let mut parts = Vec::new();
            walk(&layout.usable, &mut |piece| {
                if let What::Part { part, .. } = piece.what {
                    parts.extend(laid.rows.get(part).and_then(|row| names.next(*row)));
                }
            });
            all.push(Salvage { spare: spare.clone(), parts });
        }
    }
    all
}

/// Takes the spare that a layout is of, if it is of one.
pub(super) fn take_spare<'s>(
    (job, laid): (&Job, &SheetCutting),
    layout: &SheetLayout,
    left: &mut Vec<&'s Spare>,
) -> Option<&'s Spare> {
    let size = laid.sizes.get(layout.sheet).filter(|size| size.on_hand)?;
    let lies = along_grain(job, laid, [size.length, size.width]);
    let same = |spare: &&Spare| {
        let (thick, sides) = spare.offered(&job.cutting);
        spare.stock == laid.name
            && (spare.of != Of::Sheet) == laid.boards
            && (thick - laid.thick).abs() < SAME
            && sides.iter().zip(lies).all(|(a, b)| (a - b).abs() < SAME)
    };
    let at = left.iter().position(same)?;
    Some(left.remove(at))
}

/// The names of parts laid out: those of a row in turn, since a row is called by all of
/// them together.
pub(super) struct Names<'a> {
    new: Standing<'a>,
    lists: &'a ShopLists,
    given: Vec<(SheetRow, usize)>,
}

impl<'a> Names<'a> {
    pub(super) fn new(new: Standing<'a>, lists: &'a ShopLists) -> Self {
        Self { new, lists, given: Vec::new() }
    }

    /// The names of all that is cut as one: of a folded panel all its parts.
    pub(super) fn all(&mut self, of: SheetRow) -> Vec<String> {
        match of {
            SheetRow::Folded(_) => {
                let which = of.of(&self.lists.list).map_or(&[][..], |row| row.which.as_slice());
                which.iter().filter_map(|index| Some(self.new.part(*index)?.name.clone())).collect()
            }
            SheetRow::Part(_) | SheetRow::Lipping(_) => self.next(of).into_iter().collect(),
        }
    }

    fn next(&mut self, of: SheetRow) -> Option<String> {
        let row = of.of(&self.lists.list)?;
        // A folded panel is cut as one, and so called.
        if matches!(of, SheetRow::Folded(_)) {
            return Some(row.name.clone());
        }
        let at = self.given.iter().position(|(known, _)| *known == of).unwrap_or_else(|| {
            self.given.push((of, 0));
            self.given.len() - 1
        });
        let (_, given) = self.given.get_mut(at)?;
        let cut = |index: usize| self.new.job.already_cut.get(&index).copied().unwrap_or(0);
        let to_cut = |index: usize| self.new.made(index).saturating_sub(cut(index));
        let mut each = row.which.iter().flat_map(|index| std::iter::repeat_n(*index, to_cut(*index)));
        let part = each.nth(*given).and_then(|index| self.new.part(index));
        *given += 1;
        Some(part.map_or_else(|| row.name.clone(), |part| part.name.clone()))
    }
}
