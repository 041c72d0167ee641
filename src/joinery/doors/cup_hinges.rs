//! Cup hinges: a door hung on the inner face of a side.
//!
//! The hinge's cup is let into the back of the door, its plate screwed to the
//! side. What the door covers of the side's edge, or the gap an inset door
//! leaves, follows from where the parts stand; the arm, the boring distance and
//! the plate that give it are worked out.

use super::weighed::usual_count;
use crate::geometry::{DVec2, DVec3, Interval, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::opening::Opening;
use crate::joinery::bench::opening::QUARTER;
use crate::joinery::bench::row::{Ends, SetOut};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::doors::DoorFitting;
use crate::joinery::facts::item::{Arm, Ironmongery, Size};
use crate::joinery::facts::{self, Facts};
use crate::measure::near;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `cup_hinges`.
pub(in crate::joinery) struct CupHinges;

/// What `cup_hinges` says of itself.
static WORD: Word = Word {
    name: "cup_hinges",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 2, max: 8 },
            default: &[Usual::Words("by the door's height and weight")],
            says: "how many hinges",
        },
        OptionSpec {
            key: "from_end",
            kind: OptionKind::Length { min: 30.0, max: 500.0 },
            default: &[
                Usual::Length(END_MOST),
                Usual::Words(
                    ", at most a fifth of the door's height, moved where a shelf stands behind a plate",
                ),
            ],
            says: "from the top and bottom of the door to the middle of the outer hinges",
        },
        OptionSpec {
            key: "cup",
            kind: OptionKind::Pair,
            default: &[Usual::SoldPair(CUP.wide, CUP.deep)],
            says: "diameter of the cup and depth of its bore, such as \"35x13\"",
        },
        OptionSpec {
            key: "boring",
            kind: OptionKind::Length { min: 3.0, max: 8.0 },
            default: &[Usual::Length(BORING), Usual::Words(", or what the plates on sale ask for")],
            says: "from the door's edge to the cup",
        },
        OptionSpec {
            key: "reach",
            kind: OptionKind::Length { min: 0.0, max: 30.0 },
            default: &[
                Usual::Sold(REACH.full),
                Usual::Words(" for an arm of full overlay, "),
                Usual::Sold(REACH.half),
                Usual::Words(" for half; an inset arm reaches "),
                Usual::Sold(-REACH.inset),
                Usual::Words(" back"),
            ],
            says: "what the hinge covers with a boring distance of nought and a plate of nought: its maker's figure",
        },
        OptionSpec {
            key: "plate_line",
            kind: OptionKind::Length { min: 20.0, max: 120.0 },
            default: &[Usual::Sold(PLATE_LINE)],
            says: "from the side's front edge, or an inset door's back, to the line of the plate's holes",
        },
        OptionSpec {
            key: "swing",
            kind: OptionKind::Angle { min: 20.0, max: 180.0 },
            default: &[Usual::Angle(QUARTER)],
            says: "how far the door opens: it is drawn so, and nothing may be in its way",
        },
    ],
    says: "hangs a door on cup hinges: the first part is the door, the second the side that carries it",
    rule: "middle of the cup at the boring distance + 17.5 mm; plate holes 5 mm, 32 mm apart, on the line 37 mm from \
           the edge; screw holes of the cup 45 mm apart and 9.5 mm behind its middle; overlay = reach + boring \
           distance - plate; two hinges to 1000 mm or 6.8 kg, three to 1500 mm or 13.6 kg, four to 2000 mm or 20.4 \
           kg, five to 2500 mm or 27.2 kg; outer hinges best as far apart as the door is wide, at least half of that (common practice, no source; the hinge maker's sheet comes first)",
    example: "cup_hinges(door, side, #{ count: 2, from_end: 90 });",
};

