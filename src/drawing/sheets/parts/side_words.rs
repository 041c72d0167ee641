//! Words on the view of a part that say which way round it goes in the piece: FRONT EDGE at
//! the edge that looks forward, TOP END at what looks up, OUTSIDE or INSIDE on the face of an
//! outer part, and on any other face where it looks.

use kurbo::{Point, Rect};

use super::frame::Frame;
use super::ground::Ground;
use super::subject::Subject;
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::project::bounds;
use crate::drawing::kit::words::text_width;
use crate::geometry::DVec3;
use crate::joinery::{WorkedPart, lies_as_drawn};
use crate::model::Side;
use crate::paper::{Anchor, Mark, Role, Text, Weight};

/// Height of the words, mm: the least of ISO 3098 for these sheets.
const HEIGHT: f64 = 2.5;
/// White round a word at its sides, and above and below it, mm.
const ROUND: (f64, f64) = (2.6, 0.9);
/// Steps inwards from an edge that is too crowded for its word, mm.
const INWARDS: [f64; 4] = [0.0, 3.0, 6.0, 10.0];
/// Places along an edge, in shares of it.
const SHARES: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88];
/// A word in the middle between two edges may stand nearer the wrong one by this much, mm.
const MIDDLE: f64 = 0.5;
/// Cosine from which a direction is that of a side: a part that leans has no FRONT edge.
const SAME_WAY: f64 = 0.99;
/// A face nearer to the outside of its piece than this is an outer one, mm.
const OUTER: f64 = 1.0;

/// The words of a view on the marked face, where it is white.
pub(super) fn words(subject: Subject<'_>, frame: &Frame, ground: &Ground, white: &mut White) -> Vec<Mark> {
    let mut all = Vec::new();
    let rect = frame.rect();
    let edges = [
        (DVec3::NEG_Y, Edge::Upper),
        (DVec3::Y, Edge::Lower),
        (DVec3::NEG_X, Edge::Left),
        (DVec3::X, Edge::Right),
    ];
    let asked = edges.into_iter().filter_map(|(way, edge)| {
        Some((
            told(subject, |index, part, turn| {
                let way = way * turn;
                scribed_word(subject, index, part, way).or_else(|| edge_word(part, way, edge))
            })?,
            edge,
        ))
    });
    let face = told(subject, |_, part, turn| face_word(subject, part, DVec3::NEG_Z * turn));
    let face = face.map(|word| (word, Edge::Middle));
    for (word, edge) in asked.chain(face) {
        if let Some(mark) = place(word, edge, rect, (ground, white)) {
            white.ink(std::slice::from_ref(&mark));
            all.push(mark);
        }
    }
    all
}

/// What is written on the view from behind.
const BEHIND: &str = "FROM BEHIND";

/// The word on a view of the back face, where it is white.
pub(super) fn from_behind(frame: &Frame, ground: &Ground, white: &mut White) -> Option<Mark> {
    let mark = place(BEHIND, Edge::Middle, frame.rect(), (ground, white))?;
    white.ink(std::slice::from_ref(&mark));
    Some(mark)
}

/// Where in a view a word belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Edge {
    Upper,
    Lower,
    Left,
    Right,
    Middle,
}

/// What is said of a part, if it holds for every part that is made from this drawing, however
/// that is turned to lie as it is drawn: four legs of one number do not all have their front on
/// the same face.
fn told(
    subject: Subject<'_>,
    word: impl Fn(usize, &WorkedPart, DVec3) -> Option<&'static str>,
) -> Option<&'static str> {
    let drawn = subject.worked.parts.get(subject.index)?;
    let all = subject.worked.parts.iter().enumerate();
    let mut same = all.filter(|(_, p)| p.number == drawn.number && p.hand == drawn.hand);
    let first = word(subject.index, subject.part, DVec3::ONE)?;
    let said = |index: usize, part: &WorkedPart| word(index, part, turned(drawn, part)?);
    same.all(|(index, part)| said(index, part) == Some(first)).then_some(first)
}

/// How `part` is turned to lie as `drawn` does.
fn turned(drawn: &WorkedPart, part: &WorkedPart) -> Option<DVec3> {
    if std::ptr::eq(drawn, part) { Some(DVec3::ONE) } else { lies_as_drawn(drawn, part) }
}

/// The word at an edge that is left wide for the wall, which tells more than where it looks.
fn scribed_word(subject: Subject<'_>, index: usize, part: &WorkedPart, way: DVec3) -> Option<&'static str> {
    let out = part.at.dir(way);
    let mut own = subject.job.scribes.iter().filter(|one| one.part.0 == index);
    own.any(|one| one.side.normal().dot(out) > SAME_WAY).then_some("SCRIBE")
}

/// The word at the edge or end that looks `way` in part coordinates. It says that it is one: on
/// a leg FRONT alone may be read as the face it stands on.
fn edge_word(part: &WorkedPart, way: DVec3, edge: Edge) -> Option<&'static str> {
    let looks = |side: Side| side.normal().dot(part.at.dir(way)) > SAME_WAY;
    let is_end = matches!(edge, Edge::Left | Edge::Right);
    match (looks(Side::Front), looks(Side::Top)) {
        (true, _) => Some(if is_end { "FRONT END" } else { "FRONT EDGE" }),
        (_, true) => Some(if is_end { "TOP END" } else { "TOP EDGE" }),
        _ => None,
    }
}

