//! The job after every joint has found its place and cut its parts.

use std::sync::Arc;

use super::cut_kind::CutKind;
use super::fill::Fill;
use super::opening::Opening;
use crate::geometry::{DVec3, Placement};
use crate::joinery::facts::Facts;
use crate::joinery::facts::item::Item;
use crate::joinery::facts::traits::Traits;
use crate::model::{PartId, PieceId, Side, StockId};
use crate::solid::{Body, Prism, Solid, carve};
use crate::source::Origin;

/// Every part of the job, worked.
#[derive(Clone, Debug, Default)]
pub struct WorkedJob {
    /// The parts: those of the script first and in its order, then lippings
    /// and other parts that joints brought.
    pub parts: Vec<WorkedPart>,
    /// The joints, in script order.
    pub joints: Vec<WorkedJoint>,
}

/// What a worked part comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartSource {
    /// A part of the script.
    Part(PartId),
    /// A lipping glued to part `of` on its `side`.
    Lipping {
        /// Index into [`WorkedJob::parts`] of the lipped part.
        of: usize,
        /// Side of the piece the lipping looks to.
        side: Side,
    },
}

/// Left or right of a mirror pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hand {
    /// Not one of a mirror pair.
    None,
    /// The left of a pair.
    Left,
    /// The right of a pair.
    Right,
}

/// A part: stock minus cuts.
#[derive(Clone, Debug)]
pub struct WorkedPart {
    /// What it comes from.
    pub source: PartSource,
    /// Its name.
    pub name: String,
    /// Part number on drawings and lists. Parts of one shape share it.
    pub number: u32,
    /// Which of a mirror pair it is.
    pub hand: Hand,
    /// The piece it belongs to.
    pub piece: PieceId,
    /// What it is cut from.
    pub stock: StockId,
    /// Part coordinates in piece coordinates.
    pub at: Placement,
    /// Length, width, thickness of the blank everything is cut from, joints
    /// included and lippings excluded, mm. The blank spans 0..size on each axis.
    pub size: DVec3,
    /// The side of the piece the face mark looks to.
    pub face: Side,
    /// The side of the piece the edge mark looks to.
    pub edge: Side,
    /// The blank.
    pub body: Body,
    /// What is cut from it, in script order.
    pub cuts: Vec<Cut>,
    /// What is turned out of it and filled flush, in script order.
    pub fills: Vec<Fill>,
    /// Blank minus cuts, in part coordinates. Same-shaped parts share it.
    pub solid: Arc<Solid>,
    /// Remark for the list.
    pub remark: Option<String>,
    /// Where it was asked for.
    pub origin: Origin,
}

/// When a cut is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// On the loose part.
    Loose,
    /// After the glue-up it belongs to.
    AfterGlueUp,
}

impl Stage {
    /// Whether a cut of this stage waits for a glue-up.
    pub fn waits(self) -> bool {
        self == Self::AfterGlueUp
    }
}

/// One cut on one part.
#[derive(Clone, Debug)]
pub struct Cut {
    /// What is removed, in part coordinates; may reach outside the blank.
    pub shape: Prism,
    /// What it is.
    pub kind: CutKind,
    /// When it is made.
    pub stage: Stage,
    /// Index into [`WorkedJob::joints`]; `None` for shaping of the part itself.
    pub joint: Option<usize>,
    /// Where it was asked for.
    pub origin: Origin,
}

/// Something loose that a joint needs: a tenon, connector, screw.
#[derive(Clone, Debug)]
pub struct Insert {
    /// What it is.
    pub item: Item,
    /// Where each one sits, in piece coordinates: the frame of `body`.
    pub at: Vec<Placement>,
    /// Its shape for pictures, in its own frame, if worth drawing.
    pub body: Option<Prism>,
}

/// A joint, worked.
#[derive(Clone, Debug)]
pub struct WorkedJoint {
    /// The word that made it.
    pub word: &'static str,
    /// The parts it relates: indices into [`WorkedJob::parts`].
    pub parts: Vec<usize>,
    /// What it needs besides the parts.
    pub inserts: Vec<Insert>,
    /// Directions (piece coordinates, unit) along which the second part may
    /// come to the first; empty for any direction the shapes allow.
    pub ways_in: Vec<DVec3>,
    /// Glued, or dry.
    pub glued: bool,
    /// What it is, in figures.
    pub facts: Facts,
    /// What later stages may ask of it.
    pub traits: Traits,
    /// The plane a detail shows it by, where that is not across its run through
    /// the middle insert.
    pub shown_by: Option<CuttingPlane>,
    /// How its first part opens, where the joint lets it.
    pub opens: Option<Opening>,
    /// Where it was written.
    pub origin: Origin,
}

impl WorkedJoint {
    /// Whether the same word made both.
    pub fn is_made_as(&self, other: &Self) -> bool {
        self.word == other.word
    }

    /// Whether its first part slides on its last, wood on wood.
    pub fn slides_on_wood(&self) -> bool {
        matches!(self.opens, Some(Opening::Slides { .. })) && self.inserts.is_empty()
    }

    /// Whether it closes at the wall. The half of a cleat that is screwed to the piece goes on
    /// while that still lies on the bench.
    pub fn goes_to_wall(&self) -> bool {
        self.traits.hangs_on_wall && !(self.traits.hooks_on && self.ways_in.is_empty())
    }
}

/// A plane that shows a joint best, in piece coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CuttingPlane {
    /// A point in it.
    pub point: DVec3,
    /// Square to it, either way.
    pub toward: DVec3,
}

impl WorkedJob {
    /// The part that is drawn for all of the number of `part`: of a mirror pair the left, else
    /// the first. Index into [`WorkedJob::parts`].
    pub fn drawn(&self, part: &WorkedPart) -> Option<usize> {
        let numbered = |other: &WorkedPart| other.number == part.number;
        let left = self.parts.iter().position(|other| numbered(other) && other.hand == Hand::Left);
        left.or_else(|| self.parts.iter().position(numbered))
    }

    /// A part that opens and all that moves along with it: what joints and
    /// lippings hold to it, but for the joints that let something open. Indices
    /// into [`WorkedJob::parts`], rising.
    pub fn moving_with(&self, leaf: usize) -> Vec<usize> {
        let mut along = vec![false; self.parts.len()];
        let mut next = vec![leaf];
        // In a list and not by calling itself, so that no chain of parts is too long
        // for the stack.
        while let Some(index) = next.pop() {
            let Some(known) = along.get_mut(index).filter(|known| !**known) else { continue };
            *known = true;
            let holds = |j: &&WorkedJoint| j.opens.is_none() && !j.traits.rests_without_holding;
            let fixed = self.joints.iter().filter(holds).filter(|j| j.parts.contains(&index));
            next.extend(fixed.flat_map(|joint| joint.parts.iter().copied()));
        }
        (0..along.len()).filter(|index| along[*index]).collect()
    }
}

impl WorkedPart {
    /// The part with only those of its cuts that `made` says yes to, in part coordinates, for a
    /// picture of it before the others; `None` where they leave no shape.
    pub fn with_cuts(&self, made: impl Fn(&Cut) -> bool) -> Option<Solid> {
        let shapes: Vec<Prism> =
            self.cuts.iter().filter(|cut| made(cut)).map(|cut| cut.shape.clone()).collect();
        carve(&self.body, &shapes).ok()
    }

    /// Number with its hand as printed: `4`, `4 L`, `4 R`.
    pub fn mark(&self) -> String {
        match self.hand {
            Hand::None => self.number.to_string(),
            Hand::Left => format!("{} L", self.number),
            Hand::Right => format!("{} R", self.number),
        }
    }
}
