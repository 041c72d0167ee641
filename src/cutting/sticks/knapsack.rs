//! The stick of greatest value: which parts, each at most so often, fit a
//! length and are worth most together. Depth first, the most valuable length
//! first, cut off where even filling up with fractions is not worth more.

/// Worth that counts as nothing.
const NOTHING: f64 = 1e-9;

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
}

/// The filling of `room` that is worth most, after `most_looks` fillings at the
/// most.
pub(super) fn fill(mut offers: Vec<Offer>, room: i64, most_looks: u32) -> Best {
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
    let mut walk =
        Walk { offers, now: vec![0; count], best: vec![0; count], worth: 0.0, looks: 0, most_looks, least };
    let top = walk.ceiling(0, room);
    walk.go(0, room, 0.0);
    let taken = walk.offers.iter().zip(&walk.best).filter(|(_, n)| **n > 0);
    Best {
        worth: walk.worth,
        ceiling: if walk.looks < most_looks { walk.worth } else { top },
        taken: taken.map(|(offer, &n)| (offer.kind, n)).collect(),
    }
}

impl Walk {
    /// What the rest of the room is worth at the most, fractions allowed.
    fn ceiling(&self, from: usize, mut room: i64) -> f64 {
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
