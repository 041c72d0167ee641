//! Hung pieces that nothing hangs.

use super::measuring::{TOUCH, range};
use crate::geometry::DVec3;
use crate::joinery::{Traits, WorkedJob, WorkedPart, bored_through, words_that};
use crate::measure::LengthStyle;
use crate::model::{FLOATS, Job, Piece, PieceId, Side, StockKind};
use crate::problem::{Problem, wording};

/// A piece stands on what is this near under it, mm: room for pads and glides.
const NEAR: f64 = 1.0;

/// A warning for each piece that hangs and has nothing to hang by. A piece hangs
/// if the script says so, or if it says nothing and no part of it comes down to
/// within `FLOATS` of height 0 or stands on another piece.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let pieces = job.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| told(job, worked, PieceId(index), piece)).collect()
}

/// What is said of one piece, if anything.
fn told(job: &Job, worked: &WorkedJob, id: PieceId, piece: &Piece) -> Option<Problem> {
    let own = parts(worked, id);
    let (drawn, _) = reach(&own, DVec3::Z)?;
    let low = piece.floor.unwrap_or(drawn);
    let floats = piece.hung.is_none()
        && low > FLOATS
        && !any(worked, id, |traits| traits.stands_on_floor)
        && !on_another(job, worked, id, low);
    if !(piece.hung == Some(true) || floats) || any(worked, id, hangs) || is_fixed(job, &own) {
        return None;
    }
    let name = &piece.name;
    let message = if floats {
        let high = LengthStyle::of(job.unit).text(low);
        format!("`{name}` begins {high} above the floor, and nothing hangs it")
    } else {
        format!("`{name}` is said to hang on the wall, and nothing hangs it")
    };
    let words = wording::one_of(words_that(hangs));
    let else_ = if floats {
        "or stand it on height 0; `hung: false` in `piece` says that it stands on something else"
    } else {
        "or bore its back part right through for the fixings"
    };
    Some(
        Problem::warning("hung-by-nothing", message)
            .at(piece.origin)
            .help(format!("hang it with {words}, {else_}")),
    )
}

/// The parts of a piece.
fn parts(worked: &WorkedJob, id: PieceId) -> Vec<&WorkedPart> {
    worked.parts.iter().filter(|p| p.piece == id).collect()
}

/// Least and greatest of the blanks of some parts along a direction of their piece,
/// mm: a part placed on the floor stands there however it is shaped.
fn reach(parts: &[&WorkedPart], along: DVec3) -> Option<(f64, f64)> {
    let corner = |p: &WorkedPart, i: usize| {
        let pick = |bit: usize, size: f64| if i & bit == 0 { 0.0 } else { size };
        p.at.point(DVec3::new(pick(1, p.size.x), pick(2, p.size.y), pick(4, p.size.z)))
    };
    let points: Vec<DVec3> = parts.iter().flat_map(|p| (0..8).map(|i| corner(p, i))).collect();
    (!points.is_empty()).then(|| range(&points, along))
}

/// Whether a joint holds its piece to the wall.
fn hangs(traits: &Traits) -> bool {
    traits.hangs_on_wall
}

/// Whether a joint of a piece has a trait.
fn any(worked: &WorkedJob, id: PieceId, have: impl Fn(&Traits) -> bool) -> bool {
    worked.joints.iter().any(|joint| {
        let mut pieces = joint.parts.iter().filter_map(|p| worked.parts.get(*p)).map(|p| p.piece);
        have(&joint.traits) && pieces.any(|piece| piece == id)
    })
}

/// Whether another piece ends where this one begins, so that it may stand on it.
fn on_another(job: &Job, worked: &WorkedJob, id: PieceId, low: f64) -> bool {
    let others = (0..job.pieces.len()).map(PieceId).filter(|other| *other != id);
    let mut tops = others.filter_map(|other| reach(&parts(worked, other), DVec3::Z));
    tops.any(|(_, top)| (top - low).abs() < NEAR)
}

/// Whether a bought part may hold it, or a hole goes right through a part at its
/// back from front to back.
fn is_fixed(job: &Job, own: &[&WorkedPart]) -> bool {
    let bought = |p: &&WorkedPart| {
        job.stock.get(p.stock.0).is_some_and(|stock| matches!(stock.kind, StockKind::Bought))
    };
    let back = Side::Back.normal();
    let furthest = reach(own, back).map_or(0.0, |(_, far)| far);
    let at_back = |p: &WorkedPart| reach(&[p], back).is_some_and(|(_, far)| far > furthest - TOUCH);
    own.iter().any(bought)
        || own.iter().any(|p| at_back(p) && p.cuts.iter().any(|cut| bored_through(p, cut, back)))
}
