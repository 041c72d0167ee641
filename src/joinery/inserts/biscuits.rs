//! Biscuits: flat lens-shaped slips in slots sawn by a small round cutter.

use crate::geometry::{Corner, DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::Pair;
use crate::joinery::bench::plane::{OFFSET, Plane, TOWARD};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::row::{self, COUNT, Named, Row, SHORT};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::inserts::Inserted;
use crate::joinery::facts::item::{BiscuitSize, Wooden};
use crate::joinery::facts::{self, Facts};
use crate::joinery::meeting::trim::Trim;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `biscuits`.
pub(in crate::joinery) struct Biscuits;

/// What `biscuits` says of itself.
static WORD: Word = Word {
    name: "biscuits",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "size",
            kind: OptionKind::Choice(&["0", "10", "20"]),
            default: &[Usual::Words("the largest the parts have room for")],
            says: "size of the biscuit: 0 is 47 × 15, 10 is 53 × 19, 20 is 56 × 23 mm, all 4 thick",
        },
        COUNT,
        OptionSpec {
            key: "spacing",
            kind: OptionKind::Length { min: 40.0, max: 600.0 },
            default: &[Usual::Length(SPACING)],
            says: "greatest distance between biscuits where no count is given",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 1.0, max: 600.0 },
            default: &[
                Usual::Length(INSET),
                Usual::Words(", less where the parts meet on under "),
                Usual::Bare(INSET / SHORT),
            ],
            says: "from each end of where the parts meet to the first biscuit's middle",
        },
        OFFSET,
        TOWARD,
    ],
    says: "joins two parts with biscuits in slots sawn in both, in a row along the middle of where they meet",
    rule: "slots 8, 10 and 12.3 mm deep in each part for sizes 0, 10 and 20, sawn with a cutter of 100 mm; \
           150 mm apart (common practice, no source)",
    example: "biscuits(shelf, side, #{ size: \"20\", count: 3 });",
};

/// A size of biscuit, mm.
#[derive(Clone, Copy, Debug)]
struct Size {
    /// Which it is.
    sold: BiscuitSize,
    /// How deep the slot is in each part.
    depth: f64,
}

/// The sizes, largest first (common practice, no source).
const SIZES: &[Size] = &[
    Size { sold: BiscuitSize::No20, depth: 12.3 },
    Size { sold: BiscuitSize::No10, depth: 10.0 },
    Size { sold: BiscuitSize::No0, depth: 8.0 },
];
/// Thickness of a biscuit and of its slot, mm.
const THICK: f64 = 4.0;
/// A half, squared: of half the chord, by Pythagoras.
const HALF_SQUARED: f64 = 0.25;
/// Radius of the cutter, mm.
const CUTTER: f64 = 50.0;
/// Greatest distance of biscuits, and from the ends to the outer ones, mm.
const SPACING: f64 = 150.0;
/// See `SPACING`.
const INSET: f64 = 50.0;
/// What a row of them is called.
const NAMED: Named = Named { one: "biscuit", many: "biscuits" };

