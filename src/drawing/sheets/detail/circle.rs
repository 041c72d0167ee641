//! The circle and letter that say where a detail is.

use kurbo::{Circle, Line, Point, Rect, Shape, Vec2};

use super::Detail;
use super::place::Place;
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::project::OnSheet;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::geometry::tolerance::{HAIR, MOSTLY};
use crate::geometry::trig;
use crate::paper::{Anchor, Ink, Mark, Pen, Role, Weight, dash, lettering};
use crate::solid::Camera;

/// Stands between the letters of details that share a circle; a comma would hang under the
/// line, where their leader ends.
const LETTERS_APART: &str = " ";
/// Cap height of the letters, mm: one size above figures.
const LETTER: f64 = 5.0;
/// Least radius of a circle, mm.
const LEAST: f64 = 3.5;
/// Greatest radius of a circle, mm: of a larger joint it marks the middle.
const MOST: f64 = 15.0;

/// White between a joint and its circle, mm.
const ROUND_JOINT: f64 = 1.0;
/// Radii tried after the one that holds the whole joint, mm; and that of a circle
/// which stands on another stretch of a long joint.
const SMALLER: [f64; 2] = [8.0, 5.0];
const STRETCH: f64 = 6.0;
/// Where along a long joint such a circle is tried, from its middle, in shares.
const STRETCHES: [f64; 6] = [0.15, -0.15, 0.3, -0.3, 0.4, -0.4];
/// How far aside the circle of a joint may stand, mm: the joint is still inside.
const ASIDE: [f64; 3] = [0.8, 1.4, 2.2];
/// A joint whose circle is smaller than this may be marked a little aside, mm.
const SMALL: f64 = 5.0;
/// What it costs to mark a larger one aside: more than any line that it runs over.
const LAST_RESORT: f64 = 200.0;
/// What each further try costs: half a line run over, so that the circle which shows
/// the joint best wins among those that are equally clear.
const EACH_TRY: f64 = 3.0;

/// White between the circle and its letter, mm, and how much farther out each step
/// looks.
const OFF_CIRCLE: f64 = 0.8;
const STEP: f64 = 2.0;
/// Directions looked at all round, the first at the upper right, degrees.
const FIRST_TURN: f64 = 45.0;
const TURN: f64 = 15.0;
/// White round the letter, mm; less will do towards its own circle.
const ROUND_LETTER: f64 = 0.9;
const TO_CIRCLE: f64 = 0.3;
/// What a letter costs for each step out, for each turn and for each line that its
/// leader runs over: near beats upper right, and both beat a line crossed.
const EACH_STEP: f64 = 2.5;
const EACH_TURN: f64 = 0.05;
const EACH_LINE: f64 = 3.0;

/// What it costs that a circle runs over marks: another letter inside it, lines of
/// sizes and sections beside the wood, dimension lines.
const OVER_LETTER: f64 = 60.0;
const OVER_LINE: f64 = 6.0;
const OVER_SIZE: f64 = 200.0;
/// White between the line of a circle and what it does not run over, mm.
const CLEAR: f64 = 0.4;
/// Circles whose middles lie nearer to one another than this share of the larger radius
/// become one with the letters of both: two rings that cross are read as a pattern.
const SHARED: f64 = 1.3;
/// How near the nearest point of a curve is found, mm.
const FOUND: f64 = 1e-3;

/// A view that circles may stand on.
#[derive(Clone, Copy, Debug)]
pub(in crate::drawing) struct View {
    /// How it looks at the piece.
    pub(in crate::drawing) camera: Camera,
    /// Where it stands on the sheet.
    pub(in crate::drawing) on: OnSheet,
    /// For a section: where it cuts, along the line of sight.
    pub(in crate::drawing) level: Option<f64>,
}

/// A circle on its view, with the details that it marks.
struct Ringed {
    /// The details, by their place in the list.
    details: Vec<usize>,
    circle: Circle,
    /// Its ink.
    marks: Vec<Mark>,
    /// Which view it stands on.
    view: usize,
}

/// A circle with its letter, and how much it gets in the way.
struct Spot {
    circle: Circle,
    letter: Rect,
    leader: Option<Line>,
    cost: f64,
}

