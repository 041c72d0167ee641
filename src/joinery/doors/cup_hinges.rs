//! Cup hinges: a door hung on the inner face of a side.
//!
//! The hinge's cup is let into the back of the door, its plate screwed to the
//! side. What the door covers of the side's edge, or the gap an inset door
//! leaves, follows from where the parts stand; the arm, the boring distance and
//! the plate that give it are worked out.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::opening::Opening;
use crate::joinery::bench::opening::QUARTER;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::doors::DoorFitting;
use crate::joinery::facts::item::{Arm, Ironmongery, Size};
use crate::joinery::facts::{self, Facts};
use crate::model::{OptionKind, OptionSpec, Word, Work};
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
            default: "by the door's height and weight",
            says: "how many hinges",
        },
        OptionSpec {
            key: "from_end",
            kind: OptionKind::Length { min: 30.0, max: 500.0 },
            default: "100 mm, at most a fifth of the door's height",
            says: "from the top and bottom of the door to the middle of the outer hinges",
        },
        OptionSpec {
            key: "cup",
            kind: OptionKind::Pair,
            default: "35 mm and 13 mm",
            says: "diameter of the cup and depth of its bore, such as \"35x13\"",
        },
        OptionSpec {
            key: "boring",
            kind: OptionKind::Length { min: 3.0, max: 8.0 },
            default: "5 mm, or what the plates on sale ask for",
            says: "from the door's edge to the cup",
        },
        OptionSpec {
            key: "reach",
            kind: OptionKind::Length { min: 0.0, max: 30.0 },
            default: "13 mm for an arm of full overlay, 4 mm for half; an inset arm reaches 4 mm back",
            says: "what the hinge covers with a boring distance of nought and a plate of nought: its maker's figure",
        },
        OptionSpec {
            key: "plate_line",
            kind: OptionKind::Length { min: 20.0, max: 120.0 },
            default: "37 mm",
            says: "from the side's front edge, or an inset door's back, to the line of the plate's holes",
        },
        OptionSpec {
            key: "swing",
            kind: OptionKind::Angle { min: 20.0, max: 180.0 },
            default: "90°",
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
/// Diameter and depth of their pilot holes, mm.
const CUP_PILOT: (f64, f64) = (2.5, 10.0);
/// Half the distance of the plate's holes, mm.
const PLATE_HALF: f64 = 16.0;
/// Diameter and depth of the plate's holes, mm.
const PLATE_HOLE: (f64, f64) = (5.0, 12.0);
/// Heights of plates on sale, mm, lowest first.
const PLATES: [f64; 4] = [0.0, 2.0, 4.0, 6.0];
/// Boring distances most hinges allow, mm, the usual first.
const BORINGS: [f64; 9] = [5.0, 4.5, 5.5, 4.0, 6.0, 3.5, 6.5, 3.0, 7.0];
/// Least wood left under a cup, mm.
const UNDER: f64 = 2.0;
/// Furthest an overlay door may stand before the side's edge, mm.
const BEFORE: f64 = 5.0;
/// Heights, mm, and masses, kg, up to which 2, 3, 4 and 5 hinges do.
const DO: [(u32, f64, f64); 4] = [(2, 1000.0, 6.8), (3, 1500.0, 13.6), (4, 2000.0, 20.4), (5, 2500.0, 27.2)];

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
    ends: (f64, f64),
}

