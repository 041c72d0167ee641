//! Parts of a job as it was found again in the job as it is.

use super::fit::{Fitting, Trim, Unfit, fit};
use super::tolerance::{ALIKE, NEAR, SAME};
use crate::geometry::DVec3;
use crate::joinery::{PartSource, WorkedJob, WorkedPart, same_shape};
use crate::model::{Job, PieceId};

/// A job with its worked parts.
#[derive(Clone, Copy, Debug)]
pub struct Standing<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its worked parts.
    pub worked: &'a WorkedJob,
}

/// What becomes of a part.
#[derive(Clone, Debug, PartialEq)]
pub enum Fate {
    /// It stays as it is.
    Unchanged,
    /// It stays as it is, under another name.
    Renamed,
    /// The new one can be got from the old one.
    Trimmed(Trim),
    /// It has to be made anew.
    Remade(Unfit),
    /// There was none.
    New,
    /// There is none any more.
    Dropped,
}

/// A part as it was and as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// Index into the worked parts of the job as it was.
    pub old: Option<usize>,
    /// Index into the worked parts of the job as it is.
    pub new: Option<usize>,
    /// What becomes of it.
    pub fate: Fate,
    /// How many of it there were, for all pieces made.
    pub had: usize,
    /// How many there are.
    pub has: usize,
}

impl<'a> Standing<'a> {
    /// A part.
    pub fn part(self, index: usize) -> Option<&'a WorkedPart> {
        self.worked.parts.get(index)
    }

    /// How many of a part are made.
    pub fn made(self, index: usize) -> usize {
        self.part(index)
            .and_then(|part| self.job.pieces.get(part.piece.0))
            .map_or(1, |piece| piece.count as usize)
    }

    /// The name of a part's piece.
    fn piece(self, part: &WorkedPart) -> &'a str {
        self.job.pieces.get(part.piece.0).map_or("", |piece| &piece.name)
    }

    /// The bounds of a piece, mm.
    fn bounds(self, piece: PieceId) -> Option<(DVec3, DVec3)> {
        let own = self.worked.parts.iter().filter(|part| part.piece == piece);
        let points = own.flat_map(|part| part.solid.points.iter().map(|point| part.at.point(*point)));
        points.fold(None, |found, p| {
            Some(found.map_or((p, p), |(low, high): (DVec3, DVec3)| (low.min(p), high.max(p))))
        })
    }

    /// Where the middle of a part stands in its piece, as shares of its sizes.
    fn place(self, part: &WorkedPart) -> DVec3 {
        let Some((low, high)) = self.bounds(part.piece) else { return DVec3::ZERO };
        (part.at.point(0.5 * part.size) - low) / (high - low).max(DVec3::splat(SAME))
    }
}

/// What becomes of every part of `old` in `new`, in the order of the new job, what is
/// dropped last.
pub fn compare(old: Standing<'_>, new: Standing<'_>) -> Vec<Pair> {
    let mut all = Comparing { old, new, taken: vec![false; old.worked.parts.len()], found: Vec::new() };
    all.found.resize(new.worked.parts.len(), None);
    all.each(|all, a, b| (all.named(a, b) && all.same(a, b)).then_some((0.0, Fate::Unchanged)));
    all.each(|all, a, b| {
        (all.same(a, b) && all.in_one_piece(a, b)).then(|| (all.apart(a, b), Fate::Renamed))
    });
    all.each(|all, a, b| all.named(a, b).then(|| (0.0, all.fate(a, b))));
    all.each(Comparing::moved);
    all.pairs()
}

/// The comparison on its way.
struct Comparing<'a> {
    old: Standing<'a>,
    new: Standing<'a>,
    /// Which old parts have found theirs.
    taken: Vec<bool>,
    /// For each new part its old one.
    found: Vec<Option<(usize, Fate)>>,
}

