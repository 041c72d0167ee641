//! A face of a part at full size, for templates.

use kurbo::{Line, Point, Rect};

use super::cell::callout;
use super::centres;
use super::frame::Frame;
use super::notes::{group, wording};
use super::thin::Way;
use super::view;
use crate::drawing::kit::dimension::Manner;
use crate::drawing::kit::dimension::callout::Callout;
use crate::drawing::page::look::Look;
use crate::geometry::DVec3;
use crate::joinery::WorkedPart;
use crate::machining::feature;
use crate::model::Face;
use crate::paper::{Fixes, Mark};
use crate::solid::Camera;

/// What is seen on a face at full size, with centre lines of holes and
/// mortises, and the box of the part: x right and y down from the corner of
/// its blank.
pub(in crate::drawing) fn full_size(part: &WorkedPart, face: Face, look: &Look) -> (Vec<Mark>, Rect) {
    let frame = Frame::new(face, part.size, 1.0);
    let mut lines = view::lines(part, &frame);
    lines.retain(|(_, way)| *way != Way::Hidden);
    let mut marks = view::ink(part, &lines, &frame, look);
    let features = feature::read(part);
    let seen: Vec<usize> = features.iter().filter(|f| enters(f, face)).map(|f| f.cut).collect();
    marks.extend(centres::lines(&features, &seen, &frame, look));
    for mark in &mut marks {
        mark.shows.view = 1;
        mark.shows.part = part.mark();
    }
    (marks, frame.rect())
}

/// The names of holes and mortises on a face at full size, one for those that are alike,
/// as on the part's own drawing but without their sizes' meaning: nothing is measured
/// from a name.
pub(in crate::drawing) fn names(part: &WorkedPart, face: Face, look: &Look) -> Vec<Callout> {
    let frame = Frame::new(face, part.size, 1.0);
    let features = feature::read(part);
    let here: Vec<&feature::Feature> = features.iter().filter(|f| enters(f, face)).collect();
    let manner = Manner::of(look);
    let notes = group::group(&here, part.size)
        .into_iter()
        .filter_map(|alike| wording::note(part, &here, &alike, face, look));
    let named = notes.map(|note| callout(&note, &frame, &manner));
    named.map(|one| Callout { value: None, fixes: Fixes::Nothing, ..one }).collect()
}

/// The datums of a face at full size, a line along each and its name: the edge and the end
/// that sizes run from, or the face where an edge is looked at.
pub(in crate::drawing) fn datums(part: &WorkedPart, face: Face) -> Vec<(Line, &'static str)> {
    let frame = Frame::new(face, part.size, 1.0);
    let (right, down) = (frame.right.0, frame.down.0);
    let line = |axis: usize, other: usize| {
        // Where `axis` is 0, all along `other`.
        let mut end = DVec3::ZERO;
        end[other] = part.size[other];
        let (a, b) = (frame.point(DVec3::ZERO), frame.point(end));
        let name = match axis {
            0 => "datum: near end",
            1 => "datum: edge mark",
            _ => "datum: face mark",
        };
        (Line::new(a, b), name)
    };
    vec![line(right, down), line(down, right)]
}

/// Whether a cut is made from this face or comes out of it.
fn enters(feature: &feature::Feature, face: Face) -> bool {
    match &feature.form {
        feature::Form::Pocket { entry, .. } => *entry == face,
        feature::Form::Hole { entry, through, .. } => {
            *entry == face || (*through && feature::axis_side(*entry).0 == feature::axis_side(face).0)
        }
        feature::Form::Slope { .. }
        | feature::Form::Compound { .. }
        | feature::Form::Raked(_)
        | feature::Form::Askew { .. }
        | feature::Form::Shape { .. }
        | feature::Form::Flared(_)
        | feature::Form::Leaning(_)
        | feature::Form::SlopedBore(_) => false,
    }
}

/// Where a point of the part falls on its template.
pub(in crate::drawing) fn on_template(part: &WorkedPart, face: Face, p: DVec3) -> Point {
    Frame::new(face, part.size, 1.0).point(p)
}

/// How a template looks at its part.
pub(in crate::drawing) fn template_camera(part: &WorkedPart, face: Face) -> Camera {
    view::camera(&Frame::new(face, part.size, 1.0))
}
