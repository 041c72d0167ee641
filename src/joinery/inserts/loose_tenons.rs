//! Loose tenons: mortises in both parts and a slip of wood in both.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::plane::{OFFSET, Plane, TOWARD};
use crate::joinery::bench::pocket::{WALL, pocket};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::worked::{CutKind, Insert};
use crate::joinery::facts::deep::Deep;
use crate::joinery::facts::inserts::Inserted;
use crate::joinery::facts::item::{Wooden, sizes};
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::joinery::facts::{self, Facts};
use crate::measure::Unit;
use crate::model::{OptionKind, OptionSpec, Word, Work};
use crate::problem::{Problem, wording};
use crate::solid::Prism;

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
            default: "",
            says: "thickness and length of the tenon, such as \"8x40\"",
        },
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 1, max: 50 },
            default: "2",
            says: "how many; one stands in the middle of each of as many equal lengths",
        },
        OptionSpec {
            key: "width",
            kind: OptionKind::Length { min: 4.0, max: 300.0 },
            default: "five times the thickness, or what the parts have room for",
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

/// What a set of tenons is, mm.
struct Tenon {
    thick: f64,
    length: f64,
    width: f64,
    count: u32,
}

impl Joinery for LooseTenons {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { takes_up: TakesUp::Faces, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        let plane = bench.meeting_plane(work, (a, b), "tenons")?;
        let tenon = tenon(bench, work, &plane, (a, b))?;
        let depths = depths(bench, work, &plane, &tenon, (a, b))?;
        Ok(vec![mortised(&plane, &tenon, depths, (a, b))])
    }
}

/// Sizes of the tenons; errors where the meeting faces have no room for them.
fn tenon(bench: &Bench<'_>, work: &Work, plane: &Plane, (a, b): (usize, usize)) -> Result<Tenon, Problem> {
    let (thick, length) = work.options.pair("tenon").unwrap_or((8.0, 40.0));
    let count = work.options.count("count").unwrap_or(2).max(1);
    let rect = &plane.rect;
    let (first, second) = (bench.name(a), bench.name(b));
    if thick + 2.0 * WALL > rect.width + 1e-6 {
        let says = format!(
            "a tenon {} thick is too thick for `{first}` and `{second}`, which meet on {}",
            bench.mm(thick),
            bench.mm(rect.width)
        );
        let help = format!(
            "a wall of {} on either side allows {}",
            bench.mm(WALL),
            bench.mm((rect.width - 2.0 * WALL).max(0.0))
        );
        return Err(bench.error(work, "breaks-through", says, &[a, b]).help(help));
    }
    if length < 4.0 * SPARE {
        let says = format!("a tenon {} long holds nothing", bench.mm(length));
        return Err(bench.error(work, "does-not-fit", says, &[a, b]).help("write thickness first: \"8x40\""));
    }
    let field = rect.length / f64::from(count);
    let room = field - 2.0 * WALL;
    let asked = work.options.number("width");
    let width = asked.unwrap_or_else(|| (5.0 * thick).min(room));
    let least = asked.unwrap_or(2.0 * thick);
    if width > room + 1e-6 || width < least - 1e-6 {
        let says = format!(
            "{} {} wide need {}, but `{first}` and `{second}` meet on {}",
            wording::count(count as usize, "tenon", "tenons"),
            bench.mm(least),
            bench.mm(f64::from(count) * (least + 2.0 * WALL)),
            bench.mm(rect.length)
        );
        return Err(bench
            .error(work, "mortises-collide", says, &[a, b])
            .help("ask for fewer or narrower tenons"));
    }
    Ok(Tenon { thick, length, width, count })
}

/// How far the tenon reaches into each part, mm. On the way the width shrinks
/// to what leaves a wall, if the script left it open.
fn depths(
    bench: &Bench<'_>,
    work: &Work,
    plane: &Plane,
    tenon: &Tenon,
    (a, b): (usize, usize),
) -> Result<(f64, f64, f64), Problem> {
    let half = 0.5 * tenon.length;
    let fits = |part: usize, into: DVec3, reach: f64, width: f64| {
        reach > SPARE
            && pocket(plane.rect.centre, plane.rect.along, into, (width, tenon.thick, reach + SPARE))
                .is_some_and(|p| bench.wall_round(part, &p) >= WALL - 1e-6)
    };
    let least = if work.options.number("width").is_some() { tenon.width } else { 2.0 * tenon.thick };
    let mut width = tenon.width;
    while width >= least - 1e-9 {
        if fits(a, -plane.out, half, width) && fits(b, plane.out, half, width) {
            return Ok((half, half, width));
        }
        for (thin, other, into) in [(b, a, plane.out), (a, b, -plane.out)] {
            // What a wall of the thinner part leaves; the rest goes into the other.
            let reach =
                (bench.grown[thin].reach(into).1 - into.dot(plane.rect.centre) - WALL - SPARE).floor();
            let square = bench.grown[thin].axis_along(into).is_some();
            if square
                && reach < half
                && fits(thin, into, reach, width)
                && fits(other, -into, tenon.length - reach, width)
            {
                let rest = tenon.length - reach;
                return Ok(if thin == a { (reach, rest, width) } else { (rest, reach, width) });
            }
        }
        width -= 1.0;
    }
    Err(breaks_through(bench, work, plane, tenon, (a, b)))
}

/// The part that has least room and the figure.
fn breaks_through(
    bench: &Bench<'_>,
    work: &Work,
    plane: &Plane,
    tenon: &Tenon,
    (a, b): (usize, usize),
) -> Problem {
    let half = 0.5 * tenon.length;
    let wall = |part: usize, into: DVec3| {
        let narrow = (2.0 * tenon.thick).min(tenon.width);
        pocket(plane.rect.centre, plane.rect.along, into, (narrow, tenon.thick, half + SPARE))
            .map_or(0.0, |p| bench.wall_round(part, &p))
    };
    let (wa, wb) = (wall(a, -plane.out), wall(b, plane.out));
    let (part, left) = if wa <= wb { (a, wa) } else { (b, wb) };
    let tenon_text = size_text(bench, tenon);
    let what = if left < 0.0 {
        format!("breaks through `{}` by {}", bench.name(part), bench.mm(-left))
    } else {
        format!(
            "leaves {} of `{}`, less than the {} it needs",
            bench.mm(left),
            bench.name(part),
            bench.mm(WALL)
        )
    };
    let says = format!("the mortise of a tenon {tenon_text} {what}");
    bench.error(work, "breaks-through", says, &[a, b]).help(format!(
        "a tenon no longer than {} would fit",
        bench.mm((tenon.length - 2.0 * (WALL - left)).floor().max(0.0))
    ))
}

/// `8 × 40`: tenons are bought by name, so that whole millimetres stay such on
/// a drawing in inches.
fn size_text(bench: &Bench<'_>, tenon: &Tenon) -> String {
    let whole = |v: f64| (v - v.round()).abs() < 1e-6;
    if bench.job.unit == Unit::Inch && whole(tenon.thick) && whole(tenon.length) {
        return format!("{} × {} mm", tenon.thick.round(), tenon.length.round());
    }
    format!("{} × {}", bench.figure(tenon.thick), bench.figure(tenon.length))
}

/// The mortises and the tenons in them.
fn mortised(
    plane: &Plane,
    tenon: &Tenon,
    (in_a, in_b, width): (f64, f64, f64),
    (a, b): (usize, usize),
) -> Made {
    let mut made = Made { parts: vec![a, b], glued: true, ways_in: vec![-plane.out], ..Made::default() };
    let field = plane.rect.length / f64::from(tenon.count);
    let mut at = Vec::new();
    for k in 0..tenon.count {
        let shift = (f64::from(k) + 0.5) * field - 0.5 * plane.rect.length;
        let mouth = plane.rect.centre + plane.rect.along * shift;
        for (part, into, reach) in [(a, -plane.out, in_a), (b, plane.out, in_b)] {
            if let Some(shape) = pocket(mouth, plane.rect.along, into, (width, tenon.thick, reach + SPARE)) {
                made.cuts.push(Sawn { part, kind: CutKind::Mortise, shape });
            }
        }
        at.extend(Placement::looking(mouth, plane.out, plane.rect.along));
    }
    let round = 0.5 * (width - tenon.thick).max(0.0);
    let outline = Outline::stadium(DVec2::new(-round, 0.0), DVec2::new(round, 0.0), 0.5 * tenon.thick);
    let body = Prism { at: Placement::IDENTITY, outline, from: -in_a, to: in_b };
    let item = Wooden::LooseTenon(sizes([tenon.thick, tenon.length])).into();
    made.inserts.push(Insert { item, at, body: Some(body) });
    made.facts = Facts::Inserts(Inserted::LooseTenons(facts::inserts::LooseTenons {
        count: tenon.count as usize,
        thick: tenon.thick,
        length: tenon.length,
        width,
        mortises: [Deep { part: a, deep: in_a + SPARE }, Deep { part: b, deep: in_b + SPARE }],
    }));
    made
}
