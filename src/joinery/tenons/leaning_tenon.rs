//! Tenons of parts that lean: shoulders sawn to the face they stand against, a
//! mortise that leans as the part does.

use super::chisels::chisel;
use super::lean::Lean;
use super::tenon_pegs::{self, TenonSize};
use super::tenon_size::{BETWEEN, LONG, SHOULDER as USUAL_SHOULDER, SHOULDER_SHARE, SPARE, grain};
use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Made, Sawn};
use crate::joinery::bench::meet::{Pair, TOUCH, side_of};
use crate::joinery::bench::pocket::{WALL, third};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{NOISE, ONE_WAY, STEPPED};
use crate::joinery::bench::worked::CuttingPlane;
use crate::joinery::facts::Facts;
use crate::joinery::facts::tenons::{Leaning, Mortised, Pegs, Tenoned};
use crate::measure::angle;
use crate::model::{StockKind, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// Options that a leaning tenon takes.
const TAKES: [&str; 8] = ["thickness", "width", "shoulder", "depth", "through", "pegs", "peg", "drawbore"];
/// Most that a part may lean from square to the face, degrees: beyond it a
/// mortise cannot be chopped (common practice, no source).
const MOST: f64 = 35.0;
/// How far a cut is let run past what it cuts, mm.
const PAST: f64 = 1.0;
/// Size of what is sawn away beyond a shoulder, mm: more than any section.
const WIDE: f64 = 2000.0;
/// Least shoulder where one is sawn, mm.
const SHOULDER: f64 = 2.0;
/// Least of a leaning tenon that stands in its mortise at every corner, mm: less is no cheek
/// to glue (common practice, no source).
const ENTERS: f64 = 3.0;
/// How much of another tenon's cheeks must face the way a tenon goes in, to be met, as a cosine.
const CROSSWISE: f64 = 0.7;
/// How far before the shoulders a tenon is looked at, mm.
const ROOT: f64 = 1.0;

/// A tenon that leans: places along `wide` and `thick` from the rail's middle.
struct Tenon {
    /// Along the mortise and across it: the rail's width and thickness, or the
    /// other way round.
    ways: (DVec3, DVec3),
    /// Width and thickness of the tenon.
    size: (f64, f64),
    /// Width and thickness of the rail along `ways`.
    rail: (f64, f64),
    /// Length from the shoulder line, on the rail's middle.
    depth: f64,
    through: bool,
}

/// What the rail grows by.
pub(in crate::joinery) fn grow(
    bench: &Bench<'_>,
    work: &Work,
    lean: &Lean<'_>,
) -> Result<Vec<Growth>, Problem> {
    let tenon = set_out(bench, work, lean)?;
    let [first, second] = lean.sides;
    let end = if tenon.through {
        // Sawn off level with the far face: long enough for the blank's corner.
        lean.range((first.way, second.way), (first.size, second.size), &lean.far).1
    } else {
        lean.crosses(tenon.ways, (0.0, 0.0), &lean.face) + tenon.depth
    };
    Ok(vec![Growth { part: lean.parts.a, toward: lean.into, by: end - lean.half, lipping: None }])
}

/// Shoulders, mortise and what is said of them.
pub(in crate::joinery) fn work(
    bench: &Bench<'_>,
    work: &Work,
    lean: &Lean<'_>,
) -> Result<Vec<Made>, Problem> {
    let tenon = set_out(bench, work, lean)?;
    let Pair { a: rail, b: member } = lean.parts;
    let mut made = Made {
        parts: vec![rail, member],
        glued: true,
        ways_in: vec![-lean.into],
        warnings: grain(bench, work, lean.parts, lean.face.normal).into_iter().collect(),
        ..Made::default()
    };
    let cuts = shoulders(lean, &tenon);
    made.cuts.extend(cuts.into_iter().map(|shape| Sawn { part: rail, kind: CutKind::Shoulder, shape }));
    if tenon.through && lean.into.dot(lean.far.normal) < ONE_WAY {
        let flush = Prism::half_space(lean.far.normal * lean.far.offset, lean.far.normal);
        made.cuts.extend(flush.map(|shape| Sawn { part: rail, kind: CutKind::Bevel, shape }));
    }
    let mortise = mortise(lean, &tenon);
    made.cuts.extend(mortise.map(|shape| Sawn { part: member, kind: CutKind::Mortise, shape }));
    // Square to the face on the side where the lean shows most.
    let out = lean.face.normal;
    let sides = (0..3).map(|i| lean.member.axis(i)).filter(|a| a.dot(out).abs() < 0.5);
    let toward = sides.min_by(|a, b| a.dot(lean.into).abs().total_cmp(&b.dot(lean.into).abs()));
    let point = lean.at(tenon.ways, (0.0, 0.0), &lean.face);
    made.shown_by = toward.filter(|_| !lean.is_square).map(|toward| CuttingPlane { point, toward });
    let pegs = pegged(bench, work, lean, &tenon, &mut made)?;
    made.facts = Facts::Tenons(facts(lean, &tenon, pegs));
    Ok(vec![made])
}

/// What the joint is, in figures: an ordinary one where it stands square to a face that
/// is shaped.
fn facts(lean: &Lean<'_>, tenon: &Tenon, pegs: Option<Pegs>) -> Tenoned {
    let (width, thick) = tenon.size;
    let (length, deep) = (tenon.depth, (!tenon.through).then_some(tenon.depth + SPARE));
    if lean.is_square {
        return Tenoned::Mortised(Mortised {
            thick,
            width,
            length,
            deep,
            apart: None,
            haunch: None,
            pegs,
            wedges: None,
        });
    }
    let (gauge, blade) = lean.saw();
    Tenoned::Leaning(Leaning { thick, width, length, deep, lean: lean.degrees(), gauge, blade, pegs })
}

/// Bores for the pegs a leaning tenon is asked for: square to its cheeks, as far in along
/// it as they would be in a square one.
fn pegged(
    bench: &Bench<'_>,
    work: &Work,
    lean: &Lean<'_>,
    tenon: &Tenon,
    made: &mut Made,
) -> Result<Option<Pegs>, Problem> {
    let Pair { a: rail, b: member } = lean.parts;
    let size = TenonSize { wide: tenon.size.0, deep: tenon.depth };
    let Some(row) = tenon_pegs::row_of(bench, work, &size, Pair { a: rail, b: member })? else {
        return Ok(None);
    };
    let (along, across) = tenon.ways;
    if lean.member.axis_along(across).is_none() {
        let message = format!(
            "`{}` leans both ways to `{}`: a peg square to its cheeks would come out askew",
            bench.name(rail),
            bench.name(member)
        );
        return Err(bench
            .error(work, "not-square", message, &[rail, member])
            .help("leave out `pegs`, or lean it one way only"));
    }
    let (whole, over) = (lean.member.reach(across), lean.rail.reach(across));
    let mut at = Vec::new();
    for y in row.places(bench, tenon.size.0) {
        let mouth = lean.crosses(tenon.ways, (y, 0.0), &lean.face);
        let on = |far: f64, from: f64| {
            let point = lean.rail.centre() + along * y + lean.into * (mouth + far);
            point + across * (from - across.dot(point))
        };
        // The tenon's hole is nearer the shoulder by the draw, as in a square tenon.
        let bores = [(member, on(row.inset, whole.0), whole), (rail, on(row.inset - row.draw, over.0), over)];
        for (part, start, (from, to)) in bores {
            let shape = Prism::hole(start, across, to - from, row.thick);
            made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::PegHole, shape }));
        }
        at.extend(Placement::looking(on(row.inset, whole.0), across, along));
    }
    made.inserts.push(row.listed(bench, rail, whole.1 - whole.0, at));
    Ok(Some(row.facts()))
}

