//! Loose shelves that fill the whole width between their sides.

use crate::joinery::{WorkedJob, WorkedPart};
use crate::measure::{Unit, in_script};
use crate::model::Job;
use crate::problem::{Problem, wording};
use crate::solid::Standing;

/// Room that a loose shelf has at each end, mm and inches (common practice, no source).
const PLAY: (f64, f64) = (1.0, 25.4 / 32.0);

/// Advice on each shelf on pins that touches both of its sides: with a finish on it, or a
/// case out of square by a hair, it does not go in, and it does not come out again.
pub(in crate::checks) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let mut tight: Vec<(usize, Vec<usize>)> = Vec::new();
    for joint in worked.joints.iter().filter(|joint| joint.inserts.iter().any(|one| one.item.carries_loose()))
    {
        let [shelf, side] = joint.parts.as_slice() else { continue };
        let (Some(a), Some(b)) = (worked.parts.get(*shelf), worked.parts.get(*side)) else { continue };
        let stands = |part: &WorkedPart| Standing::new(&part.solid, &part.at);
        if stands(a).contacts(&stands(b)).is_empty() {
            continue;
        }
        match tight.iter_mut().find(|(known, _)| known == shelf) {
            Some((_, sides)) => sides.push(*side),
            None => tight.push((*shelf, vec![*side])),
        }
    }
    tight
        .iter()
        .filter(|(_, sides)| sides.len() > 1)
        .filter_map(|(shelf, sides)| told(job, worked, *shelf, sides))
        .collect()
}

fn told(job: &Job, worked: &WorkedJob, shelf: usize, sides: &[usize]) -> Option<Problem> {
    let part = worked.parts.get(shelf)?;
    let names = sides.iter().filter_map(|side| worked.parts.get(*side)).map(|side| side.name.as_str());
    let message = format!("`{}` lies loose and fills all between {}", part.name, wording::all_of(names));
    let play = in_script(job.unit, if job.unit == Unit::Inch { PLAY.1 } else { PLAY.0 });
    let help = format!(
        "leave {play} at each end, so that it goes in and comes out with a finish on it: add it to the first figure of its \
         length and take it off the last"
    );
    let problem = Problem::advice("shelf-without-play", message).at(part.origin).part(part.name.clone());
    Some(problem.help(help))
}
