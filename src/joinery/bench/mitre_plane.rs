//! The plane on which two parts mitre, at any angle and thickness.

use super::blank::Blank;
use super::meet::{Rect, TOUCH, meeting};
use super::seen::Bench;
use super::tolerance::{IN_LINE, LEVEL, TURNED};
use crate::geometry::DVec3;
use crate::model::Work;
use crate::problem::Problem;

/// Where two parts are mitred, piece coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::joinery) struct MitrePlane {
    /// Out of the first part.
    pub(in crate::joinery) normal: DVec3,
    /// Middle of the inner corner line.
    pub(in crate::joinery) inner: DVec3,
    /// Middle of the outer corner line.
    pub(in crate::joinery) outer: DVec3,
    /// Along the corner line, unit.
    pub(in crate::joinery) line: DVec3,
    /// Length of the corner line that both share, mm.
    pub(in crate::joinery) length: f64,
    /// From the corner along the first part.
    pub(in crate::joinery) away_a: DVec3,
    /// From the corner along the second part.
    pub(in crate::joinery) away_b: DVec3,
    /// Out of the first part on its inner face.
    pub(in crate::joinery) inside_a: DVec3,
}

/// A part as seen along the corner line.
pub(in crate::joinery) struct Limb {
    /// From the corner along it.
    pub(in crate::joinery) away: DVec3,
    /// Out of its inner face.
    pub(in crate::joinery) inside: DVec3,
    /// Places of the inner and outer face along `inside`.
    pub(in crate::joinery) faces: (f64, f64),
}

/// The mitre plane of two parts; errors where they do not reach it.
pub(in crate::joinery) fn mitre_plane(
    bench: &Bench<'_>,
    work: &Work,
    a: usize,
    b: usize,
) -> Result<MitrePlane, Problem> {
    let (first, second) = (bench.grown[a], bench.grown[b]);
    let m = meeting(&first, &second);
    // Parts that lean to one another grow to the corner.
    let is_square = bench.are_square(a, b);
    if m.gap > TOUCH && is_square {
        return Err(bench.apart(work, a, b, m));
    }
    let line = corner_line(&first, &second).ok_or_else(|| no_corner(bench, work, a, b))?;
    let (limb_a, limb_b) = limbs(&first, &second, line).ok_or_else(|| no_corner(bench, work, a, b))?;
    let (lo, hi) = {
        let ((alo, ahi), (blo, bhi)) = (first.reach(line), second.reach(line));
        (alo.max(blo), ahi.min(bhi))
    };
    let middle = line * (0.5 * (lo + hi));
    let corner = |fa: f64, fb: f64| meet_lines(&limb_a, &limb_b, line, fa, fb).map(|p| p + middle);
    let corners = corner(limb_a.faces.0, limb_b.faces.0).zip(corner(limb_a.faces.1, limb_b.faces.1));
    let (inner, outer) = corners.ok_or_else(|| no_corner(bench, work, a, b))?;
    for (part, limb) in [(a, &limb_a), (b, &limb_b)] {
        let end = bench.grown[part].reach(-limb.away).1;
        let short = (-limb.away).dot(outer).max((-limb.away).dot(inner)) - end;
        if short > TOUCH && is_square {
            let message = format!(
                "`{}` ends {} short of the corner it is mitred to",
                bench.name(part),
                bench.mm(short)
            );
            return Err(bench
                .error(work, "parts-do-not-meet", message, &[a, b])
                .help("let both parts reach the outer corner; `mitre` cuts them to the plane"));
        }
    }
    let normal = line.cross(outer - inner).normalize_or_zero();
    let normal = if normal.dot(limb_a.away) > 0.0 { -normal } else { normal };
    Ok(MitrePlane {
        normal,
        inner,
        outer,
        line,
        length: hi - lo,
        away_a: limb_a.away,
        away_b: limb_b.away,
        inside_a: limb_a.inside,
    })
}

impl MitrePlane {
    /// The mitre face both parts share.
    pub(in crate::joinery) fn rect(&self) -> Rect {
        let across = (self.outer - self.inner).normalize_or_zero();
        let width = self.outer.distance(self.inner);
        let centre = 0.5 * (self.inner + self.outer);
        if self.length >= width {
            Rect { centre, along: self.line, across, length: self.length, width }
        } else {
            Rect { centre, along: across, across: self.line, length: width, width: self.length }
        }
    }
}

/// The direction both parts share an axis in and the like reach.
fn corner_line(a: &Blank, b: &Blank) -> Option<DVec3> {
    let mut best: Option<(f64, DVec3)> = None;
    for axis in (0..3).map(|i| a.axis(i)) {
        if b.axis_along(axis).is_none() {
            continue;
        }
        let ((alo, ahi), (blo, bhi)) = (a.reach(axis), b.reach(axis));
        // The corner runs along the axis in which both parts reach alike: two rails
        // share their height there, not their length.
        let alike = (ahi.min(bhi) - alo.max(blo)) / (ahi.max(bhi) - alo.min(blo));
        if alike > 0.0 && best.is_none_or(|(most, _)| alike > most + TURNED) {
            best = Some((alike, axis));
        }
    }
    best.map(|(_, axis)| axis)
}

/// Both parts as seen along the corner line: the longer way of each is the way
/// it runs. `None` if they run the same way.
fn limbs(a: &Blank, b: &Blank, line: DVec3) -> Option<(Limb, Limb)> {
    let (run_a, thick_a) = ways(a, line)?;
    let (run_b, thick_b) = ways(b, line)?;
    // The middle lines cross at the corner.
    let (pa, pb) = (a.centre(), b.centre());
    let turn = run_a.dot(thick_b);
    if turn.abs() < IN_LINE {
        return None;
    }
    let corner = pa + run_a * ((pb - pa).dot(thick_b) / turn);
    let away = |run: DVec3, middle: DVec3| if run.dot(middle - corner) < 0.0 { -run } else { run };
    let (away_a, away_b) = (away(run_a, pa), away(run_b, pb));
    let limb = |blank: &Blank, away: DVec3, thick: DVec3, other: DVec3| {
        let inside = if thick.dot(other) < 0.0 { -thick } else { thick };
        let (outer, inner) = blank.reach(inside);
        Limb { away, inside, faces: (inner, outer) }
    };
    Some((limb(a, away_a, thick_a, away_b), limb(b, away_b, thick_b, away_a)))
}

/// The longer and the shorter axis of a box square to `line`.
fn ways(blank: &Blank, line: DVec3) -> Option<(DVec3, DVec3)> {
    let skip = blank.axis_along(line)?;
    let (i, j) = ((skip + 1) % 3, (skip + 2) % 3);
    let (i, j) = if blank.size[i] >= blank.size[j] { (i, j) } else { (j, i) };
    Some((blank.axis(i), blank.axis(j)))
}

/// The point at `fa` along the first part's inside and `fb` along the second's,
/// at nought along the line.
pub(in crate::joinery) fn meet_lines(a: &Limb, b: &Limb, line: DVec3, fa: f64, fb: f64) -> Option<DVec3> {
    let det = a.inside.cross(b.inside).dot(line);
    (det.abs() > LEVEL).then(|| (b.inside.cross(line) * fa + line.cross(a.inside) * fb) / det)
}

/// The parts make no corner.
pub(in crate::joinery) fn no_corner(bench: &Bench<'_>, work: &Work, a: usize, b: usize) -> Problem {
    let message = format!("`{}` and `{}` make no corner to mitre", bench.name(a), bench.name(b));
    bench.error(work, "no-corner", message, &[a, b]).help(
        "a mitre joins the ends of two parts that run in different directions and share one corner line",
    )
}
