//! A solid top held to its base so that it can move: wood buttons in slots of
//! the rails, or screws in slotted holes.

use super::hanging_cleat::rod;
use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Meeting, Pair, TOUCH};
use crate::joinery::bench::pocket::{Oblong, WALL, pocket};
use crate::joinery::bench::row::{self, COUNT, Named, Row};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::Tie;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::channels::movement::{SEASON, edge_moves, points, unknown_wood};
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::hanging::{Buttoned, Hanging, Slotted};
use crate::joinery::facts::item::{Fastener, Wooden, sizes};
use crate::measure::{self, INCH, Unit};
use crate::model::{Arg, OptionKind, OptionSpec, Takes, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `buttons`.
pub(in crate::joinery) struct Buttons;

/// What `buttons` says of itself.
static WORD: Word = Word {
    name: "buttons",
    args: &[Arg { name: "top", takes: Takes::Part }, Arg { name: "rails", takes: Takes::Parts }],
    options: &[
        OptionSpec {
            key: "by",
            kind: OptionKind::Choice(&["buttons", "slotted screws"]),
            default: &[Usual::Text("buttons")],
            says: "wood buttons in slots of the rails, or screws up through the rails in slotted holes",
        },
        OptionSpec {
            key: "screw",
            kind: OptionKind::Pair,
            default: &[
                Usual::Length(SCREW),
                Usual::Words(", as long as leaves "),
                Usual::Length(WALL),
                Usual::Words(" of the top"),
            ],
            says: "screws into the top, such as \"4x30\"",
        },
        OptionSpec {
            key: "button",
            kind: OptionKind::Pair,
            default: &[Usual::Pair(BUTTON.0, BUTTON.1)],
            says: "width and length of a button, its tongue included, such as \"25x45\"",
        },
        OptionSpec {
            key: "tongue",
            kind: OptionKind::Pair,
            default: &[Usual::Pair(TONGUE.0, TONGUE.1)],
            says: "thickness of the button's tongue and how far it reaches into the rail",
        },
        OptionSpec {
            key: "down",
            kind: OptionKind::Length { min: LEAST_DOWN, max: 60.0 },
            default: &[Usual::Length(DOWN)],
            says: "from the top of the rail to the slot",
        },
        OptionSpec {
            key: "move",
            kind: OptionKind::Length { min: 0.0, max: 40.0 },
            default: &[Usual::Words("by the wood and width of the top")],
            says: "how far each edge of the top may move either way",
        },
        OptionSpec {
            key: "season",
            kind: OptionKind::Ratio { min: 0.5, max: 12.0 },
            default: &[Usual::Bare(SEASON)],
            says: "points of moisture content by which the top gets damper, or drier, than at the bench",
        },
        COUNT,
        OptionSpec {
            key: "spacing",
            kind: OptionKind::Length { min: 40.0, max: 1000.0 },
            default: &[Usual::Length(SPACING)],
            says: "greatest distance between them",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 0.0, max: 1000.0 },
            default: &[Usual::Length(INSET), Usual::Words(", a quarter of a short rail")],
            says: "from the ends of the rail to the middle of the outer ones",
        },
    ],
    says: "holds a solid top to the rails it lies on and lets it swell and shrink",
    rule: "a button every 300 mm; slot 12 mm down, its tongue half a millimetre thinner than the slot so that the screw \
           draws the top down; room for half of width × coefficient × points of moisture (Wood Handbook, FPL-GTR-190, \
           ch. 13) in the slot: in its depth where the top moves out over the rail, in its length where it moves along \
           (the rest common practice, no source)",
    example: "buttons(top, [front, back], #{ spacing: 300 });",
};

