//! Face mark, edge mark and grain arrow on the view of the marked face.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::frame::Frame;
use super::ground::Ground;
use super::subject::Subject;
use super::{end_letters, side_words};
use crate::drawing::kit::dimension::ink::pen;
use crate::drawing::kit::dimension::white::White;
use crate::drawing::page::plate::Plate;
use crate::model::{Grain, StockKind};
use crate::paper::{Mark, Role};

/// Draws the marks where the view is white.
pub(super) fn marks(subject: Subject<'_>, frame: &Frame, white: &mut White, marks: &mut Vec<Mark>) {
    let mut drawn = Vec::new();
    let ground = &Ground::of(subject.part, frame);
    if made_here(subject)
        && let Some(at) = face_mark_place(frame, ground, white)
    {
        drawn.extend(face_and_edge(at, subject.look.narrow()));
    }
    white.ink(&drawn);
    if grained(subject)
        && let Some(middle) = grain_place(frame, ground, white)
    {
        drawn.push(grain_arrow(middle, subject.look.narrow()));
    }
    white.ink(&drawn);
    if made_here(subject) {
        let letters = end_letters::letters(frame, ground, white);
        white.ink(&letters);
        drawn.extend(letters);
    }
    marks.extend(drawn);
}

/// Puts letters elsewhere on a view that its notes lie on.
pub(super) fn give_way(subject: Subject<'_>, frame: &Frame, white: &mut White, marks: &mut Vec<Mark>) {
    if made_here(subject) {
        end_letters::given_way(frame, &Ground::of(subject.part, frame), white, marks);
    }
}

/// The words that say which way round a part goes. They come last: notes and sizes have
/// the first choice of the white.
pub(super) fn words(subject: Subject<'_>, frame: &Frame, white: &mut White, marks: &mut Vec<Mark>) {
    if made_here(subject) {
        let ground = Ground::of(subject.part, frame);
        marks.extend(side_words::words(subject, frame, &ground, white));
    }
}

/// Draws on the view from behind what tells which way round it lies: the edge mark, the
/// letters of the ends, and that it is seen from behind.
pub(super) fn marks_behind(subject: Subject<'_>, frame: &Frame, white: &mut White, marks: &mut Vec<Mark>) {
    if !made_here(subject) {
        return;
    }
    let mut drawn = Vec::new();
    let ground = &Ground::of(subject.part, frame);
    if let Some((at, k)) = edge_mark_place(frame, ground, white) {
        // The loop stands on the face side alone; the second stroke is the V.
        drawn.extend(face_and_edge((at, k), subject.look.narrow()).into_iter().skip(1));
    }
    white.ink(&drawn);
    let letters = end_letters::letters(frame, ground, white);
    white.ink(&letters);
    drawn.extend(letters);
    drawn.extend(side_words::from_behind(frame, ground, white));
    marks.extend(drawn);
}

/// Whether the maker works the part and marks its face and edge: glass and
/// bought parts carry no pencil marks.
fn made_here(subject: Subject<'_>) -> bool {
    let stock = subject.job.stock.get(subject.part.stock.0);
    !matches!(stock.map(|s| &s.kind), Some(StockKind::Glass { .. } | StockKind::Bought))
}

/// Whether the stock has a grain to mind.
fn grained(subject: Subject<'_>) -> bool {
    let stock = subject.job.stock.get(subject.part.stock.0);
    match stock.map(|s| &s.kind) {
        Some(StockKind::Sheet { grain, .. }) => *grain != Grain::None,
        Some(StockKind::Board { .. } | StockKind::Blank { .. }) => true,
        Some(StockKind::Glass { .. } | StockKind::Bought) | None => false,
    }
}

/// Places along a line from its middle outwards, in shares of it.
const SHARES: &[f64] = &[0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.25, 0.75, 0.2, 0.8, 0.15, 0.85];

/// Sizes of the face and edge mark, the best first: a narrow view takes small ones.
const SIZES: &[f64] = &[1.0, 0.7, 0.5];
/// White that the face mark wants at its left and right, and from the face edge down
/// to its foot, mm at full size; the first is kept at any size.
const AROUND: (f64, f64, f64) = (3.0, 4.5, 8.2);
const FROM_EDGE: f64 = 1.2;

/// Where the edge mark's point stands on the face edge, near mid length, and
/// the size of the marks, 1 at best and smaller in a narrow view.
fn face_mark_place(frame: &Frame, ground: &Ground, white: &White) -> Option<(Point, f64)> {
    let rect = frame.rect();
    let (left, right, down) = AROUND;
    let ink = |p: &Point, k: f64| Rect::new(p.x - left * k, p.y + FROM_EDGE, p.x + right * k, p.y + down * k);
    let spots = on_edge(rect, ground);
    let least = |p: &Point| ground.under(Rect::from_center_size(*p + Vec2::new(0.0, 1.0), (1.0, 1.0)));
    SIZES
        .iter()
        .flat_map(|k| spots.iter().map(move |p| (*p, *k)))
        .find(|(p, k)| ground.under(ink(p, *k)) && white.free(ink(p, *k)))
        // In a crowded narrow view the marks may cross a line, but no figure
        // has been put there yet.
        .or_else(|| Some((spots.iter().copied().find(least)?, 0.5)))
        .or_else(|| Some((Point::new(rect.x0 + rect.width() * 0.5, rect.y0), 0.5)))
}

/// Places on the face edge of a view: those where it runs along the border of the blank, then
/// those where the wood begins lower down.
fn on_edge(rect: Rect, ground: &Ground) -> Vec<Point> {
    let spot = |t: &f64| {
        let x = rect.x0 + rect.width() * t;
        Some(Point::new(x, ground.top(x, rect)?))
    };
    let mut spots: Vec<Point> = SHARES.iter().filter_map(spot).collect();
    spots.sort_by_key(|p| p.y > rect.y0);
    spots
}

