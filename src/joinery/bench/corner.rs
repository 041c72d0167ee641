//! The corner two boards are jointed in with fingers or dovetails: both drawn
//! to its outside, as for a mitre, so that they fill the corner together.

use super::blank::Blank;
use super::meet::{Pair, TOUCH, front_part, meeting, side_of};
use super::seen::Bench;
use super::tolerance::{ASKEW, PARALLEL};
use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::model::{Stock, StockKind, Work};
use crate::problem::Problem;
use crate::solid::Prism;
use crate::timber::Species;

/// How far cuts reach out of the wood, so that they surely leave it, mm.
pub(in crate::joinery) const BEYOND: f64 = 1.0;

/// A board at a corner.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Limb {
    /// Index of the part.
    pub(in crate::joinery) part: usize,
    /// Out of its end at the corner, unit.
    pub(in crate::joinery) out: DVec3,
    /// Its end: the distance along `out`, which is the other board's outer face.
    pub(in crate::joinery) end: f64,
    /// Its thickness, mm.
    pub(in crate::joinery) thick: f64,
}

/// Two boards at a square corner.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Corner {
    /// Along the corner, from front, bottom or left.
    pub(in crate::joinery) run: DVec3,
    /// Where the stretch both boards share begins along `run`.
    pub(in crate::joinery) from: f64,
    /// Its length, mm.
    pub(in crate::joinery) wide: f64,
    /// The first board.
    pub(in crate::joinery) a: Limb,
    /// The second board.
    pub(in crate::joinery) b: Limb,
}

/// The corner of two boards as placed; errors where they make none.
pub(in crate::joinery) fn corner(
    bench: &Bench<'_>,
    work: &Work,
    a: usize,
    b: usize,
) -> Result<Corner, Problem> {
    let (first, second) = (&bench.placed[a], &bench.placed[b]);
    bench.stand_square(work, Pair { a, b }, &format!("`{}` is cut at a square corner", work.word.name))?;
    let m = meeting(first, second);
    if m.gap > TOUCH {
        return Err(bench.apart(work, a, b, m));
    }
    // Both boards stand on edge along the corner, so it is square to both their faces.
    let run = first.at.z.cross(second.at.z);
    let square = run.length() > PARALLEL;
    if !square || first.axis_along(second.at.z).is_none() || second.axis_along(first.at.z).is_none() {
        return Err(no_corner(bench, work, a, b));
    }
    let run = if front_part(run) < 0.0 { -run } else { run };
    let limb = |part: usize, one: &Blank, other: &Blank| {
        let axis = other.at.z;
        let out = if axis.dot(other.centre() - one.centre()) < 0.0 { -axis } else { axis };
        Limb { part, out, end: other.reach(out).1, thick: one.size.z }
    };
    let corner = Corner { run, from: 0.0, wide: 0.0, a: limb(a, first, second), b: limb(b, second, first) };
    for (limb, blank, other) in [(corner.a, first, b), (corner.b, second, a)] {
        // Neither board grows at a corner: what is drawn too short would leave the joint
        // open, what is too long would stand out of it.
        let over = blank.reach(limb.out).1 - limb.end;
        if over.abs() > TOUCH {
            return Err(misses(bench, work, limb, other, over));
        }
    }
    let ((alo, ahi), (blo, bhi)) = (first.reach(run), second.reach(run));
    let (from, to) = (alo.max(blo), ahi.min(bhi));
    if to - from < TOUCH {
        return Err(no_corner(bench, work, a, b));
    }
    Ok(Corner { from, wide: to - from, ..corner })
}

/// The parts make no square corner.
fn no_corner(bench: &Bench<'_>, work: &Work, a: usize, b: usize) -> Problem {
    let message = format!("`{}` and `{}` make no square corner of two boards", bench.name(a), bench.name(b));
    let turned = bench.placed[a].at.z.dot(bench.placed[b].at.z).abs();
    let askew = if (ASKEW..PARALLEL).contains(&turned) {
        "; a corner at another angle, as of a hexagon, is a `mitre` with a `loose_tongue` in it"
    } else {
        ""
    };
    bench.error(work, "no-corner", message, &[a, b]).help(format!(
        "`{}` joins the ends of two boards that stand square to one another on edge; both reach to the outside of \
         the corner{askew}",
        work.word.name
    ))
}

/// A board that ends short of the outside of the corner or runs past it.
fn misses(bench: &Bench<'_>, work: &Work, limb: Limb, other: usize, over: f64) -> Problem {
    let (name, stop) = (bench.name(limb.part), bench.name(other));
    let side = side_of(limb.out).name();
    if over > 0.0 {
        let message = format!("`{name}` runs {} past the {side} of `{stop}`", bench.mm(over));
        return bench.error(work, "no-corner", message, &[limb.part, other]).help(format!(
            "`{}` is made at a corner: end `{name}` flush with the {side} of `{stop}`, or use `housing`",
            work.word.name
        ));
    }
    let message = format!("`{name}` ends {} short of the outside of `{stop}`", bench.mm(-over));
    bench.error(work, "parts-do-not-meet", message, &[limb.part, other]).help(format!(
        "`{}` fills the corner from both boards: draw `{name}` to the {side} of `{stop}` as well, not `between`",
        work.word.name
    ))
}

