//! Whether a part can be got from one that is cut already, and what is left to do.
//!
//! The old part is laid over the new one in every way that keeps its grain, with ends
//! and edges together in turn. It will do where its cuts take nothing that the new part
//! needs, which the solids themselves say: the new blank less its own cuts and those of
//! the old part must be the new part.

use super::tolerance::{NO_WOOD, PLUG, SAME};
use crate::geometry::{DVec3, Placement};
use crate::joinery::{CutKind, PartSource, WorkedJob, WorkedPart};
use crate::model::Face;
use crate::solid::{Body, Prism, carve};

/// What comes off the old part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Off {
    /// The face of the old part, as it is marked.
    pub face: Face,
    /// How much, mm.
    pub by: f64,
}

/// How a new part is got from an old one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trim {
    /// What is sawn or planed off.
    pub off: Vec<Off>,
    /// Whether the new part lies turned in the old one.
    pub turned: bool,
    /// Joints of the new job all of whose cuts are there: they stay true.
    pub keeps: Vec<usize>,
    /// Joints of the new job with cuts still to be made.
    pub joints: Vec<usize>,
    /// Shapings still to be made.
    pub shapings: Vec<CutKind>,
    /// How many holes of the old part have to be plugged.
    pub plugs: usize,
    /// How many of its old cuts are covered by other parts and stay as they are.
    pub hidden: usize,
    /// Whether a lipping comes off with what is sawn off.
    pub lipping_off: bool,
}

/// Why a part cannot be got from the old one.
#[derive(Clone, Debug, PartialEq)]
pub enum Unfit {
    /// It is of another material.
    OtherStock,
    /// It is larger: along which axis (0 length, 1 width, 2 thickness) and by how much, mm.
    Larger {
        /// The axis.
        axis: usize,
        /// By how much, mm.
        by: f64,
    },
    /// It is turned, or otherwise no flat part.
    OtherShape,
    /// Cuts of the old part lie where the new one has wood: what they are, each once.
    Cuts(Vec<CutKind>),
}

/// Two parts held against each other.
#[derive(Clone, Copy)]
pub(super) struct Fitting<'a> {
    /// The old one, with the job it is of.
    pub(super) old: (&'a WorkedJob, &'a WorkedPart),
    /// The new one.
    pub(super) new: (&'a WorkedJob, &'a WorkedPart),
    /// Whether it may be planed thinner.
    pub(super) planed: bool,
}

/// Turns that keep the grain along the length.
const TURNS: [[f64; 3]; 4] = [[1.0, 1.0, 1.0], [1.0, -1.0, -1.0], [-1.0, 1.0, -1.0], [-1.0, -1.0, 1.0]];

/// Whether the new part comes out of the old one, in the way that leaves least to do.
pub(super) fn fit(fitting: Fitting<'_>) -> Result<Trim, Unfit> {
    let (old, new) = (fitting.old.1, fitting.new.1);
    if let Some(larger) = larger(fitting) {
        return Err(larger);
    }
    if matches!(new.source, PartSource::Lipping { .. }) {
        return Ok(shortened(old, new));
    }
    let (Body::Prism(_), Body::Prism(_)) = (&old.body, &new.body) else { return Err(Unfit::OtherShape) };
    if !old.fills.is_empty() || !new.fills.is_empty() {
        return Err(Unfit::OtherShape);
    }
    let mut best: Option<(Effort, Trim)> = None;
    let mut least: Option<(usize, Unfit)> = None;
    for lay in lays(old.size, new.size) {
        match laid(fitting, &lay) {
            Ok(trim) => {
                let effort = Effort::of(&trim);
                if best.as_ref().is_none_or(|(known, _)| effort < *known) {
                    best = Some((effort, trim));
                }
            }
            Err(kinds) => {
                if least.as_ref().is_none_or(|(known, _)| kinds.len() < *known) {
                    least = Some((kinds.len(), Unfit::Cuts(kinds)));
                }
            }
        }
    }
    match (best, least) {
        (Some((_, trim)), _) => Ok(trim),
        (None, Some((_, why))) => Err(why),
        (None, None) => Err(Unfit::OtherShape),
    }
}

/// On which axis the new part is larger, if it is: the one that lacks most.
fn larger(fitting: Fitting<'_>) -> Option<Unfit> {
    let over = (fitting.new.1.size - fitting.old.1.size).to_array();
    let thinner = !fitting.planed && over[2] < -SAME;
    if thinner {
        return Some(Unfit::OtherStock);
    }
    let axis = (0..over.len()).max_by(|a, b| over[*a].total_cmp(&over[*b]))?;
    (over[axis] > SAME).then_some(Unfit::Larger { axis, by: over[axis] })
}

