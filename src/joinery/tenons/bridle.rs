//! Bridles: one part forked to sit astride the other, at a corner or a tee.

use super::chisels::chisel;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::plane::{OFFSET, TOWARD};
use crate::joinery::bench::pocket::{WALL, third};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::{NEARER, NOISE};
use crate::joinery::channels::crossing::Crossing;
use crate::joinery::facts::Facts;
use crate::joinery::facts::tenons::{Bridled, BridledAt, Tenoned};
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;

/// The word `bridle`.
pub(in crate::joinery) struct Bridle;

/// What `bridle` says of itself.
static WORD: Word = Word {
    name: "bridle",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "thickness",
            kind: OptionKind::Length { min: 1.0, max: 300.0 },
            default: &[Usual::Words("the chisel nearest a third of the thinner part")],
            says: "how thick the tongue is that the fork sits astride",
        },
        OFFSET,
        TOWARD,
    ],
    says: "forks the end of one part over the other, where both are drawn through one another: at a corner the \
           second part is forked, at a tee the one that ends there",
    rule: "a third of the thickness, to a chisel (common practice, no source)",
    example: "bridle(rail, stile);",
};

impl Joinery for Bridle {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        let cross = bench.crossing_of(work, (a, b), None)?;
        // Places in the pair: the part with the tongue, the part with the fork.
        let (tongue, fork) = match cross.ends {
            // At a corner either could be forked: the second named is, as the reference
            // says.
            [_, true] => (0, 1),
            [true, false] => (1, 0),
            [false, false] => return Err(runs_on(bench, work, (a, b))),
        };
        let (low, high) = cross.shared();
        let middle = tongue_at(bench, work, &cross, (a, b))?;
        let parts = [a, b];
        let fork_of = Astride { cross: &cross, tongue, fork, parts };
        check(bench, work, middle, &fork_of)?;
        let mut made = Made { parts: vec![a, b], glued: true, ..Made::default() };
        for (from, to) in [(low, middle.0), (middle.1, high)] {
            // A tongue flush with one face has a shoulder on the other only.
            if to - from > NOISE {
                made.cuts.push(Sawn {
                    part: parts[tongue],
                    kind: CutKind::Shoulder,
                    shape: cross.brick(from, to),
                });
            }
        }
        let shape = cross.brick(middle.0, middle.1);
        made.cuts.push(Sawn { part: parts[fork], kind: CutKind::OpenMortise, shape });
        // The fork comes on along its own length.
        let way = cross.outward[fork];
        made.ways_in.push(if fork == 1 { way } else { -way });
        made.facts = Facts::Tenons(Tenoned::Bridled(Bridled {
            at: if cross.ends == [true, true] { BridledAt::Corner } else { BridledAt::Tee },
            tongue: middle.1 - middle.0,
            from_face: cross.reach[fork].1 - middle.1,
            face: crate::joinery::bench::meet::side_of(cross.over),
        }));
        Ok(vec![made])
    }
}

/// Which of two crossing parts has the tongue and which the fork: places in `parts`.
struct Astride<'a> {
    cross: &'a Crossing,
    tongue: usize,
    fork: usize,
    parts: [usize; 2],
}

/// From and to of the tongue, across the plane both parts run in.
fn tongue_at(
    bench: &Bench<'_>,
    work: &Work,
    cross: &Crossing,
    (a, b): (usize, usize),
) -> Result<(f64, f64), Problem> {
    let (low, high) = cross.shared();
    // The thinner sets the tongue: a fork in it keeps the least cheek.
    let thinner = cross.reach.iter().map(|(lo, hi)| hi - lo).fold(f64::INFINITY, f64::min);
    let thick = work.options.number("thickness").unwrap_or_else(|| chisel(bench.job.unit, third(thinner)));
    let mut middle = f64::midpoint(low, high);
    if let Some(offset) = work.options.number("offset").filter(|by| *by > 0.0) {
        let toward = bench.toward(work, offset, &[a, b])?;
        let lean = toward.dot(cross.over);
        if lean.abs() < NEARER {
            let message = format!(
                "the tongue can be moved to the {} or the {}, not to the {}",
                crate::joinery::bench::meet::side_of(cross.over).name(),
                crate::joinery::bench::meet::side_of(-cross.over).name(),
                crate::joinery::bench::meet::side_of(toward).name()
            );
            return Err(bench
                .error(work, "no-such-edge", message, &[a, b])
                .help("name one of those with `toward`"));
        }
        middle += offset * lean.signum();
    }
    Ok((middle - 0.5 * thick, middle + 0.5 * thick))
}

/// The tongue against what both parts have.
fn check(bench: &Bench<'_>, work: &Work, middle: (f64, f64), of: &Astride<'_>) -> Result<(), Problem> {
    let (tongue, fork) = (of.cross.reach[of.tongue], of.cross.reach[of.fork]);
    let (with_tongue, forked) = (of.parts[of.tongue], of.parts[of.fork]);
    let thick = middle.1 - middle.0;
    let out = (tongue.0 - middle.0).max(middle.1 - tongue.1);
    // Both prongs of the fork: the thinner is the one that breaks.
    let least = (middle.0 - fork.0).min(fork.1 - middle.1);
    if out < NOISE && least > WALL - NOISE {
        return Ok(());
    }
    let message = if out >= NOISE {
        format!(
            "a tongue {} thick reaches {} out of `{}`, which is {} thick",
            bench.mm(thick),
            bench.mm(out),
            bench.name(with_tongue),
            bench.mm(tongue.1 - tongue.0)
        )
    } else {
        format!(
            "a tongue {} thick leaves the fork of `{}` {} on one side; it needs {}",
            bench.mm(thick),
            bench.name(forked),
            bench.beside(least.max(0.0), WALL),
            bench.beside(WALL, least.max(0.0))
        )
    };
    let third = third((tongue.1 - tongue.0).min(fork.1 - fork.0));
    Err(bench.error(work, "tenon-too-thick", message, &[with_tongue, forked]).help(format!(
        "a third of the thinner part is {}; make `thickness` or `offset` less",
        bench.mm(third)
    )))
}

/// Neither part ends.
fn runs_on(bench: &Bench<'_>, work: &Work, (a, b): (usize, usize)) -> Problem {
    let message = format!(
        "neither `{}` nor `{}` ends where they cross, so neither can be forked",
        bench.name(a),
        bench.name(b)
    );
    bench
        .error(work, "no-corner", message, &[a, b])
        .help("end one of them at the far side of the other, or use `halving`")
}