/// Half of the usual cup, mm: the distance that is added to the boring distance.
const HALF_CUP: f64 = 17.5;
/// Holes of the cup's screws: half their distance, behind the middle, mm.
const CUP_SCREWS: (f64, f64) = (22.5, 9.5);
/// Their pilot holes.
const CUP_PILOT: Bore = Bore { wide: 2.5, deep: 10.0 };
/// Half the distance of the plate's holes, mm.
const PLATE_HALF: f64 = 16.0;
/// The plate's holes: of a system row, so that plates and shelf pins share one bit.
const PLATE_HOLE: Bore = Bore { wide: 5.0, deep: 12.0 };
/// The row the plates stand in, from the front edge, mm: that of the system.
const PLATE_LINE: f64 = 37.0;
/// The highest plate on sale, mm.
const HIGHEST: f64 = 6.0;
/// Heights of plates on sale, mm, lowest first.
const PLATES: &[f64] = &[0.0, 2.0, 4.0, HIGHEST];
/// The boring distance most hinges are drilled at, mm.
const BORING: f64 = 5.0;
/// Boring distances most hinges allow, mm, the usual first.
const BORINGS: &[f64] = &[BORING, 4.5, 5.5, 4.0, 6.0, 3.5, 6.5, 3.0, 7.0];
/// What each arm covers with no plate under it and no wood before its cup, mm, as
/// hinges are mostly made; a maker's own figure goes in `reach`.
const REACH: Reaches = Reaches { inset: -4.0, half: 4.0, full: 13.0 };
/// Overlay from which a full-overlay arm is taken, mm: half of what it covers mostly,
/// since half-overlay doors share one side.
const FULL_FROM: f64 = 10.0;
/// How far a hinge is adjusted sideways, mm.
const ADJUSTS: f64 = 2.0;
/// The usual cup.
const CUP: Bore = Bore { wide: 35.0, deep: 13.0 };
/// From the ends of a door to the outer hinges as a share of its height, and at most, mm.
const END_SHARE: f64 = 0.2;
/// See `END_SHARE`.
const END_MOST: f64 = 100.0;
/// Least that door and side stand beside one another, mm: two hinges and their ends.
const BESIDE: f64 = 120.0;
/// Least between the middles of two hinges, mm: a hinge and its plate are about 60 long.
const PITCH: f64 = 64.0;
/// Which way counts as up along the hinges: nearly upright, but with a little to the
/// right and the back, so that the run of a flap has a beginning too.
const UPWARDS: DVec3 = DVec3::new(0.1, 0.01, 1.0);
/// Steps that outer hinges are moved by to keep clear of shelves, mm, and how many either
/// way.
const ASIDE: f64 = 5.0;
/// See `ASIDE`.
const ASIDES: u32 = 13;
/// From the middle of a plate to what it keeps clear of: its outer hole and a little wood.
const PLATE_CLEAR: f64 = PLATE_HALF + 0.5 * PLATE_HOLE.wide + 2.0;
/// Least wood left under a cup, mm.
const UNDER: f64 = 2.0;
/// Furthest an overlay door may stand before the side's edge, mm.
const BEFORE: f64 = 5.0;

/// What each arm covers, mm.
struct Reaches {
    inset: f64,
    half: f64,
    full: f64,
}

/// How door and side stand to one another, piece coordinates.
struct Hung {
    door: usize,
    side: usize,
    /// Out of the case, square to the door.
    out: DVec3,
    /// Into the case, square to the side.
    inward: DVec3,
    /// Along the hinges, upwards where that can be told.
    run: DVec3,
    /// What the door covers of the side's edge, mm; negative: the gap of an inset
    /// door.
    overlay: f64,
    /// Where the plate's distance is measured from, along `out`.
    front: f64,
    /// Ends of the door along `run`.
    ends: Interval,
}

/// The hinge worked out, mm.
struct Fitted {
    arm: Arm,
    boring: f64,
    plate: f64,
    count: u32,
    from_end: f64,
    cup: Bore,
    /// The row the plates stand in, from where it is measured.
    line: f64,
}

