//! Spigots: the end of a turned part in a bore of another.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Pair, TOUCH, side_of};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::CuttingPlane;
use crate::joinery::facts::Facts;
use crate::joinery::facts::traits::Traits;
use crate::joinery::facts::turning::TurnedJoint;
use crate::model::{Form, OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::{Prism, Station, Turning};

/// The word `spigot`.
pub(in crate::joinery) struct Spigot;

/// What `spigot` says of itself.
static WORD: Word = Word {
    name: "spigot",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "room",
            kind: OptionKind::Length { min: 0.0, max: 20.0 },
            default: &[Usual::Length(ROOM)],
            says: "how much deeper the bore is than the spigot is long, where it does not go through",
        },
        OptionSpec {
            key: "dry",
            kind: OptionKind::YesNo,
            default: &[Usual::YesNo(false), Usual::Words(": glued")],
            says: "left without glue, so that the part can be taken out",
        },
    ],
    says: "bores a part for the spigot of a turned one: draw the turned part into it, its last stations a cylinder",
    rule: "a spigot as long as it is thick at least, 3 mm of wood round the bore, 2 mm of room at its bottom (common \
           practice, no source)",
    example: "spigot(leg, seat);",
};

/// Room at the bottom of its bore, for glue, mm.
const ROOM: f64 = 2.0;

/// Where a spigot stands in a part.
struct Stands {
    /// Into the part along the spigot, unit.
    into: DVec3,
    /// Where the axis meets the face it goes in at.
    mouth: DVec3,
    /// How much of it stands in the part, mm.
    long: f64,
    /// How far it comes out on the far side, mm; below 0 where it ends inside.
    proud: f64,
    /// How thick the part is there, mm.
    thick: f64,
    /// Its diameter, mm.
    diameter: f64,
}

impl Joinery for Spigot {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { stands_in_bore: true, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (part, to) = bench.pair(work)?;
        let stands = stands(bench, work, part, to)?;
        // Within touch of the far face it goes through: no skin is left to bore to.
        let through = stands.long > stands.thick - TOUCH;
        let room = bench.length(work, "room", ROOM);
        let deep = if through { stands.thick } else { stands.long + room };
        let shape = bore(&stands, deep);
        let bored = Bored { shape: &shape, deep: (!through).then_some(deep) };
        walls(bench, work, Pair { a: part, b: to }, &stands, &bored)?;
        let mut made = Made { parts: vec![part, to], ways_in: vec![-stands.into], ..Made::default() };
        made.glued = !work.options.yes("dry");
        made.facts = Facts::Turning(TurnedJoint {
            diameter: stands.diameter,
            long: if through { stands.thick } else { stands.long },
            deep: (!through).then_some(deep),
            from: side_of(-stands.into),
        });
        // Through the axis, where the bore is as wide as it is.
        made.shown_by = Some(CuttingPlane { point: stands.mouth, toward: shape.at.x });
        made.cuts.push(Sawn { part: to, kind: CutKind::Hole, shape });
        // A rod that is held at both ends, or wedged in by its going through, cannot rock.
        let ends = bench.job.works.iter().filter(|other| {
            other.word.name == WORD.name
                && other.parts.first().is_some_and(|parts| parts.iter().any(|one| one.0 == part))
        });
        if stands.long < stands.diameter - TOUCH && !through && ends.count() < 2 {
            let message = format!(
                "the spigot of `{}` is {} thick, but stands only {} in `{}`",
                bench.name(part),
                bench.mm(stands.diameter),
                bench.mm(stands.long),
                bench.name(to)
            );
            let help =
                "let it stand in as far as it is thick, or turn it thinner (common practice, no source)";
            made.warnings.push(bench.warning(work, "short-spigot", message, &[part, to]).help(help));
        }
        if stands.proud > TOUCH {
            let message = format!(
                "the spigot of `{}` comes {} out of the far side of `{}`",
                bench.name(part),
                bench.mm(stands.proud),
                bench.name(to)
            );
            made.warnings.push(
                bench
                    .warning(work, "stands-proud", message, &[part, to])
                    .help("make it shorter by as much, and it ends flush; shorter by 5 mm more, and the bore stops inside"),
            );
        }
        Ok(vec![made])
    }
}

/// Where the spigot of `part` stands in `to`.
fn stands(bench: &Bench<'_>, work: &Work, part: usize, to: usize) -> Result<Stands, Problem> {
    let stations = turned(bench, work, (part, to))?;
    let (blank, other) = (&bench.placed[part], &bench.placed[to]);
    let axis = blank.axis(0);
    if other.axis_along(axis).is_none() {
        let message = format!("`{}` does not stand square to `{}`", bench.name(part), bench.name(to));
        return Err(bench
            .error(work, "not-square", message, &[part, to])
            .help("stand it square to a face of the other part"));
    }
    let ((low, high), (near, far)) = (blank.reach(axis), other.reach(axis));
    // The far end goes in at the low face, the near end at the high one.
    let (into, face, from, until, proud) = if high > near + TOUCH && low < near {
        (axis, near, near - low, high.min(far) - low, high - far)
    } else if low < far - TOUCH && high > far {
        (-axis, far, low.max(near) - low, far - low, near - low)
    } else {
        let message = format!("no end of `{}` stands in `{}`", bench.name(part), bench.name(to));
        return Err(bench
            .error(work, "no-spigot", message, &[part, to])
            .help("let its stations go on into the other part: a shoulder at the face, then a cylinder"));
    };
    let turning = Turning { at: Placement::IDENTITY, stations: stations.to_vec() };
    let radii = turning.radii(from + TOUCH, until - TOUCH).unwrap_or_default();
    let diameter = cylinder(bench, work, Pair { a: part, b: to }, radii)?;
    let middle = blank.centre() - axis * axis.dot(blank.centre());
    Ok(Stands { into, mouth: middle + axis * face, long: until - from, thick: far - near, proud, diameter })
}

