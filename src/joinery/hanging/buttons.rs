//! A solid top held to its base so that it can move: wood buttons in slots of
//! the rails, or screws in slotted holes.

use super::hanging_cleat::rod;
use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Meeting, TOUCH};
use crate::joinery::bench::pocket::{WALL, pocket};
use crate::joinery::bench::row::{self, COUNT, Named, Row};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::ties::Tie;
use crate::joinery::bench::worked::Insert;
use crate::joinery::channels::movement::{edge_moves, points, unknown_wood};
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::hanging::{Buttoned, Hanging, Slotted};
use crate::joinery::facts::item::{Fastener, Wooden, sizes};
use crate::joinery::inserts::screws::PILOT;
use crate::model::{Arg, OptionKind, OptionSpec, Takes, Word, Work};
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
            default: "buttons",
            says: "wood buttons in slots of the rails, or screws up through the rails in slotted holes",
        },
        OptionSpec {
            key: "screw",
            kind: OptionKind::Pair,
            default: "4 mm, as long as leaves 3 mm of the top",
            says: "screws into the top, such as \"4x30\"",
        },
        OptionSpec {
            key: "button",
            kind: OptionKind::Pair,
            default: "25 mm and 45 mm",
            says: "width and length of a button, its tongue included, such as \"25x45\"",
        },
        OptionSpec {
            key: "tongue",
            kind: OptionKind::Pair,
            default: "9 mm and 10 mm",
            says: "thickness of the button's tongue and how far it reaches into the rail",
        },
        OptionSpec {
            key: "down",
            kind: OptionKind::Length { min: 6.0, max: 60.0 },
            default: "12 mm",
            says: "from the top of the rail to the slot",
        },
        OptionSpec {
            key: "move",
            kind: OptionKind::Length { min: 0.0, max: 40.0 },
            default: "by the wood and width of the top",
            says: "how far each edge of the top may move either way",
        },
        OptionSpec {
            key: "season",
            kind: OptionKind::Ratio { min: 0.5, max: 12.0 },
            default: "3",
            says: "points of moisture content by which the top gets damper, or drier, than at the bench",
        },
        COUNT,
        OptionSpec {
            key: "spacing",
            kind: OptionKind::Length { min: 40.0, max: 1000.0 },
            default: "300 mm",
            says: "greatest distance between them",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 0.0, max: 1000.0 },
            default: "75 mm, a quarter of a short rail",
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
const LONG: [f64; 9] = [60.0, 50.0, 45.0, 40.0, 35.0, 30.0, 25.0, 20.0, 16.0];
/// Least a screw must hold in the top, mm.
const HOLD: f64 = 8.0;

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
    let m = bench.touching(work, top, rail)?;
    let rect = bench.contact(work, top, rail, m)?;
    let side = rect.across;
    let inner =
        if side.dot(bench.placed[top].centre() - bench.placed[rail].centre()) < 0.0 { -side } else { side };
    let moves = |way: DVec3| {
        work.options
            .number("move")
            .map(|by| if bench.placed[top].axis_along(way) == Some(1) { by } else { 0.0 })
            .or_else(|| edge_moves(bench, top, way, points(work)))
            .ok_or_else(|| unknown_wood(bench, work, top, "write `move` with how far an edge of it moves"))
    };
    let middle = rect.along.dot(rect.centre);
    let (out, along) = (moves(inner)?, moves(rect.along)?);
    Ok(Under { top, rail, m, inner, run: rect.along, middle, length: rect.length, out, along })
}

/// Places along the rail.
fn row(bench: &Bench<'_>, work: &Work, under: &Under, wide: f64) -> Result<Vec<DVec3>, Problem> {
    let row = Row { spacing: 300.0, inset: 75.0, apart: wide + 2.0 * WALL, edge: 0.5 * wide + WALL };
    let places = row::places(bench, work, &row, under.length, &Named { one: "button", many: "buttons" })?;
    let n = under.m.normal;
    let face = under.inner * bench.placed[under.rail].reach(under.inner).1 + n * under.m.face;
    Ok(places.into_iter().map(|p| face + under.run * (under.middle + p)).collect())
}

