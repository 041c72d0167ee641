//! One board cut into strips, and each strip into parts.

use crate::cutting::sheets::{Axis, SheetJob};

/// Sizes with a saw cut added to both sides: parts with saw cuts between them fit a
/// length just when these add up to no more than the length and a saw cut.
pub(super) struct Shop {
    /// Of the parts.
    pub(super) parts: Vec<[i64; 2]>,
    /// Of the boards inside their trims.
    pub(super) boards: Vec<[i64; 2]>,
    /// Whether a part narrower than its strip may be ripped out of it.
    trims: bool,
}

/// Cuts in a row that a part narrower than its strip takes: strip, length, width.
const TRIMMING: u8 = 3;

impl Shop {
    pub(super) fn new(job: &SheetJob) -> Self {
        let grown = |size: [i64; 2]| size.map(|side| side + job.kerf);
        let boards = job.sheets.iter().map(|board| {
            let [left, right, low, high] = board.trim;
            grown([board.size[0] - left - right, board.size[1] - low - high])
        });
        Self {
            parts: job.parts.iter().map(|part| grown(part.size)).collect(),
            boards: boards.collect(),
            trims: job.levels.is_none_or(|levels| levels >= TRIMMING),
        }
    }

    /// Area of a part.
    pub(super) fn area(&self, part: usize) -> i64 {
        self.parts[part][0] * self.parts[part][1]
    }
}

/// A strip with its parts in order.
#[derive(Clone, Debug)]
pub(super) struct Strip {
    /// How broad it is, saw cut included.
    pub(super) broad: i64,
    /// Its parts.
    pub(super) parts: Vec<usize>,
}

/// A board as it is filled.
#[derive(Clone, Debug)]
pub(super) struct Filled {
    /// Which kind of board.
    pub(super) kind: usize,
    /// The direction in which its strips follow one another: across the board where
    /// it is ripped first, along it where it is crosscut first.
    pub(super) way: Axis,
    /// Its strips.
    pub(super) strips: Vec<Strip>,
    /// Area of its parts.
    pub(super) area: i64,
}

/// Fills a board with what is left, strip by strip, each time the strip that is
/// filled best.
pub(super) fn fill(shop: &Shop, kind: usize, way: Axis, left: &[u32]) -> Filled {
    let (across, along) = (way.index(), way.other().index());
    let mut left = left.to_vec();
    let mut room = shop.boards[kind][across];
    let mut filled = Filled { kind, way, strips: Vec::new(), area: 0 };
    let mut broads: Vec<i64> = shop.parts.iter().map(|part| part[across]).collect();
    broads.sort_unstable();
    broads.dedup();
    loop {
        let fits = broads.iter().filter(|broad| **broad <= room);
        let strips = fits.filter_map(|&broad| strip(shop, (across, broad), shop.boards[kind][along], &left));
        // Filled best: most area for its breadth; of two alike the broader.
        let better = |a: &(Strip, i64), b: &(Strip, i64)| {
            (a.1 * b.0.broad).cmp(&(b.1 * a.0.broad)).then(a.0.broad.cmp(&b.0.broad))
        };
        let Some((strip, area)) = strips.max_by(better) else { break };
        strip.parts.iter().for_each(|part| left[*part] -= 1);
        room -= strip.broad;
        filled.area += area;
        filled.strips.push(strip);
    }
    // Broad strips first, as a shop would cut them: like ones share a fence setting.
    filled.strips.sort_by_key(|strip| std::cmp::Reverse(strip.broad));
    filled
}

/// A strip as broad as its broadest part, filled the better of two ways: broad parts
/// first, or long ones. Its area too.
fn strip(shop: &Shop, (across, broad): (usize, i64), long: i64, left: &[u32]) -> Option<(Strip, i64)> {
    let along = 1 - across;
    let fits = |part: &usize| {
        let size = shop.parts[*part];
        left[*part] > 0
            && size[along] <= long
            && (size[across] == broad || shop.trims && size[across] < broad)
    };
    let mut order: Vec<usize> = (0..shop.parts.len()).filter(fits).collect();
    if !order.iter().any(|part| shop.parts[*part][across] == broad) {
        return None;
    }
    order.sort_by_key(|part| std::cmp::Reverse((shop.parts[*part][across], shop.parts[*part][along])));
    let by_breadth = packed(shop, &order, (along, long), left);
    order.sort_by_key(|part| std::cmp::Reverse((shop.parts[*part][along], shop.parts[*part][across])));
    let by_length = packed(shop, &order, (along, long), left);
    let (parts, area) = if by_length.1 > by_breadth.1 { by_length } else { by_breadth };
    // Where the longest first leave the broadest out, the strip need not be so broad.
    let broad = parts.iter().map(|part| shop.parts[*part][across]).max()?;
    Some((Strip { broad, parts }, area))
}

/// As many of each part as there is length for, in this order, and their area.
fn packed(shop: &Shop, order: &[usize], (along, long): (usize, i64), left: &[u32]) -> (Vec<usize>, i64) {
    let (mut room, mut parts, mut area) = (long, Vec::new(), 0);
    for &part in order {
        let each = shop.parts[part][along].max(1);
        let count = (room / each).min(i64::from(left[part]));
        room -= count * each;
        area += count * shop.area(part);
        parts.extend((0..count).map(|_| part));
    }
    (parts, area)
}
