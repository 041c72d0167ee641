//! Stops: a block on a part of the case that a door or drawer comes to rest
//! against.

use super::shut::{Shut, shut};
use crate::geometry::{DVec3, Placement};
use crate::joinery::bench::blank::overlap;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::doors::{DoorFitting, StopBlocks};
use crate::joinery::facts::item::{Fastener, Wooden, sizes};
use crate::joinery::facts::traits::Traits;
use crate::joinery::hanging::hanging_cleat::rod;
use crate::measure::{Unit, down, near};
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `stop`.
pub(in crate::joinery) struct Stop;

/// What `stop` says of itself.
static WORD: Word = Word {
    name: "stop",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "block",
            kind: OptionKind::Pair,
            default: &[Usual::Pair(BLOCK.0, BLOCK.1)],
            says: "length of the block and how far it stands out of the case part, such as \"40x10\"",
        },
        OptionSpec {
            key: "thick",
            kind: OptionKind::Length { min: 4.0, max: 60.0 },
            default: &[Usual::Length(BLOCK_THICK)],
            says: "thickness of the block, from front to back",
        },
        OptionSpec {
            key: "by",
            kind: OptionKind::Choice(&["screws", "pins"]),
            default: &[Usual::Text("screws")],
            says: "one screw in the middle of each block, or two pins",
        },
        OptionSpec {
            key: "fixing",
            kind: OptionKind::Pair,
            default: &[
                Usual::Words("screws "),
                Usual::Pair(SCREW.0, SCREW.1),
                Usual::Words(", pins "),
                Usual::Pair(PIN.0, PIN.1),
            ],
            says: "diameter and length of the screws or pins, such as \"3.5x20\"",
        },
        OptionSpec {
            key: "clearance",
            kind: OptionKind::Length { min: 0.0, max: 10.0 },
            default: &[Usual::Length(0.0), Usual::Words(": the leaf rests on the wood")],
            says: "room between leaf and block for a pad of felt or leather",
        },
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 1, max: 6 },
            default: &[
                Usual::Count(FEWEST),
                Usual::Words(" for a hinged door, "),
                Usual::Count(FEWEST + 1),
                Usual::Words(" for a drawer's front longer than "),
                Usual::Length(LONG_FRONT),
            ],
            says: "how many blocks",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 5.0, max: 2000.0 },
            default: &[Usual::Length(INSET), Usual::Words(", a quarter of a short run")],
            says: "from the free edge of a door, or from both ends, to the middle of a block",
        },
    ],
    says: "fixes blocks behind a door or drawer's front, on the part of the case it passes: it shuts against them",
    rule: "block, screw and place by common practice, no source; pilot holes 0.7 of a screw, 0.8 of a pin; drawer \
           stops stand on the rail, lower than the drawer's bottom is above it",
    example: "stop(door, bottom, #{ block: \"40x10\", clearance: 1 });",
};

/// A block and what holds it, mm.
struct Block {
    long: f64,
    high: f64,
    thick: f64,
    clearance: f64,
    /// Diameter and length.
    fixing: (f64, f64),
    /// Diameter of its pilot hole.
    bored: f64,
    pins: bool,
}

/// Least of a fixing in the wood, mm (common practice, no source).
const HOLD: f64 = 8.0;
/// The usual block: length and height, mm.
const BLOCK: (f64, f64) = (40.0, 10.0);
/// Its thickness, mm.
const BLOCK_THICK: f64 = 12.0;
/// The usual screw and pin: diameter and length, mm.
const SCREW: (f64, f64) = (3.5, 20.0);
/// See `SCREW`.
const PIN: (f64, f64) = (1.5, 20.0);
/// Pilot hole as a share of the diameter: a pin holds by its shank alone, so its hole
/// is only a little thinner.
const SCREW_PILOT: f64 = 0.7;
/// See `SCREW_PILOT`.
const PIN_PILOT: f64 = 0.8;
/// Stops of a hinged door; a long front has one more.
const FEWEST: u32 = 1;
/// A drawer's front longer than this racks on one stop, mm.
const LONG_FRONT: f64 = 250.0;
/// From the ends to the blocks, mm, and as a share of a short run.
const INSET: f64 = 60.0;
/// See `INSET`.
const INSET_SHARE: f64 = 0.25;
/// Where two pins stand from the middle of a block, as a share of its length: one alone
/// would let it turn.
const PINS: &[f64] = &[-0.25, 0.25];
/// Least wood round a fixing, mm.
const ROUND: f64 = 1.0;

