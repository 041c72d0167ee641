//! What lost parts and offcuts still hold, and which new parts are laid on them.

use super::{CutPart, Standing};
use crate::cutting::ShopLists;
use crate::cutting::sheets::{Piece, What};
use crate::geometry::tolerance::TENTHS;
use crate::geometry::{DVec2, DVec3};
use crate::joinery::WorkedPart;
use crate::model::{Grain, Job, SheetSize, StockKind};
use crate::solid::Prism;

use super::tolerance::SAME;

/// What is left over of a job as it was: sheet that is free of cuts.
#[derive(Clone, Debug, PartialEq)]
pub struct Spare {
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

/// What is left over of a job: of the lost parts, so many of each, the largest rectangle
/// without a cut; and the offcuts worth keeping of the sheets that cut parts came from.
pub fn spares(old: Standing<'_>, lost: &[(usize, usize)], cut: &[CutPart], lists: &ShopLists) -> Vec<Spare> {
    let mut all = Vec::new();
    for (index, count) in lost {
        let Some(part) = old.part(*index) else { continue };
        let Some(stock) = old.job.stock.get(part.stock.0) else { continue };
        let StockKind::Sheet { thick, .. } = stock.kind else { continue };
        let size = clear(part);
        if size[0].min(size[1]) > old.job.cutting.kerf {
            let one = Spare { part: Some(part.name.clone()), stock: stock.name.clone(), thick, size };
            all.extend(std::iter::repeat_n(one, *count));
        }
    }
    all.extend(offcuts(old.job, cut, lists));
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

/// Offcuts of the sheets that a cut part came from: those sheets are in pieces.
fn offcuts(job: &Job, cut: &[CutPart], lists: &ShopLists) -> Vec<Spare> {
    let mut all = Vec::new();
    for sheets in &lists.layouts.sheets {
        let along = job.stock.get(sheets.stock.0).map(|stock| &stock.kind);
        let across = matches!(along, Some(StockKind::Sheet { grain: Grain::Width, .. }));
        for layout in &sheets.plan.layouts {
            let mut names = Vec::new();
            let mut free = Vec::new();
            walk(&layout.usable, &mut |piece| match &piece.what {
                What::Part { part, .. } => {
                    names.extend(sheets.row(*part, &lists.list).map(|row| row.name.clone()));
                }
                What::Offcut => free.push(piece.size.map(|side| side as f64 / TENTHS)),
                What::Divided { .. } => {}
            });
            if !names.iter().any(|name| cut.iter().any(|one| one.part == *name)) {
                continue;
            }
            let kept = |size: &[f64; 2]| size[0].min(size[1]) >= job.cutting.offcut;
            all.extend(free.into_iter().filter(kept).map(|[x, y]| Spare {
                part: None,
                stock: sheets.name.clone(),
                thick: sheets.thick,
                size: if across { [y, x] } else { [x, y] },
            }));
        }
    }
    all
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
    for stock in &mut job.stock {
        let name = &stock.name;
        let StockKind::Sheet { thick, sizes, grain } = &mut stock.kind else { continue };
        let own = spares.iter().filter(|one| one.stock == *name && (one.thick - *thick).abs() < SAME);
        let size = |spare: &Spare| {
            let [along, across] = spare.size;
            let (length, width) = if *grain == Grain::Width { (across, along) } else { (along, across) };
            SheetSize { length, width, price: None, count: Some(1), on_hand: true }
        };
        let more: Vec<SheetSize> = own.map(size).collect();
        sizes.splice(0..0, more);
    }
    job
}

/// What is laid on spares that were offered.
pub fn salvaged(job: &Job, lists: &ShopLists, spares: &[Spare]) -> Vec<Salvage> {
    let mut left: Vec<&Spare> = spares.iter().collect();
    let mut all = Vec::new();
    for sheets in &lists.layouts.sheets {
        let along = job.stock.get(sheets.stock.0).map(|stock| &stock.kind);
        let across = matches!(along, Some(StockKind::Sheet { grain: Grain::Width, .. }));
        for layout in &sheets.plan.layouts {
            let Some(size) = sheets.sizes.get(layout.sheet).filter(|size| size.on_hand) else { continue };
            let lies = if across { [size.width, size.length] } else { [size.length, size.width] };
            let same = |spare: &&Spare| {
                spare.stock == sheets.name
                    && (spare.thick - sheets.thick).abs() < SAME
                    && spare.size.iter().zip(lies).all(|(a, b)| (a - b).abs() < SAME)
            };
            let Some(at) = left.iter().position(same) else { continue };
            let mut parts = Vec::new();
            walk(&layout.usable, &mut |piece| {
                if let What::Part { part, .. } = piece.what {
                    parts.extend(sheets.row(part, &lists.list).map(|row| row.name.clone()));
                }
            });
            all.push(Salvage { spare: left.remove(at).clone(), parts });
        }
    }
    all
}
