//! A part's view in ink.

use std::collections::BTreeMap;

use kurbo::{Arc, BezPath, Point, Shape, Vec2};

use super::breaks;
use super::frame::Frame;
use super::thin::{Way, WayLine};
use crate::drawing::kit::dimension::ink::pen;
use crate::drawing::page::look::Look;
use crate::geometry::tolerance::NOISE;
use crate::geometry::{DVec2, DVec3, Placement, trig};
use crate::joinery::WorkedPart;
use crate::paper::{Mark, Pen, Role, dash};
use crate::solid::{
    Body, Camera, HiddenLines, Prism, Provenance, Solid, Surface, ViewLine, Viewed, carve, view,
};

/// The ink of one view.
pub(super) fn ink(part: &WorkedPart, lines: &[WayLine], frame: &Frame, look: &Look) -> Vec<Mark> {
    let mut paths = Paths::default();
    let rounds = rounds(part, frame);
    // Of a thousand holes a facet may be of two: it says itself which.
    let places: BTreeMap<_, usize> = (0..).zip(&rounds).map(|(i, r)| ((r.cutter, r.arc), i)).collect();
    let mut turns: Vec<Vec<(f64, f64, Way)>> = vec![Vec::new(); rounds.len()];
    let mut straight = Vec::new();
    for (line, way) in lines {
        let (a, b) = (on_sheet(frame, line.a), on_sheet(frame, line.b));
        let own = line.faces.iter().filter_map(|from| match from.surface {
            Surface::Round { arc } => places.get(&(from.cutter, arc)),
            _ => None,
        });
        match own.copied().filter(|i| rounds[*i].carries(a, b)).min() {
            Some(i) => turns[i].push(rounds[i].turn(a, b, *way)),
            None => straight.push((a, b, *way)),
        }
    }
    let straight = super::thin::thinned(&straight);
    for (a, b, way) in breaks::clipped(&straight, frame) {
        paths.line(a, b, way);
    }
    for (round, turns) in rounds.iter().zip(turns) {
        round.draw(turns, &mut paths);
    }
    let mut marks = paths.marks(look);
    let broken = breaks::edges(&straight, frame);
    if !broken.elements().is_empty() {
        marks.push(Mark::stroke(broken, pen(look.narrow()), Role::Symbol));
    }
    marks
}

/// The camera of a frame.
pub(super) fn camera(frame: &Frame) -> Camera {
    let unit = |(axis, back): (usize, bool)| {
        let mut v = DVec3::ZERO;
        v[axis] = if back { -1.0 } else { 1.0 };
        v
    };
    Camera { right: unit(frame.right), up: -unit(frame.down), zoom: 1.0 }
}

/// A point of the view (full size, y up) on the sheet.
pub(super) fn on_sheet(frame: &Frame, p: DVec2) -> Point {
    let along = |(axis, back): (usize, bool), at: f64| frame.along(axis, if back { -at } else { at });
    Point::new(along(frame.right, p.x), along(frame.down, -p.y))
}

/// The lines of a view and how each is drawn: the part as it is made loose,
/// and in phantom what a glue-up's later cuts will change.
pub(super) fn lines(part: &WorkedPart, frame: &Frame) -> Vec<WayLine> {
    let see = |solid: &Solid| {
        view(&[Viewed { solid, at: Placement::IDENTITY, tag: 0 }], camera(frame), HiddenLines::Show)
    };
    let way = |line: &ViewLine| if line.kind.is_hidden() { Way::Hidden } else { Way::Seen };
    let early: Vec<usize> = (0..part.cuts.len()).filter(|c| !part.cuts[*c].stage.waits()).collect();
    let shapes: Vec<Prism> = early.iter().map(|c| part.cuts[*c].shape.clone()).collect();
    let loose = if early.len() == part.cuts.len() { None } else { carve(&part.body, &shapes).ok() };
    let Some(loose) = loose else {
        return see(&part.solid).into_iter().map(|l| (l, way(&l))).collect();
    };
    let mut all: Vec<WayLine> = see(&loose)
        .into_iter()
        .map(|l| (ViewLine { faces: l.faces.map(|f| renumbered(f, &early)), ..l }, way(&l)))
        .collect();
    let later = |from: &Provenance| {
        let cut = from.cutter.and_then(|c| part.cuts.get(usize::try_from(c).ok()?));
        cut.is_some_and(|c| c.stage.waits())
    };
    let changed: Vec<WayLine> = see(&part.solid)
        .into_iter()
        .filter(|l| l.faces.iter().any(later) && !all.iter().any(|(seen, _)| covers(seen, l)))
        .map(|l| (l, Way::Later))
        .collect();
    all.extend(changed);
    all
}

