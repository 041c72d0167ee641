//! Lippings of edges that slope: the panel is sawn inside its slope by the thickness of
//! the strip, which lies along it from long point to long point and is trimmed with the
//! panel.

use crate::geometry::{DVec3, Placement, Plane, trig};
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::Sawn;
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::seen::{Bench, Lip};
use crate::joinery::bench::tolerance::{ASKEW, LEVEL, NOISE, ONE_WAY, PARALLEL};
use crate::joinery::meeting::real::Real;
use crate::model::{Side, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// Furthest the edge that is called by a side may look away from it (cosine): 60 degrees.
const LOOKS_TO: f64 = 0.5;

/// Least angle at which an outline may cross a lipping, degrees (common practice, no
/// source), and its sine.
const LEAST: u8 = 30;
const SLANT: f64 = 0.5;
/// Least radius a strip of dry wood bends to, in its thicknesses (common practice, no
/// source).
const BENDS: f64 = 100.0;

/// The sloping edge of a panel that looks to `side`, in place of the edge of its box;
/// `None` where the box has its own. An error where both are there, or where the edge was
/// cut by an outline, which cannot be moved in for a strip.
pub(in crate::joinery) fn slope(
    bench: &Bench<'_>,
    work: &Work,
    part: usize,
    side: Side,
) -> Result<Option<Plane>, Problem> {
    let Some(real) = bench.real.get(part).and_then(Option::as_ref) else { return Ok(None) };
    let (out, blank) = (side.normal(), &bench.placed[part]);
    let edges: Vec<Plane> =
        real.planes().into_iter().filter(|p| p.normal.dot(blank.at.z).abs() < ASKEW).collect();
    let own = |plane: &Plane| blank.axis_along(plane.normal).is_some();
    let looks = |plane: &&Plane| plane.normal.dot(out) > LOOKS_TO;
    let nearer = |most: Plane, next: Plane| {
        if next.normal.dot(out) > most.normal.dot(out) + NOISE { next } else { most }
    };
    let Some(found) = edges.iter().filter(looks).filter(|p| !own(p)).copied().reduce(nearer) else {
        return Ok(None);
    };
    let is_split = edges.iter().any(|p| own(p) && p.normal.dot(out) > PARALLEL);
    let name = bench.name(part);
    let (message, help) = if is_split {
        (
            format!("the {} of `{name}` is partly square and partly sloping", side.name()),
            "a lipping runs straight: let the slope begin at the end, or glue on strips of your own with `butt`",
        )
    } else if real.is_cut_flat(&found) {
        return Ok(Some(found));
    } else {
        (
            format!(
                "the {} of `{name}` is shaped by an outline, which a straight lipping does not follow",
                side.name()
            ),
            "slope it with `taper` or `trim_to` in place of the outline and it is lipped along its slope; leave a curved \
             edge out",
        )
    };
    Err(bench.error(work, "no-such-edge", message, &[part]).help(help))
}

/// Refuses a lipping that an outline runs through so slantwise that it ends as a sliver,
/// which chips off under the plane.
pub(in crate::joinery) fn no_sliver(
    bench: &Bench<'_>,
    work: &Work,
    (part, side): (usize, Side),
    (toward, thick): (DVec3, f64),
) -> Result<(), Problem> {
    let Some(real) = bench.real.get(part).and_then(Option::as_ref) else { return Ok(()) };
    let (edge, z) = (real.blank.reach(toward).1, real.blank.at.z);
    let point = |i: u32| real.solid().points.get(i as usize).map(|p| real.blank.at.point(*p));
    let slants = real.solid().edges.iter().filter_map(|line| {
        let (a, b) = (point(line.a)?, point(line.b)?);
        // Where it passes the inner face of the strip.
        let depth = |p: DVec3| edge - toward.dot(p) - thick;
        let way = (b - a).try_normalize()?;
        (depth(a) * depth(b) < 0.0 && way.dot(z).abs() < ASKEW).then(|| way.dot(toward).abs())
    });
    let least = slants.fold(1.0, f64::min);
    if least > SLANT - NOISE {
        return Ok(());
    }
    let message = format!(
        "the lipping on the {} of `{}` ends as a sliver: the outline crosses its {} at {:.0}°, and {LEAST}° leaves \
         wood enough",
        side.name(),
        bench.name(part),
        bench.mm(thick),
        90.0 - trig::acos(least).to_degrees(),
    );
    Err(bench.error(work, "lipping-ends-as-sliver", message, &[part]).help(format!(
        "leave that edge out and bend a strip round it when the panel is made: dry wood bends to a radius of a hundred \
         times its thickness ({} for this one; thinner strips, one on another, to less), common practice, no source",
        bench.mm(BENDS * thick)
    )))
}

/// The strip along a sloping edge, from long point to long point: x along it, the face
/// mark outwards. `None` where the panel has nothing there.
pub(in crate::joinery) fn strip(real: &Real, face: Plane, thick: f64) -> Option<Blank> {
    let out = face.normal;
    let along = out.cross(real.blank.at.z).try_normalize()?;
    let at = Placement::from_axes(DVec3::ZERO, along, (-out).cross(along))?;
    let mut low = f64::INFINITY;
    let mut high = f64::NEG_INFINITY;
    // Where the panel's edges pass the outer face of the strip and its inner one.
    for edge in &real.solid().edges {
        let ends =
            [edge.a, edge.b].map(|i| real.solid().points.get(i as usize).map(|p| real.blank.at.point(*p)));
        let [Some(a), Some(b)] = ends else { continue };
        for depth in [0.0, thick] {
            let (da, db) = (face.distance(a) + depth, face.distance(b) + depth);
            for (d, p) in [(da, a), (db, b)] {
                if d.abs() < TOUCH {
                    (low, high) = (low.min(along.dot(p)), high.max(along.dot(p)));
                }
            }
            if da * db < 0.0 {
                let t = along.dot(a + (b - a) * (da / (da - db)));
                (low, high) = (low.min(t), high.max(t));
            }
        }
    }
    let (from, to) = real.blank.reach(at.y);
    let size = DVec3::new(high - low, to - from, thick);
    let origin = at.x * low + at.y * from - out * face.offset * out.dot(at.z);
    (size.min_element() > TOUCH && size.is_finite()).then_some(Blank { at: Placement { origin, ..at }, size })
}

/// What is sawn off the ends of a strip on a slope: all beyond the edges of its panel.
pub(in crate::joinery) fn ends(bench: &Bench<'_>, lip: &Lip, index: usize) -> Vec<Sawn> {
    let whole = &bench.placed[lip.of];
    let Some(slope) = lip.slope else { return Vec::new() };
    let axes = [whole.at.x, -whole.at.x, whole.at.y, -whole.at.y];
    // The edge the slope took the place of is not one of them.
    let beside = axes.into_iter().filter(|axis| axis.dot(slope.normal) < NEARLY);
    let cuts = beside.filter_map(|axis| {
        let end = whole.reach(axis).1;
        let over = lip.blank.reach(axis).1 - end;
        let shape = (over > TOUCH).then(|| Prism::half_space(axis * end, axis)).flatten()?;
        Some(Sawn { part: index, kind: CutKind::Bevel, shape })
    });
    cuts.collect()
}

/// Cosine from which an edge of the box is the one that slopes.
const NEARLY: f64 = 0.7;

/// What is cut where two lippings of one panel meet of which one lies on a slope: both
/// mitred, or the later ended against the earlier.
pub(in crate::joinery) fn corner(lip: &Lip, other: &Lip, (mitred, is_later): (bool, bool)) -> Option<Prism> {
    let (out, way) = (-lip.blank.at.z, -other.blank.at.z);
    let (edge, end) = (lip.blank.reach(out).1, other.blank.reach(way).1);
    if !mitred {
        return is_later.then(|| Prism::half_space(way * (end - other.blank.size.z), way)).flatten();
    }
    let across = out.cross(way);
    let square = across.length_squared();
    if square < LEVEL {
        return None;
    }
    // The line both outer faces pass through, and that of the inner ones.
    let line = |a: f64, b: f64| (way.cross(across) * a + across.cross(out) * b) / square;
    let (corner, inner) = (line(edge, end), line(edge - lip.blank.size.z, end - other.blank.size.z));
    let normal = across.cross(corner - inner);
    Prism::half_space(corner, if normal.dot(way) < 0.0 { -normal } else { normal })
}

/// A cut of a panel that makes a slope that is lipped, moved in: the strip stands in its
/// place. `None` for other cuts.
pub(in crate::joinery) fn moved_in(bench: &Bench<'_>, part: usize, shape: &Prism) -> Option<Prism> {
    let on = |lip: &&Lip| lip.of == part && lip.slope.is_some_and(|slope| is_on(shape, &slope));
    let lip = bench.lips.iter().find(on)?;
    Some(Prism { at: shape.at.moved(lip.slope?.normal * -lip.blank.size.z), ..shape.clone() })
}

/// Whether a half space begins at a plane.
fn is_on(shape: &Prism, plane: &Plane) -> bool {
    shape.at.z.dot(plane.normal) > ONE_WAY
        && shape.from.abs() < NOISE
        && plane.distance(shape.at.origin).abs() < TOUCH
}
