//! Catches: what holds a door shut, with the plate it catches.

use super::shut::{Shut, shut};
use crate::geometry::{DVec3, Placement};
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::pocket::{WALL, pocket};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::worked::{CutKind, Insert};
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::doors::{Catch, DoorFitting};
use crate::joinery::facts::item::{Fastener, Ironmongery, Item, sizes};
use crate::joinery::facts::traits::Traits;
use crate::joinery::hanging::hanging_cleat::rod;
use crate::model::{OptionKind, OptionSpec, Word, Work};
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
            default: "magnetic",
            says: "a magnet, or a ball on a spring in the edge of the door",
        },
        OptionSpec {
            key: "bore",
            kind: OptionKind::Pair,
            default: "8 mm and 14 mm, or as the catch's maker says",
            says: "diameter and depth of the bore for a ball, or for a magnet that the door shuts against",
        },
        OptionSpec {
            key: "body",
            kind: OptionKind::Pair,
            default: "46 mm and 14 mm",
            says: "length of a magnetic catch behind the door, and how far it reaches back, such as \"46x14\"",
        },
        OptionSpec {
            key: "centres",
            kind: OptionKind::Length { min: 10.0, max: 100.0 },
            default: "32 mm",
            says: "between the two screws of a magnetic catch or of a ball's plate",
        },
        OptionSpec {
            key: "plate",
            kind: OptionKind::Length { min: 0.0, max: 4.0 },
            default: "1.5 mm on a door's back, 1 mm let in for a ball",
            says: "thickness of the plate",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 5.0, max: 2000.0 },
            default: "40 mm",
            says: "from the free edge of the door to the middle of the catch; the middle of a run without one",
        },
    ],
    says: "holds a door shut by a catch on the part of the case it passes or shuts against, with its plate on the other",
    rule: "bore, screws and their places as usual for such catches; 3 mm of wood round a bore; pilot holes ⌀ 2 \
           (common practice, no source; the catch's maker comes first)",
    example: "catch_plate(door, bottom, #{ kind: \"magnetic\", inset: 30 });",
};

/// Pilot holes of its small screws: diameter and depth, mm.
const PILOT: (f64, f64) = (2.0, 10.0);
/// The screws.
const SCREW: (f64, f64) = (3.0, 12.0);
/// A ball's plate: how much longer than its screws' centres, and its width, mm.
const STRIKE: (f64, f64) = (12.0, 12.0);
/// Height of a magnetic catch, mm.
const HIGH: f64 = 13.0;

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
                let says = format!(
                    "a ball catch stands in the edge of `{}`, but its back shuts against `{}`",
                    bench.name(shut.leaf),
                    bench.name(shut.case)
                );
                Err(bench
                    .error(work, "no-such-catch", says, &[shut.leaf, shut.case])
                    .help("use `kind: \"magnetic\"`, or name a part that the door passes with its edge"))
            }
            (false, true) => behind(bench, work, &shut),
            (false, false) => against(bench, work, &shut),
        }
    }
}

/// Refuses options that the catch has no use for.
fn stray(bench: &Bench<'_>, work: &Work, shut: &Shut, ball: bool) -> Result<(), Problem> {
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
    let says = format!("{what} has no use for `{key}`");
    Err(bench.error(work, "contradiction", says, &[shut.leaf, shut.case]).help("leave it out"))
}

/// The place of the one catch.
fn place(bench: &Bench<'_>, work: &Work, shut: &Shut, long: f64) -> Result<f64, Problem> {
    let room = shut.span.1 - shut.span.0;
    let inset = work.options.number("inset").unwrap_or(40.0_f64.max(0.5 * long).min(0.5 * room));
    let places = shut.places(bench, work, (1, inset), long)?;
    Ok(places.first().copied().unwrap_or(f64::midpoint(shut.span.0, shut.span.1)))
}

/// A pilot hole for a small screw; a problem where it finds no wood.
fn pilot(
    bench: &Bench<'_>,
    work: &Work,
    (part, mouth, into): (usize, DVec3, DVec3),
    deep: f64,
    made: &mut Made,
) -> Result<(), Problem> {
    sunk(bench, (part, mouth, into), (PILOT.0, deep), 1.0, made).map_err(|left| {
        let says = format!(
            "a screw of the catch, {} deep, leaves {} of `{}`",
            bench.mm(deep),
            bench.mm(left),
            bench.name(part)
        );
        bench
            .error(work, "breaks-through", says, &[part])
            .help("name a thicker part, or move the catch with `inset`")
    })
}