/// Provenance in a part cut by only some of its cuts, as of the whole part.
fn renumbered(from: Provenance, kept: &[usize]) -> Provenance {
    let cutter =
        from.cutter.and_then(|c| kept.get(usize::try_from(c).ok()?)).and_then(|c| u32::try_from(*c).ok());
    Provenance { cutter, surface: from.surface }
}

/// Nearer than this two lines of a part are one, mm.
const SAME: f64 = 0.01;
/// How near the ends of a facet lie to the arc that it stands for, mm.
const ON_ARC: f64 = 2e-3;
/// Turns that begin where another ends differ by less than this, radians.
const SAME_TURN: f64 = 1e-3;
/// How near the curves of an arc come to it, mm.
const ROUND: f64 = 1e-3;

/// Whether `seen` is drawn all along `line`.
fn covers(seen: &ViewLine, line: &ViewLine) -> bool {
    let run = seen.b - seen.a;
    let length = run.length();
    [line.a, line.b].iter().all(|p| {
        let from = *p - seen.a;
        let along = from.dot(run) / length;
        (run.perp_dot(from) / length).abs() < SAME && along > -SAME && along < length + SAME
    })
}

/// The lines of a view gathered by the way they are drawn.
#[derive(Debug, Default)]
struct Paths {
    /// One path for each way.
    of: [BezPath; 3],
    /// Whole rings that are hidden: centre and radius.
    rings: Vec<(Point, f64)>,
}

impl Paths {
    /// Adds a line.
    fn line(&mut self, a: Point, b: Point, way: Way) {
        let path = &mut self.of[way as usize];
        path.move_to(a);
        path.line_to(b);
    }

    /// The marks.
    fn marks(self, look: &Look) -> Vec<Mark> {
        let narrow = look.narrow();
        let crosses = crosses(&self.rings);
        let small = symbols(&self.rings);
        let [mut hidden, later, seen] = self.of;
        hidden.extend(small);
        [
            (hidden, Pen { width: narrow, dash: dash::HIDDEN }, Role::Hidden),
            (later, Pen { width: narrow, dash: dash::PHANTOM }, Role::Phantom),
            (seen, pen(look.wide()), Role::Outline),
            (crosses, pen(narrow), Role::Centre),
        ]
        .into_iter()
        .filter(|(path, _, _)| !path.elements().is_empty())
        .map(|(path, pen, role)| Mark::stroke(path, pen, role))
        .collect()
    }
}

/// A hidden ring is drawn no smaller than this, mm: where no dash can be seen, its cross alone
/// would read as a hole in the face that is looked at.
const LEAST_RING: f64 = 0.9;
/// White between two such rings, mm.
const BETWEEN: f64 = 0.4;

/// The small hidden rings, each as large as its dashes need; as large as it is where there are
/// others close by.
fn symbols(rings: &[(Point, f64)]) -> BezPath {
    let mut path = BezPath::new();
    for (centre, radius) in rings.iter().filter(|ring| ring.1 < LEAST_RING) {
        let others = || rings.iter().filter(|other| other.0.distance(*centre) > SAME);
        let about_it = rings.iter().any(|other| other.0.distance(*centre) < SAME && other.1 > *radius);
        let room = others().all(|other| {
            let reach = LEAST_RING + other.1.max(LEAST_RING) + BETWEEN;
            other.0.distance(*centre) > reach
        });
        // What is bored within a larger hole is told by that.
        if about_it {
            continue;
        }
        let radius = if room { LEAST_RING } else { *radius };
        let ring = Arc::new(*centre, Vec2::new(radius, radius), 0.0, std::f64::consts::TAU, 0.0);
        path.extend(ring.path_elements(ROUND));
    }
    path
}

/// A hidden ring larger than this is plain without a cross, mm.
const PLAIN: f64 = 4.0;
/// How far the cross in a small ring runs past it, mm.
const PAST: f64 = 0.8;

/// Crosses through the middles of small hidden rings, whose few dashes alone are no
/// circle to the eye; of rings about one middle the largest has it.
fn crosses(rings: &[(Point, f64)]) -> BezPath {
    let mut path = BezPath::new();
    for (centre, radius) in rings {
        let outer = |other: &(Point, f64)| other.0.distance(*centre) < SAME && other.1 > *radius;
        if *radius > PLAIN || rings.iter().any(outer) {
            continue;
        }
        let half = radius.max(LEAST_RING) + PAST;
        for arm in [Vec2::new(half, 0.0), Vec2::new(0.0, half)] {
            path.move_to(*centre - arm);
            path.line_to(*centre + arm);
        }
    }
    path
}

