//! An end or edge that runs into a face at an angle: lengthened to its long point and
//! sawn to the plane of the face.

use super::real::Real;
use super::trim::Trim;
use crate::geometry::{DVec3, Plane, trig};
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Sawn};
use crate::joinery::bench::meet::{Pair, TOUCH, side_of};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{HOLDS, NOISE, ONE_WAY};
use crate::measure::angle;
use crate::model::Work;
use crate::problem::Problem;
use crate::solid::{Patch, Prism, patches};

/// Most that an end is sawn off square, degrees: beyond it little more than a feather
/// edge is left to hold (common practice, no source).
const MOST: f64 = 60.0;
/// Furthest an end may be drawn from the face it is sawn to, mm: what is further off was
/// not meant to meet it.
const FAR: f64 = 150.0;
/// A face that a way along a part meets flatter than this (cosine) is beside it.
const BESIDE: f64 = 0.05;

/// How an end is to stand to the face it is sawn to.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) enum Fit {
    /// Against it; what stands square to it is drawn there.
    Meet,
    /// So deep behind it, mm.
    LetIn { deep: f64 },
    /// So far before it, mm, wherever it is drawn.
    Cut { gap: f64 },
}

impl Fit {
    /// How far behind the face the end is sawn, mm.
    fn deep(self) -> f64 {
        match self {
            Self::Meet => 0.0,
            Self::LetIn { deep } => deep,
            Self::Cut { gap } => -gap,
        }
    }
}

/// What makes a trim impossible.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) enum Refused {
    /// No end or edge runs into a face.
    Nothing,
    /// It stands square to the face and does not reach it by so much, or runs past it
    /// (less than nought).
    Apart(DVec3, f64),
    /// It would be sawn so many degrees off square.
    Flat(DVec3, f64),
    /// It ends so far before the face, or behind it (less than nought).
    Far(DVec3, f64),
}

/// An end that may be sawn to a face.
#[derive(Clone, Copy, Debug)]
struct Way {
    into: DVec3,
    face: Plane,
    /// From the end to the plane at the corner nearest to it and furthest from it, along
    /// the part, mm.
    short: f64,
    long: f64,
}

impl Way {
    /// Cosine of what the end is sawn off square by.
    fn steep(&self) -> f64 {
        -self.into.dot(self.face.normal)
    }

    /// How far the end is from the plane, mm: nought where it runs through the end.
    fn off(&self) -> f64 {
        self.short.max(-self.long).max(0.0)
    }

    /// Why it cannot be sawn so.
    fn refused(&self, fit: Fit) -> Option<Refused> {
        let (steep, gap) = (self.steep(), if self.short > 0.0 { self.short } else { self.long });
        let may_move = match fit {
            Fit::Meet => false,
            // What is let in may already reach into its member.
            Fit::LetIn { .. } => self.short <= TOUCH,
            Fit::Cut { .. } => true,
        };
        if steep > ONE_WAY && self.off() > TOUCH && !may_move {
            return Some(Refused::Apart(self.face.normal, gap));
        }
        let degrees = trig::acos(steep.min(1.0)).to_degrees();
        if degrees > MOST + NOISE {
            return Some(Refused::Flat(self.face.normal, degrees));
        }
        // What is to be cut to a face may be drawn right through it.
        let most = if matches!(fit, Fit::Cut { .. }) { f64::INFINITY } else { FAR };
        (self.off() > most).then_some(Refused::Far(self.face.normal, gap))
    }
}

/// What the blank gains by a trim.
pub(in crate::joinery) fn growth(trim: &Trim) -> Growth {
    Growth { part: trim.part, toward: trim.into, by: trim.by, lipping: None }
}

/// A trim as a cut of its part.
pub(in crate::joinery) fn sawn(trim: &Trim) -> Option<Sawn> {
    trim.shape().map(|shape| Sawn { part: trim.part, kind: trim.kind, shape })
}

