//! Loose tenons: mortises in both parts and a slip of wood in both.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::Pair;
use crate::joinery::bench::plane::{OFFSET, Plane, TOWARD};
use crate::joinery::bench::pocket::{Oblong, WALL, pocket};
use crate::joinery::bench::row::{Ends, SetOut};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::{NOISE, STEPPED};
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::deep::Deep;
use crate::joinery::facts::inserts::Inserted;
use crate::joinery::facts::item::{Wooden, sizes};
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::joinery::facts::{self, Facts};
use crate::joinery::meeting::trim::Trim;
use crate::measure::{Unit, down, up};
use crate::model::{OptionKind, OptionSpec, REQUIRED, Usual, Word, Work};
use crate::problem::{Problem, wording};
use crate::solid::Prism;
use crate::timber::numbered::{loose_tenon_instead_of, milled};

/// The word `loose_tenons`.
pub(in crate::joinery) struct LooseTenons;

/// What `loose_tenons` says of itself.
static WORD: Word = Word {
    name: "loose_tenons",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "tenon",
            kind: OptionKind::Pair,
            default: REQUIRED,
            says: "thickness and length of the tenon, such as \"8x40\"",
        },
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 1, max: 50 },
            default: &[Usual::Count(COUNT)],
            says: "how many; one stands in the middle of each of as many equal lengths",
        },
        OptionSpec {
            key: "width",
            kind: OptionKind::Length { min: 4.0, max: 300.0 },
            default: &[Usual::Words("five times the thickness, or what the parts have room for")],
            says: "width of the tenon over its round edges",
        },
        OFFSET,
        TOWARD,
    ],
    says: "joins two parts with slips of wood let into mortises in both",
    rule: "half the tenon in each part, less where a part would keep under 3 mm behind it, and mortises 1 mm \
           deeper than the tenon reaches (common practice, no source)",
    example: "loose_tenons(shelf, side, #{ tenon: \"8x40\", count: 3 });",
};

/// How much deeper than the tenon reaches a mortise is, mm.
const SPARE: f64 = 1.0;

/// How deep a mortise is that can only be too near an edge, mm.
const SHALLOW: f64 = 1.5;

/// What a set of tenons is, mm.
struct Tenon {
    thick: f64,
    length: f64,
    width: f64,
    count: u32,
}

/// Tenons between two parts.
struct Set<'a> {
    pair: Pair,
    plane: &'a Plane,
    tenon: &'a Tenon,
}

/// The mortises for a tenon, mm: how far it reaches into each part, and its width.
struct Mortises {
    in_a: f64,
    in_b: f64,
    width: f64,
}

impl Mortises {
    /// The tenon that fills them, for pictures.
    fn filled(&self, thick: f64) -> Prism {
        let round = 0.5 * (self.width - thick).max(0.0);
        let outline = Outline::stadium(DVec2::new(-round, 0.0), DVec2::new(round, 0.0), 0.5 * thick);
        Prism { at: Placement::IDENTITY, outline, from: -self.in_a, to: self.in_b }
    }
}

/// How many there are where nothing is said: one alone lets a rail turn.
const COUNT: u32 = 2;
/// The usual tenon: thickness and length, mm.
const TENON: (f64, f64) = (8.0, 40.0);
/// Width of a usual tenon in thicknesses, and the least that one is made.
const WIDE: f64 = 5.0;
/// See `WIDE`.
const NARROWEST: f64 = 2.0;
/// Steps by which a width is lessened until walls are left, mm.
const STEP: f64 = 1.0;
/// How many times the room at a mortise's bottom a tenon is long at least, since two
/// mortises take that off it.
const LEAST_LONG: f64 = 4.0;

impl Joinery for LooseTenons {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { takes_up: TakesUp::Faces, ..Traits::default() }
    }

    fn trims(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Trim>, Problem> {
        bench.trim_to_meet(work)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        let plane = bench.meeting_plane(work, (a, b), "tenons")?;
        let tenon = tenon(bench, work, &plane, (a, b))?;
        let set = Set { pair: Pair { a, b }, plane: &plane, tenon: &tenon };
        let mortises = set.mortises(bench, work)?;
        Ok(vec![set.mortised(bench, &mortises)])
    }
}

/// How deep a mortise for so much of a tenon is, mm: in inches on a mark of the rule, whatever
/// the tenon is sold in.
fn deep(bench: &Bench<'_>, reach: f64) -> f64 {
    up(bench.job.unit, reach + SPARE)
}

