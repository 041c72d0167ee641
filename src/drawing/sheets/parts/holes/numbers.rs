//! The numbers of holes in the views.

use kurbo::{Point, Rect, Vec2};

use crate::drawing::kit::dimension::Manner;
use crate::drawing::kit::dimension::callout::{Callout, callouts};
use crate::drawing::kit::dimension::white::White;
use crate::drawing::sheets::parts::chosen::NumberedHole;
use crate::drawing::sheets::parts::frame::Frame;
use crate::paper::fixes::{BoxSide, Fixes, Noted, NotedCut};
use crate::paper::{Anchor, Ink, Mark, Role, Run, Shows, Text};

/// Holes whose middles fall together on paper are numbered together, mm.
const TOGETHER: f64 = 0.2;
/// White between a hole's centre lines and its number, the steps by which it moves off,
/// and how far it may, mm: farther off it would be taken for the number of another hole.
const NEAR: f64 = 0.9;
const STEP: f64 = 0.7;
const FAR: f64 = 6.0;
/// White kept round a number, mm.
const ROUND: f64 = 0.4;
/// Where a number may stand beside a hole, the best first: off the centre lines.
const SIDES: [(f64, f64); 8] =
    [(1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0)];

/// What the number of a hole shows, so that a checker can look for it in the table.
pub(super) fn shown(hole: &NumberedHole) -> Fixes {
    let from = BoxSide { axis: crate::paper::fixes::Axis::Z, far: false };
    let cut = NotedCut { cut: hole.cut, from, bore: None, against: Vec::new() };
    Fixes::Cuts(vec![Noted { cuts: vec![cut], facts: Vec::new() }])
}

/// Paper that the numbers of a view are put on.
pub(in crate::drawing::sheets::parts) struct On<'a> {
    /// What is white.
    pub(in crate::drawing::sheets::parts) white: &'a mut White,
    /// The views of the part.
    pub(in crate::drawing::sheets::parts) bounds: Rect,
    /// Heights of text.
    pub(in crate::drawing::sheets::parts) manner: &'a Manner,
    /// Dimension numbers used so far.
    pub(in crate::drawing::sheets::parts) number: &'a mut u32,
}

/// Numbers the holes of view `view`, each beside it where that is white and on a leader
/// where not; whether all found a place.
pub(in crate::drawing::sheets::parts) fn draw(
    holes: &[NumberedHole],
    (frame, view): (&Frame, u16),
    on: &mut On<'_>,
    marks: &mut Vec<Mark>,
) -> bool {
    let mut spots: Vec<(Point, Vec<&NumberedHole>)> = Vec::new();
    for hole in holes {
        let at = frame.point(hole.at);
        match spots.iter_mut().find(|(known, _)| known.distance(at) < TOGETHER) {
            Some((_, together)) => together.push(hole),
            None => spots.push((at, vec![hole])),
        }
    }
    let mut near = true;
    for (at, together) in &spots {
        let number = together.iter().map(|hole| hole.number.to_string()).collect::<Vec<_>>().join(", ");
        let Some(fixes) = together.first().map(|hole| shown(hole)) else { continue };
        let shows = Shows { view, fixes, ..Shows::default() };
        if let Some(mark) = beside(*at, &number, on) {
            let mark = Mark { shows, ..mark };
            on.white.ink(std::slice::from_ref(&mark));
            marks.push(mark);
            continue;
        }
        let lines = vec![vec![Run::Plain(number)]];
        let note = Callout { at: vec![*at], lines, value: None, fixes: Fixes::Nothing, spare: false };
        let from = marks.len();
        near &= callouts(&[note], on.white, on.bounds, on.manner, on.number, marks);
        // On a leader it is a number all the same, and no size.
        for mark in marks.iter_mut().skip(from).filter(|mark| matches!(mark.ink, Ink::Text(_))) {
            mark.role = Role::Symbol;
            mark.shows = shows.clone();
        }
    }
    near
}

/// The number right beside its hole, where it is white.
fn beside(at: Point, number: &str, on: &On<'_>) -> Option<Mark> {
    let text = |p: Point| {
        let text = Text::plain(p, number.to_owned(), on.manner.text).anchored(Anchor::Middle);
        Mark::text(text, Role::Symbol)
    };
    let size = text(at).bounds().size();
    let steps = std::iter::successors(Some(NEAR), |off| Some(off + STEP)).take_while(|off| *off <= FAR);
    let spots = steps.flat_map(|off| {
        SIDES.iter().map(move |(x, y)| {
            let aside = Vec2::new(x * (off + size.width / 2.0), y * (off + size.height / 2.0));
            // The base line lies half the height below the middle.
            at + aside + Vec2::new(0.0, size.height / 2.0)
        })
    });
    spots.map(text).find(|mark| on.white.free(mark.bounds().inflate(ROUND, ROUND)))
}
