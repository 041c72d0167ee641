//! Halvings: two parts that cross, each cut away for the other.

use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Pair, TOUCH, side_of};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::channels::crossing::Crossing;
use crate::joinery::facts::Facts;
use crate::joinery::facts::channels::{Channel, Halved};
use crate::joinery::facts::deep::Deep;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
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
            default: &[Usual::Words("half of what both parts fill")],
            says: "how much is cut out of the first part; the second loses the rest",
        },
        OptionSpec {
            key: "over",
            kind: OptionKind::Side,
            default: &[Usual::Words("the top; the front where both stand upright")],
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
        let cross = laid_over(bench.crossing_of(work, (a, b), side)?, side.is_some());
        if let Some(by) = trapped(&cross) {
            return Err(held_in(bench, work, &cross, by, Pair { a, b }));
        }
        let (low, high) = cross.shared();
        let depth = work.options.number("depth").unwrap_or(0.5 * (high - low));
        // Along the way one lies over the other: the first keeps what is over, the
        // second what is under.
        let middle = low + depth;
        let pair = Pair { a, b };
        let kept = [cross.reach[0].1 - middle, middle - cross.reach[1].0];
        for (k, kept) in kept.into_iter().enumerate() {
            // Each part is asked what it keeps: of unequal parts the thinner fails
            // first.
            if kept < WALL - NOISE || depth > high - low - TOUCH {
                let (part, (lo, hi)) = (pair.parts()[k], cross.reach[k]);
                let left = Left { part, thick: hi - lo, kept: kept.max(0.0), shared: high - low };
                return Err(too_little(bench, work, &left, pair));
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

/// The crossing from the side it is put together from: as asked, else from the other side
/// where that alone lets one over the other, since parts of unequal thickness may go
/// together one way only.
fn laid_over(cross: Crossing, asked: bool) -> Crossing {
    if asked || trapped(&cross).is_none() {
        return cross;
    }
    cross.turned().filter(|c| trapped(c).is_none()).unwrap_or(cross)
}

/// How far one part reaches past the other so that it would be held between
/// wood on both sides, mm.
fn trapped(cross: &Crossing) -> Option<f64> {
    let [a, b] = cross.reach;
    let by = (b.0 - a.0).max(b.1 - a.1);
    (by > TOUCH).then_some(by)
}

/// The first part cannot be laid over the second.
fn held_in(bench: &Bench<'_>, work: &Work, cross: &Crossing, by: f64, pair: Pair) -> Problem {
    let Pair { a, b } = pair;
    let (first, second) = (bench.name(a), bench.name(b));
    let [ra, rb] = cross.reach;
    let (over, under) = (side_of(cross.over).name(), side_of(-cross.over).name());
    let message = if rb.0 - ra.0 >= rb.1 - ra.1 {
        format!(
            "`{first}` reaches {} past the {under} of `{second}`, so it cannot be laid over it",
            bench.mm(by)
        )
    } else {
        format!("`{second}` reaches {} past the {over} of `{first}`, so it cannot lie under it", bench.mm(by))
    };
    bench.error(work, "does-not-fit", message, &[a, b]).help(format!(
        "let them lie flush, lay the second over the first with `over: \"{under}\"`, or use `mortise_tenon`"
    ))
}

/// What a halving would leave of one part, mm.
struct Left {
    part: usize,
    /// Of the part where they cross.
    thick: f64,
    kept: f64,
    /// What both parts fill.
    shared: f64,
}

/// A part that would keep too little.
fn too_little(bench: &Bench<'_>, work: &Work, left: &Left, pair: Pair) -> Problem {
    let message = format!(
        "the halving leaves {} of `{}`, which is {} thick there",
        bench.mm(left.kept),
        bench.name(left.part),
        bench.mm(left.thick)
    );
    bench.error(work, "too-little-left", message, &pair.parts()).help(format!(
        "half of what both fill is {}; leave at least {} of either",
        bench.mm(0.5 * left.shared),
        bench.mm(WALL)
    ))
}
