//! Housings: a board let into a channel across another.

use super::CutKind;
use super::bench::{Bench, Growth, Joinery, Made, Sawn};
use super::blank::Blank;
use super::meet::{Meeting, TOUCH, front_part, side_of};
use super::registry::{LENGTH, PARTS_AND_MEMBER};
use crate::geometry::DVec3;
use crate::model::{OptionSpec, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `housing`.
pub(super) struct Housing;

/// What `housing` says of itself.
static WORD: Word = Word {
    name: "housing",
    args: PARTS_AND_MEMBER,
    options: &[
        OptionSpec {
            key: "depth",
            kind: LENGTH,
            default: "a third of the thickness it is cut in",
            says: "how deep the channel is; the board grows by as much",
        },
        OptionSpec {
            key: "stop",
            kind: LENGTH,
            default: "0: the channel runs through",
            says: "how far behind the front edge the channel stops; the board is notched to cover it",
        },
    ],
    says: "lets the end of a board into a channel across another",
    rule: "depth a third of the thickness (common practice, no source)",
    example: "housing(shelf, side, #{ depth: 6, stop: 12 });",
};

impl Joinery for Housing {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn grow(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Growth>, Problem> {
        let member = bench.member(work)?;
        let mut list = Vec::new();
        for board in bench.held(work, member)? {
            let m = bench.let_in(work, board, member)?;
            let depth = depth(bench, work, member, m)?;
            list.push(Growth { part: board, toward: -m.normal, by: depth + m.gap, lipping: None });
        }
        Ok(list)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let member = bench.member(work)?;
        let boards = bench.held(work, member)?;
        boards.into_iter().map(|board| housed(bench, work, board, member)).collect()
    }
}

/// How deep the channel is, mm; an error where it would leave too little.
fn depth(bench: &Bench<'_>, work: &Work, member: usize, m: Meeting) -> Result<f64, Problem> {
    let (back, face) = bench.placed[member].reach(m.normal);
    let thick = face - back;
    let depth = work.options.number("depth").unwrap_or(thick / 3.0);
    if depth < thick - TOUCH {
        return Ok(depth);
    }
    let says = format!(
        "a channel {} deep goes through `{}`, which is {} thick there",
        bench.mm(depth),
        bench.name(member),
        bench.mm(thick)
    );
    Err(bench
        .error(work, "breaks-through", says, &[member])
        .help(format!("make `depth` less; a third of the thickness is {}", bench.mm(thick / 3.0))))
}

/// The channel and the notch that covers its stop.
fn housed(bench: &Bench<'_>, work: &Work, board: usize, member: usize) -> Result<Made, Problem> {
    let m = bench.let_in(work, board, member)?;
    let depth = depth(bench, work, member, m)?;
    let whole = &bench.placed[board];
    // The channel runs square to the way in and to the board's thickness.
    let run = m.normal.cross(bench.grown[board].at.z);
    let run = if front_part(run) < 0.0 { -run } else { run };
    let (lo, hi) = whole.reach(run);
    let (edge, far) = bench.placed[member].reach(run);
    let stop = work.options.number("stop").unwrap_or(0.0);
    let begin = if stop > 0.0 { lo.max(edge + stop) } else { lo };
    if begin > hi - TOUCH {
        let says = format!(
            "a channel stopped {} behind the front edge leaves nothing of `{}`, which is {} deep",
            bench.mm(stop),
            bench.name(board),
            bench.mm(hi - lo)
        );
        return Err(bench
            .error(work, "nothing-left-to-house", says, &[board, member])
            .help("make `stop` less"));
    }
    let end = Blank { size: whole.size, at: whole.at };
    let channel = slab(&end, run, (begin, hi), m.normal, (m.face - depth, m.face));
    let mut made =
        Made { parts: vec![board, member], glued: true, ways_in: vec![m.normal], ..Made::default() };
    made.cuts.push(Sawn { part: member, kind: CutKind::Housing, shape: channel });
    if begin > lo + TOUCH {
        let notch = slab(&end, run, (lo, begin), m.normal, (m.face - depth, m.face));
        made.cuts.push(Sawn { part: board, kind: CutKind::Notch, shape: notch });
    } else if begin < edge + TOUCH {
        made.ways_in.push(-run);
    }
    if hi > far - TOUCH {
        made.ways_in.push(run);
    }
    let stopped = begin > edge + TOUCH && stop > 0.0;
    made.says = if stopped {
        format!("housed {} deep, stopped {}", bench.figure(depth), bench.mm(stop))
    } else {
        format!("housed {} deep", bench.mm(depth))
    };
    let thick = whole.size.z;
    made.setting = format!("channel {} wide, {} deep", bench.figure(thick), bench.mm(depth));
    if stopped {
        let from = bench.mm(begin - edge);
        made.setting = format!("{}, {from} from the {} edge", made.setting, side_of(-run).name());
    }
    Ok(made)
}

/// The part of a box between two places along `run` and two along `normal`
/// (both along its axes; the box reaches as far as asked).
pub(super) fn slab(blank: &Blank, run: DVec3, span: (f64, f64), normal: DVec3, deep: (f64, f64)) -> Prism {
    let mut cut = *blank;
    for (along, (lo, hi)) in [(run, span), (normal, deep)] {
        let (from, to) = cut.reach(along);
        cut = cut.grown(-along, from - lo).unwrap_or(cut);
        cut = cut.grown(along, hi - to).unwrap_or(cut);
    }
    cut.prism()
}