impl Joinery for CupHinges {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (door, side) = bench.pair(work)?;
        let hung = hung(bench, work, door, side)?;
        let fitted = fitted(bench, work, &hung)?;
        let places = places(bench, work, &hung, &fitted)?;
        let mut made = Made { parts: vec![door, side], ways_in: vec![hung.out], ..Made::default() };
        made.warnings.extend(too_close(bench, work, &hung, &places));
        holds(bench, work, &hung, &fitted)?;
        cut(bench, &hung, &fitted, &places, &mut made);
        let blank = &bench.placed[door];
        let edge = blank.reach(hung.inward).0;
        made.opens = Some(Opening::Swings {
            // Most cup hinges turn the door about the arris of its front.
            about: hung.inward * edge + hung.out * blank.reach(hung.out).1 + hung.run * hung.ends.middle(),
            axis: hung.run,
            toward: hung.out,
            by: work.options.number("swing").unwrap_or(QUARTER),
        });
        made.facts = Facts::Doors(DoorFitting::CupHinges(facts::doors::CupHinges {
            count: places.len(),
            cup: fitted.cup,
            overlay: hung.overlay,
            from_edge: fitted.boring + HALF_CUP,
            plate_hole: PLATE_HOLE,
            plate_apart: 2.0 * PLATE_HALF,
            plate_line: fitted.line,
        }));
        Ok(vec![made])
    }
}

/// How the door stands to the side; a problem where no hinge can join them.
fn hung(bench: &Bench<'_>, work: &Work, door: usize, side: usize) -> Result<Hung, Problem> {
    let (leaf, wall) = (&bench.placed[door], &bench.placed[side]);
    let signed = |axis: DVec3, way: DVec3| if axis.dot(way) < 0.0 { -axis } else { axis };
    let out = signed(leaf.axis(2), leaf.centre() - wall.centre());
    let inward = signed(wall.axis(2), leaf.centre() - wall.centre());
    // A door is square to its side in both ways: the hinges run along what is left.
    let run = signed(out.cross(inward), UPWARDS);
    if out.dot(inward).abs() > NOISE || leaf.axis_along(run).is_none() || wall.axis_along(run).is_none() {
        let message = format!(
            "`{}` does not stand square to `{}`: a cup hinge hangs a door that shuts against a side or between sides",
            bench.name(door),
            bench.name(side)
        );
        return Err(bench
            .error(work, "not-square", message, &[door, side])
            .help("name the door first, then the side whose inner face carries the plates"));
    }
    let overlay = wall.reach(inward).1 - leaf.reach(inward).0;
    let (back, edge) = (leaf.reach(out).0, wall.reach(out).1);
    // An inset door shuts between the sides, an overlay door before them.
    let front = if overlay > TOUCH { edge } else { back };
    let hung = Hung { door, side, out, inward, run, overlay, front, ends: leaf.span(run) };
    in_reach(bench, work, &hung, back - edge)?;
    Ok(hung)
}

/// Refuses a door that its hinges do not reach from the side, or that stands beside too
/// little of it for two; `before` is how far its back stands before the side's edge.
fn in_reach(bench: &Bench<'_>, work: &Work, hung: &Hung, before: f64) -> Result<(), Problem> {
    let (parts, overlay) = ([hung.door, hung.side], hung.overlay);
    let [leaf, wall] = parts.map(|part| bench.name(part));
    if overlay > TOUCH && before < -TOUCH {
        let message = format!(
            "`{leaf}` covers {} of `{wall}`, but stands {} behind its front edge",
            bench.mm(overlay),
            bench.mm(-before)
        );
        return Err(bench
            .error(work, "parts-cross", message, &parts)
            .help("set the door before the sides, or make it narrower so that it shuts between them"));
    }
    // An inset door can be out of reach in two ways: to the side by its gap, and
    // forwards.
    let far = if overlay > TOUCH { before } else { (-overlay).max(before) };
    if far > BEFORE {
        let message = format!(
            "`{leaf}` and `{wall}` stand {} apart: a hinge bridges {} at most",
            bench.mm(far),
            bench.mm(BEFORE)
        );
        return Err(bench
            .error(work, "parts-do-not-meet", message, &parts)
            .help("bring the door to the side, with a gap of 2 mm or so"));
    }
    let beside = hung.ends.common(bench.placed[hung.side].span(hung.run)).length();
    if beside < BESIDE {
        let message = format!(
            "`{leaf}` and `{wall}` stand beside one another for {} only; two hinges need {}",
            bench.mm(beside.max(0.0)),
            bench.mm(BESIDE)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &parts)
            .help("make the door higher, or hang it on another part"));
    }
    Ok(())
}

