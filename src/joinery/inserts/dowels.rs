//! Dowels: round pegs in holes bored in both parts.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
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
use crate::joinery::facts::Facts;
use crate::joinery::facts::deep::Deep;
use crate::joinery::facts::inserts::{Dowelled, Inserted};
use crate::joinery::facts::item::{Wooden, sizes};
use crate::joinery::meeting::trim::Trim;
use crate::measure::{Unit, up};
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `dowels`.
pub(in crate::joinery) struct Dowels;

/// What `dowels` says of itself.
static WORD: Word = Word {
    name: "dowels",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "dowel",
            kind: OptionKind::Pair,
            default: &[
                Usual::Words("the thickness of "),
                Usual::OneOf(SOLD),
                Usual::Words(" nearest "),
                Usual::Bare(SHARE),
                Usual::Words(" of the narrower side of where the parts meet, five times as long"),
            ],
            says: "diameter and length of the dowel, such as \"8x40\"",
        },
        COUNT,
        OptionSpec {
            key: "spacing",
            kind: OptionKind::Length { min: 10.0, max: 500.0 },
            default: &[Usual::Length(SPACING)],
            says: "greatest distance between dowels where no count is given",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 1.0, max: 500.0 },
            default: &[
                Usual::Length(INSET),
                Usual::Words(", less where the parts meet on under "),
                Usual::Bare(INSET / SHORT),
            ],
            says: "from each end of where the parts meet to the first dowel's middle",
        },
        OFFSET,
        TOWARD,
    ],
    says: "joins two parts with dowels in holes bored in both, in a row along the middle of where they meet",
    rule: "dowel about 0.45 of the thickness (between a third and a half), half its length in each part, less \
           where a part would keep under 3 mm behind it; holes 1 mm deeper than the dowel reaches; dowels at \
           least three diameters apart (common practice, no source)",
    example: "dowels(rail, stile, #{ dowel: \"8x40\", count: 2 });",
};

/// How much deeper than the dowel reaches a hole is, mm.
const SPARE: f64 = 1.0;
/// Diameters dowels are sold in, mm (common practice, no source).
const SOLD: &[f64] = &[THINNEST, 8.0, 10.0, 12.0, 16.0];
/// The same where they are sold by fractions: 1/4, 5/16, 3/8, 1/2 and 5/8 in.
const SOLD_INCH: &[f64] = &[25.4 / 4.0, 25.4 * 5.0 / 16.0, 25.4 * 3.0 / 8.0, 12.7, 25.4 * 5.0 / 8.0];
/// How many times longer than thick a dowel may be where the usual one has no room.
const SHORTER: &[f64] = &[5.0, 4.0, 3.0];
/// The thinnest of them, mm.
const THINNEST: f64 = 6.0;
/// How many times longer than thick the usual dowel is.
const TIMES: f64 = 5.0;
/// Greatest distance of dowels, and from the ends to the outer ones, mm.
const SPACING: f64 = 100.0;
/// See `SPACING`.
const INSET: f64 = 30.0;
/// Least distance of dowels, in diameters.
const APART: f64 = 3.0;
/// How many times longer than thick a dowel is at least: a shorter one rocks.
const LEAST_TIMES: f64 = 2.0;
/// Diameter as a share of the thickness.
const SHARE: f64 = 0.45;
/// What a row of them is called.
const NAMED: Named = Named { one: "dowel", many: "dowels" };

/// Reach into the first and the second part, mm.
type Reach = (f64, f64);

/// A row of dowels between two parts.
struct Set<'a> {
    pair: Pair,
    plane: &'a Plane,
    /// Where they cross the plane.
    mouths: Vec<DVec3>,
    /// Diameter and length, mm.
    thick: f64,
    length: f64,
    unit: Unit,
}

