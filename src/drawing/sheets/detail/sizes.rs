//! How much a detail shows, and which sizes it carries.

use super::place::{Place, lippings, prism_span, seen_cut};
use crate::geometry::tolerance::ONE_WAY;
use crate::geometry::{DVec2, DVec3, Interval};
use crate::joinery::{Cut, CutKind, PartSource, WorkedJob, WorkedPart};
use crate::solid::Prism;

/// How much of the parts is shown round a joint: a share of the thickest, between these
/// in mm.
const OF_THICKNESS: f64 = 0.9;
const MARGIN: (f64, f64) = (12.0, 30.0);
/// A part that ends within this many margins is shown to its end.
const TO_END: f64 = 1.6;
/// Unit vectors with a product above this run along one another.
const ALONG: f64 = 0.9;
/// Sizes nearer than this are one, mm.
const SAME: f64 = 0.02;

/// Distances below this are play, not sizes, mm.
const PLAY: f64 = 0.6;
/// White beyond what ends inside the window, model mm.
const BEYOND: f64 = 3.0;

/// What a detail shows of its parts, in drawing coordinates at full size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Window {
    /// Least corner.
    pub(super) low: DVec2,
    /// Greatest corner.
    pub(super) high: DVec2,
}

impl Window {
    /// The joint and as much of its parts round it as a board is thick: a part
    /// that ends a little farther off is shown to its end.
    pub(super) fn of(worked: &WorkedJob, place: &Place) -> Self {
        let parts = || place.parts.iter().filter_map(|p| worked.parts.get(*p));
        let thick = parts().map(|part| part.size.min_element()).fold(0.0, f64::max);
        let margin = (OF_THICKNESS * thick).clamp(MARGIN.0, MARGIN.1);
        let (mut low, mut high) = place.zone;
        for axis in 0..2 {
            let drawn = lippings(worked, place).filter_map(|lipping| worked.parts.get(lipping));
            let spans: Vec<Interval> =
                parts().chain(drawn).filter_map(|part| place.span(part, axis)).collect();
            let most = spans.iter().map(|s| s.to).fold(f64::MIN, f64::max);
            let least = spans.iter().map(|s| s.from).fold(f64::MAX, f64::min);
            let end = |joint: f64, part: f64| {
                // What is let in may stand out of its part, as a knob does.
                if part <= joint + TO_END * margin { part.max(joint) + BEYOND } else { joint + margin }
            };
            high[axis] = end(high[axis], most);
            low[axis] = -end(-low[axis], -least);
        }
        Self { low, high }
    }
}

/// What a size says of a part, from what is never left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Rank {
    /// How thick it is.
    Thickness,
    /// How deep or wide a cut is.
    Cut,
    /// How far off a side something lies.
    Distance,
}

/// A size of a detail, in drawing coordinates at full size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Size {
    /// The part it belongs to.
    pub(super) part: usize,
    /// What gives way to what, where sizes would close a chain.
    rank: Rank,
    /// 0 across the drawing, 1 up it.
    pub(super) axis: usize,
    /// Where it begins.
    pub(super) from: f64,
    /// Where it ends.
    pub(super) to: f64,
    /// What it measures lies between these, the other way.
    pub(super) across: Interval,
    /// Whether a cutter makes it as wide as itself: a slot for tenons of 8 mm is 8 mm wide on
    /// any sheet.
    pub(super) by_cutter: bool,
}

/// The sizes of a joint: how deep and wide each cut is, how far from the marked
/// face or edge it lies, how thick the parts are, and how far from its end the
/// one part stands on the other.
pub(super) fn sizes(worked: &WorkedJob, place: &Place, window: &Window) -> Vec<Size> {
    let mut list: Vec<Size> = Vec::new();
    for index in &place.parts {
        let Some(part) = worked.parts.get(*index) else { continue };
        for axis in 0..2 {
            list.extend(of_part(worked, place, window, (*index, part), axis));
        }
    }
    for axis in 0..2 {
        standing(worked, place, window, axis, &mut list);
    }
    once(list)
}