/// Room of a tongue in its slot, mm.
const ROOM: f64 = 0.5;
/// Wood left under a slotted screw's head, mm.
const UNDER_HEAD: f64 = 20.0;
/// Lengths of screws on sale, mm, longest first.
const LONG: &[f64] = &[60.0, 50.0, 45.0, 40.0, 35.0, 30.0, 25.0, 20.0, 16.0];
/// Least a screw must hold in the top, mm.
const HOLD: f64 = 8.0;
/// What of a usual screw goes into the top at most, mm: a longer one gains nothing.
const DEEP_ENOUGH: f64 = 20.0;
/// Diameter of the usual screw, mm.
const SCREW: f64 = 4.0;
/// Width and length of the usual button, mm.
const BUTTON: (f64, f64) = (25.0, 45.0);
/// Its tongue: thickness, and how far it reaches into the rail, mm.
const TONGUE: (f64, f64) = (9.0, 10.0);
/// From the top of the rail to the slot, mm.
const DOWN: f64 = 12.0;
/// Least of a button behind its tongue, mm: its screw must not split it.
const BEHIND: f64 = 12.0;
/// Room before a tongue at the bottom of its slot, mm.
const BEFORE: f64 = 1.0;
/// Greatest distance of buttons, and from the ends of a rail to the outer ones, mm.
const SPACING: f64 = 300.0;
/// See `SPACING`.
const INSET: f64 = 75.0;
/// How much wider than its screw a slot is, mm.
const SLOT_ROOM: f64 = 0.5;
/// How much wider than two diameters of the screw its washer and the bore for it are, mm.
const WASHER: f64 = 2.0;
/// Steps of the widths of slots and bores in a job in inches, and of the lengths of slots, mm.
const BIT_STEP: f64 = INCH / 16.0;
/// See `BIT_STEP`.
const LONG_STEP: f64 = INCH / 8.0;

/// How a rail stands under the top, and what moves, piece coordinates, mm.
struct Under {
    top: usize,
    rail: usize,
    m: Meeting,
    /// Out of the rail's inner face.
    inner: DVec3,
    /// Along the rail.
    run: DVec3,
    /// Where the row's middle stands along the run.
    middle: f64,
    /// What of the rail lies under the top.
    length: f64,
    /// What the top moves square to the rail.
    out: f64,
    /// What it moves along the rail.
    along: f64,
}

impl Joinery for Buttons {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn ties(&self) -> &'static [Tie] {
        &[
            Tie::Either("move", "season"),
            Tie::Only("button", "by", "buttons"),
            Tie::Only("tongue", "by", "buttons"),
            Tie::Only("down", "by", "buttons"),
        ]
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let top = bench.part(work, 0)?;
        bench.part(work, 1)?;
        let rails = work.parts.get(1).into_iter().flatten().map(|p| p.0).filter(|p| *p < bench.placed.len());
        rails
            .map(|rail| {
                let under = under(bench, work, top, rail)?;
                match work.options.text("by") {
                    Some("slotted screws") => slotted(bench, work, &under),
                    _ => buttoned(bench, work, &under),
                }
            })
            .collect()
    }
}

/// How a rail stands under the top.
fn under(bench: &Bench<'_>, work: &Work, top: usize, rail: usize) -> Result<Under, Problem> {
    bench.check_pair(work, top, rail)?;
    bench.stand_square(work, Pair { a: top, b: rail }, "buttons lie in a groove along the rail")?;
    let m = bench.touching(work, top, rail)?;
    let rect = bench.contact(work, top, rail, m)?;
    // The inner face looks to the middle of the top: the buttons stand inside the rails.
    let side = rect.across;
    let inner =
        if side.dot(bench.placed[top].centre() - bench.placed[rail].centre()) < 0.0 { -side } else { side };
    // A movement that is asked for is that across the grain: along it a top moves next to
    // nothing.
    let moves = |way: DVec3| {
        work.options
            .number("move")
            .map(|by| if bench.placed[top].axis_along(way) == Some(1) { by } else { 0.0 })
            .or_else(|| edge_moves(bench, top, way, points(bench, work)))
            .ok_or_else(|| unknown_wood(bench, work, top, "write `move` with how far an edge of it moves"))
    };
    let middle = rect.along.dot(rect.centre);
    let (out, along) = (moves(inner)?, moves(rect.along)?);
    Ok(Under { top, rail, m, inner, run: rect.along, middle, length: rect.length, out, along })
}

/// Places along the rail.
fn row(bench: &Bench<'_>, work: &Work, under: &Under, wide: f64) -> Result<Vec<DVec3>, Problem> {
    let row = Row { spacing: SPACING, inset: INSET, apart: wide + 2.0 * WALL, edge: 0.5 * wide + WALL };
    let places = row::places(bench, work, &row, under.length, &Named { one: "button", many: "buttons" })?;
    let n = under.m.normal;
    let face = under.inner * bench.placed[under.rail].reach(under.inner).1 + n * under.m.face;
    Ok(places.into_iter().map(|p| face + under.run * (under.middle + p)).collect())
}

