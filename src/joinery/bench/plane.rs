//! The plane on which two parts meet, and how inserts are moved on it.

use super::meet::{Pair, Rect};
use super::mitre_plane::mitre_plane;
use super::pocket::WALL;
use super::seen::Bench;
use super::tolerance::ASKEW;
use crate::geometry::DVec3;
use crate::joinery::corners::{compound, mitre};
use crate::model::{OptionKind, OptionSpec, Usual, Work};
use crate::problem::Problem;

/// The meeting plane: its shared rectangle and the way out of the first part.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Plane {
    /// What both parts share on it.
    pub(in crate::joinery) rect: Rect,
    /// Out of the first part, into the second; unit, piece coordinates.
    pub(in crate::joinery) out: DVec3,
}

/// The option that moves inserts off the middle.
pub(in crate::joinery) const OFFSET: OptionSpec = OptionSpec {
    key: "offset",
    kind: OptionKind::Length { min: 0.0, max: 300.0 },
    default: &[Usual::Length(0.0), Usual::Words(": about the middle of the meeting faces")],
    says: "how far from the middle they stand, towards the side `toward`",
};

/// The option that says which way.
pub(in crate::joinery) const TOWARD: OptionSpec = OptionSpec {
    key: "toward",
    kind: OptionKind::Side,
    default: &[Usual::Words("needed with `offset`")],
    says: "the side of the piece they are moved to",
};

impl Bench<'_> {
    /// Where two parts meet, on their mitre if they have one, else face to face,
    /// with its middle moved as `offset` and `toward` ask. `what` names what
    /// stands there, in the plural.
    pub(in crate::joinery) fn meeting_plane(
        &self,
        work: &Work,
        (a, b): (usize, usize),
        what: &str,
    ) -> Result<Plane, Problem> {
        let plane = if self.mitred(a, b) && !compound::leans(self, a, b) {
            let plane = mitre_plane(self, work, a, b)?;
            Plane { rect: plane.rect(), out: plane.normal }
        } else {
            let (m, rect) = self.met(work, a, b)?;
            Plane { rect, out: -m.normal }
        };
        moved(self, work, plane, Pair { a, b }, what)
    }

    /// Whether two parts are joined by `mitre`.
    pub(in crate::joinery) fn mitred(&self, a: usize, b: usize) -> bool {
        self.job.works.iter().any(|w| {
            let pair = (w.part(0).map(|p| p.0), w.part(1).map(|p| p.0));
            // Either may be named first: neither part of a mitre leads.
            w.word.name == mitre::WORD.name && (pair == (Some(a), Some(b)) || pair == (Some(b), Some(a)))
        })
    }

    /// The side `toward` that goes with `offset`; an error if it is left out.
    pub(in crate::joinery) fn toward(
        &self,
        work: &Work,
        offset: f64,
        parts: &[usize],
    ) -> Result<DVec3, Problem> {
        let side = work.options.sides("toward").and_then(|s| s.first());
        side.map(|side| side.normal()).ok_or_else(|| {
            let message = format!("an offset of {} does not say which way", self.mm(offset));
            self.error(work, "missing-option", message, parts).help("add `toward` with a side")
        })
    }

    /// Which of the two directions of a meeting face `toward` lies along, and
    /// which way on it: true for lengthwise. An error if along neither.
    pub(in crate::joinery) fn on_the_face(
        &self,
        work: &Work,
        rect: &Rect,
        toward: DVec3,
        (a, b): (usize, usize),
    ) -> Result<(bool, f64), Problem> {
        let (along, across) = (toward.dot(rect.along), toward.dot(rect.across));
        if along.abs().max(across.abs()) >= ASKEW {
            let lengthwise = along.abs() >= across.abs();
            return Ok((lengthwise, if lengthwise { along.signum() } else { across.signum() }));
        }
        let message = format!(
            "`{}` and `{}` meet on a face that looks to the {} itself",
            self.name(a),
            self.name(b),
            super::meet::side_of(toward).name()
        );
        Err(self
            .error(work, "no-such-edge", message, &[a, b])
            .help("name a side that lies along the meeting faces"))
    }
}

/// The plane with its middle moved as `offset` asks. As much as is left free at
/// one side is left free at the other, so that what stands there stands evenly
/// about its own middle.
pub(in crate::joinery) fn moved(
    bench: &Bench<'_>,
    work: &Work,
    plane: Plane,
    pair: Pair,
    what: &str,
) -> Result<Plane, Problem> {
    let Pair { a, b } = pair;
    let Some(offset) = work.options.number("offset").filter(|by| *by > 0.0) else { return Ok(plane) };
    let toward = bench.toward(work, offset, &[a, b])?;
    let mut rect = plane.rect;
    let (lengthwise, sign) = bench.on_the_face(work, &rect, toward, (a, b))?;
    let room = if lengthwise { &mut rect.length } else { &mut rect.width };
    // What is free at the other side is given up as well: the row stands about its own
    // middle.
    *room -= 2.0 * offset;
    if *room < 2.0 * WALL {
        let message = format!(
            "an offset of {} leaves no room for {what} between `{}` and `{}`",
            bench.mm(offset),
            bench.name(a),
            bench.name(b)
        );
        return Err(bench.error(work, "does-not-fit", message, &[a, b]).help("make `offset` less"));
    }
    rect.centre += if lengthwise { rect.along } else { rect.across } * (offset * sign);
    Ok(Plane { rect, ..plane })
}
