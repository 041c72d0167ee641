//! Part numbers: parts of one stock and one shape share a number, and mirror
//! images share it as left and right.

use super::tolerance::{SAME_SIZE, SAME_WAY};
use std::sync::Arc;

use super::fill::same_fills;
use super::worked::{Hand, WorkedPart};
use crate::geometry::DVec3;

/// Ways to turn a part that keep its grain along the length: signs of the three
/// axes about the middle of the blank.
const TURNS: [[f64; 3]; 4] = [[1.0, 1.0, 1.0], [1.0, -1.0, -1.0], [-1.0, 1.0, -1.0], [-1.0, -1.0, 1.0]];
/// The same after a mirror.
const MIRRORS: [[f64; 3]; 4] = [[1.0, 1.0, -1.0], [1.0, -1.0, 1.0], [-1.0, 1.0, 1.0], [-1.0, -1.0, -1.0]];

/// How a part is like another.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Likeness {
    /// The same where it lies.
    Same,
    /// The same when turned round.
    Turned,
    /// Its mirror image.
    Mirrored,
}

/// Numbers the parts in their order and shares solids among those that are the
/// same as they lie.
pub(in crate::joinery) fn number(parts: &mut [WorkedPart]) {
    // For each number: its first part, and its first mirror image.
    let mut firsts: Vec<(usize, Option<usize>)> = Vec::new();
    for i in 0..parts.len() {
        // The first that fits counts, so that numbers rise in the order of the script.
        let found = firsts
            .iter()
            .enumerate()
            .find_map(|(n, (first, _))| likeness(&parts[*first], &parts[i]).map(|like| (n, like)));
        match found {
            None => {
                firsts.push((i, None));
                parts[i].number = numbered(firsts.len());
            }
            Some((n, like)) => {
                let (first, mirror) = firsts[n];
                parts[i].number = numbered(n + 1);
                // Only parts that are the same where they lie can share a solid: a
                // turned one has the same shape, but other coordinates.
                let share = match (like, mirror) {
                    (Likeness::Same, _) => Some(first),
                    (Likeness::Turned, _) => None,
                    (Likeness::Mirrored, Some(m)) => {
                        (likeness(&parts[m], &parts[i]) == Some(Likeness::Same)).then_some(m)
                    }
                    (Likeness::Mirrored, None) => {
                        firsts[n].1 = Some(i);
                        None
                    }
                };
                // Until both hands are known, a mark says only which it is.
                parts[i].hand = if like == Likeness::Mirrored { Hand::Right } else { Hand::Left };
                if let Some(from) = share {
                    parts[i].solid = Arc::clone(&parts[from].solid);
                }
            }
        }
    }
    give_hands(parts, &firsts);
}

/// A count as a part number.
fn numbered(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// Hands only for numbers that have both; left is the hand that stands further
/// left in the piece.
fn give_hands(parts: &mut [WorkedPart], firsts: &[(usize, Option<usize>)]) {
    for (n, (first, mirror)) in firsts.iter().enumerate() {
        let middle = |i: usize| parts[i].at.point(0.5 * parts[i].size).x;
        // More than a hair: of two that stand over one another the first is the left
        // one, on every machine.
        let swap = mirror.is_some_and(|m| middle(m) < middle(*first) - SAME_SIZE);
        for (i, part) in parts.iter_mut().enumerate().filter(|(_, p)| p.number == numbered(n + 1)) {
            let mirrored = part.hand == Hand::Right && i != *first;
            part.hand = match (mirror, mirrored != swap) {
                (None, _) => Hand::None,
                (Some(_), false) => Hand::Left,
                (Some(_), true) => Hand::Right,
            };
        }
    }
}

/// Whether two parts are of one shape, as they lie or turned round, whatever they are
/// cut from.
pub fn same_shape(a: &WorkedPart, b: &WorkedPart) -> bool {
    matches!(shaped_alike(a, b), Some(Likeness::Same | Likeness::Turned))
}

/// How `part` is turned about the middle of its blank, as signs of its three axes, so that it
/// lies as `drawn` is drawn, or as the mirror image of that from left to right: its marks are
/// then where the sheet has them. `None` where the two are not alike.
pub fn lies_as_drawn(drawn: &WorkedPart, part: &WorkedPart) -> Option<DVec3> {
    // Those that share a solid lie the same: comparing all corners of one with many holes takes
    // longer than to draw it.
    if part.hand == drawn.hand && Arc::ptr_eq(&part.solid, &drawn.solid) {
        return Some(DVec3::ONE);
    }
    let image = if part.hand == drawn.hand { DVec3::ONE } else { DVec3::new(-1.0, 1.0, 1.0) };
    TURNS.into_iter().map(DVec3::from_array).find(|turn| coincide(drawn, part, *turn * image))
}

/// How two parts are alike, if they are.
fn likeness(a: &WorkedPart, b: &WorkedPart) -> Option<Likeness> {
    if a.stock == b.stock { shaped_alike(a, b) } else { None }
}

/// How the shapes of two parts are alike, if they are.
fn shaped_alike(a: &WorkedPart, b: &WorkedPart) -> Option<Likeness> {
    if !same_fills(&a.fills, &b.fills)
        || (a.size - b.size).abs().max_element() > SAME_SIZE
        || a.solid.points.len() != b.solid.points.len()
        || a.solid.faces.len() != b.solid.faces.len()
        || (a.solid.volume() - b.solid.volume()).abs() > SAME_SIZE * SAME_SIZE * a.size.max_element()
    {
        return None;
    }
    // Cheap figures were compared first: this looks at every corner and is the costly
    // test.
    let fits = |signs: &[f64; 3]| coincide(a, b, DVec3::from_array(*signs));
    if fits(&TURNS[0]) {
        Some(Likeness::Same)
    } else if TURNS[1..].iter().any(fits) {
        Some(Likeness::Turned)
    } else if MIRRORS.iter().any(fits) {
        Some(Likeness::Mirrored)
    } else {
        None
    }
}

/// Whether every corner and every face of `b`, turned by `signs` about the
/// middle of the blank, is one of `a`.
fn coincide(a: &WorkedPart, b: &WorkedPart, signs: DVec3) -> bool {
    let middle = 0.5 * b.size;
    let turn = |p: DVec3| (p - middle) * signs + middle;
    let corner =
        |p: &DVec3| a.solid.points.iter().any(|q| q.distance_squared(turn(*p)) < SAME_SIZE * SAME_SIZE);
    b.solid.points.iter().all(corner)
        && b.solid.faces.iter().all(|face| {
            // The corners alone do not say which faces lie between them.
            let normal = face.plane.normal * signs;
            let offset = face.plane.offset - face.plane.normal.dot(middle) + normal.dot(middle);
            a.solid.faces.iter().any(|other| {
                other.plane.normal.dot(normal) > SAME_WAY && (other.plane.offset - offset).abs() < SAME_SIZE
            })
        })
}
