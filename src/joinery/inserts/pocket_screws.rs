//! Pocket screws: driven at a slope from pockets in a face of one part, out of
//! its end or edge, into another.

use crate::geometry::{DVec2, DVec3, Outline, Placement, trig};
use crate::joinery::bench::corner::{BEYOND, wooden};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Pair, side_of};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::row::{Ends, SetOut};
use crate::joinery::bench::seam::{Seam, seam};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::Facts;
use crate::joinery::facts::inserts::{Inserted, PocketScrewed};
use crate::joinery::facts::item::{Fastener, sizes};
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::{Problem, wording};
use crate::solid::Prism;

/// The word `pocket_screws`.
pub(in crate::joinery) struct PocketScrews;

/// What `pocket_screws` says of itself.
static WORD: Word = Word {
    name: "pocket_screws",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "screw",
            kind: OptionKind::Pair,
            default: &[
                screw(THIN),
                Usual::Words(" in parts up to "),
                Usual::Length(THIN.0),
                Usual::Words(", "),
                screw(MIDDLING),
                Usual::Words(" up to "),
                Usual::Bare(MIDDLING.0),
                Usual::Words(", "),
                screw(BROAD),
                Usual::Words(" up to "),
                Usual::Bare(BROAD.0),
                Usual::Words(", "),
                Usual::Screw(THICK_SCREW.0, THICK_SCREW.1),
                Usual::Words(" over that; a shorter one where its point would come out of the second part"),
            ],
            says: "diameter and length of the screw, such as \"4x32\"",
        },
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 1, max: 50 },
            default: &[
                Usual::Count(ALONE),
                Usual::Words(" where the parts meet on less than "),
                Usual::Length(ONE),
                Usual::Words(", else "),
                Usual::Count(TWO),
                Usual::Words(", and one more for every "),
                Usual::Length(FIELD),
                Usual::Words(" over "),
                Usual::Bare(FIELD),
            ],
            says: "number of screws; one stands in the middle of each of as many equal lengths",
        },
        OptionSpec {
            key: "face",
            kind: OptionKind::Side,
            default: &[Usual::Words("the side behind the face mark")],
            says: "the side of the piece that the face with the pockets looks to",
        },
    ],
    says: "screws the end or edge of the first part to the second from pockets in its face; the parts are drawn face \
           to face",
    rule: "pockets at 15 degrees and 9.5 mm wide, two fifths of the screw in the first part or less in a thin one, out at the middle of \
           its thickness; the screws tap the second part themselves (common practice, no source)",
    example: "pocket_screws(rail, stile, #{ screw: \"4x32\", count: 2, face: \"back\" });",
};

/// Slope of the pockets to the face, degrees.
const SLOPE: f64 = 15.0;
/// Diameter of a pocket, mm.
const POCKET: f64 = 9.5;
/// Share of the screw that is in the first part.
const SHARE: f64 = 0.4;

/// Least wood between a screw's head and the end, along the bore, mm.
const LEAST_SEAT: f64 = 4.0;
/// Skin over the shoulder of a pocket in a thin part, mm.
const SKIN: f64 = 0.25;

/// One set of pocket screws.
struct Row {
    /// Diameter and length of the screw, mm.
    screw: (f64, f64),
    /// The way the screws are driven.
    drive: DVec3,
    /// Where they leave the first part.
    mouths: Vec<DVec3>,
    /// Thickness of the first part, mm.
    thick: f64,
    /// From the shoulder of a pocket along the bore to the end, mm.
    seat: f64,
}

/// Screws by the thickness of the first part up to which they are taken: diameter and
/// length, mm (common practice, no source).
const SCREWS: &[UpTo] = &[THIN, MIDDLING, BROAD];
/// A thickness of the first part, and the screw that is taken up to it, mm.
type UpTo = (f64, (f64, f64));
/// See `SCREWS`.
const THIN: UpTo = (14.0, (4.0, 25.0));
/// See `SCREWS`.
const MIDDLING: UpTo = (20.0, (4.0, 32.0));
/// See `SCREWS`.
const BROAD: UpTo = (26.0, (4.0, 38.0));

