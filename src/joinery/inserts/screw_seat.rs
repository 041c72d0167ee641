//! The faces that screws draw together.

use crate::joinery::bench::meet::{Meeting, Pair, Rect, TOUCH, shared};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::channels::rebate;
use crate::model::Work;
use crate::problem::Problem;

/// Least wood beside a screw in a rebate, mm: the shoulder holds the edge of what lies in it
/// (common practice, no source).
const IN_REBATE: f64 = 2.0;

/// Where screws go from the first part into the second.
pub(super) struct Seat {
    /// How the two meet there.
    pub(super) m: Meeting,
    /// What both share.
    pub(super) rect: Rect,
    /// Least wood on either side of a screw on it, mm.
    pub(super) beside: f64,
}

/// The face of the second part that the first is screwed to. What lies in a rebate meets its
/// member on the shoulder too, but a screw that way would run along the panel: it is drawn to
/// the floor.
pub(super) fn seat(bench: &Bench<'_>, work: &Work, pair: Pair) -> Result<Seat, Problem> {
    let Pair { a, b } = pair;
    let Some(bed) = rebate::bed(bench, a, b) else {
        let (m, rect) = bench.met(work, a, b)?;
        return Ok(Seat { m, rect, beside: WALL });
    };
    // Its lap is none of what shaping leaves of it, so nobody could say what wood a screw
    // finds there.
    if bench.shaped(a).is_some() {
        return Err(shaped(bench, work, pair));
    }
    let gap = bench.grown[a].reach(bed.open).0 - bed.floor;
    if gap > TOUCH {
        return Err(above_the_floor(bench, work, pair, gap));
    }
    let m = Meeting { normal: bed.open, gap: 0.0, face: bed.floor };
    let rect = shared(&bench.grown[a], &bench.grown[b], m.normal, m.face);
    let rect = rect.ok_or_else(|| above_the_floor(bench, work, pair, 0.0))?;
    Ok(Seat { m, rect, beside: IN_REBATE })
}

/// What lies in the rebate is cut to a shape.
fn shaped(bench: &Bench<'_>, work: &Work, Pair { a, b }: Pair) -> Problem {
    let message = format!(
        "`{}` is shaped: screws in its rebate in `{}` cannot be set out",
        bench.name(a),
        bench.name(b)
    );
    bench
        .error(work, "not-square", message, &[a, b])
        .help("screw it to what it covers, such as shelves, or glue it into its rebates")
}

/// Nothing lies under the part that a screw could draw it to.
fn above_the_floor(bench: &Bench<'_>, work: &Work, Pair { a, b }: Pair, gap: f64) -> Problem {
    let message = format!(
        "`{}` lies {} off the floor of its rebate in `{}`: a screw has nothing to draw it to",
        bench.name(a),
        bench.mm(gap),
        bench.name(b)
    );
    bench
        .error(work, "parts-do-not-meet", message, &[a, b])
        .help("hold what lies in the rebate with `beads`, or let the part lie on its floor")
}
