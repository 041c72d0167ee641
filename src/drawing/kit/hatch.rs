//! Hatching of cut material by what is cut.

use std::collections::BTreeMap;

use kurbo::{BezPath, Line, PathSeg, Point, Rect, Shape, Vec2};

use crate::drawing::kit::project::bounds as bounds_of;
use crate::geometry::tolerance::{HAIR, MOSTLY};
use crate::geometry::{Bounds, Boxes, DVec2, DVec3, trig};
use crate::joinery::{WorkedJob, WorkedPart};
use crate::model::{PieceId, Stock, StockKind};
use crate::paper::{LEAST_GAP, run_together};
use crate::solid::Camera;

/// A board whose plane is seen this near to square, as a share of its normal, shows its
/// layers.
const LAYERED: f64 = 0.3;
/// Line to line, mm: nearer prints grey, farther no longer reads as hatch; of sheet
/// goods half their thickness, of wood a share of its narrower side.
const NEAREST: f64 = 0.9;
const FARTHEST_SHEET: f64 = 5.0;
const FARTHEST_WOOD: f64 = 2.4;
const OF_SHEET: f64 = 0.5;
const OF_WOOD: f64 = 0.25;
/// End grain: neighbours lean either way, a third is closer, a fourth wider.
const LEANING: [f64; 2] = [45.0, 135.0];
const CLOSER: f64 = 0.65;
const WIDER: f64 = 1.4;
/// Cuts this near touch, mm; hatches this much alike are one: degrees, and mm.
const TOUCHING: f64 = 0.1;
/// Parts this near touch, mm of wood: joints have a little play.
const NEAR: f64 = 0.6;
const SAME_ANGLE: f64 = 1.0;
const SAME_SPACING: f64 = 0.1;
/// Shorter lines are specks, mm.
const SPECK: f64 = 0.05;
/// Two lines at the least gap keep it; rounding may bring them this much nearer, mm.
const ROUNDING: f64 = 0.01;

/// How a cut region is hatched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::drawing) struct Hatch {
    /// Direction of the lines, degrees from the sheet's x axis, counter-clockwise
    /// as seen.
    pub(in crate::drawing) angle: f64,
    /// Line to line, mm.
    pub(in crate::drawing) spacing: f64,
}

/// Which way the end grain of each part of a piece leans, the same on every sheet: a part
/// leans against what touches it with its grain the same way.
pub(in crate::drawing) struct Leans(BTreeMap<usize, usize>);

impl Leans {
    /// Those of a piece.
    pub(in crate::drawing) fn of(worked: &WorkedJob, piece: PieceId) -> Self {
        let own = worked.parts.iter().enumerate().filter(|(_, part)| part.piece == piece);
        let stand = own.filter_map(|(index, part)| {
            bounds_of(std::iter::once(part)).map(|bounds| Stands { index, bounds, grain: part.at.x })
        });
        Self(leaning(&stand.collect::<Vec<_>>()))
    }

    /// Both ways for a part, its own first.
    fn ways(&self, part: usize) -> [f64; 2] {
        let [one, other] = LEANING;
        if self.0.get(&part) == Some(&1) { [other, one] } else { [one, other] }
    }
}

/// A part where it stands: its place in the job, its box, the way of its grain.
struct Stands {
    index: usize,
    bounds: Bounds,
    grain: DVec3,
}

/// Which of the two ways each of some parts leans, by its place in the job: one after
/// another, each against most of those before it.
fn leaning(parts: &[Stands]) -> BTreeMap<usize, usize> {
    let boxes = Boxes::new(parts.iter().map(|part| part.bounds).enumerate().collect());
    let mut leans: Vec<usize> = Vec::with_capacity(parts.len());
    for part in parts {
        let mut met = [0_u32; 2];
        // Those that have a lean are those before.
        for at in boxes.near(part.bounds, NEAR) {
            let Some((other, lean)) = parts.get(at).zip(leans.get(at)) else { break };
            if let Some(met) = met.get_mut(*lean).filter(|_| other.grain.dot(part.grain).abs() > MOSTLY) {
                *met += 1;
            }
        }
        let [one, other] = met;
        leans.push(usize::from(other < one));
    }
    parts.iter().map(|part| part.index).zip(leans).collect()
}

