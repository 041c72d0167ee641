//! The stick of greatest value: which parts, each at most so often, fit a
//! length and are worth most together. Depth first, the most valuable length
//! first, cut off where even filling up with fractions is not worth more, or with the
//! lengths rounded down to a coarse grid, on which the best of every room is known (R.
//! Bellman, Dynamic Programming, 1957).

/// Worth that counts as nothing.
const NOTHING: f64 = 1e-9;
/// Work of one look, and how many cells of a grid are filled by as much as one.
const LOOK: usize = 20;
const CELLS_A_WORK: usize = 2;

/// One kind of part as it is offered.
#[derive(Clone, Copy, Debug)]
pub(super) struct Offer {
    /// Which kind of part.
    pub(super) kind: usize,
    /// What it takes up.
    pub(super) need: i64,
    /// What it is worth.
    pub(super) worth: f64,
    /// At most so many.
    pub(super) most: u32,
}

/// The best filling.
#[derive(Clone, Debug)]
pub(super) struct Best {
    /// What it is worth.
    pub(super) worth: f64,
    /// No filling is worth more than this; equal to `worth` when all were
    /// looked at.
    pub(super) ceiling: f64,
    /// How often each offer is taken, in the order given back with it.
    pub(super) taken: Vec<(usize, u32)>,
    /// What it took: fillings looked at and cells of grids filled.
    pub(super) work: usize,
}

/// One try at it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Level {
    /// Cells of the grid; none for fractions.
    pub(super) cells: i64,
    /// Fillings looked at, at the most.
    pub(super) looks: u32,
}

struct Walk {
    offers: Vec<Offer>,
    now: Vec<u32>,
    best: Vec<u32>,
    worth: f64,
    looks: u32,
    most_looks: u32,
    /// The least need among this offer and those after it.
    least: Vec<i64>,
    room: i64,
    /// Cells of the grid, and the best of each room by this offer and those after it.
    cells: usize,
    grid: Vec<f64>,
}

/// The filling of `room` that is worth most, after `looks` fillings at the most.
pub(super) fn fill(offers: Vec<Offer>, room: i64, looks: u32) -> Best {
    fill_above(offers, room, 0.0, &[Level { cells: 0, looks }])
}

/// The same of those worth more than `above`, level by level: the next only where one
/// was not looked through, and a grid has shown none that is worth more.
pub(super) fn fill_above(mut offers: Vec<Offer>, room: i64, above: f64, levels: &[Level]) -> Best {
    offers.retain(|offer| {
        offer.worth > NOTHING && offer.worth.is_finite() && offer.need <= room && offer.most > 0
    });
    let density = |offer: &Offer| offer.worth / offer.need as f64;
    offers.sort_by(|a, b| density(b).total_cmp(&density(a)).then(b.need.cmp(&a.need)));
    let mut least = vec![i64::MAX; offers.len() + 1];
    for at in (0..offers.len()).rev() {
        least[at] = least[at + 1].min(offers[at].need);
    }
    let count = offers.len();
    let mut walk = Walk {
        offers,
        now: vec![0; count],
        best: vec![0; count],
        worth: above,
        looks: 0,
        most_looks: 0,
        least,
        room,
        cells: 0,
        grid: Vec::new(),
    };
    let (mut ceiling, mut work) = (f64::INFINITY, 0);
    for level in levels {
        walk.begin(*level);
        ceiling = ceiling.min(walk.ceiling(0, room));
        walk.go(0, room, 0.0);
        work += walk.looks as usize * LOOK + walk.grid.len() / CELLS_A_WORK;
        if walk.looks < level.looks {
            ceiling = walk.worth;
            break;
        }
        if level.cells > 0 && walk.worth > above + NOTHING {
            break;
        }
    }
    let taken = walk.offers.iter().zip(&walk.best).filter(|(_, n)| **n > 0);
    let taken = taken.map(|(offer, &n)| (offer.kind, n)).collect();
    Best { worth: walk.worth, ceiling: ceiling.max(walk.worth), taken, work }
}

impl Walk {
    /// Starts anew by this level, with the best found so far.
    fn begin(&mut self, level: Level) {
        self.now.fill(0);
        (self.looks, self.most_looks) = (0, level.looks);
        if level.cells > 0 && self.room > 0 {
            self.tabulate(level.cells);
        }
    }

    /// Fills the grid. A length rounded down takes no more cells than it has room for,
    /// so that no filling is worth more than its cell says.
    fn tabulate(&mut self, cells: i64) {
        self.cells = usize::try_from(self.room.min(cells)).unwrap_or(0);
        let wide = self.cells + 1;
        self.grid = vec![0.0; (self.offers.len() + 1) * wide];
        for at in (0..self.offers.len()).rev() {
            let offer = self.offers[at];
            let need = self.cell(offer.need);
            let (row, after) = self.grid.split_at_mut((at + 1) * wide);
            let (row, after) = (&mut row[at * wide..], &after[..wide]);
            if need == 0 {
                let all = f64::from(offer.most) * offer.worth;
                row.iter_mut().zip(after).for_each(|(cell, without)| *cell = without + all);
                continue;
            }
            row[..need].copy_from_slice(&after[..need]);
            if offer.most == 1 {
                for ((cell, &without), &with) in row[need..].iter_mut().zip(&after[need..]).zip(after) {
                    *cell = without.max(with + offer.worth);
                }
            } else {
                // As if there were any number of it: no less than what there is.
                for cell in need..wide {
                    row[cell] = after[cell].max(row[cell - need] + offer.worth);
                }
            }
        }
    }

    /// The cell of a length.
    fn cell(&self, length: i64) -> usize {
        let cells = i64::try_from(self.cells).unwrap_or(0);
        usize::try_from(length * cells / self.room.max(1)).unwrap_or(0)
    }

    /// What the rest of the room is worth at the most.
    fn ceiling(&self, from: usize, room: i64) -> f64 {
        if self.grid.is_empty() {
            return self.with_fractions(from, room);
        }
        self.grid[from * (self.cells + 1) + self.cell(room)]
    }

    /// The same, fractions of a part allowed.
    fn with_fractions(&self, from: usize, mut room: i64) -> f64 {
        let mut worth = 0.0;
        for offer in &self.offers[from..] {
            let fit = (room / offer.need).min(i64::from(offer.most));
            worth += fit as f64 * offer.worth;
            room -= fit * offer.need;
            if fit < i64::from(offer.most) {
                return worth + room as f64 / offer.need as f64 * offer.worth;
            }
        }
        worth
    }

    fn go(&mut self, at: usize, room: i64, worth: f64) {
        self.looks += 1;
        if worth > self.worth {
            self.worth = worth;
            self.best.clone_from(&self.now);
        }
        if self.looks >= self.most_looks || room < self.least[at] {
            return;
        }
        if worth + self.ceiling(at, room) <= self.worth + NOTHING {
            return;
        }
        let offer = self.offers[at];
        let fit = u32::try_from((room / offer.need).min(i64::from(offer.most))).unwrap_or(0);
        for n in (0..=fit).rev() {
            self.now[at] = n;
            let left = room - i64::from(n) * offer.need;
            if worth + f64::from(n) * offer.worth + self.ceiling(at + 1, left) <= self.worth + NOTHING {
                continue;
            }
            self.go(at + 1, left, worth + f64::from(n) * offer.worth);
        }
        self.now[at] = 0;
    }
}
