//! How the sentence about a joint names its parts.

use crate::joinery::{WorkedJob, WorkedJoint};
use crate::wording::Words;

/// How the parts of a joint are named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Naming {
    /// By their names.
    ByName,
    /// `the first` and `the second`, where two parts have different names: like
    /// joints between others then read alike, and can share a row.
    InTurn,
}

impl Words {
    /// What a joint is called: its summary, or its own word where that is enough.
    pub fn called(self, worked: &WorkedJob, joint: &WorkedJoint) -> String {
        let summary = self.summary(&joint.facts, &|part| name(worked, part));
        if summary.is_empty() { joint.word.replace('_', " ") } else { summary }
    }

    /// How the machine is set for a joint.
    pub fn setting_of(self, worked: &WorkedJob, joint: &WorkedJoint, naming: Naming) -> String {
        let turn = |part: usize| if joint.parts.first() == Some(&part) { "the first" } else { "the second" };
        if naming == Naming::InTurn && told_apart(worked, joint) {
            self.setting(&joint.facts, &|part| turn(part).to_owned())
        } else {
            self.setting(&joint.facts, &|part| name(worked, part))
        }
    }
}

/// The name of a part.
fn name(worked: &WorkedJob, part: usize) -> String {
    worked.parts.get(part).map_or("part", |p| p.name.as_str()).to_owned()
}

/// Whether a joint has two parts with different names.
fn told_apart(worked: &WorkedJob, joint: &WorkedJoint) -> bool {
    matches!(*joint.parts.as_slice(), [a, b] if name(worked, a) != name(worked, b))
}
