//! Rebates: a panel, pane or stack of them lying in a step along a member.

use crate::geometry::DVec3;
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Pair, TOUCH, meeting, side_of};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{LENGTH, PARTS_AND_MEMBER};
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::facts::Facts;
use crate::joinery::facts::channels::{Channel, Rebated};
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::joinery::meeting::sawing::Fit;
use crate::model::{OptionSpec, Usual, Word, Work};
use crate::problem::Problem;

/// The word `rebate`.
pub(in crate::joinery) struct Rebate;

/// What `rebate` says of itself.
static WORD: Word = Word {
    name: "rebate",
    args: PARTS_AND_MEMBER,
    options: &[
        OptionSpec {
            key: "lap",
            kind: LENGTH,
            default: &[Usual::Words("half the member's thickness where the part only touches it")],
            says: "how far the part lies on the member; it grows by as much",
        },
        OptionSpec {
            key: "depth",
            kind: LENGTH,
            default: &[Usual::Words("down to the front of what lies in it")],
            says: "depth from the member's open face",
        },
        OptionSpec {
            key: "clearance",
            kind: LENGTH,
            default: &[Usual::Length(0.0)],
            says: "room between the part's edge and the shoulder",
        },
    ],
    says: "cuts a step along a member in which parts lie",
    rule: "it opens to the face of the member that the part, or the whole stack of parts, lies nearer to; lap half the \
           member's thickness (common practice, no source)",
    example: "rebate(back, side, #{ lap: 9 });",
};

/// How the parts lie in the member.
struct Lie {
    /// Out of the member towards the middle of the parts.
    normal: DVec3,
    /// The member's face: distance along `normal`.
    face: f64,
    /// The member's open face looks this way.
    open: DVec3,
}

impl Joinery for Rebate {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { takes_up: TakesUp::LetIn, ..Traits::default() }
    }

    fn grow(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Growth>, Problem> {
        let member = bench.member(work)?;
        let mut list = Vec::new();
        let held = bench.held(work, member)?;
        for &part in &held {
            let lie = lie(bench, work, part, &held, member)?;
            let reaches_in = lie.face - bench.placed[part].reach(lie.normal).0;
            if reaches_in > TOUCH && work.options.number("lap").is_none() {
                // It was drawn lying on the member: nothing grows.
                continue;
            }
            let (back, face) = bench.placed[member].reach(lie.normal);
            let lap = work.options.number("lap").unwrap_or(0.5 * (face - back));
            if lap > face - back - TOUCH {
                let message = format!(
                    "a lap of {} takes all of `{}`, which is {} there",
                    bench.mm(lap),
                    bench.name(member),
                    bench.mm(face - back)
                );
                return Err(bench
                    .error(work, "breaks-through", message, &[part, member])
                    .help("make `lap` less"));
            }
            // What it already reaches in is taken off, so that drawn and grown lap are
            // the same.
            list.push(Growth { part, toward: -lie.normal, by: lap - reaches_in, lipping: None });
        }
        Ok(list)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let member = bench.member(work)?;
        let held = bench.held(work, member)?;
        stepped(bench, work, &held, member).map(|made| vec![made])
    }
}

/// The way the rebate is open that is cut in a member for a part; `None` where none
/// is.
pub(in crate::joinery) fn open_to(bench: &Bench<'_>, part: usize, member: usize) -> Option<DVec3> {
    bed(bench, part, member).map(|bed| bed.open)
}

/// The room that a rebate gives what lies in it.
pub(in crate::joinery) struct Bed {
    /// The way it is open.
    pub(in crate::joinery) open: DVec3,
    /// The box round all that lies in it, with its clearance.
    pub(in crate::joinery) room: Blank,
    /// Where its floor is: distance along `open`.
    pub(in crate::joinery) floor: f64,
}

/// The rebate that is cut in a member for a part; `None` where none is.
pub(in crate::joinery) fn bed(bench: &Bench<'_>, part: usize, member: usize) -> Option<Bed> {
    let cut = bench.job.works.iter().filter(|work| work.word.name == WORD.name);
    cut.filter(|work| bench.member(work).is_ok_and(|of| of == member)).find_map(|work| {
        let held = bench.held(work, member).ok().filter(|held| held.contains(&part))?;
        let lie = lie(bench, work, part, &held, member).ok()?;
        let room = room(bench, work, &held, &lie);
        let down_to = |depth: f64| bench.placed[member].reach(lie.open).1 - depth;
        let floor = work.options.number("depth").map_or(room.reach(lie.open).0, down_to);
        Some(Bed { open: lie.open, room, floor })
    })
}

/// The box round the parts that a rebate holds, with its clearance.
fn room(bench: &Bench<'_>, work: &Work, held: &[usize], lie: &Lie) -> Blank {
    let clearance = work.options.number("clearance").unwrap_or(0.0);
    let first = held.first().copied().unwrap_or(0);
    let mut step = bench.grown[first];
    for &part in held {
        step = around(step, &bench.grown[part]);
    }
    let run = lie.normal.cross(lie.open);
    for way in [run, -run, -lie.normal] {
        step = step.grown(way, clearance).unwrap_or(step);
    }
    step
}