/// The stations of a turned part that stands in a flat one; a problem for others.
fn turned<'a>(
    bench: &'a Bench<'_>,
    work: &Work,
    (part, to): (usize, usize),
) -> Result<&'a [Station], Problem> {
    let form = |i: usize| bench.job.parts.get(i).map(|p| &p.form);
    let Some(Form::Turned(stations)) = form(part) else {
        let message = format!("`{}` is not turned: it has no spigot", bench.name(part));
        return Err(bench
            .error(work, "not-turned", message, &[part])
            .help("name the turned part first; square parts take `mortise_tenon`"));
    };
    if form(to) == Some(&Form::Flat) {
        return Ok(stations);
    }
    let message =
        format!("`{}` is turned itself: a spigot is bored into a part with flat faces", bench.name(to));
    Err(bench
        .error(work, "not-flat", message, &[part, to])
        .help("bore it with `hole`, and let the spigot end at its side"))
}

/// Diameter of a spigot with these least and greatest radii, mm; a problem unless it is
/// a cylinder: a bore touches a taper on one circle only.
fn cylinder(bench: &Bench<'_>, work: &Work, pair: Pair, (least, most): (f64, f64)) -> Result<f64, Problem> {
    let Pair { a: part, b: to } = pair;
    if most - least <= NOISE && most > 0.0 {
        return Ok(2.0 * most);
    }
    let message = format!(
        "`{}` is {} to {} thick where it stands in `{}`: a spigot is a cylinder",
        bench.name(part),
        bench.mm(2.0 * least),
        bench.mm(2.0 * most),
        bench.name(to)
    );
    Err(bench
        .error(work, "not-a-cylinder", message, &[part, to])
        .help("put two stations at the face, the second as thick as the spigot, and end with that"))
}

/// The bore, its facets outside the true circle, so that the spigot's lie within.
fn bore(stands: &Stands, deep: f64) -> Prism {
    let x = if stands.into.x.abs() < 0.5 { DVec3::X } else { DVec3::Y };
    let at = Placement { origin: stands.mouth, x, y: stands.into.cross(x), z: stands.into };
    Prism { at, outline: Outline::bore(DVec2::ZERO, 0.5 * stands.diameter), from: 0.0, to: deep }
}

/// A bore, and how deep it is if it does not go through, mm.
struct Bored<'a> {
    shape: &'a Prism,
    deep: Option<f64>,
}

/// Refuses a bore that comes too near to a face of its part, be it shaped or not.
fn walls(
    bench: &Bench<'_>,
    work: &Work,
    pair: Pair,
    stands: &Stands,
    bored: &Bored<'_>,
) -> Result<(), Problem> {
    let Pair { a: part, b: to } = pair;
    let under = bored.deep.map_or(f64::INFINITY, |deep| stands.thick - deep);
    let shaped = bench.real.get(to).is_some_and(Option::is_some);
    let left = if shaped { bench.wall_beside(to, bored.shape) } else { 0.0 };
    // Of what is not convex it tells no more than whether the bore comes out.
    let open = if left < -TOUCH { left } else { f64::INFINITY };
    let beside = beside(&bench.grown[to], stands).min(open);
    if under.min(beside) > WALL - NOISE {
        return Ok(());
    }
    let (wood, place) = if under < beside { (under, "under") } else { (beside, "beside") };
    let message = format!(
        "the bore ⌀ {} for the spigot of `{}` leaves {} of `{}` {place} it; it needs {}",
        bench.figure(stands.diameter),
        bench.name(part),
        bench.beside(wood.max(0.0), WALL),
        bench.name(to),
        bench.beside(WALL, wood.max(0.0))
    );
    let help = if place == "under" {
        "make the spigot shorter, or let it go through"
    } else {
        "move it in, or turn it thinner"
    };
    Err(bench.error(work, "breaks-through", message, &[to]).help(help))
}

/// Wood between a bore and the nearest face along it, mm.
fn beside(blank: &Blank, stands: &Stands) -> f64 {
    let sides = (0..3).map(|i| blank.axis(i)).filter(|axis| axis.dot(stands.into).abs() < 0.5);
    let walls = sides.flat_map(|axis| {
        let (low, high) = blank.reach(axis);
        let at = axis.dot(stands.mouth);
        [at - low, high - at]
    });
    walls.fold(f64::INFINITY, f64::min) - 0.5 * stands.diameter
}
