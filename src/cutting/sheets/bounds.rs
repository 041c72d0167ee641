//! What no plan can cost less than.
//!
//! A function f on lengths is dual feasible when lengths that fit a sheet
//! together have f adding up to at most 1; then the sum of f(x) g(y) over the
//! parts is at most the number of sheets, however they are cut (S. Fekete and
//! J. Schepers, "New classes of fast lower bounds for bin packing problems",
//! Mathematical Programming, 2001). Products are kept as whole numbers.

use super::shop::{Block, Kind, Shop};
use std::cmp::Ordering;

/// A whole-number share of a length: `(share, whole)`.
type Share = (i64, i64);

/// The dual feasible functions tried.
#[derive(Clone, Copy, Debug)]
enum Step {
    /// The length itself.
    Plain,
    /// Lengths over `whole - e` count as whole, those below `e` as nothing.
    Threshold(i64),
    /// `floor((k + 1) x / whole)` of `k`, exact multiples staying themselves.
    Rounded(i64),
    /// Lengths over half count as what the shorter pieces `e` leave of them.
    Counted(i64),
}

impl Step {
    /// The share of one length in a whole.
    fn share(self, x: i64, whole: i64) -> Share {
        match self {
            Self::Threshold(e) if x > whole - e => (whole, whole),
            Self::Threshold(e) if x < e => (0, whole),
            Self::Plain | Self::Threshold(_) => (x, whole),
            Self::Rounded(k) if (k + 1) * x % whole == 0 => (x * k, whole * k),
            Self::Rounded(k) => ((k + 1) * x / whole * whole, whole * k),
            Self::Counted(e) => {
                let pieces = whole / e;
                let share = match (2 * x).cmp(&whole) {
                    Ordering::Greater => 2 * (pieces - (whole - x) / e),
                    Ordering::Equal => pieces,
                    Ordering::Less => 2 * (x / e),
                };
                (share, 2 * pieces)
            }
        }
    }
}

/// The functions worth trying for one axis.
fn steps(lengths: &[i64], whole: i64) -> Vec<Step> {
    let mut marks: Vec<i64> = lengths.iter().flat_map(|&x| [x, whole - x + 1]).collect();
    marks.retain(|&mark| mark >= 1 && 2 * mark <= whole);
    marks.sort_unstable();
    marks.dedup();
    // More marks than this would cost more than they tell.
    let every = marks.len().div_ceil(24).max(1);
    let mut all = vec![Step::Plain];
    all.extend((1..=6).map(Step::Rounded));
    for &mark in marks.iter().step_by(every) {
        all.push(Step::Threshold(mark));
        all.push(Step::Counted(mark));
    }
    all
}

/// Sheets of one kind that are needed at the least.
fn sheets_needed(blocks: &[Block], kind: &Kind) -> i64 {
    let whole = kind.size.map(i64::from);
    let mut lengths: [Vec<i64>; 2] = [Vec::new(), Vec::new()];
    for block in blocks {
        let size = block.size.map(i64::from);
        for axis in 0..2 {
            lengths[axis].push(size[axis]);
            if block.may_turn {
                lengths[axis].push(size[1 - axis]);
            }
        }
    }
    let across = steps(&lengths[1], whole[1]);
    let mut most = 1;
    for f in steps(&lengths[0], whole[0]) {
        for &g in &across {
            most = most.max(needed_by(blocks, whole, f, g));
        }
    }
    most
}

/// What one pair of functions proves.
fn needed_by(blocks: &[Block], whole: [i64; 2], f: Step, g: Step) -> i64 {
    let mut sum: i128 = 0;
    let mut unit: i128 = 1;
    for block in blocks {
        let mut least = i128::MAX;
        for turned in [false, true] {
            let size = block.lying(turned).map(i64::from);
            if (turned && !block.may_turn) || size[0] > whole[0] || size[1] > whole[1] {
                continue;
            }
            let (a, a_whole) = f.share(size[0], whole[0]);
            let (b, b_whole) = g.share(size[1], whole[1]);
            unit = i128::from(a_whole) * i128::from(b_whole);
            least = least.min(i128::from(a) * i128::from(b));
        }
        if least < i128::MAX {
            sum += least * block.count() as i128;
        }
    }
    i64::try_from((sum + unit - 1) / unit).unwrap_or(1)
}

/// Sums of costs looked through at the most.
const MOST_SUMS: usize = 1_000_000;