/// The hinge worked out, mm.
struct Fitted {
    arm: Arm,
    boring: f64,
    plate: f64,
    count: u32,
    from_end: f64,
    cup: (f64, f64),
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
        cut(bench, work, &hung, &fitted, &places, &mut made)?;
        let blank = &bench.placed[door];
        let edge = blank.reach(hung.inward).0;
        made.opens = Some(Opening::Swings {
            // Most cup hinges turn the door about the arris of its front.
            about: hung.inward * edge
                + hung.out * blank.reach(hung.out).1
                + hung.run * (0.5 * (hung.ends.0 + hung.ends.1)),
            axis: hung.run,
            toward: hung.out,
            by: work.options.number("swing").unwrap_or(QUARTER),
        });
        made.facts = Facts::Doors(DoorFitting::CupHinges(facts::doors::CupHinges {
            count: places.len(),
            cup: Bore { wide: fitted.cup.0, deep: fitted.cup.1 },
            overlay: hung.overlay,
            from_edge: fitted.boring + HALF_CUP,
            plate_hole: Bore { wide: PLATE_HOLE.0, deep: PLATE_HOLE.1 },
            plate_apart: 2.0 * PLATE_HALF,
            plate_line: work.options.number("plate_line").unwrap_or(37.0),
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
    let run = signed(out.cross(inward), DVec3::new(0.1, 0.01, 1.0));
    if out.dot(inward).abs() > 1e-6 || leaf.axis_along(run).is_none() || wall.axis_along(run).is_none() {
        let says = format!(
            "`{}` does not stand square to `{}`: a cup hinge hangs a door that shuts against a side or between sides",
            bench.name(door),
            bench.name(side)
        );
        return Err(bench
            .error(work, "not-square", says, &[door, side])
            .help("name the door first, then the side whose inner face carries the plates"));
    }
    let overlay = wall.reach(inward).1 - leaf.reach(inward).0;
    let (back, edge) = (leaf.reach(out).0, wall.reach(out).1);
    // An inset door shuts between the sides, an overlay door before them.
    let front = if overlay > TOUCH { edge } else { back };
    let before = back - edge;
    if overlay > TOUCH && before < -TOUCH {
        let says = format!(
            "`{}` covers {} of `{}`, but stands {} behind its front edge",
            bench.name(door),
            bench.mm(overlay),
            bench.name(side),
            bench.mm(-before)
        );
        return Err(bench
            .error(work, "parts-cross", says, &[door, side])
            .help("set the door before the sides, or make it narrower so that it shuts between them"));
    }
    let far = if overlay > TOUCH { before } else { (-overlay).max(back - edge) };
    if far > BEFORE {
        let says = format!(
            "`{}` and `{}` stand {} apart: a hinge bridges {} at most",
            bench.name(door),
            bench.name(side),
            bench.mm(far),
            bench.mm(BEFORE)
        );
        return Err(bench
            .error(work, "parts-do-not-meet", says, &[door, side])
            .help("bring the door to the side, with a gap of 2 mm or so"));
    }
    let ends = leaf.reach(run);
    let held = wall.reach(run);
    let ends_in = (ends.0.max(held.0), ends.1.min(held.1));
    if ends_in.1 - ends_in.0 < 120.0 {
        let says = format!(
            "`{}` and `{}` stand beside one another for {} only; two hinges need {}",
            bench.name(door),
            bench.name(side),
            bench.mm((ends_in.1 - ends_in.0).max(0.0)),
            bench.mm(120.0)
        );
        return Err(bench
            .error(work, "does-not-fit", says, &[door, side])
            .help("make the door higher, or hang it on another part"));
    }
    Ok(Hung { door, side, out, inward, run, overlay, front, ends })
}

/// Arm, boring distance, plate and count; a problem with the range that can be
/// had where none fits.
fn fitted(bench: &Bench<'_>, work: &Work, hung: &Hung) -> Result<Fitted, Problem> {
    let overlay = hung.overlay;
    let arm = match overlay {
        o if o <= TOUCH => (Arm::Inset, -4.0),
        o if o < 10.0 => (Arm::HalfOverlay, 4.0),
        _ => (Arm::FullOverlay, 13.0),
    };
    let reach = work.options.number("reach").unwrap_or(arm.1);
    let borings: Vec<f64> = work.options.number("boring").map_or(BORINGS.to_vec(), |b| vec![b]);
    // The nearest plate: hinges are adjusted by 2 mm either way.
    let tried = borings.iter().flat_map(|b| PLATES.iter().map(move |p| (*b, *p)));
    let off = |(b, p): (f64, f64)| (reach + b - p - overlay).abs();
    let best = tried.fold(None, |best: Option<(f64, f64)>, one| match best {
        Some(known) if off(known) <= off(one) + 1e-6 => Some(known),
        _ => Some(one),
    });
    let (boring, plate) = best.unwrap_or((5.0, 0.0));
    if off((boring, plate)) > 2.0 {
        let least = borings.iter().copied().fold(f64::INFINITY, f64::min) + reach - 6.0;
        let most = borings.iter().copied().fold(f64::NEG_INFINITY, f64::max) + reach;
        let range = if overlay > TOUCH {
            format!("covers between {} and {}", bench.figure(least.max(0.0)), bench.mm(most))
        } else {
            format!(
                "leaves a gap between {} and {}",
                bench.figure((-most).max(0.0)),
                bench.mm((-least).max(0.0))
            )
        };
        let stands = if overlay > TOUCH {
            format!("covers {} of `{}`", bench.mm(overlay), bench.name(hung.side))
        } else {
            format!("leaves a gap of {} to `{}`", bench.mm(-overlay), bench.name(hung.side))
        };
        let says = format!("`{}` {stands}, but a cup hinge {range}", bench.name(hung.door));
        return Err(bench
            .error(work, "does-not-fit", says, &[hung.door, hung.side])
            .help("make the door wider or narrower, or give `reach` from the hinge's data sheet"));
    }
    let height = hung.ends.1 - hung.ends.0;
    let count = work.options.count("count").unwrap_or_else(|| usual_count(bench, hung.door, height));
    let from_end = work.options.number("from_end").unwrap_or_else(|| (0.2 * height).min(100.0));
    let cup = work.options.pair("cup").unwrap_or((35.0, 13.0));
    Ok(Fitted { arm: arm.0, boring, plate, count, from_end, cup })
}

/// How many hinges a door of its height and weight needs; beyond the table one
/// more for every 500 mm.
pub(in crate::joinery) fn usual_count(bench: &Bench<'_>, door: usize, height: f64) -> u32 {
    let leaf = &bench.placed[door];
    let stock = bench.job.parts.get(door).and_then(|p| bench.job.stock.get(p.stock.0));
    let density = stock.and_then(crate::model::Stock::mean_density).unwrap_or(700.0);
    let mass = leaf.size.x * leaf.size.y * leaf.size.z * 1e-9 * density;
    let found = DO.iter().find(|(_, high, heavy)| height <= *high && mass <= *heavy);
    found.map_or(6, |(count, ..)| *count)
}

/// Heights of the hinges along the run.
fn places(bench: &Bench<'_>, work: &Work, hung: &Hung, fitted: &Fitted) -> Result<Vec<f64>, Problem> {
    let span = hung.ends.1 - hung.ends.0 - 2.0 * fitted.from_end;
    let gaps = f64::from(fitted.count - 1);
    let pitch = span / gaps;
    if pitch < 64.0 {
        let says = format!(
            "{} hinges {} from the ends of `{}` stand {} apart; they need {}",
            fitted.count,
            bench.mm(fitted.from_end),
            bench.name(hung.door),
            bench.mm(pitch.max(0.0)),
            bench.mm(64.0)
        );
        return Err(bench
            .error(work, "does-not-fit", says, &[hung.door])
            .help("ask for fewer, make `from_end` less, or make the door higher"));
    }
    Ok((0..fitted.count).map(|k| hung.ends.0 + fitted.from_end + pitch * f64::from(k)).collect())
}

/// Hinges much nearer to one another than the door is wide let it sag.
fn too_close(bench: &Bench<'_>, work: &Work, hung: &Hung, places: &[f64]) -> Option<Problem> {
    let (low, high) = bench.placed[hung.door].reach(hung.inward);
    let span = places.last()? - places.first()?;
    if span > 0.5 * (high - low) - TOUCH {
        return None;
    }
    let says = format!(
        "the hinges of `{}` stand {} apart, less than half of the door's width of {}",
        bench.name(hung.door),
        bench.mm(span),
        bench.mm(high - low)
    );
    Some(
        bench
            .warning(work, "door-too-wide", says, &[hung.door])
            .help("such a door sags: make it narrower, or make a pair of doors"),
    )
}

/// The bores in the door and the holes in the side, with what is screwed on.
fn cut(
    bench: &Bench<'_>,
    work: &Work,
    hung: &Hung,
    fitted: &Fitted,
    places: &[f64],
    made: &mut Made,
) -> Result<(), Problem> {
    let (leaf, wall) = (&bench.placed[hung.door], &bench.placed[hung.side]);
    let thick = leaf.size.z;
    if fitted.cup.1 > thick - UNDER + 1e-6 {
        let says = format!(
            "a cup {} deep leaves {} of `{}`, which is {} thick",
            bench.mm(fitted.cup.1),
            bench.mm((thick - fitted.cup.1).max(0.0)),
            bench.name(hung.door),
            bench.mm(thick)
        );
        return Err(bench
            .error(work, "breaks-through", says, &[hung.door])
            .help(format!("use a thicker door, or a shallower cup: {} at most", bench.mm(thick - UNDER))));
    }
    let edge = leaf.reach(hung.inward).0;
    let back = leaf.reach(hung.out).0;
    let inner = wall.reach(hung.inward).1;
    let line = hung.front - work.options.number("plate_line").unwrap_or(37.0);
    if PLATE_HOLE.1 > wall.size.z - UNDER + 1e-6 || line - wall.reach(hung.out).0 < PLATE_HOLE.0 {
        let says = format!("the plate has no wood to hold in `{}`", bench.name(hung.side));
        return Err(bench
            .error(work, "does-not-fit", says, &[hung.side])
            .help("the side must be 14 mm thick, and deeper than `plate_line`"));
    }
    let place = |across: f64, out: f64, at: f64| hung.inward * across + hung.out * out + hung.run * at;
    let (mut cups, mut plates) = (Vec::new(), Vec::new());
    for &at in places {
        let middle = place(edge + fitted.boring + HALF_CUP, back, at);
        let mut bore = |part, kind, start, along, depth, wide| {
            made.cuts.extend(Prism::hole(start, along, depth, wide).map(|shape| Sawn { part, kind, shape }));
        };
        bore(hung.door, CutKind::HingeCup, middle, hung.out, fitted.cup.1, fitted.cup.0);
        for way in [-1.0, 1.0] {
            let pilot = middle + hung.inward * CUP_SCREWS.1 + hung.run * (way * CUP_SCREWS.0);
            bore(hung.door, CutKind::FittingHole, pilot, hung.out, CUP_PILOT.1, CUP_PILOT.0);
            let hole = place(inner, line, at + way * PLATE_HALF);
            bore(hung.side, CutKind::FittingHole, hole, -hung.inward, PLATE_HOLE.1, PLATE_HOLE.0);
        }
        cups.extend(Placement::looking(middle, hung.out, hung.run));
        plates.extend(Placement::looking(place(inner, line, at), -hung.inward, hung.run));
    }
    let body = Prism {
        at: Placement::IDENTITY,
        outline: Outline::circle(DVec2::ZERO, 0.5 * fitted.cup.0),
        from: 0.0,
        to: fitted.cup.1,
    };
    let item = Ironmongery::CupHinge(Size::of(fitted.cup.0), fitted.arm).into();
    made.inserts.push(Insert { item, at: cups, body: Some(body) });
    let item = Ironmongery::HingePlate(Size::of(fitted.plate)).into();
    made.inserts.push(Insert { item, at: plates, body: None });
    Ok(())
}