/// Arm, boring distance, plate and count; a problem with the range that can be
/// had where none fits.
fn fitted(bench: &Bench<'_>, work: &Work, hung: &Hung) -> Result<Fitted, Problem> {
    let overlay = hung.overlay;
    let (arm, covers) = match overlay {
        o if o <= TOUCH => (Arm::Inset, REACH.inset),
        o if o < FULL_FROM => (Arm::HalfOverlay, REACH.half),
        _ => (Arm::FullOverlay, REACH.full),
    };
    // Overlay = reach + boring distance - plate, so reach is what the arm alone brings.
    let reach = work.options.number("reach").unwrap_or(covers);
    let borings: Vec<f64> = work.options.number("boring").map_or(BORINGS.to_vec(), |b| vec![b]);
    // The nearest plate, and the usual boring distance before a better fit by noise:
    // hinges are adjusted by 2 mm either way.
    let tried = borings.iter().flat_map(|b| PLATES.iter().map(move |p| (*b, *p)));
    let off = |(b, p): (f64, f64)| (reach + b - p - overlay).abs();
    let best = tried.fold(None, |best: Option<(f64, f64)>, one| match best {
        Some(known) if off(known) <= off(one) + NOISE => Some(known),
        _ => Some(one),
    });
    let (boring, plate) = best.unwrap_or((BORING, 0.0));
    if off((boring, plate)) > ADJUSTS {
        let least = borings.iter().copied().fold(f64::INFINITY, f64::min) + reach - HIGHEST;
        let most = borings.iter().copied().fold(f64::NEG_INFINITY, f64::max) + reach;
        return Err(no_hinge(bench, work, hung, Interval { from: least, to: most }));
    }
    let height = hung.ends.length();
    let count = work.options.count("count").unwrap_or_else(|| usual_count(bench, hung.door, hung.run));
    let usual = || near(bench.job.unit, (END_SHARE * height).min(END_MOST));
    let from_end = work.options.number("from_end").unwrap_or_else(usual);
    let cup = work.options.pair("cup").map_or(CUP, |(wide, deep)| Bore { wide, deep });
    let line = work.options.number("plate_line").unwrap_or(PLATE_LINE);
    Ok(Fitted { arm, boring, plate, count, from_end, cup, line })
}

/// The overlay is one that no hinge has: they cover what `covers` holds, mm.
fn no_hinge(bench: &Bench<'_>, work: &Work, hung: &Hung, covers: Interval) -> Problem {
    let Interval { from: least, to: most } = covers;
    let overlay = hung.overlay;
    let range = if overlay > TOUCH {
        format!("covers between {} and {}", bench.figure(least.max(0.0)), bench.mm(most))
    } else {
        format!("leaves a gap between {} and {}", bench.figure((-most).max(0.0)), bench.mm((-least).max(0.0)))
    };
    let stands = if overlay > TOUCH {
        format!("covers {} of `{}`", bench.mm(overlay), bench.name(hung.side))
    } else {
        format!("leaves a gap of {} to `{}`", bench.mm(-overlay), bench.name(hung.side))
    };
    let message = format!("`{}` {stands}, but a cup hinge {range}", bench.name(hung.door));
    bench
        .error(work, "does-not-fit", message, &[hung.door, hung.side])
        .help("make the door wider or narrower, or give `reach` from the hinge's data sheet")
}

