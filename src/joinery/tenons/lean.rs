//! How a part stands to the face it is tenoned into, where that is not read off two
//! boxes: both as they are, at an angle, or on a face that is shaped.

use crate::geometry::{DVec3, Plane, trig};
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::meet::{Pair, TOUCH, meeting};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::ONE_WAY;
use crate::joinery::corners::compound::saw;
use crate::joinery::meeting::sawing::Fit;
use crate::model::Work;
use crate::problem::Problem;

/// A way across a part, and its size that way.
#[derive(Clone, Copy, Debug)]
pub(super) struct Across {
    /// Unit direction.
    pub(super) way: DVec3,
    /// Size of the part along it, mm.
    pub(super) size: f64,
}

/// How a part stands to the face it is tenoned into.
pub(in crate::joinery) struct Lean<'a> {
    /// The part with the tenon, as placed.
    pub(super) rail: &'a Blank,
    /// The part with the mortise, as placed.
    pub(super) member: &'a Blank,
    /// The two parts.
    pub(super) parts: Pair,
    /// Along the rail, into the member: its length, or its width.
    pub(super) into: DVec3,
    /// Half of the rail's size that way, mm.
    pub(super) half: f64,
    /// The rail's two other ways.
    pub(super) sides: [Across; 2],
    /// The face it stands against; its normal points out of the member.
    pub(super) face: Plane,
    /// The face by which the rail's middle line would leave the member.
    pub(super) far: Plane,
    /// Whether it stands square to the face.
    pub(super) is_square: bool,
}

impl<'a> Lean<'a> {
    /// How two parts stand whose boxes do not tell; `None` where they do. An error where
    /// no end or edge of the first runs into a face of the second.
    pub(in crate::joinery) fn of(
        bench: &'a Bench<'_>,
        work: &Work,
        (rail, member): (usize, usize),
    ) -> Result<Option<Self>, Problem> {
        let pair = Pair { a: rail, b: member };
        if bench.are_plain(rail, member) || boxes_tell(bench, pair) {
            return Ok(None);
        }
        let trim = match bench.sawn_to(pair, Fit::Meet) {
            Ok(trim) => trim,
            // What is said of boxes that cross or stand apart is true of what is cut of
            // them too.
            Err(_) if bench.are_square(rail, member) => return Ok(None),
            Err(why) => return Err(bench.refused(work, pair, why)),
        };
        let (first, second) = (&bench.placed[rail], &bench.placed[member]);
        let i = first.axis_along(trim.into).unwrap_or(0);
        let side = |k: usize| Across { way: first.axis(k), size: first.size[k] };
        let (j, k) = if i == 0 { (1, 2) } else { (0, 2) };
        let middle = first.centre();
        let mouth = middle - trim.into * (trim.face.distance(middle) / trim.face.normal.dot(trim.into));
        let far = bench.as_it_is(member).and_then(|real| real.way_out(mouth, trim.into));
        Ok(far.map(|far| Self {
            rail: first,
            member: second,
            parts: pair,
            into: trim.into,
            half: 0.5 * first.size[i],
            sides: [side(j), side(k)],
            face: trim.face,
            far,
            is_square: trim.is_square(),
        }))
    }

    /// How far along the rail from its middle a line at `y` along the first of two ways
    /// and `z` along the second crosses a plane.
    pub(super) fn crosses(&self, ways: (DVec3, DVec3), (y, z): (f64, f64), plane: &Plane) -> f64 {
        let start = self.rail.centre() + ways.0 * y + ways.1 * z;
        -plane.distance(start) / plane.normal.dot(self.into)
    }

    /// Where that is.
    pub(super) fn at(&self, ways: (DVec3, DVec3), (y, z): (f64, f64), plane: &Plane) -> DVec3 {
        let start = self.rail.centre() + ways.0 * y + ways.1 * z;
        start + self.into * self.crosses(ways, (y, z), plane)
    }

    /// Least and greatest of that at the corners of a section.
    pub(super) fn range(&self, ways: (DVec3, DVec3), size: (f64, f64), plane: &Plane) -> (f64, f64) {
        let corners = [(-0.5, -0.5), (-0.5, 0.5), (0.5, -0.5), (0.5, 0.5)];
        let all = corners.into_iter().map(|(y, z)| self.crosses(ways, (y * size.0, z * size.1), plane));
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), t| (a.min(t), b.max(t)))
    }

    /// Where the rail's middle line enters the member's box, along it from its middle, if it
    /// runs along an axis of that.
    pub(super) fn before(&self) -> Option<f64> {
        self.member.axis_along(self.into)?;
        Some(self.member.reach(self.into).0 - self.into.dot(self.rail.centre()))
    }

    /// Angle off square to the face, degrees.
    pub(super) fn degrees(&self) -> f64 {
        trig::acos((-self.into.dot(self.face.normal)).min(1.0)).to_degrees()
    }

    /// Gauge and blade for its shoulders, degrees; of an edge the gauge is off its length.
    pub(super) fn saw(&self) -> (f64, f64) {
        let normal = self.rail.at.local_dir(self.face.normal);
        let is_end = self.into.dot(self.rail.at.x).abs() > 0.5;
        saw(if is_end { normal } else { DVec3::new(normal.y, normal.x, normal.z) })
    }
}

/// Whether two square parts, one of them shaped, meet where their boxes do.
fn boxes_tell(bench: &Bench<'_>, pair: Pair) -> bool {
    let Pair { a, b } = pair;
    if !bench.are_square(a, b) {
        return false;
    }
    let m = meeting(&bench.placed[a], &bench.placed[b]);
    let is_there = |patch: &crate::solid::Patch| {
        patch.plane.normal.dot(m.normal) > ONE_WAY && (patch.plane.offset - m.face).abs() <= TOUCH
    };
    bench.patch(a, b).is_some_and(|patch| is_there(&patch))
}