/// A hole sunk into a part; gives the wood left round it where that is less than
/// `least`, mm.
fn sunk(
    bench: &Bench<'_>,
    (part, mouth, into): (usize, DVec3, DVec3),
    (wide, deep): (f64, f64),
    least: f64,
    made: &mut Made,
) -> Result<(), f64> {
    let Some(shape) = Prism::hole(mouth, into, deep, wide) else { return Ok(()) };
    let left = bench.wall_round(part, &shape);
    if left < least - 1e-6 {
        return Err(left.max(0.0));
    }
    made.cuts.push(Sawn { part, kind: CutKind::FittingHole, shape });
    Ok(())
}

/// A magnet screwed to the case behind the door, its plate on the door's back.
fn behind(bench: &Bench<'_>, work: &Work, shut: &Shut) -> Result<Vec<Made>, Problem> {
    let (long, deep) = work.options.pair("body").unwrap_or((46.0, 14.0));
    let centres = work.options.number("centres").unwrap_or(32.0);
    let plate = work.options.number("plate").unwrap_or(1.5);
    let room = shut.back - bench.placed[shut.case].reach(shut.out).0;
    if room < deep + plate - TOUCH || centres > long - 6.0 + 1e-6 {
        let says = if room < deep + plate - TOUCH {
            format!(
                "`{}` goes on {} behind `{}`; the catch and its plate need {}",
                bench.name(shut.case),
                bench.mm(room.max(0.0)),
                bench.name(shut.leaf),
                bench.mm(deep + plate)
            )
        } else {
            format!("screws {} apart do not fit in a catch {} long", bench.mm(centres), bench.mm(long))
        };
        return Err(bench
            .error(work, "does-not-fit", says, &[shut.case])
            .help("`body` is its length, then how far it reaches back; write what its maker says"));
    }
    let at = place(bench, work, shut, long)?;
    let mut catch = Made { parts: vec![shut.leaf, shut.case], ..Made::default() };
    let foot = shut.behind(at, plate + 0.5 * deep);
    let mut heads = Vec::new();
    for way in [-0.5, 0.5] {
        let mouth = foot + shut.run * (way * centres);
        pilot(bench, work, (shut.case, mouth, -shut.normal), PILOT.1, &mut catch)?;
        heads.extend(Placement::looking(mouth, -shut.normal, shut.run));
    }
    let low = DVec3::new(-0.5 * long, -0.5 * deep, 0.0);
    let body = Prism::block(Placement::IDENTITY, low, DVec3::new(-low.x, -low.y, HIGH));
    let item = Ironmongery::MagneticCatch(sizes([long, deep])).into();
    let stands = Placement::looking(foot, shut.normal, shut.run).into_iter().collect();
    catch.inserts.push(Insert { item, at: stands, body: Some(body) });
    catch.inserts.push(Insert { item: screw(), at: heads, body: Some(rod(SCREW.0, SCREW.1)) });
    let pilot = Bore { wide: PILOT.0, deep: PILOT.1 };
    catch.facts = Facts::Doors(DoorFitting::Catch(Catch::Magnetic { long, deep, pilot }));
    let mouth = shut.behind(at, 0.0) + shut.normal * (0.5 * HIGH);
    plated(bench, work, shut, mouth, &mut catch)?;
    Ok(vec![catch])
}

/// A magnet bored into what the door shuts against, its plate on the door's back.
fn against(bench: &Bench<'_>, work: &Work, shut: &Shut) -> Result<Vec<Made>, Problem> {
    let (wide, deep) = work.options.pair("bore").unwrap_or((8.0, 14.0));
    let at = place(bench, work, shut, wide + 2.0 * WALL)?;
    // In the middle of what the door covers of the part.
    let across = shut.run.cross(shut.normal);
    let (a, b) = (bench.placed[shut.leaf].reach(across), bench.placed[shut.case].reach(across));
    let middle = f64::midpoint(a.0.max(b.0), a.1.min(b.1));
    let mouth = shut.normal * shut.face + shut.run * at + across * middle;
    let mut catch = Made { parts: vec![shut.leaf, shut.case], ..Made::default() };
    bored(bench, work, (shut.case, mouth, -shut.normal), (wide, deep), &mut catch)?;
    let item = Ironmongery::BoredMagnet(sizes([wide, deep])).into();
    let stands = Placement::looking(mouth, -shut.normal, shut.run).into_iter().collect();
    catch.inserts.push(Insert { item, at: stands, body: Some(rod(wide, deep)) });
    catch.facts = Facts::Doors(DoorFitting::Catch(Catch::BoredMagnet { bore: Bore { wide, deep } }));
    let back = mouth + shut.normal * shut.gap;
    plated(bench, work, shut, back, &mut catch)?;
    Ok(vec![catch])
}