/// Diameter and length of the screws that go `through` a thickness into the top.
fn screw(bench: &Bench<'_>, work: &Work, under: &Under, through: f64) -> Result<(f64, f64), Problem> {
    let (lo, hi) = bench.placed[under.top].reach(under.m.normal);
    let most = through + hi - lo - WALL;
    let asked = work.options.pair("screw");
    let usual = LONG.into_iter().find(|l| *l <= most + 1e-6 && *l <= through + 20.0).unwrap_or(0.0);
    let (thick, length) = asked.unwrap_or((4.0, usual));
    let (code, says) = if length > most + 1e-6 {
        let left = bench.mm((most + WALL - length).max(0.0));
        (
            "breaks-through",
            format!("a screw {} long leaves {left} of `{}`", bench.mm(length), bench.name(under.top)),
        )
    } else if length < through + HOLD - 1e-6 {
        let holds = bench.mm((length - through).max(0.0));
        (
            "screw-too-short",
            format!("a screw {} long holds {holds} in `{}`", bench.mm(length), bench.name(under.top)),
        )
    } else {
        return Ok((thick, length));
    };
    Err(bench.error(work, code, says, &[under.top]).help(format!(
        "it goes through {} first: use one of {} to {}",
        bench.mm(through),
        bench.figure(through + HOLD),
        bench.mm(most)
    )))
}

/// A button and the slot for its tongue, mm.
struct Button {
    /// Length of its block.
    long: f64,
    /// How far its tongue reaches into the rail.
    reach: f64,
    /// From the top to the slot.
    down: f64,
    /// Length, width and depth of the slot.
    slot: (f64, f64, f64),
}

/// Refuses a button that rail or screw have no room for.
fn room(bench: &Bench<'_>, work: &Work, under: &Under, button: &Button) -> Result<(), Problem> {
    let (lo, hi) = bench.placed[under.rail].reach(under.inner);
    if button.slot.2 > hi - lo - WALL + 1e-6 {
        let says = format!(
            "a slot {} deep leaves {} of `{}`: the tongue takes {}, the top moves by {}",
            bench.mm(button.slot.2),
            bench.mm((hi - lo - button.slot.2).max(0.0)),
            bench.name(under.rail),
            bench.mm(button.reach),
            bench.mm(under.out)
        );
        return Err(bench
            .error(work, "breaks-through", says, &[under.rail])
            .help("make the tongue shorter, or the rail thicker"));
    }
    if button.long < button.reach + under.out + 12.0 {
        let says = format!(
            "a button {} long has no room for its screw behind a tongue of {}",
            bench.mm(button.long),
            bench.mm(button.reach)
        );
        return Err(bench
            .error(work, "does-not-fit", says, &[under.rail])
            .help("write its width first, and make it longer"));
    }
    let foot = bench.placed[under.rail].reach(-under.m.normal).1 + under.m.face;
    if button.down + button.slot.1 > foot - WALL + 1e-6 {
        let says = format!(
            "a slot {} down leaves nothing of `{}` below it",
            bench.mm(button.down + button.slot.1),
            bench.name(under.rail)
        );
        return Err(bench.error(work, "breaks-through", says, &[under.rail]).help("make `down` less"));
    }
    Ok(())
}

/// Slots in the rail and the buttons in them.
fn buttoned(bench: &Bench<'_>, work: &Work, under: &Under) -> Result<Made, Problem> {
    let (wide, long) = work.options.pair("button").unwrap_or((25.0, 45.0));
    let (tongue, reach) = work.options.pair("tongue").unwrap_or((9.0, 10.0));
    let down = work.options.number("down").unwrap_or(12.0);
    let block = down + tongue;
    let slot = (wide + tongue + ROOM + 2.0 * under.along, tongue + ROOM, reach + under.out + 1.0);
    room(bench, work, under, &Button { long, reach, down, slot })?;
    let (thick, length) = screw(bench, work, under, block)?;
    let n = under.m.normal;
    let mut made = Made { parts: vec![under.top, under.rail], ways_in: vec![n], ..Made::default() };
    let (mut blocks, mut screws) = (Vec::new(), Vec::new());
    for place in row(bench, work, under, slot.0)? {
        let mouth = place - n * (down + 0.5 * slot.1);
        let shape = pocket(mouth, under.run, -under.inner, slot);
        made.cuts.extend(shape.map(|shape| Sawn { part: under.rail, kind: CutKind::Mortise, shape }));
        let from = place + under.inner * (0.5 * (long - reach + under.out));
        let pilot = Prism::hole(from, n, length - block, PILOT * thick);
        made.cuts.extend(pilot.map(|shape| Sawn { part: under.top, kind: CutKind::ScrewHole, shape }));
        // Drawn at the bench: as much room before the shoulder as behind the tongue.
        let origin = place + under.inner * under.out;
        blocks.push(Placement { origin, x: under.inner, y: n, z: under.inner.cross(n) });
        screws.extend(Placement::looking(from - n * block, n, under.run));
    }
    made.facts = Facts::Hanging(Hanging::Buttoned(Buttoned {
        count: blocks.len(),
        moves: under.out.max(under.along),
        slot: [slot.0, slot.1, slot.2],
        down,
        pilot: Bore { wide: PILOT * thick, deep: length - block },
    }));
    let item = Wooden::Button(sizes([long, wide, block]), sizes([tongue, reach])).into();
    made.inserts.push(Insert { item, at: blocks, body: Some(body(wide, long, (tongue, reach), down)) });
    let item = Fastener::Screw(sizes([thick, length])).into();
    made.inserts.push(Insert { item, at: screws, body: Some(rod(thick, length)) });
    Ok(made)
}

