//! Shelf pins: rows of holes in the sides, so that a shelf can be moved.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Meeting, TOUCH, meeting};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::inserts::Inserted;
use crate::joinery::facts::item::{Fastener, Size};
use crate::joinery::facts::{self, Facts};
use crate::model::{Arg, OptionKind, OptionSpec, Side, Takes, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `shelf_pins`.
pub(in crate::joinery) struct ShelfPins;

/// A shelf and what it lies between.
static SHELF_AND_SIDES: &[Arg] =
    &[Arg { name: "shelf", takes: Takes::Part }, Arg { name: "sides", takes: Takes::Parts }];

/// What `shelf_pins` says of itself.
static WORD: Word = Word {
    name: "shelf_pins",
    args: SHELF_AND_SIDES,
    options: &[
        OptionSpec {
            key: "up",
            kind: OptionKind::Count { min: 0, max: 40 },
            default: &[Usual::Count(HOLES)],
            says: "holes above the one the shelf stands on",
        },
        OptionSpec {
            key: "down",
            kind: OptionKind::Count { min: 0, max: 40 },
            default: &[Usual::Count(HOLES)],
            says: "holes below it",
        },
        OptionSpec {
            key: "pitch",
            kind: OptionKind::Length { min: 16.0, max: 200.0 },
            default: &[Usual::Sold(PITCH)],
            says: "from hole to hole",
        },
        OptionSpec {
            key: "setback",
            kind: OptionKind::Length { min: 10.0, max: 300.0 },
            default: &[Usual::Sold(SETBACK)],
            says: "from the front and back edge of the shelf to the rows",
        },
        OptionSpec {
            key: "pin",
            kind: OptionKind::Pair,
            default: &[Usual::SoldPair(PIN.wide, PIN.deep)],
            says: "diameter of the pin and depth of its hole, such as \"5x12\"",
        },
    ],
    says: "lays a shelf on pins in rows of holes, so that it can be moved up and down",
    rule: "holes 5 mm, 32 mm apart, 37 mm from the edge, four pins to a shelf (common practice, no source)",
    example: "shelf_pins(shelf, [left, right], #{ up: 3, down: 3 });",
};

/// Most space between the shelf's end and a side: past that it slips off, mm.
const SLIP: f64 = 3.0;
/// Least wood behind a hole, mm.
const BEHIND: f64 = 2.0;

/// The usual pin: diameter, and depth of its hole.
const PIN: Bore = Bore { wide: 5.0, deep: 12.0 };
/// From the edges of the shelf to the rows, and between the holes of a row, mm: those of
/// the system.
const SETBACK: f64 = 37.0;
/// See `SETBACK`.
const PITCH: f64 = 32.0;
/// Holes over the middle one, and under it.
const HOLES: u32 = 2;
/// How far a pin stands out of its side, mm.
const STANDS_OUT: f64 = 6.0;

impl Joinery for ShelfPins {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let shelf = bench.part(work, 0)?;
        let sides: Vec<usize> = work.parts.get(1).into_iter().flatten().map(|p| p.0).collect();
        let mut made = Vec::new();
        for side in sides.into_iter().filter(|side| *side < bench.placed.len()) {
            bench.check_pair(work, shelf, side)?;
            made.push(rows(bench, work, shelf, side)?);
        }
        if made.is_empty() {
            let message = format!("`{}` is given no side for its pins", bench.name(shelf));
            return Err(bench
                .error(work, "missing-argument", message, &[shelf])
                .help("name the sides it lies between: `[left, right]`"));
        }
        Ok(made)
    }
}

/// How a shelf stands between its sides at one of them.
struct Stand {
    shelf: usize,
    side: usize,
    m: Meeting,
    up: DVec3,
    /// Along the shelf's edge.
    along: DVec3,
}

/// Where the rows of one side stand, mm.
struct Rows {
    /// The pins' hole.
    pin: Bore,
    /// From the edges of the shelf.
    setback: f64,
    /// The two of them, along the shelf's edge.
    lines: [f64; 2],
    /// Between neighbours of a row.
    pitch: f64,
    /// Holes in each.
    holes: usize,
    /// The lowest of them.
    low: f64,
    /// The one the shelf is drawn on.
    seat: f64,
}

