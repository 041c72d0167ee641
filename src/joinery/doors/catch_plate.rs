//! Catches: what holds a door shut, with the plate it catches.

use super::shut::{Shut, shut};
use crate::geometry::{DVec3, Interval, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::pocket::{Oblong, WALL, pocket};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::doors::{Catch, DoorFitting};
use crate::joinery::facts::item::{Fastener, Ironmongery, Item, sizes};
use crate::joinery::facts::traits::Traits;
use crate::joinery::hanging::hanging_cleat::rod;
use crate::measure::{Unit, near};
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `catch_plate`.
pub(in crate::joinery) struct CatchPlate;

/// What `catch_plate` says of itself.
static WORD: Word = Word {
    name: "catch_plate",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "kind",
            kind: OptionKind::Choice(&["magnetic", "ball"]),
            default: &[Usual::Text("magnetic")],
            says: "a magnet, or a ball on a spring in the edge of the door",
        },
        OptionSpec {
            key: "bore",
            kind: OptionKind::Pair,
            default: &[Usual::SoldPair(BORE.wide, BORE.deep), Usual::Words(", or as the catch's maker says")],
            says: "diameter and depth of the bore for a ball, or for a magnet that the door shuts against",
        },
        OptionSpec {
            key: "body",
            kind: OptionKind::Pair,
            default: &[Usual::SoldPair(BODY.0, BODY.1)],
            says: "length of a magnetic catch behind the door, and how far it reaches back, such as \"46x14\"",
        },
        OptionSpec {
            key: "centres",
            kind: OptionKind::Length { min: 10.0, max: 100.0 },
            default: &[Usual::Sold(CENTRES)],
            says: "between the two screws of a magnetic catch or of a ball's plate",
        },
        OptionSpec {
            key: "plate",
            kind: OptionKind::Length { min: 0.0, max: 4.0 },
            default: &[
                Usual::Sold(PLATE),
                Usual::Words(" on a door's back, "),
                Usual::Sold(BALL_PLATE),
                Usual::Words(" let in for a ball"),
            ],
            says: "thickness of the plate",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 5.0, max: 2000.0 },
            default: &[Usual::Length(INSET)],
            says: "from the free edge of the door to the middle of the catch; the middle of a run without one",
        },
    ],
    says: "holds a door shut by a catch on the part of the case it passes or shuts against, with its plate on the other",
    rule: "bore, screws and their places as usual for such catches; 3 mm of wood round a bore; pilot holes ⌀ 2 \
           (common practice, no source; the catch's maker comes first)",
    example: "catch_plate(door, bottom, #{ kind: \"magnetic\", inset: 30 });",
};

/// Pilot holes of its small screws.
const PILOT: Bore = Bore { wide: 2.0, deep: 10.0 };
/// The screws: diameter and length, mm.
const SCREW: (f64, f64) = (3.0, 12.0);
/// A small screw of a catch or plate, and its pilot hole, mm.
struct Small {
    /// Diameter and length.
    screw: (f64, f64),
    pilot: Bore,
}

impl Small {
    /// The screw for a part: in a job in inches by its number, with the drill for it.
    fn of(bench: &Bench<'_>, part: usize) -> Self {
        let screw = bench.usual_screw(SCREW);
        let pilot = match bench.job.unit {
            Unit::Mm => PILOT,
            Unit::Inch => {
                Bore { wide: bench.drills(part, screw.0).pilot, deep: near(Unit::Inch, PILOT.deep) }
            }
        };
        Self { screw, pilot }
    }

    /// Its hole where the head stands in a recess so deep: measured from the face.
    fn through(&self, recess: f64) -> Bore {
        Bore { deep: recess + self.pilot.deep, ..self.pilot }
    }

    /// As it is bought.
    fn item(&self) -> Item {
        Fastener::Screw(sizes([self.screw.0, self.screw.1])).into()
    }

    /// Its shape.
    fn body(&self) -> Prism {
        rod(self.screw.0, self.screw.1)
    }
}