/// White round the V alone, mm at full size: at its sides, above it, and what it keeps from
/// the edge it points at.
const AROUND_VEE: (f64, f64, f64) = (2.4, 3.6, 1.2);

/// Where the V stands by itself on the face edge, with its size; nowhere rather than on a
/// note, since the face has it too.
fn edge_mark_place(frame: &Frame, ground: &Ground, white: &White) -> Option<(Point, f64)> {
    let rect = frame.rect();
    let (aside, up, off) = AROUND_VEE;
    let ink = |p: &Point, k: f64| Rect::new(p.x - aside * k, p.y - up * k, p.x + aside * k, p.y - off);
    let places = on_edge(rect, ground);
    let spots = SIZES.iter().flat_map(|k| places.iter().map(move |p| (*p, *k)));
    spots.into_iter().find(|(p, k)| white.free(ink(p, *k)))
}

/// The loop of the face side from the point where it begins at the face edge, mm: two
/// curves, each through two points of control to its end.
const FACE_FROM: (f64, f64) = (0.0, 0.6);
const FACE: &[[(f64, f64); 3]] =
    &[[(0.5, 4.0), (3.4, 7.4), (1.2, 7.4)], [(-1.0, 7.4), (0.6, 4.2), (3.4, 3.2)]];
/// Half the opening of the V and its height, mm.
const VEE: (f64, f64) = (1.6, -3.0);
/// White between the V and the edge that it points at, mm.
const VEE_CLEAR: f64 = -0.4;

/// The loop of the face side, begun at the face edge, and the V whose point
/// touches it there (common practice, no source).
pub(in crate::drawing) fn face_and_edge((at, k): (Point, f64), narrow: f64) -> Vec<Mark> {
    let width = narrow * Plate::BOLD;
    let by = |(x, y): (f64, f64)| at + Vec2::new(x, y) * k;
    let mut face = BezPath::new();
    face.move_to(by(FACE_FROM));
    for [leaving, coming, end] in FACE {
        face.curve_to(by(*leaving), by(*coming), by(*end));
    }
    let (half, up) = VEE;
    let mut edge = BezPath::new();
    edge.move_to(by((-half, up)));
    edge.line_to(at + Vec2::new(0.0, VEE_CLEAR));
    edge.line_to(by((half, up)));
    [face, edge].into_iter().map(|p| Mark::stroke(p, pen(width), Role::Symbol)).collect()
}

/// Lengths of the grain arrow, the best first, mm.
const ARROWS: &[f64] = &[20.0, 14.0, 9.0];
/// Half the height of its ink, mm.
const ARROW: f64 = 1.6;
/// White round it, mm: at its ends, and above and below; beside a view it may stand
/// nearer to a row of sizes.
const CLEAR: (f64, f64) = (1.2, 0.6);
const CLEAR_BESIDE: f64 = 0.3;
/// Length of its heads and half their width, mm.
const HEAD: (f64, f64) = (3.0, 1.3);

/// From the outline to a grain arrow beside it, mm.
const BESIDE: f64 = 3.2;

/// The middle of the grain arrow: as near the middle of the view as is white.
fn grain_place(frame: &Frame, ground: &Ground, white: &White) -> Option<(Point, f64)> {
    let rect = frame.rect();
    for length in ARROWS {
        let half = length / 2.0;
        let spots = SHARES.iter().flat_map(|v| SHARES.iter().map(move |u| (*u, *v)));
        let found = spots
            .map(|(u, v)| Point::new(rect.x0 + rect.width() * u, rect.y0 + rect.height() * v))
            .find(|p| {
                let ink = arrow_ink(*p, half).inflate(CLEAR.0, CLEAR.1);
                ground.under(ink) && white.free(ink)
            });
        if let Some(p) = found {
            return Some((p, half));
        }
    }
    beside(rect, white)
}

/// What a grain arrow about a point inks.
fn arrow_ink(p: Point, half: f64) -> Rect {
    Rect::new(p.x - half, p.y - ARROW, p.x + half, p.y + ARROW)
}

/// The grain arrow of a view too slender to hold it, as a turned leg's is: close along
/// its outline, nearer than any row of sizes.
fn beside(rect: Rect, white: &White) -> Option<(Point, f64)> {
    let lines = [rect.y1 + BESIDE, rect.y0 - BESIDE];
    let spots = ARROWS.iter().flat_map(|length| {
        lines.into_iter().flat_map(move |y| SHARES.iter().map(move |u| (length / 2.0, *u, y)))
    });
    let mut spots = spots.map(|(half, u, y)| (Point::new(rect.x0 + rect.width() * u, y), half));
    spots.find(|(p, half)| {
        let ink = arrow_ink(*p, *half).inflate(CLEAR.0, CLEAR_BESIDE);
        ink.x0 > rect.x0 && ink.x1 < rect.x1 && white.free(ink)
    })
}

/// A double arrow along the grain, open heads.
fn grain_arrow((middle, half): (Point, f64), narrow: f64) -> Mark {
    let mut path = BezPath::new();
    let tip = Vec2::new(half, 0.0);
    path.move_to(middle - tip);
    path.line_to(middle + tip);
    for way in [-1.0, 1.0] {
        let end = middle + tip * way;
        path.move_to(end + Vec2::new(-HEAD.0 * way, -HEAD.1));
        path.line_to(end);
        path.line_to(end + Vec2::new(-HEAD.0 * way, HEAD.1));
    }
    Mark::stroke(path, pen(narrow * Plate::BOLD), Role::Symbol)
}
