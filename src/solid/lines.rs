//! Stretches along a line, and tidying the lines of a view.

use super::tolerance::{LEAST_SEGMENT, ON_LINE};
use super::view_line::{CUT, LineKind, ViewLine};
use crate::geometry::tolerance::{HAIR, NOISE};
use crate::geometry::{DVec2, trig};

/// From and to along a line.
pub(super) type Stretch = (f64, f64);

/// Sorts stretches and joins those that touch.
pub(super) fn join(all: &mut Vec<Stretch>) {
    all.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    all.dedup_by(|next, last| {
        let touch = next.0 <= last.1 + LEAST_SEGMENT;
        if touch {
            last.1 = last.1.max(next.1);
        }
        touch
    });
}

/// What two ordered lists of stretches share.
pub(super) fn common(a: &[Stretch], b: &[Stretch]) -> Vec<Stretch> {
    let (mut i, mut j) = (0, 0);
    let mut out = Vec::new();
    while let (Some(&p), Some(&q)) = (a.get(i), b.get(j)) {
        let (low, high) = (p.0.max(q.0), p.1.min(q.1));
        if high > low {
            out.push((low, high));
        }
        // The one that ends first can share nothing more.
        if p.1 < q.1 { i += 1 } else { j += 1 }
    }
    out
}

/// `s` without what an ordered list covers.
fn without(s: Stretch, covered: &[Stretch]) -> Vec<Stretch> {
    let mut out = Vec::new();
    let mut from = s.0;
    for c in covered {
        if c.1 <= from || c.0 >= s.1 {
            continue;
        }
        if c.0 - from >= LEAST_SEGMENT {
            out.push((from, c.0));
        }
        from = from.max(c.1);
    }
    if s.1 - from >= LEAST_SEGMENT {
        out.push((from, s.1));
    }
    out
}

/// Draws each place once (visible before hidden, arris before outline) and
/// joins touching pieces of one line.
pub(super) fn tidy(found: &[ViewLine]) -> Vec<ViewLine> {
    let mut keyed: Vec<(f64, f64, usize)> = found
        .iter()
        .enumerate()
        .map(|(i, l)| {
            let dir = direction(l);
            (trig::atan2(dir.y, dir.x), dir.perp_dot(l.a), i)
        })
        .collect();
    // By angle, then by distance: each line is held against its neighbours and not against
    // all, of which a sheet has thousands.
    keyed.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut out: Vec<(usize, ViewLine)> = Vec::new();
    let mut rest = keyed.as_slice();
    while let Some(&(angle, _, _)) = rest.first() {
        let n = rest.partition_point(|k| k.0 <= angle + HAIR);
        let (mut parallel, after) = (rest[..n].to_vec(), &rest[n..]);
        rest = after;
        // Within a hair of one angle the order by angle is noise, and would part lines that
        // are one.
        parallel.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.2.cmp(&b.2)));
        let mut lanes = parallel.as_slice();
        while let Some(&(_, offset, _)) = lanes.first() {
            let n = lanes.partition_point(|k| k.1 <= offset + ON_LINE);
            one_line(found, &lanes[..n], &mut out);
            lanes = &lanes[n..];
        }
    }
    out.sort_by_key(|(i, l)| (l.kind.is_hidden(), *i));
    out.into_iter().map(|o| o.1).collect()
}

/// All lines in one infinite line.
fn one_line(found: &[ViewLine], members: &[(f64, f64, usize)], out: &mut Vec<(usize, ViewLine)>) {
    let Some(first) = members.first() else { return };
    let dir = direction(&found[first.2]);
    let span = |l: &ViewLine| {
        let (a, b) = (dir.dot(l.a), dir.dot(l.b));
        (a.min(b), a.max(b))
    };
    let mut order: Vec<usize> = members.iter().map(|m| m.2).collect();
    // The outline of a section goes before what lies along it.
    let rank = |i: usize| (!found[i].faces.contains(&CUT), found[i].kind);
    order.sort_by(|&i, &j| {
        rank(i).cmp(&rank(j)).then(span(&found[i]).0.total_cmp(&span(&found[j]).0)).then(i.cmp(&j))
    });
    let mut covered: Vec<Stretch> = Vec::new();
    let mut open: Option<(usize, LineKind, usize, Stretch)> = None;
    let base = found[first.2].a - dir * dir.dot(found[first.2].a);
    let mut close = |open: Option<(usize, LineKind, usize, Stretch)>| {
        if let Some((i, _, _, s)) = open {
            let at = |t: f64| base + dir * t;
            out.push((i, ViewLine { a: at(s.0), b: at(s.1), ..found[i] }));
        }
    };
    for i in order {
        let line = &found[i];
        for s in without(span(line), &covered) {
            covered.push(s);
            join(&mut covered);
            match &mut open {
                Some((o_i, kind, tag, o))
                    if *kind == line.kind
                        && *tag == line.tag
                        && found[*o_i].faces.contains(&CUT) == line.faces.contains(&CUT)
                        && s.0 <= o.1 + ON_LINE
                        && s.0 >= o.0 =>
                {
                    o.1 = o.1.max(s.1);
                }
                _ => {
                    close(open.take());
                    open = Some((i, line.kind, line.tag, s));
                }
            }
        }
    }
    close(open);
}

/// Unit direction of a line, to the right or straight up.
fn direction(l: &ViewLine) -> DVec2 {
    let d = (l.b - l.a).normalize_or(DVec2::X);
    if d.x < -NOISE || (d.x.abs() <= NOISE && d.y < 0.0) { -d } else { d }
}