/// Sizes and checks a leaning tenon.
fn set_out(bench: &Bench<'_>, work: &Work, lean: &Lean<'_>) -> Result<Tenon, Problem> {
    can_lean(bench, work, lean)?;
    let [first, second] = lean.sides;
    let (along, across) = if lengthwise(bench, lean) { (first, second) } else { (second, first) };
    let ways = (along.way, across.way);
    let whole = (along.size, across.size);
    let size = section(bench, work, lean.parts.a, whole)?;
    let (depth, through) = depth(bench, work, lean, (ways, size))?;
    let tenon = Tenon { ways, size, rail: whole, depth, through };
    enters(bench, work, lean, &tenon)?;
    walls(bench, work, lean, &tenon)?;
    rooted(bench, work, lean, &tenon)?;
    Ok(tenon)
}

/// Refuses options that a leaning tenon does not take, and more lean than can be chopped.
fn can_lean(bench: &Bench<'_>, work: &Work, lean: &Lean<'_>) -> Result<(), Problem> {
    let Pair { a: rail, b: member } = lean.parts;
    if let Some(key) = work.options.0.keys().find(|key| !TAKES.contains(key)) {
        let how = if lean.is_square {
            "stands askew or on a shaped face".to_owned()
        } else {
            format!("leans {}", angle(lean.degrees()))
        };
        let (first, second) = (bench.name(rail), bench.name(member));
        let message = format!("`{first}` {how} to `{second}`: its tenon takes no `{key}`");
        return Err(bench.error(work, "contradiction", message, &[rail, member]).help(
            "leave it out: a leaning tenon has `thickness`, `width` or `shoulder`, `depth` or `through`, and `pegs`",
        ));
    }
    if lean.degrees() <= MOST + NOISE {
        return Ok(());
    }
    let message = format!(
        "`{}` leans {} off square to `{}`: its mortise could not be chopped",
        bench.name(rail),
        angle(lean.degrees()),
        bench.name(member)
    );
    Err(bench
        .error(work, "not-square", message, &[rail, member])
        .help(format!(
            "lean it by {MOST}° at most, or join it by `loose_tenons` or `dowels`, which stand square to the face at any lean"
        )))
}

