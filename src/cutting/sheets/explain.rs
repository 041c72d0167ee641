//! Why something has no place, and what would help.

use super::model::{SheetJob, Unplaced, Why};
use super::shop::{Block, Content, Kind, Shop};

/// The parts a block stands for, and its run.
pub(super) fn members(job: &SheetJob, is_run: bool, index: usize) -> (Vec<usize>, Option<usize>) {
    if is_run { (job.runs[index].parts.clone(), Some(index)) } else { (vec![index], None) }
}

/// Why a block has no place, and what would help.
pub(super) fn explain(job: &SheetJob, shop: &Shop, block: &Block, is_run: bool, index: usize) -> Unplaced {
    let (parts, run) = members(job, is_run, index);
    let what = match run {
        Some(run) => format!("grain run `{}`", job.runs[run].id),
        None => format!("part `{}`", job.parts[index].id),
    };
    let mut advice = Vec::new();
    let usable = || shop.kinds.iter().filter(|kind| kind.count > 0);
    let why = if usable().next().is_none() {
        advice.push("buy sheets of this material");
        Why::NoSheet
    } else if usable().any(|kind| shop.fits(block, kind)) {
        advice.push("more sheets of this material");
        Why::UsedUp
    } else {
        too_large(job, shop, block, &mut advice)
    };
    if matches!(block.content, Content::Runs(_)) {
        advice.push("break the run, so that the grain starts afresh at one of its corners");
    }
    Unplaced { parts, run, what, why, advice }
}

/// By how much a block misses the sheet it misses least.
fn too_large(job: &SheetJob, shop: &Shop, block: &Block, advice: &mut Vec<&'static str>) -> Why {
    let over =
        |size: [i32; 2], kind: &Kind| [0, 1].map(|axis| i64::from((size[axis] - kind.size[axis]).max(0)));
    let usable = || shop.kinds.iter().zip(&job.sheets).filter(|(kind, _)| kind.count > 0);
    let turned = || usable().any(|(kind, _)| over(block.lying(true), kind) == [0, 0]);
    if !block.may_turn && turned() {
        advice.push("let its grain run across the sheet");
    }
    let ways = [false, true].into_iter().filter(|&turned| !turned || block.may_turn);
    let misses =
        ways.flat_map(|way| usable().map(move |(kind, sheet)| (over(block.lying(way), kind), sheet)));
    let Some((by, sheet)) = misses.min_by_key(|(miss, _)| miss[0] + miss[1]) else {
        return Why::NoSheet;
    };
    if by == [0, 0] {
        advice.push("allow one more level of cuts");
        return Why::TooManyLevels { allowed: shop.levels.into() };
    }
    advice.push("make it of two pieces with a hidden joint");
    advice.push("use a larger sheet");
    Why::TooLarge { by, sheet: sheet.id.clone() }
}