/// Least wood round a small screw, mm: a pilot hole drilled for it splits less.
const ROUND_SCREW: f64 = 1.0;
/// A ball's plate: how much longer than its screws' centres, and its width, mm.
const STRIKE: (f64, f64) = (12.0, 12.0);
/// Height of a magnetic catch, mm.
const HIGH: f64 = 13.0;
/// The usual magnetic catch: its length and how far it reaches back, mm.
const BODY: (f64, f64) = (46.0, 14.0);
/// Between its two screws, or those of a ball's plate, mm.
const CENTRES: f64 = 32.0;
/// How much longer than that its body is at least, mm: the heads of both screws.
const HEADS: f64 = 6.0;
/// Thickness of the plate on the door, mm.
const PLATE: f64 = 1.5;
/// Thickness of a ball's plate, mm.
const BALL_PLATE: f64 = 1.0;
/// Bore of a ball or of a magnet that is let in, mm.
const BORE: Bore = Bore { wide: 8.0, deep: 14.0 };
/// Gaps that a ball bridges, mm: under it the ball jams, over it it falls short.
const GAP: Interval = Interval { from: 0.5, to: 4.0 };
/// From the free edge of the door to a catch, mm.
const INSET: f64 = 40.0;

/// A hole to be sunk.
struct Hole {
    part: usize,
    /// The middle of its mouth.
    mouth: DVec3,
    /// Into the part.
    into: DVec3,
    bore: Bore,
}

impl Joinery for CatchPlate {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { rests_without_holding: true, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let shut = shut(bench, work)?;
        let ball = work.options.text("kind") == Some("ball");
        stray(bench, work, &shut, ball)?;
        match (ball, shut.passes) {
            (true, true) => ball_catch(bench, work, &shut),
            (true, false) => {
                let message = format!(
                    "a ball catch stands in the edge of `{}`, but its back shuts against `{}`",
                    bench.name(shut.leaf),
                    bench.name(shut.case)
                );
                Err(bench
                    .error(work, "no-such-catch", message, &[shut.leaf, shut.case])
                    .help("use `kind: \"magnetic\"`, or name a part that the door passes with its edge"))
            }
            (false, true) => behind(bench, work, &shut),
            (false, false) => against(bench, work, &shut),
        }
    }
}

/// Refuses options that the catch has no use for.
fn stray(bench: &Bench<'_>, work: &Work, shut: &Shut, ball: bool) -> Result<(), Problem> {
    // An option that does nothing would let the maker believe in it: which are of use
    // goes by how the door shuts.
    let surface = !ball && shut.passes;
    let given = |key: &str| match key {
        "centres" => work.options.number(key).is_some(),
        _ => work.options.pair(key).is_some(),
    };
    let unused: &[&str] = match (surface, ball) {
        (true, _) => &["bore"],
        (false, true) => &["body"],
        (false, false) => &["body", "centres"],
    };
    let Some(key) = unused.iter().find(|key| given(key)) else { return Ok(()) };
    let what = match (surface, ball) {
        (true, _) => "a magnetic catch screwed on behind the door",
        (false, true) => "a ball catch",
        (false, false) => "a magnet let in where the door shuts against it",
    };
    let message = format!("{what} has no use for `{key}`");
    Err(bench.error(work, "contradiction", message, &[shut.leaf, shut.case]).help("leave it out"))
}

/// The place of the one catch.
fn place(bench: &Bench<'_>, work: &Work, shut: &Shut, long: f64) -> Result<f64, Problem> {
    let room = shut.span.length();
    let inset =
        work.options.number("inset").unwrap_or_else(|| bench.own(INSET).max(0.5 * long).min(0.5 * room));
    let places = shut.places(bench, work, (1, inset), long)?;
    Ok(places.first().copied().unwrap_or(shut.span.middle()))
}

