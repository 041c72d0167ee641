//! Hanging cleats: a strip on the piece hooks over a bevelled strip on the wall.

use super::burden::drawn;
use crate::geometry::{DVec2, DVec3, Outline, Placement, trig};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Meeting, Pair, Rect, TOUCH, shared};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::seen::wood;
use crate::joinery::bench::takes::LENGTH;
use crate::joinery::bench::tolerance::{LEVEL, NOISE, PARALLEL};
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::hanging::{Cleat, Hanging};
use crate::joinery::facts::inserts::{Heads, Inserted, Screwed};
use crate::joinery::facts::item::{Fastener, Item, Size, Support, sizes};
use crate::joinery::facts::traits::Traits;
use crate::joinery::inserts::screws::places;
use crate::measure::Unit;
use crate::model::{Arg, OptionKind, OptionSpec, Takes, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;
use crate::timber::screws::{Hold, together};

/// The word `hanging_cleat`.
pub(in crate::joinery) struct HangingCleat;

/// What `hanging_cleat` says of itself.
static WORD: Word = Word {
    name: "hanging_cleat",
    args: &[
        Arg { name: "hung", takes: Takes::Part },
        Arg { name: "wall", takes: Takes::Part },
        Arg { name: "part", takes: Takes::Part },
    ],
    options: &[
        OptionSpec {
            key: "bevel",
            kind: OptionKind::Angle { min: 15.0, max: 60.0 },
            default: &[Usual::Angle(BEVEL)],
            says: "tilt of the saw, degrees from square, for the edges that hook together; 30 is usual too",
        },
        OptionSpec {
            key: "screw",
            kind: OptionKind::Pair,
            default: &[
                Usual::Length(SCREW),
                Usual::Words(", as long as leaves "),
                Usual::Length(WALL),
                Usual::Words(" of the part"),
            ],
            says: "screws that hold the hung half to the part, such as \"4.5x40\"",
        },
        OptionSpec {
            key: "spacing",
            kind: LENGTH,
            default: &[Usual::Length(SPACING), Usual::Words(", less where what hangs asks for more screws")],
            says: "greatest distance between these screws",
        },
        OptionSpec {
            key: "fixing",
            kind: OptionKind::Text,
            default: &[
                Usual::Words("wall fixing ⌀ "),
                Usual::Bare(FIXING),
                Usual::Words(", rated for wall and load"),
            ],
            says: "what holds the wall half to the wall, as it is bought",
        },
        OptionSpec {
            key: "fixing_hole",
            kind: OptionKind::Length { min: 3.0, max: 14.0 },
            default: &[Usual::Length(FIXING_HOLE)],
            says: "diameter of the holes for these fixings",
        },
        OptionSpec {
            key: "fixing_spacing",
            kind: OptionKind::Length { min: 40.0, max: 1000.0 },
            default: &[Usual::Length(FIXING_SPACING)],
            says: "greatest distance between these fixings: that of the studs where there are any",
        },
    ],
    says: "hangs a piece on the wall: the first strip is screwed to a part of the piece, the second to the wall, and \
           the bevelled edge of the first hooks over that of the second. Draw the first strip standing on the second, \
           both between the part and the wall; the first grows down by its bevel",
    rule: "bevel 45°, also 30°; both strips out of one board ripped at that angle; strips as long as the piece allows; \
           fixings at most 400 mm apart, one in each stud (common practice, no source)",
    example: "hanging_cleat(hung, wall, rail, #{ bevel: 45, screw: \"4.5x35\" });",
};

/// Diameter of the screws where nothing is said, mm.
const SCREW: f64 = 4.5;
/// Lengths of screws on sale, mm, longest first.
const LONG: &[f64] = &[100.0, 80.0, 70.0, 60.0, 50.0, 45.0, 40.0, 35.0, 30.0, 25.0, 20.0, 16.0];

/// How many thicknesses of the strip a usual screw is long at most.
const LONGEST: f64 = 2.5;
/// Share of what the screws bear that is used at most: the joints still let boards in and
/// make them longer.
const IN_HAND: f64 = 0.95;
/// Screws stand so many diameters apart at least (common practice, no source).
const APART: f64 = 8.0;
/// More screws than this no strip has.
const MOST_SCREWS: u32 = 200;
/// Greatest distance of the screws, and of the fixings in the wall, mm: a stud's.
const SPACING: f64 = 200.0;
/// See `SPACING`.
const FIXING_SPACING: f64 = 400.0;
/// The usual bevel, degrees: it draws in as much as it lets down.
const BEVEL: f64 = 45.0;
/// Hole for a wall fixing, and the fixing, mm.
const FIXING_HOLE: f64 = 6.5;
/// See `FIXING_HOLE`.
const FIXING: f64 = 6.0;

/// How the strips lie, piece coordinates.
struct Hung {
    strip: usize,
    wall: usize,
    part: usize,
    /// The hung strip on the part; its normal looks to the wall.
    back: Meeting,
    /// The height the strips were drawn to meet at.
    level: f64,
    /// Thickness of the strips, mm.
    thick: f64,
    /// What the bevel falls in that thickness, mm.
    slope: f64,
    /// Degrees.
    bevel: f64,
}

impl Joinery for HangingCleat {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { hangs_on_wall: true, hooks_on: true, ..Traits::default() }
    }

    fn grow(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Growth>, Problem> {
        let hung = hung(bench, work)?;
        Ok(vec![Growth { part: hung.strip, toward: DVec3::NEG_Z, by: hung.slope, lipping: None }])
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let hung = hung(bench, work)?;
        Ok(vec![held(bench, work, &hung)?, hooked(bench, work, &hung)])
    }
}

/// How the strips lie as placed; a problem where they cannot hang anything.
fn hung(bench: &Bench<'_>, work: &Work) -> Result<Hung, Problem> {
    let (hung, wall, part) = (bench.part(work, 0)?, bench.part(work, 1)?, bench.part(work, 2)?);
    bench.check_pair(work, hung, wall)?;
    bench.check_pair(work, hung, part)?;
    bench.check_pair(work, wall, part)?;
    let why = "a cleat is bevelled along its edge and lies flat";
    bench.stand_square(work, Pair { a: hung, b: part }, why)?;
    bench.stand_square(work, Pair { a: hung, b: wall }, why)?;
    let back = bench.touching(work, hung, part)?;
    let seat = bench.touching(work, hung, wall)?;
    let (h, w) = (&bench.placed[hung], &bench.placed[wall]);
    let help = "draw the hung strip standing on the wall strip, both flat against the wall side of the part";
    if seat.normal.z < PARALLEL || back.normal.z.abs() > LEVEL || h.axis_along(back.normal).is_none() {
        let message = format!(
            "`{}` does not stand on `{}` beside `{}`",
            bench.name(hung),
            bench.name(wall),
            bench.name(part)
        );
        return Err(bench.error(work, "no-such-hanging", message, &[hung, wall, part]).help(help));
    }
    let (mine, theirs) = (h.reach(back.normal), w.reach(back.normal));
    // The bevels meet over the whole thickness only where both strips lie between the
    // same two planes.
    if (mine.0 - theirs.0).abs() > TOUCH || (mine.1 - theirs.1).abs() > TOUCH {
        let message = format!(
            "`{}` and `{}` do not lie in one plane: they are {} and {} thick, {} apart at the wall",
            bench.name(hung),
            bench.name(wall),
            bench.mm(mine.1 - mine.0),
            bench.mm(theirs.1 - theirs.0),
            bench.mm((mine.1 - theirs.1).abs())
        );
        return Err(bench.error(work, "not-flush", message, &[hung, wall]).help(help));
    }
    // The bevel runs through the whole strip: what it falls in that is what the strip is
    // longer by.
    let thick = mine.1 - mine.0;
    let bevel = work.options.number("bevel").unwrap_or(BEVEL);
    let (sin, cos) = trig::sin_cos(bevel.to_radians());
    let slope = thick * sin / cos;
    let hung = Hung { strip: hung, wall, part, back, level: seat.face, thick, slope, bevel };
    high_enough(bench, work, &hung)?;
    Ok(hung)
}

/// Refuses a wall strip whose bevel leaves no height for its fixings.
fn high_enough(bench: &Bench<'_>, work: &Work, hung: &Hung) -> Result<(), Problem> {
    let Hung { wall, slope, bevel, .. } = *hung;
    let low = bench.placed[wall].reach(DVec3::Z);
    let hole = work.options.number("fixing_hole").unwrap_or(FIXING_HOLE);
    if low.1 - low.0 >= slope + hole + 2.0 * WALL - NOISE {
        return Ok(());
    }
    let message = format!(
        "a bevel of {bevel}° leaves `{}` {} high at the wall; its fixings need {}",
        bench.name(wall),
        bench.mm((low.1 - low.0 - slope).max(0.0)),
        bench.mm(hole + 2.0 * WALL)
    );
    Err(bench
        .error(work, "does-not-fit", message, &[wall])
        .help(format!("make the strip {} high or more, or thinner", bench.mm(slope + hole + 2.0 * WALL))))
}

/// Out of the wall half, square to its bevel, and a point of it.
fn bevel(bench: &Bench<'_>, hung: &Hung) -> (DVec3, DVec3) {
    let blank = &bench.placed[hung.strip];
    let out = hung.back.normal;
    let (sin, cos) = trig::sin_cos(hung.bevel.to_radians());
    let run = out.cross(DVec3::Z);
    let point = out * blank.reach(out).0 + DVec3::Z * hung.level + run * run.dot(blank.centre());
    (point, DVec3::Z * cos + out * sin)
}

/// The hung strip screwed to the part.
fn held(bench: &Bench<'_>, work: &Work, hung: &Hung) -> Result<Made, Problem> {
    let (strip, part) = (&bench.placed[hung.strip], &bench.placed[hung.part]);
    let Some(rect) = shared(strip, part, hung.back.normal, hung.back.face) else {
        return bench.contact(work, hung.strip, hung.part, hung.back).map(|_| Made::default());
    };
    let (thick, length) = screw(bench, work, hung)?;
    if rect.width < thick + 2.0 * WALL - NOISE {
        return Err(narrow(bench, work, hung, (thick, rect.width)));
    }
    let drills = bench.drills(hung.part, thick);
    let out = hung.back.normal;
    let mut made = Made { parts: vec![hung.strip, hung.part], ..Made::default() };
    let mut at = Vec::new();
    let row = Row { length: rect.length, high: rect.centre.z, thick, deep: length - hung.thick };
    for place in screw_places(bench, work, hung, &row) {
        let mouth = rect.centre + rect.along * place;
        let head = mouth + out * hung.thick;
        let through = Prism::hole(head, -out, hung.thick, drills.clear);
        let pilot = Prism::hole(mouth, -out, length - hung.thick, drills.pilot);
        for (part, shape) in [(hung.strip, through), (hung.part, pilot)] {
            made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::ScrewHole, shape }));
        }
        at.extend(Placement::looking(head, -out, rect.along));
    }
    made.facts = Facts::Inserts(Inserted::Screwed(Screwed {
        count: at.len(),
        rows: 1,
        staggered: false,
        thick,
        length,
        clear: drills.clear,
        pilot: Bore { wide: drills.pilot, deep: length - hung.thick },
        heads: Heads::Unsaid,
        slots: None,
    }));
    let item = Fastener::Screw(sizes([thick, length])).into();
    made.inserts.push(Insert { item, at, body: Some(rod(thick, length)) });
    let (point, normal) = bevel(bench, hung);
    let shape = Prism::half_space(point, -normal);
    made.cuts.extend(shape.map(|shape| Sawn { part: hung.strip, kind: CutKind::Bevel, shape }));
    Ok(made)
}