/// Diameter and length of the screws that go `through` a thickness into the top.
fn screw(bench: &Bench<'_>, work: &Work, under: &Under, through: f64) -> Result<(f64, f64), Problem> {
    let (lo, hi) = bench.placed[under.top].reach(under.m.normal);
    // The point must not show in the top, which is the face one sees.
    let most = through + hi - lo - WALL;
    let asked = work.options.pair("screw");
    // Of the lengths on sale the longest that neither shows nor gains nothing.
    let fits = |l: &f64| *l <= most + NOISE && *l <= through + DEEP_ENOUGH;
    let usual = LONG.iter().copied().find(fits).unwrap_or(0.0);
    let (thick, length) = asked.unwrap_or_else(|| bench.usual_screw((SCREW, usual)));
    let (code, message) = if length > most + NOISE {
        let left = bench.mm((most + WALL - length).max(0.0));
        (
            "breaks-through",
            format!("a screw {} long leaves {left} of `{}`", bench.mm(length), bench.name(under.top)),
        )
    } else if length < through + HOLD - NOISE {
        let holds = bench.mm((length - through).max(0.0));
        (
            "screw-too-short",
            format!("a screw {} long holds {holds} in `{}`", bench.mm(length), bench.name(under.top)),
        )
    } else {
        return Ok((thick, length));
    };
    Err(bench.error(work, code, message, &[under.top]).help(format!(
        "it goes through {} first: use one of {} to {}",
        bench.mm(through),
        bench.figure(through + HOLD),
        bench.mm(most)
    )))
}

/// A button and the slot for its tongue, mm.
struct Button {
    /// Width and length of its block.
    wide: f64,
    long: f64,
    /// Thickness of its tongue.
    tongue: f64,
    /// How far its tongue reaches into the rail.
    reach: f64,
    /// From the top to the slot.
    down: f64,
    /// The slot.
    slot: Oblong,
}

impl Button {
    /// The button asked for, or the usual one.
    fn of(bench: &Bench<'_>, work: &Work, under: &Under) -> Self {
        let (wide, long) = bench.two(work, "button", BUTTON);
        let (tongue, reach) = bench.two(work, "tongue", TONGUE);
        let down = bench.length(work, "down", DOWN);
        // As deep as the tongue comes in when the top has moved, and as long as it
        // travels along the rail.
        let slot = Oblong {
            length: wide + tongue + ROOM + 2.0 * under.along,
            width: tongue + ROOM,
            depth: reach + under.out + BEFORE,
        };
        Self { wide, long, tongue, reach, down, slot }
    }

    /// What is told of so many of them.
    fn facts(&self, under: &Under, count: usize, pilot: Bore) -> Buttoned {
        let Oblong { length, width, depth } = self.slot;
        // One figure is told, the greater: it is the one that a slot cut too short
        // would stop.
        let moves = under.out.max(under.along);
        Buttoned { count, moves, slot: [length, width, depth], down: self.down, pilot }
    }

    /// Thickness of its block.
    fn block(&self) -> f64 {
        self.down + self.tongue
    }

    /// Its shape: x from the rail under the top, y up, z along the rail; its shoulder
    /// stands at nought.
    fn body(&self) -> Prism {
        let back = self.long - self.reach;
        let foot = -self.block();
        let outline = Outline::polygon(vec![
            DVec2::new(-self.reach, foot),
            DVec2::new(back, foot),
            DVec2::new(back, 0.0),
            DVec2::new(0.0, 0.0),
            DVec2::new(0.0, -self.down),
            DVec2::new(-self.reach, -self.down),
        ]);
        Prism { at: Placement::IDENTITY, outline, from: -0.5 * self.wide, to: 0.5 * self.wide }
    }
}

/// Least wood over a slot for buttons, mm (common practice, no source).
const LEAST_DOWN: f64 = 6.0;