/// Whether the mortise runs along the first side of the rail: along the grain of a solid
/// member, unless the rail is four times wider the other way.
fn lengthwise(bench: &Bench<'_>, lean: &Lean<'_>) -> bool {
    let stock = bench.job.parts.get(lean.parts.b).and_then(|p| bench.job.stock.get(p.stock.0));
    let solid = stock.is_some_and(|s| matches!(s.kind, StockKind::Board { .. }));
    let grain = lean.member.axis(0);
    let [y, z] = lean.sides;
    let with_grain = grain.dot(y.way).abs() >= grain.dot(z.way).abs();
    if !solid || y.size > LONG * z.size || z.size > LONG * y.size { y.size >= z.size } else { with_grain }
}

/// Width and thickness of the tenon.
fn section(bench: &Bench<'_>, work: &Work, rail: usize, whole: (f64, f64)) -> Result<(f64, f64), Problem> {
    let thick = work.options.number("thickness").unwrap_or_else(|| chisel(bench.job.unit, third(whole.1)));
    let (width, shoulder) = (work.options.number("width"), work.options.number("shoulder"));
    if width.is_some() && shoulder.is_some() {
        let message = "`width` and `shoulder` both say how wide the tenon is".to_owned();
        return Err(bench.error(work, "contradiction", message, &[rail]).help("leave out one of them"));
    }
    let shoulder = shoulder.unwrap_or_else(|| (whole.0 / SHOULDER_SHARE).min(USUAL_SHOULDER));
    let wide = width.unwrap_or(whole.0 - 2.0 * shoulder);
    let sizes = [(thick, whole.1, "thick", "tenon-too-thick"), (wide, whole.0, "wide", "tenon-too-wide")];
    for (size, room, what, code) in sizes {
        let left = 0.5 * (room - size);
        if size >= 1.0 && left > -TOUCH && !(TOUCH..=SHOULDER - NOISE).contains(&left) {
            continue;
        }
        let message = format!(
            "a tenon {} {what} leaves shoulders of {} on `{}`, which is {} {what}",
            bench.mm(size.max(0.0)),
            bench.mm(left.clamp(0.0, room)),
            bench.name(rail),
            bench.mm(room)
        );
        return Err(bench
            .error(work, code, message, &[rail])
            .help(format!("let either shoulder have {} or none", bench.mm(SHOULDER))));
    }
    Ok((wide, thick))
}

