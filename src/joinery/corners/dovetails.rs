//! Dovetails: tails on one board between pins on the other, at a corner.

use crate::joinery::bench::corner::{BEYOND, Corner, corner, species, stock, wooden};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::facts::Facts;
use crate::joinery::facts::corners::{CornerJoint, Dovetailed};
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::measure::{INCH, Unit};
use crate::model::{Arg, OptionKind, OptionSpec, StockKind, Takes, Usual, Word, Work};
use crate::problem::{Problem, wording};

/// The word `dovetails`.
pub(in crate::joinery) struct Dovetails;

/// What `dovetails` says of itself.
static WORD: Word = Word {
    name: "dovetails",
    args: &[Arg { name: "tails", takes: Takes::Part }, Arg { name: "pins", takes: Takes::Part }],
    options: &[
        OptionSpec {
            key: "kind",
            kind: OptionKind::Choice(&["through", "lapped"]),
            default: &[Usual::Words("\"through\", or \"lapped\" where `lap` is given")],
            says: "whether the tails show on the face of the second board or end under a lap of it",
        },
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 1, max: 100 },
            default: &[Usual::Words("a tail to about every two thicknesses of the first board")],
            says: "number of tails; a half-pin stands at each end",
        },
        OptionSpec {
            key: "pitch",
            kind: OptionKind::Ratio { min: 4.0, max: 12.0 },
            default: &[
                Usual::Bare(SOFTWOOD),
                Usual::Words(" in a softwood, "),
                Usual::Bare(HARDWOOD),
                Usual::Words(" in a hardwood, "),
                Usual::Bare(ANY_WOOD),
                Usual::Words(" where the stock names no known species"),
            ],
            says: "slope of the tails: 8 is one in eight, 7.1 degrees",
        },
        OptionSpec {
            key: "pin",
            kind: OptionKind::Length { min: 1.0, max: 200.0 },
            default: &[Usual::Words("about a third of a tail")],
            says: "width of the pins at their narrow face",
        },
        OptionSpec {
            key: "half_pin",
            kind: OptionKind::Length { min: 1.0, max: 200.0 },
            default: &[Usual::Words("as `pin`, and what is left over by tails of whole half millimetres")],
            says: "width of the half-pin at each end at its narrow face",
        },
        OptionSpec {
            key: "lap",
            kind: OptionKind::Length { min: 0.0, max: 100.0 },
            default: &[
                Usual::Words("a quarter of the second board's thickness, at least "),
                Usual::Length(WALL),
            ],
            says: "wood of the second board left before the ends of the tails",
        },
    ],
    says: "joins two boards at a corner with tails on the first and pins on the second; draw both to the outside \
           of the corner, as for a mitre: lapped tails are shortened by themselves",
    rule: "slope 1:6 in softwood and 1:8 in hardwood, pins about a third of the tails and a half-pin at each end, \
           a lap a quarter of the thickness (common practice, no source)",
    example: "dovetails(side, front, #{ count: 4, pitch: 8, lap: 5 });",
};

/// Tails as wide as this many thicknesses and more are too few (common
/// practice, no source).
const WIDEST: f64 = 5.0;

/// The usual lap as a share of the thickness.
const LAP: f64 = 0.25;
/// One in this: slopes in softwood, hardwood and wood that is not known. Softwood crushes,
/// so its tails slope more; steep ones in hardwood break at their corners.
const SOFTWOOD: f64 = 6.0;
/// See `SOFTWOOD`.
const HARDWOOD: f64 = 8.0;
/// See `SOFTWOOD`.
const ANY_WOOD: f64 = 7.0;
/// Widths of a pin in a tail and the pin beside it.
const PINS: f64 = 4.0;
/// Share of a step taken off before tails are rounded, so that half-pins are rather
/// wider than narrower.
const LESS: f64 = 0.25;
/// Most tails that are tried.
const MOST: f64 = 100.0;
/// Steps of setting out: half a millimetre, or so many to an inch.
const STEP: f64 = 0.5;
/// See `STEP`.
const STEPS_TO_INCH: f64 = 16.0;

