//! Levelling feet: a threaded insert in the underside of a leg, side or plinth.

use super::hanging_cleat::rod;
use crate::geometry::{DVec3, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::row::{Ends, SetOut};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::doors::handles::takes_thread;
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::hanging::{Feet, Hanging};
use crate::joinery::facts::item::{Support, sizes};
use crate::joinery::facts::thread::Thread;
use crate::joinery::facts::traits::Traits;
use crate::model::{Arg, OptionKind, OptionSpec, Takes, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `levelling_feet`.
pub(in crate::joinery) struct LevellingFeet;

/// What `levelling_feet` says of itself.
static WORD: Word = Word {
    name: "levelling_feet",
    args: &[Arg { name: "parts", takes: Takes::Parts }],
    options: &[
        OptionSpec {
            key: "foot",
            kind: OptionKind::Choice(&["M6", "M8", "M10", "1/4-20", "5/16-18", "3/8-16"]),
            default: &[
                Usual::Text(Thread::M8.name()),
                Usual::Words(", "),
                Usual::Text(Thread::M6.name()),
                Usual::Words(" in parts thinner than "),
                Usual::Length(THIN),
                Usual::Words("; in inches "),
                Usual::Text(Thread::FiveSixteenths.name()),
                Usual::Words(" and "),
                Usual::Text(Thread::Quarter.name()),
            ],
            says: "thread of the foot and its insert",
        },
        OptionSpec {
            key: "bore",
            kind: OptionKind::Pair,
            default: &[
                Usual::By(Thread::M6.bore().wide, Thread::M6.bore().deep),
                Usual::Words(" for M6, "),
                Usual::By(Thread::M8.bore().wide, Thread::M8.bore().deep),
                Usual::Words(" for M8, "),
                Usual::By(Thread::M10.bore().wide, Thread::M10.bore().deep),
                Usual::Words(" for M10, by the inch likewise by its thread, or as the insert's maker says"),
            ],
            says: "diameter and depth of the bore for the insert, such as \"10x18\"",
        },
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 1, max: 12 },
            default: &[
                Usual::Words("one in the middle under a leg, two under a part longer than "),
                Usual::Length(LONG),
            ],
            says: "how many feet under each part",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 5.0, max: 1000.0 },
            default: &[Usual::Length(INSET), Usual::Words(", a quarter of a short part")],
            says: "from the ends of a part to its outer feet",
        },
    ],
    says: "bores the undersides of parts for inserts that take adjustable feet",
    rule: "bore and depth by thread as usual for inserts driven into wood; 3 mm of wood round the bore (common \
           practice, no source; the insert's maker comes first)",
    example: "levelling_feet([left, right], #{ foot: \"M8\" });",
};

/// Parts thinner than this take the thinner thread, mm.
const THIN: f64 = 20.0;
/// Parts longer than this stand on two feet, mm.
const LONG: f64 = 120.0;
/// From the ends of a part to its outer feet, mm, and as a share of a short part.
const INSET: f64 = 40.0;
/// See `INSET`.
const INSET_SHARE: f64 = 0.25;

/// The underside of a part that takes feet.
struct Underside {
    part: usize,
    /// The way its feet stand in a row, and its length that way, mm.
    along: DVec3,
    length: f64,
    width: f64,
    /// The insert's thread and bore.
    thread: Thread,
    bore: Bore,
}

impl Joinery for LevellingFeet {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { stands_on_floor: true, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        bench.part(work, 0)?;
        let parts = work.parts.iter().take(1).flatten().map(|p| p.0).filter(|p| *p < bench.placed.len());
        parts.map(|part| footed(bench, work, part)).collect()
    }
}

/// The underside of a part and what goes into it; a problem where it has none.
fn underside(bench: &Bench<'_>, work: &Work, part: usize) -> Result<Underside, Problem> {
    let blank = &bench.placed[part];
    let Some(up) = blank.axis_along(DVec3::Z) else {
        let message = format!("`{}` has no level underside: it stands at an angle", bench.name(part));
        return Err(bench
            .error(work, "no-such-edge", message, &[part])
            .help("put the feet under a part that stands upright"));
    };
    let (u, v) = ((up + 1) % 3, (up + 2) % 3);
    let (long, wide) = if blank.size[u] >= blank.size[v] { (u, v) } else { (v, u) };
    let (length, width) = (blank.size[long], blank.size[wide]);
    // By the thinner way: the wall beside the bore is what gives.
    let usual = if width < THIN { Thread::M6 } else { Thread::M8 };
    let thread = work.options.text("foot").and_then(Thread::named);
    let thread = thread.unwrap_or_else(|| usual.of(bench.job.unit));
    let bore = work.options.pair("bore").map_or_else(|| thread.bore(), |(wide, deep)| Bore { wide, deep });
    // The bore may be given without its thread, and then must still take the usual one.
    takes_thread(bench, work, part, (thread, bore.wide))?;
    Ok(Underside { part, along: blank.axis(long), length, width, thread, bore })
}

