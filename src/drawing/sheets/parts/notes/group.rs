//! Cuts told together: alike in everything but place.

use crate::geometry::DVec3;
use crate::geometry::tolerance::HAIR;
use crate::joinery::CutKind;
use crate::machining::feature::{self, Feature, Form, SAME, axis_side};
use crate::model::Face;

/// Cuts alike in everything but place, as lists of indices into `here`.
pub(in crate::drawing::sheets::parts) fn group(here: &[&Feature], size: DVec3) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (i, feature) in here.iter().enumerate() {
        let known = groups.iter_mut().find(|g| {
            g.first().and_then(|first| here.get(*first)).is_some_and(|first| alike(first, feature, size))
        });
        match known {
            Some(group) => group.push(i),
            None => groups.push(vec![i]),
        }
    }
    groups.into_iter().flat_map(|group| by_end(here, group, size)).collect()
}

/// Shoulders are told together where there are as many at both ends, else those
/// at each end by themselves.
fn by_end(here: &[&Feature], group: Vec<usize>, size: DVec3) -> Vec<Vec<usize>> {
    let far = |i: &usize| here.get(*i).and_then(|f| feature::shoulder_end(f, size));
    let (beyond, near): (Vec<usize>, Vec<usize>) = group.iter().partition(|i| far(i) == Some(true));
    if beyond.is_empty() || near.is_empty() || beyond.len() == near.len() {
        return vec![group];
    }
    vec![near, beyond]
}

/// Whether two cuts are alike but for their place.
fn alike(a: &Feature, b: &Feature, size: DVec3) -> bool {
    if a.kind != b.kind || a.stage != b.stage {
        return false;
    }
    let close = |p: f64, q: f64| (p - q).abs() < SAME;
    match (&a.form, &b.form) {
        (Form::Pocket { .. }, Form::Pocket { .. }) => pockets_alike(a, b, size),
        (
            Form::Hole { entry: e, diameter: d, depth: p, through: t, .. },
            Form::Hole { entry: f, diameter: k, depth: q, through: u, .. },
        ) => axis_side(*e).0 == axis_side(*f).0 && close(*d, *k) && close(*p, *q) && t == u,
        (
            Form::Askew { into: v, length: d, width: e, depth: p, from_inner: m, .. },
            Form::Askew { into: w, length: k, width: l, depth: q, from_inner: n, .. },
        ) => {
            // Along a slope each is placed by its own note: no dimension there is true.
            let placed = match (m, n) {
                (Some(m), Some(n)) => close(*m, *n),
                (None, None) => true,
                _ => false,
            };
            placed && (*v - *w).length() < HAIR && close(*d, *k) && close(*e, *l) && close(*p, *q)
        }
        (Form::Flared(a), Form::Flared(b)) => a.alike(b),
        (Form::Leaning(a), Form::Leaning(b)) => a.alike(b),
        (Form::SlopedBore(a), Form::SlopedBore(b)) => a.alike(b),
        _ => false,
    }
}

/// The same of two pockets.
fn pockets_alike(a: &Feature, b: &Feature, size: DVec3) -> bool {
    let close = |p: f64, q: f64| (p - q).abs() < SAME;
    let (
        Form::Pocket { min: a0, max: a1, entry: e, round: r },
        Form::Pocket { min: b0, max: b1, entry: f, round: s },
    ) = (&a.form, &b.form)
    else {
        return false;
    };
    let ends = |f: Face| axis_side(f).0;
    let touch = |lo: &DVec3, hi: &DVec3, i: usize| (lo[i] < SAME, hi[i] > size[i] - SAME);
    let across = ends(*e);
    if feature::at_corner(a.kind) {
        return e == f && (0..3).all(|i| close(a1[i] - a0[i], b1[i] - b0[i]));
    }
    if faces_both(a, b) || ends_both(a, b, size) {
        return true;
    }
    ends(*e) == ends(*f)
        && (across == 0 || e == f)
        && close(*r, *s)
        && (0..3).all(|i| close(a1[i] - a0[i], b1[i] - b0[i]))
        && (0..3).all(|i| i == across || touch(a0, a1, i) == touch(b0, b1, i))
}

/// Whether two shoulders are alike at the two ends, from one face or from the
/// two broad faces.
fn ends_both(a: &Feature, b: &Feature, size: DVec3) -> bool {
    let (Some(one), Some(other)) = (feature::shoulder_end(a, size), feature::shoulder_end(b, size)) else {
        return false;
    };
    let close = |p: f64, q: f64| (p - q).abs() < SAME;
    let broad = |face: Face| axis_side(face).0 == 2;
    match (&a.form, &b.form) {
        (
            Form::Pocket { min: a0, max: a1, entry: e, .. },
            Form::Pocket { min: b0, max: b1, entry: f, .. },
        ) => {
            one != other
                && (e == f || broad(*e) && broad(*f))
                && (0..3).all(|i| close(a1[i] - a0[i], b1[i] - b0[i]))
                && close(a0.y, b0.y)
                && (e != f || close(a0.z, b0.z))
        }
        _ => false,
    }
}

/// Whether two shoulders leave a tongue between them: alike on both faces.
pub(in crate::drawing::sheets::parts) fn faces_both(a: &Feature, b: &Feature) -> bool {
    let close = |p: f64, q: f64| (p - q).abs() < SAME;
    let pair = |e: Face, f: Face| matches!((e, f), (Face::Marked, Face::Back) | (Face::Back, Face::Marked));
    match (&a.form, &b.form) {
        (
            Form::Pocket { min: a0, max: a1, entry: e, .. },
            Form::Pocket { min: b0, max: b1, entry: f, .. },
        ) => {
            let kinds = a.kind == CutKind::Shoulder && b.kind == CutKind::Shoulder;
            kinds
                && pair(*e, *f)
                && (0..2).all(|i| close(a0[i], b0[i]) && close(a1[i], b1[i]))
                && close(a1.z - a0.z, b1.z - b0.z)
        }
        _ => false,
    }
}