impl Joinery for Stop {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { rests_without_holding: true, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let shut = shut(bench, work)?;
        let block = block(bench, work, shut.case);
        stands(bench, work, &shut, &block)?;
        let long = shut.span.length();
        // A hinged door is held at its other edge by the hinges: one stop is enough.
        let usual = if shut.free.is_none() && long > LONG_FRONT { FEWEST + 1 } else { FEWEST };
        let count = work.options.count("count").unwrap_or(usual);
        let usual = (INSET_SHARE * long).min(near(bench.job.unit, INSET));
        let on_a_mark = if bench.job.unit == Unit::Inch { down(Unit::Inch, usual) } else { usual };
        let inset = work.options.number("inset").unwrap_or(on_a_mark);
        let places = shut.places(bench, work, (count, inset), block.long)?;
        let mut made = Made { parts: vec![shut.leaf, shut.case], ..Made::default() };
        let (mut blocks, mut heads) = (Vec::new(), Vec::new());
        for place in places {
            let foot = shut.behind(place, block.clearance + 0.5 * block.thick);
            blocks.extend(Placement::looking(foot, shut.normal, shut.run));
            // Before the pilots are looked at: a block that stands in another part has
            // to move first.
            in_the_way(bench, work, &shut, &block, foot)?;
            for shape in pilots(bench, work, &shut, &block, foot)? {
                let head = shape.at.origin + shut.normal * block.high;
                heads.extend(Placement::looking(head, -shut.normal, shut.run));
                made.cuts.push(Sawn { part: shut.case, kind: CutKind::FittingHole, shape });
            }
        }
        made.facts = Facts::Doors(DoorFitting::StopBlocks(StopBlocks {
            count: blocks.len(),
            long: block.long,
            thick: block.thick,
            high: block.high,
            pilot: block.pilot(),
        }));
        made.inserts.extend(listed(&block, blocks, heads));
        Ok(vec![made])
    }
}

impl Block {
    /// The pilot hole of one of its fixings.
    fn pilot(&self) -> Bore {
        Bore { wide: self.bored, deep: self.fixing.1 - self.high }
    }

    /// Its shape, standing on the middle of its foot.
    fn corners(&self) -> (DVec3, DVec3) {
        let low = DVec3::new(-0.5 * self.long, -0.5 * self.thick, 0.0);
        (low, DVec3::new(0.5 * self.long, 0.5 * self.thick, self.high))
    }
}

/// The pilot holes of one block; a problem where one comes through.
fn pilots(
    bench: &Bench<'_>,
    work: &Work,
    shut: &Shut,
    block: &Block,
    foot: DVec3,
) -> Result<Vec<Prism>, Problem> {
    let apart: &[f64] = if block.pins { PINS } else { &[0.0] };
    let bore = block.pilot();
    let mut holes = Vec::new();
    for at in apart {
        let mouth = foot + shut.run * (at * block.long);
        let Some(shape) = Prism::hole(mouth, -shut.normal, bore.deep, bore.wide) else { continue };
        let left = bench.wall_with_lippings(shut.case, &shape);
        if left < ROUND - NOISE {
            return Err(through(bench, work, shut, block, left));
        }
        holes.push(shape);
    }
    Ok(holes)
}

/// Blocks and fixings, where they stand.
fn listed(block: &Block, blocks: Vec<Placement>, heads: Vec<Placement>) -> [Insert; 2] {
    let size = sizes([block.fixing.0, block.fixing.1]);
    let fixing = if block.pins { Fastener::Pin(size) } else { Fastener::Screw(size) };
    let item = Wooden::StopBlock(sizes([block.long, block.thick, block.high])).into();
    let (low, high) = block.corners();
    let body = Prism::block(Placement::IDENTITY, low, high);
    let screw = rod(block.fixing.0, block.fixing.1);
    [
        Insert { item, at: blocks, body: Some(body) },
        Insert { item: fixing.into(), at: heads, body: Some(screw) },
    ]
}

/// The block asked for, or the usual one.
fn block(bench: &Bench<'_>, work: &Work, case: usize) -> Block {
    let pins = work.options.text("by") == Some("pins");
    let unit = bench.job.unit;
    let (long, high) = bench.two(work, "block", BLOCK);
    let usual = if pins { bench.usual_pin(PIN) } else { bench.usual_screw(SCREW) };
    let fixing = work.options.pair("fixing").unwrap_or(usual);
    let share = if pins { PIN_PILOT } else { SCREW_PILOT };
    // A screw by its number has its drill in fractions.
    let bored =
        if unit == Unit::Inch && !pins { bench.drills(case, fixing.0).pilot } else { share * fixing.0 };
    Block {
        long,
        high,
        thick: bench.length(work, "thick", BLOCK_THICK),
        clearance: work.options.number("clearance").unwrap_or(0.0),
        fixing,
        bored,
        pins,
    }
}