/// The rows in one side.
fn rows(bench: &Bench<'_>, work: &Work, shelf: usize, side: usize) -> Result<Made, Problem> {
    let stand = stands(bench, work, shelf, side)?;
    let rows = set_out(bench, work, &stand)?;
    let Stand { m, up, along, .. } = stand;
    let Bore { wide: pin, deep } = rows.pin;
    let mut made = Made { parts: vec![shelf, side], ..Made::default() };
    let mut pins = Vec::new();
    for row in rows.lines {
        let at = |height: f64| m.normal * m.face + along * row + up * height;
        let mut height = rows.low;
        for _ in 0..rows.holes {
            let shape = Prism::hole(at(height), -m.normal, deep, pin);
            made.cuts.extend(shape.map(|shape| Sawn { part: side, kind: CutKind::FittingHole, shape }));
            height += rows.pitch;
        }
        pins.extend(Placement::looking(at(rows.seat), -m.normal, up));
    }
    let body = Prism {
        at: Placement::IDENTITY,
        outline: Outline::circle(DVec2::ZERO, 0.5 * pin),
        from: -STANDS_OUT,
        to: deep,
    };
    made.inserts.push(Insert { item: Fastener::ShelfPin(Size::of(pin)).into(), at: pins, body: Some(body) });
    made.facts = Facts::Inserts(Inserted::ShelfPins(facts::inserts::ShelfPins {
        rows: rows.lines.len(),
        holes: rows.holes,
        hole: rows.pin,
        pitch: rows.pitch,
        setback: rows.setback,
    }));
    Ok(made)
}

/// How the shelf meets the side, and which way is up; a problem where pins could not
/// carry it.
fn stands(bench: &Bench<'_>, work: &Work, shelf: usize, side: usize) -> Result<Stand, Problem> {
    let (board, wall) = (&bench.placed[shelf], &bench.placed[side]);
    let m = meeting(board, wall);
    // A shelf has to be lifted in between its sides, so some gap is right.
    if m.gap > SLIP + TOUCH {
        let message = format!(
            "`{}` ends {} from `{}`: on its pins it could slip off",
            bench.name(shelf),
            bench.mm(m.gap),
            bench.name(side)
        );
        return Err(bench
            .error(work, "parts-do-not-meet", message, &[shelf, side])
            .help(format!("leave 1 mm or so at each end, {} at most", bench.mm(SLIP))));
    }
    if m.gap < -TOUCH {
        return Err(bench.crossing(work, shelf, side, m));
    }
    let thin = board.axis(2);
    // A shelf may be drawn with its face mark below.
    let up = if thin.dot(Side::Top.normal()) < 0.0 { -thin } else { thin };
    if wall.axis_along(m.normal) != Some(2) || wall.axis_along(up).is_none() {
        let message = format!("`{}` does not end on a face of `{}`", bench.name(shelf), bench.name(side));
        return Err(bench
            .error(work, "not-square", message, &[shelf, side])
            .help("shelf pins stand in the faces of upright sides"));
    }
    Ok(Stand { shelf, side, m, up, along: m.normal.cross(up) })
}

/// The pins asked for; a problem where their holes leave too little behind them.
fn pin(bench: &Bench<'_>, work: &Work, side: usize) -> Result<Bore, Problem> {
    let wall = bench.placed[side].size.z;
    let pin = work.options.pair("pin").map_or(PIN, |(wide, deep)| Bore { wide, deep });
    if pin.deep <= wall - BEHIND + NOISE {
        return Ok(pin);
    }
    let message = format!(
        "a hole {} deep leaves {} of `{}`",
        bench.mm(pin.deep),
        bench.mm((wall - pin.deep).max(0.0)),
        bench.name(side)
    );
    Err(bench
        .error(work, "breaks-through", message, &[side])
        .help(format!("{} at most, or drill one side at a time", bench.mm(wall - BEHIND))))
}

/// The rows as asked for; a problem where shelf or side has no room for them.
fn set_out(bench: &Bench<'_>, work: &Work, stand: &Stand) -> Result<Rows, Problem> {
    let Stand { shelf, side, up, along, .. } = *stand;
    let (board, wall) = (&bench.placed[shelf], &bench.placed[side]);
    let hole = pin(bench, work, side)?;
    let pin = hole.wide;
    let setback = work.options.number("setback").unwrap_or(SETBACK);
    let (near, far) = board.reach(along);
    if far - near < 2.0 * setback + 2.0 * pin {
        let message = format!(
            "`{}` is {} deep: two rows {} from its edges do not fit",
            bench.name(shelf),
            bench.mm(far - near),
            bench.mm(setback)
        );
        return Err(bench.error(work, "does-not-fit", message, &[shelf]).help("make `setback` less"));
    }
    let pitch = work.options.number("pitch").unwrap_or(PITCH);
    let [down, above] = ["down", "up"].map(|key| work.options.count(key).unwrap_or(HOLES));
    // The shelf lies on the pins: their middles are half a pin below it.
    let seat = board.reach(up).0 - 0.5 * pin;
    let (low, high) = (seat - pitch * f64::from(down), seat + pitch * f64::from(above));
    let held = wall.reach(up);
    // A hole nearer to an end than that splits out.
    if low < held.0 + 2.0 * pin || high > held.1 - 2.0 * pin {
        let message = format!(
            "the row of holes for `{}` runs out of `{}`: it reaches from {} to {} above its lower end",
            bench.name(shelf),
            bench.name(side),
            bench.mm(low - held.0),
            bench.mm(high - held.0)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[shelf, side])
            .help("make `up` or `down` less"));
    }
    let lines = [near + setback, far - setback];
    Ok(Rows { pin: hole, setback, lines, pitch, holes: (down + above) as usize + 1, low, seat })
}