/// Length of the tenon on the rail's middle, and whether it goes through.
fn depth(
    bench: &Bench<'_>,
    work: &Work,
    lean: &Lean<'_>,
    (ways, size): ((DVec3, DVec3), (f64, f64)),
) -> Result<(f64, bool), Problem> {
    let Pair { a: rail, b: member } = lean.parts;
    let long = lean.crosses(ways, (0.0, 0.0), &lean.far) - lean.crosses(ways, (0.0, 0.0), &lean.face);
    // Square to the face where the rail's middle meets it.
    let thick = long * -lean.into.dot(lean.face.normal);
    let asked = work.options.number("depth");
    if work.options.yes("through") {
        if asked.is_some() {
            let message = "a through tenon is as long as its mortise, but `depth` is given too".to_owned();
            return Err(bench
                .error(work, "contradiction", message, &[rail, member])
                .help("leave out `depth` or `through`"));
        }
        return Ok((long, true));
    }
    // The deepest corner of the mortise's bottom, which is square to the rail.
    let far = lean.far.normal;
    let corner = 0.5 * (size.0 * ways.0.dot(far).abs() + size.1 * ways.1.dot(far).abs());
    let most = long - (WALL + corner) / lean.into.dot(far) - SPARE;
    let usual = || {
        let own = third(2.0 * thick).min(most);
        own.min(short_of_others(bench, work, lean, &Own { ways, size, depth: own }))
    };
    // A mirror pair is as deep on either side, whatever its sums leave.
    let depth = asked.unwrap_or_else(|| (usual() + NOISE).floor());
    if depth <= most + NOISE && depth >= 1.0 {
        return Ok((depth, false));
    }
    let leans = if lean.is_square { String::new() } else { format!(" that leans {}", angle(lean.degrees())) };
    let message = format!(
        "a tenon {} long{leans} leaves less than {} of `{}`, which is {} thick",
        bench.mm(depth.max(0.0)),
        bench.mm(WALL),
        bench.name(member),
        bench.mm(thick)
    );
    let help = if most < 1.0 {
        "let it through with `through: true`".to_owned()
    } else {
        format!("make `depth` {} or less, or let it through with `through: true`", bench.mm(most.floor()))
    };
    Err(bench.error(work, "breaks-through", message, &[rail, member]).help(help))
}

/// A tenon as it would be by itself, mm.
struct Own {
    ways: (DVec3, DVec3),
    size: (f64, f64),
    depth: f64,
}

/// The longest tenon that stops short of the cheeks of other leaning ones let into the member
/// from the side, where two rails meet in a leg; infinite where none is in its way.
fn short_of_others(bench: &Bench<'_>, work: &Work, lean: &Lean<'_>, own: &Own) -> f64 {
    let member = lean.parts.b;
    let mut most = f64::INFINITY;
    for other in &bench.job.works {
        let into = other.parts.get(1).is_some_and(|parts| parts.iter().any(|part| part.0 == member));
        let same = other.origin == work.origin && other.parts == work.parts;
        if !into || other.word.name != work.word.name || same {
            continue;
        }
        let Some(rail) = other.parts.first().and_then(|parts| parts.first()) else { continue };
        let Ok(Some(theirs)) = Lean::of(bench, other, (rail.0, member)) else { continue };
        if let Some(room) = short_of(bench, other, (lean, own), &theirs) {
            most = most.min(room);
        }
    }
    // Where nothing is left the cuts are said to run into one another.
    if most < 1.0 { f64::INFINITY } else { most }
}