/// The screw of a thickness, for the reference.
const fn screw((_, (thick, long)): UpTo) -> Usual {
    Usual::Screw(thick, long)
}

/// The screw for thicker parts.
const THICK_SCREW: (f64, f64) = (5.0, 64.0);
/// Length of seam that one more screw is taken for, mm.
const FIELD: f64 = 150.0;
/// Screws of a seam too short for two.
const ALONE: u32 = 1;
/// Screws of a seam that is not: one alone lets it turn.
const TWO: u32 = 2;
/// Seams shorter than this are held by one, mm.
const ONE: f64 = 40.0;
/// Most that are added to the first two.
const MORE: f64 = 40.0;
/// How much wider than its screw a pocket is at least, mm: the head needs a shoulder.
const HEAD: f64 = 2.0;

impl Joinery for PocketScrews {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        wooden(bench, work, &[a, b])?;
        let seam = seam(bench, work, a, b)?;
        let face = face(bench, work, &seam, (a, b))?;
        let row = row(bench, work, &seam, face, Pair { a, b });
        check(bench, work, &row, Pair { a, b }, &seam)?;
        let (sin, cos) = trig::sin_cos(SLOPE.to_radians());
        let (size, long) = row.screw;
        let seat = row.seat;
        // Far enough back that the whole round of the pocket is out of the face.
        let out = (0.5 * row.thick + 0.5 * POCKET * cos) / sin - seat + BEYOND;
        let mut made = Made { parts: vec![a, b], ..Made::default() };
        let mut at = Vec::new();
        for mouth in &row.mouths {
            let under = *mouth - row.drive * seat;
            let pocket = Prism::hole(under - row.drive * out, row.drive, out, POCKET);
            made.cuts.extend(pocket.map(|shape| Sawn { part: a, kind: CutKind::ScrewPocket, shape }));
            // Past the end by the slant of its round, so that the hole is open all round.
            let bore = Prism::hole(under, row.drive, seat + size * sin + BEYOND, size);
            made.cuts.extend(bore.map(|shape| Sawn { part: a, kind: CutKind::ScrewHole, shape }));
            at.extend(Placement::looking(under, row.drive, seam.run));
        }
        let body = Prism {
            at: Placement::IDENTITY,
            outline: Outline::circle(DVec2::ZERO, 0.5 * size),
            from: 0.0,
            to: long,
        };
        in_wood(bench, work, Pair { a, b }, at.iter().map(|place| body.within(place)))?;
        made.inserts.push(Insert {
            item: Fastener::PocketScrew(sizes([size, long])).into(),
            at,
            body: Some(body),
        });
        made.facts = Facts::Inserts(Inserted::PocketScrewed(PocketScrewed {
            count: row.mouths.len(),
            thick: size,
            length: long,
            from: side_of(face),
            pocket: POCKET,
            slope: SLOPE,
            shoulder: seat,
        }));
        Ok(vec![made])
    }
}

/// Out of the face the pockets are cut in.
fn face(bench: &Bench<'_>, work: &Work, seam: &Seam, (a, b): (usize, usize)) -> Result<DVec3, Problem> {
    // Behind the face mark, so that the pockets are out of sight where nothing is asked
    // for.
    let marked = bench.job.parts.get(a).map(|p| -p.face.normal());
    let asked = work.options.sides("face").and_then(|s| s.first()).map(|s| s.normal());
    let way = asked.or(marked).unwrap_or(seam.across);
    let lean = way.dot(seam.across);
    if lean.abs() > 0.5 {
        return Ok(seam.across * lean.signum());
    }
    let sides = [side_of(seam.across), side_of(-seam.across)].map(|s| format!("\"{}\"", s.name()));
    let message = format!("`{}` has no face to the {} to cut pockets in", bench.name(a), side_of(way).name());
    Err(bench
        .error(work, "no-such-edge", message, &[a, b])
        .help(format!("write `face: {}` or {}", sides[0], sides[1])))
}