impl Corner {
    /// Part `limb`'s frame: x along the corner, y out of its end, z through it.
    fn frame(&self, limb: Limb) -> Placement {
        Placement { origin: DVec3::ZERO, x: self.run, y: limb.out, z: self.run.cross(limb.out) }
    }

    /// The other board's way out, which is the way through `limb`.
    fn through(&self, limb: Limb) -> DVec3 {
        if limb.part == self.a.part { self.b.out } else { self.a.out }
    }

    /// A cut in `limb`: an outline of places along the corner (from its
    /// beginning) and back from the end, through a stretch of the thickness
    /// given back from the outer face.
    pub(in crate::joinery) fn cut(&self, limb: Limb, outline: &[(f64, f64)], deep: (f64, f64)) -> Prism {
        let at = self.frame(limb);
        let points: Vec<DVec2> =
            outline.iter().map(|(along, back)| DVec2::new(self.from + along, limb.end - back)).collect();
        // The other board's end plane is this one's outer face.
        let way = self.through(limb);
        let face = if limb.part == self.a.part { self.b.end } else { self.a.end };
        let (lo, hi) = (face - deep.1, face - deep.0);
        let (from, to) = if at.z.dot(way) > 0.0 { (lo, hi) } else { (-hi, -lo) };
        Prism { at, outline: Outline::polygon(turned(points)), from, to }
    }

    /// A cut with the same outline but swept along the end of `limb`: places
    /// along the corner and back from its outer face, `deep` back from its end.
    pub(in crate::joinery) fn end_cut(&self, limb: Limb, outline: &[(f64, f64)], deep: (f64, f64)) -> Prism {
        let way = self.through(limb);
        let face = if limb.part == self.a.part { self.b.end } else { self.a.end };
        let at = Placement { origin: DVec3::ZERO, x: self.run, y: way, z: self.run.cross(way) };
        let points: Vec<DVec2> =
            outline.iter().map(|(along, back)| DVec2::new(self.from + along, face - back)).collect();
        let (lo, hi) = (limb.end - deep.1, limb.end - deep.0);
        let (from, to) = if at.z.dot(limb.out) > 0.0 { (lo, hi) } else { (-hi, -lo) };
        Prism { at, outline: Outline::polygon(turned(points)), from, to }
    }

    /// Whether the board ends where the shared stretch begins and ends.
    pub(in crate::joinery) fn flush(&self, bench: &Bench<'_>, limb: Limb) -> (bool, bool) {
        let (lo, hi) = bench.placed[limb.part].reach(self.run);
        (lo > self.from - TOUCH, hi < self.from + self.wide + TOUCH)
    }

    /// A warning for each board whose grain runs along the corner, so that
    /// what is left standing breaks off along it.
    pub(in crate::joinery) fn short_grain(&self, bench: &Bench<'_>, work: &Work, what: &str) -> Vec<Problem> {
        let weak = |limb: &Limb| {
            let board = matches!(stock(bench, limb.part).map(|s| &s.kind), Some(StockKind::Board { .. }));
            board && bench.placed[limb.part].axis(0).dot(self.run).abs() > 0.5
        };
        let list = [self.a, self.b].into_iter().filter(weak);
        list.map(|limb| {
            let name = bench.name(limb.part);
            let message =
                format!("the grain of `{name}` runs along the corner: its {what} break off along it");
            bench
                .warning(work, "short-grain", message, &[limb.part])
                .help("let the grain run towards the corner, or use a `mitre` with a tongue or tenons")
        })
        .collect()
    }
}

/// Points of an outline so that it runs counter-clockwise.
fn turned(mut points: Vec<DVec2>) -> Vec<DVec2> {
    let n = points.len();
    // Seen from one of the boards the outline runs the other way round.
    let area: f64 = (0..n).map(|i| points[i].perp_dot(points[(i + 1) % n])).sum();
    if area < 0.0 {
        points.reverse();
    }
    points
}

/// The stock of a part.
pub(in crate::joinery) fn stock<'a>(bench: &Bench<'a>, part: usize) -> Option<&'a Stock> {
    bench.job.stock.get(bench.job.parts.get(part)?.stock.0)
}

/// The species of a part, if its stock names one.
pub(in crate::joinery) fn species(bench: &Bench<'_>, part: usize) -> Option<&'static Species> {
    match &stock(bench, part)?.kind {
        StockKind::Board { species, .. } | StockKind::Blank { species, .. } => {
            Species::named(species.as_deref()?)
        }
        StockKind::Sheet { .. } | StockKind::Glass { .. } | StockKind::Bought => None,
    }
}

/// Refuses stock no joint can be cut in.
pub(in crate::joinery) fn wooden(bench: &Bench<'_>, work: &Work, parts: &[usize]) -> Result<(), Problem> {
    for &part in parts {
        let Some(stock) = stock(bench, part) else { continue };
        if matches!(stock.kind, StockKind::Glass { .. } | StockKind::Bought) {
            let message = format!(
                "`{}` is cut from {}, in which no `{}` can be made",
                bench.name(part),
                stock.name,
                work.word.name
            );
            return Err(bench
                .error(work, "not-wood", message, &[part])
                .help("hold it with `rebate` or `groove`"));
        }
    }
    Ok(())
}