/// The word on the face that looks `way` in part coordinates: the marked one as it is drawn.
fn face_word(subject: Subject<'_>, part: &WorkedPart, way: DVec3) -> Option<&'static str> {
    let out = part.at.dir(way);
    let side = Side::ALL.into_iter().find(|side| side.normal().dot(out) > SAME_WAY)?;
    match side {
        Side::Front => return Some("FRONT"),
        Side::Top => return Some("TOP"),
        _ => {}
    }
    let whole = bounds(subject.worked.parts.iter().filter(|other| other.piece == part.piece))?;
    let own = bounds(std::iter::once(part))?;
    let reach = |(low, high): (DVec3, DVec3), way: DVec3| way.dot(low).max(way.dot(high));
    let outermost = |way: DVec3| reach(whole, way) - reach(own, way) < OUTER;
    match (outermost(side.normal()), outermost(-side.normal())) {
        (true, false) => Some("OUTSIDE"),
        (false, true) => Some("INSIDE"),
        _ => Some(match side {
            Side::Left => "LOOKS LEFT",
            Side::Right => "LOOKS RIGHT",
            Side::Back => "LOOKS BACK",
            Side::Bottom => "LOOKS DOWN",
            Side::Front => "FRONT",
            Side::Top => "TOP",
        }),
    }
}

/// A word on the wood at its edge, or in the middle, on white. One at the upper or lower edge
/// goes close outside it rather than past the middle, where it would name the edge opposite.
fn place(word: &'static str, edge: Edge, rect: Rect, (ground, white): (&Ground, &White)) -> Option<Mark> {
    let wide = text_width(word, HEIGHT, Weight::Regular);
    let (half, tall) = (wide / 2.0 + ROUND.0, HEIGHT / 2.0 + ROUND.1);
    let middle = |along: f64, by: f64| match edge {
        Edge::Upper => Point::new(rect.x0 + along * rect.width(), rect.y0 + tall + by),
        Edge::Lower => Point::new(rect.x0 + along * rect.width(), rect.y1 - tall - by),
        Edge::Left => Point::new(rect.x0 + half + by, rect.y0 + along * rect.height()),
        Edge::Right => Point::new(rect.x1 - half - by, rect.y0 + along * rect.height()),
        Edge::Middle => Point::new(rect.x0 + along * rect.width(), rect.center().y + by),
    };
    let spots = INWARDS.iter().flat_map(|by| SHARES.iter().map(move |share| middle(*share, *by)));
    let area = |at: &Point| Rect::new(at.x - half, at.y - tall, at.x + half, at.y + tall);
    let own = |at: &Point| match edge {
        Edge::Upper => at.y < rect.center().y + MIDDLE,
        Edge::Lower => at.y > rect.center().y - MIDDLE,
        Edge::Left => at.x < rect.center().x + MIDDLE,
        Edge::Right => at.x > rect.center().x - MIDDLE,
        Edge::Middle => true,
    };
    let free = |at: &Point| own(at) && ground.under(area(at)) && white.free(area(at));
    let outside = |share: &f64| {
        let x = rect.x0 + share * rect.width();
        let at = match edge {
            Edge::Upper => Point::new(x, rect.y0 - tall),
            Edge::Lower => Point::new(x, rect.y1 + tall),
            Edge::Left | Edge::Right | Edge::Middle => return None,
        };
        // Beside wood along its whole length: over a hollow it would stand in the air.
        let beside = match edge {
            Edge::Upper => Rect::new(at.x - half, rect.y0, at.x + half, rect.y0 + MIDDLE),
            _ => Rect::new(at.x - half, rect.y1 - MIDDLE, at.x + half, rect.y1),
        };
        (ground.under(beside) && white.free(area(&at))).then_some(at)
    };
    let at = spots.into_iter().find(free).or_else(|| SHARES.iter().find_map(outside))?;
    let text = Text::plain(Point::new(at.x, at.y + HEIGHT / 2.0), word.to_owned(), HEIGHT);
    Some(Mark::text(text.anchored(Anchor::Middle), Role::Symbol))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// On a rail of 9 on paper whose upper part is taken the word goes over the edge it names,
    /// and not past the middle to the other.
    #[test]
    fn a_word_stands_by_the_edge_it_names() {
        let rect = Rect::new(0.0, 0.0, 80.0, 9.0);
        let ground = Ground::whole(rect);
        let mut white = White::new(rect.inflate(20.0, 20.0));
        white.fill(Rect::new(0.0, 0.0, 80.0, 4.0));
        white.sum();
        let base = |edge| match place("TOP EDGE", edge, rect, (&ground, &white)).expect("a place").ink {
            crate::paper::Ink::Text(text) => text.at.y,
            other => panic!("{other:?}"),
        };
        assert!(base(Edge::Upper) < rect.y0, "over its edge");
        let lower = base(Edge::Lower);
        assert!(lower > rect.center().y && lower < rect.y1, "on the wood, by its edge");
    }
}