/// The row of screws that holds the hung strip, mm.
struct Row {
    /// Length of what they stand in.
    length: f64,
    /// Their height, z of the piece.
    high: f64,
    /// Their diameter.
    thick: f64,
    /// How far they go into the part.
    deep: f64,
}

/// Places of the screws along the strip: as far apart as is asked for, or as many as bear
/// what hangs, but no nearer than they split the strip.
fn screw_places(bench: &Bench<'_>, work: &Work, hung: &Hung, row: &Row) -> Vec<f64> {
    let asked = work.options.number("spacing");
    let usual = places(bench, row.length, asked.unwrap_or(SPACING), None);
    let Some(piece) = bench.job.parts.get(hung.strip).map(|part| part.piece) else { return usual };
    if asked.is_some() {
        return usual;
    }
    let burden = drawn(bench, piece, hung.wall);
    let part = bench.job.parts.get(hung.part);
    let (gravity, softwood) = wood(part.and_then(|part| bench.job.stock.get(part.stock.0)));
    let hold = Hold { wide: row.thick, deep: row.deep, gravity, softwood };
    let least = u32::try_from(usual.len()).unwrap_or(0);
    let bear = |count: &u32| {
        let n = f64::from(*count);
        let (pull, across) = (burden.pull(row.high) / n, burden.weight() / n);
        hold.bears(pull, across) * IN_HAND >= together(pull, across)
    };
    let most = (row.length / (APART * row.thick)).max(1.0);
    let count = (least..MOST_SCREWS).take_while(|n| f64::from(*n) <= most).find(bear);
    // Where no number bears it, as many as there is room for, and the check says so.
    let fits = |n: &u32| f64::from(*n) <= most;
    let count = count.or_else(|| (least..MOST_SCREWS).take_while(fits).last());
    count.map_or(usual, |count| places(bench, row.length, SPACING, Some(count)))
}