/// A lipping is only cut shorter and planed narrower: what is cut in it is cut when it
/// is glued on.
fn shortened(old: &WorkedPart, new: &WorkedPart) -> Trim {
    let by = (old.size - new.size).to_array();
    let faces = [Face::FarEnd, Face::FarEdge, Face::Back];
    let off = faces.into_iter().zip(by).filter(|(_, by)| *by > SAME).map(|(face, by)| Off { face, by });
    Trim { off: off.collect(), ..Trim::default() }
}

/// How the new part lies in the old one.
struct Lay {
    /// Signs of its axes.
    signs: DVec3,
    /// Its least corner in the coordinates of the old part, mm.
    corner: DVec3,
    /// The new part's frame in those coordinates.
    at: Placement,
}

/// All ways to lay a part of one size in one of another with ends and edges together.
fn lays(old: DVec3, new: DVec3) -> Vec<Lay> {
    let spare = old - new;
    let mut all = Vec::new();
    let steps = |spare: f64| if spare > SAME { vec![0.0, spare] } else { vec![0.0] };
    for signs in TURNS.map(DVec3::from_array) {
        for x in steps(spare.x) {
            for y in steps(spare.y) {
                for z in steps(spare.z) {
                    let corner = DVec3::new(x, y, z);
                    let origin = corner + DVec3::select(signs.cmplt(DVec3::ZERO), new, DVec3::ZERO);
                    let axes = Placement::from_axes(origin, DVec3::X * signs.x, DVec3::Y * signs.y);
                    all.extend(axes.map(|at| Lay { signs, corner, at }));
                }
            }
        }
    }
    all
}

/// What a lay leaves to do; or the cuts that spoil it.
fn laid(fitting: Fitting<'_>, lay: &Lay) -> Result<Trim, Vec<CutKind>> {
    let (old, new) = (fitting.old.1, fitting.new.1);
    let own: Vec<Prism> = new.cuts.iter().map(|cut| cut.shape.clone()).collect();
    let there: Vec<Prism> = old.cuts.iter().map(|cut| cut.shape.seen_from(&lay.at)).collect();
    let wood = |cuts: &[&Prism]| {
        let cuts: Vec<Prism> = cuts.iter().map(|cut| (*cut).clone()).collect();
        carve(&new.body, &cuts).map_or(0.0, |solid| solid.volume())
    };
    let finished: Vec<&Prism> = own.iter().collect();
    let whole = wood(&finished);
    let with = |more: &[&Prism]| wood(&[finished.as_slice(), more].concat());
    let (mut plugs, mut hidden) = (0, 0);
    if whole - with(&there.iter().collect::<Vec<_>>()) > NO_WOOD {
        let takes = old.cuts.iter().zip(&there).filter(|(_, prism)| whole - with(&[prism]) > NO_WOOD);
        let (covered, seen): (Vec<_>, Vec<_>) = takes.partition(|(_, prism)| is_covered(fitting, prism));
        hidden = covered.len();
        let (holes, spoils): (Vec<_>, Vec<_>) =
            seen.into_iter().partition(|(cut, _)| is_hole(cut.kind, &cut.shape));
        if !spoils.is_empty() || hidden + holes.len() == 0 {
            let mut kinds: Vec<CutKind> = spoils.iter().map(|(cut, _)| cut.kind).collect();
            kinds.sort_unstable();
            kinds.dedup();
            return Err(kinds);
        }
        plugs = holes.len();
    }
    let bare: Vec<&Prism> = there.iter().collect();
    let rough = wood(&bare);
    let missing =
        new.cuts.iter().map(|cut| rough - wood(&[bare.as_slice(), &[&cut.shape]].concat()) > NO_WOOD);
    let mut trim =
        Trim { turned: lay.signs != DVec3::ONE, plugs, hidden, off: off(old, new, lay), ..Trim::default() };
    let missing: Vec<bool> = missing.collect();
    for (cut, missing) in new.cuts.iter().zip(&missing) {
        match cut.joint {
            Some(joint) if *missing && !trim.joints.contains(&joint) => trim.joints.push(joint),
            None if *missing && !trim.shapings.contains(&cut.kind) => trim.shapings.push(cut.kind),
            _ => {}
        }
    }
    for joint in new.cuts.iter().filter_map(|cut| cut.joint) {
        if !trim.joints.contains(&joint) && !trim.keeps.contains(&joint) {
            trim.keeps.push(joint);
        }
    }
    trim.lipping_off = lipping_off(fitting, lay, &trim.off);
    Ok(trim)
}