/// How long a tenon may be that another one stands across the way of; `None` where they pass.
fn short_of(
    bench: &Bench<'_>,
    other: &Work,
    (lean, own): (&Lean<'_>, &Own),
    theirs: &Lean<'_>,
) -> Option<f64> {
    let [first, second] = theirs.sides;
    let (along, across) = if lengthwise(bench, theirs) { (first, second) } else { (second, first) };
    let cut = section(bench, other, theirs.parts.a, (along.size, across.size)).ok()?;
    // Its cheeks have to stand across the way this one goes in.
    let out = if across.way.dot(lean.into) < 0.0 { -across.way } else { across.way };
    if out.dot(lean.into) < CROSSWISE {
        return None;
    }
    let mouth = lean.at(own.ways, (0.0, 0.0), &lean.face);
    let corners = [(-0.5, -0.5), (-0.5, 0.5), (0.5, -0.5), (0.5, 0.5)]
        .map(|(y, z)| mouth + own.ways.0 * (y * own.size.0) + own.ways.1 * (z * own.size.1));
    let span = |way: DVec3| {
        let ends = corners.iter().flat_map(|c| [*c, *c + lean.into * own.depth]).map(|p| p.dot(way));
        ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), at| (a.min(at), b.max(at)))
    };
    let centre = theirs.rail.centre();
    let (low, high) = span(along.way);
    let beside = centre.dot(along.way) - 0.5 * cut.0 > high || centre.dot(along.way) + 0.5 * cut.0 < low;
    let ways = (along.way, across.way);
    let begins = centre.dot(theirs.into) + theirs.crosses(ways, (0.0, 0.0), &theirs.face);
    let ends = centre.dot(theirs.into) + theirs.crosses(ways, (0.0, 0.0), &theirs.far);
    let deep = other.options.number("depth").unwrap_or(third(2.0 * (ends - begins)));
    let tip = if other.options.yes("through") { ends } else { begins + deep + SPARE };
    if beside || tip < span(theirs.into).0 {
        return None;
    }
    let cheek = centre.dot(out) - 0.5 * cut.1;
    let room = corners.iter().map(|c| (cheek - BETWEEN - c.dot(out)) / out.dot(lean.into));
    Some(room.fold(f64::INFINITY, f64::min) - SPARE)
}

/// Refuses a tenon so short for its lean that a corner of its end stands before the face:
/// the cheek there would find no wall.
fn enters(bench: &Bench<'_>, work: &Work, lean: &Lean<'_>, tenon: &Tenon) -> Result<(), Problem> {
    let middle = lean.crosses(tenon.ways, (0.0, 0.0), &lean.face);
    let last = lean.range(tenon.ways, tenon.size, &lean.face).1 - middle;
    if tenon.through || tenon.depth > last + ENTERS - NOISE {
        return Ok(());
    }
    let Pair { a: rail, b: member } = lean.parts;
    let message = format!(
        "a tenon {} wide and {} long that leans {} does not enter `{}` on its short side",
        bench.mm(tenon.size.0),
        bench.mm(tenon.depth),
        angle(lean.degrees()),
        bench.name(member)
    );
    Err(bench.error(work, "tenon-too-short", message, &[rail, member]).help(format!(
        "make `depth` {} or more, `width` less, lean `{}` less, or let it through with `through: true`",
        bench.mm((last + ENTERS).ceil()),
        bench.name(rail)
    )))
}

