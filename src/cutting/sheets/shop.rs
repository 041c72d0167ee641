//! The job as the search sees it: trims taken off, one kerf added to every
//! part and to the usable sheet, like parts counted together, runs as blocks.
//!
//! Adding a kerf on both sides is exact: parts with a kerf between neighbours
//! fit a length, `sum w + (n - 1) k <= L`, just when `sum (w + k) <= L + k`.

use super::model::{Axis, SheetJob};

/// What a block is made of.
#[derive(Clone, Debug)]
pub(super) enum Content {
    /// Loose parts of one size; the places in the job of each copy.
    Parts(Vec<usize>),
    /// Runs that are alike; their places in the job.
    Runs(Vec<usize>),
}

/// A rectangle to place, one or more times.
#[derive(Clone, Debug)]
pub(super) struct Block {
    /// Size with a kerf added on both axes, not turned.
    pub(super) size: [i32; 2],
    /// Whether it may be turned a quarter.
    pub(super) may_turn: bool,
    /// Area with the kerf.
    pub(super) area: i64,
    /// What leaving it out counts: area to the power 1.3.
    pub(super) weight: f64,
    /// The direction a run's parts follow one another in, not turned, and the
    /// levels its narrower parts add (0 or 1).
    pub(super) run: Option<(Axis, u8)>,
    /// What it is made of.
    pub(super) content: Content,
}

impl Block {
    /// Size as it lies.
    pub(super) fn lying(&self, turned: bool) -> [i32; 2] {
        if turned { [self.size[1], self.size[0]] } else { self.size }
    }

    /// Whether it could lie within these lengths, one way or the other.
    pub(super) fn lies_within(&self, [long, high]: [i32; 2]) -> bool {
        let [a, b] = self.size;
        (a <= long && b <= high) || (self.may_turn && b <= long && a <= high)
    }

    /// How many are needed.
    pub(super) fn count(&self) -> usize {
        match &self.content {
            Content::Parts(list) | Content::Runs(list) => list.len(),
        }
    }

    /// Levels of cuts a run adds below a strip divided along `strip`, `None`
    /// for the whole sheet.
    pub(super) fn extra_levels(&self, turned: bool, strip: Option<Axis>) -> u8 {
        let Some((axis, narrow)) = self.run else {
            return 0;
        };
        let axis = if turned { axis.other() } else { axis };
        narrow + u8::from(strip != Some(axis))
    }
}

/// A kind of sheet with its usable size.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    /// Usable size with a kerf added on both axes.
    pub(super) size: [i32; 2],
    /// How many there are, at most what could ever be used.
    pub(super) count: usize,
    /// What one costs; where no sheet costs anything, its area stands in.
    pub(super) cost: i64,
    /// Usable area with the kerf.
    pub(super) area: i64,
}

/// The whole job as the search sees it.
#[derive(Clone, Debug)]
pub(super) struct Shop {
    /// The rectangles to place.
    pub(super) blocks: Vec<Block>,
    /// The kinds of sheet, in the job's order.
    pub(super) kinds: Vec<Kind>,
    /// The most levels of cuts above a part.
    pub(super) levels: u8,
}

/// Area of a size.
pub(super) fn area(size: [i32; 2]) -> i64 {
    i64::from(size[0]) * i64::from(size[1])
}

/// A length as the search counts it. Checked jobs stay far below the limit.
fn short(length: i64) -> i32 {
    i32::try_from(length).unwrap_or(i32::MAX)
}

impl Shop {
    /// Reads a checked job.
    pub(super) fn new(job: &SheetJob) -> Self {
        let blocks = blocks(job);
        let total: usize = blocks.iter().map(Block::count).sum();
        let free = job.sheets.iter().all(|sheet| sheet.cost == 0);
        let kinds = job.sheets.iter().map(|sheet| {
            let [left, right, low, high] = sheet.trim;
            let size = [
                short(sheet.size[0] - left - right + job.kerf),
                short(sheet.size[1] - low - high + job.kerf),
            ];
            let wanted = sheet.count.map_or(total, |count| count as usize);
            Kind {
                size,
                count: wanted.min(total),
                cost: if free { area(size) } else { sheet.cost },
                area: area(size),
            }
        });
        Self { kinds: kinds.collect(), blocks, levels: job.levels.unwrap_or(u8::MAX) }
    }

