//! What is lifted in made up, and whether by two.

use crate::assembly::step::{Motion, Step, Watch};
use crate::joinery::WorkedJob;
use crate::model::{Job, Stock};

/// From this mass, kg, two people lift (guideline figure of the British Health and Safety
/// Executive for a man lifting at waist height, from memory).
const HEAVY: f64 = 25.0;

/// Cubic millimetres to the cubic metre.
const CUBIC_METRE: f64 = 1e9;

/// That the heaviest of what a step lifts in made up is heavy, with its doors and drawers taken
/// off where it has such; `None` where nothing is heavy, or a stock does not say what it weighs.
pub(in crate::assembly) fn watch(job: &Job, worked: &WorkedJob, step: &Step) -> Option<Watch> {
    let lifted = step.motions.iter().filter(|one| !one.together.is_empty());
    let heavy = lifted.filter_map(|one| of_motion(job, worked, one));
    let heavy = heavy.filter(|(whole, ..)| *whole > HEAVY).max_by(|a, b| a.0.total_cmp(&b.0))?;
    let (_, kg, taken_off) = heavy;
    Some(Watch::Heavy { kg, two: kg > HEAVY, taken_off })
}

/// The mass of a group, that without what opens on it, kg, and whether anything does.
fn of_motion(job: &Job, worked: &WorkedJob, one: &Motion) -> Option<(f64, f64, bool)> {
    let group: Vec<usize> = one.together.iter().map(|(part, _)| *part).collect();
    let mut opens: Vec<usize> = Vec::new();
    for joint in worked.joints.iter().filter(|joint| joint.opens.is_some()) {
        if let (Some(leaf), true) = (joint.parts.first(), joint.parts.iter().all(|part| group.contains(part)))
        {
            opens.extend(worked.moving_with(*leaf));
        }
    }
    let mass = |parts: &mut dyn Iterator<Item = &usize>| -> Option<f64> {
        let parts = parts.filter_map(|part| worked.parts.get(*part));
        parts
            .map(|part| {
                let density = job.stock.get(part.stock.0).and_then(Stock::mean_density)?;
                Some(part.solid.volume() * density / CUBIC_METRE)
            })
            .sum()
    };
    let whole = mass(&mut group.iter())?;
    let bare = mass(&mut group.iter().filter(|part| !opens.contains(part)))?;
    Some((whole, bare, !opens.is_empty()))
}
