//! Cuts that are read together: a pocket and its bore, a tenon and its shoulders.

use super::faces::{SAME, face_on};
use super::form::{Feature, Form};
use super::leaning::{End, Leaning};
use super::outlines::circle;
use super::sloped_bore::SlopedBore;
use super::slopes::long_point;
use crate::geometry::DVec3;
use crate::joinery::CutKind;
use crate::machining::tolerance::{ALONG, NO_LEAN};
use crate::solid::Prism;

/// Whether what a cut leaves at a corner is sized alike wherever it stands.
pub(crate) fn at_corner(kind: CutKind) -> bool {
    matches!(kind, CutKind::FingerSocket | CutKind::PinSocket | CutKind::TailSocket)
}

/// Which end a shoulder is cut at, false the near: `None` for other cuts and for
/// one that runs from end to end.
pub(crate) fn shoulder_end(feature: &Feature, size: DVec3) -> Option<bool> {
    let Form::Pocket { min, max, round: 0.0, .. } = &feature.form else { return None };
    let (near, far) = (min.x < SAME, max.x > size.x - SAME);
    (feature.kind == CutKind::Shoulder && near != far).then_some(far)
}

/// Reads the pockets of pocket screws, each with the bore that goes on.
pub(crate) fn join_bores(features: &mut Vec<Feature>, size: DVec3) {
    let bores: Vec<Feature> = features
        .iter()
        .filter(|f| f.kind == CutKind::ScrewHole && matches!(f.form, Form::Askew { .. }))
        .cloned()
        .collect();
    let mut gone = Vec::new();
    for feature in features.iter_mut().filter(|f| f.kind == CutKind::ScrewPocket) {
        let Form::Askew { centre, into, width, depth, .. } = feature.form else { continue };
        let bottom = centre + into * depth;
        let bore = bores.iter().find_map(|b| {
            let Form::Askew { centre: c, into: d, width: w, .. } = b.form else { return None };
            let on = (c - bottom).length() < SAME && (d - into).length() < NO_LEAN;
            on.then_some((b.cut, w))
        });
        gone.extend(bore.map(|b| b.0));
        // Out at the end or edge it looks to most, in at a broad face.
        let ahead = usize::from(into.x.abs() <= into.y.abs());
        let end = if into[ahead] > 0.0 { size[ahead] } else { 0.0 };
        // A way along the face has no side it comes in at, and is left out below.
        let far = into.z.is_sign_negative();
        let face = if far { size.z } else { 0.0 };
        if into[ahead].abs() < NO_LEAN || into.z.abs() < NO_LEAN {
            continue;
        }
        feature.form = Form::SlopedBore(SlopedBore {
            centre: bottom + into * ((face - bottom.z) / into.z),
            into,
            diameter: width,
            bore,
            seat: (end - bottom[ahead]) / into[ahead],
            entry: face_on(2, far),
        });
    }
    features.retain(|f| !gone.contains(&f.cut));
}

/// A hole that slants in from a broad face: its place and depth are those of its axis,
/// from the face on.
pub(crate) fn slanting_hole(shape: &Prism, size: DVec3) -> Option<Form> {
    let (_, radius) = circle(&shape.outline)?;
    let into = shape.at.z;
    let face = if into.z.is_sign_negative() { size.z } else { 0.0 };
    let start = shape.at.point(DVec3::new(0.0, 0.0, shape.from));
    let before = (face - start.z) / into.z;
    Some(Form::Askew {
        centre: start + into * before,
        into,
        along: DVec3::Y,
        length: 2.0 * radius,
        width: 2.0 * radius,
        depth: shape.to - shape.from - before,
        from_inner: None,
    })
}

/// Describes the ends of leaning tenons by their shoulders. An end without shoulders is
/// left out, and so is one that leans one way only, where no corner of the part is left
/// that could be its long point.
pub(crate) fn join_ends(features: &mut Vec<Feature>, size: DVec3) {
    let lines: Vec<(bool, (DVec3, DVec3))> = features
        .iter()
        .filter_map(|f| match &f.form {
            Form::Leaning(Leaning::Shoulder(s)) => Some((s.far, s.plane)),
            _ => None,
        })
        .collect();
    let shoulders = |far: bool, normal: DVec3| {
        lines.iter().find(|(at, (_, n))| *at == far && n.dot(normal) > ALONG).map(|(_, (from, _))| *from)
    };
    features.retain_mut(|feature| {
        if let Form::Slope { along: along @ 1.., ends, away } = feature.form
            && feature.kind == CutKind::Bevel
            && long_point(ends, away, along, size).is_none()
        {
            let middle = (ends[0] + ends[1]) / 2.0;
            let (far, plane) = (middle.x > size.x / 2.0, (middle, (middle - away).normalize_or_zero()));
            if shoulders(far, plane.1).is_some() {
                feature.form = Form::Leaning(Leaning::End(End { far, plane, apart: 0.0, middle }));
            }
        }
        let Form::Leaning(Leaning::End(end)) = &mut feature.form else { return true };
        let (at, normal) = end.plane;
        let Some(from) = shoulders(end.far, normal) else { return false };
        end.apart = (normal.dot(at - from) / normal.x).abs();
        true
    });
}