/// Refuses a screw that comes out where shaping has taken wood of either part.
fn in_wood(
    bench: &Bench<'_>,
    work: &Work,
    pair: Pair,
    screws: impl Iterator<Item = Prism>,
) -> Result<(), Problem> {
    let all: Vec<bool> = screws.map(|screw| bench.stands_out(pair, &screw)).collect();
    let out = all.iter().filter(|out| **out).count();
    if out == 0 {
        return Ok(());
    }
    let message = format!(
        "{} of {} come out of the wood that shaping leaves of `{}` and `{}`",
        out,
        wording::count(all.len(), "pocket screw", "pocket screws"),
        bench.name(pair.a),
        bench.name(pair.b)
    );
    let help = "ask for fewer with `count`, use shorter ones with `screw`, or leave more wood there";
    Err(bench.error(work, "breaks-through", message, &pair.parts()).help(help))
}

/// Screws by the rule or as asked for, and where they come out.
fn row(bench: &Bench<'_>, work: &Work, seam: &Seam, face: DVec3, pair: Pair) -> Row {
    let board = &bench.grown[pair.a];
    let thick = board.size.z;
    let (sin, cos) = trig::sin_cos(SLOPE.to_radians());
    // The whole shoulder of a pocket lies under the face.
    let seat_of = |long: f64| (SHARE * long).min((0.5 * thick - 0.5 * POCKET * cos - SKIN) / sin);
    let far = bench.grown[pair.b].reach(-seam.m.normal);
    let holds = |(_, long): (f64, f64)| (far.1 - far.0) - (long - seat_of(long)) * cos >= WALL;
    let screw = work.options.pair("screw").unwrap_or_else(|| usual_screw(bench, thick, holds));
    let long = seam.along.length();
    let count = work.options.count("count").unwrap_or_else(|| {
        // Held before it is made whole: a length of any size must give a count.
        let more = ((long - FIELD) / FIELD).ceil().clamp(0.0, MORE);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to 0..=40 first")]
        let more = more as u32;
        if long < ONE { ALONE } else { TWO + more }
    });
    // Down out of the face and into the other part.
    let drive = -seam.m.normal * cos - face * sin;
    let (lo, hi) = board.reach(face);
    let middle = seam.m.normal * seam.m.face + face * (0.5 * (lo + hi));
    let run = seam.along.middle();
    let places = SetOut { length: long, count, ends: Ends::Shares, apart: POCKET + WALL }.places(bench);
    let mouths = places.into_iter().map(|at| middle + seam.run * (run + at)).collect();
    Row { screw, drive, mouths, thick, seat: seat_of(screw.1) }
}

/// The screw for a first part so thick: where its point would come out of the second the
/// longest shorter one, else it is told of the usual one.
fn usual_screw(bench: &Bench<'_>, thick: f64, holds: impl Fn((f64, f64)) -> bool) -> (f64, f64) {
    let usual = SCREWS.iter().find(|(most, _)| thick <= *most).map_or(THICK_SCREW, |(_, screw)| *screw);
    let shorter = SCREWS.iter().rev().map(|(_, screw)| *screw).filter(|screw| screw.1 < usual.1);
    let mut tried = std::iter::once(usual).chain(shorter).map(|metric| bench.usual_screw(metric));
    tried.find(|screw| holds(*screw)).unwrap_or_else(|| bench.usual_screw(usual))
}

/// The screws against the parts.
fn check(bench: &Bench<'_>, work: &Work, row: &Row, pair: Pair, seam: &Seam) -> Result<(), Problem> {
    // One fault is told at a time, the coarsest first: the later ones often go with it.
    side_by_side(bench, work, row, pair, seam)?;
    under_the_head(bench, work, row, pair)?;
    beside(bench, work, row, pair, seam)?;
    short_of_the_face(bench, work, row, pair, seam)
}

