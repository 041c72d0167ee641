//! Joints that are cut square, asked of parts that lean to one another: refused, with
//! the joints that would do there.

use super::sawing::Fit;
use crate::joinery::bench::meet::Pair;
use crate::joinery::bench::seen::Bench;
use crate::model::Work;
use crate::problem::Problem;

impl Bench<'_> {
    /// Refuses parts whose axes are not the same for a joint that is cut square; `why` is
    /// what it is that must be square.
    pub(in crate::joinery) fn stand_square(&self, work: &Work, pair: Pair, why: &str) -> Result<(), Problem> {
        let Pair { a, b } = pair;
        if self.are_square(a, b) {
            return Ok(());
        }
        let message = format!("`{}` stands askew to `{}`: {why}", self.name(a), self.name(b));
        Err(self.error(work, "not-square", message, &pair.parts()).help(self.would_join(pair)))
    }

    /// What joins two parts that are not square to one another as they stand.
    pub(in crate::joinery) fn would_join(&self, pair: Pair) -> &'static str {
        let Pair { a, b } = pair;
        let is_sawn = |pair: Pair| self.sawn_to(pair, Fit::Meet).is_ok();
        // The advice is tried, so that it holds for these two.
        if self.patch(a, b).is_some() || is_sawn(pair) || is_sawn(Pair { a: b, b: a }) {
            "join them by `butt`, `dowels` or `loose_tenons`, which saw an end to the face it runs into and stand square \
             to that, or turn one of them square to the other"
        } else {
            "turn one of them square to the other, or let an end of one run to a face of the other, where `butt`, \
             `dowels` or `loose_tenons` saw it to that"
        }
    }
}
