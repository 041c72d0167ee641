//! The job as the search sees it. Parts whose ends are mitred alike nest when
//! each second one is turned over: a chain of parts then saves at each joint
//! the lesser of the two set-backs, so in falling order a stick saves all of
//! them but the largest. With `need = length - setback + kerf`, parts fit when
//! their needs add up to no more than `stick + kerf - largest setback`.

use super::model::StickJob;

/// Parts of one length and set-back.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    /// What one takes up of a stick, the kerf in it.
    pub(super) need: i64,
    /// What its mitres save beside a neighbour.
    pub(super) setback: i64,
    /// The places in the job of each copy.
    pub(super) copies: Vec<usize>,
}

/// A kind of stick.
#[derive(Clone, Debug)]
pub(super) struct Stick {
    /// Length inside the trims with one kerf added.
    pub(super) room: i64,
    /// Its price; where no stick costs anything, its length.
    pub(super) cost: i64,
    /// How many there are.
    pub(super) count: Option<u32>,
}

/// The job as the search sees it.
#[derive(Clone, Debug)]
pub(super) struct Shop {
    /// Kinds of part, those with the greatest need first.
    pub(super) kinds: Vec<Kind>,
    /// Kinds of stick in the job's order.
    pub(super) sticks: Vec<Stick>,
}

/// How often each kind of part lies on a stick.
pub(super) type Pattern = Vec<u32>;

/// A stick with its content.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Filled {
    /// Which kind of stick.
    pub(super) stick: usize,
    /// What lies on it.
    pub(super) pattern: Pattern,
}

/// What the mitres of a part are sure to save.
pub(super) fn setback(job: &StickJob, part: usize) -> i64 {
    let [first, second] = job.parts[part].mitres;
    if job.may_turn_over { first.min(second) } else { 0 }
}

impl Shop {
    /// Reads a checked job.
    pub(super) fn new(job: &StickJob) -> Self {
        let mut kinds: Vec<Kind> = Vec::new();
        for (index, part) in job.parts.iter().enumerate() {
            let setback = setback(job, index);
            let need = part.length - setback + job.kerf;
            let copies = vec![index; part.quantity as usize];
            match kinds.iter_mut().find(|kind| kind.need == need && kind.setback == setback) {
                Some(kind) => kind.copies.extend(copies),
                None => kinds.push(Kind { need, setback, copies }),
            }
        }
        kinds.retain(|kind| !kind.copies.is_empty());
        kinds.sort_by_key(|kind| std::cmp::Reverse((kind.need, kind.setback)));
        let free = job.sticks.iter().all(|stick| stick.cost == 0);
        let stick = |stick: &super::model::StickStock| Stick {
            room: stick.length - 2 * job.end_trim + job.kerf,
            cost: if free { stick.length } else { stick.cost },
            count: stick.count,
        };
        Self { kinds, sticks: job.sticks.iter().map(stick).collect() }
    }

    /// Whether one part alone fits a stick.
    pub(super) fn fits(kind: &Kind, stick: &Stick) -> bool {
        kind.need + kind.setback <= stick.room && stick.count != Some(0)
    }

    /// How many of each kind are needed.
    pub(super) fn demand(&self) -> Pattern {
        let count = |kind: &Kind| u32::try_from(kind.copies.len()).unwrap_or(u32::MAX);
        self.kinds.iter().map(count).collect()
    }

    /// The set-backs that occur, least first.
    pub(super) fn setbacks(&self) -> Vec<i64> {
        let mut all: Vec<i64> = self.kinds.iter().map(|kind| kind.setback).collect();
        all.sort_unstable();
        all.dedup();
        all
    }
}
