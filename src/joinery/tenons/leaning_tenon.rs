//! Tenons of parts that lean: shoulders sawn to the face they stand against, a
//! mortise that leans as the part does.

use super::tenon_pegs::{self, TenonSize};
use super::tenon_size::{LONG, SHOULDER as USUAL_SHOULDER, SHOULDER_SHARE, SPARE, chisel};
use crate::geometry::{DVec2, DVec3, Outline, Placement, trig};
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Made, Sawn};
use crate::joinery::bench::meet::{Pair, TOUCH, side_of};
use crate::joinery::bench::pocket::{WALL, third};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{NOISE, PARALLEL, STEPPED, TURNED};
use crate::joinery::bench::worked::CuttingPlane;
use crate::joinery::corners::compound::saw;
use crate::joinery::facts::Facts;
use crate::joinery::facts::tenons::{Leaning, Pegs, Tenoned};
use crate::measure::angle;
use crate::model::{Form, StockKind, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// Options that a leaning tenon takes.
const TAKES: [&str; 8] = ["thickness", "width", "shoulder", "depth", "through", "pegs", "peg", "drawbore"];
/// Most that a part may lean from square to the face, degrees: beyond it a
/// mortise cannot be chopped (common practice, no source).
const MOST: f64 = 35.0;
/// Furthest a part may end from the face, along its length, mm.
const FAR: f64 = 150.0;
/// How far a cut is let run past what it cuts, mm.
const PAST: f64 = 1.0;
/// Size of what is sawn away beyond a shoulder, mm: more than any section.
const WIDE: f64 = 2000.0;
/// Least shoulder where one is sawn, mm.
const SHOULDER: f64 = 2.0;

/// How a part stands at an angle to the face it is tenoned into.
struct Lean<'a> {
    rail: &'a Blank,
    member: &'a Blank,
    parts: (usize, usize),
    /// Along the rail, into the member.
    into: DVec3,
    /// Out of the member's face.
    out: DVec3,
    /// The face and the one opposite, along `out`.
    faces: (f64, f64),
}

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

/// Whether the first part's length meets a face of the second at an angle.
pub(in crate::joinery) fn leans(bench: &Bench<'_>, rail: usize, member: usize) -> bool {
    lean(bench, (rail, member)).is_some()
}

/// How the two stand, where the rail's middle line meets a face of the member
/// askew.
fn lean<'a>(bench: &'a Bench<'_>, parts: (usize, usize)) -> Option<Lean<'a>> {
    let flat = |i: usize| bench.job.parts.get(i).is_some_and(|p| p.form == Form::Flat);
    if !flat(parts.0) || !flat(parts.1) {
        return None;
    }
    let (rail, member) = (&bench.placed[parts.0], &bench.placed[parts.1]);
    let middle = rail.centre();
    // The end that looks at the member is the one to be tenoned, whichever way the rail
    // was drawn.
    let hit =
        [rail.at.x, -rail.at.x].into_iter().filter_map(|into| Some((into, entry(member, middle, into)?)));
    let (into, (out, _)) = hit.min_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
    // Nearly square is an ordinary tenon; more than 60 degrees off there is none at all.
    let steep = -into.dot(out);
    let (opposite, face) = member.reach(out);
    (steep < PARALLEL && steep > 0.5).then_some(Lean {
        rail,
        member,
        parts,
        into,
        out,
        faces: (face, opposite),
    })
}

/// The face of a box that a line from `start` along `way` enters by: its normal
/// and how far off it is.
fn entry(blank: &Blank, start: DVec3, way: DVec3) -> Option<(DVec3, f64)> {
    let mut near: Option<(DVec3, f64)> = None;
    let mut far = f64::INFINITY;
    for axis in (0..3).map(|i| blank.axis(i)) {
        let (lo, hi) = blank.reach(axis);
        let (at, rate) = (axis.dot(start), axis.dot(way));
        if rate.abs() < TURNED {
            if at < lo || at > hi {
                return None;
            }
            continue;
        }
        let (first, last) = if rate > 0.0 { (lo, hi) } else { (hi, lo) };
        let (t, u) = ((first - at) / rate, (last - at) / rate);
        if near.is_none_or(|(_, most)| t > most) {
            near = Some((if rate > 0.0 { -axis } else { axis }, t));
        }
        far = far.min(u);
    }
    near.filter(|(_, t)| *t < far && *t > 0.0)
}

impl Lean<'_> {
    /// How far along the rail from its middle a line at `y` along `v` and `z`
    /// along `w` crosses the plane at `face`.
    fn crosses(&self, ways: (DVec3, DVec3), (y, z): (f64, f64), face: f64) -> f64 {
        let start = self.rail.centre() + ways.0 * y + ways.1 * z;
        (face - self.out.dot(start)) / self.out.dot(self.into)
    }

    /// Least and greatest of that at the corners of a section.
    fn range(&self, ways: (DVec3, DVec3), size: (f64, f64), face: f64) -> (f64, f64) {
        let corners = [(-0.5, -0.5), (-0.5, 0.5), (0.5, -0.5), (0.5, 0.5)];
        let all = corners.into_iter().map(|(y, z)| self.crosses(ways, (y * size.0, z * size.1), face));
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), t| (a.min(t), b.max(t)))
    }

    /// Angle off square to the face, degrees.
    fn degrees(&self) -> f64 {
        trig::acos((-self.into.dot(self.out)).min(1.0)).to_degrees()
    }
}