/// Refuses a block that has no case part behind the leaf to stand on, or whose
/// fixings do not hold.
fn stands(bench: &Bench<'_>, work: &Work, shut: &Shut, block: &Block) -> Result<(), Problem> {
    let (leaf, case) = (bench.name(shut.leaf), bench.name(shut.case));
    let parts = [shut.leaf, shut.case];
    if !shut.passes {
        let message = format!("`{leaf}` shuts against `{case}` itself: nothing is left for a stop to do");
        return Err(bench
            .error(work, "no-such-stop", message, &parts)
            .help("leave it out, or name a part that the leaf passes with its edge"));
    }
    // What the case part goes on behind the leaf is all there is to stand on.
    let behind = shut.back - bench.placed[shut.case].reach(shut.out).0;
    let needs = block.thick + block.clearance;
    if behind < needs - TOUCH {
        let message = format!(
            "`{case}` goes on {} behind `{leaf}`; a stop needs {}",
            bench.beside(behind.max(0.0), needs),
            bench.beside(needs, behind.max(0.0))
        );
        return Err(bench
            .error(work, "does-not-fit", message, &parts)
            .help(
                "make the block less `thick`, or name a part that goes further back: behind a face frame the side, top or \
                 bottom of the case",
            ));
    }
    // What is in the block holds nothing; only what is beyond it does.
    let hold = block.fixing.1 - block.high;
    if hold < HOLD - NOISE {
        let message = format!(
            "a fixing {} long through a block of {} holds {} in `{case}`; it needs {}",
            bench.mm(block.fixing.1),
            bench.mm(block.high),
            bench.mm(hold.max(0.0)),
            bench.mm(HOLD)
        );
        return Err(bench
            .error(work, "screw-too-short", message, &[shut.case])
            .help(format!("use one {} long or more with `fixing`", bench.mm(block.high + HOLD))));
    }
    // The leaf has to strike wood, not graze it: the gap under it stops nothing.
    if block.high < shut.gap + WALL - NOISE {
        let message = format!(
            "a block {} high catches {} of `{leaf}`, which passes `{case}` {} off",
            bench.mm(block.high),
            bench.mm((block.high - shut.gap).max(0.0)),
            bench.mm(shut.gap)
        );
        return Err(bench.error(work, "does-not-fit", message, &parts).help(format!(
            "make it {} high or more: `block` is its length, then its height",
            bench.mm(shut.gap + WALL)
        )));
    }
    Ok(())
}

/// Refuses a block that stands in another part of the piece.
fn in_the_way(
    bench: &Bench<'_>,
    work: &Work,
    shut: &Shut,
    block: &Block,
    foot: DVec3,
) -> Result<(), Problem> {
    let Some(at) = Placement::looking(foot, shut.normal, shut.run) else { return Ok(()) };
    let (low, high) = block.corners();
    let shape = Prism::block(at, low, high);
    let piece = |part: usize| bench.job.parts.get(part).map(|p| p.piece);
    for (other, blank) in bench.placed.iter().enumerate() {
        // It stands on the case part itself; other pieces may be drawn in the same
        // place.
        if other == shut.case || piece(other) != piece(shut.case) {
            continue;
        }
        let by = overlap(&shape, &blank.prism());
        if by > TOUCH {
            let message = format!(
                "the stop on `{}` stands {} into `{}`",
                bench.name(shut.case),
                bench.mm(by),
                bench.name(other)
            );
            return Err(bench
                .error(work, "does-not-fit", message, &[shut.case, other])
                .help("move it with `inset`, or make the block smaller"));
        }
    }
    Ok(())
}

/// A fixing that comes through.
fn through(bench: &Bench<'_>, work: &Work, shut: &Shut, block: &Block, left: f64) -> Problem {
    let message = format!(
        "a fixing {} long through a block of {} leaves {} of `{}`",
        bench.mm(block.fixing.1),
        bench.mm(block.high),
        bench.mm(left.max(0.0)),
        bench.name(shut.case)
    );
    bench
        .error(work, "breaks-through", message, &[shut.case])
        .help("use a shorter one with `fixing`, or move the block with `inset`")
}