/// The sizes of a row of dovetails, mm.
#[derive(Clone, Copy, Debug)]
struct Row {
    count: u32,
    /// One in this.
    pitch: f64,
    /// Narrow width of a pin.
    pin: f64,
    /// Narrow width of a half-pin.
    half: f64,
    /// Wide end of a tail.
    tail: f64,
    /// How far each side of a tail leans over its length.
    lean: f64,
    /// Wood before the ends of the tails; 0 if they run through.
    lap: f64,
    /// Length of the tails.
    long: f64,
}

impl Row {
    /// What a tail keeps where it is narrowest.
    fn neck(&self) -> f64 {
        self.tail - 2.0 * self.lean
    }

    /// Where the wide end of tail `i` begins.
    fn begin(&self, i: u32) -> f64 {
        self.half + f64::from(i) * (self.tail + self.pin)
    }
}

impl Joinery for Dovetails {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { takes_up: TakesUp::LetIn, ..Traits::default() }
    }

    fn grow(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Growth>, Problem> {
        let (a, b) = bench.pair(work)?;
        let corner = corner(bench, work, a, b)?;
        let lap = lap(bench, work, &corner)?;
        // The board was drawn to the outside of the corner; behind a lap it ends that
        // much sooner.
        let back = Growth { part: a, toward: corner.a.out, by: -lap, lipping: None };
        Ok(if lap > 0.0 { vec![back] } else { Vec::new() })
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        wooden(bench, work, &[a, b])?;
        let corner = corner(bench, work, a, b)?;
        let row = row(bench, work, &corner)?;
        let mut made =
            Made { parts: vec![a, b], glued: true, ways_in: vec![corner.b.out], ..Made::default() };
        pin_sockets(bench, &corner, &row, &mut made.cuts);
        tail_sockets(&corner, &row, &mut made.cuts);
        made.warnings = corner.short_grain(bench, work, "tails and pins");
        made.warnings.extend(in_sheet(bench, work, [a, b]));
        made.warnings.extend(few(bench, work, &corner, &row));
        made.facts = Facts::Corners(CornerJoint::Dovetailed(Dovetailed {
            count: row.count as usize,
            pitch: row.pitch,
            lap: (row.lap > 0.0).then_some(row.lap),
            pin: row.pin,
            half_pin: row.half,
            tail: row.tail,
        }));
        Ok(vec![made])
    }
}

/// Wood left before the tails, mm; 0 for through dovetails.
fn lap(bench: &Bench<'_>, work: &Work, corner: &Corner) -> Result<f64, Problem> {
    let asked = work.options.number("lap").filter(|lap| *lap > 0.0);
    let kind = work.options.text("kind");
    let thick = corner.b.thick;
    let pins = bench.name(corner.b.part);
    if let (Some(lap), Some("through")) = (asked, kind) {
        let message = format!("through dovetails have no lap, but one of {} is asked for", bench.mm(lap));
        return Err(bench
            .error(work, "contradiction", message, &[corner.a.part, corner.b.part])
            .help("leave `lap` out, or write `kind: \"lapped\"`"));
    }
    if asked.is_none() && kind != Some("lapped") {
        return Ok(0.0);
    }
    let lap = asked.unwrap_or_else(|| step(bench, LAP * thick).max(WALL));
    if lap < WALL - NOISE {
        let message = format!(
            "a lap of {} before the tails is so thin that they break through the face of `{pins}`",
            bench.mm(lap)
        );
        return Err(bench.error(work, "breaks-through", message, &[corner.b.part]).help(format!(
            "leave at least {}; a quarter of the thickness is {}",
            bench.mm(WALL),
            bench.mm(LAP * thick)
        )));
    }
    if thick - lap < WALL {
        let message = format!(
            "a lap of {} leaves no length for tails in `{pins}`, {} thick",
            bench.mm(lap),
            bench.mm(thick)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[corner.a.part, corner.b.part])
            .help(format!("a quarter of the thickness is {}", bench.mm(LAP * thick))));
    }
    Ok(lap)
}

/// Slope by the species of the board with the tails.
fn pitch(bench: &Bench<'_>, work: &Work, part: usize) -> f64 {
    work.options.number("pitch").unwrap_or_else(|| match species(bench, part) {
        Some(wood) if wood.softwood() => SOFTWOOD,
        Some(_) => HARDWOOD,
        None => ANY_WOOD,
    })
}

