//! Screws: a row of them through one part into another.

use super::screw_seat::{self, Seat};
use super::{screw_pattern, screw_slots};
use crate::geometry::{DVec2, DVec3, Outline, Placement, trig};
use crate::joinery::bench::corner::stock;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Meeting, Pair, TOUCH};
use crate::joinery::bench::plane::{OFFSET, Plane, TOWARD, moved};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::row::{Ends, SetOut};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{LENGTH, PAIR, Tie};
use crate::joinery::bench::tolerance::{LEVEL, NOISE};
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::inserts::{Heads, Inserted, Screwed};
use crate::joinery::facts::item::{Fastener, Wooden, sizes};
use crate::joinery::meeting::trim::Trim;
use crate::measure::angle;
use crate::model::{OptionKind, OptionSpec, REQUIRED, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;
use crate::timber::numbered::Drills;

/// The word `screws`.
pub(in crate::joinery) struct Screws;

/// What `screws` says of itself.
static WORD: Word = Word {
    name: "screws",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "screw",
            kind: OptionKind::Pair,
            default: REQUIRED,
            says: "diameter and length of the screw, such as \"3.5x16\", or number and length in inches, \"#8x1 1/4\"",
        },
        OptionSpec {
            key: "spacing",
            kind: LENGTH,
            default: &[Usual::Length(SPACING)],
            says: "greatest distance between screws",
        },
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 1, max: 100 },
            default: &[
                Usual::Words("as many as `spacing` asks for, at least "),
                Usual::Count(2),
                Usual::Words(", with `slots` an uneven number"),
            ],
            says: "how many in a row; one alone stands in the middle",
        },
        screw_pattern::ROWS,
        screw_pattern::EDGE,
        screw_pattern::STAGGERED,
        OFFSET,
        TOWARD,
        OptionSpec {
            key: "countersunk",
            kind: OptionKind::YesNo,
            default: &[Usual::Words("false: nothing is said of the heads")],
            says: "sinks the heads flush in cones as wide as they are",
        },
        OptionSpec {
            key: "counterbore",
            kind: OptionKind::Pair,
            default: &[Usual::Words("none")],
            says: "diameter and depth of a bore that each head goes down, left open, such as \"10x12\"; not with `slots`",
        },
        OptionSpec {
            key: "plug",
            kind: OptionKind::Length { min: 4.0, max: 60.0 },
            default: &[Usual::Words("no plugs: the heads show")],
            says: "diameter of the plugs that close a counterbore over each head",
        },
        OptionSpec {
            key: "plug_depth",
            kind: OptionKind::Length { min: 1.0, max: 100.0 },
            default: &[Usual::Words("three quarters of `plug`, at most half the first part's thickness")],
            says: "depth of the counterbore, and length of the plug in it",
        },
        screw_slots::SLOTS,
        screw_slots::MOVE,
        screw_slots::SEASON,
    ],
    says: "screws the first part to the second, in a row along the middle of where they meet or in several: `rows: 2, count: \
           2` puts one in each corner; in slots where one of them must be free to move",
    rule: "first and last screw 40 mm from the ends, nearer in short parts; pilot hole 0.7 of the diameter, for screws by number the drills of a published chart; a head \
           twice the diameter; plugs cut from the face of the same board and turned so that the grain matches; \
           rows 20 mm from the edges, nearer on narrow parts; a cone of 90° (common practice, no source); slots for width × \
           coefficient × points of moisture (Wood Handbook, FPL-GTR-190, ch. 13)",
    example: "screws(back, shelf, #{ screw: \"3.5x16\", spacing: 150 });",
};

/// Distance of the outer screws from the ends, mm.
const INSET: f64 = 40.0;
/// Diameter of a countersunk head as a multiple of the screw's.
const HEAD: f64 = 2.0;

/// The usual screw: diameter and length, mm.
const SCREW: (f64, f64) = (3.5, 16.0);
/// Greatest distance of screws, mm.
const SPACING: f64 = 150.0;
/// What a screw that is too short is told to have in the second part, in diameters (common
/// practice, no source).
const HOLDS: f64 = 2.0;
/// From the ends of a short row, as a share of it.
const INSET_SHARE: f64 = 0.25;
/// Nearest that a row is set out, mm, and most gaps in it: a spacing of nought must not
/// make a row without end.
const CLOSEST: f64 = 10.0;
/// See `CLOSEST`.
const MOST_GAPS: u32 = 500;
/// How many times more wood than the other part is thick a screw goes through where it runs
/// along its part.
const ALONG: f64 = 3.0;
/// Depth of a counterbore as a share of its width.
const PLUG_SHARE: f64 = 0.75;