impl Joinery for Dowels {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn trims(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Trim>, Problem> {
        bench.trim_to_meet(work)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        let plane = bench.meeting_plane(work, (a, b), NAMED.many)?;
        let usual = size(bench, work, &plane, (a, b));
        let first = usual.clone().and_then(|size| dowelled(bench, work, &plane, size));
        // Where nothing is asked for, a shorter or thinner dowel that fits is better than
        // none.
        if work.options.pair("dowel").is_some() {
            return first.map(|made| vec![made]);
        }
        // Never thicker than by the rule: a thinner one is tried for want of room, not a
        // stouter.
        let most = usual.map_or(plane.rect.width - 2.0 * WALL, |(thick, _)| thick);
        let tries = sold(bench).iter().rev().filter(|thick| **thick < most + NOISE);
        let mut others = tries.flat_map(|thick| SHORTER.iter().map(move |times| (*thick, times * thick)));
        match first {
            Ok(made) => Ok(vec![made]),
            Err(why) => others
                .find_map(|size| dowelled(bench, work, &plane, size).ok())
                .map_or(Err(why), |made| Ok(vec![made])),
        }
    }
}

/// The diameters to be had in the unit of the job, thinnest first, mm.
fn sold(bench: &Bench<'_>) -> &'static [f64] {
    match bench.job.unit {
        Unit::Mm => SOLD,
        Unit::Inch => SOLD_INCH,
    }
}

/// The row in one size of dowel; an error where it does not fit.
fn dowelled(
    bench: &Bench<'_>,
    work: &Work,
    plane: &Plane,
    (thick, length): (f64, f64),
) -> Result<Made, Problem> {
    let (a, b) = bench.pair(work)?;
    let row = Row { spacing: SPACING, inset: INSET, apart: APART * thick, edge: 0.5 * thick + WALL };
    let places = row::places(bench, work, &row, plane.rect.length, &NAMED)?;
    let mouths = places.iter().map(|p| plane.rect.centre + plane.rect.along * *p).collect();
    let set = Set { pair: Pair { a, b }, plane, mouths, thick, length, unit: bench.job.unit };
    let reach = set.reach(bench, work)?;
    Ok(set.bored(reach))
}

/// Diameter and length of the dowel; an error where it is too thick.
fn size(
    bench: &Bench<'_>,
    work: &Work,
    plane: &Plane,
    (a, b): (usize, usize),
) -> Result<(f64, f64), Problem> {
    let width = plane.rect.width;
    let (thick, length) = work.options.pair("dowel").unwrap_or_else(|| {
        let off = |d: &f64| (d - SHARE * width).abs();
        // The nearest on sale, not the next thinner: the wall below refuses what is too
        // thick.
        let thick = sold(bench).iter().copied().min_by(|p, q| off(p).total_cmp(&off(q))).unwrap_or(THINNEST);
        (thick, TIMES * thick)
    });
    if thick + 2.0 * WALL > width + NOISE {
        let message = format!(
            "a dowel of {} is too thick for `{}` and `{}`, which meet on {}",
            bench.mm(thick),
            bench.name(a),
            bench.name(b),
            bench.mm(width)
        );
        let allowed = (width - 2.0 * WALL).max(0.0);
        // No dowel is sold so thin: another size is no cure.
        let help = if allowed + NOISE < THINNEST {
            let least = bench.mm(THINNEST + 2.0 * WALL);
            format!("no dowel has room there: let the two meet on {least} or more, or glue them by `butt`")
        } else {
            format!("a wall of {} on either side allows {}", bench.mm(WALL), bench.mm(allowed))
        };
        return Err(bench.error(work, "breaks-through", message, &[a, b]).help(help));
    }
    // Mostly the two figures are the wrong way round.
    if length < LEAST_TIMES * thick {
        let message =
            format!("a dowel {} thick and {} long does not hold", bench.mm(thick), bench.mm(length));
        return Err(bench
            .error(work, "does-not-fit", message, &[a, b])
            .help("write the diameter first, and let the dowel be at least twice as long as it is thick"));
    }
    Ok((thick, length))
}

impl Set<'_> {
    /// How deep the hole for so much of a dowel is, mm: in inches on a mark of the rule.
    fn deep(&self, reach: f64) -> f64 {
        up(self.unit, reach + SPARE)
    }

    /// A hole in one part.
    fn hole(&self, mouth: DVec3, into: DVec3, reach: f64) -> Option<Prism> {
        Prism::hole(mouth, into, self.deep(reach), self.thick)
    }

    /// The wall behind and beside holes that reach so far into a part, mm.
    fn wall(&self, bench: &Bench<'_>, part: usize, into: DVec3, reach: f64) -> f64 {
        let holes = self.mouths.iter().filter_map(|m| self.hole(*m, into, reach));
        holes.map(|h| bench.wall_round(part, &h)).fold(f64::INFINITY, f64::min)
    }

    /// How far the dowels reach into each part: half each, or what a wall of the
    /// thinner part leaves and the rest in the other.
    fn reach(&self, bench: &Bench<'_>, work: &Work) -> Result<Reach, Problem> {
        let (Pair { a, b }, out) = (self.pair, self.plane.out);
        let walls = |(ra, rb): Reach| (self.wall(bench, a, -out, ra), self.wall(bench, b, out, rb));
        let holds = |(ra, rb): Reach| {
            let (wa, wb) = walls((ra, rb));
            ra.min(rb) >= self.thick - NOISE && wa.min(wb) >= WALL - NOISE
        };
        let half = 0.5 * self.length;
        let (wa, wb) = walls((half, half));
        let short = |wall: f64| short(self.unit, wall);
        // Half each holds best; else the thinner part gives up what its wall needs.
        let tries =
            [(half, half), (half - short(wa), half + short(wa)), (half + short(wb), half - short(wb))];
        if let Some(found) = tries.into_iter().find(|r| holds(*r)) {
            return Ok(found);
        }
        Err(self.breaks_through(bench, work, (wa, wb)))
    }

    /// The part with the thinner wall has no room for half of a dowel, nor the other for
    /// the rest.
    fn breaks_through(&self, bench: &Bench<'_>, work: &Work, (wa, wb): (f64, f64)) -> Problem {
        let (Pair { a, b }, thick, length) = (self.pair, self.thick, self.length);
        // The part that keeps least is named: the other may have room to spare.
        let (part, left) = if wa <= wb { (a, wa) } else { (b, wb) };
        let size = bench.bought(&[thick, length]);
        let what = if left < 0.0 {
            format!("breaks through `{}` by {}", bench.name(part), bench.mm(-left))
        } else {
            format!(
                "leaves {} of `{}`, less than the {} it needs",
                bench.beside(left, WALL),
                bench.name(part),
                bench.beside(WALL, left)
            )
        };
        let message =
            format!("the hole of a dowel {size} {what}, and the other part has no room for the rest");
        // Both halves shrink, so a wall that is missing costs twice.
        let fits = (length - 2.0 * short(self.unit, wa.min(wb))).max(0.0);
        let help = if fits >= LEAST_TIMES * thick {
            format!("a dowel no longer than {} would fit", bench.mm(fits))
        } else {
            "use a thinner dowel, or thicker parts".to_owned()
        };
        bench.error(work, "breaks-through", message, &[a, b]).help(help)
    }

    /// The holes and the dowels in them.
    fn bored(&self, (in_a, in_b): Reach) -> Made {
        let (Pair { a, b }, plane, thick, length) = (self.pair, self.plane, self.thick, self.length);
        let mut made = Made { parts: vec![a, b], glued: true, ways_in: vec![-plane.out], ..Made::default() };
        let mut at = Vec::new();
        for mouth in &self.mouths {
            for (part, into, reach) in [(a, -plane.out, in_a), (b, plane.out, in_b)] {
                let shape = self.hole(*mouth, into, reach);
                made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::DowelHole, shape }));
            }
            at.extend(Placement::looking(*mouth, plane.out, plane.rect.along));
        }
        let outline = Outline::circle(DVec2::ZERO, 0.5 * thick);
        let body = Prism { at: Placement::IDENTITY, outline, from: -in_a, to: in_b };
        let item = Wooden::Dowel(sizes([thick, length])).into();
        made.inserts.push(Insert { item, at, body: Some(body) });
        made.facts = Facts::Inserts(Inserted::Dowelled(Dowelled {
            count: self.mouths.len(),
            thick,
            length,
            holes: [(a, in_a), (b, in_b)].map(|(part, reach)| Deep { part, deep: self.deep(reach) }),
        }));
        made
    }
}

/// What a part must give up to keep its wall, in whole millimetres or sixteenths of an inch:
/// a stop on the drill is not set finer.
fn short(unit: Unit, wall: f64) -> f64 {
    let more = (WALL - wall).max(0.0);
    if unit == Unit::Mm { more.ceil() } else { up(unit, more) }
}