/// A button: x from the rail under the top, y up, z along the rail; its shoulder
/// stands at nought.
fn body(wide: f64, long: f64, (tongue, reach): (f64, f64), down: f64) -> Prism {
    let back = long - reach;
    let foot = -(down + tongue);
    let outline = Outline::polygon(vec![
        DVec2::new(-reach, foot),
        DVec2::new(back, foot),
        DVec2::new(back, 0.0),
        DVec2::new(0.0, 0.0),
        DVec2::new(0.0, -down),
        DVec2::new(-reach, -down),
    ]);
    Prism { at: Placement::IDENTITY, outline, from: -0.5 * wide, to: 0.5 * wide }
}

/// Screws up through the rail in slotted holes.
fn slotted(bench: &Bench<'_>, work: &Work, under: &Under) -> Result<Made, Problem> {
    let n = under.m.normal;
    let (lo, hi) = bench.grown[under.rail].reach(n);
    let high = hi - lo;
    let through = high.min(UNDER_HEAD);
    let (thick, length) = screw(bench, work, under, through)?;
    let (shank, head) = (thick + 0.5, 2.0 * thick + 2.0);
    // The slot lies the way the top moves.
    let (by, way) = if under.out > under.along { (under.out, under.inner) } else { (under.along, under.run) };
    let breadth = bench.placed[under.rail].reach(under.inner);
    let wide = breadth.1 - breadth.0;
    let need = head + 2.0 * WALL + if under.out > under.along { 2.0 * by } else { 0.0 };
    if wide < need - 1e-6 {
        let says = format!(
            "slotted holes that let the top move {} need {} of `{}`, which is {} thick",
            bench.mm(by),
            bench.mm(need),
            bench.name(under.rail),
            bench.mm(wide)
        );
        return Err(bench
            .error(work, "does-not-fit", says, &[under.rail])
            .help("use buttons, or a thicker rail"));
    }
    let mut made = Made { parts: vec![under.top, under.rail], ways_in: vec![n], ..Made::default() };
    let mut at = Vec::new();
    for place in row(bench, work, under, head + 2.0 * under.along)? {
        let mouth = place - under.inner * (0.5 * wide);
        let slot = pocket(mouth, way, -n, (shank + 2.0 * by, shank, through));
        made.cuts.extend(slot.map(|shape| Sawn { part: under.rail, kind: CutKind::Slot, shape }));
        if high > through + TOUCH {
            let from = mouth - n * through;
            let bore = pocket(from - n * (high - through), way, n, (head + 2.0 * by, head, high - through));
            made.cuts.extend(bore.map(|shape| Sawn { part: under.rail, kind: CutKind::Slot, shape }));
        }
        let pilot = Prism::hole(mouth, n, length - through, PILOT * thick);
        made.cuts.extend(pilot.map(|shape| Sawn { part: under.top, kind: CutKind::ScrewHole, shape }));
        at.extend(Placement::looking(mouth - n * through, n, under.run));
    }
    made.facts = Facts::Hanging(Hanging::Slotted(Slotted {
        count: at.len(),
        thick,
        length,
        moves: by,
        slot: [shank + 2.0 * by, shank],
        pilot: Bore { wide: PILOT * thick, deep: length - through },
    }));
    made.inserts.push(Insert {
        item: Fastener::WashedScrew(sizes([thick, length])).into(),
        at,
        body: Some(rod(thick, length)),
    });
    Ok(made)
}