/// A ball in the door's edge, its plate let into the case.
fn ball_catch(bench: &Bench<'_>, work: &Work, shut: &Shut) -> Result<Vec<Made>, Problem> {
    let (wide, deep) = work.options.pair("bore").unwrap_or((8.0, 14.0));
    let centres = work.options.number("centres").unwrap_or(32.0);
    let plate = work.options.number("plate").unwrap_or(1.0);
    if !(0.5 - 1e-6..=4.0 + 1e-6).contains(&shut.gap) {
        let says = format!(
            "the ball stands between `{}` and `{}`, which are {} apart: it needs 0.5 to 4 mm",
            bench.name(shut.leaf),
            bench.name(shut.case),
            bench.mm(shut.gap)
        );
        return Err(bench
            .error(work, "wrong-clearance", says, &[shut.leaf, shut.case])
            .help("make the gap 2 mm or so"));
    }
    let long = centres + STRIKE.0;
    let at = place(bench, work, shut, long)?;
    let (lo, hi) = bench.placed[shut.leaf].reach(shut.out);
    let line = shut.normal * shut.face + shut.out * f64::midpoint(lo, hi) + shut.run * at;
    let mut ball = Made { parts: vec![shut.leaf, shut.case], ..Made::default() };
    let edge = line + shut.normal * shut.gap;
    bored(bench, work, (shut.leaf, edge, shut.normal), (wide, deep), &mut ball)?;
    let item = Ironmongery::BallCatch(sizes([wide, deep])).into();
    let stands = Placement::looking(edge, shut.normal, shut.run).into_iter().collect();
    ball.inserts.push(Insert { item, at: stands, body: Some(rod(wide, deep)) });
    ball.facts = Facts::Doors(DoorFitting::Catch(Catch::Ball {
        bore: Bore { wide, deep },
        recess: [long, STRIKE.1, plate],
        pilot: Bore { wide: PILOT.0, deep: plate + PILOT.1 },
    }));
    if plate > 0.0 {
        let recess = pocket(line, shut.run, -shut.normal, (long, STRIKE.1, plate));
        if let Some(shape) = recess {
            let left = bench.wall_round(shut.case, &shape);
            if left < 1.0 - 1e-6 {
                let says = format!(
                    "the plate, {} × {}, leaves {} of `{}` beside it",
                    bench.figure(long),
                    bench.mm(STRIKE.1),
                    bench.mm(left.max(0.0)),
                    bench.name(shut.case)
                );
                return Err(bench
                    .error(work, "breaks-through", says, &[shut.case])
                    .help("set the door further back, or move the catch with `inset`"));
            }
            ball.cuts.push(Sawn { part: shut.case, kind: CutKind::Slot, shape });
        }
    }
    let mut heads = Vec::new();
    for way in [-0.5, 0.5] {
        let mouth = line + shut.run * (way * centres);
        pilot(bench, work, (shut.case, mouth, -shut.normal), plate + PILOT.1, &mut ball)?;
        heads.extend(Placement::looking(mouth - shut.normal * plate, -shut.normal, shut.run));
    }
    ball.inserts.push(Insert { item: screw(), at: heads, body: Some(rod(SCREW.0, SCREW.1)) });
    Ok(vec![ball])
}

/// The bore of a catch; a problem where too little wood stands round it.
fn bored(
    bench: &Bench<'_>,
    work: &Work,
    (part, mouth, into): (usize, DVec3, DVec3),
    (wide, deep): (f64, f64),
    made: &mut Made,
) -> Result<(), Problem> {
    sunk(bench, (part, mouth, into), (wide, deep), WALL, made).map_err(|left| {
        let says = format!(
            "a bore of {} and {} deep leaves {} of `{}`; it needs {}",
            bench.mm(wide),
            bench.mm(deep),
            bench.mm(left),
            bench.name(part),
            bench.mm(WALL)
        );
        bench
            .error(work, "breaks-through", says, &[part])
            .help("use a smaller catch with `bore`, or a thicker part")
    })
}

/// The plate on the door's back, held by one screw.
fn plated(bench: &Bench<'_>, work: &Work, shut: &Shut, mouth: DVec3, made: &mut Made) -> Result<(), Problem> {
    let (lo, hi) = bench.placed[shut.leaf].reach(shut.out);
    let deep = PILOT.1.min(hi - lo - WALL);
    pilot(bench, work, (shut.leaf, mouth, shut.out), deep, made)?;
    let at = Placement::looking(mouth, shut.out, shut.run).into_iter().collect();
    made.inserts.push(Insert { item: screw(), at, body: Some(rod(SCREW.0, deep)) });
    Ok(())
}

/// A screw of a catch or plate.
fn screw() -> Item {
    Fastener::Screw(sizes([SCREW.0, SCREW.1])).into()
}