/// A pilot hole for a small screw; a problem where it finds no wood.
fn pilot(bench: &Bench<'_>, work: &Work, hole: &Hole, made: &mut Made) -> Result<(), Problem> {
    sunk(bench, hole, ROUND_SCREW, made).map_err(|left| {
        let message = format!(
            "a screw of the catch, {} deep, leaves {} of `{}`",
            bench.mm(hole.bore.deep),
            bench.mm(left),
            bench.name(hole.part)
        );
        bench
            .error(work, "breaks-through", message, &[hole.part])
            .help("name a thicker part, or move the catch with `inset`")
    })
}

/// A hole sunk into a part; gives the wood left round it where that is less than
/// `least`, mm.
fn sunk(bench: &Bench<'_>, hole: &Hole, least: f64, made: &mut Made) -> Result<(), f64> {
    let Hole { part, mouth, into, bore } = *hole;
    let Some(shape) = Prism::hole(mouth, into, bore.deep, bore.wide) else { return Ok(()) };
    // A lipping glued to a door or case is wood of it: no face is between them.
    let left = bench.wall_with_lippings(part, &shape);
    if left < least - NOISE {
        return Err(left.max(0.0));
    }
    made.cuts.push(Sawn { part, kind: CutKind::FittingHole, shape });
    Ok(())
}

/// A magnetic catch that is screwed on, mm.
struct Magnet {
    /// Its length.
    long: f64,
    /// How far it reaches back.
    deep: f64,
    /// Between its screws.
    centres: f64,
    /// Thickness of the plate on the door.
    plate: f64,
}

/// The magnet asked for or the usual one; a problem where it finds no room.
fn magnet(bench: &Bench<'_>, work: &Work, shut: &Shut) -> Result<Magnet, Problem> {
    let (long, deep) = work.options.pair("body").unwrap_or(BODY);
    let centres = work.options.number("centres").unwrap_or(CENTRES);
    let plate = work.options.number("plate").unwrap_or(PLATE);
    let room = shut.back - bench.placed[shut.case].reach(shut.out).0;
    let message = if room < deep + plate - TOUCH {
        format!(
            "`{}` goes on {} behind `{}`; the catch and its plate need {}",
            bench.name(shut.case),
            bench.mm(room.max(0.0)),
            bench.name(shut.leaf),
            bench.mm(deep + plate)
        )
    } else if centres > long - HEADS + NOISE {
        format!("screws {} apart do not fit in a catch {} long", bench.mm(centres), bench.mm(long))
    } else {
        return Ok(Magnet { long, deep, centres, plate });
    };
    Err(bench
        .error(work, "does-not-fit", message, &[shut.case])
        .help("`body` is its length, then how far it reaches back; write what its maker says"))
}

/// A magnet screwed to the case behind the door, its plate on the door's back.
fn behind(bench: &Bench<'_>, work: &Work, shut: &Shut) -> Result<Vec<Made>, Problem> {
    let Magnet { long, deep, centres, plate } = magnet(bench, work, shut)?;
    let small = Small::of(bench, shut.case);
    let at = place(bench, work, shut, long)?;
    let mut catch = Made { parts: vec![shut.leaf, shut.case], ..Made::default() };
    // The plate on the door's back comes between: the magnet begins behind it.
    let foot = shut.behind(at, plate + 0.5 * deep);
    let mut heads = Vec::new();
    for way in [-0.5, 0.5] {
        let mouth = foot + shut.run * (way * centres);
        let hole = Hole { part: shut.case, mouth, into: -shut.normal, bore: small.pilot };
        pilot(bench, work, &hole, &mut catch)?;
        heads.extend(Placement::looking(mouth, -shut.normal, shut.run));
    }
    let low = DVec3::new(-0.5 * long, -0.5 * deep, 0.0);
    let body = Prism::block(Placement::IDENTITY, low, DVec3::new(-low.x, -low.y, HIGH));
    let item = Ironmongery::MagneticCatch(sizes([long, deep])).into();
    let stands = Placement::looking(foot, shut.normal, shut.run).into_iter().collect();
    catch.inserts.push(Insert { item, at: stands, body: Some(body) });
    catch.inserts.push(Insert { item: small.item(), at: heads, body: Some(small.body()) });
    catch.facts = Facts::Doors(DoorFitting::Catch(Catch::Magnetic { long, deep, pilot: small.pilot }));
    // Level with the middle of the magnet, which is what holds the plate.
    let mouth = shut.behind(at, 0.0) + shut.normal * (0.5 * HIGH);
    plated(bench, work, shut, mouth, &mut catch)?;
    Ok(vec![catch])
}