/// A true circle seen square on, that facets of the solid lie on.
struct Round {
    /// The cutter, or the body.
    cutter: Option<u32>,
    /// Which arc of it.
    arc: u16,
    /// Centre on the sheet.
    centre: Point,
    /// Radius on the sheet.
    radius: f64,
}

/// The circles of a part seen square on in `frame`.
fn rounds(part: &WorkedPart, frame: &Frame) -> Vec<Round> {
    let mut rounds = Vec::new();
    if let Body::Prism(body) = &part.body {
        rounds_of(body, None, frame, &mut rounds);
    }
    for (i, cut) in (0_u32..).zip(&part.cuts) {
        rounds_of(&cut.shape, Some(i), frame, &mut rounds);
    }
    rounds
}

/// The circles of one prism, if it is swept along the line of sight.
fn rounds_of(prism: &Prism, cutter: Option<u32>, frame: &Frame, rounds: &mut Vec<Round>) {
    if prism.at.z.dot(frame.face.normal()).abs() < 1.0 - NOISE {
        return;
    }
    for (arc, a) in (0_u16..).zip(&prism.outline.arcs) {
        let centre = prism.at.point(DVec3::new(a.centre.x, a.centre.y, prism.from));
        rounds.push(Round { cutter, arc, centre: frame.point(centre), radius: a.radius * frame.factor });
    }
}

impl Round {
    /// Whether a line of one of its facets, from `a` to `b`, runs round it.
    fn carries(&self, a: Point, b: Point) -> bool {
        let on = |p: Point| (p.distance(self.centre) - self.radius).abs() < ON_ARC;
        on(a) && on(b)
    }

    /// A facet as a turn from one angle to another, the short way, rising.
    fn turn(&self, a: Point, b: Point, way: Way) -> (f64, f64, Way) {
        let angle = |p: Point| trig::atan2(p.y - self.centre.y, p.x - self.centre.x);
        let (mut from, to) = (angle(a), angle(b));
        let mut sweep = (to - from).rem_euclid(std::f64::consts::TAU);
        if sweep > std::f64::consts::PI {
            from = to;
            sweep = std::f64::consts::TAU - sweep;
        }
        (from, sweep, way)
    }

    /// Joins turns that follow on one another and draws them as true arcs.
    fn draw(&self, mut turns: Vec<(f64, f64, Way)>, paths: &mut Paths) {
        turns.sort_by(|a, b| a.2.cmp(&b.2).then(a.0.total_cmp(&b.0)));
        let mut joined: Vec<(f64, f64, Way)> = Vec::new();
        for (from, sweep, way) in turns {
            match joined.last_mut() {
                Some(last) if last.2 == way && (last.0 + last.1 - from).abs() < SAME_TURN => last.1 += sweep,
                _ => joined.push((from, sweep, way)),
            }
        }
        for (from, sweep, way) in joined {
            let sweep = if sweep > std::f64::consts::TAU - SAME_TURN { std::f64::consts::TAU } else { sweep };
            if way == Way::Hidden && sweep >= std::f64::consts::TAU {
                paths.rings.push((self.centre, self.radius));
                if self.radius < LEAST_RING {
                    continue;
                }
            }
            let arc = Arc::new(self.centre, Vec2::new(self.radius, self.radius), from, sweep, 0.0);
            paths.of[way as usize].extend(arc.path_elements(ROUND));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A hole from behind of 0.3 on paper is a ring that can be seen, once about its middle;
    /// two close by stay as small as they are.
    #[test]
    fn a_small_hole_from_behind_is_a_ring() {
        let (one, far) = (Point::new(10.0, 10.0), Point::new(30.0, 10.0));
        let ring = symbols(&[(one, 0.15), (one, 0.1)]);
        assert!((ring.bounding_box().width() - 2.0 * LEAST_RING).abs() < 1e-3, "{ring:?}");
        let begun = ring.elements().iter().filter(|e| matches!(e, kurbo::PathEl::MoveTo(_))).count();
        assert_eq!(begun, 1);
        let close = symbols(&[(one, 0.15), (one + Vec2::new(1.0, 0.0), 0.15)]);
        assert!((close.bounding_box().height() - 0.3).abs() < 1e-3, "{close:?}");
        assert!(symbols(&[(far, 2.0)]).elements().is_empty(), "a large ring is drawn by itself");
    }
}
