//! Where two parts are drawn through one another: what halvings and bridles
//! divide between them.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::meet::{TOUCH, meeting, side_of};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{LEVEL, NOISE, ON_LINE, TURNED};
use crate::joinery::facts::channels::CrossedAt;
use crate::model::{Side, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// Two parts that fill the same space.
#[derive(Clone, Debug)]
pub(in crate::joinery) struct Crossing {
    /// Square to the plane both run in, towards the side the first lies over.
    pub(in crate::joinery) over: DVec3,
    /// From and to of each part along `over`.
    pub(in crate::joinery) reach: [(f64, f64); 2],
    /// Whether each part ends here.
    pub(in crate::joinery) ends: [bool; 2],
    /// The way each part runs off towards this end, if it ends here.
    pub(in crate::joinery) outward: [DVec3; 2],
    /// What both fill, seen along `over`.
    frame: Placement,
    outline: Outline,
}

impl Crossing {
    /// What both fill between two places along `over`.
    pub(in crate::joinery) fn brick(&self, from: f64, to: f64) -> Prism {
        Prism { at: self.frame, outline: self.outline.clone(), from, to }
    }

    /// From and to along `over` of what both fill.
    pub(in crate::joinery) fn shared(&self) -> (f64, f64) {
        let [a, b] = self.reach;
        (a.0.max(b.0), a.1.min(b.1))
    }

    /// The same, looked at from the other side.
    pub(in crate::joinery) fn turned(&self) -> Option<Self> {
        let over = -self.over;
        let frame = Placement::from_axes(self.frame.origin, self.frame.x, -self.frame.y)?;
        let mut outline = self.outline.clone();
        for point in outline.rings.iter_mut().flat_map(|r| &mut r.points) {
            point.y = -point.y;
        }
        // Seen from behind the corners run the other way round.
        outline.rings.iter_mut().for_each(|r| r.points.reverse());
        Some(Self { over, reach: self.reach.map(|(lo, hi)| (-hi, -lo)), frame, outline, ..self.clone() })
    }

    /// Where the two cross.
    pub(in crate::joinery) fn at(&self) -> CrossedAt {
        match self.ends {
            [true, true] => CrossedAt::Corner,
            [false, false] => CrossedAt::Cross,
            _ => CrossedAt::Tee,
        }
    }
}

impl Bench<'_> {
    /// Where two parts of a word cross; an error where they do not.
    pub(in crate::joinery) fn crossing_of(
        &self,
        work: &Work,
        (a, b): (usize, usize),
        side: Option<Side>,
    ) -> Result<Crossing, Problem> {
        let (first, second) = (&self.placed[a], &self.placed[b]);
        drawn_through(self, work, (a, b))?;
        let over = match side {
            Some(side) => asked(self, work, (a, b), side)?,
            None => square_to_both(first, second).ok_or_else(|| not_square(self, work, (a, b)))?,
        };
        // Any axis square to `over` would do; the first part's own keeps its corners
        // free of noise.
        let u = in_plane(first, over).unwrap_or(first.at.x);
        let frame = Placement::looking(DVec3::ZERO, over, u).ok_or_else(|| not_square(self, work, (a, b)))?;
        let seen = common(&seen(first, &frame), &seen(second, &frame));
        // Fewer corners enclose nothing: the parts meet along a line at most.
        if seen.len() < 3 {
            return Err(not_square(self, work, (a, b)));
        }
        let corners: Vec<DVec3> = seen.iter().map(|p| frame.point(p.extend(0.0))).collect();
        let off = [first, second].map(|blank| runs_off(blank, over, &corners));
        let ends = off.map(|(ends, _)| ends);
        let outward = off.map(|(_, way)| way);
        let reach = [first.reach(over), second.reach(over)];
        Ok(Crossing { over, reach, ends, outward, frame, outline: Outline::polygon(seen) })
    }
}

/// Refuses parts that do not fill some of the same space.
fn drawn_through(bench: &Bench<'_>, work: &Work, (a, b): (usize, usize)) -> Result<(), Problem> {
    let second = &bench.placed[b];
    let m = meeting(&bench.placed[a], second);
    if m.gap > TOUCH {
        return Err(bench.apart(work, a, b, m));
    }
    if m.gap <= -TOUCH {
        return Ok(());
    }
    let (one, two) = (bench.name(a), bench.name(b));
    let message =
        format!("`{one}` only touches `{two}`, but `{}` cuts parts where they cross", work.word.name);
    let (to, by) = (side_of(-m.normal).name(), bench.mm(far(second, m.normal)));
    Err(bench.error(work, "parts-do-not-cross", message, &[a, b]).help(format!(
        "draw both as they stand when finished: let `{one}` run {by} further to the {to}, through `{two}`"
    )))
}

/// Whether a part ends where its crossing has these corners, and the way it runs off
/// there; the way it runs at all where it goes on at both sides.
fn runs_off(blank: &Blank, over: DVec3, corners: &[DVec3]) -> (bool, DVec3) {
    let run = in_plane(blank, over).unwrap_or(blank.at.x);
    let mut off = (false, run);
    for way in [run, -run] {
        let most = corners.iter().map(|p| way.dot(*p)).fold(f64::NEG_INFINITY, f64::max);
        let least = corners.iter().map(|p| way.dot(*p)).fold(f64::INFINITY, f64::min);
        // The crossing reaches to this end of the part, but not to the other.
        if most > blank.reach(way).1 - TOUCH && least > blank.reach(way).0 + TOUCH {
            off = (true, way);
        }
    }
    off
}