impl Comparing<'_> {
    /// Gives each new part still without one the old part that `rule` puts nearest.
    fn each(&mut self, rule: impl Fn(&Self, &WorkedPart, &WorkedPart) -> Option<(f64, Fate)>) {
        let (old, new) = (self.old, self.new);
        for (at, part) in new.worked.parts.iter().enumerate() {
            if self.found.get(at).is_none_or(Option::is_some) {
                continue;
            }
            let free = old
                .worked
                .parts
                .iter()
                .enumerate()
                .filter(|(index, _)| self.taken.get(*index) == Some(&false));
            let mut best: Option<(f64, usize, Fate)> = None;
            for (index, other) in free {
                let Some((far, fate)) = rule(self, other, part) else { continue };
                // The first of equals stays: the order of the script decides.
                if best.as_ref().is_none_or(|(least, ..)| far < *least) {
                    best = Some((far, index, fate));
                }
            }
            if let Some((_, index, fate)) = best {
                self.taken[index] = true;
                self.found[at] = Some((index, fate));
            }
        }
    }

    /// Whether both are parts, or both lippings.
    fn of_one_kind(a: &WorkedPart, b: &WorkedPart) -> bool {
        let lipping = |part: &WorkedPart| matches!(part.source, PartSource::Lipping { .. });
        lipping(a) == lipping(b)
    }

    fn in_one_piece(&self, a: &WorkedPart, b: &WorkedPart) -> bool {
        // A piece under a new name is the old one where each job has but one.
        self.old.piece(a) == self.new.piece(b)
            || (self.old.job.pieces.len() == 1 && self.new.job.pieces.len() == 1)
    }

    fn named(&self, a: &WorkedPart, b: &WorkedPart) -> bool {
        a.name == b.name && Self::of_one_kind(a, b) && self.in_one_piece(a, b)
    }

    /// Whether both are cut from the same material.
    fn of_one_stock(&self, a: &WorkedPart, b: &WorkedPart) -> bool {
        match (self.old.job.stock.get(a.stock.0), self.new.job.stock.get(b.stock.0)) {
            (Some(a), Some(b)) => {
                a.name == b.name
                    && std::mem::discriminant(&a.kind) == std::mem::discriminant(&b.kind)
                    && match (a.fixed_thickness(), b.fixed_thickness()) {
                        (Some(a), Some(b)) => (a - b).abs() < SAME,
                        (a, b) => a.is_none() && b.is_none(),
                    }
            }
            _ => false,
        }
    }

    fn same(&self, a: &WorkedPart, b: &WorkedPart) -> bool {
        Self::of_one_kind(a, b) && self.of_one_stock(a, b) && same_shape(a, b)
    }

    /// How far apart two parts stand, as a share of their pieces.
    fn apart(&self, a: &WorkedPart, b: &WorkedPart) -> f64 {
        (self.old.place(a) - self.new.place(b)).length()
    }

    /// What becomes of a part that has kept its name and not its shape.
    fn fate(&self, a: &WorkedPart, b: &WorkedPart) -> Fate {
        if !self.of_one_stock(a, b) {
            return Fate::Remade(Unfit::OtherStock);
        }
        let loose = self.new.job.stock.get(b.stock.0).is_none_or(|stock| stock.fixed_thickness().is_none());
        let fitting = Fitting { old: (self.old.worked, a), new: (self.new.worked, b), planed: loose };
        match fit(fitting) {
            Ok(trim) => Fate::Trimmed(trim),
            Err(why) => Fate::Remade(why),
        }
    }

    /// A part under another name and of another shape that stands about where the old
    /// one stood, if it can be got from that.
    fn moved(&self, a: &WorkedPart, b: &WorkedPart) -> Option<(f64, Fate)> {
        let grain = a.at.x.dot(b.at.x).abs() > ALIKE && a.at.z.dot(b.at.z).abs() > ALIKE;
        let apart = self.apart(a, b);
        if !(grain && apart < NEAR && Self::of_one_kind(a, b) && self.in_one_piece(a, b)) {
            return None;
        }
        match self.fate(a, b) {
            Fate::Trimmed(trim) => Some((apart, Fate::Trimmed(trim))),
            _ => None,
        }
    }

    fn pairs(self) -> Vec<Pair> {
        let (old, new) = (self.old, self.new);
        let of_new = self.found.into_iter().enumerate().map(|(at, found)| match found {
            Some((index, fate)) => {
                Pair { old: Some(index), new: Some(at), fate, had: old.made(index), has: new.made(at) }
            }
            None => Pair { old: None, new: Some(at), fate: Fate::New, had: 0, has: new.made(at) },
        });
        let dropped = (0..self.taken.len()).filter(|index| self.taken.get(*index) == Some(&false));
        let dropped = dropped.map(|index| Pair {
            old: Some(index),
            new: None,
            fate: Fate::Dropped,
            had: old.made(index),
            has: 0,
        });
        of_new.chain(dropped).collect()
    }
}