impl Joinery for Screws {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn ties(&self) -> &'static [Tie] {
        &[
            Tie::Needs("staggered", &["rows"]),
            Tie::Needs("edge", &["rows"]),
            Tie::Either("countersunk", "plug"),
            Tie::Either("counterbore", "plug"),
            Tie::Either("countersunk", "counterbore"),
            Tie::Needs("move", &["slots"]),
            Tie::Needs("season", &["slots"]),
            Tie::Either("move", "season"),
            Tie::Either("slots", "plug"),
            Tie::Either("slots", "counterbore"),
            Tie::Either("slots", "countersunk"),
        ]
    }

    fn trims(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Trim>, Problem> {
        bench.trim_second_to_meet(work)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        let Seat { m, rect, beside } = screw_seat::seat(bench, work, Pair { a, b })?;
        let plane = Plane { rect, out: -m.normal };
        let rect = moved(bench, work, plane, Pair { a, b }, "screws")?.rect;
        let (thick, length) = work.options.pair("screw").unwrap_or_else(|| bench.usual_screw(SCREW));
        // Grown: a lipping or joint on the first part makes the way to the second
        // longer or shorter.
        let whole = through(bench, work, (a, b), (m, rect.centre))?;
        let drills = bench.drills(b, thick);
        let stub = tongue(bench, Pair { a, b }, m.normal).min(whole);
        let mut driven =
            Driven { pair: Pair { a, b }, thick, length, drills, whole, stub, plug: None, sunk: None };
        // Before the screw is looked at: the depth of its bore shortens what it has to go
        // through.
        driven.plug = plug(bench, work, &driven)?;
        driven.sunk = (driven.plug.is_none() && work.options.yes("countersunk")).then_some(HEAD * thick);
        check(bench, work, &driven, (rect.width, beside))?;
        let spacing = bench.length(work, "spacing", SPACING);
        // Of an uneven number one stands in the middle, where slots leave the parts held.
        let held = work.options.yes("slots").then(|| usual_count(rect.length, spacing) | 1);
        let row = places(bench, rect.length, spacing, work.options.count("count").or(held));
        let places = screw_pattern::pattern(bench, work, &rect, &row, thick)?;
        let stands = screw_slots::Stands { rect, places: &places, pair: Pair { a, b }, thick };
        let slots = screw_slots::slots(bench, work, &stands)?;
        let mut made = Made { parts: vec![a, b], ..Made::default() };
        let mut at = Vec::new();
        for (k, [along, across]) in places.iter().enumerate() {
            let mouth = rect.centre + rect.along * *along + rect.across * *across;
            let head = mouth + m.normal * driven.through();
            let slot = slots.as_ref().and_then(|slots| slots.at(k, head, -m.normal, whole));
            made.cuts.extend(driven.bored(mouth, m.normal, slot));
            at.extend(Placement::looking(head, -m.normal, rect.along));
        }
        let deep = made.cuts.iter().filter(|c| c.part == b);
        let left = deep.map(|c| bench.wall_round(b, &c.shape)).fold(f64::INFINITY, f64::min);
        if left < 0.0 {
            return Err(too_long(bench, work, &driven, left));
        }
        standing_out(bench, work, &driven, &made)?;
        let size = sizes([thick, length]);
        // In a slot only a washer keeps the head from being drawn in beside the shank.
        let item = if slots.is_some() { Fastener::WashedScrew(size) } else { Fastener::Screw(size) }.into();
        made.inserts.push(Insert { item, at, body: Some(peg(thick, length)) });
        let heads = match driven.plug {
            Some(plug) if work.options.number("plug").is_some() => {
                plugged(bench, work, &driven, plug, &mut made)?;
                Heads::Plugged(plug)
            }
            Some(bore) => {
                bored(bench, work, &driven, &made)?;
                Heads::Sunk(bore)
            }
            None => driven.sunk.map_or(Heads::Unsaid, |wide| Heads::Countersunk { wide }),
        };
        made.facts = Facts::Inserts(Inserted::Screwed(Screwed {
            count: places.len(),
            rows: work.options.count("rows").unwrap_or(screw_pattern::ONE_ROW) as usize,
            staggered: work.options.yes("staggered"),
            thick,
            length,
            clear: driven.drills.clear,
            pilot: driven.pilot(),
            heads,
            slots: slots.map(|slots| slots.facts()),
        }));
        Ok(vec![made])
    }
}