/// How far a part reaches with its lippings: from their outer edges it is set out.
fn with_lippings(
    worked: &WorkedJob,
    place: &Place,
    (index, own): (usize, Interval),
    axis: usize,
) -> Interval {
    let on = lippings(worked, place).filter_map(|lipping| worked.parts.get(lipping));
    let on = on.filter(|lipping| matches!(lipping.source, PartSource::Lipping { of, .. } if of == index));
    on.filter_map(|lipping| place.span(lipping, axis)).fold(own, Interval::hull)
}

/// Sizes of one part along one axis: its cuts, then its thickness.
fn of_part(
    worked: &WorkedJob,
    place: &Place,
    window: &Window,
    (index, part): (usize, &WorkedPart),
    axis: usize,
) -> Vec<Size> {
    let mut list = Vec::new();
    if leans(place, part) {
        return list;
    }
    let (Some(own), Some(cross)) = (place.span(part, axis), place.span(part, 1 - axis)) else {
        return list;
    };
    let bare = own;
    let own = with_lippings(worked, place, (index, own), axis);
    let lipped = own != bare;
    let shown = Interval { from: window.low[axis], to: window.high[axis] };
    let size = |rank: Rank, of: Interval, across: Interval| Size {
        part: index,
        rank,
        axis,
        from: of.from,
        to: of.to,
        across,
        by_cutter: false,
    };
    // Where kerfs are sawn stands in the words under the detail; their sizes, a millimetre
    // wide, crowd out those of the tenon.
    for cut in own_cuts(place, part).filter(|cut| cut.kind != CutKind::Kerf) {
        let Some((x, y)) = seen_cut(part, &cut.shape, place.camera, place.level()) else { continue };
        let (mut span, across) = if axis == 0 { (x, y) } else { (y, x) };
        if lipped {
            span = prism_span(&cut.shape, &part.at, place.along(axis)).common(own);
        }
        let whole = span.from < own.from + PLAY && span.to > own.to - PLAY;
        if whole || span.from < shown.from || span.to > shown.to {
            continue;
        }
        let round = cut.shape.outline.arcs.len() == 1;
        let lengthwise = cut.shape.at.within(&part.at).z.dot(place.along(axis)).abs() > ALONG;
        // A drilled hole is set out by its middle, which is that of the whole bore even where
        // part of it is in the lipping; its diameter stands in words.
        let span = if round && !lengthwise {
            Interval::at(prism_span(&cut.shape, &part.at, place.along(axis)).middle())
        } else {
            let by_cutter = cut.kind == CutKind::Mortise && !lengthwise && is_width(&cut.shape, span);
            list.push(Size { by_cutter, ..size(Rank::Cut, span, across) });
            span
        };
        if span.from > own.from + PLAY && span.to < own.to - PLAY {
            let low = marked_low(part, place.along(axis), own, span);
            list.extend(from_side(own, shown, low, span).map(|off| size(Rank::Distance, off, across)));
        }
    }
    let seen = cross.common(Interval { from: window.low[1 - axis], to: window.high[1 - axis] });
    if own.from > shown.from && own.to < shown.to {
        list.push(size(Rank::Thickness, own, seen));
    }
    list
}

/// Whether a span of a pocket is its width, the lesser side of its mouth.
fn is_width(pocket: &Prism, span: Interval) -> bool {
    let mouth = pocket.outline.bounds().map(|(low, high)| high - low);
    mouth.is_some_and(|mouth| (mouth.min_element() - span.length()).abs() < SAME)
}

/// Whether none of a part's axes lies along the drawing: nothing of it can be
/// measured there.
fn leans(place: &Place, part: &WorkedPart) -> bool {
    let square = |way: DVec3| (0..2).any(|axis| way.dot(place.along(axis)).abs() > ONE_WAY);
    ![part.at.x, part.at.y, part.at.z].into_iter().any(square)
}

/// What a joint cuts from a part.
pub(super) fn own_cuts<'p>(place: &'p Place, part: &'p WorkedPart) -> impl Iterator<Item = &'p Cut> {
    part.cuts.iter().filter(|c| c.joint.is_some_and(|j| place.joints.contains(&j)))
}

/// From a side of `own` to `span`: from the low side if `low`, where that is
/// shown; else from the other; none where both are broken off.
fn from_side(own: Interval, shown: Interval, low: bool, span: Interval) -> Option<Interval> {
    let (low_seen, high_seen) = (own.from > shown.from, own.to < shown.to);
    if low_seen && (low || !high_seen) {
        Some(Interval { from: own.from, to: span.from })
    } else {
        high_seen.then_some(Interval { from: span.to, to: own.to })
    }
}