/// Refuses a mortise that leaves too little wood beside it, at its mouth or at
/// its bottom.
fn walls(bench: &Bench<'_>, work: &Work, lean: &Lean<'_>, tenon: &Tenon) -> Result<(), Problem> {
    let Pair { a: rail, b: member } = lean.parts;
    let name = bench.name(member);
    let message = if bench.real.get(member).is_some_and(Option::is_some) {
        let left = shaped_wall(bench, lean, tenon);
        if left > WALL - NOISE {
            return Ok(());
        }
        if left < TOUCH {
            format!(
                "the mortise reaches {} out of the wood that shaping leaves of `{name}` there",
                bench.mm(-left)
            )
        } else {
            format!(
                "the mortise leaves {} of `{name}` beside it; it needs {}",
                bench.beside(left, WALL),
                bench.beside(WALL, left)
            )
        }
    } else {
        let Some((left, way)) = box_wall(lean, tenon).filter(|(left, _)| *left < WALL - NOISE) else {
            return Ok(());
        };
        let side = side_of(way).name();
        if left < TOUCH {
            format!("the mortise comes out of the {side} of `{name}`")
        } else {
            let (left, least) = (bench.mm(left), bench.mm(WALL));
            format!("the mortise leaves {left} of `{name}` at the {side}; it needs {least}")
        }
    };
    Err(bench
        .error(work, "breaks-through", message, &[rail, member])
        .help("move the part in, lean it less, or make the tenon smaller"))
}

/// The corners of a mortise at its mouth and at its bottom.
fn corners(lean: &Lean<'_>, tenon: &Tenon) -> Vec<DVec3> {
    let bottom = lean.crosses(tenon.ways, (0.0, 0.0), &lean.face) + tenon.depth + SPARE;
    let mut list = Vec::new();
    for (y, z) in [(-0.5, -0.5), (-0.5, 0.5), (0.5, -0.5), (0.5, 0.5)] {
        let at = (y * tenon.size.0, z * tenon.size.1);
        let mouth = lean.at(tenon.ways, at, &lean.face);
        let end = if tenon.through {
            lean.at(tenon.ways, at, &lean.far)
        } else {
            lean.rail.centre() + tenon.ways.0 * at.0 + tenon.ways.1 * at.1 + lean.into * bottom
        };
        list.extend([mouth, end]);
    }
    list
}

/// The least wood beside a mortise in a box, and the side it is at.
fn box_wall(lean: &Lean<'_>, tenon: &Tenon) -> Option<(f64, DVec3)> {
    let mut least: Option<(f64, DVec3)> = None;
    // The mortise leans, so it comes nearest to a side at its mouth or at its bottom.
    for p in corners(lean, tenon) {
        for axis in (0..3).map(|i| lean.member.axis(i)).filter(|a| a.dot(lean.face.normal).abs() < 0.5) {
            for way in [axis, -axis] {
                let left = lean.member.reach(way).1 - way.dot(p);
                // Of equal walls the first found stays, or the side named would
                // change with the machine.
                if least.is_none_or(|(most, _)| left < most - STEPPED) {
                    least = Some((left, way));
                }
            }
        }
    }
    least
}

/// The least wood beside a mortise in a part that is shaped, mm.
fn shaped_wall(bench: &Bench<'_>, lean: &Lean<'_>, tenon: &Tenon) -> f64 {
    let Some(real) = bench.as_it_is(lean.parts.b) else { return f64::INFINITY };
    let open = [lean.face.normal, lean.far.normal];
    let open = if tenon.through { &open[..] } else { &open[..1] };
    if let Some(wall) = real.wall_but(&corners(lean, tenon), open) {
        return wall;
    }
    // Under the whole mouth, and the wall beside it: before that is air.
    let round = (tenon.size.0 + WALL + WALL, tenon.size.1 + WALL + WALL);
    let from = lean.range(tenon.ways, round, &lean.face).1;
    let to = if tenon.through {
        lean.range(tenon.ways, round, &lean.far).0
    } else {
        lean.crosses(tenon.ways, (0.0, 0.0), &lean.face) + tenon.depth + SPARE
    };
    let Some(under) = bar(lean, tenon, from, to) else { return 0.0 };
    if tenon.through && bench.wall_beside(lean.parts.b, &under) > -TOUCH {
        return WALL;
    }
    bench.wall_behind(lean.parts.b, &under, -lean.into)
}