/// The strip lies on too little of the part for a screw, mm.
fn narrow(bench: &Bench<'_>, work: &Work, hung: &Hung, (thick, width): (f64, f64)) -> Problem {
    let message = format!(
        "a screw of {} has no room: `{}` lies on `{}` by {} only",
        bench.mm(thick),
        bench.name(hung.strip),
        bench.name(hung.part),
        bench.mm(width)
    );
    bench
        .error(work, "does-not-fit", message, &[hung.strip, hung.part])
        .help("let the strip lie on more of the part")
}

/// Diameter and length of the screws; a problem where none holds.
fn screw(bench: &Bench<'_>, work: &Work, hung: &Hung) -> Result<(f64, f64), Problem> {
    let (lo, hi) = bench.placed[hung.part].reach(hung.back.normal);
    // Through the strip and into the part, but not out of it: there it would show.
    let room = hung.thick + hi - lo - WALL;
    let asked = work.options.pair("screw");
    // No longer than the strip asks for: a long screw in a thin rail splits it before
    // it holds more.
    let most = room.min(LONGEST * hung.thick);
    // An inch shop has lengths of its own between those in millimetres.
    let best = match bench.job.unit {
        Unit::Mm => LONG.iter().copied().find(|l| *l <= most + NOISE).unwrap_or(0.0),
        Unit::Inch => most,
    };
    let (thick, length) = asked.unwrap_or_else(|| bench.usual_screw((SCREW, best)));
    if length > room + WALL - NOISE {
        let message = format!(
            "a screw {} long through `{}` comes out of `{}`, which is {} thick",
            bench.mm(length),
            bench.name(hung.strip),
            bench.name(hung.part),
            bench.mm(hi - lo)
        );
        return Err(bench
            .error(work, "breaks-through", message, &[hung.strip, hung.part])
            .help(format!("use a screw {} long at most", bench.mm(room.floor()))));
    }
    if length < hung.thick + 2.0 * thick - NOISE {
        let (held, needs) = ((length - hung.thick).max(0.0), 2.0 * thick);
        let message = format!(
            "`{}` holds {} of a screw through `{}`; hanging needs {} or more",
            bench.name(hung.part),
            bench.beside(held, needs),
            bench.name(hung.strip),
            bench.beside(needs, held)
        );
        return Err(bench
            .error(work, "screw-too-short", message, &[hung.strip, hung.part])
            .help("use a longer screw, or hang the piece by a thicker part: a rail behind a thin back"));
    }
    Ok((thick, length))
}