/// A magnet bored into what the door shuts against, its plate on the door's back.
fn against(bench: &Bench<'_>, work: &Work, shut: &Shut) -> Result<Vec<Made>, Problem> {
    let bore = bore(work);
    let at = place(bench, work, shut, bore.wide + 2.0 * WALL)?;
    // In the middle of what the door covers of the part.
    let across = shut.run.cross(shut.normal);
    let middle = bench.placed[shut.leaf].span(across).common(bench.placed[shut.case].span(across)).middle();
    let mouth = shut.normal * shut.face + shut.run * at + across * middle;
    let mut catch = Made { parts: vec![shut.leaf, shut.case], ..Made::default() };
    bored(bench, work, &Hole { part: shut.case, mouth, into: -shut.normal, bore }, &mut catch)?;
    let item = Ironmongery::BoredMagnet(sizes([bore.wide, bore.deep])).into();
    let stands = Placement::looking(mouth, -shut.normal, shut.run).into_iter().collect();
    catch.inserts.push(Insert { item, at: stands, body: Some(rod(bore.wide, bore.deep)) });
    catch.facts = Facts::Doors(DoorFitting::Catch(Catch::BoredMagnet { bore }));
    let back = mouth + shut.normal * shut.gap;
    plated(bench, work, shut, back, &mut catch)?;
    Ok(vec![catch])
}

/// The bore asked for, or the usual one.
fn bore(work: &Work) -> Bore {
    work.options.pair("bore").map_or(BORE, |(wide, deep)| Bore { wide, deep })
}

/// Refuses a gap that no ball bridges.
fn bridged(bench: &Bench<'_>, work: &Work, shut: &Shut) -> Result<(), Problem> {
    if GAP.grown(NOISE).holds(shut.gap) {
        return Ok(());
    }
    let message = format!(
        "the ball stands between `{}` and `{}`, which are {} apart: it needs 0.5 to 4 mm",
        bench.name(shut.leaf),
        bench.name(shut.case),
        bench.mm(shut.gap)
    );
    Err(bench
        .error(work, "wrong-clearance", message, &[shut.leaf, shut.case])
        .help("make the gap 2 mm or so"))
}

/// A ball in the door's edge, its plate let into the case.
fn ball_catch(bench: &Bench<'_>, work: &Work, shut: &Shut) -> Result<Vec<Made>, Problem> {
    let bore = bore(work);
    let centres = work.options.number("centres").unwrap_or(CENTRES);
    let plate = work.options.number("plate").unwrap_or(BALL_PLATE);
    bridged(bench, work, shut)?;
    let long = centres + STRIKE.0;
    let at = place(bench, work, shut, long)?;
    let (lo, hi) = bench.placed[shut.leaf].reach(shut.out);
    // In the middle of the door's edge, where most wood stands round the bore.
    let line = shut.normal * shut.face + shut.out * f64::midpoint(lo, hi) + shut.run * at;
    let mut ball = Made { parts: vec![shut.leaf, shut.case], ..Made::default() };
    let edge = line + shut.normal * shut.gap;
    bored(bench, work, &Hole { part: shut.leaf, mouth: edge, into: shut.normal, bore }, &mut ball)?;
    let item = Ironmongery::BallCatch(sizes([bore.wide, bore.deep])).into();
    let stands = Placement::looking(edge, shut.normal, shut.run).into_iter().collect();
    ball.inserts.push(Insert { item, at: stands, body: Some(rod(bore.wide, bore.deep)) });
    ball.facts = Facts::Doors(DoorFitting::Catch(Catch::Ball {
        bore,
        recess: [long, STRIKE.1, plate],
        pilot: Small::of(bench, shut.case).through(plate),
    }));
    struck(bench, work, shut, &Strike { line, long, centres, plate }, &mut ball)?;
    Ok(vec![ball])
}

