//! Doors that shut against nothing.

use super::measuring::range;
use crate::geometry::DVec3;
use crate::joinery::{Opening, WorkedJob, WorkedJoint, WorkedPart};
use crate::problem::Problem;

/// Hinges stand upright where their axis does: the cosine.
const UPRIGHT: f64 = 0.9;
/// Behind a door what it shuts against stands no farther off, mm: a case behind the buffers of
/// doors that lie on it, or a shelf that stands back for a strip of felt.
const BEHIND: f64 = 3.5;
/// What it shuts against laps it by so much, mm.
const LAP: f64 = 1.0;

/// Advice on each door hung between parts with nothing behind it that stops it.
pub(super) fn check(worked: &WorkedJob) -> Vec<Problem> {
    let mut told: Vec<usize> = Vec::new();
    let mut found = Vec::new();
    for joint in &worked.joints {
        let (Some(leaf), Some(problem)) = (joint.parts.first(), of_joint(worked, joint)) else { continue };
        if !told.contains(leaf) {
            told.push(*leaf);
            found.push(problem);
        }
    }
    found
}

fn of_joint(worked: &WorkedJob, joint: &WorkedJoint) -> Option<Problem> {
    let Some(Opening::Swings { axis, toward, .. }) = joint.opens else { return None };
    if axis.z.abs() < UPRIGHT {
        return None;
    }
    let leaf = *joint.parts.first()?;
    let moving = worked.moving_with(leaf);
    let rests = |joint: &WorkedJoint| {
        joint.traits.rests_without_holding && joint.parts.first().is_some_and(|part| moving.contains(part))
    };
    let name = &worked.parts.get(leaf)?.name;
    let ways = [toward, axis, axis.cross(toward)];
    let door = moving.iter().filter_map(|part| worked.parts.get(*part));
    let door = door.fold(None, |all, part| Some(union(all, reach(part, &ways))))?;
    let piece = worked.parts.get(leaf)?.piece;
    let others = worked.parts.iter().enumerate().filter(|(index, part)| {
        part.piece == piece && !moving.contains(index) && stops(&door, &reach(part, &ways))
    });
    if worked.joints.iter().any(rests) || others.count() > 0 {
        return None;
    }
    let message =
        format!("`{name}` shuts against nothing: it swings on, into the case, and strains its hinges");
    let help = "fix blocks behind it with `stop`, such as `stop(door, bottom)`, for a door of the library \
                `stop(made.doors[0].parts[0], bottom)`; or a catch with `catch_plate`, or let a shelf stand just behind \
                it";
    Some(Problem::advice("shuts-on-nothing", message).at(joint.origin).part(name.clone()).help(help))
}

/// From where to where a part reaches along the way a door opens, along its hinges and across.
fn reach(part: &WorkedPart, ways: &[DVec3; 3]) -> [(f64, f64); 3] {
    let points: Vec<DVec3> = part.solid.points.iter().map(|p| part.at.point(*p)).collect();
    ways.map(|way| range(&points, way))
}

fn union(all: Option<[(f64, f64); 3]>, one: [(f64, f64); 3]) -> [(f64, f64); 3] {
    let Some(all) = all else { return one };
    [0, 1, 2].map(|k| (all[k].0.min(one[k].0), all[k].1.max(one[k].1)))
}

/// Whether something stands just behind a door and laps it both ways.
fn stops(door: &[(f64, f64); 3], other: &[(f64, f64); 3]) -> bool {
    // It opens towards greater figures: its back is the least of it.
    let gap = door[0].0 - other[0].1;
    let laps = |k: usize| door[k].1.min(other[k].1) - door[k].0.max(other[k].0) > LAP;
    (-LAP..=BEHIND).contains(&gap) && laps(1) && laps(2)
}

#[cfg(test)]
mod tests {
    use super::stops;

    /// A door 20 thick, its front at 0: seen the way it opens its back is at -20.
    #[test]
    fn what_stands_just_behind_stops_a_door() {
        let door = [(-20.0, 0.0), (0.0, 600.0), (0.0, 400.0)];
        let at = |from: f64, to: f64| [(from, to), (100.0, 118.0), (0.0, 400.0)];
        assert!(stops(&door, &at(-300.0, -22.0)));
        assert!(!stops(&door, &at(-300.0, -40.0)));
        // The side it hangs on stands beside it and not behind.
        assert!(!stops(&door, &[(-300.0, 0.0), (0.0, 600.0), (-18.0, 0.0)]));
    }
}