/// What is cut: a part by its place in the job, and its stock.
#[derive(Clone, Copy)]
pub(in crate::drawing) struct Of<'a> {
    pub(in crate::drawing) part: &'a WorkedPart,
    pub(in crate::drawing) index: usize,
    pub(in crate::drawing) stock: Option<&'a Stock>,
    pub(in crate::drawing) leans: &'a Leans,
}

/// The hatch of one cut part seen by `camera` at `factor` paper mm per model mm;
/// `around` is the rectangle of the cut on the sheet, `drawn` what is hatched
/// already. Sheet goods: square to the board's plane, half its thickness apart.
/// Long grain: along the grain. End grain: 45°, neighbours opposite, a third one
/// closer (trade-school practice on DIN 919-1, from memory of its teaching).
pub(in crate::drawing) fn of(
    Of { part, index, stock, leans }: Of<'_>,
    camera: Camera,
    factor: f64,
    around: Rect,
    drawn: &[(Rect, Hatch)],
) -> Hatch {
    let flat = |v: DVec3| camera.project(v);
    let degrees = |v: DVec2| trig::atan2(v.y, v.x).to_degrees();
    let through = flat(part.at.z);
    if stock.is_some_and(|s| matches!(s.kind, StockKind::Sheet { .. })) && through.length() > LAYERED {
        let spacing = (part.size.z * factor * OF_SHEET).clamp(NEAREST, FARTHEST_SHEET);
        return Hatch { angle: degrees(through), spacing };
    }
    let grain = flat(part.at.x);
    let base = (around.width().min(around.height()) * OF_WOOD).clamp(NEAREST, FARTHEST_WOOD);
    if grain.length() > MOSTLY {
        return Hatch { angle: degrees(grain), spacing: base };
    }
    let touches = |hatch: Hatch| {
        drawn.iter().any(|(rect, other)| {
            let near = rect.inflate(TOUCHING, TOUCHING).intersect(around);
            near.width() > 0.0
                && near.height() > 0.0
                && (other.angle - hatch.angle).abs() < SAME_ANGLE
                && (other.spacing - hatch.spacing).abs() < SAME_SPACING
        })
    };
    let ways = leans.ways(index);
    ways.into_iter()
        .flat_map(|angle| [base, base * CLOSER].map(|spacing| Hatch { angle, spacing }))
        .find(|hatch| !touches(*hatch))
        .unwrap_or(Hatch { angle: ways[0], spacing: base * WIDER })
}

/// The hatch lines inside `rings` (sheet mm; inside is where a ray crosses an
/// odd number of edges). Lines of equal hatch run on from region to region, as
/// they are counted from the sheet's corner.
pub(in crate::drawing) fn lines(rings: &[Vec<Point>], hatch: Hatch) -> BezPath {
    let (sin, cos) = trig::sin_cos(hatch.angle.to_radians());
    // Sheet y runs down.
    let along = Vec2::new(cos, -sin);
    let across = Vec2::new(sin, cos);
    let rotated: Vec<Vec<(f64, f64)>> = rings
        .iter()
        .map(|ring| ring.iter().map(|p| (p.to_vec2().dot(along), p.to_vec2().dot(across))).collect())
        .collect();
    let (low, high) =
        rotated.iter().flatten().fold((f64::MAX, f64::MIN), |(low, high), p| (low.min(p.1), high.max(p.1)));
    let mut path = BezPath::new();
    let mut row = (low / hatch.spacing).floor() + 0.5;
    while row * hatch.spacing < high {
        let v = row * hatch.spacing;
        let mut hits: Vec<f64> = Vec::new();
        for ring in &rotated {
            for i in 0..ring.len() {
                let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
                if (a.1 <= v) != (b.1 <= v) {
                    hits.push(a.0 + (b.0 - a.0) * (v - a.1) / (b.1 - a.1));
                }
            }
        }
        hits.sort_by(f64::total_cmp);
        for pair in hits.chunks_exact(2) {
            if pair[1] - pair[0] > SPECK {
                path.move_to((along * pair[0] + across * v).to_point());
                path.line_to((along * pair[1] + across * v).to_point());
            }
        }
        row += 1.0;
    }
    path
}

