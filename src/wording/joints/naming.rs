//! How the sentence about a joint names its parts.

use crate::joinery::{Facts, WorkedJob, WorkedJoint, WorkedPart};
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
    /// What a joint is called: its summary, or its own word where that says all.
    pub fn called(self, worked: &WorkedJob, joint: &WorkedJoint) -> String {
        // Until every joint hands on facts, some hand on the sentence.
        let summary = match joint.facts {
            Facts::Unstated => joint.says.clone(),
            _ => self.summary(&joint.facts, &|part| name(worked, part)),
        };
        if summary.is_empty() { joint.word.replace('_', " ") } else { summary }
    }

    /// How the machine is set for a joint.
    pub fn setting_of(self, worked: &WorkedJob, joint: &WorkedJoint, naming: Naming) -> String {
        // Until every joint hands on facts, some hand on the sentence.
        if joint.facts == Facts::Unstated {
            return match naming {
                Naming::ByName => joint.setting.clone(),
                Naming::InTurn => replaced(worked, joint),
            };
        }
        match (naming, pair(worked, joint)) {
            (Naming::InTurn, Some(_)) => {
                let first = joint.parts.first().copied();
                let turn = |part: usize| if first == Some(part) { "the first" } else { "the second" };
                self.setting(&joint.facts, &|part| turn(part).to_owned())
            }
            _ => self.setting(&joint.facts, &|part| name(worked, part)),
        }
    }
}

/// The name of a part.
fn name(worked: &WorkedJob, part: usize) -> String {
    worked.parts.get(part).map_or("part", |p| p.name.as_str()).to_owned()
}

/// The two parts of a joint, where their names tell them apart.
fn pair<'a>(worked: &'a WorkedJob, joint: &WorkedJoint) -> Option<(&'a WorkedPart, &'a WorkedPart)> {
    let [a, b] = joint.parts.as_slice() else { return None };
    worked.parts.get(*a).zip(worked.parts.get(*b)).filter(|(a, b)| a.name != b.name)
}

/// The sentence a joint hands on, with `the first` and `the second` for the names.
fn replaced(worked: &WorkedJob, joint: &WorkedJoint) -> String {
    let Some((a, b)) = pair(worked, joint) else { return joint.setting.clone() };
    let turned = |clause: &str| {
        [(a, "the first"), (b, "the second")].into_iter().find_map(|(part, turn)| {
            Some(format!("{} in {turn}", clause.strip_suffix(part.name.as_str())?.strip_suffix(" in ")?))
        })
    };
    let clauses = joint.setting.split(", ").map(|clause| turned(clause).unwrap_or_else(|| clause.to_owned()));
    clauses.collect::<Vec<_>>().join(", ")
}
