//! Like steps told once.

use super::step::{Repeat, Step, Watch};
use crate::joinery::WorkedJob;

/// What makes two steps alike: the same is done to parts of the same numbers.
#[derive(PartialEq)]
struct Likeness {
    kind: super::step::StepKind,
    glued: bool,
    motions: usize,
    comes: Vec<u32>,
    works: Vec<u32>,
    words: Vec<&'static str>,
}

/// Numbers of some parts, rising; a mirror pair shares one.
fn numbers(worked: &WorkedJob, parts: impl Iterator<Item = usize>) -> Vec<u32> {
    let mut found: Vec<u32> =
        parts.filter_map(|part| worked.parts.get(part)).map(|part| part.number).collect();
    found.sort_unstable();
    found
}

fn likeness(worked: &WorkedJob, step: &Step) -> Likeness {
    let joints = step.motions.iter().flat_map(|one| &one.joints).chain(&step.joints);
    let mut words: Vec<&'static str> =
        joints.filter_map(|joint| worked.joints.get(*joint)).map(|joint| joint.word).collect();
    words.sort_unstable();
    let comes = step.adds().chain(step.together());
    Likeness {
        kind: step.kind,
        glued: step.glued,
        motions: step.motions.len(),
        comes: numbers(worked, comes),
        works: numbers(worked, step.works.iter().copied()),
        words,
    }
}

/// Adds a step to a like one, with what of it is finished before.
fn repeat(first: &mut Step, next: Step) {
    for watch in &next.watch {
        let Watch::FinishInside { parts: more } = watch else { continue };
        for known in &mut first.watch {
            if let Watch::FinishInside { parts } = known {
                parts.extend(more);
            }
        }
    }
    first.again.push(Repeat { motions: next.motions, works: next.works, joints: next.joints });
    first.again.extend(next.again);
}

/// Neighbours that are alike become one. Two steps may only be told as one if the second
/// does not rest on the first.
pub(super) fn told_once(worked: &WorkedJob, steps: Vec<Step>) -> Vec<Step> {
    let mut found: Vec<Step> = Vec::new();
    for step in steps {
        match found.last_mut() {
            Some(last) if likeness(worked, last) == likeness(worked, &step) && stands_alone(last, &step) => {
                repeat(last, step);
            }
            _ => found.push(step),
        }
    }
    found
}

/// Whether a step begins anew, not on what the one before it made.
fn stands_alone(last: &Step, next: &Step) -> bool {
    let made: Vec<usize> = last.all_adds().chain(last.works.iter().copied()).collect();
    let rests = next.onto().into_iter().chain(next.works.iter().copied());
    !rests.into_iter().any(|part| made.contains(&part))
}

/// The steps of bodies made up one beside another: those that are alike step by step told
/// once, the rest one body after another.
pub(super) fn side_by_side(worked: &WorkedJob, lists: Vec<Vec<Step>>) -> Vec<Step> {
    let mut heaps: Vec<Vec<Step>> = Vec::new();
    for list in lists {
        let alike = |heap: &Vec<Step>| {
            heap.len() == list.len()
                && heap.iter().zip(&list).all(|(a, b)| likeness(worked, a) == likeness(worked, b))
        };
        match heaps.iter().position(alike) {
            Some(heap) => heaps[heap].iter_mut().zip(list).for_each(|(first, next)| repeat(first, next)),
            None => heaps.push(list),
        }
    }
    heaps.into_iter().flatten().collect()
}
