//! Parts sawn to the face of a neighbour: under a sloping top, beside a leaning end.

use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::meet::Pair;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{LENGTH, PARTS_AND_MEMBER};
use crate::joinery::meeting::sawing::{Fit, Refused};
use crate::joinery::meeting::trim::Trim;
use crate::model::{OptionSpec, Usual, Word, Work};
use crate::problem::Problem;

/// The word `trim_to`.
pub(in crate::joinery) struct TrimTo;

/// What `trim_to` says of itself.
static WORD: Word = Word {
    name: "trim_to",
    args: PARTS_AND_MEMBER,
    options: &[OptionSpec {
        key: "gap",
        kind: LENGTH,
        default: &[Usual::Length(0.0), Usual::Words(": they touch")],
        says: "room left between the sawn end and the face",
    }],
    says: "saws the end or edge of parts to the face of a neighbour that slopes or leans, and lengthens or shortens them \
           to it: dividers under a sloping top, a shelf between splayed ends, a skirting against a leaning side",
    rule: "the end nearest to a face is sawn to the plane of that face; the part is as long as its long point (geometry); \
           at most 60° off square, as more leaves a feather edge (common practice, no source)",
    example: "trim_to(divider, top);",
};

impl Joinery for TrimTo {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn trims(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Trim>, Problem> {
        let member = bench.member(work)?;
        let gap = work.options.number("gap").unwrap_or(0.0);
        let one = |part: usize| {
            let pair = Pair { a: part, b: member };
            bench.sawn_to(pair, Fit::Cut { gap }).map_err(|why| match why {
                Refused::Nothing => in_no_way(bench, work, pair),
                other => bench.refused(work, pair, other),
            })
        };
        bench.held(work, member)?.into_iter().map(one).collect()
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let member = bench.member(work)?;
        // What is sawn was found before; nothing is joined by it.
        let held = bench.held(work, member)?;
        Ok(held
            .into_iter()
            .map(|part| Made { parts: vec![part], shaping: true, ..Made::default() })
            .collect())
    }
}

/// No end or edge of the part runs to the neighbour.
fn in_no_way(bench: &Bench<'_>, work: &Work, pair: Pair) -> Problem {
    let (part, to) = (bench.name(pair.a), bench.name(pair.b));
    let message = format!("no end or edge of `{part}` runs to a face of `{to}`");
    bench.error(work, "parts-do-not-meet", message, &pair.parts()).help(format!(
        "let `{part}` end near the face of `{to}` that it is to be sawn to, inside the outline of that face"
    ))
}
