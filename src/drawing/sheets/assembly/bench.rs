//! Panels as they are glued up: flat on the bench side by side, their boards edge to edge.

use crate::assembly::{Staved, Step};
use crate::geometry::{DVec3, Placement};
use crate::joinery::{WorkedJob, WorkedPart};
use crate::solid::{Body, Prism, Solid, carve};

/// Most panels in a row from front to back: more begin another beside it.
const IN_ROW: usize = 4;
/// Gap between panels, as a share of the widest one.
const GAP: f64 = 0.25;

/// A board on the bench: the panel it is of, where it lies, and its shape.
pub(super) struct Board {
    pub(super) panel: usize,
    pub(super) at: Placement,
    pub(super) solid: Solid,
}

/// The panels of a glue-up that its picture shows: of like ones the first.
pub(super) fn shown(worked: &WorkedJob, step: &Step) -> Vec<Staved> {
    let part = |one: &Staved| worked.parts.get(one.part);
    let mut shown: Vec<Staved> = Vec::new();
    for one in &step.staved {
        let Some(mine) = part(one) else { continue };
        let alike = |known: &Staved| {
            known.boards == one.boards && part(known).is_some_and(|other| other.mark() == mine.mark())
        };
        if !shown.iter().any(alike) {
            shown.push(*one);
        }
    }
    shown
}

/// Their boards, each panel with its length from left to right.
pub(super) fn boards(worked: &WorkedJob, step: &Step) -> Vec<Board> {
    let shown = shown(worked, step);
    let parts: Vec<(&Staved, &WorkedPart)> =
        shown.iter().filter_map(|one| Some((one, worked.parts.get(one.part)?))).collect();
    let widest = parts.iter().map(|(_, part)| part.size.y).fold(0.0, f64::max);
    let longest = parts.iter().map(|(_, part)| part.size.x).fold(0.0, f64::max);
    let gap = GAP * widest;
    let mut found = Vec::new();
    let (mut row, mut from) = (0, 0.0);
    for (place, (one, part)) in parts.into_iter().enumerate() {
        if place > 0 && place % IN_ROW == 0 {
            (row, from) = (row + 1, 0.0);
        }
        let corner = DVec3::new(f64::from(row) * (longest + gap), from, 0.0);
        let wide = part.size.y / one.boards.max(1) as f64;
        for board in 0..one.boards {
            let size = DVec3::new(part.size.x, wide, part.size.z);
            let shape = Prism::cuboid(DVec3::ZERO, size);
            let Ok(solid) = carve(&Body::Prism(shape), &[]) else { continue };
            let at = Placement::IDENTITY.moved(corner + DVec3::Y * (wide * board as f64));
            found.push(Board { panel: one.part, at, solid });
        }
        from += part.size.y + gap;
    }
    found
}