/// Heights of the hinges along the run.
fn places(bench: &Bench<'_>, work: &Work, hung: &Hung, fitted: &Fitted) -> Result<Vec<f64>, Problem> {
    let span = hung.ends.length() - 2.0 * fitted.from_end;
    let gaps = f64::from(fitted.count - 1);
    let pitch = span / gaps;
    if pitch < PITCH {
        let message = format!(
            "{} hinges {} from the ends of `{}` stand {} apart; they need {}",
            fitted.count,
            bench.mm(fitted.from_end),
            bench.name(hung.door),
            bench.mm(pitch.max(0.0)),
            bench.mm(PITCH)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[hung.door])
            .help("ask for fewer, make `from_end` less, or make the door higher"));
    }
    let usual = row(bench, hung, fitted, fitted.from_end);
    if work.options.number("from_end").is_some() {
        return Ok(usual);
    }
    // Where nothing is said the plates keep clear of shelves that meet the side there.
    let step = near(bench.job.unit, ASIDE);
    let tries = (0..ASIDES).flat_map(|k| [1.0, -1.0].map(|way| fitted.from_end + way * step * f64::from(k)));
    let rows = tries
        .filter(|end| *end > PLATE_HALF && (hung.ends.length() - 2.0 * end) / gaps >= PITCH)
        .map(|end| row(bench, hung, fitted, end));
    let in_the_way: Vec<Interval> = behind_plates(bench, hung, fitted);
    let clear =
        |at: f64| in_the_way.iter().all(|shelf| at < shelf.from - PLATE_CLEAR || at > shelf.to + PLATE_CLEAR);
    let row = rows.into_iter().find(|places| places.iter().all(|at| clear(*at)));
    Ok(row.unwrap_or_else(|| one_by_one(hung, &usual, step, &clear)))
}

/// Hinges moved each by itself to where its plate is clear; those with no such place stay.
fn one_by_one(hung: &Hung, usual: &[f64], step: f64, clear: &dyn Fn(f64) -> bool) -> Vec<f64> {
    let mut places: Vec<f64> = Vec::new();
    for (k, &at) in usual.iter().enumerate() {
        let low = places.last().map_or(hung.ends.from + PLATE_HALF, |below| below + PITCH);
        let high = usual.get(k + 1).map_or(hung.ends.to - PLATE_HALF, |above| above - PITCH);
        let tries = (0..ASIDES).flat_map(|n| [1.0, -1.0].map(|way| at + way * step * f64::from(n)));
        let found = tries.into_iter().find(|to| (low..=high).contains(to) && clear(*to));
        places.push(found.unwrap_or(at));
    }
    places
}

/// Heights of the hinges with the outer ones so far from the ends of the door.
fn row(bench: &Bench<'_>, hung: &Hung, fitted: &Fitted, from_end: f64) -> Vec<f64> {
    let row =
        SetOut { length: hung.ends.length(), count: fitted.count, ends: Ends::Asked(from_end), apart: PITCH };
    let middle = hung.ends.middle();
    row.places(bench).into_iter().map(|at| middle + at).collect()
}

/// Where along the hinges other parts meet the side in the line of the plates.
fn behind_plates(bench: &Bench<'_>, hung: &Hung, fitted: &Fitted) -> Vec<Interval> {
    let piece = |part: usize| bench.job.parts.get(part).map(|part| part.piece);
    let inner = bench.placed[hung.side].reach(hung.inward).1;
    let line = hung.front - fitted.line;
    let meets = |part: &usize| {
        let (across, deep) = (bench.placed[*part].span(hung.inward), bench.placed[*part].span(hung.out));
        let there = |span: Interval, at: f64, by: f64| span.from < at + by && span.to > at - by;
        there(across, inner, TOUCH) && there(deep, line, PLATE_HOLE.wide)
    };
    (0..bench.placed.len())
        .filter(|part| *part != hung.door && *part != hung.side && piece(*part) == piece(hung.side))
        .filter(meets)
        .map(|part| bench.placed[part].span(hung.run))
        .collect()
}

/// Hinges much nearer to one another than the door is wide let it sag.
fn too_close(bench: &Bench<'_>, work: &Work, hung: &Hung, places: &[f64]) -> Option<Problem> {
    let (low, high) = bench.placed[hung.door].reach(hung.inward);
    let span = places.last()? - places.first()?;
    if span > 0.5 * (high - low) - TOUCH {
        return None;
    }
    let message = format!(
        "the hinges of `{}` stand {} apart, less than half of the door's width of {}",
        bench.name(hung.door),
        bench.mm(span),
        bench.mm(high - low)
    );
    Some(
        bench
            .warning(work, "door-too-wide", message, &[hung.door])
            .help("such a door sags: make it narrower, or make a pair of doors"),
    )
}

