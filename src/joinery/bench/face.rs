//! The side of a part a shaping word works on, and places on it.

use super::blank::Blank;
use super::cut_kind::CutKind;
use super::made::{Made, Sawn};
use super::meet::{TOUCH, side_of};
use super::seen::Bench;
use super::tolerance::{HALF_SQUARE, PARALLEL};
use crate::geometry::{DVec2, DVec3, Placement};
use crate::joinery::meeting::real::Real;
use crate::model::{Side, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// Where less of an arris than this share is left, it is gone: the end of a quarter circle
/// touches it.
const LEFT: f64 = 0.1;

/// One side of a part, whole with its lippings.
pub(in crate::joinery) struct PartFace {
    /// The part.
    pub(in crate::joinery) part: usize,
    /// The side of the piece it looks to.
    pub(in crate::joinery) side: Side,
    /// Its normal, out of the part: the way to that side, or nearly where the part
    /// leans.
    pub(in crate::joinery) out: DVec3,
    /// The whole part.
    pub(in crate::joinery) whole: Blank,
    /// On the side, at the part's marked corner, z into the wood; x and y are
    /// part axes one way or the other.
    frame: Placement,
    /// Ways along and across, out from the marked corner.
    pub(in crate::joinery) along: DVec3,
    /// See `along`.
    pub(in crate::joinery) across: DVec3,
    /// Size along and across.
    pub(in crate::joinery) size: DVec2,
    /// Thickness of the part under this side, mm.
    pub(in crate::joinery) thick: f64,
}

/// The side given as the second argument of a shaping word.
pub(in crate::joinery) fn part_face(bench: &Bench<'_>, work: &Work) -> Result<PartFace, Problem> {
    let part = bench.part(work, 0)?;
    // A script without the side was refused before; a job made otherwise gets one that
    // is there.
    let side = work.options.sides("side").and_then(|s| s.first().copied()).unwrap_or(Side::Front);
    let whole = bench.placed[part];
    let out = side.normal();
    let Some((i, out)) = looking(&whole, out) else {
        let message = format!(
            "`{}` has no side that looks to the {}: it stands at an angle of 45° or more to it",
            bench.name(part),
            side.name()
        );
        return Err(bench
            .error(work, "no-such-edge", message, &[part])
            .help("name a side that it turns more squarely"));
    };
    // Along is the longer way where the grain lies in the side, else the width.
    let (u, v) = [(1, 2), (0, 2), (0, 1)][i.min(2)];
    let (along, across) = (whole.axis(u), whole.axis(v));
    let face = whole.reach(out).1;
    let corner = out * face + along * whole.reach(along).0 + across * whole.reach(across).0;
    let frame = Placement { origin: corner, x: along, y: along.cross(out), z: -out };
    let size = DVec2::new(whole.size[u], whole.size[v]);
    Ok(PartFace { part, side, out, whole, frame, along, across, size, thick: whole.size[i] })
}

/// The same of a part that must stand squarely, as at a wall.
pub(in crate::joinery) fn square_face(bench: &Bench<'_>, work: &Work) -> Result<PartFace, Problem> {
    let face = part_face(bench, work)?;
    if face.out.dot(face.side.normal()) > PARALLEL {
        return Ok(face);
    }
    let message = format!(
        "`{}` has no side square to the {}: it stands at an angle",
        bench.name(face.part),
        face.side.name()
    );
    Err(bench.error(work, "no-such-edge", message, &[face.part]).help("name a side that it turns squarely"))
}

/// The axis of a part whose face looks to a side, and its normal: that side itself, or
/// for a part that leans the face that looks there nearest, less than 45 degrees off.
fn looking(whole: &Blank, way: DVec3) -> Option<(usize, DVec3)> {
    if let Some(i) = whole.axis_along(way) {
        return Some((i, way));
    }
    let i = (0..3).find(|i| whole.axis(*i).dot(way).abs() > HALF_SQUARE)?;
    Some((i, whole.axis(i) * whole.axis(i).dot(way).signum()))
}

impl PartFace {
    /// The frame to sink outlines in, z into the wood, and a place on the side
    /// in it.
    pub(in crate::joinery) fn frame(&self) -> Placement {
        self.frame
    }

    /// A place `along` and `across` from the marked corner, in the frame.
    pub(in crate::joinery) fn place(&self, along: f64, across: f64) -> DVec2 {
        // The frame is right-handed, so its y may run against `across`.
        DVec2::new(along, across * self.frame.y.dot(self.across).signum())
    }

    /// True if the frame's y runs against `across`, so that outlines turn over.
    pub(in crate::joinery) fn turned(&self) -> bool {
        self.frame.y.dot(self.across) < 0.0
    }

    /// Refuses a place that is not on the side, with `round` mm about it.
    pub(in crate::joinery) fn check(
        &self,
        bench: &Bench<'_>,
        work: &Work,
        at: DVec2,
        round: f64,
    ) -> Result<(), Problem> {
        // The furthest overhang at any edge, so that the message names the worst.
        let out = (-at).max(at - self.size).max_element() + round;
        if out < TOUCH {
            return Ok(());
        }
        let message = format!(
            "`{}` at {} along and {} across runs {} over the edge of `{}`, whose {} is {} × {}",
            work.word.name,
            bench.figure(at.x),
            bench.figure(at.y),
            bench.mm(out),
            bench.name(self.part),
            self.side.name(),
            bench.figure(self.size.x),
            bench.mm(self.size.y)
        );
        let swapped = DVec2::new(at.y, at.x);
        let help = if (-swapped).max(swapped - self.size).max_element() + round < TOUCH {
            format!(
                "along the grain comes first, then across it: {} along and {} across lies on it",
                bench.figure(swapped.x),
                bench.mm(swapped.y)
            )
        } else {
            "measure along the grain and across it, from the corner of the marked faces".to_owned()
        };
        Err(bench.error(work, "off-the-part", message, &[self.part]).help(help))
    }

    /// The depth asked for, or right through; an error if it is more.
    pub(in crate::joinery) fn depth(&self, bench: &Bench<'_>, work: &Work) -> Result<f64, Problem> {
        let depth = work.options.number("depth").unwrap_or(self.thick);
        if depth <= self.thick + TOUCH {
            return Ok(depth);
        }
        let message = format!(
            "a depth of {} is more than `{}` has: {}",
            bench.mm(depth),
            bench.name(self.part),
            bench.mm(self.thick)
        );
        Err(bench
            .error(work, "breaks-through", message, &[self.part])
            .help("leave `depth` out to cut right through"))
    }

    /// Half the space: all beyond the plane through `point`, piece coordinates.
    pub(in crate::joinery) fn beyond(&self, kind: CutKind, point: DVec3, normal: DVec3) -> Option<Sawn> {
        Prism::half_space(point, normal).map(|shape| Sawn { part: self.part, kind, shape })
    }

    /// The arrises that `edges` asks for, all four of them if it is left out, as ways from
    /// the side to its neighbours.
    pub(in crate::joinery) fn arrises(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<DVec3>, Problem> {
        match work.options.sides("edges") {
            Some(sides) => sides.iter().map(|side| self.toward(bench, work, *side)).collect(),
            None => Ok(vec![self.along, -self.along, self.across, -self.across]),
        }
    }

    /// The cuts that `cut` makes on the arrises to the neighbours `ways`; an error where one of
    /// those is there no more.
    pub(in crate::joinery) fn on_arrises(
        &self,
        bench: &Bench<'_>,
        work: &Work,
        ways: &[DVec3],
        cut: impl Fn(DVec3) -> Option<Sawn>,
    ) -> Result<Vec<Sawn>, Problem> {
        let mut cuts = Vec::new();
        for way in ways {
            let Some(cut) = cut(*way) else { continue };
            self.arris_is_left(bench, work, *way, &cut)?;
            cuts.push(cut);
        }
        Ok(cuts)
    }

    /// Refuses a cut on the arris to the neighbour `way` where what shapes the part has taken
    /// that arris away: it would cut air, and the edge that is there now stay as it is.
    fn arris_is_left(&self, bench: &Bench<'_>, work: &Work, way: DVec3, cut: &Sawn) -> Result<(), Problem> {
        let Some(real) = bench.real.get(self.part).and_then(Option::as_ref) else { return Ok(()) };
        let taken = |solid: &Real| {
            let left = solid.less(&cut.shape).map_or(0.0, |left| left.volume());
            solid.solid().volume() - left
        };
        let whole = bench.job.parts.get(self.part).and_then(|part| Real::of(part, real.blank, &[]));
        if whole.is_none_or(|whole| taken(real) > LEFT * taken(&whole)) {
            return Ok(());
        }
        let message = format!(
            "nothing is left of the arris to the {} of `{}`: what shapes the part has taken it away",
            side_of(way).name(),
            bench.name(self.part)
        );
        Err(bench.error(work, "arris-gone", message, &[self.part]).help(
            "name in `edges` those that are left; a curved edge is worked with a cutter that follows it: say so in a `note`",
        ))
    }

    /// What of the side an arris to the neighbour `way` may take where all of `ways` are
    /// worked, mm.
    pub(in crate::joinery) fn room_from(&self, way: DVec3, ways: &[DVec3]) -> f64 {
        let (lo, hi) = self.whole.reach(way);
        // Opposite arrises share the side between them.
        if ways.iter().any(|other| other.dot(way) < -0.5) { 0.5 * (hi - lo) } else { hi - lo }
    }

    /// Which way to the `side` of the piece, if that lies square to this one.
    pub(in crate::joinery) fn toward(
        &self,
        bench: &Bench<'_>,
        work: &Work,
        side: Side,
    ) -> Result<DVec3, Problem> {
        // A side that looks the same way as the face has no arris in common with it.
        if let Some((_, way)) =
            looking(&self.whole, side.normal()).filter(|(_, w)| w.dot(self.out).abs() < 0.5)
        {
            return Ok(way);
        }
        let message = format!(
            "the {} of `{}` has no arris to the {}",
            self.side.name(),
            bench.name(self.part),
            side.name()
        );
        Err(bench.error(work, "no-such-edge", message, &[self.part]).help("name a side that lies beside it"))
    }
}

/// Shaping of one part.
pub(in crate::joinery) fn shaped(part: usize, cuts: Vec<Sawn>) -> Vec<Made> {
    vec![Made { parts: vec![part], cuts, shaping: true, ..Made::default() }]
}
