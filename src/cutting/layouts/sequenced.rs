//! From a plan to the layouts as they are cut: each once, with its cuts in order.

use super::grid::Grid;
use super::laid::{Alike, SheetCutting, SheetRow};
use super::sheet_stock::same;
use crate::cutting::sheets::{CutSequence, SheetJob, SheetLayout, SheetPlan, cut_sequence};
use crate::model::{SheetSize, Stock, StockId};

/// The layouts of a plan, each once, with its cuts.
pub(super) fn sequenced(task: &SheetJob, plan: &SheetPlan) -> Vec<(Alike<SheetLayout>, CutSequence)> {
    // Those that differ only in which of two equal parts lies where are cut alike.
    let alike = |a: &SheetLayout, b: &SheetLayout| a.sheet == b.sheet && same(task, &a.usable, &b.usable);
    let cut = |one: Alike<SheetLayout>| {
        let cuts = cut_sequence(task, &one.layout);
        (one, cuts)
    };
    together(plan.layouts.clone(), alike).into_iter().map(cut).collect()
}

/// What is cut of boards of one stock and thickness, as it was laid out.
pub(super) struct OfBoards<'s> {
    pub(super) grid: Grid,
    pub(super) stock: (StockId, &'s Stock),
    pub(super) thick: f64,
    pub(super) rows: Vec<SheetRow>,
    pub(super) sizes: Vec<SheetSize>,
    /// See [`SheetCutting::rest`].
    pub(super) rest: f64,
}

impl OfBoards<'_> {
    /// The layouts of these boards.
    pub(super) fn laid(self, job: SheetJob, plan: SheetPlan) -> SheetCutting {
        let Self { grid, stock: (id, stock), thick, rows, sizes, rest } = self;
        SheetCutting {
            boards: true,
            grid,
            stock: id,
            name: stock.name.clone(),
            thick,
            called: None,
            grained: true,
            layouts: sequenced(&job, &plan),
            rows,
            sizes,
            rest,
            job,
            plan,
        }
    }
}

/// Puts layouts that are alike together, in the order they are first met.
fn together<T>(all: Vec<T>, alike: impl Fn(&T, &T) -> bool) -> Vec<Alike<T>> {
    let mut list: Vec<Alike<T>> = Vec::new();
    for layout in all {
        match list.iter_mut().find(|have| alike(&have.layout, &layout)) {
            Some(have) => have.count += 1,
            None => list.push(Alike { layout, count: 1 }),
        }
    }
    list
}
