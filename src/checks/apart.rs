//! Joints whose parts do not touch once they are shaped. Words that are cut square see
//! the box of a part; this sees what is left of it.

use crate::joinery::{Cut, CutKind, HOLDS, PartSource, WorkedJob, WorkedJoint, WorkedPart};
use crate::problem::Problem;
use crate::solid::Standing;

/// An error for each glued joint of two parts that shaping leaves without a face on one
/// another.
pub(super) fn check(worked: &WorkedJob) -> Vec<Problem> {
    worked.joints.iter().filter_map(|joint| told(worked, joint)).collect()
}

/// Whether a part is shaped by a word that joins nothing.
fn is_shaped(part: &WorkedPart) -> bool {
    let shapes = |cut: &Cut| matches!(cut.kind, CutKind::Outline | CutKind::Taper | CutKind::Bevel);
    part.cuts.iter().any(|cut| cut.joint.is_none() && shapes(cut))
}

/// What is said of one joint.
fn told(worked: &WorkedJob, joint: &WorkedJoint) -> Option<Problem> {
    let [a, b] = joint.parts.as_slice() else { return None };
    let (a, b) = (worked.parts.get(*a)?, worked.parts.get(*b)?);
    let is_scripted = |part: &WorkedPart| matches!(part.source, PartSource::Part(_));
    let glued = joint.glued && is_scripted(a) && is_scripted(b);
    // A round lies in a bore that is a hair wider, and its word holds that to the wood there is.
    if !glued || joint.traits.stands_in_bore || !(is_shaped(a) || is_shaped(b)) {
        return None;
    }
    let (first, second) = (Standing::new(&a.solid, &a.at), Standing::new(&b.solid, &b.at));
    if first.contacts(&second).iter().map(|contact| contact.area).sum::<f64>() > HOLDS {
        return None;
    }
    let message = format!(
        "what shapes `{}` and `{}` leaves no face of one on the other, so that this `{}` joins nothing",
        a.name, b.name, joint.word
    );
    Some(
        Problem::error("parts-do-not-meet", message)
            .at(joint.origin)
            .help("shape them less where they meet, or saw one to the other there with `trim_to` before it is joined")
            .part(a.name.clone())
            .part(b.name.clone()),
    )
}