/// Sizes of the tenons; errors where the meeting faces have no room for them.
fn tenon(bench: &Bench<'_>, work: &Work, plane: &Plane, (a, b): (usize, usize)) -> Result<Tenon, Problem> {
    let (thick, length) = work
        .options
        .pair("tenon")
        .unwrap_or_else(|| if bench.job.unit == Unit::Inch { loose_tenon_instead_of(TENON) } else { TENON });
    let count = work.options.count("count").unwrap_or(COUNT).max(1);
    let rect = &plane.rect;
    let (first, second) = (bench.name(a), bench.name(b));
    if thick + 2.0 * WALL > rect.width + NOISE {
        let message = format!(
            "a tenon {} thick is too thick for `{first}` and `{second}`, which meet on {}",
            bench.mm(thick),
            bench.mm(rect.width)
        );
        let help = format!(
            "a wall of {} on either side allows {}",
            bench.mm(WALL),
            bench.mm((rect.width - 2.0 * WALL).max(0.0))
        );
        return Err(bench.error(work, "breaks-through", message, &[a, b]).help(help));
    }
    if length < LEAST_LONG * SPARE {
        let message = format!("a tenon {} long holds nothing", bench.mm(length));
        return Err(bench
            .error(work, "does-not-fit", message, &[a, b])
            .help("write thickness first: \"8x40\""));
    }
    let field = rect.length / f64::from(count);
    let room = field - 2.0 * WALL;
    let asked = work.options.number("width");
    let width = asked.unwrap_or_else(|| {
        let usual = (WIDE * thick).min(room);
        // Not at the cost of one that would then be too narrow.
        let by_the_inch = milled(usual).min(usual);
        if bench.job.unit == Unit::Inch && by_the_inch >= NARROWEST * thick { by_the_inch } else { usual }
    });
    // A width that is asked for is not made less in silence; the usual one may be.
    let least = asked.unwrap_or(NARROWEST * thick);
    if width > room + NOISE || width < least - NOISE {
        let message = format!(
            "{} {} wide need {}, but `{first}` and `{second}` meet on {}",
            wording::count(count as usize, "tenon", "tenons"),
            bench.mm(least),
            bench.mm(f64::from(count) * (least + 2.0 * WALL)),
            bench.mm(rect.length)
        );
        return Err(bench
            .error(work, "mortises-collide", message, &[a, b])
            .help("ask for fewer or narrower tenons"));
    }
    Ok(Tenon { thick, length, width, count })
}