/// What the rail grows by.
pub(in crate::joinery) fn grow(
    bench: &Bench<'_>,
    work: &Work,
    parts: (usize, usize),
) -> Result<Vec<Growth>, Problem> {
    let Some(lean) = lean(bench, parts) else { return Ok(Vec::new()) };
    let tenon = set_out(bench, work, &lean)?;
    let whole = (lean.rail.size.y, lean.rail.size.z);
    let end = if tenon.through {
        // Sawn off level with the far face: long enough for the blank's corner.
        lean.range((lean.rail.at.y, lean.rail.at.z), whole, lean.faces.1).1
    } else {
        lean.crosses(tenon.ways, (0.0, 0.0), lean.faces.0) + tenon.depth
    };
    Ok(vec![Growth { part: parts.0, toward: lean.into, by: end - 0.5 * lean.rail.size.x, lipping: None }])
}

/// Shoulders, mortise and what is said of them.
pub(in crate::joinery) fn work(
    bench: &Bench<'_>,
    work: &Work,
    parts: (usize, usize),
) -> Result<Vec<Made>, Problem> {
    let Some(lean) = lean(bench, parts) else { return Ok(Vec::new()) };
    let tenon = set_out(bench, work, &lean)?;
    let (rail, member) = parts;
    let mut made =
        Made { parts: vec![rail, member], glued: true, ways_in: vec![-lean.into], ..Made::default() };
    let cuts = shoulders(&lean, &tenon);
    made.cuts.extend(cuts.into_iter().map(|shape| Sawn { part: rail, kind: CutKind::Shoulder, shape }));
    if tenon.through {
        let flush = Prism::half_space(lean.out * lean.faces.1, -lean.out);
        made.cuts.extend(flush.map(|shape| Sawn { part: rail, kind: CutKind::Bevel, shape }));
    }
    let mortise = mortise(&lean, &tenon);
    made.cuts.extend(mortise.map(|shape| Sawn { part: member, kind: CutKind::Mortise, shape }));
    // Square to the face on the side where the lean shows most.
    let sides = (0..3).map(|i| lean.member.axis(i)).filter(|a| a.dot(lean.out).abs() < 0.5);
    let toward = sides.min_by(|a, b| a.dot(lean.into).abs().total_cmp(&b.dot(lean.into).abs()));
    let middle = lean.rail.centre() + lean.into * lean.crosses(tenon.ways, (0.0, 0.0), lean.faces.0);
    made.shown_by = toward.map(|toward| CuttingPlane { point: middle, toward });
    let (gauge, blade) = saw(lean.rail.at.local_dir(lean.out));
    let pegs = pegged(bench, work, &lean, &tenon, &mut made)?;
    made.facts = Facts::Tenons(Tenoned::Leaning(Leaning {
        thick: tenon.size.1,
        width: tenon.size.0,
        length: tenon.depth,
        deep: (!tenon.through).then_some(tenon.depth + SPARE),
        lean: lean.degrees(),
        gauge,
        blade,
        pegs,
    }));
    Ok(vec![made])
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
    let (rail, member) = lean.parts;
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
        let mouth = lean.crosses(tenon.ways, (y, 0.0), lean.faces.0);
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
    let (rail, member) = lean.parts;
    can_lean(bench, work, lean)?;
    // Along the rail, since that is how the maker would lengthen it.
    let gap = lean.crosses((DVec3::X, DVec3::Y), (0.0, 0.0), lean.faces.0) - 0.5 * lean.rail.size.x;
    if gap.abs() > FAR {
        let message = format!(
            "`{}` ends {} {} the {} of `{}`, measured along it",
            bench.name(rail),
            bench.mm(gap.abs()),
            if gap > 0.0 { "before" } else { "behind" },
            side_of(lean.out).name(),
            bench.name(member)
        );
        return Err(bench
            .error(work, "parts-do-not-meet", message, &[rail, member])
            .help("let it end near the face before it is leaned; its length follows from the face"));
    }
    let (y, z) = ((lean.rail.at.y, lean.rail.size.y), (lean.rail.at.z, lean.rail.size.z));
    let (along, across) = if lengthwise(bench, lean, member, y, z) { (y, z) } else { (z, y) };
    let ways = (along.0, across.0);
    let whole = (along.1, across.1);
    let size = section(bench, work, rail, whole)?;
    let (depth, through) = depth(bench, work, lean, (ways, size))?;
    let tenon = Tenon { ways, size, rail: whole, depth, through };
    walls(bench, work, lean, &tenon)?;
    Ok(tenon)
}

