//! The figure of the wood: lines along the grain, as a draughtsman strokes them in.
//!
//! Lines of one part belong together: they follow the same slow bends, wander from their
//! places by a little and break off now and then. All of it comes from the number of the
//! part, so that the same job gives the same ink.

use kurbo::BezPath;

use super::picture::shows;
use super::scene::{Kind, Thing};
use super::tones::Tones;
use crate::drawing::kit::project::OnSheet;
use crate::drawing::page::plate::Plate;
use crate::geometry::{DVec2, DVec3, trig};
use crate::joinery::WorkedPart;
use crate::model::{Grain, Job, StockKind};
use crate::paper::{Pen, Role, dash};
use crate::solid::{Eye, FaceSeen};

/// From line to line on paper, mm: least, and what chance adds.
const APART: f64 = 1.5;
const MORE: f64 = 1.7;
/// Strokes and the gaps between them on paper, mm: least, and what chance adds.
const STROKE: f64 = 9.0;
const LONGER: f64 = 38.0;
const GAP: f64 = 1.6;
const WIDER: f64 = 6.0;
/// Length of the straight pieces that a stroke is bent of, mm on paper.
const STEP: f64 = 2.5;
/// How far lines bend from side to side, and the length of a bend, mm on paper.
const SWAY: f64 = 0.7;
const BEND: f64 = 46.0;
/// The quicker of two waves is so much lower, and the other so much slower.
const LESS: f64 = 0.4;
const SLOWER: f64 = 0.37;
/// A face that is drawn narrower than this share of its width has no room for lines.
const ASLANT: f64 = 0.06;
/// Width of the pen, as a share of the narrow line.
const FINE: f64 = 0.42;
/// A face is end grain where its normal follows the grain by more than this.
const END: f64 = 0.75;
/// Most lines on a face, so that no odd part takes for ever.
const MOST: usize = 400;