/// Whether a cut is a hole small enough to be plugged.
fn is_hole(kind: CutKind, shape: &Prism) -> bool {
    let drilled = matches!(
        kind,
        CutKind::Hole | CutKind::ScrewHole | CutKind::DowelHole | CutKind::FittingHole | CutKind::AccessHole
    );
    drilled && shape.outline.arcs.iter().all(|arc| 2.0 * arc.radius <= PLUG)
}

/// Whether what a cut opens in the faces of the new part is covered by other parts, as a
/// mortise is by the shoulder of a joint.
fn is_covered(fitting: Fitting<'_>, prism: &Prism) -> bool {
    let (worked, new) = fitting.new;
    let corners = prism.outline.rings.iter().flat_map(|ring| &ring.points);
    let points =
        corners.flat_map(|p| [prism.from, prism.to].map(|z| prism.at.point(DVec3::new(p.x, p.y, z))));
    let (low, high) =
        points.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), p| (low.min(p), high.max(p)));
    let inside = (low.max(DVec3::ZERO), high.min(new.size));
    let mut opens = 0;
    for axis in 0..3 {
        for (reaches, from, to) in [
            (low[axis] < SAME, -OUTSIDE, 0.0),
            (high[axis] > new.size[axis] - SAME, new.size[axis], new.size[axis] + OUTSIDE),
        ] {
            if !reaches {
                continue;
            }
            opens += 1;
            let (mut a, mut b) = inside;
            a[axis] = from;
            b[axis] = to;
            if !covered(worked, new, (a, b)) {
                return false;
            }
        }
    }
    opens > 0
}

/// How far outside a face another part is looked for, mm: less than any part is thick,
/// more than joints have slack.
const OUTSIDE: f64 = 1.0;

/// Whether one other part fills a space beside `part`, given in its coordinates.
fn covered(worked: &WorkedJob, part: &WorkedPart, (low, high): (DVec3, DVec3)) -> bool {
    let (a, b) = (part.at.point(low), part.at.point(high));
    let (low, high) = (a.min(b), a.max(b));
    let mut others = worked.parts.iter().filter(|o| !std::ptr::eq(*o, part) && o.piece == part.piece);
    others.any(|other| {
        let (a, b) = (other.at.point(DVec3::ZERO), other.at.point(other.size));
        let (from, to) = (a.min(b), a.max(b));
        let slack = DVec3::splat(OUTSIDE / 2.0);
        from.cmple(low + slack).all() && to.cmpge(high - slack).all()
    })
}

/// What comes off each face of the old part.
fn off(old: &WorkedPart, new: &WorkedPart, lay: &Lay) -> Vec<Off> {
    let near = lay.corner.to_array();
    let far = (old.size - lay.corner - new.size).to_array();
    let faces = [(Face::NearEnd, Face::FarEnd), (Face::Edge, Face::FarEdge), (Face::Marked, Face::Back)];
    let both = faces.into_iter().zip(near.into_iter().zip(far));
    let both = both.flat_map(|((a, b), (near, far))| [Off { face: a, by: near }, Off { face: b, by: far }]);
    both.filter(|off| off.by > SAME).collect()
}

/// The lipped faces of a part, in its own coordinates.
fn lipped(worked: &WorkedJob, part: &WorkedPart) -> Vec<Face> {
    let own = worked.parts.iter().position(|other| std::ptr::eq(other, part));
    let side = |other: &WorkedPart| match other.source {
        PartSource::Lipping { of, side } if Some(of) == own => Face::facing(part.at.local_dir(side.normal())),
        _ => None,
    };
    worked.parts.iter().filter_map(side).collect()
}

/// Whether a lipped face of the old part is sawn off, or is lipped no more.
fn lipping_off(fitting: Fitting<'_>, lay: &Lay, off: &[Off]) -> bool {
    let keeps: Vec<Face> = lipped(fitting.new.0, fitting.new.1)
        .into_iter()
        .filter_map(|face| Face::facing(face.normal() * lay.signs))
        .collect();
    lipped(fitting.old.0, fitting.old.1)
        .iter()
        .any(|face| off.iter().any(|off| off.face == *face) || !keeps.contains(face))
}

/// What a lay asks for, the weightiest first. What is sawn off is the same for all.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Effort {
    plugs: usize,
    hidden: usize,
    lipping: bool,
    cuts: usize,
    turned: bool,
}

impl Effort {
    fn of(trim: &Trim) -> Self {
        Self {
            plugs: trim.plugs,
            hidden: trim.hidden,
            lipping: trim.lipping_off,
            cuts: trim.joints.len() + trim.shapings.len(),
            turned: trim.turned,
        }
    }
}
