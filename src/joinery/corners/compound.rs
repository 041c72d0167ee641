//! Compound mitres: two sloping boards whose ends meet in a corner that leans.

use crate::geometry::{DVec3, Plane, trig};
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::meet::{Pair, TOUCH};
use crate::joinery::bench::mitre_plane::{Limb, MitrePlane, meet_lines};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::ASKEW;
use crate::joinery::meeting::trim::Trim;
use crate::model::{Form, Work};
use crate::problem::Problem;

/// The plane of a compound mitre, and how far each board must grow to it.
pub(in crate::joinery) struct Compound {
    /// The plane from the inner to the outer corner line.
    pub(in crate::joinery) plane: MitrePlane,
    /// Gauge and blade of each board, see [`saw`].
    pub(in crate::joinery) saws: [(f64, f64); 2],
}

/// Whether two boards meet in a corner that leans: flat parts whose faces and
/// runs both stand askew to one another, with no axis in common.
pub(in crate::joinery) fn leans(bench: &Bench<'_>, a: usize, b: usize) -> bool {
    let flat = |i: usize| bench.job.parts.get(i).is_some_and(|p| p.form == Form::Flat);
    let (first, second) = (&bench.placed[a], &bench.placed[b]);
    // With an axis in common the corner does not lean, and the plain mitre is exact.
    let shares = (0..3).any(|i| second.axis_along(first.axis(i)).is_some());
    let corner = corner_of(first, second);
    let crosses = |blank: &Blank| corner.1.dot(ways(blank, corner).1).abs() > ASKEW;
    flat(a) && flat(b) && !shares && crosses(first) && crosses(second)
}

/// The line in which the middles of two boards meet: a point of it, and its way.
fn corner_of(a: &Blank, b: &Blank) -> (DVec3, DVec3) {
    let (p, q) = (a.at.z, b.at.z);
    let line = p.cross(q);
    let (at_p, at_q) = (p.dot(a.centre()), q.dot(b.centre()));
    let point = (q.cross(line) * at_p + line.cross(p) * at_q) / line.length_squared();
    (point, line.normalize_or_zero())
}

/// The way a board runs to a corner, its length or its width, and the way across it: that
/// of which an end lies nearer to the corner, since a stave is mitred along its edge.
fn ways(blank: &Blank, (point, line): (DVec3, DVec3)) -> (DVec3, DVec3) {
    let from = point - blank.centre();
    let off = |run: DVec3, across: DVec3, half: f64| {
        let t = -from.dot(across) / line.dot(across);
        let at = (from.dot(run) + t * line.dot(run)).abs();
        if at.is_finite() { (at - half).abs() } else { f64::INFINITY }
    };
    let (x, y) = (blank.at.x, blank.at.y);
    let (ends, edges) = (off(x, y, 0.5 * blank.size.x), off(y, x, 0.5 * blank.size.y));
    if ends <= edges { (x, y) } else { (y, x) }
}

/// One of the boards as it leaves the corner, the other leaving it along `other`.
fn limb(blank: &Blank, away: DVec3, other: DVec3) -> Limb {
    let inside = if blank.at.z.dot(other) < 0.0 { -blank.at.z } else { blank.at.z };
    let (outer, inner) = blank.reach(inside);
    Limb { away, inside, faces: (inner, outer) }
}

/// The compound mitre of two boards for which [`leans`] holds. The corner line
/// is where the planes of their faces meet, so the boards need not be equally
/// thick or lean alike. An error if an end is further from the corner than its
/// board is wide.
pub(in crate::joinery) fn compound(
    bench: &Bench<'_>,
    work: &Work,
    a: usize,
    b: usize,
) -> Result<Compound, Problem> {
    let (first, second) = (&bench.placed[a], &bench.placed[b]);
    let at = corner_of(first, second);
    let line = at.1;
    let apart = first.centre() - second.centre();
    let away = |run: DVec3, from: DVec3| if run.dot(from) < 0.0 { -run } else { run };
    let (runs_a, runs_b) = (ways(first, at).0, ways(second, at).0);
    let (away_a, away_b) = (away(runs_a, apart), away(runs_b, -apart));
    let (limb_a, limb_b) = (limb(first, away_a, away_b), limb(second, away_b, away_a));
    let corner = |fa: f64, fb: f64| meet_lines(&limb_a, &limb_b, line, fa, fb);
    let found = corner(limb_a.faces.0, limb_b.faces.0).zip(corner(limb_a.faces.1, limb_b.faces.1));
    let Some((inner, outer)) = found else {
        return Err(crate::joinery::bench::mitre_plane::no_corner(bench, work, a, b));
    };
    let normal = line.cross(outer - inner).normalize_or_zero();
    // Out of the first board, as for a plain mitre: what is let into either goes by it.
    let normal = if normal.dot(away_a) > 0.0 { -normal } else { normal };
    let edge = CornerLine { line, points: [inner, outer], at };
    let length = reaches(bench, work, Pair { a, b }, &limb_a, &edge)?;
    reaches(bench, work, Pair { a: b, b: a }, &limb_b, &edge)?;
    let middle = line * line.dot(first.centre());
    Ok(Compound {
        plane: MitrePlane {
            normal,
            inner: inner + middle,
            outer: outer + middle,
            line,
            length,
            away_a,
            away_b,
            inside_a: limb_a.inside,
        },
        saws: [set(first, normal, runs_a), set(second, normal, runs_b)],
    })
}