/// The closed path of some rings.
pub(in crate::drawing) fn outline(rings: &[Vec<Point>]) -> BezPath {
    let mut path = BezPath::new();
    for ring in rings {
        let mut points = ring.iter();
        if let Some(first) = points.next() {
            path.move_to(*first);
            points.for_each(|p| path.line_to(*p));
            path.close_path();
        }
    }
    path
}

/// Bounds of some rings.
pub(in crate::drawing) fn bounds(rings: &[Vec<Point>]) -> Rect {
    outline(rings).bounding_box()
}

/// An outline without what runs so close along a longer line of it that both print
/// as one, such as the inner side of a thin lip beside a recess, and the lips to be
/// blackened (thin parts solid: ISO 128-50, from memory); `None` where there is no
/// such place. `rings` tell wood from what is cut out of it.
pub(in crate::drawing) fn lips(outline: &BezPath, rings: &[Vec<Point>]) -> Option<(BezPath, BezPath)> {
    /// Lines that run together for less do so in passing, mm.
    const PASSING: f64 = 1.0;
    let straight = |segment| if let PathSeg::Line(line) = segment { Some(line) } else { None };
    let sides: Vec<Line> = outline.segments().map(straight).collect::<Option<_>>()?;
    let wood = self::outline(rings);
    let mut order: Vec<usize> = (0..sides.len()).collect();
    order.sort_by(|a, b| sides[*b].length().total_cmp(&sides[*a].length()).then(a.cmp(b)));
    let mut left: Vec<Vec<Line>> = sides.iter().map(|side| vec![*side]).collect();
    let mut solid = BezPath::new();
    let mut found = false;
    for (place, &one) in order.iter().enumerate() {
        let side = sides[one];
        if side.length() < PASSING {
            break;
        }
        let at = |s: f64| side.p0 + (side.p1 - side.p0) * (s / side.length());
        let mut free: Vec<(f64, f64)> = vec![(0.0, side.length())];
        for other in order.iter().take(place).flat_map(|&longer| &left[longer]) {
            let Some(near) = run_together(side, *other) else { continue };
            if near.to - near.from <= PASSING || near.gap > LEAST_GAP - ROUNDING {
                continue;
            }
            found = true;
            let (a, b) = (at(near.from), at(near.to));
            let (c, d) = (onto(*other, b), onto(*other, a));
            if wood.contains(a.midpoint(b).midpoint(c.midpoint(d))) {
                solid.extend(self::outline(&[vec![a, b, c, d]]));
            }
            free = free
                .into_iter()
                .flat_map(|(from, to)| [(from, to.min(near.from)), (from.max(near.to), to)])
                .filter(|(from, to)| to - from > HAIR)
                .collect();
        }
        left[one] = free.into_iter().map(|(from, to)| Line::new(at(from), at(to))).collect();
    }
    found.then(|| (strokes(left.iter().flatten()), solid))
}

/// A path along some lines.
fn strokes<'l>(lines: impl Iterator<Item = &'l Line>) -> BezPath {
    let mut path = BezPath::new();
    for line in lines {
        path.move_to(line.p0);
        path.line_to(line.p1);
    }
    path
}