impl Bench<'_> {
    /// What a work saws off.
    pub(in crate::joinery) fn trims_of<'b>(&'b self, work: &'b Work) -> impl Iterator<Item = &'b Trim> {
        let mine = |trim: &&Trim| self.job.works.get(trim.asked).is_some_and(|w| std::ptr::eq(w, work));
        self.trims.iter().filter(mine)
    }

    /// What is sawn off the second part, or else off the first, so that they meet: of parts
    /// of which one is fixed through the other.
    pub(in crate::joinery) fn trim_second_to_meet(&self, work: &Work) -> Result<Vec<Trim>, Problem> {
        let (a, b) = self.pair(work)?;
        if self.are_plain(a, b) || self.mitred(a, b) || self.patch(a, b).is_some() {
            return Ok(Vec::new());
        }
        match (self.sawn_to(Pair { a, b }, Fit::Meet), self.sawn_to(Pair { a: b, b: a }, Fit::Meet)) {
            (Ok(one), Ok(other)) if self.off(&other) > self.off(&one) + TOUCH => Ok(vec![one]),
            (_, Ok(other)) => Ok(vec![other]),
            _ => self.trim_to_meet(work),
        }
    }

    /// What a word that joins two parts face to face saws off the first, or else off the
    /// second, so that they meet; nothing where they lie on one another already.
    pub(in crate::joinery) fn trim_to_meet(&self, work: &Work) -> Result<Vec<Trim>, Problem> {
        let (a, b) = self.pair(work)?;
        if self.are_plain(a, b) || self.mitred(a, b) || self.patch(a, b).is_some() {
            return Ok(Vec::new());
        }
        match (self.sawn_to(Pair { a, b }, Fit::Meet), self.sawn_to(Pair { a: b, b: a }, Fit::Meet)) {
            // The end that runs through a face is the one that was meant; of two the first's.
            (Ok(one), Ok(other)) if self.off(&other) < self.off(&one) - TOUCH => Ok(vec![other]),
            (Ok(trim), _) | (_, Ok(trim)) => Ok(vec![trim]),
            (Err(Refused::Nothing), Err(Refused::Nothing)) => Err(self.do_not_lie_together(work, a, b)),
            (Err(Refused::Nothing), Err(other)) => Err(self.refused(work, Pair { a: b, b: a }, other)),
            (Err(first), Err(_)) => Err(self.refused(work, Pair { a, b }, first)),
        }
    }

    /// How the first part is sawn to a face of the second.
    pub(in crate::joinery) fn sawn_to(&self, pair: Pair, fit: Fit) -> Result<Trim, Refused> {
        let Pair { a, b } = pair;
        let (Some(first), Some(second)) = (self.as_it_is(a), self.as_it_is(b)) else {
            return Err(Refused::Nothing);
        };
        let mut ways = ways(&self.placed[a], &second);
        // The nearest face first; of those that the end runs through already the one for
        // which least is sawn off or grown.
        ways.sort_by(|p, q| {
            let off = |w: &Way| (w.off() / TOUCH).round();
            let sawn = |w: &Way| ((w.long - w.short) / TOUCH).round();
            off(p).total_cmp(&off(q)).then(sawn(p).total_cmp(&sawn(q)))
        });
        let mut refused = Refused::Nothing;
        for way in ways {
            let why = way.refused(fit);
            if matches!((why, refused), (Some(_), Refused::Flat(..) | Refused::Far(..) | Refused::Apart(..)))
            {
                continue;
            }
            if bears(&first, &second, &way).is_none() {
                continue;
            }
            let Some(why) = why else {
                let deep = fit.deep();
                let by = way.long + deep / way.steep();
                let (into, face, kind) = (way.into, way.face, CutKind::Bevel);
                return Ok(Trim { asked: 0, part: a, to: b, into, face, deep, by, kind });
            };
            refused = why;
        }
        Err(refused)
    }

    /// How far the end that a trim saws is from the face, mm: nought where that runs
    /// through it.
    fn off(&self, trim: &Trim) -> f64 {
        let Some(blank) = self.placed.get(trim.part) else { return 0.0 };
        blank.axis_along(trim.into).map_or(0.0, |i| way(blank, i, trim.into, trim.face).off())
    }

    /// Why the first of two parts is not sawn to the second, in joinery words.
    pub(in crate::joinery) fn refused(&self, work: &Work, pair: Pair, why: Refused) -> Problem {
        let Pair { a, b } = pair;
        let (first, second) = (self.name(a), self.name(b));
        let far = |gap: f64| if gap > 0.0 { "before" } else { "behind" };
        let (code, message, help) = match why {
            Refused::Nothing => return self.do_not_lie_together(work, a, b),
            Refused::Apart(normal, gap) => (
                if gap > 0.0 { "parts-do-not-meet" } else { "parts-cross" },
                format!(
                    "`{first}` ends {} {} the {} of `{second}`",
                    self.mm(gap.abs()),
                    far(gap),
                    side_of(normal).name()
                ),
                format!("end `{first}` at that face"),
            ),
            Refused::Far(normal, gap) => (
                "parts-do-not-meet",
                format!(
                    "`{first}` ends {} {} the {} of `{second}`, measured along it",
                    self.mm(gap.abs()),
                    far(gap),
                    side_of(normal).name()
                ),
                format!(
                    "let it end within {} of that face; `{}` saws it to it",
                    self.mm(FAR),
                    work.word.name
                ),
            ),
            Refused::Flat(normal, degrees) => (
                "not-square",
                format!(
                    "`{first}` meets the {} of `{second}` {} off square: sawn to it, its end would be a feather edge",
                    side_of(normal).name(),
                    angle(degrees)
                ),
                format!(
                    "turn `{first}` so that it meets the face within {MOST}° of square, let both ends meet in a \
                     `mitre`, or lay it flat on the face"
                ),
            ),
        };
        self.error(work, code, message, &[a, b]).help(help)
    }
}

