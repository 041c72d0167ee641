//! Bringing a part from its rough to its finished size, lippings on.

use super::feature::face_on;
use super::operation::{Operation, State};
use super::set::tidy;
use super::setting::{Against, Setting, Task};
use super::tolerance::APART;
use crate::geometry::DVec3;
use crate::joinery::{Machine, WorkedPart};

/// How far a rip fence reaches, mm (common practice, no source): beyond, an edge
/// is straightened along a guide.
const FENCE_REACH: f64 = 900.0;

/// How far a stop of a crosscut fence reaches, mm (common practice, no source).
const STOP_REACH: f64 = 2400.0;

/// Widest part that is pushed past a blade across its length, mm (common practice,
/// no source): wider ones want a sliding table or a guided saw.
const CARRIAGE: f64 = 800.0;

/// How a part is before it is trimmed, and what trimming leaves.
pub(super) struct Trim<'a> {
    /// The part with its lippings on, or as it is where it has none.
    pub(super) part: &'a WorkedPart,
    /// Length and width it is first cut to, without lippings, mm.
    pub(super) rough: [f64; 3],
    /// Length and width of its panel, without lippings, mm.
    pub(super) panel: DVec3,
    /// Thickness of the lippings on the low and the high side of each axis, mm.
    pub(super) lips: [[f64; 2]; 2],
    /// Whether mitres make its length.
    pub(super) mitred: bool,
    /// Whether it is trimmed with the layers it is glued to.
    pub(super) layered: bool,
}

impl Trim<'_> {
    /// The operations, width before length.
    pub(super) fn operations(&self) -> Vec<Operation> {
        [1, 0].into_iter().filter_map(|axis| self.one(axis)).collect()
    }

    fn one(&self, axis: usize) -> Option<Operation> {
        let off = self.rough[axis] - self.panel[axis];
        if off < APART || (axis == 0 && self.mitred) {
            return None;
        }
        let [low, high] = self.lips[axis];
        let size = self.panel[axis] + low + high;
        let guided = if axis == 1 { size > FENCE_REACH } else { size > STOP_REACH || self.wide() };
        let task = match (axis, guided) {
            (1, false) => Task::Rip,
            (1, true) => Task::Straighten,
            (_, false) => Task::Crosscut,
            (_, true) => Task::SquareEnd,
        };
        let against = match (guided, low > 0.0, high > 0.0) {
            (true, ..) => Against::Guide,
            (false, true, _) => Against::Lipping { face: face_on(axis, false) },
            (false, false, true) => Against::Lipping { face: face_on(axis, true) },
            (false, false, false) if axis == 0 => Against::SquareEnd,
            (false, false, false) => Against::PlanedEdge,
        };
        let setting = if guided {
            Setting::Off { off: tidy(off), left: tidy(size) }
        } else {
            Setting::Size { size: tidy(size) }
        };
        let lipped = self.lips.iter().flatten().any(|thick| *thick > 0.0);
        Some(Operation {
            state: match (self.layered, lipped) {
                (true, _) => State::GluedUp,
                (false, true) => State::Lipped,
                (false, false) => State::Rough,
            },
            machine: Machine::SawSquare,
            later: self.layered,
            task,
            setting,
            against,
            fence: None,
            along: None,
            stopped: None,
            long: None,
        })
    }

    fn wide(&self) -> bool {
        self.part.size.y > CARRIAGE
    }
}