/// Refuses a bore that finds too little wood beside it or over it.
fn holds(bench: &Bench<'_>, work: &Work, under: &Underside) -> Result<(), Problem> {
    let Underside { part, length, width, bore, .. } = *under;
    let name = bench.name(part);
    if width < bore.wide + 2.0 * WALL - NOISE || length < bore.wide + 2.0 * WALL - NOISE {
        let message = format!(
            "a bore of {} leaves {} beside it in `{name}`, which is {} thick; it needs {}",
            bench.mm(bore.wide),
            bench.beside((0.5 * (width - bore.wide)).max(0.0), WALL),
            bench.mm(width),
            bench.beside(WALL, (0.5 * (width - bore.wide)).max(0.0))
        );
        return Err(bench
            .error(work, "breaks-through", message, &[part])
            .help("use a smaller thread, or glue a block inside and put the foot under that"));
    }
    // Of the grown part, since a lipping or a joint below takes from the height.
    let (low, high) = bench.grown[part].reach(DVec3::Z);
    if bore.deep > high - low - WALL + NOISE {
        let message = format!(
            "a bore {} deep goes through `{name}`, which is {} high",
            bench.mm(bore.deep),
            bench.mm(high - low)
        );
        return Err(bench.error(work, "breaks-through", message, &[part]).help("use a shorter insert"));
    }
    Ok(())
}

/// The bores under one part.
fn footed(bench: &Bench<'_>, work: &Work, part: usize) -> Result<Made, Problem> {
    let under = underside(bench, work, part)?;
    holds(bench, work, &under)?;
    let places = places(bench, work, &under)?;
    let Underside { along, thread, bore, .. } = under;
    let blank = &bench.placed[part];
    // From the grown part: a joint may have lengthened it downwards.
    let low = bench.grown[part].reach(DVec3::Z).0;
    let middle = blank.centre();
    let mut made = Made { parts: vec![part], ..Made::default() };
    let mut at = Vec::new();
    for place in places {
        let mouth = DVec3::new(middle.x, middle.y, low) + along * place;
        let shape = Prism::hole(mouth, DVec3::Z, bore.deep, bore.wide);
        made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::FittingHole, shape }));
        at.extend(Placement::looking(mouth, DVec3::Z, along));
    }
    made.facts = Facts::Hanging(Hanging::Feet(Feet { count: at.len(), thread, bore }));
    let item = Support::LevellingFoot(thread, sizes([bore.wide, bore.deep])).into();
    made.inserts.push(Insert { item, at, body: Some(rod(bore.wide, bore.deep)) });
    made.warnings.extend(in_the_air(bench, work, part, low));
    Ok(made)
}

/// Places along the underside of a part, from its middle, mm.
fn places(bench: &Bench<'_>, work: &Work, under: &Underside) -> Result<Vec<f64>, Problem> {
    let (part, length, bore) = (under.part, under.length, under.bore.wide);
    let count = work.options.count("count").unwrap_or(if length > LONG { 2 } else { 1 });
    let asked = work.options.number("inset");
    let inset = asked.unwrap_or((INSET_SHARE * length).min(INSET));
    let ends = asked.map_or(Ends::Chosen(inset), Ends::Asked);
    let row = SetOut { length, count, ends, apart: bore + WALL };
    if count == 1 {
        return Ok(row.places(bench));
    }
    let span = length - 2.0 * inset;
    let pitch = span / f64::from(count - 1);
    if inset < 0.5 * bore + WALL - NOISE || pitch < bore + WALL - NOISE {
        let message = format!(
            "{count} feet {} from the ends of `{}` stand {} apart; a bore of {} needs {} to the ends and {} between",
            bench.mm(inset),
            bench.name(part),
            bench.mm(pitch.max(0.0)),
            bench.mm(bore),
            bench.mm(0.5 * bore + WALL),
            bench.mm(bore + WALL)
        );
        return Err(bench
            .error(work, "inserts-collide", message, &[part])
            .help("ask for fewer, or change `inset`"));
    }
    Ok(row.places(bench))
}

/// A foot where the piece does not reach the floor.
fn in_the_air(bench: &Bench<'_>, work: &Work, part: usize, low: f64) -> Option<Problem> {
    let piece = bench.job.parts.get(part)?.piece;
    let own = bench.grown.iter().zip(&bench.job.parts).filter(|(_, p)| p.piece == piece);
    let floor = own.map(|(b, _)| b.reach(DVec3::Z).0).fold(f64::INFINITY, f64::min);
    // Against the lowest of its own piece: the floor is where that stands.
    if low - floor < TOUCH {
        return None;
    }
    let message = format!(
        "the underside of `{}` is {} above the lowest of the piece: its foot does not reach the floor",
        bench.name(part),
        bench.mm(low - floor)
    );
    Some(
        bench
            .warning(work, "foot-in-the-air", message, &[part])
            .help("put feet under what stands on the floor"),
    )
}
