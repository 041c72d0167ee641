//! Levelling feet: a threaded insert in the underside of a leg, side or plinth.

use super::hanging_cleat::rod;
use crate::geometry::{DVec3, Placement};
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::worked::{CutKind, Insert};
use crate::joinery::doors::handles::takes_thread;
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::hanging::{Feet, Hanging};
use crate::joinery::facts::item::{Support, Thread, sizes};
use crate::joinery::facts::traits::Traits;
use crate::model::{Arg, OptionKind, OptionSpec, Takes, Word, Work};
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
            kind: OptionKind::Choice(&["M6", "M8", "M10"]),
            default: "M8, M6 in parts thinner than 20 mm",
            says: "thread of the foot and its insert",
        },
        OptionSpec {
            key: "bore",
            kind: OptionKind::Pair,
            default: "8 by 15 mm for M6, 10 by 18 mm for M8, 12 by 22 mm for M10, or as the insert's maker says",
            says: "diameter and depth of the bore for the insert, such as \"10x18\"",
        },
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 1, max: 12 },
            default: "one in the middle under a leg, two under a part longer than 120 mm",
            says: "how many feet under each part",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 5.0, max: 1000.0 },
            default: "40 mm, a quarter of a short part",
            says: "from the ends of a part to its outer feet",
        },
    ],
    says: "bores the undersides of parts for inserts that take adjustable feet",
    rule: "bore and depth by thread as usual for inserts driven into wood; 3 mm of wood round the bore (common \
           practice, no source; the insert's maker comes first)",
    example: "levelling_feet([left, right], #{ foot: \"M8\" });",
};

/// Thread, diameter and depth of its bore, mm.
const BORES: [(Thread, f64, f64); 3] =
    [(Thread::M6, 8.0, 15.0), (Thread::M8, 10.0, 18.0), (Thread::M10, 12.0, 22.0)];

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

/// The bores under one part.
fn footed(bench: &Bench<'_>, work: &Work, part: usize) -> Result<Made, Problem> {
    let blank = &bench.placed[part];
    let name = bench.name(part);
    let Some(up) = blank.axis_along(DVec3::Z) else {
        let says = format!("`{name}` has no level underside: it stands at an angle");
        return Err(bench
            .error(work, "no-such-edge", says, &[part])
            .help("put the feet under a part that stands upright"));
    };
    let (u, v) = ((up + 1) % 3, (up + 2) % 3);
    let (long, wide) = if blank.size[u] >= blank.size[v] { (u, v) } else { (v, u) };
    let (length, width) = (blank.size[long], blank.size[wide]);
    let usual = if width < 20.0 { Thread::M6 } else { Thread::M8 };
    let thread = work.options.text("foot").and_then(Thread::named).unwrap_or(usual);
    let usual = BORES.iter().find(|b| b.0 == thread).map_or((10.0, 18.0), |b| (b.1, b.2));
    let (bore, deep) = work.options.pair("bore").unwrap_or(usual);
    takes_thread(bench, work, part, (thread, bore))?;
    if width < bore + 2.0 * WALL - 1e-6 || length < bore + 2.0 * WALL - 1e-6 {
        let says = format!(
            "a bore of {} leaves {} beside it in `{name}`, which is {} thick; it needs {}",
            bench.mm(bore),
            bench.mm((0.5 * (width - bore)).max(0.0)),
            bench.mm(width),
            bench.mm(WALL)
        );
        return Err(bench
            .error(work, "breaks-through", says, &[part])
            .help("use a smaller thread, or glue a block inside and put the foot under that"));
    }
    let (low, high) = bench.grown[part].reach(DVec3::Z);
    if deep > high - low - WALL + 1e-6 {
        let says = format!(
            "a bore {} deep goes through `{name}`, which is {} high",
            bench.mm(deep),
            bench.mm(high - low)
        );
        return Err(bench.error(work, "breaks-through", says, &[part]).help("use a shorter insert"));
    }
    let places = places(bench, work, part, (length, bore))?;
    let along = blank.axis(long);
    let middle = blank.centre();
    let mut made = Made { parts: vec![part], ..Made::default() };
    let mut at = Vec::new();
    for place in places {
        let mouth = DVec3::new(middle.x, middle.y, low) + along * place;
        let shape = Prism::hole(mouth, DVec3::Z, deep, bore);
        made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::FittingHole, shape }));
        at.extend(Placement::looking(mouth, DVec3::Z, along));
    }
    made.facts =
        Facts::Hanging(Hanging::Feet(Feet { count: at.len(), thread, bore: Bore { wide: bore, deep } }));
    let item = Support::LevellingFoot(thread, sizes([bore, deep])).into();
    made.inserts.push(Insert { item, at, body: Some(rod(bore, deep)) });
    made.warnings.extend(in_the_air(bench, work, part, low));
    Ok(made)
}

/// Places along a part `length` long, from its middle, mm.
fn places(
    bench: &Bench<'_>,
    work: &Work,
    part: usize,
    (length, bore): (f64, f64),
) -> Result<Vec<f64>, Problem> {
    let count = work.options.count("count").unwrap_or(if length > 120.0 { 2 } else { 1 });
    if count == 1 {
        return Ok(vec![0.0]);
    }
    let inset = work.options.number("inset").unwrap_or((0.25 * length).min(40.0));
    let span = length - 2.0 * inset;
    let pitch = span / f64::from(count - 1);
    if inset < 0.5 * bore + WALL - 1e-6 || pitch < bore + WALL - 1e-6 {
        let says = format!(
            "{count} feet {} from the ends of `{}` stand {} apart; a bore of {} needs {} to the ends and {} between",
            bench.mm(inset),
            bench.name(part),
            bench.mm(pitch.max(0.0)),
            bench.mm(bore),
            bench.mm(0.5 * bore + WALL),
            bench.mm(bore + WALL)
        );
        return Err(bench
            .error(work, "inserts-collide", says, &[part])
            .help("ask for fewer, or change `inset`"));
    }
    Ok((0..count).map(|k| f64::from(k) * pitch - 0.5 * span).collect())
}

/// A foot where the piece does not reach the floor.
fn in_the_air(bench: &Bench<'_>, work: &Work, part: usize, low: f64) -> Option<Problem> {
    let piece = bench.job.parts.get(part)?.piece;
    let own = bench.grown.iter().zip(&bench.job.parts).filter(|(_, p)| p.piece == piece);
    let floor = own.map(|(b, _)| b.reach(DVec3::Z).0).fold(f64::INFINITY, f64::min);
    if low - floor < TOUCH {
        return None;
    }
    let says = format!(
        "the underside of `{}` is {} above the lowest of the piece: its foot does not reach the floor",
        bench.name(part),
        bench.mm(low - floor)
    );
    Some(
        bench.warning(work, "foot-in-the-air", says, &[part]).help("put feet under what stands on the floor"),
    )
}