/// Refuses a tenon that the shape of its part leaves without wood.
fn rooted(bench: &Bench<'_>, work: &Work, lean: &Lean<'_>, tenon: &Tenon) -> Result<(), Problem> {
    let Pair { a: rail, b: member } = lean.parts;
    if bench.real.get(rail).is_none_or(Option::is_none) {
        return Ok(());
    }
    // The tenon goes on from the section just before its shoulders.
    let to = lean.range(tenon.ways, tenon.size, &lean.face).0;
    let out = bar(lean, tenon, to - ROOT, to).map_or(0.0, |root| -bench.wall_beside(rail, &root));
    if out < TOUCH {
        return Ok(());
    }
    let message = format!(
        "the tenon reaches {} out of the wood that shaping leaves of `{}` there",
        bench.mm(out),
        bench.name(rail)
    );
    Err(bench
        .error(work, "breaks-through", message, &[rail, member])
        .help("make the tenon narrower with `width` or `thickness`, or leave more wood there"))
}

/// What is sawn off beyond the face, but for the tenon: four wedges, each
/// between the face's plane and a cheek of the tenon.
fn shoulders(lean: &Lean<'_>, tenon: &Tenon) -> Vec<Prism> {
    let sides = [
        (tenon.ways.1, tenon.size.1, tenon.rail.1),
        (-tenon.ways.1, tenon.size.1, tenon.rail.1),
        (tenon.ways.0, tenon.size.0, tenon.rail.0),
        (-tenon.ways.0, tenon.size.0, tenon.rail.0),
    ];
    let sawn = sides.into_iter().filter(|(_, size, whole)| whole - size > 2.0 * TOUCH);
    sawn.filter_map(|(way, size, _)| wedge(lean, way, 0.5 * size)).collect()
}

/// All beyond the face's plane and further along `way` than `cheek`.
fn wedge(lean: &Lean<'_>, way: DVec3, cheek: f64) -> Option<Prism> {
    let normal = lean.face.normal;
    let start = lean.at((way, way), (cheek, 0.0), &lean.face);
    let at = Placement::looking(start, normal.cross(way), way)?;
    let out = DVec2::new(normal.dot(at.x), normal.dot(at.y)).normalize_or_zero();
    // Down the cheek, and along the face's plane away from the tenon.
    let cheek_way = DVec2::new(0.0, -out.y.signum());
    let face_way = if out.perp().x > 0.0 { out.perp() } else { -out.perp() };
    let (a, b) = (cheek_way * WIDE, face_way * WIDE);
    let ring =
        if a.perp_dot(b) > 0.0 { vec![DVec2::ZERO, a, a + b, b] } else { vec![DVec2::ZERO, b, a + b, a] };
    Some(Prism { at, outline: Outline::polygon(ring), from: -WIDE, to: WIDE })
}

/// The mortise, from before the face to its bottom.
fn mortise(lean: &Lean<'_>, tenon: &Tenon) -> Option<Prism> {
    // From before the face at the corner that is reached first, so that the whole mouth
    // opens.
    let mouth = lean.range(tenon.ways, tenon.size, &lean.face).0;
    // Square to the member's box it is chopped before that is shaped, and so measured from
    // there.
    let from = lean.before().map_or(mouth - PAST, |before| before.min(mouth));
    let to = if tenon.through {
        lean.range(tenon.ways, tenon.size, &lean.far).1 + PAST
    } else {
        lean.crosses(tenon.ways, (0.0, 0.0), &lean.face) + tenon.depth + SPARE
    };
    bar(lean, tenon, from, to)
}

/// A bar of the tenon's section between two places along the rail; `None` where the
/// second is not beyond the first.
fn bar(lean: &Lean<'_>, tenon: &Tenon, from: f64, to: f64) -> Option<Prism> {
    let at = Placement::looking(lean.rail.centre(), lean.into, tenon.ways.0)?;
    let half = DVec2::new(0.5 * tenon.size.0, 0.5 * tenon.size.1);
    (to - from > TOUCH).then(|| Prism { at, outline: Outline::rect(-half, half), from, to })
}