/// Whether sizes along a direction start at the low side of a part: face and
/// edge mark are at nought of part z and y; along the grain the nearer end.
fn marked_low(part: &WorkedPart, along: DVec3, own: Interval, span: Interval) -> bool {
    for axis in [part.at.z, part.at.y] {
        let way = axis.dot(along);
        if way.abs() > ALONG {
            return way > 0.0;
        }
    }
    span.from - own.from <= own.to - span.to
}

/// How far from the end of one part another stands on it, where no cut says so.
fn standing(worked: &WorkedJob, place: &Place, window: &Window, axis: usize, list: &mut Vec<Size>) {
    let shown = Interval { from: window.low[axis], to: window.high[axis] };
    let across = Interval { from: place.zone.0[1 - axis], to: place.zone.1[1 - axis] };
    let upright = |index: usize| worked.parts.get(index).filter(|part| !leans(place, part));
    let span = |index: usize| upright(index).and_then(|part| place.span(part, axis));
    for &on in &place.parts {
        for &other in place.parts.iter().filter(|other| **other != on) {
            let (Some(base), Some(stands)) = (span(on), span(other)) else { continue };
            let base = with_lippings(worked, place, (on, base), axis);
            let inside = stands.from > base.from + PLAY && stands.to < base.to - PLAY;
            let said = list.iter().any(|s| s.part == on && s.axis == axis);
            if inside && !said && stands.from >= shown.from && stands.to <= shown.to {
                let low = stands.from - base.from <= base.to - stands.to;
                let found = from_side(base, shown, low, stands);
                list.extend(found.map(|Interval { from, to }| Size {
                    part: on,
                    rank: Rank::Distance,
                    axis,
                    from,
                    to,
                    across,
                    by_cutter: false,
                }));
            }
        }
    }
}

/// Each size once, and none that follows from others: along each axis the sizes
/// join places without closing a ring (ISO 129-1: no closed chains).
fn once(mut list: Vec<Size>) -> Vec<Size> {
    list.retain(|size| size.to - size.from > PLAY);
    list.sort_by_key(|size| size.rank);
    let mut kept: Vec<Size> = Vec::new();
    for size in list {
        let others = |axis: usize| kept.iter().filter(move |k| k.axis == axis);
        if !joined(others(size.axis), size.from, size.to) {
            kept.push(size);
        }
    }
    kept
}

/// Whether sizes lead from one place to another.
fn joined<'s>(sizes: impl Iterator<Item = &'s Size>, from: f64, to: f64) -> bool {
    let same = |a: f64, b: f64| (a - b).abs() < SAME;
    let sizes: Vec<&Size> = sizes.collect();
    let mut reached = vec![from];
    let mut next = 0;
    while let Some(&at) = reached.get(next) {
        next += 1;
        for size in &sizes {
            for (a, b) in [(size.from, size.to), (size.to, size.from)] {
                if same(a, at) && !reached.iter().any(|known| same(*known, b)) {
                    reached.push(b);
                }
            }
        }
    }
    reached.iter().any(|known| same(*known, to))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_size_follows_from_others() {
        let size = |rank, from, to| Size {
            part: 0,
            rank,
            axis: 0,
            from,
            to,
            across: Interval { from: 0.0, to: 1.0 },
            by_cutter: false,
        };
        let (thick, cut, off) = (Rank::Thickness, Rank::Cut, Rank::Distance);
        let list =
            vec![size(off, 0.0, 5.0), size(cut, 5.0, 13.0), size(off, 13.0, 18.0), size(thick, 0.0, 18.0)];
        let kept: Vec<(f64, f64)> = once(list).iter().map(|s| (s.from, s.to)).collect();
        assert_eq!(kept, [(0.0, 18.0), (5.0, 13.0), (0.0, 5.0)]);
        let other = Size { axis: 1, ..size(off, 0.0, 18.0) };
        assert_eq!(once(vec![size(thick, 0.0, 18.0), other, size(cut, 0.0, 0.3)]).len(), 2);
    }
}