/// The plate a ball springs into, mm.
struct Strike {
    /// Its middle, on the case's face.
    line: DVec3,
    /// Its length.
    long: f64,
    /// Between its screws.
    centres: f64,
    /// Its thickness: none if it lies on the face.
    plate: f64,
}

/// The recess for a ball's plate; a problem where too little is left beside it.
fn recess(bench: &Bench<'_>, work: &Work, shut: &Shut, strike: &Strike) -> Result<Option<Sawn>, Problem> {
    let size = Oblong { length: strike.long, width: STRIKE.1, depth: strike.plate };
    let shape = pocket(strike.line, shut.run, -shut.normal, size);
    let Some(shape) = shape.filter(|_| strike.plate > 0.0) else { return Ok(None) };
    let left = bench.wall_with_lippings(shut.case, &shape);
    if left >= ROUND_SCREW - NOISE {
        return Ok(Some(Sawn { part: shut.case, kind: CutKind::Slot, shape }));
    }
    let message = format!(
        "the plate, {} × {}, leaves {} of `{}` beside it",
        bench.figure(strike.long),
        bench.mm(STRIKE.1),
        bench.mm(left.max(0.0)),
        bench.name(shut.case)
    );
    Err(bench
        .error(work, "breaks-through", message, &[shut.case])
        .help("set the door further back, or move the catch with `inset`"))
}

/// Lets a ball's plate into the case and screws it on.
fn struck(
    bench: &Bench<'_>,
    work: &Work,
    shut: &Shut,
    strike: &Strike,
    ball: &mut Made,
) -> Result<(), Problem> {
    let Strike { line, centres, plate, .. } = *strike;
    ball.cuts.extend(recess(bench, work, shut, strike)?);
    // Measured from the face, not from the bottom of the recess: screws hold below both.
    let small = Small::of(bench, shut.case);
    let bore = small.through(plate);
    let mut heads = Vec::new();
    for way in [-0.5, 0.5] {
        let mouth = line + shut.run * (way * centres);
        pilot(bench, work, &Hole { part: shut.case, mouth, into: -shut.normal, bore }, ball)?;
        heads.extend(Placement::looking(mouth - shut.normal * plate, -shut.normal, shut.run));
    }
    ball.inserts.push(Insert { item: small.item(), at: heads, body: Some(small.body()) });
    Ok(())
}

/// The bore of a catch; a problem where too little wood stands round it.
fn bored(bench: &Bench<'_>, work: &Work, hole: &Hole, made: &mut Made) -> Result<(), Problem> {
    let Hole { part, bore, .. } = *hole;
    sunk(bench, hole, WALL, made).map_err(|left| {
        let message = format!(
            "a bore of {} and {} deep leaves {} of `{}`; it needs {}",
            bench.mm(bore.wide),
            bench.mm(bore.deep),
            bench.mm(left),
            bench.name(part),
            bench.mm(WALL)
        );
        bench
            .error(work, "breaks-through", message, &[part])
            .help("use a smaller catch with `bore`, or a thicker part")
    })
}

/// The plate on the door's back, held by one screw.
fn plated(bench: &Bench<'_>, work: &Work, shut: &Shut, mouth: DVec3, made: &mut Made) -> Result<(), Problem> {
    let (lo, hi) = bench.placed[shut.leaf].reach(shut.out);
    // A thin door takes a shorter screw: its point must not show in front.
    let small = Small::of(bench, shut.leaf);
    let bore = Bore { deep: small.pilot.deep.min(hi - lo - WALL), ..small.pilot };
    pilot(bench, work, &Hole { part: shut.leaf, mouth, into: shut.out, bore }, made)?;
    let at = Placement::looking(mouth, shut.out, shut.run).into_iter().collect();
    made.inserts.push(Insert { item: small.item(), at, body: Some(rod(small.screw.0, bore.deep)) });
    Ok(())
}