/// Refuses a button that rail or screw have no room for.
fn room(bench: &Bench<'_>, work: &Work, under: &Under, button: &Button) -> Result<(), Problem> {
    let (lo, hi) = bench.placed[under.rail].reach(under.inner);
    if button.slot.depth > hi - lo - WALL + NOISE {
        let message = format!(
            "a slot {} deep leaves {} of `{}`: the tongue takes {}, the top moves by {}",
            bench.mm(button.slot.depth),
            bench.mm((hi - lo - button.slot.depth).max(0.0)),
            bench.name(under.rail),
            bench.mm(button.reach),
            bench.mm(under.out)
        );
        return Err(bench
            .error(work, "breaks-through", message, &[under.rail])
            .help("make the tongue shorter, or the rail thicker"));
    }
    if button.long < button.reach + under.out + BEHIND {
        let message = format!(
            "a button {} long has no room for its screw behind a tongue of {}",
            bench.mm(button.long),
            bench.mm(button.reach)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[under.rail])
            .help("write its width first, and make it longer"));
    }
    // Measured from the top's underside, as the button is.
    let foot = bench.placed[under.rail].reach(-under.m.normal).1 + under.m.face;
    if button.down + button.slot.width > foot - WALL + NOISE {
        let message = format!(
            "a slot {} down leaves nothing of `{}` below it",
            bench.mm(button.down + button.slot.width),
            bench.name(under.rail)
        );
        let most = foot - WALL - button.slot.width;
        let help = if most >= LEAST_DOWN {
            format!("make `down` {} or less", bench.in_script(most))
        } else {
            format!(
                "the rail is too low for buttons: make it {} high at least, or hold the top with `by: \"slotted screws\"` or by `screws` through the rail",
                bench.mm(LEAST_DOWN + button.slot.width + WALL)
            )
        };
        return Err(bench.error(work, "breaks-through", message, &[under.rail]).help(help));
    }
    Ok(())
}

/// Slots in the rail and the buttons in them.
fn buttoned(bench: &Bench<'_>, work: &Work, under: &Under) -> Result<Made, Problem> {
    let button = Button::of(bench, work, under);
    room(bench, work, under, &button)?;
    let Button { slot, down, .. } = button;
    let block = button.block();
    let (thick, length) = screw(bench, work, under, block)?;
    let bit = bench.drills(under.top, thick).pilot;
    let n = under.m.normal;
    let mut made = Made { parts: vec![under.top, under.rail], ways_in: vec![n], ..Made::default() };
    let (mut blocks, mut screws) = (Vec::new(), Vec::new());
    for place in row(bench, work, under, slot.length)? {
        let mouth = place - n * (down + 0.5 * slot.width);
        let shape = pocket(mouth, under.run, -under.inner, slot);
        made.cuts.extend(shape.map(|shape| Sawn { part: under.rail, kind: CutKind::Mortise, shape }));
        // In the middle of what of the button lies under the top, however far it has
        // moved.
        let from = place + under.inner * (0.5 * (button.long - button.reach + under.out));
        let pilot = Prism::hole(from, n, length - block, bit);
        made.cuts.extend(pilot.map(|shape| Sawn { part: under.top, kind: CutKind::ScrewHole, shape }));
        // Drawn at the bench: as much room before the shoulder as behind the tongue.
        let origin = place + under.inner * under.out;
        blocks.push(Placement { origin, x: under.inner, y: n, z: under.inner.cross(n) });
        screws.extend(Placement::looking(from - n * block, n, under.run));
    }
    let pilot = Bore { wide: bit, deep: length - block };
    made.facts = Facts::Hanging(Hanging::Buttoned(button.facts(under, blocks.len(), pilot)));
    let block = sizes([button.long, button.wide, block]);
    let item = Wooden::Button(block, sizes([button.tongue, button.reach])).into();
    made.inserts.push(Insert { item, at: blocks, body: Some(button.body()) });
    let item = Fastener::Screw(sizes([thick, length])).into();
    made.inserts.push(Insert { item, at: screws, body: Some(rod(thick, length)) });
    Ok(made)
}

/// Slotted holes in a rail, mm.
struct Slots {
    /// Width of the rail and of what lies under the screws' heads.
    wide: f64,
    high: f64,
    through: f64,
    /// Diameter and length of the screws.
    screw: (f64, f64),
    /// Diameter of their pilot holes.
    pilot: f64,
    /// Width of the slot, and of the bore for washer and head.
    shank: f64,
    head: f64,
    /// How far the top moves either way, and which way: the slot lies so.
    by: f64,
    way: DVec3,
    /// The same as it is told: in inches what a rule shows of it.
    moves: f64,
}