/// The wall strip: its bevel and the holes of its fixings.
fn hooked(bench: &Bench<'_>, work: &Work, hung: &Hung) -> Made {
    let blank = &bench.placed[hung.wall];
    let out = hung.back.normal;
    let (point, normal) = bevel(bench, hung);
    let mut made =
        Made { parts: vec![hung.wall, hung.strip], ways_in: vec![DVec3::NEG_Z], ..Made::default() };
    let shape = Prism::half_space(point, normal);
    made.cuts.extend(shape.map(|shape| Sawn { part: hung.wall, kind: CutKind::Bevel, shape }));
    let rect = fixing_line(bench, hung);
    let wide = work.options.number("fixing_hole").unwrap_or(FIXING_HOLE);
    let spacing = bench.length(work, "fixing_spacing", FIXING_SPACING);
    let mut at = Vec::new();
    for place in places(bench, rect.length, spacing, None) {
        let mouth = rect.centre + rect.along * place;
        let shape = Prism::hole(mouth, out, hung.thick, wide);
        made.cuts.extend(shape.map(|shape| Sawn { part: hung.wall, kind: CutKind::FittingHole, shape }));
        at.extend(Placement::looking(mouth, out, rect.along));
    }
    made.facts = Facts::Hanging(Hanging::Cleat(Cleat {
        bevel: hung.bevel,
        across: hung.slope,
        fixings: at.len(),
        hole: wide,
        from_edge: rect.centre.z - blank.reach(DVec3::Z).0,
    }));
    made.inserts.push(Insert { item: wall_fixing(work, Some(FIXING)), at, body: None });
    made.warnings.extend(short(bench, work, hung));
    made
}

