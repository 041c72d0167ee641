//! Centre lines of holes and mortises.

use kurbo::{Point, Vec2};

use super::frame::Frame;
use crate::drawing::page::look::Look;
use crate::joinery::CutKind;
use crate::machining::feature::{Feature, Form, axis_side};
use crate::paper::{Mark, Pen, Role, dash};

/// A shorter centre line has no room for dashes, mm.
const CHAIN: f64 = 13.0;

/// How far centre lines run past the outline, mm (ISO teaching: 3 to 6; small
/// holes take less).
const PAST: f64 = 2.0;

/// Centre crosses of the cuts shown as themselves in this view.
pub(super) fn lines(features: &[Feature], cuts: &[usize], frame: &Frame, look: &Look) -> Vec<Mark> {
    let mut marks = Vec::new();
    for feature in features.iter().filter(|f| cuts.contains(&f.cut)) {
        let Some((centre, half)) = cross(feature, frame) else { continue };
        // Too short for dashes: short centre lines may be continuous (ISO 128-2).
        let line = |a: Point, b: Point| {
            let dash = if a.distance(b) < CHAIN { dash::SOLID } else { dash::CENTRE };
            Mark::line(a, b, Pen { width: look.narrow(), dash }, Role::Centre)
        };
        let (u, v) = (Vec2::new(half.x + PAST, 0.0), Vec2::new(0.0, half.y + PAST));
        marks.push(line(centre - u, centre + u));
        marks.push(line(centre - v, centre + v));
    }
    marks
}

/// Centre and half size on the sheet of a cut placed by its centre.
pub(super) fn cross(feature: &Feature, frame: &Frame) -> Option<(Point, Vec2)> {
    match &feature.form {
        Form::Pocket { min, max, entry, round } => {
            let placed = *round > 0.0
                || matches!(
                    feature.kind,
                    CutKind::Mortise | CutKind::ConnectorPocket | CutKind::Slot | CutKind::BiscuitSlot
                );
            let seen = axis_side(*entry).0 == axis_side(frame.face).0;
            let (a, b) = (frame.point(*min), frame.point(*max));
            (placed && seen).then(|| (a.midpoint(b), Vec2::new((b.x - a.x).abs(), (b.y - a.y).abs()) / 2.0))
        }
        Form::Hole { centre, diameter, entry, .. } => {
            let r = diameter / 2.0 * frame.factor;
            (axis_side(*entry).0 == axis_side(frame.face).0).then(|| (frame.point(*centre), Vec2::new(r, r)))
        }
        Form::Leaning(leaning) => leaning.cross(frame.face).map(|(middle, half)| {
            let r = half * frame.factor;
            (frame.point(middle), Vec2::new(r, r))
        }),
        Form::Slope { .. }
        | Form::Compound { .. }
        | Form::Raked(_)
        | Form::Askew { .. }
        | Form::Shape { .. }
        | Form::Flared(_)
        | Form::SlopedBore(_) => None,
    }
}