impl Slots {
    /// What is told of so many of them.
    fn facts(&self, count: usize) -> Slotted {
        let (thick, length) = self.screw;
        let Oblong { length: slot, width, .. } = self.under_head();
        Slotted {
            count,
            thick,
            length,
            moves: self.moves,
            slot: [slot, width],
            pilot: Bore { wide: self.pilot, deep: length - self.through },
        }
    }

    /// The slot under a screw's head.
    fn under_head(&self) -> Oblong {
        Oblong { length: self.shank + 2.0 * self.by, width: self.shank, depth: self.through }
    }

    /// The bore for head and washer below it.
    fn bore(&self) -> Oblong {
        Oblong { length: self.head + 2.0 * self.by, width: self.head, depth: self.high - self.through }
    }
}

/// Slotted holes as screw and top need them; a problem where the rail is too thin.
fn slots(bench: &Bench<'_>, work: &Work, under: &Under) -> Result<Slots, Problem> {
    let (lo, hi) = bench.grown[under.rail].reach(under.m.normal);
    let high = hi - lo;
    let through = high.min(UNDER_HEAD);
    let screw = screw(bench, work, under, through)?;
    let pilot = bench.drills(under.top, screw.0).pilot;
    let inch = bench.job.unit == Unit::Inch;
    // In inches slot and bore are as wide as a bit is sold.
    let bit = |wide: f64| if inch { (wide / BIT_STEP - NOISE).ceil() * BIT_STEP } else { wide };
    let (shank, head) = (bit(screw.0 + SLOT_ROOM), bit(2.0 * screw.0 + WASHER));
    // The slot runs one way only, that of the greater movement: along the grain there
    // is next to none.
    let outwards = under.out > under.along;
    let (by, way) = if outwards { (under.out, under.inner) } else { (under.along, under.run) };
    // And as long as lets both of its ends be set by a mark of a rule.
    let long = shank + 2.0 * by;
    let by = if inch { 0.5 * ((long / LONG_STEP - NOISE).ceil() * LONG_STEP - shank) } else { by };
    let breadth = bench.placed[under.rail].reach(under.inner);
    let wide = breadth.1 - breadth.0;
    let need = head + 2.0 * WALL + if outwards { 2.0 * by } else { 0.0 };
    if wide >= need - NOISE {
        let moves = if inch { measure::down(Unit::Inch, by) } else { by };
        return Ok(Slots { wide, high, through, screw, pilot, shank, head, by, way, moves });
    }
    let message = format!(
        "slotted holes that let the top move {} need {} of `{}`, which is {} thick",
        bench.mm(by),
        bench.mm(need),
        bench.name(under.rail),
        bench.mm(wide)
    );
    Err(bench.error(work, "does-not-fit", message, &[under.rail]).help("use buttons, or a thicker rail"))
}

/// Screws up through the rail in slotted holes.
fn slotted(bench: &Bench<'_>, work: &Work, under: &Under) -> Result<Made, Problem> {
    let n = under.m.normal;
    let slots = slots(bench, work, under)?;
    let Slots { high, through, head, way, .. } = slots;
    let (thick, length) = slots.screw;
    let mut made = Made { parts: vec![under.top, under.rail], ways_in: vec![n], ..Made::default() };
    let mut at = Vec::new();
    for place in row(bench, work, under, head + 2.0 * under.along)? {
        let mouth = place - under.inner * (0.5 * slots.wide);
        let slot = pocket(mouth, way, -n, slots.under_head());
        made.cuts.extend(slot.map(|shape| Sawn { part: under.rail, kind: CutKind::Slot, shape }));
        // A high rail is bored from below until a screw of usual length comes through.
        if high > through + TOUCH {
            let bore = pocket(mouth - n * through - n * (high - through), way, n, slots.bore());
            made.cuts.extend(bore.map(|shape| Sawn { part: under.rail, kind: CutKind::Slot, shape }));
        }
        let pilot = Prism::hole(mouth, n, length - through, slots.pilot);
        made.cuts.extend(pilot.map(|shape| Sawn { part: under.top, kind: CutKind::ScrewHole, shape }));
        at.extend(Placement::looking(mouth - n * through, n, under.run));
    }
    made.facts = Facts::Hanging(Hanging::Slotted(slots.facts(at.len())));
    made.inserts.push(Insert {
        item: Fastener::WashedScrew(sizes([thick, length])).into(),
        at,
        body: Some(rod(thick, length)),
    });
    Ok(made)
}