/// The sizes of the row; an error where they leave too little.
fn row(bench: &Bench<'_>, work: &Work, corner: &Corner) -> Result<Row, Problem> {
    let lap = lap(bench, work, corner)?;
    let long = corner.b.thick - lap;
    let pitch = pitch(bench, work, corner.a.part);
    let sized = |count: u32| {
        let n = f64::from(count);
        let mut open = step(bench, corner.wide / (PINS * n + 1.0)).max(WALL);
        let inches = bench.job.unit == Unit::Inch;
        // On marks of a rule half-pins come out on one as well: between evenly many tails by a
        // narrower pin, between an odd number by narrower tails.
        if inches
            && count.is_multiple_of(2)
            && is_odd(bench, corner.wide + open)
            && open - step_of(bench) > WALL
        {
            open -= step_of(bench);
        }
        let pin = work.options.number("pin").unwrap_or(open);
        // Tails are whole steps wide, which are easier to mark, and the
        // half-pins take what is left over.
        let mut even = step(bench, (corner.wide - (n + 1.0) * pin) / n - LESS * step_of(bench));
        if inches && !count.is_multiple_of(2) && is_odd(bench, corner.wide + even) {
            even -= step_of(bench);
        }
        let half =
            work.options.number("half_pin").unwrap_or(0.5 * (corner.wide - n * even - (n - 1.0) * pin));
        let tail = (corner.wide - (n - 1.0) * pin - 2.0 * half) / n;
        Row { count, pitch, pin, half, tail, lean: long / pitch, lap, long }
    };
    let row = if let Some(count) = work.options.count("count") {
        sized(count.max(1))
    } else {
        let wish = tails(corner.wide / (2.0 * corner.a.thick));
        // A tail to every two thicknesses, and fewer only where their necks get too
        // narrow.
        (1..=wish).rev().map(sized).find(fits).unwrap_or_else(|| sized(1))
    };
    // The outer pins are often the thinner ones, since they take what whole steps leave
    // over.
    let thin = row.pin.min(row.half);
    if thin < WALL - NOISE {
        let message = format!(
            "pins {} wide at the narrow face break off `{}`",
            bench.mm(thin),
            bench.name(corner.b.part)
        );
        return Err(bench
            .error(work, "pins-too-thin", message, &[corner.b.part])
            .help(format!("give them at least {}", bench.mm(WALL))));
    }
    if fits(&row) {
        return Ok(row);
    }
    // The cure is tried before it is told: with pins as asked for, fewer tails need not
    // help.
    let most = (1..row.count).rev().find(|n| fits(&sized(*n)));
    Err(too_many(bench, work, corner, &row, most))
}

/// A tail keeps at its neck as much as a pin, and what does not break.
fn fits(row: &Row) -> bool {
    row.neck() > WALL - NOISE
}

/// Tails with too narrow necks; `most` of them would fit.
fn too_many(bench: &Bench<'_>, work: &Work, corner: &Corner, row: &Row, most: Option<u32>) -> Problem {
    let neck = row.neck();
    let message = format!(
        "{} between pins {} wide, where `{}` and `{}` meet on {}, {} at the neck",
        wording::count(row.count as usize, "tail", "tails"),
        bench.mm(row.pin),
        bench.name(corner.a.part),
        bench.name(corner.b.part),
        bench.mm(corner.wide),
        if neck > 0.0 { format!("would be only {} wide", bench.mm(neck)) } else { "would be cut off".into() }
    );
    let help = match most {
        Some(n) => format!("ask for at most {n}, or for narrower pins"),
        None => "use a steeper `pitch`, narrower pins or a wider board".into(),
    };
    bench.error(work, "does-not-fit", message, &[corner.a.part, corner.b.part]).help(help)
}

/// To the nearest step.
fn step(bench: &Bench<'_>, length: f64) -> f64 {
    let step = step_of(bench);
    (length / step).round() * step
}

/// Whether a length is a whole and odd number of steps.
fn is_odd(bench: &Bench<'_>, length: f64) -> bool {
    let half = length / step_of(bench) / 2.0;
    (half - half.floor() - 0.5).abs() < NOISE
}