impl Joinery for Biscuits {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn trims(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Trim>, Problem> {
        bench.trim_to_meet(work)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        let plane = bench.meeting_plane(work, (a, b), NAMED.many)?;
        if THICK + 2.0 * WALL > plane.rect.width + NOISE {
            return Err(too_thin(bench, work, &plane, (a, b)));
        }
        // The largest first: it holds most, and a smaller one is only for want of room.
        let asked = work.options.text("size");
        let is = |size: &Size, name: &str| size.sold.number().to_string() == name;
        let mut refused = None;
        // Of the sizes that may be used, the first that fits.
        for size in SIZES.iter().filter(|size| asked.is_none_or(|name| is(size, name))) {
            match slotted(bench, work, &plane, size, Pair { a, b }) {
                Ok(made) => return Ok(vec![made]),
                Err(problem) => refused = Some(problem),
            }
        }
        Err(refused.unwrap_or_else(|| too_thin(bench, work, &plane, (a, b))))
    }
}

/// The parts meet on less than a slot and its walls need.
fn too_thin(bench: &Bench<'_>, work: &Work, plane: &Plane, (a, b): (usize, usize)) -> Problem {
    let message = format!(
        "a biscuit needs {} to lie in, but `{}` and `{}` meet on {}",
        bench.mm(THICK + 2.0 * WALL),
        bench.name(a),
        bench.name(b),
        bench.mm(plane.rect.width)
    );
    bench.error(work, "does-not-fit", message, &[a, b]).help("use thin dowels, or let the parts meet on more")
}

/// How long the cutter makes a slot at the face, mm.
fn chord(depth: f64) -> f64 {
    2.0 * (CUTTER * CUTTER - (CUTTER - depth) * (CUTTER - depth)).max(0.0).sqrt()
}

/// A slot: its frame at the middle of the mouth, x along, y into the wood.
fn slot(mouth: DVec3, along: DVec3, into: DVec3, depth: f64) -> Option<Prism> {
    let at = Placement::from_axes(mouth, along, into)?;
    let half = 0.5 * chord(depth);
    // The arc is halved at the bottom, so that a corner of its facets lies as deep
    // as the slot is.
    let rise = CUTTER - (CUTTER * CUTTER - HALF_SQUARED * (half * half + depth * depth)).sqrt();
    let outline = Outline::arced(&[
        Corner::straight(-half, 0.0),
        Corner::rising(half, 0.0, rise),
        Corner::rising(0.0, depth, rise),
    ])?;
    Some(Prism { at, outline, from: -0.5 * THICK, to: 0.5 * THICK })
}

/// The row in one size; an error where it does not fit.
fn slotted(bench: &Bench<'_>, work: &Work, plane: &Plane, size: &Size, pair: Pair) -> Result<Made, Problem> {
    let Pair { a, b } = pair;
    let long = chord(size.depth);
    // By the slot and not the biscuit: the round cutter reaches further than what it makes
    // room for.
    let row = Row { spacing: SPACING, inset: INSET, apart: long + 2.0 * WALL, edge: 0.5 * long + WALL };
    let places = row::places(bench, work, &row, plane.rect.length, &NAMED)?;
    let mut made = Made { parts: vec![a, b], glued: true, ways_in: vec![-plane.out], ..Made::default() };
    let mut at = Vec::new();
    for place in &places {
        let mouth = plane.rect.centre + plane.rect.along * *place;
        for (part, into) in [(a, -plane.out), (b, plane.out)] {
            let Some(shape) = slot(mouth, plane.rect.along, into, size.depth) else { continue };
            let left = bench.wall_behind(part, &shape, -into);
            if left < WALL - NOISE {
                return Err(breaks_through(bench, work, size, part, left));
            }
            made.cuts.push(Sawn { part, kind: CutKind::BiscuitSlot, shape });
        }
        at.extend(Placement::looking(mouth, plane.out, plane.rect.along));
    }
    made.inserts.push(Insert { item: Wooden::Biscuit(size.sold).into(), at, body: lens(size) });
    made.facts = Facts::Inserts(Inserted::Biscuits(facts::inserts::Biscuits {
        count: places.len(),
        size: size.sold,
        slot: THICK,
        deep: size.depth,
    }));
    Ok(made)
}

/// The biscuit in the frame of its mouth, x along, z out of the first part.
fn lens(size: &Size) -> Option<Prism> {
    let (length, width) = size.sold.lens();
    let (half, rise) = (0.5 * length, 0.5 * width);
    let outline = Outline::arced(&[Corner::rising(-half, 0.0, rise), Corner::rising(half, 0.0, rise)])?;
    let at = Placement::from_axes(DVec3::ZERO, DVec3::X, DVec3::Z)?;
    Some(Prism { at, outline, from: -0.5 * THICK, to: 0.5 * THICK })
}

/// A slot that leaves too little of a part.
fn breaks_through(bench: &Bench<'_>, work: &Work, size: &Size, part: usize, left: f64) -> Problem {
    let name = bench.name(part);
    let what = if left < 0.0 {
        format!("breaks through `{name}` by {}", bench.mm(-left))
    } else {
        format!(
            "leaves {} of `{name}`, less than the {} it needs",
            bench.beside(left, WALL),
            bench.beside(WALL, left)
        )
    };
    let message = format!(
        "the slot of a biscuit of size {}, {} deep, {what}",
        size.sold.number(),
        bench.mm(size.depth)
    );
    let help = if size.sold == BiscuitSize::No0 {
        "use thin dowels, or thicker parts"
    } else {
        "use a smaller size"
    };
    bench.error(work, "breaks-through", message, &[part]).help(help)
}