/// How far a board may end from the plane of its mitre, mm: an end drawn to the wrong
/// corner of a board is no mitre.
const FAR: f64 = 50.0;

/// The line two boards meet in.
struct CornerLine {
    line: DVec3,
    /// Its point on the inside of both boards and on their outside.
    points: [DVec3; 2],
    /// See [`corner_of`].
    at: (DVec3, DVec3),
}

/// How long the corner is on a board, mm; an error where its end is far from the long
/// point of its mitre.
fn reaches(
    bench: &Bench<'_>,
    work: &Work,
    pair: Pair,
    limb: &Limb,
    edge: &CornerLine,
) -> Result<f64, Problem> {
    let (part, line) = (pair.a, edge.line);
    let blank = &bench.placed[part];
    let (across, toward) = (ways(blank, edge.at).1, -limb.away);
    let (low, high) = blank.reach(across);
    let per = line.dot(across);
    // The long point may lie on either face and either edge of the board.
    let long = edge.points.into_iter().flat_map(|corner| {
        [low, high].map(|edge| toward.dot(corner + line * ((edge - across.dot(corner)) / per)))
    });
    let end = blank.reach(toward).1;
    let (short, by) =
        long.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), at| (lo.min(at - end), hi.max(at - end)));
    // Too far either way: beyond it there is no wood, and long before it another corner was
    // meant.
    if short.max(-by) > FAR {
        return Err(far_from(bench, work, pair, by));
    }
    Ok((high - low) / per.abs())
}

/// Gauge and blade for a board that runs to the corner along `run`: a stave is sawn along
/// its edge, so that its gauge is off its length.
fn set(blank: &Blank, normal: DVec3, run: DVec3) -> (f64, f64) {
    let local = blank.at.local_dir(normal);
    if run.dot(blank.at.x).abs() > run.dot(blank.at.y).abs() {
        return saw(local);
    }
    saw(DVec3::new(local.y, local.x, local.z))
}

/// Both parts sawn to the plane of a mitre, each to its long point.
pub(in crate::joinery) fn sawn_to(
    bench: &Bench<'_>,
    work: &Work,
    (a, b): (usize, usize),
    plane: &MitrePlane,
) -> Result<[Trim; 2], Problem> {
    let one = |part: usize, to: usize, away: DVec3, out: DVec3| {
        let blank = &bench.placed[part];
        let face = Plane { normal: -out, offset: -out.dot(plane.inner) };
        let i = blank.axis_along(away).unwrap_or(0);
        let (j, k) = ((i + 1) % 3, (i + 2) % 3);
        let end = blank.centre() - away * (0.5 * blank.size[i]);
        let corners = [(-0.5, -0.5), (-0.5, 0.5), (0.5, -0.5), (0.5, 0.5)].map(|(y, z)| {
            let corner = end + blank.axis(j) * (y * blank.size[j]) + blank.axis(k) * (z * blank.size[k]);
            face.distance(corner) / out.dot(-away)
        });
        let by = corners.into_iter().fold(f64::NEG_INFINITY, f64::max);
        let short = corners.into_iter().fold(f64::INFINITY, f64::min);
        if short.max(-by) > FAR || short < TOUCH - blank.size[i] {
            return Err(far_from(bench, work, Pair { a: part, b: to }, by));
        }
        let trim = Trim { asked: 0, part, to, into: -away, face, deep: 0.0, by, kind: CutKind::Mitre };
        stays_whole(bench, work, &trim)?;
        Ok(trim)
    };
    Ok([one(a, b, plane.away_a, plane.normal)?, one(b, a, plane.away_b, -plane.normal)?])
}

/// An error where a board that is shaped hollow would be sawn in two. What is as it was
/// planed never is, so it is not worked out.
fn stays_whole(bench: &Bench<'_>, work: &Work, trim: &Trim) -> Result<(), Problem> {
    let sawn = bench.shaped(trim.part).and_then(|real| real.sawn(trim.into, trim.by, trim.shape().as_ref()));
    let Some(pieces) = sawn.and_then(|real| real.falls_apart()) else { return Ok(()) };
    let (name, other) = (bench.name(trim.part), bench.name(trim.to));
    let message = format!(
        "the mitre to `{other}` would saw `{name}` into {pieces} pieces, because it runs across a hollow of its shape"
    );
    Err(bench
        .error(work, "mitre-across-hollow", message, &[trim.part, trim.to])
        .help(format!("let the hollow of `{name}` begin behind the short point of the mitre")))
}

/// A board that ends far from its corner.
fn far_from(bench: &Bench<'_>, work: &Work, pair: Pair, by: f64) -> Problem {
    let Pair { a: part, b: other } = pair;
    let message = format!(
        "`{}` ends {} from the corner where it would be mitred to `{}`",
        bench.name(part),
        bench.mm(by.abs()),
        bench.name(other)
    );
    bench.error(work, "parts-do-not-meet", message, &[part, other]).help(
        "let both boards reach the outer corner before they are turned; `mitre` cuts them to their long points",
    )
}

/// Mitre gauge off square and tilt of the blade off upright, degrees, for a
/// board that lies on its face: from the cut's normal in part coordinates. The
/// cut's trace on the face is square to the normal's share in the face; the
/// blade leans by what the normal dips under it.
pub(in crate::joinery) fn saw(normal: DVec3) -> (f64, f64) {
    let flat = normal.truncate().length();
    let gauge = trig::atan2(normal.y.abs(), normal.x.abs()).to_degrees();
    (gauge, trig::atan2(normal.z.abs(), flat).to_degrees())
}