/// How far a tongue of the second part stands into the first, mm: a pilot goes through
/// that too, bored before the boards are brought together. What was added to saw an end
/// to a slope is none, nor what a part that leans was lengthened by.
fn tongue(bench: &Bench<'_>, Pair { a, b }: Pair, out: DVec3) -> f64 {
    let sawn = bench.trims.iter().any(|trim| trim.part == b && trim.to == a);
    if sawn || !bench.are_square(a, b) {
        return 0.0;
    }
    (bench.grown[b].reach(out).1 - bench.placed[b].reach(out).1).max(0.0)
}

/// Wood of the first part that a screw goes through, square to where the two meet, mm; an
/// error where it would come out at a slant, so that its head does not seat.
fn through(
    bench: &Bench<'_>,
    work: &Work,
    (a, b): (usize, usize),
    (m, middle): (Meeting, DVec3),
) -> Result<f64, Problem> {
    let boxed = bench.grown[a].reach(m.normal).1 - m.face;
    if bench.are_plain(a, b) {
        return Ok(boxed);
    }
    let Some(real) = bench.as_it_is(a) else { return Ok(boxed) };
    let ahead = real.planes().into_iter().filter(|plane| plane.normal.dot(m.normal) > LEVEL);
    let off = ahead.map(|plane| (-plane.distance(middle) / plane.normal.dot(m.normal), plane.normal));
    let Some((whole, out)) = off.filter(|(t, _)| *t > TOUCH).min_by(|p, q| p.0.total_cmp(&q.0)) else {
        return Ok(boxed);
    };
    let lean = trig::acos(out.dot(m.normal).min(1.0)).to_degrees();
    if lean < SEATS {
        return Ok(whole);
    }
    let message = format!(
        "a screw square to where `{}` and `{}` meet comes out of `{}` {} off square: its head does not seat",
        bench.name(a),
        bench.name(b),
        bench.name(a),
        angle(lean)
    );
    Err(bench.error(work, "not-square", message, &[a, b]).help(format!(
        "drive it through the other part, {}, or use `pocket_screws` or `dowels`",
        swapped(bench, (a, b))
    )))
}

/// `screws(side, shelf)`, the parts the other way round.
fn swapped(bench: &Bench<'_>, (a, b): (usize, usize)) -> String {
    format!("`screws` with `{}` before `{}`", bench.name(b), bench.name(a))
}

/// Refuses a screw that breaks out of the first part on its way, beside its head.
fn standing_out(bench: &Bench<'_>, work: &Work, driven: &Driven, made: &Made) -> Result<(), Problem> {
    let Pair { a, b } = driven.pair;
    if bench.are_plain(a, b) {
        return Ok(());
    }
    let clear = made.cuts.iter().filter(|c| c.kind == CutKind::ScrewHole && c.part == a);
    let out = clear.map(|c| bench.wall_beside(a, &c.shape)).fold(f64::INFINITY, f64::min);
    if out > -NOISE {
        return Ok(());
    }
    let message = format!(
        "a screw of {} breaks out of `{}` by {} on its way to `{}`",
        bench.mm(driven.thick),
        bench.name(a),
        bench.mm(-out),
        bench.name(b)
    );
    Err(bench
        .error(work, "breaks-through", message, &[a, b])
        .help("use fewer screws or thinner ones, or let the parts meet further from the edge"))
}

/// A head may seat so far off square, degrees: a hair of lean that a script's sums leave.
const SEATS: f64 = 0.1;

/// A screw through the first part into the second, mm.
struct Driven {
    pair: Pair,
    thick: f64,
    length: f64,
    drills: Drills,
    /// The first part.
    whole: f64,
    /// How far the second part reaches into the first, with a tongue or tenon that the
    /// screw goes through before it is at the shoulder.
    stub: f64,
    /// The counterbore for a plug over its head.
    plug: Option<Bore>,
    /// Diameter of the countersink for its head.
    sunk: Option<f64>,
}

impl Driven {
    /// What it goes through of the first part.
    fn through(&self) -> f64 {
        self.whole - self.plug.map_or(0.0, |plug| plug.deep)
    }

    /// Its pilot hole in the second part.
    fn pilot(&self) -> Bore {
        Bore { wide: self.drills.pilot, deep: self.length - self.through() + self.stub }
    }

