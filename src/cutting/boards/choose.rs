//! Board after board, each ripped first or crosscut first.

use super::pieces::{clear_rest, layout};
use super::strips::{Filled, Shop, fill};
use crate::cutting::sheets::{Axis, SheetJob, SheetLayout};

/// What a board is cut by first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum First {
    /// Every board is ripped into strips, which are crosscut.
    Rip,
    /// Every board is crosscut into sections, which are ripped.
    Crosscut,
    /// Each board whichever gives more of it.
    Either,
}

impl First {
    /// The directions in which strips may follow one another.
    fn ways(self) -> &'static [Axis] {
        match self {
            Self::Rip => &[Axis::Y],
            Self::Crosscut => &[Axis::X],
            Self::Either => &[Axis::Y, Axis::X],
        }
    }
}

/// Cuts all parts from boards, each filled as well as it will go, in strips.
/// `None` where a part fits no board, where grain runs ask for more than strips, or
/// where boards are few.
pub fn by_strips(job: &SheetJob, first: First) -> Option<Vec<SheetLayout>> {
    if !job.runs.is_empty() || job.sheets.iter().any(|board| board.count.is_some()) {
        return None;
    }
    let shop = Shop::new(job);
    let mut left: Vec<u32> = job.parts.iter().map(|part| part.quantity).collect();
    let mut boards = Vec::new();
    while left.iter().any(|count| *count > 0) {
        let filled = next_board(job, &shop, first, &left)?;
        for part in filled.strips.iter().flat_map(|strip| &strip.parts) {
            left[*part] -= 1;
        }
        boards.push(layout(job, &filled));
    }
    Some(boards)
}

/// The board to cut next: the cheapest that takes all that is left, else the one that
/// gives most parts for what it costs.
fn next_board(job: &SheetJob, shop: &Shop, first: First, left: &[u32]) -> Option<Filled> {
    let wanted: i64 = left.iter().enumerate().map(|(part, n)| shop.area(part) * i64::from(*n)).sum();
    let kinds = 0..shop.boards.len();
    let tried = kinds.flat_map(|kind| first.ways().iter().map(move |way| (kind, *way)));
    let filled: Vec<Filled> =
        tried.map(|(kind, way)| fill(shop, kind, way, left)).filter(|filled| filled.area > 0).collect();
    let cost = |filled: &Filled| job.sheets[filled.kind].cost.max(1);
    let all = filled.iter().filter(|filled| filled.area == wanted);
    let key = |filled: &&Filled| (cost(filled), std::cmp::Reverse(clear_rest(job, &layout(job, filled))));
    if let Some(last) = all.min_by_key(key) {
        return Some(last.clone());
    }
    let worth = |a: &Filled, b: &Filled| {
        (i128::from(a.area) * i128::from(cost(b))).cmp(&(i128::from(b.area) * i128::from(cost(a))))
    };
    filled.into_iter().max_by(worth)
}
