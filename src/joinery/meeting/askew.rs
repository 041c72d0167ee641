//! Joints that are cut square, asked of parts that lean to one another: refused, with
//! the joints that would do there.

use super::sawing::Fit;
use crate::geometry::DVec3;
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::meet::Pair;
use crate::joinery::bench::mitre_plane::mitre_plane;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::PARALLEL;
use crate::joinery::corners::compound;
use crate::model::{Form, Work};
use crate::problem::Problem;

/// How far a board may end from the corner that it is mitred to, mm: as for a compound
/// mitre, whose ends are drawn as roughly.
const FAR: f64 = 50.0;

impl Bench<'_> {
    /// Refuses parts whose axes are not the same for a joint that is cut square; `why` is
    /// what it is that must be square.
    pub(in crate::joinery) fn stand_square(&self, work: &Work, pair: Pair, why: &str) -> Result<(), Problem> {
        let Pair { a, b } = pair;
        if self.are_square(a, b) {
            return Ok(());
        }
        let message = format!("`{}` stands askew to `{}`: {why}", self.name(a), self.name(b));
        Err(self.error(work, "not-square", message, &pair.parts()).help(self.would_join(work, pair)))
    }

    /// What joins two parts that are not square to one another as they stand.
    pub(in crate::joinery) fn would_join(&self, work: &Work, pair: Pair) -> &'static str {
        let Pair { a, b } = pair;
        let is_sawn = |pair: Pair| self.sawn_to(pair, Fit::Meet).is_ok();
        // The advice is tried, so that it holds for these two. The corner first: an end
        // there can be sawn to a face too, but the corner is seen, and neither part of it
        // can be turned without the others of its ring.
        if self.is_corner(work, pair) {
            "boards whose ends meet at another angle, as at the corner of a hexagon, are joined by a `mitre` with a \
             `loose_tongue` in it"
        } else if self.patch(a, b).is_some() || is_sawn(pair) || is_sawn(Pair { a: b, b: a }) {
            "join them by `butt`, `dowels` or `loose_tenons`, which saw an end to the face it runs into and stand square \
             to that, or turn one of them square to the other"
        } else {
            "turn one of them square to the other, or let an end of one run to a face of the other, where `butt`, \
             `dowels` or `loose_tenons` saw it to that"
        }
    }

    /// Whether two boards on edge that are not square to one another end at one corner.
    fn is_corner(&self, work: &Work, pair: Pair) -> bool {
        let Pair { a, b } = pair;
        let is_flat = |i: usize| self.job.parts.get(i).is_some_and(|part| part.form == Form::Flat);
        let Some((first, second)) = self.placed.get(a).zip(self.placed.get(b)) else { return false };
        if !is_flat(a) || !is_flat(b) || first.at.z.dot(second.at.z).abs() > PARALLEL {
            return false;
        }
        if compound::leans(self, a, b) {
            return compound::compound(self, work, a, b).is_ok();
        }
        let Ok(plane) = mitre_plane(self, work, a, b) else { return false };
        let ends_there = |blank: &Blank, away: DVec3| {
            let end = blank.reach(-away).1;
            [plane.inner, plane.outer].into_iter().any(|corner| (end + corner.dot(away)).abs() <= FAR)
        };
        // Boards lie along the corner with their faces, not with their thickness.
        let on_edge = [first, second].iter().all(|blank| blank.at.z.dot(plane.line).abs() < 1.0 - PARALLEL);
        on_edge && ends_there(first, plane.away_a) && ends_there(second, plane.away_b)
    }
}