    /// The holes of one that leaves the first part at `mouth`: that for the plug first,
    /// since its bottom is where the head comes to lie. A slot takes the place of the
    /// clearance hole.
    fn bored(&self, mouth: DVec3, out: DVec3, slot: Option<Prism>) -> Vec<Sawn> {
        let Pair { a, b } = self.pair;
        let (through, pilot) = (self.through(), self.pilot());
        let head = mouth + out * through;
        let plug = self.plug.and_then(|plug| Prism::hole(head + out * plug.deep, -out, plug.deep, plug.wide));
        let clear = match slot {
            Some(slot) => (a, CutKind::Slot, Some(slot)),
            None => (a, CutKind::ScrewHole, Prism::hole(head, -out, through, self.drills.clear)),
        };
        let held = Prism::hole(mouth + out * self.stub, -out, pilot.deep, pilot.wide);
        // A cone of 90 degrees, from the head down to the shank.
        let deep = |wide: f64| 0.5 * (wide - self.drills.clear);
        let sunk = self.sunk.and_then(|wide| Prism::hole(head, -out, deep(wide), wide));
        let above = [(a, CutKind::Counterbore, plug), (a, CutKind::Countersink, sunk)];
        let holes = above.into_iter().chain([clear, (b, CutKind::ScrewHole, held)]);
        holes.filter_map(|(part, kind, shape)| Some(Sawn { part, kind, shape: shape? })).collect()
    }
}

/// A round body along z, for pictures.
fn peg(thick: f64, length: f64) -> Prism {
    let outline = Outline::circle(DVec2::ZERO, 0.5 * thick);
    Prism { at: Placement::IDENTITY, outline, from: 0.0, to: length }
}

/// Diameter and length of the plugs, mm; an error where they cover no head or
/// leave nothing under it.
fn plug(bench: &Bench<'_>, work: &Work, driven: &Driven) -> Result<Option<Bore>, Problem> {
    let Driven { pair: Pair { a, b }, thick, whole, .. } = *driven;
    if let Some((wide, deep)) = work.options.pair("counterbore") {
        return open(bench, work, driven, Bore { wide, deep }).map(Some);
    }
    let Some(wide) = work.options.number("plug") else {
        return match work.options.number("plug_depth") {
            Some(_) => Err(bench
                .error(work, "missing-option", "`plug_depth` is given without `plug`".into(), &[a, b])
                .help("add `plug` with the diameter of the plugs")),
            None => Ok(None),
        };
    };
    if wide < HEAD * thick - NOISE {
        let message = format!(
            "a plug of {} does not cover the head of a screw of {}, which is about {}",
            bench.mm(wide),
            bench.mm(thick),
            bench.mm(HEAD * thick)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[a, b])
            .help("use wider plugs or thinner screws"));
    }
    // Half the part at most: as much wood stays under the head as the plug takes over it.
    let deep = work.options.number("plug_depth").unwrap_or_else(|| (PLUG_SHARE * wide).min(0.5 * whole));
    under_head(bench, work, driven, deep, "plug_depth")?;
    Ok(Some(Bore { wide, deep }))
}

/// The bore asked for, left open; an error where no head goes down it.
fn open(bench: &Bench<'_>, work: &Work, driven: &Driven, bore: Bore) -> Result<Bore, Problem> {
    let Driven { pair: Pair { a, b }, thick, .. } = *driven;
    if bore.wide < HEAD * thick - NOISE {
        let message = format!(
            "the head of a screw of {}, about {}, does not go down a bore of {}",
            bench.mm(thick),
            bench.mm(HEAD * thick),
            bench.mm(bore.wide)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[a, b])
            .help("write the bore's diameter first, and wider; or use thinner screws"));
    }
    under_head(bench, work, driven, bore.deep, "counterbore")?;
    Ok(bore)
}

/// Refuses a counterbore that leaves too little wood under the head.
fn under_head(bench: &Bench<'_>, work: &Work, driven: &Driven, deep: f64, key: &str) -> Result<(), Problem> {
    let Driven { pair: Pair { a, b }, whole, .. } = *driven;
    if whole - deep > WALL - NOISE {
        return Ok(());
    }
    let message = format!(
        "a counterbore {} deep leaves {} of `{}` under the screw's head",
        bench.mm(deep),
        bench.mm((whole - deep).max(0.0)),
        bench.name(a)
    );
    let most = bench.mm((whole - WALL).max(0.0));
    let help = if key == "counterbore" {
        format!("it may be {most} deep at most")
    } else {
        format!("`{key}` may be {most} at most")
    };
    Err(bench.error(work, "breaks-through", message, &[a, b]).help(help))
}