    /// Whether the block fits an empty sheet of this kind within the levels.
    pub(super) fn fits(&self, block: &Block, kind: &Kind) -> bool {
        [false, true].into_iter().any(|turned| {
            let size = block.lying(turned);
            (!turned || block.may_turn)
                && size[0] <= kind.size[0]
                && size[1] <= kind.size[1]
                && Self::least_levels(block, turned, kind) <= self.levels
        })
    }

    /// The fewest levels with which the block can come out of a bare sheet.
    fn least_levels(block: &Block, turned: bool, kind: &Kind) -> u8 {
        let size = block.lying(turned);
        match (size[0] == kind.size[0], size[1] == kind.size[1]) {
            (true, true) => block.extra_levels(turned, None),
            (false, true) => 1 + block.extra_levels(turned, Some(Axis::X)),
            (true, false) => 1 + block.extra_levels(turned, Some(Axis::Y)),
            (false, false) => {
                2 + block.extra_levels(turned, Some(Axis::X)).min(block.extra_levels(turned, Some(Axis::Y)))
            }
        }
    }
}

/// Size of a run before turning, without the kerf around it.
pub(super) fn run_size(job: &SheetJob, run: usize) -> [i64; 2] {
    let run = &job.runs[run];
    let (along, across) = (run.axis.index(), run.axis.other().index());
    let members = || run.parts.iter().map(|&part| job.parts[part].size);
    let gaps = i64::try_from(run.parts.len()).unwrap_or(0) - 1;
    let mut size = [0; 2];
    size[along] = members().map(|member| member[along]).sum::<i64>() + gaps * run.gap.unwrap_or(job.kerf);
    size[across] = members().map(|member| member[across]).max().unwrap_or(0);
    size
}

/// The power of an area left out: that of the paper `search` follows.
const LARGER: f64 = 1.3;

/// What leaving out so much area counts: more than in proportion, so that one large part
/// left out is worse than two of half its size, which find a place more easily.
pub(super) fn weight(area: i64) -> f64 {
    libm::pow(area as f64, LARGER)
}

/// Runs first, then loose parts, those of one size and freedom together.
fn blocks(job: &SheetJob) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    let mut loose: Vec<usize> = job.parts.iter().map(|part| part.quantity as usize).collect();
    for (index, run) in job.runs.iter().enumerate() {
        let size = run_size(job, index);
        let across = run.axis.other().index();
        let members = || run.parts.iter().map(|&part| &job.parts[part]);
        let narrow = members().any(|member| member.size[across] < size[across]);
        let may_turn = members().all(|member| member.may_turn);
        run.parts.iter().for_each(|&part| loose[part] -= 1);
        let shape = Some((run.axis, u8::from(narrow)));
        add(&mut blocks, block(job, size, may_turn, shape, Content::Runs(vec![index])));
    }
    for (index, part) in job.parts.iter().enumerate() {
        if loose[index] > 0 {
            let turns = part.may_turn && part.size[0] != part.size[1];
            let copies = Content::Parts(vec![index; loose[index]]);
            add(&mut blocks, block(job, part.size, turns, None, copies));
        }
    }
    blocks
}

/// Copies as a block of their own.
fn block(job: &SheetJob, size: [i64; 2], may_turn: bool, run: Option<(Axis, u8)>, content: Content) -> Block {
    let mut size = [short(size[0] + job.kerf), short(size[1] + job.kerf)];
    let free_part = may_turn && run.is_none();
    // Parts that may turn are alike whichever way round they are listed; the
    // place turns them back when it is written out.
    if free_part && size[0] < size[1] {
        size.swap(0, 1);
    }
    let area = area(size);
    Block { size, may_turn, area, weight: weight(area), run, content }
}

/// Adds copies to the block that is alike, or as a new block.
fn add(blocks: &mut Vec<Block>, new: Block) {
    for block in blocks.iter_mut() {
        if block.size == new.size && block.may_turn == new.may_turn && block.run == new.run {
            match (&mut block.content, &new.content) {
                (Content::Parts(have), Content::Parts(more)) | (Content::Runs(have), Content::Runs(more)) => {
                    have.extend(more);
                    return;
                }
                _ => {}
            }
        }
    }
    blocks.push(new);
}
