//! Letters at the ends of a part: N for the near end, from which sizes run, F for the
//! far end. What settings and lists call an end is found on the drawing by them.

use kurbo::{Point, Rect};

use super::frame::Frame;
use crate::drawing::kit::dimension::white::White;
use crate::geometry::DVec3;
use crate::paper::{Anchor, Mark, Role, Text};

/// What the letters mean, said once on each sheet that uses them.
pub(in crate::drawing) const MEANING: &str = "N near end, F far end.";

/// Height of a letter, mm: the least of ISO 3098 for these sheets.
const HEIGHT: f64 = 2.5;

/// Room for a letter between an end and what is cut beside it, mm.
const ROOM: (f64, f64) = (2.6, 3.6);

/// From the end's line to the letter, mm: no nearer than lines may stand (ISO 128-2).
const OFF: f64 = 0.9;

/// Places down an end, in shares of it: low first, as marks and sizes stand high.
const DOWN: [f64; 7] = [0.85, 0.75, 0.65, 0.5, 0.35, 0.25, 0.15];

/// Steps inwards from an end that is too crowded for its letter, mm.
const INWARDS: [f64; 5] = [0.0, 3.0, 6.0, 10.0, 15.0];

/// The two letters, each inside the view at its end where that is white, else as near
/// to it as there is room.
pub(super) fn letters(frame: &Frame, white: &White) -> Vec<Mark> {
    let rect = frame.rect();
    let near_is_left = frame.point(DVec3::ZERO).x < rect.center().x;
    let ends = [("N", near_is_left), ("F", !near_is_left)];
    ends.into_iter().filter_map(|(letter, left)| one(letter, left, rect, white)).collect()
}

fn one(letter: &str, left: bool, rect: Rect, white: &White) -> Option<Mark> {
    // Past the middle it would seem to belong to the other end.
    let inwards = INWARDS.iter().filter(|by| OFF + ROOM.0 + **by < rect.width() / 3.0);
    let boxes = inwards.flat_map(|by| {
        let x0 = if left { rect.x0 + OFF + by } else { rect.x1 - OFF - ROOM.0 - by };
        DOWN.iter().map(move |share| {
            let middle = rect.y0 + rect.height() * share;
            Rect::new(x0, middle - ROOM.1 / 2.0, x0 + ROOM.0, middle + ROOM.1 / 2.0)
        })
    });
    let found = boxes
        .into_iter()
        .find(|place| place.y0 > rect.y0 + OFF && place.y1 < rect.y1 - OFF && white.free(*place))?;
    let at = Point::new(found.center().x, found.center().y + HEIGHT / 2.0);
    let text = Text::plain(at, letter.to_owned(), HEIGHT).anchored(Anchor::Middle);
    Some(Mark::text(text, Role::Symbol))
}
