//! Slots for screws, where one part must be free to move under them across its grain.

use crate::geometry::DVec3;
use crate::joinery::bench::meet::{Pair, Rect};
use crate::joinery::bench::pocket::{Oblong, WALL, pocket};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{NOISE, STEPPED};
use crate::joinery::channels::movement::{self, edge_moves, points, unknown_wood};
use crate::joinery::facts::inserts;
use crate::measure::{INCH, Unit};
use crate::model::{OptionKind, OptionSpec, Usual, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The option `slots`.
pub(in crate::joinery) const SLOTS: OptionSpec = OptionSpec {
    key: "slots",
    kind: OptionKind::YesNo,
    default: &[Usual::Words("false: round holes hold the parts to one another")],
    says: "cuts slots in the first part in place of holes, but for one in the middle, so that the parts can move against \
           one another across the grain; screws with round heads and washers, which lie on the face: nothing is sunk by \
           `countersunk`, `counterbore` or `plug` then",
};

/// The option `move`.
pub(in crate::joinery) const MOVE: OptionSpec = OptionSpec {
    key: "move",
    kind: OptionKind::Length { min: 0.2, max: 40.0 },
    default: &[Usual::Words("by the wood and width of the part that moves more")],
    says: "how far the outer screws may move in their slots either way",
};

/// The option `season`.
pub(in crate::joinery) const SEASON: OptionSpec = OptionSpec {
    key: "season",
    kind: OptionKind::Ratio { min: 0.5, max: 12.0 },
    default: &[Usual::Bare(movement::SEASON)],
    says: "points of moisture content by which the wood gets damper, or drier, than at the bench",
};

/// How much wider than its screw a slot is, mm.
const ROOM: f64 = 0.5;
/// Steps that screws move by in their slots, mm: half a millimetre, or a thirty-second of an
/// inch, by which slots are as wide too.
const STEP: f64 = 0.5;
/// See `STEP`.
const INCH_STEP: f64 = INCH / 32.0;
/// Movement under which a slot is not worth cutting, mm.
const LEAST: f64 = 0.2;
/// A screw nearer than this to the middle of the parts is where they are held, mm.
const HELD: f64 = 0.5;

/// The slots of a pattern of screws.
pub(in crate::joinery) struct Slots {
    /// The way they run.
    way: DVec3,
    /// Length and width, mm.
    size: [f64; 2],
    moves: f64,
    /// For each screw whether it passes a slot.
    free: Vec<bool>,
}

/// Where screws stand.
pub(in crate::joinery) struct Stands<'a> {
    /// What the parts meet on.
    pub(in crate::joinery) rect: Rect,
    /// Places along and across its middle.
    pub(in crate::joinery) places: &'a [[f64; 2]],
    /// The parts.
    pub(in crate::joinery) pair: Pair,
    /// Diameter of the screws.
    pub(in crate::joinery) thick: f64,
}

/// Slots for screws; `None` if none are asked for.
pub(in crate::joinery) fn slots(
    bench: &Bench<'_>,
    work: &Work,
    stands: &Stands<'_>,
) -> Result<Option<Slots>, Problem> {
    let Stands { rect, places, pair, thick } = *stands;
    if !work.options.yes("slots") {
        return Ok(None);
    }
    let far = |axis: usize| places.iter().map(|p| p[axis].abs()).fold(0.0, f64::max);
    let (along, across) =
        (goes(bench, work, pair, (rect.along, far(0)))?, goes(bench, work, pair, (rect.across, far(1)))?);
    let (way, axis, free) = if along >= across { (rect.along, 0, along) } else { (rect.across, 1, across) };
    let step = if bench.job.unit == Unit::Inch { INCH_STEP } else { STEP };
    let up = |mm: f64| ((mm / step - STEPPED).ceil() * step).max(step);
    let moves = work.options.number("move").unwrap_or_else(|| up(free));
    if free < LEAST {
        return Err(still(bench, work, pair, free));
    }
    let width = if bench.job.unit == Unit::Inch { up(thick + ROOM) } else { thick + ROOM };
    let held = |p: &[f64; 2]| p[axis].abs() < HELD;
    let slots = Slots {
        way,
        size: [width + 2.0 * moves, width],
        moves,
        free: places.iter().map(|p| !held(p)).collect(),
    };
    slots.fits(bench, work, stands)?;
    Ok(Some(slots))
}

/// How far the parts move against one another along `way` at `far` from their middle, mm.
fn goes(bench: &Bench<'_>, work: &Work, pair: Pair, (way, far): (DVec3, f64)) -> Result<f64, Problem> {
    let mut each = [0.0; 2];
    for (place, part) in each.iter_mut().zip(pair.parts()) {
        let (lo, hi) = bench.placed[part].reach(way);
        let edge = edge_moves(bench, part, way, points(bench, work)).or_else(|| {
            // What is said stands for what is not known, across the grain alone.
            let asked = work.options.number("move")?;
            Some(if bench.placed[part].axis_along(way) == Some(1) { asked } else { 0.0 })
        });
        let edge = edge.ok_or_else(|| {
            unknown_wood(bench, work, part, "write `move` with how far the outer screws move")
        })?;
        *place = edge * far / (0.5 * (hi - lo)).max(NOISE);
    }
    Ok((each[0] - each[1]).abs())
}

/// Nothing moves.
fn still(bench: &Bench<'_>, work: &Work, Pair { a, b }: Pair, free: f64) -> Problem {
    let message = format!(
        "`{}` and `{}` move {} against one another where the screws stand: slots gain nothing",
        bench.name(a),
        bench.name(b),
        bench.mm(free)
    );
    bench
        .error(work, "contradiction", message, &[a, b])
        .help("leave `slots` out; they are for solid wood held across its grain")
}

impl Slots {
    /// Refuses slots that run out of the first part, or into one another.
    fn fits(&self, bench: &Bench<'_>, work: &Work, stands: &Stands<'_>) -> Result<(), Problem> {
        let Stands { rect, places, pair: Pair { a, b }, .. } = *stands;
        let (lo, hi) = bench.placed[a].reach(self.way);
        for [along, across] in places {
            let at = self.way.dot(rect.centre + rect.along * *along + rect.across * *across);
            let left = (at - lo).min(hi - at) - 0.5 * self.size[0];
            if left < WALL - NOISE {
                let message = format!(
                    "a slot {} long leaves {} to the end of `{}`; it needs {}",
                    bench.mm(self.size[0]),
                    bench.mm(left.max(0.0)),
                    bench.name(a),
                    bench.mm(WALL)
                );
                return Err(bench
                    .error(work, "breaks-through", message, &[a, b])
                    .help("let the part be longer, or the screws stand further in"));
            }
        }
        Ok(())
    }

    /// The slot of screw `k`, whose head comes to lie at `head`; `None` for one that holds.
    pub(in crate::joinery) fn at(&self, k: usize, head: DVec3, into: DVec3, depth: f64) -> Option<Prism> {
        self.free.get(k).filter(|free| **free)?;
        let [length, width] = self.size;
        pocket(head, self.way, into, Oblong { length, width, depth })
    }

    /// What is said of them.
    pub(in crate::joinery) fn facts(&self) -> inserts::Slots {
        let fixed = self.free.iter().filter(|free| !**free).count();
        inserts::Slots { size: self.size, moves: self.moves, fixed }
    }
}
