//! The parts of a job as the shop works them.

use std::sync::OnceLock;

use super::made_up::{made_up, strip};
use super::operation::Operation;
use super::sequence::sequence;
use crate::joinery::{Hand, PartSource, WorkedJob, WorkedPart, Wrap, lies_as_drawn, wraps};
use crate::model::Job;

/// The worked parts of a job with what is done to each.
///
/// A part is worked out when it is first asked for and then kept: lists, settings and
/// sheets ask for the same ones, and to make a part up with its lippings takes as long
/// as to carve it.
#[derive(Debug)]
pub struct Machined<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its worked parts.
    pub worked: &'a WorkedJob,
    /// Panels that are folded of one sheet.
    pub(super) wraps: Vec<Wrap>,
    parts: Vec<OnceLock<Option<WorkedPart>>>,
    strips: Vec<OnceLock<Option<WorkedPart>>>,
    operations: Vec<OnceLock<Vec<Operation>>>,
}

impl<'a> Machined<'a> {
    /// The parts of `worked`, none of them worked out yet.
    pub fn new(job: &'a Job, worked: &'a WorkedJob) -> Self {
        let parts = worked.parts.len();
        Self {
            job,
            worked,
            wraps: wraps(job),
            parts: (0..parts).map(|_| OnceLock::new()).collect(),
            strips: (0..parts).map(|_| OnceLock::new()).collect(),
            operations: (0..parts).map(|_| OnceLock::new()).collect(),
        }
    }

    /// Part `index` made up with its lippings: one blank over all, with the cuts of
    /// panel and lippings, in coordinates that start at its finished corner.
    ///
    /// `None` if it has no lipping, or if they do not make one flush blank (they stand
    /// proud of its faces): then it is worked by itself, before they are glued on.
    pub fn made_up(&self, index: usize) -> Option<&WorkedPart> {
        self.parts.get(index)?.get_or_init(|| made_up(self.worked, index)).as_ref()
    }

    /// Part `index` as it lies on the bench by itself: made up with its lippings; a lipping
    /// as it is until it is glued on, where its panel is worked with it; any other as it is.
    /// `None` if there is no such part.
    pub fn on_the_bench(&self, index: usize) -> Option<&WorkedPart> {
        let part = self.worked.parts.get(index)?;
        let glued_on = match part.source {
            PartSource::Lipping { of, .. } if self.made_up(of).is_some() => {
                self.strips.get(index)?.get_or_init(|| strip(self.worked, index)).as_ref()
            }
            PartSource::Lipping { .. } => None,
            PartSource::Part(_) => self.made_up(index),
        };
        glued_on.or(Some(part))
    }

    /// The part whose sheet tells how `index` is made: of a mirror pair the left. The right is
    /// its mirror image with its marks, so that every setting is told of both in the same words.
    pub fn told_by(&self, index: usize) -> usize {
        let Some(part) = self.worked.parts.get(index).filter(|part| part.hand == Hand::Right) else {
            return index;
        };
        let Some(drawn) = self.worked.drawn(part) else { return index };
        // Numbered alike are the panels: where the two are lipped unlike, each is set by itself.
        let alike = match (self.made_up(drawn), self.made_up(index)) {
            (Some(left), Some(right)) => lies_as_drawn(left, right).is_some(),
            (left, right) => left.is_none() && right.is_none(),
        };
        if alike { drawn } else { index }
    }

    /// What is done to part `index` after it is cut to its rough size, in the order a
    /// shop does it: trims, then its cuts, those that wait for a glue-up last. Nothing
    /// for what comes ready.
    ///
    /// A lipped part is worked as it is with its lippings on, so that every figure is
    /// from a finished edge; a lipping by itself only has what shapes it before.
    pub fn operations(&self, index: usize) -> &[Operation] {
        self.operations.get(index).map_or(&[], |kept| kept.get_or_init(|| sequence(self, index)))
    }
}
