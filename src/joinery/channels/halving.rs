//! Halvings: two parts that cross, each cut away for the other.

use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{TOUCH, side_of};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::channels::crossing::Crossing;
use crate::joinery::facts::Facts;
use crate::joinery::facts::channels::{Channel, Halved};
use crate::joinery::facts::deep::Deep;
use crate::model::{OptionKind, OptionSpec, Word, Work};
use crate::problem::Problem;

/// The word `halving`.
pub(in crate::joinery) struct Halving;

/// What `halving` says of itself.
static WORD: Word = Word {
    name: "halving",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "depth",
            kind: OptionKind::Length { min: 0.5, max: 500.0 },
            default: "half of what both parts fill",
            says: "how much is cut out of the first part; the second loses the rest",
        },
        OptionSpec {
            key: "over",
            kind: OptionKind::Side,
            default: "the top; the front where both stand upright",
            says: "the side of the piece towards which the first part lies over the second",
        },
    ],
    says: "cuts away each of two parts where they are drawn through one another, at a corner, a tee or a cross",
    rule: "half from each part (common practice, no source)",
    example: "halving(stretcher, cross_rail, #{ over: \"top\" });",
};

impl Joinery for Halving {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        let side = work.options.sides("over").and_then(|s| s.first().copied());
        let mut cross = bench.crossing_of(work, (a, b), side)?;
        // Parts of unequal thickness may lie over one another one way only.
        if side.is_none() && trapped(&cross).is_some() {
            cross = cross.turned().filter(|c| trapped(c).is_none()).unwrap_or(cross);
        }
        if let Some(by) = trapped(&cross) {
            return Err(held_in(bench, work, &cross, by, (a, b)));
        }
        let (low, high) = cross.shared();
        let depth = work.options.number("depth").unwrap_or(0.5 * (high - low));
        let middle = low + depth;
        for (part, reach, kept) in
            [(a, cross.reach[0], cross.reach[0].1 - middle), (b, cross.reach[1], middle - cross.reach[1].0)]
        {
            if kept < WALL - 1e-6 || depth > high - low - TOUCH {
                return Err(too_little(bench, work, part, kept.max(0.0), reach, (high - low, a, b)));
            }
        }
        let mut made = Made { parts: vec![a, b], glued: true, ways_in: vec![cross.over], ..Made::default() };
        made.cuts.push(Sawn { part: a, kind: CutKind::Halving, shape: cross.brick(low, middle) });
        made.cuts.push(Sawn { part: b, kind: CutKind::Halving, shape: cross.brick(middle, high) });
        made.facts = Facts::Channels(Channel::Halved(Halved {
            at: cross.at(),
            depths: [Deep { part: a, deep: depth }, Deep { part: b, deep: high - middle }],
        }));
        Ok(vec![made])
    }
}

/// How far one part reaches past the other so that it would be held between
/// wood on both sides, mm.
fn trapped(cross: &Crossing) -> Option<f64> {
    let [a, b] = cross.reach;
    let by = (b.0 - a.0).max(b.1 - a.1);
    (by > TOUCH).then_some(by)
}

/// The first part cannot be laid over the second.
fn held_in(bench: &Bench<'_>, work: &Work, cross: &Crossing, by: f64, (a, b): (usize, usize)) -> Problem {
    let (first, second) = (bench.name(a), bench.name(b));
    let [ra, rb] = cross.reach;
    let (over, under) = (side_of(cross.over).name(), side_of(-cross.over).name());
    let says = if rb.0 - ra.0 >= rb.1 - ra.1 {
        format!(
            "`{first}` reaches {} past the {under} of `{second}`, so it cannot be laid over it",
            bench.mm(by)
        )
    } else {
        format!("`{second}` reaches {} past the {over} of `{first}`, so it cannot lie under it", bench.mm(by))
    };
    bench.error(work, "does-not-fit", says, &[a, b]).help(format!(
        "let them lie flush, lay the second over the first with `over: \"{under}\"`, or use `mortise_tenon`"
    ))
}

/// A part that would keep too little.
fn too_little(
    bench: &Bench<'_>,
    work: &Work,
    part: usize,
    kept: f64,
    reach: (f64, f64),
    (shared, a, b): (f64, usize, usize),
) -> Problem {
    let says = format!(
        "the halving leaves {} of `{}`, which is {} thick there",
        bench.mm(kept),
        bench.name(part),
        bench.mm(reach.1 - reach.0)
    );
    bench.error(work, "too-little-left", says, &[a, b]).help(format!(
        "half of what both fill is {}; leave at least {} of either",
        bench.mm(0.5 * shared),
        bench.mm(WALL)
    ))
}
