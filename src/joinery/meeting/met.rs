//! Where two parts lie on one another as they are, and the rectangle on it that a row
//! of inserts stands in.

use super::real::Real;
use crate::geometry::{DVec2, DVec3, Interval};
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::meet::{Meeting, Rect, TOUCH, meeting, shared};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{HOLDS, MOSTLY, NOISE, ONE_WAY};
use crate::model::{Form, Work};
use crate::problem::Problem;
use crate::solid::{Patch, patches};

/// Share of an area by which two are the same.
const SAME_AREA: f64 = 1e-6;
/// Strips that a patch is looked at in besides those its corners give.
const STRIPS: usize = 16;
/// Most corners of a patch that strips are taken from: more are facets of a curve.
const CORNERS: usize = 48;

impl Bench<'_> {
    /// Whether two parts are boxes whose axes are the same, so that where they meet can
    /// be read off their sizes. So are parts from the lathe, whose ends are square.
    pub(in crate::joinery) fn are_plain(&self, a: usize, b: usize) -> bool {
        let turned = |i: usize| self.job.parts.get(i).is_none_or(|p| p.form != Form::Flat);
        let shaped = |i: usize| self.real.get(i).is_some_and(Option::is_some);
        let (Some(first), Some(second)) = (self.placed.get(a), self.placed.get(b)) else { return true };
        let square = is_square(first, second);
        // From the lathe only ends and round sides come, of which the box says all that
        // joints ask.
        turned(a) || turned(b) || (square && !shaped(a) && !shaped(b))
    }

    /// Whether the axes of two parts are the same, however they are shaped.
    pub(in crate::joinery) fn are_square(&self, a: usize, b: usize) -> bool {
        self.placed.get(a).zip(self.placed.get(b)).is_none_or(|(first, second)| is_square(first, second))
    }

    /// A part as it is where it is shaped.
    pub(in crate::joinery) fn shaped(&self, part: usize) -> Option<Real> {
        self.real.get(part).cloned().flatten()
    }

    /// A part as it is: shaped, or its box.
    pub(in crate::joinery) fn as_it_is(&self, part: usize) -> Option<Real> {
        self.shaped(part).or_else(|| Real::of(self.job.parts.get(part)?, *self.placed.get(part)?, &[]))
    }

    /// The largest patch on which flat faces of the two lie on one another.
    pub(in crate::joinery) fn patch(&self, a: usize, b: usize) -> Option<Patch> {
        let (first, second) = (self.as_it_is(a)?, self.as_it_is(b)?);
        let all = patches((first.solid(), &first.blank.at), (second.solid(), &second.blank.at), TOUCH);
        let all = all.into_iter().filter(|patch| patch.area > HOLDS);
        all.reduce(|most, next| if next.area > most.area + NOISE { next } else { most })
    }

    /// Where two parts touch as they are, and the largest rectangle both share there.
    pub(in crate::joinery) fn met(
        &self,
        work: &Work,
        a: usize,
        b: usize,
    ) -> Result<(Meeting, Rect), Problem> {
        if self.are_plain(a, b) {
            let m = self.touching(work, a, b)?;
            return Ok((m, self.contact(work, a, b, m)?));
        }
        let Some(patch) = self.patch(a, b) else { return Err(self.do_not_lie_together(work, a, b)) };
        if let Some(boxed) = self.boxed(a, b, &patch) {
            return Ok(boxed);
        }
        let m = Meeting { normal: patch.plane.normal, gap: 0.0, face: patch.plane.offset };
        let rect = self.rect_on(&patch, a, b).ok_or_else(|| self.only_an_edge(work, a, b))?;
        Ok((m, rect))
    }

    /// What the boxes of two square parts share, where shaping takes nothing of it.
    fn boxed(&self, a: usize, b: usize, patch: &Patch) -> Option<(Meeting, Rect)> {
        let (first, second) = (self.placed.get(a)?, self.placed.get(b)?);
        if !is_square(first, second) {
            return None;
        }
        let m = meeting(first, second);
        let rect = shared(self.grown.get(a)?, self.grown.get(b)?, m.normal, m.face)?;
        // Read off the boxes where that is the same: a patch has the noise of carving in
        // it, and rows stand on whole millimetres.
        let is_same = (rect.length * rect.width - patch.area).abs() < SAME_AREA * patch.area;
        (m.gap.abs() <= TOUCH && m.normal.dot(patch.plane.normal) > ONE_WAY && is_same).then_some((m, rect))
    }

    /// The largest rectangle on a patch whose sides follow an axis of one of the parts.
    fn rect_on(&self, patch: &Patch, a: usize, b: usize) -> Option<Rect> {
        let mut best: Option<Rect> = None;
        let axes = [a, b].into_iter().filter_map(|i| self.placed.get(i));
        let seen = |axis: DVec3| DVec2::new(axis.dot(patch.frame.x), axis.dot(patch.frame.y));
        let ways = axes.flat_map(|blank| (0..3).map(|i| seen(blank.axis(i))));
        for flat in ways.chain(longest_side(patch)) {
            // Seen nearly end on, an axis gives no direction in the plane.
            if flat.length() < 1.0 - MOSTLY {
                continue;
            }
            let Some(rect) = inscribed(patch, flat.normalize()) else { continue };
            let area = |r: &Rect| r.length * r.width;
            if best.as_ref().is_none_or(|most| area(&rect) > area(most) * (1.0 + SAME_AREA)) {
                best = Some(rect);
            }
        }
        best.filter(|rect| rect.width > TOUCH)
    }

    /// Nothing of one lies on the other.
    pub(in crate::joinery) fn do_not_lie_together(&self, work: &Work, a: usize, b: usize) -> Problem {
        let (first, second) = (self.name(a), self.name(b));
        let message = format!("no face of `{first}` lies on a face of `{second}`");
        self.error(work, "parts-do-not-meet", message, &[a, b]).help(format!(
            "let an end or edge of `{first}` run to a face of `{second}`: `{}` saws it to that face",
            work.word.name
        ))
    }

    /// They share no more than a line.
    fn only_an_edge(&self, work: &Work, a: usize, b: usize) -> Problem {
        let message =
            format!("`{}` and `{}` meet only along an edge or a corner", self.name(a), self.name(b));
        self.error(work, "parts-do-not-meet", message, &[a, b]).help("let more of one lie on the other")
    }
}