/// Refuses counterbores too near an edge; gives them.
fn bored<'a>(
    bench: &Bench<'_>,
    work: &Work,
    driven: &Driven,
    made: &'a Made,
) -> Result<Vec<&'a Prism>, Problem> {
    let Pair { a, b } = driven.pair;
    let bores: Vec<&Prism> =
        made.cuts.iter().filter(|c| c.kind == CutKind::Counterbore).map(|c| &c.shape).collect();
    let left = bores.iter().map(|bore| bench.wall_round(a, bore)).fold(f64::INFINITY, f64::min);
    if left >= WALL - NOISE {
        return Ok(bores);
    }
    let wide = driven.plug.map_or(0.0, |bore| bore.wide);
    let what = if work.options.number("plug").is_some() { "plugs" } else { "counterbores" };
    let message = format!(
        "{what} of {} come within {} of an edge of `{}`; they need {}",
        bench.mm(wide),
        bench.mm(left.max(0.0)),
        bench.name(a),
        bench.mm(WALL)
    );
    Err(bench
        .error(work, "breaks-through", message, &[a, b])
        .help(format!("use narrower {what}, or let the parts meet further from the edge")))
}

/// Lists the plugs and looks for wood round them.
fn plugged(
    bench: &Bench<'_>,
    work: &Work,
    driven: &Driven,
    plug: Bore,
    made: &mut Made,
) -> Result<(), Problem> {
    let (Pair { a, .. }, Bore { wide, deep }) = (driven.pair, plug);
    let at: Vec<Placement> = bored(bench, work, driven, made)?.iter().map(|bore| bore.at).collect();
    let wood = stock(bench, a).map(|s| s.name.clone());
    made.inserts.push(Insert {
        item: Wooden::Plug(sizes([wide, deep]), wood).into(),
        at,
        body: Some(peg(wide, deep)),
    });
    Ok(())
}

/// Places along a row `length` long, from its middle, mm.
pub(in crate::joinery) fn places(
    bench: &Bench<'_>,
    length: f64,
    spacing: f64,
    count: Option<u32>,
) -> Vec<f64> {
    let count = count.unwrap_or_else(|| usual_count(length, spacing));
    SetOut { length, count, ends: Ends::Chosen(inset(length)), apart: 0.0 }.places(bench)
}

/// From the ends of a row to its outer screws, mm.
fn inset(length: f64) -> f64 {
    // On a short row 40 mm would meet in the middle.
    INSET.min(INSET_SHARE * length)
}

/// As many screws as leave no more than `spacing` between them.
fn usual_count(length: f64, spacing: f64) -> u32 {
    let span = length - 2.0 * inset(length);
    let mut gaps = 1_u32;
    while span / f64::from(gaps) > spacing.max(CLOSEST) + NOISE && gaps < MOST_GAPS {
        gaps += 1;
    }
    gaps + 1
}

/// The screw against the parts it joins.
fn check(
    bench: &Bench<'_>,
    work: &Work,
    driven: &Driven,
    (width, beside): (f64, f64),
) -> Result<(), Problem> {
    let Driven { pair: Pair { a, b }, thick, length, .. } = *driven;
    let through = driven.through();
    // Less than a diameter in the second part counts as no hold.
    if length <= through + thick {
        let message = format!(
            "a screw {} long goes through {} of `{}` and does not hold in `{}`",
            bench.mm(length),
            bench.mm(through),
            bench.name(a),
            bench.name(b)
        );
        // Along a part rather than through it: it was named first by mistake.
        let other = bench.grown[b].size.min_element();
        let is_along = through > ALONG * other;
        let help = if is_along {
            format!("drive it through the thinner part: {}", swapped(bench, (a, b)))
        } else {
            format!("use one {} long or more", bench.mm((through + HOLDS * thick).ceil()))
        };
        return Err(bench.error(work, "screw-too-short", message, &[a, b]).help(help));
    }
    if thick + 2.0 * beside > width + NOISE {
        let message = format!(
            "a screw of {} has no room: `{}` and `{}` meet on {}",
            bench.mm(thick),
            bench.name(a),
            bench.name(b),
            bench.mm(width)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[a, b])
            .help("use a thinner screw, or let them meet on more"));
    }
    Ok(())
}

/// The point would show.
fn too_long(bench: &Bench<'_>, work: &Work, driven: &Driven, left: f64) -> Problem {
    let Driven { pair: Pair { a, b }, thick, length, .. } = *driven;
    let message = format!(
        "a screw {} × {} through `{}` comes out of `{}` by {}",
        bench.figure(thick),
        bench.figure(length),
        bench.name(a),
        bench.name(b),
        bench.mm(-left)
    );
    bench.error(work, "breaks-through", message, &[a, b]).help("use a shorter screw")
}