/// Refuses options that a leaning tenon does not take, and more lean than can be chopped.
fn can_lean(bench: &Bench<'_>, work: &Work, lean: &Lean<'_>) -> Result<(), Problem> {
    let (rail, member) = lean.parts;
    if let Some(key) = work.options.0.keys().find(|key| !TAKES.contains(key)) {
        let message = format!(
            "`{}` leans {} to `{}`: its tenon takes no `{key}`",
            bench.name(rail),
            angle(lean.degrees()),
            bench.name(member)
        );
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

/// Whether the mortise runs along `y` of the rail: along the grain of a solid
/// member, unless the rail is four times wider the other way.
fn lengthwise(bench: &Bench<'_>, lean: &Lean<'_>, member: usize, y: (DVec3, f64), z: (DVec3, f64)) -> bool {
    let stock = bench.job.parts.get(member).and_then(|p| bench.job.stock.get(p.stock.0));
    let solid = stock.is_some_and(|s| matches!(s.kind, StockKind::Board { .. }));
    let grain = lean.member.axis(0);
    let with_grain = grain.dot(y.0).abs() >= grain.dot(z.0).abs();
    if !solid || y.1 > LONG * z.1 || z.1 > LONG * y.1 { y.1 >= z.1 } else { with_grain }
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
    let (rail, member) = lean.parts;
    let steep = -lean.into.dot(lean.out);
    let thick = lean.faces.0 - lean.faces.1;
    let asked = work.options.number("depth");
    if work.options.yes("through") {
        if asked.is_some() {
            let message = "a through tenon is as long as its mortise, but `depth` is given too".to_owned();
            return Err(bench
                .error(work, "contradiction", message, &[rail, member])
                .help("leave out `depth` or `through`"));
        }
        return Ok((thick / steep, true));
    }
    // The deepest corner of the mortise's bottom, which is square to the rail.
    let corner = 0.5 * (size.0 * ways.0.dot(lean.out).abs() + size.1 * ways.1.dot(lean.out).abs());
    let most = (thick - WALL - corner) / steep - SPARE;
    let depth = asked.unwrap_or_else(|| third(2.0 * thick).min(most).floor());
    if depth <= most + NOISE && depth >= 1.0 {
        return Ok((depth, false));
    }
    let message = format!(
        "a tenon {} long that leans {} leaves less than {} of `{}`, which is {} thick",
        bench.mm(depth.max(0.0)),
        angle(lean.degrees()),
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

/// Refuses a mortise that leaves too little wood beside it, at its mouth or at
/// its bottom.
fn walls(bench: &Bench<'_>, work: &Work, lean: &Lean<'_>, tenon: &Tenon) -> Result<(), Problem> {
    let bottom = if tenon.through {
        lean.faces.1
    } else {
        lean.faces.0 - (tenon.depth + SPARE) * -lean.into.dot(lean.out)
    };
    let mut least: Option<(f64, DVec3)> = None;
    for (y, z) in [(-0.5, -0.5), (-0.5, 0.5), (0.5, -0.5), (0.5, 0.5)] {
        let at = (y * tenon.size.0, z * tenon.size.1);
        let start = lean.rail.centre() + tenon.ways.0 * at.0 + tenon.ways.1 * at.1;
        // The mortise leans, so it comes nearest to a side at its mouth or at its
        // bottom.
        for face in [lean.faces.0, bottom] {
            let p = start + lean.into * lean.crosses(tenon.ways, at, face);
            for axis in (0..3).map(|i| lean.member.axis(i)).filter(|a| a.dot(lean.out).abs() < 0.5) {
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
    }
    let Some((left, way)) = least.filter(|(left, _)| *left < WALL - NOISE) else { return Ok(()) };
    let (name, side) = (bench.name(lean.parts.1), side_of(way).name());
    let message = if left < TOUCH {
        format!("the mortise comes out of the {side} of `{name}`")
    } else {
        format!(
            "the mortise leaves {} of `{name}` at the {side}; it needs {}",
            bench.mm(left),
            bench.mm(WALL)
        )
    };
    Err(bench
        .error(work, "breaks-through", message, &[lean.parts.0, lean.parts.1])
        .help("move the part in, lean it less, or make the tenon smaller"))
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
    let start = lean.rail.centre() + way * cheek;
    let along = (lean.faces.0 - lean.out.dot(start)) / lean.out.dot(lean.into);
    let at = Placement::looking(start + lean.into * along, lean.out.cross(way), way)?;
    let out = DVec2::new(lean.out.dot(at.x), lean.out.dot(at.y)).normalize_or_zero();
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
    let from = lean.range(tenon.ways, tenon.size, lean.faces.0).0 - PAST;
    let to = if tenon.through {
        lean.range(tenon.ways, tenon.size, lean.faces.1).1 + PAST
    } else {
        lean.crosses(tenon.ways, (0.0, 0.0), lean.faces.0) + tenon.depth + SPARE
    };
    let at = Placement::looking(lean.rail.centre(), lean.into, tenon.ways.0)?;
    let half = DVec2::new(0.5 * tenon.size.0, 0.5 * tenon.size.1);
    Some(Prism { at, outline: Outline::rect(-half, half), from, to })
}