/// Refuses pockets that have no room beside one another.
fn side_by_side(bench: &Bench<'_>, work: &Work, row: &Row, pair: Pair, seam: &Seam) -> Result<(), Problem> {
    let Pair { a, b } = pair;
    let (first, second) = (bench.name(a), bench.name(b));
    let field = (seam.along.length()) / row.mouths.len() as f64;
    if field < POCKET + 2.0 * WALL {
        let message = format!(
            "{} need {} where `{first}` and `{second}` meet on {}",
            wording::count(row.mouths.len(), "pocket", "pockets"),
            bench.mm(row.mouths.len() as f64 * (POCKET + 2.0 * WALL)),
            bench.mm(seam.along.length())
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[a, b])
            .help("ask for fewer, or use wider parts"));
    }
    Ok(())
}

/// Refuses a part so thin that a pocket leaves nothing under the screw's head.
fn under_the_head(bench: &Bench<'_>, work: &Work, row: &Row, pair: Pair) -> Result<(), Problem> {
    let (Pair { a, b }, seat) = (pair, row.seat);
    let (sin, cos) = trig::sin_cos(SLOPE.to_radians());
    if seat < LEAST_SEAT {
        let message = format!(
            "a pocket in `{}`, {} thick, leaves {} of wood under the screw's head",
            bench.name(a),
            bench.mm(row.thick),
            bench.mm(seat.max(0.0))
        );
        let least = 2.0 * (LEAST_SEAT * sin + SKIN) + POCKET * cos;
        return Err(bench.error(work, "breaks-through", message, &[a, b]).help(format!(
            "use a part at least {} thick, or `screws` from the other part",
            bench.mm(least.ceil())
        )));
    }
    Ok(())
}

/// Refuses screws and pockets that the first part is too thin or too short for.
fn beside(bench: &Bench<'_>, work: &Work, row: &Row, pair: Pair, seam: &Seam) -> Result<(), Problem> {
    let (Pair { a, b }, (size, _)) = (pair, row.screw);
    let (first, second) = (bench.name(a), bench.name(b));
    if size + 2.0 * WALL > seam.thick() || size >= POCKET - HEAD {
        let message = format!(
            "a screw of {} has no room where `{first}` and `{second}` meet on {}",
            bench.mm(size),
            bench.mm(seam.thick())
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[a, b])
            .help("use a thinner screw, such as \"4x32\""));
    }
    let (sin, cos) = trig::sin_cos(SLOPE.to_radians());
    let back = bench.grown[a].reach(seam.m.normal);
    let reach = (0.5 * row.thick + 0.5 * POCKET * cos) / sin * cos;
    if reach > back.1 - back.0 {
        let message = format!(
            "the pockets run {} back from the end of `{first}`, which is only {} long there",
            bench.mm(reach),
            bench.mm(back.1 - back.0)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[a, b])
            .help("screw through from the other part with `screws`"));
    }
    Ok(())
}

/// Refuses screws whose points come out of the second part.
fn short_of_the_face(
    bench: &Bench<'_>,
    work: &Work,
    row: &Row,
    pair: Pair,
    seam: &Seam,
) -> Result<(), Problem> {
    let (Pair { a, b }, (size, long), seat) = (pair, row.screw, row.seat);
    let (first, second) = (bench.name(a), bench.name(b));
    let (_, cos) = trig::sin_cos(SLOPE.to_radians());
    let Some(point) = row.mouths.first().and_then(|m| Prism::hole(*m, row.drive, long - seat, size)) else {
        return Ok(());
    };
    let left = bench.wall_round(b, &point);
    let deep = bench.grown[b].reach(-seam.m.normal);
    let beyond = (deep.1 - deep.0) - (long - seat) * cos;
    if beyond < WALL || left < -0.5 * size {
        let message = format!(
            "a pocket screw {} × {} out of `{first}` comes within {} of the far side of `{second}`, or out of it",
            bench.figure(size),
            bench.figure(long),
            bench.mm(beyond.max(0.0))
        );
        return Err(bench.error(work, "breaks-through", message, &[a, b]).help("use a shorter screw"));
    }
    Ok(())
}