/// Half a millimetre, or a sixteenth of an inch.
fn step_of(bench: &Bench<'_>) -> f64 {
    if bench.job.unit == Unit::Inch { INCH / STEPS_TO_INCH } else { STEP }
}

/// A number of tails, whole.
fn tails(n: f64) -> u32 {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to 1..=100 first")]
    let n = n.round().clamp(1.0, MOST) as u32;
    n
}

/// The spaces between the tails, and the two beside the outer ones.
fn pin_sockets(bench: &Bench<'_>, corner: &Corner, row: &Row, cuts: &mut Vec<Sawn>) {
    let limb = corner.a;
    let (low, high) = corner.flush(bench, limb);
    // From beyond the end of the tails to their shoulder, leaning as they do.
    let over = BEYOND / row.pitch;
    let (end, shoulder) = (row.lap - BEYOND, row.lap + row.long);
    let mut push = |outline: [(f64, f64); 4]| {
        let shape = corner.cut(limb, &outline, (-BEYOND, limb.thick + BEYOND));
        cuts.push(Sawn { part: limb.part, kind: CutKind::PinSocket, shape });
    };
    // Where the board is flush the half-pin's socket is open at the edge; else it stops
    // at the corner's end.
    let first = if low { -BEYOND } else { 0.0 };
    let begin = row.begin(0);
    push([(first, end), (begin - over, end), (begin + row.lean, shoulder), (first, shoulder)]);
    for i in 1..row.count {
        let (from, to) = (row.begin(i) - row.pin, row.begin(i));
        push([(from + over, end), (to - over, end), (to + row.lean, shoulder), (from - row.lean, shoulder)]);
    }
    let last = corner.wide + if high { BEYOND } else { 0.0 };
    let from = corner.wide - row.half;
    push([(from + over, end), (last, end), (last, shoulder), (from - row.lean, shoulder)]);
}

/// The spaces between the pins.
fn tail_sockets(corner: &Corner, row: &Row, cuts: &mut Vec<Sawn>) {
    let limb = corner.b;
    // At their wide side they end with the face or the lap, so that the cut is
    // as wide as the socket.
    let (neck_at, under) = (row.lap + row.long + BEYOND, BEYOND / row.pitch);
    for i in 0..row.count {
        let (from, to) = (row.begin(i), row.begin(i) + row.tail);
        let lean = row.lean + under;
        let outline = [(from, row.lap), (to, row.lap), (to - lean, neck_at), (from + lean, neck_at)];
        let shape = corner.end_cut(limb, &outline, (-BEYOND, corner.a.thick));
        cuts.push(Sawn { part: limb.part, kind: CutKind::TailSocket, shape });
    }
}

/// A warning for each board that is cut from a sheet.
fn in_sheet(bench: &Bench<'_>, work: &Work, parts: [usize; 2]) -> Vec<Problem> {
    let sheet = |part: &usize| matches!(stock(bench, *part).map(|s| &s.kind), Some(StockKind::Sheet { .. }));
    let told = |part: usize| {
        let message = format!(
            "dovetails in `{}` stand in the edge of {}, whose plies or particles break out",
            bench.name(part),
            stock(bench, part).map_or("a sheet", |s| s.name.as_str())
        );
        let help = "use solid wood, or `finger_joint`, `mitre` with `loose_tenons`, or `rebate`";
        bench.warning(work, "dovetails-in-sheet", message, &[part]).help(help)
    };
    parts.into_iter().filter(sheet).map(told).collect()
}

/// A warning where few tails hold a wide board.
fn few(bench: &Bench<'_>, work: &Work, corner: &Corner, row: &Row) -> Option<Problem> {
    // No error: few tails hold, but what is between them is free to cup.
    (row.tail > WIDEST * corner.a.thick + TOUCH).then(|| {
        let message = format!(
            "{} over {}, {} wide each, are too few for a board {} thick: it cups between the pins",
            wording::count(row.count as usize, "tail", "tails"),
            bench.mm(corner.wide),
            bench.mm(row.tail),
            bench.mm(corner.a.thick)
        );
        let wish = tails(corner.wide / (2.0 * corner.a.thick));
        bench
            .warning(work, "few-dovetails", message, &[corner.a.part, corner.b.part])
            .help(format!("a tail to every two thicknesses makes {wish}"))
    })
}
