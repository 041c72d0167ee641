//! A part's view in ink.

use kurbo::{Rect, Shape};

use super::feature::{Feature, Form};
use super::frame::Frame;
use crate::drawing::Look;
use crate::drawing::dimension::pen;
use crate::joinery::WorkedPart;
use crate::paper::{Mark, Pen, Role, Shows, dash};

/// The ink of one view.
pub(super) fn ink(
    part: &WorkedPart,
    features: &[Feature],
    cuts: &[usize],
    frame: &Frame,
    number: u16,
    look: &Look,
) -> Vec<Mark> {
    let _ = part;
    let shows = Shows { view: number, ..Shows::default() };
    let wide = pen(look.profile.wide());
    let mut marks = vec![Mark::stroke(frame.rect().to_path(0.01), wide, Role::Outline)];
    for f in features {
        if let Form::Pocket { min, max, .. } = &f.form {
            let r = Rect::from_points(frame.point(*min), frame.point(*max));
            let hidden = !cuts.contains(&f.cut);
            let pen = if hidden { Pen { width: look.profile.narrow(), dash: dash::HIDDEN } } else { wide };
            marks.push(Mark::stroke(r.to_path(0.01), pen, if hidden { Role::Hidden } else { Role::Outline }));
        }
    }
    marks.extend(super::centres::lines(features, cuts, frame, look));
    marks.into_iter().map(|m| m.showing(shows.clone())).collect()
}