/// The line of the fixings, on the room side of the wall strip, half way up what
/// stands at the wall.
fn fixing_line(bench: &Bench<'_>, hung: &Hung) -> Rect {
    let blank = &bench.placed[hung.wall];
    let out = hung.back.normal;
    let run = out.cross(DVec3::Z);
    let (lo, hi) = blank.reach(run);
    let low = blank.reach(DVec3::Z).0;
    let centre = out * blank.reach(out).0
        + run * (0.5 * (lo + hi))
        + DVec3::Z * (0.5 * (low + hung.level - hung.slope));
    Rect { centre, along: run, across: DVec3::Z, length: hi - lo, width: hung.level - hung.slope - low }
}

/// A strip much shorter than what hangs on it lets the piece tilt.
fn short(bench: &Bench<'_>, work: &Work, hung: &Hung) -> Option<Problem> {
    let run = hung.back.normal.cross(DVec3::Z);
    let piece = bench.job.parts.get(hung.strip)?.piece;
    // Against the whole piece, not the part it is screwed to: that is what tilts.
    let own = bench.placed.iter().zip(&bench.job.parts).filter(|(_, p)| p.piece == piece);
    let (lo, hi) = own.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), (b, _)| {
        let (from, to) = b.reach(run);
        (lo.min(from), hi.max(to))
    });
    let (from, to) = bench.placed[hung.wall].reach(run);
    if to - from > 0.5 * (hi - lo) - TOUCH {
        return None;
    }
    let message = format!(
        "`{}` is {} long under a piece {} wide, less than half of it",
        bench.name(hung.wall),
        bench.mm(to - from),
        bench.mm(hi - lo)
    );
    Some(
        bench
            .warning(work, "cleat-too-short", message, &[hung.wall])
            .help("the piece can tilt and misses the studs: make both strips longer"),
    )
}

/// What fixes a piece to the wall: as the script names it, else a usual one.
pub(in crate::joinery) fn wall_fixing(work: &Work, usual: Option<f64>) -> Item {
    let named = work.options.text("fixing").map(|name| Item::Named(name.to_owned()));
    named.unwrap_or_else(|| Support::WallFixing(usual.map(Size::of)).into())
}

/// A screw or rod along z, for pictures.
pub(in crate::joinery) fn rod(thick: f64, length: f64) -> Prism {
    let outline = Outline::circle(DVec2::ZERO, 0.5 * thick);
    Prism { at: Placement::IDENTITY, outline, from: 0.0, to: length }
}