/// Marks every detail that has a place on `views` and no circle yet, each at
/// the place where its circle is least in the way, and keeps that place as the
/// one drawn. Circles that would run into one another become one. A section only
/// carries what it cuts. `taken` is kept free.
pub(in crate::drawing) fn circles(
    plate: &mut Plate,
    details: &mut [Detail],
    parts_seen: &dyn Fn(&[usize], f64) -> bool,
    views: &[View],
    space: Rect,
    taken: &[Rect],
) {
    let mut white = White::new(space);
    white.ink(&plate.marks);
    for rect in taken {
        white.fill(*rect);
    }
    white.sum();
    let words = texts(&plate.marks);
    // All circles first: a letter then keeps off those that come after it too.
    let mut found: Vec<Ringed> = Vec::new();
    for (number, detail) in details.iter_mut().enumerate().filter(|(_, d)| !d.marked) {
        let drawn = found.iter().flat_map(|ringed| &ringed.marks);
        let marks: Vec<&Mark> = plate.marks.iter().chain(drawn).collect();
        let mut best: Option<(Spot, usize, usize)> = None;
        for (index, place) in detail.places.iter().enumerate() {
            for (seen, view) in views.iter().enumerate().filter(|(_, v)| shows(v, place, parts_seen)) {
                let Some(circle) = circle(&marks, space, place, view) else { continue };
                // A circle counts only with its letter: the clearest place is of no use
                // where no letter fits.
                let Some(spot) = spot(&white, &words, circle, &detail.letter) else { continue };
                // More than a hair better, or equal places would change with the
                // machine.
                if best.as_ref().is_none_or(|(known, _, _)| spot.cost < known.cost - HAIR) {
                    best = Some((spot, index, seen));
                }
            }
        }
        let Some((spot, index, view)) = best else { continue };
        detail.shown = index;
        if let (Some(place), Some(view)) = (detail.places.get_mut(index), views.get(view)) {
            place.turn_to(view.camera);
        }
        let mut ringed = Ringed { details: vec![number], circle: spot.circle, marks: Vec::new(), view };
        share(&plate.marks, space, &mut found, &mut ringed);
        let mut alone = Plate { marks: Vec::new(), ..*plate };
        draw_circle(&mut alone, ringed.circle);
        white.ink(&alone.marks);
        ringed.marks = alone.marks;
        found.push(ringed);
    }
    letters(plate, details, found, &mut white);
}

/// Takes circles of the same view that all but lie on a new one into it, as long as the
/// one round them all is no larger than any circle may be and runs over no words.
fn share(marks: &[Mark], space: Rect, found: &mut Vec<Ringed>, ringed: &mut Ringed) {
    while let Some((at, circle)) = found.iter().enumerate().find_map(|(at, known)| {
        let near = known.circle.center.distance(ringed.circle.center);
        let largest = known.circle.radius.max(ringed.circle.radius);
        let round = round_both(known.circle, ringed.circle);
        let fits = round.radius <= MOST && space.union(round.bounding_box()) == space;
        let clear = || marks.iter().map(|mark| in_the_way(mark, round)).sum::<f64>() < OVER_SIZE;
        (known.view == ringed.view && near < SHARED * largest && fits && clear()).then_some((at, round))
    }) {
        let known = found.remove(at);
        ringed.circle = circle;
        ringed.details.extend(known.details);
        ringed.details.sort_unstable();
    }
}

/// The smallest circle round two.
fn round_both(a: Circle, b: Circle) -> Circle {
    let between = b.center - a.center;
    let apart = between.length();
    if apart + b.radius <= a.radius {
        return a;
    }
    if apart + a.radius <= b.radius {
        return b;
    }
    let radius = (apart + a.radius + b.radius) / 2.0;
    Circle::new(a.center + between * ((radius - a.radius) / apart), radius)
}

/// Puts the letters to circles, and both on the plate; a circle without room for its
/// letters says nothing and is left out.
fn letters(plate: &mut Plate, details: &mut [Detail], found: Vec<Ringed>, white: &mut White) {
    for ringed in found {
        let own = ringed.details.iter().filter_map(|number| details.get(*number));
        let letters = own.map(|detail| detail.letter.as_str()).collect::<Vec<_>>().join(LETTERS_APART);
        // Looked for again: circles drawn since may stand where the letter was to go.
        let words = texts(&plate.marks);
        let Some(spot) = spot(white, &words, (ringed.circle, 0.0), &letters) else { continue };
        for number in ringed.details {
            if let Some(detail) = details.get_mut(number) {
                detail.marked = true;
            }
        }
        plate.marks.extend(ringed.marks);
        let from = plate.marks.len();
        draw_letter(plate, &spot, &letters);
        white.ink(plate.marks.get(from..).unwrap_or_default());
    }
}

/// Whether a view looks along the sight of a place and, for a section, cuts
/// through the joint.
fn shows(view: &View, place: &Place, parts_seen: &dyn Fn(&[usize], f64) -> bool) -> bool {
    let along = view.camera.toward().dot(place.camera.toward()).abs() > MOSTLY;
    along && view.level.is_none_or(|level| parts_seen(&place.parts, level))
}

