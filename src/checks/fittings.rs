//! Screws and buttons that run into a part which their joint knows nothing of.

use std::cell::LazyCell;

use super::measuring::TOUCH;
use crate::geometry::{Boxes, Placement};
use crate::joinery::{Insert, PartSource, WorkedJob, WorkedJoint, WorkedPart};
use crate::problem::Problem;
use crate::solid::{Body, Standing, carve};

/// A warning for each joint whose fittings stand in a part beside it.
pub(super) fn check(worked: &WorkedJob) -> Vec<Problem> {
    // Most jobs have no such fitting, and need none of it.
    let standing = LazyCell::new(|| {
        let all: Vec<Standing> =
            worked.parts.iter().map(|part| Standing::new(&part.solid, &part.at)).collect();
        let places = Boxes::new(all.iter().map(Standing::around).enumerate().collect());
        (all, places)
    });
    let mut found = Vec::new();
    for joint in &worked.joints {
        let Some(piece) = joint.parts.first().and_then(|p| worked.parts.get(*p)).map(|p| p.piece) else {
            continue;
        };
        for (insert, fitting) in bodies(joint) {
            let (all, places) = &*standing;
            let hit = places.near(fitting.around(), TOUCH).into_iter().find_map(|index| {
                let (part, stands) = (worked.parts.get(index)?, all.get(index)?);
                // A lipping is glued on before it is screwed into, as one with its board.
                let beside = part.piece == piece
                    && !matches!(part.source, PartSource::Lipping { .. })
                    && !joint.parts.contains(&index);
                (beside && runs_into(&fitting, stands)).then_some(part)
            });
            if let Some(part) = hit {
                found.push(told(joint, insert, part));
                break;
            }
        }
    }
    found
}

/// The screws and buttons of a joint, each where it stands.
fn bodies(joint: &WorkedJoint) -> impl Iterator<Item = (&Insert, Standing)> {
    let stiff = |insert: &&Insert| insert.item.is_screw() || insert.item.slides();
    joint.inserts.iter().filter(stiff).flat_map(|insert| {
        let solid = insert.body.as_ref().and_then(|body| carve(&Body::Prism(body.clone()), &[]).ok());
        let place = move |at: &Placement| Some((insert, Standing::new(solid.as_ref()?, at)));
        insert.at.iter().filter_map(place).collect::<Vec<_>>()
    })
}

/// Whether a fitting stands in the wood of a part; what only grazes it is drawn so.
fn runs_into(fitting: &Standing, part: &Standing) -> bool {
    fitting.runs_into(part)
        && part.ways_beside(fitting).into_iter().all(|way| fitting.way_out(part, way) > TOUCH)
}

/// `` a button of `buttons` stands in `Left bearer` ``.
fn told(joint: &WorkedJoint, insert: &Insert, part: &WorkedPart) -> Problem {
    let what = if insert.item.slides() { "button" } else { "screw" };
    let message = format!("a {what} of `{}` runs into `{}`, which it does not join", joint.word, part.name);
    Problem::warning("fitting-in-part", message)
        .at(joint.origin)
        .place(part.origin.user, "the part it runs into")
        .part(part.name.clone())
        .help("move one of the two: `inset`, `count` or `spacing` of the joint move its fittings, where it has them")
}