/// The foot of a point on a line.
fn onto(line: Line, point: Point) -> Point {
    let dir = (line.p1 - line.p0) / line.length();
    line.p0 + dir * dir.dot(point - line.p0)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    use super::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, rng_seed: RngSeed::Fixed(20_261_128), ..ProptestConfig::default() })]

        /// The same as by looking at all pairs.
        #[test]
        fn parts_lean_as_all_pairs_give(
            lots in prop::collection::vec((prop::array::uniform3(0..12), prop::array::uniform3(1..5), 0..3), 0..90)
        ) {
            let parts: Vec<Stands> = (100..).zip(&lots).map(|(index, (low, size, along))| {
                let [low, size] = [*low, *size].map(|of| DVec3::from(of.map(f64::from)) * 20.0);
                let grain = [DVec3::X, DVec3::NEG_X, DVec3::Z][usize::try_from(*along).unwrap()];
                Stands { index, bounds: (low, low + size), grain }
            }).collect();
            let found = leaning(&parts);
            let mut by_pairs: Vec<usize> = Vec::new();
            for part in &parts {
                let (a, b) = part.bounds;
                let before = parts.iter().zip(&by_pairs).filter(|(other, _)| {
                    let (c, d) = other.bounds;
                    (a - NEAR).cmple(d).all()
                        && (c - NEAR).cmple(b).all()
                        && other.grain.dot(part.grain).abs() > MOSTLY
                });
                let (one, two): (Vec<usize>, Vec<usize>) =
                    before.map(|(_, lean)| *lean).partition(|lean| *lean == 0);
                by_pairs.push(usize::from(two.len() < one.len()));
            }
            prop_assert_eq!(found, (100..).zip(by_pairs).collect::<BTreeMap<_, _>>());
        }
    }

    #[test]
    fn a_thin_lip_is_one_black_line() {
        // A board 53 by 6.2 with a recess 5 wide in its end, its lips 0.6 thick, 1.2 deep.
        let ring = |corners: &[(f64, f64)]| vec![corners.iter().map(|c| Point::from(*c)).collect::<Vec<_>>()];
        let board = [(0.0, 0.0), (53.0, 0.0), (53.0, 6.2), (0.0, 6.2)];
        assert!(lips(&outline(&ring(&board)), &ring(&board)).is_none());
        let recess = [(0.0, 5.6), (1.2, 5.6), (1.2, 0.6), (0.0, 0.6)];
        let cut = ring(&[&board[..], &recess[..]].concat());
        let (path, solid) = lips(&outline(&cut), &cut).unwrap();
        // Both inner sides of the lips are gone: twice 1.2 mm.
        let long = |path: &BezPath| path.segments().map(|s| s.perimeter(1e-9)).sum::<f64>();
        assert!((long(&outline(&cut)) - long(&path) - 2.4).abs() < 1e-9);
        assert!((solid.area().abs() - 2.0 * 1.2 * 0.6).abs() < 1e-9, "{}", solid.area());
        // A saw kerf is one line too, but nothing to blacken.
        let kerf = [(20.0, 6.2), (20.0, 2.0), (19.5, 2.0), (19.5, 6.2)];
        let cut = ring(&[&board[..3], &kerf[..], &board[3..]].concat());
        let (path, solid) = lips(&outline(&cut), &cut).unwrap();
        assert!((long(&outline(&cut)) - long(&path) - 4.2).abs() < 1e-9);
        assert!(solid.elements().is_empty());
    }

    #[test]
    fn hatch_lines_fill_a_square_with_a_hole() {
        // Length of hatch times spacing is the area, by Cavalieri.
        let square =
            |a: f64, b: f64| vec![Point::new(a, a), Point::new(b, a), Point::new(b, b), Point::new(a, b)];
        let rings = [square(10.0, 50.0), square(20.0, 30.0)];
        for angle in [0.0, 45.0, 90.0, 135.0] {
            let path = lines(&rings, Hatch { angle, spacing: 0.1 });
            let area = path.perimeter(1e-6) * 0.1;
            assert!((area - 1500.0).abs() < 6.0, "{angle}: {area}");
        }
    }
}