/// The circle for a place on a view, and what it costs; none where it would
/// leave the sheet or run over text. Of a joint longer than the largest circle
/// it marks the middle, or where that is crowded another stretch; a smaller
/// circle on the middle of the joint serves where the whole has no room.
fn circle(marks: &[&Mark], space: Rect, place: &Place, view: &View) -> Option<(Circle, f64)> {
    let middle = view.on.point(view.camera.project(place.point));
    let span = (place.zone.1 - place.zone.0) * view.on.factor;
    let radius = (span.length() / 2.0 + ROUND_JOINT).clamp(LEAST, MOST);
    // Along the joint only: aside of it the circle would show wood without a joint.
    let long = if span.x > span.y { Vec2::new(span.x, 0.0) } else { Vec2::new(0.0, span.y) };
    let mut tried =
        [radius, radius.min(SMALLER[0]), radius.min(SMALLER[1])].map(|radius| (Vec2::ZERO, radius)).to_vec();
    if span.length() / 2.0 > MOST {
        tried.extend(STRETCHES.map(|share| (long * share, radius.min(STRETCH))));
    }
    // Of a small joint it may stand a little aside, with the joint still inside; of a
    // larger one only as the last resort.
    let before = tried.len();
    let aside = if radius < SMALL { 0.0 } else { LAST_RESORT };
    for off in ASIDE {
        tried.extend([(0.0, off), (0.0, -off), (off, 0.0), (-off, 0.0)].map(|off| (off.into(), LEAST)));
    }
    let tried = tried.into_iter().enumerate().filter_map(|(rank, (off, radius))| {
        let circle = Circle::new(middle + off, radius);
        if space.union(circle.bounding_box()) != space {
            return None;
        }
        let crossed: f64 = marks.iter().map(|mark| in_the_way(mark, circle)).sum();
        let aside = if rank < before { 0.0 } else { aside };
        crossed.is_finite().then_some((circle, crossed + EACH_TRY * rank as f64 + aside))
    });
    tried.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// The best place for the letter of a circle that costs `crossed`.
fn spot(white: &White, texts: &[Rect], (circle, crossed): (Circle, f64), letter: &str) -> Option<Spot> {
    let (centre, radius) = (circle.center, circle.radius);
    let size = (lettering::width(letter, LETTER, Weight::SemiBold), LETTER);
    let mut best: Option<Spot> = None;
    for step in 0..7_u8 {
        let off = radius + OFF_CIRCLE + STEP * f64::from(step);
        for turn in 0..24_u8 {
            // From the upper right on, where letters are looked for first.
            let angle = (FIRST_TURN + TURN * f64::from(turn)).to_radians();
            let (sin, cos) = trig::sin_cos(angle);
            let dir = Vec2::new(cos, -sin);
            let reach = (size.0 / 2.0 * cos.abs() + size.1 / 2.0 * sin.abs()) + off;
            let middle = centre + dir * reach;
            let text = Rect::from_center_size(middle, size);
            if !white.free(text.inflate(ROUND_LETTER, ROUND_LETTER))
                || text.inflate(TO_CIRCLE, TO_CIRCLE).overlaps(circle.bounding_box()) && touches(circle, text)
            {
                continue;
            }
            let leader =
                (step > 0).then(|| Line::new(centre + dir * radius, centre + dir * (off - TO_CIRCLE)));
            if leader.is_some_and(|leader| texts.iter().any(|text| strikes(leader, *text))) {
                continue;
            }
            let over = leader.map_or(0.0, |l| white.crossed(l.p0, l.p1) as f64);
            let cost = crossed + EACH_STEP * f64::from(step) + EACH_TURN * f64::from(turn) + EACH_LINE * over;
            if best.as_ref().is_none_or(|b| cost < b.cost) {
                best = Some(Spot { circle, letter: text, leader, cost });
            }
        }
    }
    best
}

/// The boxes of all words.
fn texts(marks: &[Mark]) -> Vec<Rect> {
    marks.iter().filter(|mark| matches!(mark.ink, Ink::Text(_))).map(Mark::bounds).collect()
}

/// Whether a line runs through a box or so near that it touches it on paper.
fn strikes(line: Line, text: Rect) -> bool {
    let text = text.inflate(CLEAR, CLEAR);
    let corners =
        [(text.x0, text.y0), (text.x1, text.y0), (text.x1, text.y1), (text.x0, text.y1)].map(Point::from);
    let edges = (0..corners.len()).map(|i| Line::new(corners[i], corners[(i + 1) % corners.len()]));
    text.contains(line.p0)
        || edges.into_iter().any(|edge| !kurbo::PathSeg::Line(line).intersect_line(edge).is_empty())
}

/// Whether a box comes nearer to a circle than half a millimetre.
fn touches(circle: Circle, text: Rect) -> bool {
    let near = Point::new(circle.center.x.clamp(text.x0, text.x1), circle.center.y.clamp(text.y0, text.y1));
    near.distance(circle.center) < circle.radius + 0.5
}

/// Whether a box stands inside a circle, half a millimetre clear of its line.
fn within(circle: Circle, text: Rect) -> bool {
    let corners = [(text.x0, text.y0), (text.x1, text.y0), (text.x0, text.y1), (text.x1, text.y1)];
    corners.into_iter().all(|corner| circle.center.distance(corner.into()) < circle.radius - 0.5)
}

/// What it costs that a circle runs over a mark: nothing for wood, something
/// for lines beside it, much for dimension lines, no end for text.
fn in_the_way(mark: &Mark, circle: Circle) -> f64 {
    let words = matches!(mark.ink, Ink::Text(_));
    let each = match mark.role {
        // The letter of another detail or of a section may stand within, never on the line.
        Role::DetailMark | Role::SectionMark if words && within(circle, mark.bounds()) => OVER_LETTER,
        Role::DetailMark | Role::SectionMark if words => f64::INFINITY,
        Role::Outline | Role::CutOutline | Role::Hidden | Role::Pictorial | Role::Hatch | Role::Mask => {
            return 0.0;
        }
        // What stands open is drawn beside the piece.
        Role::Phantom => 1.0,
        Role::Extension | Role::Leader | Role::SectionMark | Role::DetailMark | Role::Centre => OVER_LINE,
        // The last resort of a view full of sizes.
        Role::Dimension | Role::Arrow => OVER_SIZE,
        _ => f64::INFINITY,
    };
    let box_of = circle.bounding_box().inflate(0.5, 0.5);
    if !mark.bounds().overlaps(box_of) {
        return 0.0;
    }
    let crosses = match &mark.ink {
        Ink::Text(_) | Ink::Fill { .. } => touches(circle, mark.bounds()),
        Ink::Stroke { path, .. } => path.segments().any(|segment| {
            let (near, _) = nearest(segment, circle.center);
            near < circle.radius + CLEAR
        }),
    };
    if crosses { each } else { 0.0 }
}

fn nearest(segment: kurbo::PathSeg, to: Point) -> (f64, f64) {
    use kurbo::ParamCurveNearest;
    let found = segment.nearest(to, FOUND);
    (found.distance_sq.sqrt(), found.t)
}

fn draw_circle(plate: &mut Plate, circle: Circle) {
    let pen = Pen { width: plate.narrow, dash: dash::SOLID };
    plate.stroke(circle.to_path(Mark::ROUND), pen, Role::DetailMark);
}

fn draw_letter(plate: &mut Plate, spot: &Spot, letter: &str) {
    if let Some(line) = spot.leader {
        plate.line(line.p0, line.p1, plate.narrow, Role::DetailMark);
    }
    let how = Lettering {
        height: LETTER,
        anchor: Anchor::Middle,
        weight: Weight::SemiBold,
        role: Role::DetailMark,
    };
    plate.text((spot.letter.center().x, spot.letter.y1), letter, how);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ringed(detail: usize, x: f64, radius: f64) -> Ringed {
        Ringed { details: vec![detail], circle: Circle::new((x, 100.0), radius), marks: Vec::new(), view: 0 }
    }

    fn shared(known: Ringed, mut new: Ringed) -> (usize, Vec<usize>, Circle) {
        let mut found = vec![known];
        share(&[], Rect::new(0.0, 0.0, 400.0, 280.0), &mut found, &mut new);
        (found.len(), new.details, new.circle)
    }

    #[test]
    fn circles_that_all_but_coincide_become_one_round_both() {
        // From 96 to 104 and from 100 to 108: one from 96 to 108.
        let (left, details, circle) = shared(ringed(7, 100.0, 4.0), ringed(3, 104.0, 4.0));
        assert_eq!((left, details), (0, vec![3, 7]));
        assert!((circle.center.x - 102.0).abs() < HAIR && (circle.radius - 6.0).abs() < HAIR);
        // One within another stays as the larger.
        let (left, _, circle) = shared(ringed(0, 100.0, 9.0), ringed(1, 102.0, 4.0));
        assert_eq!(left, 0);
        assert!((circle.center.x - 100.0).abs() < HAIR && (circle.radius - 9.0).abs() < HAIR);
    }

    #[test]
    fn circles_apart_too_large_or_of_other_views_stay_two() {
        assert_eq!(shared(ringed(0, 100.0, 4.0), ringed(1, 106.0, 4.0)).0, 1);
        assert_eq!(shared(ringed(0, 100.0, 12.0), ringed(1, 112.0, 12.0)).0, 1);
        let side = Ringed { view: 1, ..ringed(0, 100.0, 4.0) };
        assert_eq!(shared(side, ringed(1, 101.0, 4.0)).0, 1);
    }
}
