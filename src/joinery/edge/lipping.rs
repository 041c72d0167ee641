//! Lippings: solid edges glued to a panel. The panel gives way for them, so
//! that the whole keeps its size.

use crate::geometry::{DVec3, Placement, trig};
use crate::joinery::bench::blank::{Blank, overlap};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Joinery, Made, Sawn};
use crate::joinery::bench::meet;
use crate::joinery::bench::seen::{Bench, Lip};
use crate::joinery::bench::tolerance::{NEARER, NOISE};
use crate::joinery::bench::worked::WorkedPart;
use crate::joinery::edge::sloping_lipping;
use crate::joinery::facts::Facts;
use crate::joinery::facts::edge::{EdgeJoint, Lipped};
use crate::joinery::facts::traits::Traits;
use crate::model::{Arg, OptionKind, OptionSpec, Side, Takes, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::{Body, Prism};

/// Least thickness a bevel leaves at its thin edge, mm (common practice, no source).
const LEAST_EDGE: f64 = 0.5;

/// The word `lipping`.
pub(in crate::joinery) struct Lipping;

/// What `lipping` says of itself.
pub(in crate::joinery) static WORD: Word = Word {
    name: "lipping",
    args: &[
        Arg { name: "parts", takes: Takes::Parts },
        Arg { name: "sides", takes: Takes::Value(OptionKind::Sides) },
        Arg { name: "stock", takes: Takes::Value(OptionKind::Stock) },
    ],
    options: &[
        OptionSpec {
            key: "thick",
            kind: OptionKind::Length { min: 0.3, max: 100.0 },
            default: &[Usual::Length(THICK)],
            says: "thickness of the lipping; the panel is made smaller by as much",
        },
        OptionSpec {
            key: "corner",
            kind: OptionKind::Choice(&["butted", "mitred"]),
            default: &[Usual::Text("butted"), Usual::Words(": the side named first runs through")],
            says: "how lippings of neighbouring sides meet",
        },
        OptionSpec {
            key: "chamfer",
            kind: OptionKind::Length { min: 0.3, max: 20.0 },
            default: &[Usual::Words("none")],
            says: "width of a 45° chamfer on both outer arrises",
        },
        OptionSpec {
            key: "bevel",
            kind: OptionKind::Angle { min: 1.0, max: 60.0 },
            default: &[Usual::Angle(0.0), Usual::Words(": the outer face is square")],
            says: "how far the outer face leans in from the edge of the side `long`",
        },
        OptionSpec {
            key: "long",
            kind: OptionKind::Side,
            default: &[Usual::Words("with `bevel`, the side the panel's face mark looks to")],
            says: "the side of the piece on which a bevelled lipping keeps its thickness",
        },
        OptionSpec {
            key: "proud",
            kind: OptionKind::Length { min: 0.0, max: 60.0 },
            default: &[Usual::Length(0.0), Usual::Words(": flush")],
            says: "how far it stands over the panel on both faces",
        },
    ],
    says: "glues strips of solid wood to the edges of panels",
    rule: "6 mm thick (common practice, no source)",
    example: "lipping([left, right], \"front\", oak, #{ thick: 6 });",
};

/// Thickness of the usual lipping, mm.
const THICK: f64 = 6.0;

impl Joinery for Lipping {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { lips: true, ..Traits::default() }
    }

    fn grow(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Growth>, Problem> {
        bench.part(work, 0)?;
        let thick = bench.length(work, "thick", THICK);
        let stock = work.options.stock("stock").filter(|s| s.0 < bench.job.stock.len());
        let stock = stock
            .ok_or_else(|| bench.error(work, "missing-argument", "`lipping` needs a stock".into(), &[]))?;
        let mut list = Vec::new();
        for part in work.parts.iter().take(1).flatten().map(|p| p.0).filter(|p| *p < bench.placed.len()) {
            for &side in work.options.sides("sides").unwrap_or_default() {
                list.push(lipped(bench, work, part, side, thick)?);
                if let Some(last) = list.last_mut() {
                    last.lipping = Some((side, stock));
                }
            }
        }
        Ok(list)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let mut list = Vec::new();
        let mine = |lip: &&Lip| bench.job.works.get(lip.asked).is_some_and(|w| std::ptr::eq(w, work));
        for (k, lip) in bench.lips.iter().enumerate().filter(|(_, lip)| mine(lip)) {
            let index = bench.placed.len() + k;
            let thick = lip.blank.size.z;
            let mut made = Made { parts: vec![lip.of, index], glued: true, ..Made::default() };
            made.ways_in = vec![if lip.blank.axis_along(lip.side.normal()).is_some() {
                -lip.side.normal()
            } else {
                lip.blank.at.z
            }];
            made.cuts = corners(bench, work, k, lip);
            made.cuts.extend(sloping_lipping::ends(bench, lip, index));
            once(bench, work, k)?;
            made.cuts.extend(chamfers(bench, work, index, lip)?);
            made.cuts.extend(bevelled(bench, work, index, lip)?);
            made.facts = Facts::Edge(EdgeJoint::Lipped(Lipped {
                thick,
                width: lip.blank.size.y,
                side: lip.side,
                proud: work.options.number("proud").filter(|by| *by > 0.0),
                bevel: work.options.number("bevel"),
            }));
            list.push(made);
        }
        Ok(list)
    }
}

/// What one side of a panel gives up.
fn lipped(bench: &Bench<'_>, work: &Work, part: usize, side: Side, thick: f64) -> Result<Growth, Problem> {
    let blank = &bench.placed[part];
    if let Some(slope) = sloping_lipping::slope(bench, work, part, side)? {
        return Ok(Growth { part, toward: slope.normal, by: -thick, lipping: None });
    }
    let toward = edge_toward(blank, side);
    let Some(i) = blank.axis_along(toward) else {
        let message =
            format!("`{}` has no edge to the {}: it stands at an angle", bench.name(part), side.name());
        return Err(bench
            .error(work, "no-such-edge", message, &[part])
            .help("lip the edges that stand square"));
    };
    if i == 2 {
        let message = format!("the {} of `{}` is a face, not an edge", side.name(), bench.name(part));
        return Err(bench
            .error(work, "no-such-edge", message, &[part])
            .help("name the side an edge looks to"));
    }
    if thick > blank.size[i] - meet::TOUCH {
        let message = format!(
            "a lipping {} thick leaves nothing of `{}`, which is {} that way",
            bench.mm(thick),
            bench.name(part),
            bench.mm(blank.size[i])
        );
        return Err(bench.error(work, "nothing-left", message, &[part]).help("make `thick` less"));
    }
    sloping_lipping::no_sliver(bench, work, (part, side), (toward, thick))?;
    Ok(Growth { part, toward, by: -thick, lipping: None })
}

/// The way the edge looks that a side is named for: that way where it stands square, else
/// the nearest way of a panel that leans.
fn edge_toward(blank: &Blank, side: Side) -> DVec3 {
    let toward = side.normal();
    if blank.axis_along(toward).is_some() {
        return toward;
    }
    let axes = [blank.at.x, -blank.at.x, blank.at.y, -blank.at.y];
    axes.into_iter().find(|axis| axis.dot(toward) > NEARER).unwrap_or(toward)
}

/// The strip on one side of a panel, as long as `whole` on that side: x along
/// it, the face mark outwards.
pub(in crate::joinery) fn strip(whole: &Blank, out: DVec3, thick: f64) -> Option<Blank> {
    let i = whole.axis_along(out)?;
    // Of the whole part, so that the strip is as long as the edge it finishes.
    let slab = whole.grown(-out, thick - whole.size[i])?;
    let along = slab.axis(1 - i.min(1));
    let at = Placement::from_axes(slab.at.origin, along, (-out).cross(along))?;
    let size = DVec3::new(extent(&slab, at.x), extent(&slab, at.y), extent(&slab, at.z));
    let low = |axis: DVec3| slab.reach(axis).0;
    let origin = at.x * low(at.x) + at.y * low(at.y) + at.z * low(at.z);
    Some(Blank { at: Placement { origin, ..at }, size })
}

/// How long a box is along a direction, mm.
fn extent(blank: &Blank, along: DVec3) -> f64 {
    let (lo, hi) = blank.reach(along);
    hi - lo
}

/// Lippings whose ways out are nearer than this (cosine) lie beside one another and make
/// no corner.
const ALONGSIDE: f64 = 0.87;

/// The way out of a strip's face mark: that of its side, where it stands square.
fn out_of(lip: &Lip) -> DVec3 {
    let side = lip.side.normal();
    if lip.blank.axis_along(side) == Some(2) { side } else { -lip.blank.at.z }
}

/// What is cut where lippings of one panel meet.
fn corners(bench: &Bench<'_>, work: &Work, k: usize, lip: &Lip) -> Vec<Sawn> {
    let mitred = work.options.text("corner") == Some("mitred");
    let index = bench.placed.len() + k;
    let mut cuts = Vec::new();
    // Every pair of lippings of the panel that are square to one another meets at a
    // corner.
    for (j, other) in bench.lips.iter().enumerate() {
        let (out, way) = (out_of(lip), out_of(other));
        if other.of != lip.of || j == k || out.dot(way).abs() > ALONGSIDE {
            continue;
        }
        let kind = if mitred { CutKind::Mitre } else { CutKind::Notch };
        if lip.slope.is_some() || other.slope.is_some() {
            let shape = sloping_lipping::corner(lip, other, (mitred, j < k));
            let kind = if mitred { kind } else { CutKind::Bevel };
            cuts.extend(shape.map(|shape| Sawn { part: index, kind, shape }));
            continue;
        }
        let (edge, end) = (lip.blank.reach(out).1, other.blank.reach(way).1);
        let thick = other.blank.size.z;
        let across = out.cross(way);
        let corner = out * edge + way * end + across * across.dot(lip.blank.centre());
        let shape = if mitred {
            let inner = corner - out * lip.blank.size.z - way * thick;
            // Through the inner corner and not at 45 degrees: lippings may be of two
            // thicknesses.
            let normal = across.cross(corner - inner);
            let normal = if normal.dot(way) < 0.0 { -normal } else { normal };
            Prism::half_space(corner, normal)
        // Butted: the one asked for first runs through, the later ends against it.
        } else if j < k {
            Prism::half_space(corner - way * thick, way)
        } else {
            None
        };
        cuts.extend(shape.map(|shape| Sawn { part: index, kind, shape }));
    }
    cuts
}

/// Refuses a second lipping of one edge.
fn once(bench: &Bench<'_>, work: &Work, k: usize) -> Result<(), Problem> {
    let Some((lip, before)) = bench.lips.get(k).zip(bench.lips.get(..k)) else { return Ok(()) };
    if before.iter().all(|other| other.of != lip.of || other.side != lip.side) {
        return Ok(());
    }
    let message = format!("the {} of `{}` is lipped twice", lip.side.name(), bench.name(lip.of));
    Err(bench.error(work, "lipped-twice", message, &[lip.of]).help("leave one of the two out"))
}

/// Chamfers on the outer arrises of a strip; an error where they leave no edge.
fn chamfers(bench: &Bench<'_>, work: &Work, index: usize, lip: &Lip) -> Result<Vec<Sawn>, Problem> {
    let Some(wide) = work.options.number("chamfer") else { return Ok(Vec::new()) };
    // Both arrises are chamfered, so each may take half of the width.
    let room = (0.5 * lip.blank.size.y).min(lip.blank.size.z) - LEAST_EDGE;
    if wide > room + NOISE {
        let message = format!(
            "a chamfer of {} leaves no edge on a lipping {} thick and {} wide",
            bench.mm(wide),
            bench.mm(lip.blank.size.z),
            bench.mm(lip.blank.size.y)
        );
        return Err(bench
            .error(work, "nothing-left", message, &[lip.of])
            .help(format!("make `chamfer` {} or less, or `thick` more", bench.mm(room.max(0.0)))));
    }
    let at = lip.blank.at;
    let cut = |y: f64, way: f64| {
        let point = at.point(DVec3::new(0.0, y - way * wide, 0.0));
        let shape = Prism::half_space(point, at.dir(DVec3::new(0.0, way, -1.0)))?;
        Some(Sawn { part: index, kind: CutKind::Chamfer, shape })
    };
    Ok([cut(0.0, -1.0), cut(lip.blank.size.y, 1.0)].into_iter().flatten().collect())
}

/// The slope of a bevelled outer face; errors where it leaves no edge or is asked
/// for together with a chamfer.
fn bevelled(bench: &Bench<'_>, work: &Work, index: usize, lip: &Lip) -> Result<Option<Sawn>, Problem> {
    let Some(angle) = work.options.number("bevel") else {
        return stray(bench, work, lip).map_or(Ok(None), Err);
    };
    // One or the other: a chamfer is measured on an outer face that the bevel takes
    // away.
    if work.options.number("chamfer").is_some() {
        let message = "`bevel` and `chamfer` both shape the outer face".to_owned();
        return Err(bench.error(work, "contradictory", message, &[lip.of]).help("leave one of them out"));
    }
    let at = lip.blank.at;
    let lean = toward_long(bench, work, lip)?;
    let (thick, wide) = (lip.blank.size.z, lip.blank.size.y);
    let off = wide * trig::tan(angle.to_radians());
    if off > thick - LEAST_EDGE + NOISE {
        let message = format!(
            "a bevel of {} takes {} off a lipping {} thick",
            crate::measure::angle(angle),
            bench.mm(off),
            bench.mm(thick)
        );
        return Err(bench
            .error(work, "nothing-left", message, &[lip.of])
            .help(format!("lean it less, or make `thick` {} or more", bench.mm((off + LEAST_EDGE).ceil()))));
    }
    // The long edge stays; towards the other the outer face, z = 0, leans in.
    let (edge, way) = if lean > 0.0 { (wide, -1.0) } else { (0.0, 1.0) };
    let (sin, cos) = trig::sin_cos(angle.to_radians());
    let shape = Prism::half_space(at.point(DVec3::Y * edge), at.dir(DVec3::new(0.0, way * sin, -cos)));
    Ok(shape.map(|shape| Sawn { part: index, kind: CutKind::Bevel, shape }))
}

/// `long` where there is no bevel.
fn stray(bench: &Bench<'_>, work: &Work, lip: &Lip) -> Option<Problem> {
    work.options.sides("long")?;
    let message = "`long` is given, but no `bevel`".to_owned();
    Some(
        bench
            .error(work, "missing-option", message, &[lip.of])
            .help("add `bevel` with how far the face leans, in degrees"),
    )
}

/// Which way across the strip its long edge lies, by its sign: to the side asked for, else
/// to the marked face of the panel, which is the one seen.
fn toward_long(bench: &Bench<'_>, work: &Work, lip: &Lip) -> Result<f64, Problem> {
    let marked = bench.job.parts.get(lip.of).map(|p| p.face);
    let long = work.options.sides("long").and_then(|s| s.first().copied()).or(marked);
    let lean = long.map_or(0.0, |side| side.normal().dot(lip.blank.at.y));
    if lean.abs() >= NEARER {
        return Ok(lean);
    }
    let side = long.map_or("side", Side::name);
    let message =
        format!("the {side} is no face of `{}`: a bevel leans between its faces", bench.name(lip.of));
    Err(bench
        .error(work, "no-such-edge", message, &[lip.of])
        .help("name in `long` a side that a face of the panel looks to"))
}

/// A strip widened to stand over its panel on both faces.
pub(in crate::joinery) fn proud(strip: Blank, by: f64) -> Blank {
    let size = strip.size + DVec3::Y * (2.0 * by);
    Blank { at: strip.at.moved(strip.at.y * -by), size }
}

/// Least share of a strip that its cuts may leave: less is a sliver that no one could
/// glue on.
const SLIVER: f64 = 0.4;

/// A strip of which its cuts leave a sliver.
pub(in crate::joinery) fn sliver(part: &WorkedPart) -> Option<Problem> {
    let share = part.solid.volume() / part.size.element_product();
    (share <= SLIVER).then(|| cut_away(part))
}

/// A strip that its cuts leave shorter than it is wide.
pub(in crate::joinery) fn stub(part: &WorkedPart) -> Option<Problem> {
    (part.size.x < part.size.y).then(|| cut_away(part))
}

/// Cuts leave too little of a strip to glue on.
fn cut_away(part: &WorkedPart) -> Problem {
    let message = format!("its cuts leave a mere sliver of `{}`", part.name);
    let mut problem = Problem::error("nothing-left", message).at(part.origin).part(part.name.clone()).help(
        "lip an edge where it ends up: slope the panel with `taper` or `trim_to`, along which the lipping then lies, or \
         leave this side out",
    );
    for cut in part.cuts.iter().filter(|cut| cut.origin.user != part.origin.user).take(2) {
        problem = problem.place(cut.origin.user, "cuts it here");
    }
    problem
}

/// Shortens a carved strip to what its cuts leave of its length; true if there
/// was anything to take off. Cuts that then lie beside it are dropped.
pub(in crate::joinery) fn shorten(part: &mut WorkedPart) -> bool {
    let Some((lo, hi)) = part.solid.bounds() else { return false };
    if lo.x < meet::TOUCH && hi.x > part.size.x - meet::TOUCH {
        return false;
    }
    let before = part.at;
    part.at = part.at.moved(part.at.x * lo.x);
    part.size.x = hi.x - lo.x;
    let whole = Prism::cuboid(DVec3::ZERO, part.size);
    for cut in &mut part.cuts {
        cut.shape = cut.shape.within(&before).seen_from(&part.at);
    }
    // What lay wholly in the end that is gone would show as a cut that removes nothing.
    part.cuts.retain(|cut| overlap(&cut.shape, &whole) > meet::TOUCH);
    part.body = Body::Prism(whole);
    true
}
