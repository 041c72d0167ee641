//! Knobs and pulls, bolted through what they open; inserts with a thread.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::side_of;
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PART;
use crate::joinery::bench::tolerance::{LOOKS, NOISE};
use crate::joinery::bench::worked::{CuttingPlane, Insert};
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::doors::{Bolted, DoorFitting};
use crate::joinery::facts::item::{Fastener, Handle, Ironmongery, Size, sizes};
use crate::joinery::facts::thread::Thread;
use crate::joinery::facts::traits::Traits;
use crate::joinery::facts::{self, Facts};
use crate::measure::{INCH, Unit};
use crate::model::{OptionKind, OptionSpec, Side, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `knob`.
pub(in crate::joinery) struct Knob;
/// The word `pull`.
pub(in crate::joinery) struct Pull;
/// The word `insert_nut`.
pub(in crate::joinery) struct InsertNut;

/// Distances from the sides of the piece.
const FROM: OptionKind = OptionKind::Length { min: 0.0, max: 5000.0 };
/// The face it is fixed to.
const SIDE: OptionSpec = OptionSpec {
    key: "side",
    kind: OptionKind::Side,
    default: &[Usual::Words("the front, where a face of the part looks there, else its marked face")],
    says: "the face of the part it is fixed to",
};
/// The option named after a side.
const fn from(key: &'static str) -> OptionSpec {
    OptionSpec {
        key,
        kind: FROM,
        default: &[Usual::Words("the middle")],
        says: "from that edge of the part to the middle of the fitting",
    }
}
/// Hole for the bolt.
const HOLE: OptionSpec = OptionSpec {
    key: "hole",
    kind: OptionKind::Length { min: 2.0, max: 20.0 },
    default: &[
        Usual::Length(BOLT_HOLE),
        Usual::Words(", for a bolt of "),
        Usual::Length(BOLT_HOLE - BOLT_ROOM),
    ],
    says: "diameter of the hole bored through",
};

/// Options of its own, then those that place a fitting, then more of its own.
macro_rules! placed {
    ($($first:expr),* ; $($last:expr),*) => {
        &[
            $($first,)*
            SIDE,
            from("left"),
            from("right"),
            from("top"),
            from("bottom"),
            from("front"),
            from("back"),
            $($last,)*
        ]
    };
}

/// What `knob` says of itself.
static KNOB: Word = Word {
    name: "knob",
    args: PART,
    options: placed![; HOLE],
    says: "fixes a knob with a bolt through the part; bought, or a turned part of its own",
    rule: "hole 1 mm wider than the bolt (common practice, no source)",
    example: "knob(part, #{ right: 40, top: 120 });",
};

/// What `pull` says of itself.
static PULL: Word = Word {
    name: "pull",
    args: PART,
    options: placed![
        OptionSpec {
            key: "centres",
            kind: OptionKind::Length { min: 16.0, max: 1000.0 },
            default: &[Usual::Sold(CENTRES)],
            says: "from the middle of one hole to the middle of the other",
        },
        OptionSpec {
            key: "upright",
            kind: OptionKind::YesNo,
            default: &[Usual::Words("true where the part is higher than wide")],
            says: "whether it stands upright rather than level",
        }; HOLE
    ],
    says: "fixes a pull with two bolts through the part",
    rule: "centres multiples of 32 mm; holes 1 mm wider than the bolts (common practice, no source)",
    example: "pull(part, #{ centres: 128, top: 60 });",
};

/// What `insert_nut` says of itself.
static INSERT_NUT: Word = Word {
    name: "insert_nut",
    args: PART,
    options: placed![
        OptionSpec {
            key: "size",
            kind: OptionKind::Choice(&["M4", "M5", "M6", "M8", "8-32", "10-24", "1/4-20", "5/16-18"]),
            default: &[
                Usual::Text(Thread::M6.name()),
                Usual::Words(", in inches "),
                Usual::Text(Thread::Quarter.name()),
            ],
            says: "its thread",
        },
        OptionSpec {
            key: "bore",
            kind: OptionKind::Pair,
            default: &[
                Usual::By(Thread::M4.bore().wide, Thread::M4.bore().deep),
                Usual::Words(" for M4, "),
                Usual::By(Thread::M5.bore().wide, Thread::M5.bore().deep),
                Usual::Words(" for M5, "),
                Usual::By(Thread::M6.bore().wide, Thread::M6.bore().deep),
                Usual::Words(" for M6, "),
                Usual::By(Thread::M8.bore().wide, Thread::M8.bore().deep),
                Usual::Words(" for M8, by the inch likewise by its thread; the maker's sheet comes first"),
            ],
            says: "diameter and depth of its bore, such as \"10x15\"",
        };
    ],
    says: "drives an insert with a thread into the part, for a bolt",
    rule: "wood all round and under the bore at least 3 mm (common practice, no source)",
    example: "insert_nut(part, #{ size: \"M6\", side: \"back\", top: 60 });",
};

/// The place of a fitting, piece coordinates.
struct Place {
    part: usize,
    /// Out of the face.
    out: DVec3,
    /// Its middle, on the face.
    at: DVec3,
    /// The part under it, mm.
    thick: f64,
    /// Level and upright ways of the face, with the part's size along them.
    ways: [(DVec3, f64); 2],
}

/// Bolts for knobs and pulls: diameter of their hole, and of the hole less the bolt, mm.
const BOLT_HOLE: f64 = 5.0;
/// See `BOLT_HOLE`.
const BOLT_ROOM: f64 = 1.0;
/// Steps that bolts on sale rise by, mm.
const BOLT_STEP: f64 = 5.0;
/// The hole of a bolt 8-32 in a job in inches, 3/16, and the steps of its length, 1/4, mm
/// (common practice, no source).
const INCH_HOLE: f64 = 3.0 / 16.0 * INCH;
/// See `INCH_HOLE`.
const INCH_STEP: f64 = INCH / 4.0;
/// Least that a bolt goes into its knob or pull, mm.
const BOLT_HOLD: f64 = 6.0;
/// Diameter and length of a knob in pictures, mm.
const KNOB_SIZE: f64 = 25.0;
/// Between the bolts of a pull, mm: three steps of the system.
const CENTRES: f64 = 96.0;

/// The side a fitting goes on: as asked, else the front where the part has one, else the
/// face that is marked.
fn side(bench: &Bench<'_>, work: &Work, part: usize) -> Side {
    let marked = bench.job.parts.get(part).map_or(Side::Front, |p| p.face);
    let looks = bench.placed[part].axis(2).dot(Side::Front.normal()).abs() > LOOKS;
    let usual = if looks { Side::Front } else { marked };
    work.options.sides("side").and_then(|s| s.first().copied()).unwrap_or(usual)
}

/// Where the options put the fitting.
fn place(bench: &Bench<'_>, work: &Work) -> Result<Place, Problem> {
    let part = bench.part(work, 0)?;
    let blank = &bench.placed[part];
    let side = side(bench, work, part);
    let out = side.normal();
    let Some(through) = blank.axis_along(out) else {
        let message =
            format!("`{}` has no face to the {}: it stands at an angle", bench.name(part), side.name());
        return Err(bench
            .error(work, "no-such-edge", message, &[part])
            .help("name a face that it turns squarely"));
    };
    let size = |way: DVec3| blank.reach(way).1 - blank.reach(way).0;
    let flat = |way: DVec3| way.dot(out).abs() < 0.5 && blank.axis_along(way).is_some();
    // Ways of the piece, not of the part: a door is measured from its top and left,
    // whichever way its grain runs.
    let mut ways = [DVec3::X, DVec3::Y, DVec3::Z].into_iter().filter(|way| flat(*way));
    let (Some(u), Some(v)) = (ways.next(), ways.next()) else {
        let message = format!("`{}` is turned in its face: edges cannot be told apart", bench.name(part));
        return Err(bench
            .error(work, "not-square", message, &[part])
            .help("use `hole` and name the fitting in a note"));
    };
    let mut at = out * blank.reach(out).1;
    for way in [u, v] {
        at += measured(bench, work, part, way)?;
    }
    off_the_face(bench, work, part, side)?;
    Ok(Place { part, out, at, thick: blank.size[through], ways: [(u, size(u)), (v, size(v))] })
}

/// How far the fitting stands along a way of its face: from the edge that is named, else
/// in the middle.
fn measured(bench: &Bench<'_>, work: &Work, part: usize, way: DVec3) -> Result<DVec3, Problem> {
    let blank = &bench.placed[part];
    let given: Vec<(Side, f64)> = Side::ALL
        .into_iter()
        .filter(|s| s.normal().dot(way).abs() > LOOKS)
        .filter_map(|s| Some((s, work.options.number(s.name())?)))
        .collect();
    match given.as_slice() {
        [] => Ok(way * (0.5 * (blank.reach(way).0 + blank.reach(way).1))),
        [(side, by)] => Ok(side.normal() * (blank.reach(side.normal()).1 - by)),
        [(one, _), (two, _), ..] => {
            let message = format!("`{}` and `{}` both place it", one.name(), two.name());
            Err(bench.error(work, "contradictory", message, &[part]).help("give one of the two"))
        }
    }
}

/// Refuses a distance from a side that is no edge of the face.
fn off_the_face(bench: &Bench<'_>, work: &Work, part: usize, side: Side) -> Result<(), Problem> {
    let wrong = Side::ALL.into_iter().find(|s| {
        let square = s.normal().dot(side.normal()).abs() > LOOKS;
        square && work.options.number(s.name()).is_some()
    });
    let Some(wrong) = wrong else { return Ok(()) };
    let message = format!(
        "on the {} of `{}` nothing can be measured from the {}",
        side.name(),
        bench.name(part),
        wrong.name()
    );
    Err(bench.error(work, "no-such-edge", message, &[part]).help("name an edge of that face"))
}

/// A hole of a fitting; a problem where it has no wood round it.
fn bored(bench: &Bench<'_>, work: &Work, place: &Place, at: DVec3, bore: Bore) -> Result<Vec<Sawn>, Problem> {
    let Bore { wide, deep } = bore;
    for (way, _) in place.ways {
        let (low, high) = bench.placed[place.part].reach(way);
        // Only along the face: through the part the hole is meant to go.
        let left = (way.dot(at) - low).min(high - way.dot(at)) - 0.5 * wide;
        if left < WALL - NOISE {
            let message = format!(
                "a hole of {} for `{}` comes within {} of an edge of `{}`; it needs {}",
                bench.mm(wide),
                work.word.name,
                bench.beside(left.max(0.0), WALL),
                bench.name(place.part),
                bench.beside(WALL, left.max(0.0))
            );
            return Err(bench
                .error(work, "breaks-through", message, &[place.part])
                .help("move it further from the edge"));
        }
    }
    let part = place.part;
    let shape = Prism::hole(at, -place.out, deep, wide);
    Ok(shape.map(|shape| Sawn { part, kind: CutKind::FittingHole, shape }).into_iter().collect())
}

/// The shape of what is bought: a stalk before the face, mm.
fn stalk(wide: f64, long: f64) -> Prism {
    let outline = Outline::circle(DVec2::ZERO, 0.5 * wide);
    Prism { at: Placement::IDENTITY, outline, from: 0.0, to: long }
}

/// Bolt holes through the part, with what is fixed.
fn bolted(
    bench: &Bench<'_>,
    work: &Work,
    place: &Place,
    places: &[DVec3],
    centres: Option<f64>,
) -> Result<Made, Problem> {
    let inches = bench.job.unit == Unit::Inch;
    let told = work.options.number("hole");
    let hole = told.unwrap_or(if inches { INCH_HOLE } else { BOLT_HOLE });
    // An inch shop has a bolt by the inch in its usual hole; what is told may be for another.
    let bolt = if inches && told.is_none() { Thread::No8.bolt() } else { hole - BOLT_ROOM };
    let step = if inches { INCH_STEP } else { BOLT_STEP };
    let mut made = Made { parts: vec![place.part], ..Made::default() };
    for at in places {
        made.cuts.extend(bored(bench, work, place, *at, Bore { wide: hole, deep: place.thick })?);
    }
    // Up to the next length on sale: a shorter one would not reach its hold.
    let length = ((place.thick + BOLT_HOLD) / step).ceil() * step;
    let at = |p: &DVec3| Placement::looking(*p, place.out, DVec3::Z);
    let (item, handle) = centres.map_or((Ironmongery::Knob, Handle::Knob), |centres| {
        (Ironmongery::Pull(Size::of(centres)), Handle::Pull)
    });
    made.inserts.push(Insert {
        item: item.into(),
        at: at(&place.at).into_iter().collect(),
        body: (places.len() == 1).then(|| stalk(KNOB_SIZE, KNOB_SIZE)),
    });
    made.inserts.push(Insert {
        item: Fastener::Bolt(sizes([bolt, length]), handle).into(),
        at: places.iter().filter_map(at).collect(),
        body: None,
    });
    // Between its two bolts a pull shows nothing: through the first of them.
    if let [one, two, ..] = places {
        made.shown_by = (*two - *one).try_normalize().map(|toward| CuttingPlane { point: *one, toward });
    }
    made.facts = Facts::Doors(DoorFitting::Bolted(Bolted {
        centres,
        holes: places.len(),
        hole,
        from: side_of(place.out),
    }));
    Ok(made)
}

impl Joinery for Knob {
    fn word(&self) -> &'static Word {
        &KNOB
    }

    fn traits(&self) -> Traits {
        Traits { is_handle: true, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let place = place(bench, work)?;
        Ok(vec![bolted(bench, work, &place, &[place.at], None)?])
    }
}

impl Joinery for Pull {
    fn word(&self) -> &'static Word {
        &PULL
    }

    fn traits(&self) -> Traits {
        Traits { is_handle: true, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let place = place(bench, work)?;
        let [level, upright] = place.ways;
        // A pull follows the longer way of its part: upright on a door, level on a
        // drawer's front.
        let stands = match work.options.0.get("upright") {
            Some(_) => work.options.yes("upright"),
            None => upright.1 > level.1,
        };
        let way = if stands { upright.0 } else { level.0 };
        let centres = work.options.number("centres").unwrap_or(CENTRES);
        let holes = [-0.5, 0.5].map(|by| place.at + way * (centres * by));
        Ok(vec![bolted(bench, work, &place, &holes, Some(centres))?])
    }
}

/// How much wider than its thread an insert is at least, mm.
const INSERT_WALL: f64 = 0.5;

/// Refuses a bore for an insert that is no wider than the thread in it.
pub(in crate::joinery) fn takes_thread(
    bench: &Bench<'_>,
    work: &Work,
    part: usize,
    (thread, bore): (Thread, f64),
) -> Result<(), Problem> {
    if bore > thread.bolt() + INSERT_WALL {
        return Ok(());
    }
    let message =
        format!("a bore of {} has no room for an insert with a thread {}", bench.mm(bore), thread.name());
    Err(bench
        .error(work, "does-not-fit", message, &[part])
        .help("bore as wide as the insert's maker says: about 2 mm wider than the thread"))
}

impl Joinery for InsertNut {
    fn word(&self) -> &'static Word {
        &INSERT_NUT
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let place = place(bench, work)?;
        let thread = work.options.text("size").and_then(Thread::named);
        let thread = thread.unwrap_or_else(|| Thread::M6.of(bench.job.unit));
        let bore =
            work.options.pair("bore").map_or_else(|| thread.bore(), |(wide, deep)| Bore { wide, deep });
        let Bore { wide, deep } = bore;
        // Before depth and edges: a bore that takes no insert at all is the first thing
        // to change.
        takes_thread(bench, work, place.part, (thread, wide))?;
        if deep > place.thick - WALL + NOISE {
            let message = format!(
                "a bore {} deep leaves {} of `{}`, which is {} thick there",
                bench.mm(deep),
                bench.mm((place.thick - deep).max(0.0)),
                bench.name(place.part),
                bench.mm(place.thick)
            );
            let most = bench.mm((place.thick - WALL).max(0.0));
            return Err(bench
                .error(work, "breaks-through", message, &[place.part])
                .help(format!("use a shorter insert with `bore`: {most} at most")));
        }
        let cuts = bored(bench, work, &place, place.at, bore)?;
        let at = Placement::looking(place.at, -place.out, DVec3::Z).into_iter().collect();
        let item = Fastener::InsertNut(thread, sizes([wide, deep])).into();
        let mut made = Made { parts: vec![place.part], cuts, ..Made::default() };
        made.inserts.push(Insert { item, at, body: Some(stalk(wide, deep)) });
        made.facts = Facts::Doors(DoorFitting::InsertNut(facts::doors::InsertNut {
            thread,
            bore,
            from: side_of(place.out),
        }));
        Ok(vec![made])
    }
}