/// Refuses a door too thin for its cups, and a side in which the plates do not hold.
fn holds(bench: &Bench<'_>, work: &Work, hung: &Hung, fitted: &Fitted) -> Result<(), Problem> {
    let (thick, deep) = (bench.placed[hung.door].size.z, fitted.cup.deep);
    if deep > thick - UNDER + NOISE {
        let message = format!(
            "a cup {} deep leaves {} of `{}`, which is {} thick",
            bench.mm(deep),
            bench.mm((thick - deep).max(0.0)),
            bench.name(hung.door),
            bench.mm(thick)
        );
        return Err(bench
            .error(work, "breaks-through", message, &[hung.door])
            .help(format!("use a thicker door, or a shallower cup: {} at most", bench.mm(thick - UNDER))));
    }
    let wall = &bench.placed[hung.side];
    // Behind the holes as well as under them, or the plate splits the back edge of a
    // narrow side.
    let before = hung.front - fitted.line - wall.reach(hung.out).0;
    if PLATE_HOLE.deep > wall.size.z - UNDER + NOISE || before < PLATE_HOLE.wide {
        let message = format!("the plate has no wood to hold in `{}`", bench.name(hung.side));
        return Err(bench
            .error(work, "does-not-fit", message, &[hung.side])
            .help("the side must be 14 mm thick, and deeper than `plate_line`"));
    }
    Ok(())
}

/// The bores in the door and the holes in the side, with what is screwed on.
fn cut(bench: &Bench<'_>, hung: &Hung, fitted: &Fitted, places: &[f64], made: &mut Made) {
    let (leaf, wall) = (&bench.placed[hung.door], &bench.placed[hung.side]);
    let edge = leaf.reach(hung.inward).0;
    let back = leaf.reach(hung.out).0;
    let inner = wall.reach(hung.inward).1;
    // The plates stand back from what the arm is measured from: the side's edge, or the
    // back of an inset door.
    let line = hung.front - fitted.line;
    let place = |across: f64, out: f64, at: f64| hung.inward * across + hung.out * out + hung.run * at;
    let (mut cups, mut plates) = (Vec::new(), Vec::new());
    for &at in places {
        let middle = place(edge + fitted.boring + HALF_CUP, back, at);
        let mut bore = |part, kind, start, along, hole: Bore| {
            let shape = Prism::hole(start, along, hole.deep, hole.wide);
            made.cuts.extend(shape.map(|shape| Sawn { part, kind, shape }));
        };
        bore(hung.door, CutKind::HingeCup, middle, hung.out, fitted.cup);
        for way in [-1.0, 1.0] {
            let pilot = middle + hung.inward * CUP_SCREWS.1 + hung.run * (way * CUP_SCREWS.0);
            bore(hung.door, CutKind::FittingHole, pilot, hung.out, CUP_PILOT);
            let hole = place(inner, line, at + way * PLATE_HALF);
            bore(hung.side, CutKind::FittingHole, hole, -hung.inward, PLATE_HOLE);
        }
        cups.extend(Placement::looking(middle, hung.out, hung.run));
        plates.extend(Placement::looking(place(inner, line, at), -hung.inward, hung.run));
    }
    let body = Prism {
        at: Placement::IDENTITY,
        outline: Outline::circle(DVec2::ZERO, 0.5 * fitted.cup.wide),
        from: 0.0,
        to: fitted.cup.deep,
    };
    let item = Ironmongery::CupHinge(Size::of(fitted.cup.wide), fitted.arm).into();
    made.inserts.push(Insert { item, at: cups, body: Some(body) });
    let item = Ironmongery::HingePlate(Size::of(fitted.plate)).into();
    made.inserts.push(Insert { item, at: plates, body: None });
}