/// Whether the axes of two boxes are the same.
fn is_square(a: &Blank, b: &Blank) -> bool {
    (0..3).all(|i| b.axis_along(a.axis(i)).is_some())
}

/// The way along the longest side of a patch: of a mitre that leans, along its corner.
fn longest_side(patch: &Patch) -> Option<DVec2> {
    let ring = patch.rings.first()?;
    let sides = ring.iter().zip(ring.iter().cycle().skip(1)).map(|(p, q)| *q - *p);
    let longest =
        sides.reduce(|most, side| if side.length() > most.length() + NOISE { side } else { most })?;
    longest.try_normalize()
}

/// The largest rectangle with sides along `u` inside a patch.
fn inscribed(patch: &Patch, u: DVec2) -> Option<Rect> {
    let v = u.perp();
    let seen = |p: &DVec2| DVec2::new(u.dot(*p), v.dot(*p));
    let rings: Vec<Vec<DVec2>> = patch.rings.iter().map(|r| r.iter().map(seen).collect()).collect();
    let heights = heights(&rings);
    let mut best: Option<(f64, DVec2, DVec2)> = None;
    for (i, low) in heights.iter().enumerate() {
        // Strip by strip upwards: what is free in all of them so far.
        let mut free: Option<Vec<Interval>> = None;
        for pair in heights.get(i..).unwrap_or_default().windows(2) {
            let [from, to] = pair else { continue };
            let hair = NOISE * (to - from);
            // At both ends of the strip: between two corners every side is straight, so
            // what is free at both is free between.
            for t in [from + hair, to - hair] {
                let here = across(&rings, t);
                free = Some(free.map_or_else(|| here.clone(), |before| common(&before, &here)));
            }
            let Some(longest) = free.iter().flatten().copied().reduce(longer) else { break };
            let area = longest.length() * (to - low);
            // Only where it is truly more: of equals the first is kept, whatever the last
            // digit says.
            if best.is_none_or(|(most, _, _)| area > most * (1.0 + SAME_AREA)) {
                best = Some((area, DVec2::new(longest.from, *low), DVec2::new(longest.to, *to)));
            }
        }
    }
    let (_, low, high) = best?;
    let (middle, size) = (0.5 * (low + high), high - low);
    let way = |d: DVec2| patch.frame.dir(DVec3::new(d.x, d.y, 0.0));
    let centre = patch.frame.origin + way(u * middle.x + v * middle.y);
    let (along, across) = (way(u), way(v));
    Some(if size.x >= size.y {
        Rect { centre, along, across, length: size.x, width: size.y }
    } else {
        Rect { centre, along: across, across: along, length: size.y, width: size.x }
    })
}

/// The longer of two stretches; of equals the first.
fn longer(a: Interval, b: Interval) -> Interval {
    if b.length() > a.length() + NOISE { b } else { a }
}

/// Heights between which a patch is looked at: those of its corners and some between,
/// rising.
fn heights(rings: &[Vec<DVec2>]) -> Vec<f64> {
    let mut all: Vec<f64> = rings.iter().flatten().map(|p| p.y).collect();
    all.sort_by(f64::total_cmp);
    let (Some(low), Some(high)) = (all.first().copied(), all.last().copied()) else { return Vec::new() };
    let every = all.len().div_ceil(CORNERS).max(1);
    let mut list: Vec<f64> = all.into_iter().step_by(every).collect();
    list.extend((0..=STRIPS).map(|k| low + (high - low) * k as f64 / STRIPS as f64));
    list.sort_by(f64::total_cmp);
    list.dedup_by(|a, b| (*a - *b).abs() < NOISE);
    list
}

/// What of a height lies inside the rings, under the even-odd rule: rings of a face do
/// not lie over one another.
fn across(rings: &[Vec<DVec2>], height: f64) -> Vec<Interval> {
    let mut at: Vec<f64> = Vec::new();
    for ring in rings {
        for (p, q) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if (p.y > height) != (q.y > height) {
                at.push(p.x + (q.x - p.x) * (height - p.y) / (q.y - p.y));
            }
        }
    }
    at.sort_by(f64::total_cmp);
    at.chunks_exact(2).map(|pair| Interval { from: pair[0], to: pair[1] }).collect()
}

/// What two lists of stretches share.
fn common(a: &[Interval], b: &[Interval]) -> Vec<Interval> {
    let pairs = a.iter().flat_map(|p| b.iter().map(move |q| (p, q)));
    pairs.map(|(p, q)| p.common(*q)).filter(|s| s.to > s.from).collect()
}
