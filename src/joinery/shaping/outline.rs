//! Shaped outlines: all but the outline is cut away.

use crate::geometry::{ArcId, Corner, DVec2, DVec3, Edge, Outline, Ring};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::face::{part_face, shaped};
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::ON_SIDE;
use crate::joinery::bench::tolerance::{LEVEL, NO_AREA};
use crate::model::{OptionKind, OptionSpec, REQUIRED, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `outline`.
pub(in crate::joinery) struct Shape;

/// What `outline` says of itself.
static WORD: Word = Word {
    name: "outline",
    args: ON_SIDE,
    options: &[OptionSpec {
        key: "points",
        kind: OptionKind::Points,
        default: REQUIRED,
        says: "corners [along, across] in order round the part: along the grain from its lower, left or front end, \
               across from the marked edge (`edge`: the front one, else the top, else the left), so that a left and a right part are alike; where an arc leaves a corner, #{ at: [along, across], rise: 12 } or #{ at: [along, across], through: [along, \
               across] }",
    }],
    says: "cuts a part to an outline seen on one of its sides",
    rule: "",
    example: "outline(rail, \"front\", #{ points: [[0, 0], [600, 0], #{ at: [600, 80], rise: 30 }, [0, 80]] });",
};

impl Joinery for Shape {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn shapes(&self) -> bool {
        true
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = part_face(bench, work)?;
        let wrong = |code, message: String| bench.error(work, code, message, &[face.part]);
        let turn = if face.turned() { -1.0 } else { 1.0 };
        // The marked corner of a right side is at the other end than that of a left one.
        let back = runs_back(face.along);
        let counted = |p: DVec2| if back { DVec2::new(face.size.x - p.x, p.y) } else { p };
        let place = |p: DVec2| {
            let p = counted(p);
            DVec2::new(p.x, turn * p.y)
        };
        let corner = |c: &Corner| Corner {
            at: place(c.at),
            edge: match c.edge {
                Edge::Through(point) => Edge::Through(place(point)),
                edge => edge,
            },
        };
        let corners: Vec<Corner> =
            work.options.points("points").unwrap_or_default().iter().map(corner).collect();
        // An outline that crosses itself has no inside, and what is waste could not be
        // told.
        let kept = Outline::arced(&corners).filter(|o| o.rings.iter().all(simple)).ok_or_else(|| {
            let message =
                format!("the outline of `{}` crosses itself or encloses nothing", bench.name(face.part));
            wrong("bad-outline", message).help("list the corners in order round the part")
        })?;
        let Some((lo, hi)) = kept.bounds() else { return Ok(Vec::new()) };
        for corner in [lo, hi] {
            let within = face.check(bench, work, counted(DVec2::new(corner.x, turn * corner.y)), 0.0);
            let is_corner =
                |c: &Corner| (c.at.x - corner.x).abs() < TOUCH || (c.at.y - corner.y).abs() < TOUCH;
            // No corner lies so far out: an arc does.
            within.map_err(|problem| {
                if corners.iter().any(is_corner) {
                    return problem;
                }
                problem.help("an arc of `rise` above 0 bows outward, one below 0 is hollow: turn its sign, or leave it wood")
            })?;
        }
        let (a, b) = (face.place(0.0, 0.0), face.place(face.size.x, face.size.y));
        let rect = Rectangle { low: a.min(b), high: a.max(b) };
        // Cut away piece by piece: each is a cutter by itself, and what is kept is never
        // touched.
        let cuts = rect.waste(&kept).into_iter().map(|outline| {
            let shape = Prism { at: face.frame(), outline, from: 0.0, to: face.thick };
            Sawn { part: face.part, kind: CutKind::Outline, shape }
        });
        Ok(shaped(face.part, cuts.collect()))
    }
}

/// Whether a length runs down, or to the left or front where it lies level: the way it
/// runs most decides, of equal ways the first of these.
fn runs_back(along: DVec3) -> bool {
    let ways = [along.z, along.x, along.y];
    let most =
        ways.into_iter().fold(0.0, |most: f64, way| if way.abs() > most.abs() + LEVEL { way } else { most });
    most < 0.0
}

/// The side of the part an outline lies in.
struct Rectangle {
    low: DVec2,
    high: DVec2,
}

impl Rectangle {
    /// How far round the rectangle a point on its boundary lies, counter-
    /// clockwise from the low corner; `None` inside.
    fn round(&self, p: DVec2) -> Option<f64> {
        let size = self.high - self.low;
        let q = p - self.low;
        if q.y.abs() < TOUCH {
            Some(q.x)
        } else if (q.x - size.x).abs() < TOUCH {
            Some(size.x + q.y)
        } else if (q.y - size.y).abs() < TOUCH {
            Some(2.0 * size.x + size.y - q.x)
        } else if q.x.abs() < TOUCH {
            Some(2.0 * (size.x + size.y) - q.y)
        } else {
            None
        }
    }

    /// Whether an edge runs along the boundary.
    fn along(&self, a: DVec2, b: DVec2) -> bool {
        let on = |p: f64, q: f64, edge: f64| (p - edge).abs() < TOUCH && (q - edge).abs() < TOUCH;
        on(a.x, b.x, self.low.x)
            || on(a.x, b.x, self.high.x)
            || on(a.y, b.y, self.low.y)
            || on(a.y, b.y, self.high.y)
    }

    /// The corners between two places on the boundary, counter-clockwise.
    fn corners(&self, from: f64, to: f64) -> Vec<DVec2> {
        let size = self.high - self.low;
        let whole = 2.0 * (size.x + size.y);
        let to = if to < from { to + whole } else { to };
        let at = [0.0, size.x, size.x + size.y, whole - size.y];
        let points =
            [self.low, DVec2::new(self.high.x, self.low.y), self.high, DVec2::new(self.low.x, self.high.y)];
        let twice = at.iter().copied().chain(at.iter().map(|s| s + whole)).zip(points.iter().chain(&points));
        twice.filter(|(s, _)| *s > from + TOUCH && *s < to - TOUCH).map(|(_, p)| *p).collect()
    }

    /// What lies in the rectangle and not in `kept`, piece by piece.
    fn waste(&self, kept: &Outline) -> Vec<Outline> {
        let Some(ring) = kept.rings.first() else { return Vec::new() };
        let n = ring.points.len();
        let point = |i: usize| ring.points[i % n];
        // Gone round from a corner on the boundary, so that no piece of waste is cut in
        // two at the start.
        let Some(start) = (0..n).find(|&i| self.round(point(i)).is_some()) else {
            // It touches the boundary nowhere: one piece with a hole in it.
            let mut outline = Outline::rect(self.low, self.high);
            outline.arcs.clone_from(&kept.arcs);
            outline.rings.push(reversed(ring.points.clone(), ring.edges.clone()));
            return vec![outline];
        };
        if (0..n).filter(|&i| self.round(point(i)).is_some()).count() == 1
            && let Some(halves) = self.halves(kept, ring, start)
        {
            return halves;
        }
        let mut pieces = Vec::new();
        let mut i = start;
        while i < start + n {
            let mut end = i + 1;
            while self.round(point(end)).is_none() {
                end += 1;
            }
            let (p, q) = (point(i), point(end));
            if let (Some(from), Some(to)) = (self.round(p), self.round(q))
                && !(end == i + 1 && self.along(p, q))
            {
                let path: Vec<DVec2> = (i..=end).map(point).collect();
                let edges = (i..end).map(|k| ring.edges[k % n]).collect();
                pieces.push(self.piece(kept, path, edges, (from, to)));
            }
            i = end;
        }
        pieces
    }

    /// The waste round an outline that touches the boundary at the corner `start` alone. In
    /// one piece it would touch itself there, so it is parted once more: from the corner
    /// that is nearest to a side, straight to that side, where nothing is in the way.
    fn halves(&self, kept: &Outline, ring: &Ring, start: usize) -> Option<Vec<Outline>> {
        let n = ring.points.len();
        let feet = |p: DVec2| {
            [
                DVec2::new(self.low.x, p.y),
                DVec2::new(self.high.x, p.y),
                DVec2::new(p.x, self.low.y),
                DVec2::new(p.x, self.high.y),
            ]
        };
        let from = ring.points[start];
        // Sides that the corner `start` itself lies on are left out: nothing else does.
        let open = (0..4).filter(|&side| feet(from)[side].distance(from) >= TOUCH);
        let (cut, foot) = open
            .flat_map(|side| (1..n).map(move |i| (i, side)))
            .map(|(i, side)| {
                let p = ring.points[(start + i) % n];
                (i, feet(p)[side], feet(p)[side].distance(p))
            })
            .min_by(|a, b| a.2.total_cmp(&b.2))
            .map(|(i, foot, _)| (i, foot))?;
        let (begin, end) = (self.round(from)?, self.round(foot)?);
        let points = |a: usize, b: usize| (a..=b).map(|i| ring.points[(start + i) % n]);
        let edges = |a: usize, b: usize| (a..b).map(|i| ring.edges[(start + i) % n]);
        let there = points(0, cut).chain([foot]).collect();
        let back = std::iter::once(foot).chain(points(cut, n)).collect();
        Some(vec![
            self.piece(kept, there, edges(0, cut).chain([None]).collect(), (begin, end)),
            self.piece(kept, back, std::iter::once(None).chain(edges(cut, n)).collect(), (end, begin)),
        ])
    }

    /// One piece of waste between a path of the kept outline and the boundary.
    fn piece(
        &self,
        kept: &Outline,
        path: Vec<DVec2>,
        edges: Vec<Option<ArcId>>,
        (from, to): (f64, f64),
    ) -> Outline {
        let corners = self.corners(from, to);
        let mut points = path;
        points.reverse();
        let mut along = edges;
        along.reverse();
        // From the path's begin round the boundary back to its end.
        along.extend(std::iter::repeat_n(None, corners.len() + 1));
        points.extend(corners);
        Outline { rings: vec![Ring { points, edges: along }], arcs: kept.arcs.clone() }
    }
}

/// A ring run the other way round.
fn reversed(mut points: Vec<DVec2>, mut edges: Vec<Option<ArcId>>) -> Ring {
    points.reverse();
    edges.reverse();
    edges.rotate_left(1);
    Ring { points, edges }
}

/// Whether no two edges of a ring cross.
pub(in crate::joinery) fn simple(ring: &Ring) -> bool {
    let n = ring.points.len();
    let edge = |i: usize| (ring.points[i], ring.points[(i + 1) % n]);
    (0..n).all(|i| {
        let (a, b) = edge(i);
        (i + 1..n).all(|j| {
            let (c, d) = edge(j);
            let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
            !(side(a, b, c) * side(a, b, d) < -NO_AREA && side(c, d, a) * side(c, d, b) < -NO_AREA)
        })
    })
}