impl Set<'_> {
    /// A mortise for so much of a tenon.
    fn oblong(&self, bench: &Bench<'_>, reach: f64, width: f64) -> Oblong {
        Oblong { length: width, width: self.tenon.thick, depth: deep(bench, reach) }
    }

    /// A mortise of so much reach and width, in the middle of the plane.
    fn mortise(&self, bench: &Bench<'_>, into: DVec3, reach: f64, width: f64) -> Option<Prism> {
        let rect = &self.plane.rect;
        pocket(rect.centre, rect.along, into, self.oblong(bench, reach, width))
    }

    /// The middles of all mortises: each tenon in the middle of its own field, so that
    /// the walls between them are even.
    fn mouths(&self, bench: &Bench<'_>, width: f64) -> impl Iterator<Item = DVec3> {
        let (rect, count) = (self.plane.rect, self.tenon.count);
        let row = SetOut { length: rect.length, count, ends: Ends::Shares, apart: width + WALL };
        row.places(bench).into_iter().map(move |shift| rect.centre + rect.along * shift)
    }

    /// The wall round the mortises of a part, mm. On square parts all stand alike: the
    /// middle one tells.
    fn wall(&self, bench: &Bench<'_>, (part, into): (usize, DVec3), reach: f64, width: f64) -> f64 {
        let Pair { a, b } = self.pair;
        if bench.are_plain(a, b) {
            return self
                .mortise(bench, into, reach, width)
                .map_or(f64::NEG_INFINITY, |p| bench.wall_round(part, &p));
        }
        let size = self.oblong(bench, reach, width);
        let all =
            self.mouths(bench, width).filter_map(|mouth| pocket(mouth, self.plane.rect.along, into, size));
        all.map(|p| bench.wall_round(part, &p)).fold(f64::INFINITY, f64::min)
    }

    /// Whether such a mortise leaves walls in a part.
    fn fits(&self, bench: &Bench<'_>, (part, into): (usize, DVec3), reach: f64, width: f64) -> bool {
        reach > SPARE && self.wall(bench, (part, into), reach, width) >= WALL - NOISE
    }

    /// How far the tenon reaches into each part. On the way the width shrinks to what
    /// leaves a wall, if the script left it open.
    fn mortises(&self, bench: &Bench<'_>, work: &Work) -> Result<Mortises, Problem> {
        let (Pair { a, b }, plane, tenon) = (self.pair, self.plane, self.tenon);
        let half = 0.5 * tenon.length;
        let (first, second) = ((a, -plane.out), (b, plane.out));
        let least =
            if work.options.number("width").is_some() { tenon.width } else { NARROWEST * tenon.thick };
        let mut width = tenon.width;
        while width >= least - STEPPED {
            if self.fits(bench, first, half, width) && self.fits(bench, second, half, width) {
                return Ok(Mortises { in_a: half, in_b: half, width });
            }
            for ((thin, into), other) in [(second, first), (first, second)] {
                // What a wall of the thinner part leaves; the rest goes into the other.
                let wood = bench.grown[thin].reach(into).1 - into.dot(plane.rect.centre);
                let reach = down(bench.job.unit, wood - WALL) - SPARE;
                let rest = tenon.length - reach;
                // Only where its far face is square to the tenon does the reach of a
                // part say how much wood there is; at a mitre it does not.
                let square = bench.grown[thin].axis_along(into).is_some();
                if square
                    && reach < half
                    && self.fits(bench, (thin, into), reach, width)
                    && self.fits(bench, other, rest, width)
                {
                    let (in_a, in_b) = if thin == a { (reach, rest) } else { (rest, reach) };
                    return Ok(Mortises { in_a, in_b, width });
                }
            }
            width -= STEP;
        }
        Err(self.breaks_through(bench, work))
    }

    /// The part that has least room and the figure.
    fn breaks_through(&self, bench: &Bench<'_>, work: &Work) -> Problem {
        let (Pair { a, b }, plane, tenon) = (self.pair, self.plane, self.tenon);
        let half = 0.5 * tenon.length;
        // The narrowest leaves most: if that breaks through, no width helps.
        let narrow = (NARROWEST * tenon.thick).min(tenon.width);
        let wall = |part: usize, into: DVec3| self.wall(bench, (part, into), half, narrow);
        let (wa, wb) = (wall(a, -plane.out), wall(b, plane.out));
        let (part, left) = if wa <= wb { (a, wa) } else { (b, wb) };
        let tenon_text = size_text(bench, tenon);
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
        let message = format!("the mortise of a tenon {tenon_text} {what}");
        let into = if part == a { -plane.out } else { plane.out };
        // Where the wood beside the mortise is thin, a shorter tenon gains nothing.
        let help = if self.wall(bench, (part, into), SHALLOW, narrow) < WALL - NOISE {
            format!(
                "its side is too near an edge of `{0}`, where a lipping may take wood away: move it in with `offset` and \
                 `toward`, make it thinner, or set the other part further in on `{0}`",
                bench.name(part)
            )
        } else {
            let fits = (tenon.length - 2.0 * (WALL - left)).floor().max(0.0);
            format!("a tenon no longer than {} would fit", bench.mm(fits))
        };
        bench.error(work, "breaks-through", message, &[a, b]).help(help)
    }

    /// The mortises and the tenons in them.
    fn mortised(&self, bench: &Bench<'_>, mortises: &Mortises) -> Made {
        let (Pair { a, b }, plane, tenon) = (self.pair, self.plane, self.tenon);
        let Mortises { in_a, in_b, width } = *mortises;
        let mut made = Made { parts: vec![a, b], glued: true, ways_in: vec![-plane.out], ..Made::default() };
        let mut at = Vec::new();
        for mouth in self.mouths(bench, width) {
            for (part, into, reach) in [(a, -plane.out, in_a), (b, plane.out, in_b)] {
                let size = self.oblong(bench, reach, width);
                let shape = pocket(mouth, plane.rect.along, into, size);
                made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::Mortise, shape }));
            }
            at.extend(Placement::looking(mouth, plane.out, plane.rect.along));
        }
        let body = mortises.filled(tenon.thick);
        let item = Wooden::LooseTenon(sizes([tenon.thick, width, tenon.length])).into();
        made.inserts.push(Insert { item, at, body: Some(body) });
        made.facts = Facts::Inserts(Inserted::LooseTenons(facts::inserts::LooseTenons {
            count: tenon.count as usize,
            thick: tenon.thick,
            length: tenon.length,
            width,
            mortises: [(a, in_a), (b, in_b)].map(|(part, reach)| Deep { part, deep: deep(bench, reach) }),
        }));
        made
    }
}

/// `8 × 40`: tenons are bought by name, so that whole millimetres stay such on
/// a drawing in inches.
fn size_text(bench: &Bench<'_>, tenon: &Tenon) -> String {
    let whole = |v: f64| (v - v.round()).abs() < NOISE;
    if bench.job.unit == Unit::Inch && whole(tenon.thick) && whole(tenon.length) {
        // In inches such a tenon would be printed as a fraction that no shop sells.
        return format!("{} × {} mm", tenon.thick.round(), tenon.length.round());
    }
    format!("{} × {}", bench.figure(tenon.thick), bench.figure(tenon.length))
}