/// How one part of a stack lies in its member, as placed.
fn lie(bench: &Bench<'_>, work: &Work, part: usize, held: &[usize], member: usize) -> Result<Lie, Problem> {
    let (p, m) = (&bench.placed[part], &bench.placed[member]);
    if !bench.are_square(part, member) {
        return Err(not_square(bench, work, part, member));
    }
    let met = meeting(p, m);
    if met.gap > TOUCH {
        return Err(bench.apart(work, part, member, met));
    }
    let thick = p.at.z;
    if m.axis_along(thick).is_none() {
        return Err(not_square(bench, work, part, member));
    }
    // The open face is the one nearer to the whole stack.
    let stack = held.iter().fold(*p, |stack, &other| around(stack, &bench.placed[other]));
    let beyond = |way: DVec3| m.reach(way).1 - stack.reach(way).1;
    let open = if beyond(thick) < beyond(-thick) - NOISE { thick } else { -thick };
    // Of the two other directions, the one in which the member lies to a side.
    let mut best: Option<(f64, DVec3)> = None;
    for normal in [p.at.x, -p.at.x, p.at.y, -p.at.y] {
        // How much of the part is beyond the member's face that way.
        let clear = p.reach(normal).1 - m.reach(normal).1;
        if best.is_none_or(|(most, _)| clear > most + NOISE) {
            best = Some((clear, normal));
        }
    }
    let normal = best.map_or(p.at.x, |b| b.1);
    if m.axis_along(normal).is_none() {
        return Err(not_square(bench, work, part, member));
    }
    Ok(Lie { normal, face: m.reach(normal).1, open })
}

/// The parts do not stand square.
fn not_square(bench: &Bench<'_>, work: &Work, part: usize, member: usize) -> Problem {
    let pair = Pair { a: part, b: member };
    let (first, second) = (bench.name(part), bench.name(member));
    let message = format!("`{first}` does not lie square to `{second}`: a rebate is cut square");
    let problem = bench.error(work, "not-square", message, &[part, member]);
    if bench.sawn_to(pair, Fit::LetIn { deep: 0.0 }).is_ok() {
        return problem.help("let it into a `groove` or `housing`, whose walls lean with it");
    }
    problem.help(bench.would_join(work, pair))
}

/// The part lies before the face that the rebate would be cut in: there is no wood to take.
fn outside(bench: &Bench<'_>, work: &Work, part: usize, member: usize) -> Problem {
    let (first, second) = (bench.name(part), bench.name(member));
    let message = format!("`{first}` lies on `{second}` and not within it: there is nothing to rebate");
    let help = format!(
        "let `{second}` reach over the whole thickness of `{first}`, {}, or screw it on with `screws`",
        bench.mm(bench.placed[part].size.z)
    );
    bench.error(work, "nothing-to-rebate", message, &[part, member]).help(help)
}

/// The step: the box round all parts, with clearance, open to one face.
fn stepped(bench: &Bench<'_>, work: &Work, held: &[usize], member: usize) -> Result<Made, Problem> {
    let first = held.first().copied().unwrap_or(member);
    let lie = lie(bench, work, first, held, member)?;
    let mut step = room(bench, work, held, &lie);
    let (_, open) = bench.placed[member].reach(lie.open);
    // The deepest of all that lies in it bears on the bottom.
    let floor = step.reach(lie.open).0;
    let depth = work.options.number("depth").unwrap_or(open - floor);
    if floor > open - TOUCH {
        return Err(outside(bench, work, first, member));
    }
    let whole = bench.placed[member].reach(lie.open);
    if depth > whole.1 - whole.0 - TOUCH {
        let message = format!(
            "a rebate {} deep goes through `{}`, which is {} thick there",
            bench.mm(depth),
            bench.name(member),
            bench.mm(whole.1 - whole.0)
        );
        return Err(bench.error(work, "breaks-through", message, &[member]).help("make `depth` less"));
    }
    if floor < open - depth - TOUCH {
        let message = format!(
            "a rebate {} deep is too shallow for what lies in it, which needs {}",
            bench.mm(depth),
            bench.mm(open - floor)
        );
        return Err(bench
            .error(work, "parts-cross", message, held)
            .help("make `depth` more, or move the parts"));
    }
    step = fit(step, lie.open, (open - depth, open));
    let inner = step.reach(lie.normal).0;
    step = fit(step, lie.normal, (inner, lie.face));
    // What is held comes to the member: in at the open side, or sideways.
    let mut made = Made { parts: vec![member], ways_in: vec![-lie.open, -lie.normal], ..Made::default() };
    made.parts.extend(held);
    made.cuts.push(Sawn { part: member, kind: CutKind::Rebate, shape: step.prism() });
    // With the clearance in it: this is what the cutter is set to.
    let lap = lie.face - inner;
    made.facts = Facts::Channels(Channel::Rebated(Rebated { width: lap, depth, open: side_of(lie.open) }));
    Ok(made)
}

/// The first box, grown on its own axes to hold the second.
fn around(mut blank: Blank, other: &Blank) -> Blank {
    for i in 0..3 {
        for way in [blank.axis(i), -blank.axis(i)] {
            let more = other.reach(way).1 - blank.reach(way).1;
            if more > 0.0 {
                blank = blank.grown(way, more).unwrap_or(blank);
            }
        }
    }
    blank
}

/// The box between two places along one of its axes.
fn fit(blank: Blank, along: DVec3, (lo, hi): (f64, f64)) -> Blank {
    let (from, to) = blank.reach(along);
    let grown = blank.grown(-along, from - lo).unwrap_or(blank);
    grown.grown(along, hi - to).unwrap_or(grown)
}