/// Draws the figure of every part that has one.
pub(super) fn draw(
    plate: &mut Plate,
    job: &Job,
    tones: &Tones,
    (things, eye): (&[&Thing<'_>], &Eye),
    on: OnSheet,
) {
    for (index, thing) in things.iter().enumerate() {
        let (Kind::Part(number), Some(part)) = (thing.kind, thing.part) else { continue };
        if !has_figure(job, part) {
            continue;
        }
        let mut path = BezPath::new();
        for seen in tones.faces.iter().filter(|seen| seen.item == index) {
            let chance = Chance::new(number as u64 * FACES + seen.face as u64);
            if let Some(face) = Grained::of(thing, seen, eye, on) {
                face.stroke(&mut path, chance);
            }
        }
        if !path.elements().is_empty() {
            let pen = Pen { width: plate.narrow * FINE, dash: dash::SOLID };
            plate.stroke_of(path, pen, Role::Hatch, shows());
        }
    }
}

/// Faces that one part is reckoned with, so that no two faces bend alike.
const FACES: u64 = 1009;

/// Whether the grain of a part is seen.
fn has_figure(job: &Job, part: &WorkedPart) -> bool {
    match job.stock.get(part.stock.0).map(|stock| &stock.kind) {
        Some(StockKind::Sheet { grain, .. }) => *grain != Grain::None,
        Some(StockKind::Board { .. } | StockKind::Blank { .. }) => true,
        Some(StockKind::Glass { .. } | StockKind::Bought) | None => false,
    }
}

/// A face with long grain.
struct Grained<'s> {
    seen: &'s FaceSeen,
    /// A point of its plane.
    origin: DVec3,
    /// Along the grain and across it in the plane.
    along: DVec3,
    across: DVec3,
    /// Reach along and across, from `origin`, mm.
    low: DVec2,
    high: DVec2,
    eye: &'s Eye,
    on: OnSheet,
}

impl<'s> Grained<'s> {
    /// `None` where end grain is seen.
    fn of(thing: &Thing<'_>, seen: &'s FaceSeen, eye: &'s Eye, on: OnSheet) -> Option<Self> {
        let solid = thing.solid()?;
        let face = solid.faces.get(seen.face)?;
        let normal = thing.at.dir(face.plane.normal);
        let grain = thing.at.dir(DVec3::X);
        let along = (grain - normal * normal.dot(grain)).try_normalize()?;
        if normal.dot(grain).abs() > END {
            return None;
        }
        let across = normal.cross(along);
        let corners = || {
            let indices = face.loops.iter().flatten();
            indices.filter_map(|i| solid.points.get(*i as usize)).map(|p| thing.at.point(*p))
        };
        let origin = corners().next()?;
        let flat = |p: DVec3| DVec2::new(along.dot(p - origin), across.dot(p - origin));
        let low = corners().map(flat).fold(DVec2::INFINITY, DVec2::min);
        let high = corners().map(flat).fold(DVec2::NEG_INFINITY, DVec2::max);
        Some(Self { seen, origin, along, across, low, high, eye, on })
    }

    /// A point along and across in picture mm at full size.
    fn point(&self, u: f64, v: f64) -> Option<DVec2> {
        self.eye.place(self.origin + self.along * u + self.across * v).map(DVec3::truncate)
    }

    /// How long a mm along and a mm across are on paper, in the middle of the face: both
    /// are shortened where it is seen aslant.
    fn scales(&self) -> Option<(f64, f64)> {
        let middle = (self.low + self.high) * 0.5;
        let here = self.point(middle.x, middle.y)?;
        let along = self.point(middle.x + 1.0, middle.y)?.distance(here);
        let side = self.point(middle.x, middle.y + 1.0)? - here;
        let way = (self.point(middle.x + 1.0, middle.y)? - here).try_normalize()?;
        // Lines are as far apart as they are square to one another.
        let across = way.perp_dot(side).abs();
        (along > ASLANT && across > ASLANT).then_some((along * self.on.factor, across * self.on.factor))
    }

    /// Strokes all its lines.
    fn stroke(&self, path: &mut BezPath, mut chance: Chance) {
        let Some((along, across)) = self.scales() else { return };
        let mm = DVec2::new(1.0 / along, 1.0 / across);
        let phase = std::f64::consts::TAU * chance.next();
        let mut v = self.low.y + APART * mm.y * (0.4 + chance.next());
        for _ in 0..MOST {
            if v >= self.high.y {
                return;
            }
            let mut u = self.low.x - STROKE * mm.x * chance.next();
            while u < self.high.x {
                let end = u + (STROKE + LONGER * chance.next()) * mm.x;
                self.line(path, (u.max(self.low.x), end.min(self.high.x)), |at| v + sway(at, v, phase, mm));
                u = end + (GAP + WIDER * chance.next()) * mm.x;
            }
            v += (APART + MORE * chance.next()) * mm.y;
        }
    }

    /// One stroke, as far as it is seen.
    fn line(&self, path: &mut BezPath, (from, to): (f64, f64), v: impl Fn(f64) -> f64) {
        let step = STEP / self.on.factor;
        let mut u = from;
        let mut last = self.point(u, v(u));
        let mut open = false;
        while u < to {
            u = (u + step).min(to);
            let next = self.point(u, v(u));
            if let (Some(a), Some(b)) = (last, next) {
                for (p, q) in inside(&self.seen.rings, a, b) {
                    if !(open && p == a) {
                        path.move_to(self.on.point(p));
                    }
                    path.line_to(self.on.point(q));
                    open = q == b;
                }
            }
            last = next;
        }
    }
}

/// How far a line is off its place: two slow waves, the second by where it lies, so that
/// lines far from one another do not bend alike.
fn sway(u: f64, v: f64, phase: f64, mm: DVec2) -> f64 {
    let bend = DVec2::splat(std::f64::consts::TAU / BEND) / mm;
    let (first, _) = trig::sin_cos(u * bend.x + phase);
    let (second, _) = trig::sin_cos(SLOWER * u * bend.x + 0.5 * v * bend.y + 2.0 * phase);
    SWAY * mm.y * (LESS * first + second)
}

/// The pieces of a straight line inside a region, in order.
fn inside(rings: &[Vec<DVec2>], a: DVec2, b: DVec2) -> Vec<(DVec2, DVec2)> {
    let along = b - a;
    let mut cuts: Vec<f64> = Vec::new();
    let mut within = false;
    for ring in rings {
        for (p, q) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            // Whether a is within: by how often a level line from it meets the rings.
            if (p.y > a.y) != (q.y > a.y) && a.x < p.x + (a.y - p.y) / (q.y - p.y) * (q.x - p.x) {
                within = !within;
            }
            let (at_p, at_q) = (along.perp_dot(*p - a), along.perp_dot(*q - a));
            if (at_p > 0.0) != (at_q > 0.0) {
                let met = p.lerp(*q, at_p / (at_p - at_q));
                let share = along.dot(met - a) / along.length_squared();
                if share > 0.0 && share < 1.0 {
                    cuts.push(share);
                }
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    cuts.push(1.0);
    let (mut from, mut found) = (0.0, Vec::new());
    for cut in cuts {
        if within && cut > from {
            let end = if cut < 1.0 { a.lerp(b, cut) } else { b };
            let start = if from > 0.0 { a.lerp(b, from) } else { a };
            found.push((start, end));
        }
        within = !within;
        from = cut;
    }
    found
}

/// Chance that is the same every time.
struct Chance(u64);

impl Chance {
    fn new(seed: u64) -> Self {
        let mut chance = Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x2545_F491_4F6C_DD1D);
        chance.next();
        chance
    }

    /// From 0 up to 1: xorshift of 64 bits with shifts 13, 7, 17 (Marsaglia 2003).
    fn next(&mut self) -> f64 {
        let mut x = self.0.max(1);
        x ^= x << 13;
        x ^= x >> 7;
        x ^= x << 17;
        self.0 = x;
        // The upper 32 bits are exact as a float.
        f64::from(u32::try_from(x >> 32).unwrap_or(0)) / f64::from(u32::MAX)
    }
}
