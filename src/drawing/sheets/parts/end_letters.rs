//! Letters at the ends of a part: N for the near end, from which sizes run, F for the
//! far end. What settings and lists call an end is found on the drawing by them.

use kurbo::{Line, ParamCurve, Point, Rect};

use super::frame::Frame;
use super::ground::Ground;
use crate::drawing::kit::dimension::white::White;
use crate::geometry::DVec3;
use crate::paper::{Anchor, Ink, Mark, Role, Text};

/// What the letters mean, said once on each sheet that uses them.
pub(in crate::drawing) const MEANING: &str = "N near end, F far end.";

/// Height of a letter, mm: the least of ISO 3098 for these sheets.
const HEIGHT: f64 = 2.5;

/// Room for a letter between an end and what is cut beside it, mm.
const ROOM: (f64, f64) = (2.6, 3.6);

/// From the end's line to the letter, mm: no nearer than lines may stand (ISO 128-2).
const OFF: f64 = 0.9;

/// Places down an end, in shares of it: low first, as marks and sizes stand high.
const DOWN: [f64; 9] = [0.85, 0.8, 0.75, 0.7, 0.65, 0.5, 0.35, 0.25, 0.15];

/// Steps inwards from an end that is too crowded for its letter, mm.
const INWARDS: [f64; 9] = [0.0, 1.0, 2.0, 3.0, 4.5, 6.0, 8.0, 10.0, 15.0];

/// In what steps the wood is looked for from an end inwards, mm: a mitred end lies far in from
/// the box round the part.
const STEP: f64 = 0.5;

/// The two letters, each on the wood at its end where that is white, else as near to it as
/// there is room.
pub(super) fn letters(frame: &Frame, ground: &Ground, white: &White) -> Vec<Mark> {
    let rect = frame.rect();
    let near_is_left = frame.point(DVec3::ZERO).x < rect.center().x;
    let ends = [("N", near_is_left), ("F", !near_is_left)];
    ends.into_iter().filter_map(|(letter, left)| one(letter, left, rect, (ground, white))).collect()
}

fn one(letter: &str, left: bool, rect: Rect, (ground, white): (&Ground, &White)) -> Option<Mark> {
    // Past the middle it would seem to belong to the other end.
    let farthest = rect.width() / 3.0 - OFF - ROOM.0;
    let place = |share: f64, by: f64| {
        let x0 = if left { rect.x0 + OFF + by } else { rect.x1 - OFF - ROOM.0 - by };
        let middle = rect.y0 + rect.height() * share;
        Rect::new(x0, middle - ROOM.1 / 2.0, x0 + ROOM.0, middle + ROOM.1 / 2.0)
    };
    // How far in the wood begins at each height.
    let begins = |share: f64| {
        let mut by = 0.0;
        while by < farthest {
            if ground.under(place(share, by).inflate(OFF - STEP, 0.0)) {
                return Some(by);
            }
            by += STEP;
        }
        None
    };
    let heights: Vec<(f64, f64)> = DOWN.iter().filter_map(|share| Some((*share, begins(*share)?))).collect();
    let boxes = INWARDS
        .iter()
        .flat_map(|more| heights.iter().map(move |(share, by)| (*share, by + more)))
        .filter(|(_, by)| *by < farthest)
        .map(|(share, by)| place(share, by));
    let inside = boxes.into_iter().find(|place| {
        place.y0 > rect.y0 + OFF && place.y1 < rect.y1 - OFF && ground.under(*place) && white.free(*place)
    });
    // Where no wood is white, by the end.
    let beside = || {
        let boxes = heights.iter().map(|(share, _)| place(*share, -2.0 * OFF - ROOM.0));
        boxes.into_iter().find(|place| white.free(place.inflate(OFF, 0.0)))
    };
    let found = inside.or_else(beside)?;
    let at = Point::new(found.center().x, found.center().y + HEIGHT / 2.0);
    let text = Text::plain(at, letter.to_owned(), HEIGHT).anchored(Anchor::Middle);
    Some(Mark::text(text, Role::Symbol))
}

/// Sets letters anew that a leader runs by or through: notes come after letters, and one that
/// finds no other way goes over them.
pub(super) fn given_way(frame: &Frame, ground: &Ground, white: &mut White, marks: &mut Vec<Mark>) {
    let rect = frame.rect();
    let near_is_left = frame.point(DVec3::ZERO).x < rect.center().x;
    for (letter, left) in [("N", near_is_left), ("F", !near_is_left)] {
        let own = |mark: &Mark| match &mark.ink {
            Ink::Text(text) => {
                mark.role == Role::Symbol && text.reading() == letter && around(rect).contains(text.at)
            }
            Ink::Stroke { .. } | Ink::Fill { .. } => false,
        };
        let Some(at) = marks.iter().position(own) else { continue };
        let Some(place) = marks.get(at).map(|mark| mark.bounds().inflate(CLEAR, CLEAR)) else { continue };
        if !marks.iter().any(|mark| mark.role == Role::Leader && strikes(mark, place)) {
            continue;
        }
        marks.remove(at);
        let anew = one(letter, left, rect, (ground, white));
        white.ink(anew.as_slice());
        marks.extend(anew);
    }
}

/// White kept between a letter and a leader, mm.
const CLEAR: f64 = 0.5;

/// A view with room for a letter beside each end.
fn around(rect: Rect) -> Rect {
    rect.inflate(2.0 * OFF + ROOM.0, 0.0)
}

/// Whether a line of a mark runs through a box.
fn strikes(mark: &Mark, place: Rect) -> bool {
    let Ink::Stroke { path, .. } = &mark.ink else { return false };
    let corners = [
        place.origin(),
        Point::new(place.x1, place.y0),
        Point::new(place.x1, place.y1),
        Point::new(place.x0, place.y1),
    ];
    let next = corners.iter().cycle().skip(1);
    let sides: Vec<Line> = corners.iter().zip(next).map(|(a, b)| Line::new(*a, *b)).collect();
    path.segments().any(|segment| {
        place.contains(segment.start()) || sides.iter().any(|side| !segment.intersect_line(*side).is_empty())
    })
}