/// How far a blank reaches through along a direction.
fn far(blank: &Blank, along: DVec3) -> f64 {
    let (lo, hi) = blank.reach(along);
    hi - lo
}

/// The longer axis of a blank square to `over`: the way it runs.
fn in_plane(blank: &Blank, over: DVec3) -> Option<DVec3> {
    let skip = blank.axis_along(over)?;
    let (i, j) = ((skip + 1) % 3, (skip + 2) % 3);
    Some(blank.axis(if blank.size[i] >= blank.size[j] { i } else { j }))
}

/// The side asked for, which must be square to both parts.
fn asked(bench: &Bench<'_>, work: &Work, (a, b): (usize, usize), side: Side) -> Result<DVec3, Problem> {
    let way = side.normal();
    let square = [a, b].iter().all(|p| bench.placed[*p].axis_along(way).is_some());
    if square {
        return Ok(way);
    }
    let message = format!(
        "`{}` and `{}` have no face that looks to the {} together: one stands at an angle",
        bench.name(a),
        bench.name(b),
        side.name()
    );
    Err(bench.error(work, "no-such-edge", message, &[a, b]).help("leave `over` out, or name another side"))
}

/// The direction square to the plane two parts run in: across both grains, or
/// where the grains run alike the one in which they cover one another most.
/// It looks up, else to the front, else to the right.
fn square_to_both(a: &Blank, b: &Blank) -> Option<DVec3> {
    let across = a.axis(0).cross(b.axis(0)).normalize_or_zero();
    let fits = |way: DVec3| a.axis_along(way).is_some() && b.axis_along(way).is_some();
    // As a share of what both reach: flush faces give 1, so that they win over a long
    // overlap of unequal parts.
    let alike = |way: DVec3| {
        let ((alo, ahi), (blo, bhi)) = (a.reach(way), b.reach(way));
        (ahi.min(bhi) - alo.max(blo)) / (ahi.max(bhi) - alo.min(blo))
    };
    let mut best = fits(across).then_some(across);
    // The grains run alike: the plane is told by how the parts cover one another.
    if across.length() < 0.5 {
        for axis in (0..3).map(|i| a.axis(i)).filter(|axis| fits(*axis)) {
            if best.is_none_or(|known| alike(axis) > alike(known) + TURNED) {
                best = Some(axis);
            }
        }
    }
    let way = best?;
    let sign = [Side::Top, Side::Front, Side::Right]
        .iter()
        .map(|s| way.dot(s.normal()))
        .find(|d| d.abs() > LEVEL)
        .unwrap_or(1.0);
    Some(if sign < 0.0 { -way } else { way })
}

/// The parts do not lie in one plane.
fn not_square(bench: &Bench<'_>, work: &Work, (a, b): (usize, usize)) -> Problem {
    let message = format!("`{}` and `{}` do not cross in one plane", bench.name(a), bench.name(b));
    bench
        .error(work, "not-square", message, &[a, b])
        .help(format!("`{}` needs two parallel faces on both; turn them about the same axis", work.word.name))
}

/// Corners of a blank in a frame square to it, counter-clockwise.
fn seen(blank: &Blank, frame: &Placement) -> Vec<DVec2> {
    let Some(skip) = blank.axis_along(frame.z) else { return Vec::new() };
    let (u, v) = (blank.axis((skip + 1) % 3), blank.axis((skip + 2) % 3));
    let (ru, rv) = (blank.reach(u), blank.reach(v));
    let corner = |p: f64, q: f64| frame.local_point(u * p + v * q).truncate();
    let mut all = vec![corner(ru.0, rv.0), corner(ru.1, rv.0), corner(ru.1, rv.1), corner(ru.0, rv.1)];
    if frame.local_dir(u).truncate().perp_dot(frame.local_dir(v).truncate()) < 0.0 {
        all.reverse();
    }
    all
}

/// What two convex outlines share, both counter-clockwise (after Sutherland and
/// Hodgman 1974: cut one by each side of the other).
fn common(a: &[DVec2], b: &[DVec2]) -> Vec<DVec2> {
    let mut left = b.to_vec();
    for (p, q) in a.iter().zip(a.iter().cycle().skip(1)) {
        let side = (*q - *p).normalize_or_zero();
        let height = |r: DVec2| side.perp_dot(r - *p);
        let mut next = Vec::new();
        for (r, s) in left.iter().zip(left.iter().cycle().skip(1)) {
            let (hr, hs) = (height(*r), height(*s));
            if hr > -ON_LINE {
                next.push(*r);
            }
            if (hr > ON_LINE && hs < -ON_LINE) || (hr < -ON_LINE && hs > ON_LINE) {
                next.push(*r + (*s - *r) * (hr / (hr - hs)));
            }
        }
        left = next;
    }
    // A corner that lies on a side is found twice, and an edge of no length spoils the
    // outline.
    left.dedup_by(|p, q| p.distance(*q) < NOISE);
    if left.len() > 1 && left[0].distance(left[left.len() - 1]) < NOISE {
        left.pop();
    }
    left
}
