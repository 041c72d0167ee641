//! One operation on one part.

use super::setting::{Against, Setting, Task};
use crate::joinery::Machine;

/// What a part is like before an operation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Cut to its rough size, planed where it is solid.
    Rough,
    /// Lipped, the lippings not yet trimmed all round.
    Lipped,
    /// At its finished size, lippings on.
    Trimmed,
    /// Glued up with others.
    GluedUp,
}

/// Where a cut lies on one axis of the part as it then is, mm from the face at
/// its origin.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Extent {
    /// The axis: 0 along, 1 across, 2 through.
    pub axis: usize,
    /// Where it begins.
    pub low: f64,
    /// Where it ends.
    pub high: f64,
    /// Size of the part on that axis.
    pub size: f64,
}

/// One operation.
#[derive(Clone, Debug)]
pub struct Operation {
    /// The part as it is before.
    pub state: State,
    /// The machine.
    pub machine: Machine,
    /// Whether it waits for a glue-up.
    pub later: bool,
    /// What is done.
    pub task: Task,
    /// What is set.
    pub setting: Setting,
    /// What lies against the fence. Faces of [`Against::Fence`] are chosen when
    /// operations are gathered: until then they name the origin's side.
    pub against: Against,
    /// How far off the fence it is.
    pub fence: Option<Reach>,
    /// Where along the part it is, if a stop sets that.
    pub along: Option<Extent>,
    /// Where a channel stops before it runs out: at its low and its high end.
    pub stopped: Option<Extent>,
    /// The length its mitres make, long point to long point, mm.
    pub long: Option<f64>,
}

/// How far off the fence a cut is.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Reach {
    /// Where it lies.
    pub at: Extent,
    /// What the distance is measured to.
    pub to: To,
    /// Whether all cuts of a part keep one fence, rather than the nearer face each.
    pub one_fence: bool,
}

/// What a distance from a fence is measured to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum To {
    /// The near side of the cut.
    Side,
    /// The middle of the cut.
    Middle,
    /// The point of a V groove.
    Point,
}

impl Extent {
    /// Its middle.
    pub fn middle(self) -> f64 {
        f64::midpoint(self.low, self.high)
    }

    /// The same seen from the face opposite.
    pub fn turned(self) -> Self {
        Self { low: self.size - self.high, high: self.size - self.low, ..self }
    }
}

impl Reach {
    /// The distance from the face at the origin, or from that opposite.
    pub fn distance(self, far: bool) -> f64 {
        let at = if far { self.at.turned() } else { self.at };
        match self.to {
            To::Side => at.low.max(0.0),
            To::Middle | To::Point => at.middle(),
        }
    }
}
