//! The wood round a pocket in a part as it is worked.

use super::real::Real;
use crate::geometry::{DVec2, DVec3, Outline};
use crate::joinery::bench::blank::corners;
use crate::joinery::bench::meet::Pair;
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::STEPPED;
use crate::solid::Prism;

/// How often the wall round a pocket is halved to find it: to a hundredth of a
/// millimetre of [`DEEPEST`].
const HALVINGS: usize = 12;
/// Furthest a pocket is looked at to break through, mm.
const DEEPEST: f64 = 30.0;
/// What of a pocket may be open by rounding alone, as a share of it.
const OPEN: f64 = 1e-6;

impl Bench<'_> {
    /// Wood left round a pocket of `part`, mm; negative where it breaks through.
    /// Its mouth, which looks against the way it is sunk, does not count.
    pub(in crate::joinery) fn wall_round(&self, part: usize, pocket: &Prism) -> f64 {
        self.wall_behind(part, pocket, -pocket.at.z)
    }

    /// The same of a part with its lippings on, for what is screwed through both: there is
    /// no face between them.
    pub(in crate::joinery) fn wall_with_lippings(&self, part: usize, pocket: &Prism) -> f64 {
        let whole =
            self.placed.get(part).map_or(f64::INFINITY, |blank| blank.wall(&corners(pocket), -pocket.at.z));
        whole.max(self.wall_round(part, pocket))
    }

    /// Wood beside a hole that goes through a part, mm: neither of its mouths counts.
    pub(in crate::joinery) fn wall_beside(&self, part: usize, hole: &Prism) -> f64 {
        let points = corners(hole);
        let Some(real) = self.as_it_is(part) else { return f64::INFINITY };
        let through = hole.at.z;
        real.wall_but(&points, &[through, -through]).unwrap_or_else(|| {
            if real.open(hole) < OPEN * volume(hole) { 0.0 } else { wood(&real, hole, -through).min(0.0) }
        })
    }

    /// Whether some of what stands in two parts lies outside what shaping leaves of them.
    /// Nothing does in plain boxes, which joints measure themselves; what goes through a
    /// lipping has no part of its own to lie in, and is let pass.
    pub(in crate::joinery) fn stands_out(&self, pair: Pair, shape: &Prism) -> bool {
        let parts = pair.parts();
        let is_shaped = |part: &usize| self.real.get(*part).is_some_and(Option::is_some);
        let is_lipped = |part: &usize| self.lips.iter().any(|lip| lip.of == *part);
        if !parts.iter().any(is_shaped) || parts.iter().any(is_lipped) {
            return false;
        }
        let whole = volume(shape);
        let held = |part: &usize| self.as_it_is(*part).map_or(whole, |real| whole - real.open(shape));
        parts.iter().map(held).sum::<f64>() < (1.0 - OPEN) * whole
    }

    /// The wall round a shape whose mouth looks along `mouth`.
    pub(in crate::joinery) fn wall_behind(&self, part: usize, shape: &Prism, mouth: DVec3) -> f64 {
        let points = corners(shape);
        let Some(blank) = self.grown.get(part) else { return f64::INFINITY };
        // Of a part that is shaped the box has faces that were sawn off.
        let Some(real) = self.real.get(part).and_then(Option::as_ref) else {
            return blank.wall(&points, mouth);
        };
        real.wall(&points, mouth).unwrap_or_else(|| wood(real, shape, mouth))
    }
}

/// The wall round a shape in a part that is not convex: how thick a jacket of it is all
/// wood, up to [`WALL`]; negative by how far the shape itself must shrink.
fn wood(real: &Real, shape: &Prism, mouth: DVec3) -> f64 {
    let all_wood = |by: f64| jacket(shape, mouth, by).is_none_or(|all| real.open(&all) < OPEN * volume(&all));
    if all_wood(WALL) {
        return WALL;
    }
    let (mut low, mut high) = (-DEEPEST, WALL);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if all_wood(middle) { low = middle } else { high = middle }
    }
    low
}

/// What a prism takes, mm3.
fn volume(prism: &Prism) -> f64 {
    prism.outline.area() * (prism.to - prism.from)
}

/// The box round a shape, `by` wider on every side but that of its mouth; `None` where
/// nothing of it is left.
fn jacket(shape: &Prism, mouth: DVec3, by: f64) -> Option<Prism> {
    let (low, high) = shape.outline.bounds()?;
    let at = shape.at;
    let less = |axis: DVec3| if axis.dot(mouth).abs() > 0.5 { 0.0 } else { by };
    let side = DVec2::new(less(at.x), less(at.y));
    let mut round = Prism { at, outline: Outline::rect(low - side, high + side), ..shape.clone() };
    round.from -= less(at.z);
    round.to += less(at.z);
    // On the axis of the mouth only the far end moves.
    for (axis, far) in [(at.x, 0), (at.y, 1), (at.z, 2)] {
        let lean = axis.dot(mouth);
        if lean.abs() <= 0.5 {
            continue;
        }
        let (mut lo, mut hi) = (low - side, high + side);
        match (far, lean < 0.0) {
            (2, true) => round.to += by,
            (2, false) => round.from -= by,
            (k, true) => hi[k] += by,
            (k, false) => lo[k] -= by,
        }
        if far < 2 {
            round.outline = Outline::rect(lo, hi);
        }
    }
    let (low, high) = round.outline.bounds()?;
    let is_there = (high - low).min_element() > STEPPED && round.to - round.from > STEPPED;
    is_there.then_some(round)
}