/// What no plan for all the blocks can cost less than.
pub(super) fn cost_bound(shop: &Shop) -> i64 {
    let fits = |kind: &&Kind| kind.count > 0 && shop.blocks.iter().any(|block| shop.fits(block, kind));
    let mut kinds: Vec<&Kind> = shop.kinds.iter().filter(fits).collect();
    if let [only] = kinds[..] {
        return sheets_needed(&shop.blocks, only) * only.cost;
    }
    // Several kinds: the area in the cheapest way, the last sheet in part.
    let total: i64 =
        shop.blocks.iter().map(|block| block.area * i64::try_from(block.count()).unwrap_or(i64::MAX)).sum();
    kinds.sort_by(|a, b| {
        (i128::from(a.cost) * i128::from(b.area)).cmp(&(i128::from(b.cost) * i128::from(a.area)))
    });
    let mut left = i128::from(total);
    let mut cost: i128 = 0;
    for kind in &kinds {
        let area = i128::from(kind.area);
        let whole = (left / area).min(kind.count as i128);
        cost += whole * i128::from(kind.cost);
        left -= whole * area;
        if left > 0 && whole < kind.count as i128 {
            cost += (left * i128::from(kind.cost) + area - 1) / area;
            left = 0;
        }
        if left <= 0 {
            break;
        }
    }
    attainable(&kinds, i64::try_from(cost).unwrap_or(i64::MAX))
}

/// The least cost no less than `bound` that sheets, each kind as often as there
/// are of it, add up to.
fn attainable(kinds: &[&Kind], bound: i64) -> i64 {
    let costs: Vec<usize> =
        kinds.iter().map(|kind| usize::try_from(kind.cost).unwrap_or(usize::MAX)).collect();
    let (Some(dearest), Ok(from)) = (costs.iter().max(), usize::try_from(bound)) else { return bound };
    let top = from.saturating_add(*dearest);
    if top > MOST_SUMS || costs.contains(&0) {
        return bound;
    }
    let mut sums = vec![false; top + 1];
    sums[0] = true;
    for (kind, &cost) in kinds.iter().zip(&costs) {
        let mut used = vec![0_usize; top + 1];
        for sum in cost..=top {
            if !sums[sum] && sums[sum - cost] && used[sum - cost] < kind.count {
                sums[sum] = true;
                used[sum] = used[sum - cost] + 1;
            }
        }
    }
    (from..=top).find(|sum| sums[*sum]).and_then(|sum| i64::try_from(sum).ok()).unwrap_or(bound)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Shares worked by hand, on each limit and beside it.
    #[test]
    fn shares_of_a_length_are_those_of_their_functions() {
        let shares = |step: Step, whole: i64, lengths: &[i64]| -> Vec<i64> {
            lengths.iter().map(|x| step.share(*x, whole).0).collect()
        };
        assert_eq!(shares(Step::Plain, 10, &[3]), [3]);
        assert_eq!(shares(Step::Threshold(3), 10, &[2, 3, 7, 8]), [0, 3, 7, 10]);
        // Halves stay halves; over them all, under them nothing.
        assert_eq!(shares(Step::Rounded(1), 10, &[4, 5, 6]), [0, 5, 10]);
        assert_eq!(shares(Step::Rounded(2), 9, &[2, 3, 4, 6, 7]), [0, 6, 9, 12, 18]);
        assert_eq!(Step::Rounded(2).share(4, 9).1, 18);
        // Three pieces of 3 go into 10: what they leave beside 6, at half, and of 4 and 2.
        assert_eq!(shares(Step::Counted(3), 10, &[2, 4, 5, 6, 7, 8]), [0, 2, 3, 4, 4, 6]);
        assert_eq!(Step::Counted(3).share(6, 10).1, 6);
    }

    /// What Fekete and Schepers ask of a dual feasible function: lengths that go into the
    /// whole together have shares of no more than the whole. All sets of lengths up to 14.
    #[test]
    fn lengths_that_fit_have_shares_that_do() {
        for whole in 2..=14_i64 {
            let half = 1..=whole / 2;
            let each = half.flat_map(|e| [Step::Threshold(e), Step::Counted(e)]);
            for step in (1..=6).map(Step::Rounded).chain([Step::Plain]).chain(each) {
                let unit = step.share(whole, whole).1;
                // The most that lengths of so much together have.
                let mut most = vec![0; usize::try_from(whole).unwrap() + 1];
                for used in 1..most.len() {
                    let last = |x: usize| step.share(i64::try_from(x).unwrap(), whole).0 + most[used - x];
                    most[used] = (1..=used).map(last).max().unwrap();
                }
                assert!(most.iter().all(|share| *share <= unit), "{step:?} of {whole}: {most:?} of {unit}");
            }
        }
    }
}