/// Every end and edge of a part with every face it runs into.
fn ways(blank: &Blank, other: &Real) -> Vec<Way> {
    let mut list = Vec::new();
    let faces = other.planes();
    for i in [0, 1] {
        for into in [blank.axis(i), -blank.axis(i)] {
            let meets = faces.iter().filter(|face| -into.dot(face.normal) > BESIDE);
            list.extend(meets.map(|face| way(blank, i, into, *face)));
        }
    }
    // What is sawn must leave something of the part, and slant by no more than the part is
    // long that way: more would make a wedge of it.
    list.retain(|way| {
        let whole = blank.size[usize::from(way.into.dot(blank.at.x).abs() < 0.5)];
        way.short > TOUCH - whole && way.long - way.short < whole
    });
    list
}

/// How the end that looks along `into`, part axis `i`, stands to a plane.
fn way(blank: &Blank, i: usize, into: DVec3, face: Plane) -> Way {
    let (j, k) = ((i + 1) % 3, (i + 2) % 3);
    let end = blank.centre() + into * (0.5 * blank.size[i]);
    let corners = [(-0.5, -0.5), (-0.5, 0.5), (0.5, -0.5), (0.5, 0.5)].map(|(y, z)| {
        let corner = end + blank.axis(j) * (y * blank.size[j]) + blank.axis(k) * (z * blank.size[k]);
        face.distance(corner) / -face.normal.dot(into)
    });
    let (short, long) =
        corners.into_iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), t| (lo.min(t), hi.max(t)));
    Way { into, face, short, long }
}

/// Where the part, sawn so, lies on its neighbour.
fn bears(part: &Real, other: &Real, way: &Way) -> Option<Patch> {
    let waste = Prism::half_space(way.face.normal * way.face.offset, -way.face.normal)?;
    let sawn = part.sawn(way.into, way.long + 1.0, Some(&waste))?;
    let all = patches((sawn.solid(), &sawn.blank.at), (other.solid(), &other.blank.at), TOUCH);
    let here = |patch: &Patch| patch.plane.normal.dot(way.face.normal) > ONE_WAY && patch.area > HOLDS;
    all.into_iter().filter(here).reduce(|most, next| if next.area > most.area + NOISE { next } else { most })
}
