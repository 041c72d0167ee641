//! Housings: a board let into a channel across another.

use crate::geometry::DVec3;
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::corner::BEYOND;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Meeting, Pair, TOUCH, front_part, side_of};
use crate::joinery::bench::pocket::{WALL, third};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{LENGTH, PARTS_AND_MEMBER, Tie};
use crate::joinery::bench::tolerance::{LEVEL, NOISE};
use crate::joinery::channels::leaning::{self, Slot};
use crate::joinery::facts::Facts;
use crate::joinery::facts::channels::{Channel, Housed, Stopped};
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::joinery::meeting::trim::Trim;
use crate::measure::down;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `housing`.
pub(in crate::joinery) struct Housing;

/// What `housing` says of itself.
static WORD: Word = Word {
    name: "housing",
    args: PARTS_AND_MEMBER,
    options: &[
        OptionSpec {
            key: "depth",
            kind: LENGTH,
            default: &[Usual::Words("a third of the thickness it is cut in")],
            says: "how deep the channel is; the board grows by as much",
        },
        OptionSpec {
            key: "stop",
            kind: LENGTH,
            default: &[Usual::Length(0.0), Usual::Words(": the channel runs through")],
            says: "how far behind the front edge the channel stops; the board is notched to cover it",
        },
        OptionSpec {
            key: "shoulder",
            kind: LENGTH,
            default: &[Usual::Length(0.0), Usual::Words(": the whole thickness is let in")],
            says: "how much thinner the board's end is than the board",
        },
        OptionSpec {
            key: "shoulder_on",
            kind: OptionKind::Side,
            default: &[Usual::Words(
                "the upper face, so that the board bears on its whole lower face; of an upright board the right or back one",
            )],
            says: "the side of the piece the shoulder looks to",
        },
    ],
    says: "lets the end of a board into a channel across another",
    rule: "depth a third of the thickness; a shoulder hides a channel that is not crisp, and an end is notched on top, as \
           one notched below splits (common practice, no source)",
    example: "housing(shelf, side, #{ depth: 6, stop: 12 });",
};

impl Joinery for Housing {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { takes_up: TakesUp::LetIn, ..Traits::default() }
    }

    fn ties(&self) -> &'static [Tie] {
        &[Tie::Needs("shoulder_on", &["shoulder"])]
    }

    fn trims(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Trim>, Problem> {
        let member = bench.member(work)?;
        let held = bench.held(work, member)?;
        let lean = held.into_iter().filter(|board| leaning::leans(bench, *board, member));
        lean.map(|board| {
            let pair = Pair { a: board, b: member };
            leaning::let_in(bench, work, pair, |thick| depth_of(bench, work, member, thick))
        })
        .collect()
    }

    fn grow(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Growth>, Problem> {
        let member = bench.member(work)?;
        let mut list = Vec::new();
        for board in bench.held(work, member)? {
            if leaning::leans(bench, board, member) {
                continue;
            }
            let m = bench.let_in(work, board, member)?;
            let depth = depth(bench, work, member, m)?;
            // A gap that counts as touching is bridged, or the board would stand off the
            // bottom by it.
            list.push(Growth { part: board, toward: -m.normal, by: depth + m.gap, lipping: None });
        }
        Ok(list)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let member = bench.member(work)?;
        let boards = bench.held(work, member)?;
        let one = |board: usize| match bench.trims_of(work).find(|trim| trim.part == board) {
            Some(trim) => leaning_housed(bench, work, trim),
            None => housed(bench, work, board, member),
        };
        boards.into_iter().map(one).collect()
    }
}

/// How deep the channel is, mm; an error where it would leave too little.
fn depth(bench: &Bench<'_>, work: &Work, member: usize, m: Meeting) -> Result<f64, Problem> {
    let (back, face) = bench.placed[member].reach(m.normal);
    depth_of(bench, work, member, face - back)
}

/// The same in a member `thick` there.
fn depth_of(bench: &Bench<'_>, work: &Work, member: usize, thick: f64) -> Result<f64, Problem> {
    let depth = work.options.number("depth").unwrap_or_else(|| down(bench.job.unit, third(thick)));
    if depth < thick - TOUCH {
        return Ok(depth);
    }
    let message = format!(
        "a channel {} deep goes through `{}`, which is {} thick there",
        bench.mm(depth),
        bench.name(member),
        bench.mm(thick)
    );
    Err(bench
        .error(work, "breaks-through", message, &[member])
        .help(format!("make `depth` less; a third of the thickness is {}", bench.mm(third(thick)))))
}

/// How a board stands in its channel, mm along `run`.
struct Stands {
    m: Meeting,
    depth: f64,
    /// Along the channel, from the front.
    run: DVec3,
    /// From and to of the board.
    whole: (f64, f64),
    /// Where its channel begins: behind the front of it if that is stopped.
    begin: f64,
}

impl Stands {
    /// What of a box lies in the channel between two places along it, and as far as
    /// `beyond` under its bottom.
    fn slab(&self, blank: &Blank, span: (f64, f64), beyond: f64) -> Prism {
        slab(blank, self.run, span, self.m.normal, (self.m.face - self.depth - beyond, self.m.face))
    }
}

/// How a board stands in its channel; a problem where a stop leaves nothing of it.
fn stands(bench: &Bench<'_>, work: &Work, board: usize, member: usize) -> Result<Stands, Problem> {
    let m = bench.let_in(work, board, member)?;
    let depth = depth(bench, work, member, m)?;
    // The channel runs square to the way in and to the board's thickness.
    let run = m.normal.cross(bench.grown[board].at.z);
    if run.length_squared() < LEVEL {
        return Err(face_on(bench, work, board, member));
    }
    let run = if front_part(run) < 0.0 { -run } else { run };
    let (lo, hi) = bench.placed[board].reach(run);
    let edge = bench.placed[member].reach(run).0;
    let stop = work.options.number("stop").unwrap_or(0.0);
    // A board that stands back further than the stop needs no notch: its channel begins
    // where it does.
    let begin = if stop > 0.0 { lo.max(edge + stop) } else { lo };
    if begin <= hi - TOUCH {
        return Ok(Stands { m, depth, run, whole: (lo, hi), begin });
    }
    Err(stopped_short(bench, work, (board, member), hi - lo))
}

/// A board that meets the other with its face: most often the two were named the wrong
/// way round.
fn face_on(bench: &Bench<'_>, work: &Work, board: usize, member: usize) -> Problem {
    let (name, other) = (bench.name(board), bench.name(member));
    let message = format!("`{name}` meets `{other}` with its face, and has no end or edge there to let in");
    bench.error(work, "nothing-left-to-house", message, &[board, member]).help(format!(
        "name the board that goes in first: where `{other}` is let into `{name}`, `{other}` comes before `{name}`"
    ))
}

/// A stop that leaves nothing of the board to let in.
fn stopped_short(bench: &Bench<'_>, work: &Work, (board, member): (usize, usize), deep: f64) -> Problem {
    let message = format!(
        "a channel stopped {} behind the front edge leaves nothing of `{}`, which is {} deep",
        bench.mm(work.options.number("stop").unwrap_or(0.0)),
        bench.name(board),
        bench.mm(deep)
    );
    bench.error(work, "nothing-left-to-house", message, &[board, member]).help("make `stop` less")
}

/// The channel and the notch that covers its stop.
fn housed(bench: &Bench<'_>, work: &Work, board: usize, member: usize) -> Result<Made, Problem> {
    let stands = stands(bench, work, board, member)?;
    let Stands { m, depth, run, whole: (lo, hi), begin } = stands;
    let whole = &bench.placed[board];
    let (edge, far) = bench.placed[member].reach(run);
    let stop = work.options.number("stop").unwrap_or(0.0);
    let shoulder = shoulder(bench, work, board, m)?;
    // With a shoulder only the tongue is let in, and the channel is as wide as that.
    let end = shoulder.as_ref().map_or(*whole, |s| whole.grown(s.side, -s.by).unwrap_or(*whole));
    let channel = stands.slab(&end, (begin, hi), 0.0);
    let mut made =
        Made { parts: vec![board, member], glued: true, ways_in: vec![m.normal], ..Made::default() };
    made.cuts.push(Sawn { part: member, kind: CutKind::Housing, shape: channel });
    // Where the channel is open at an end, the board may also slide in from there.
    if begin > lo + TOUCH {
        let notch = stands.slab(whole, (lo, begin), 0.0);
        made.cuts.push(Sawn { part: board, kind: CutKind::Notch, shape: notch });
    } else if begin < edge + TOUCH {
        made.ways_in.push(-run);
    }
    if hi > far - TOUCH {
        made.ways_in.push(run);
    }
    made.cuts.extend(shoulder.as_ref().map(|s| s.sawn(bench, board, &stands)));
    let stopped = (begin > edge + TOUCH && stop > 0.0).then(|| Stopped {
        asked: stop,
        from_edge: begin - edge,
        edge: side_of(-run),
    });
    made.facts = Facts::Channels(Channel::Housed(Housed {
        depth,
        width: end.size.z,
        stopped,
        shoulder: shoulder.as_ref().map(|s| s.by),
    }));
    Ok(made)
}

/// The channel of a board that leans, its walls leaning with it.
fn leaning_housed(bench: &Bench<'_>, work: &Work, trim: &Trim) -> Result<Made, Problem> {
    let (board, member, deep) = (trim.part, trim.to, trim.deep);
    let mut slot = Slot::of(bench, trim);
    let stop = work.options.number("stop").unwrap_or(0.0);
    let (lo, hi) = slot.span;
    let begin = if stop > 0.0 { lo.max(slot.member.0 + stop) } else { lo };
    if begin > hi - TOUCH {
        return Err(stopped_short(bench, work, (board, member), hi - lo));
    }
    let m = Meeting { normal: trim.face.normal, gap: 0.0, face: trim.face.offset };
    let shoulder = shoulder(bench, work, board, m)?;
    let mut made =
        Made { parts: vec![board, member], glued: true, ways_in: vec![-trim.into], ..Made::default() };
    let (under, over) = (slot.face - deep - BEYOND, slot.face);
    if begin > lo + TOUCH {
        // What is notched away is all of the end before the channel's stop.
        let walls = (slot.walls.0 - BEYOND, slot.walls.1 + BEYOND);
        let notch = slot.bar(walls, (under, over), (lo - BEYOND, begin));
        made.cuts.extend(notch.map(|shape| Sawn { part: board, kind: CutKind::Notch, shape }));
    } else if begin < slot.member.0 + TOUCH {
        made.ways_in.push(-slot.run);
    }
    if hi > slot.member.1 - TOUCH {
        made.ways_in.push(slot.run);
    }
    if let Some(s) = &shoulder {
        let is_upper = s.side.dot(slot.through) > 0.0;
        let (low, high) = slot.walls;
        let strip = if is_upper { (high - s.by, high + BEYOND) } else { (low - BEYOND, low + s.by) };
        let cut = slot.bar(strip, (under, over), (lo - BEYOND, hi + BEYOND));
        made.cuts.extend(cut.map(|shape| Sawn { part: board, kind: CutKind::Shoulder, shape }));
        slot.walls = if is_upper { (low, high - s.by) } else { (low + s.by, high) };
    }
    let channel = slot.channel(deep, (begin, hi));
    leaning::holds(bench, work, trim, channel.as_ref(), f64::INFINITY)?;
    made.cuts.extend(channel.map(|shape| Sawn { part: member, kind: CutKind::Housing, shape }));
    let edge = side_of(-slot.run);
    let stopped = (begin > slot.member.0 + TOUCH && stop > 0.0).then_some(Stopped {
        asked: stop,
        from_edge: begin - slot.member.0,
        edge,
    });
    made.facts = Facts::Channels(Channel::Housed(Housed {
        depth: deep,
        width: slot.wide(),
        stopped,
        shoulder: shoulder.as_ref().map(|s| s.by),
    }));
    Ok(made)
}

/// A shoulder at a board's end.
struct Shoulder {
    /// Out of the face it is cut in.
    side: DVec3,
    /// How much it takes off, mm.
    by: f64,
}

impl Shoulder {
    /// The cut that makes it at the end of a board. It reaches out at both edges and past
    /// the end, which lies in the channel, so that no sliver is left.
    fn sawn(&self, bench: &Bench<'_>, board: usize, stands: &Stands) -> Sawn {
        let whole = &bench.placed[board];
        let strip = whole
            .grown(-self.side, self.by - whole.size.z)
            .and_then(|strip| strip.grown(self.side, BEYOND))
            .unwrap_or(*whole);
        let ends = bench.grown[board].reach(stands.run);
        let shape = stands.slab(&strip, (ends.0 - BEYOND, ends.1 + BEYOND), BEYOND);
        Sawn { part: board, kind: CutKind::Shoulder, shape }
    }
}

/// The shoulder asked for; an error where it leaves too little to let in.
fn shoulder(bench: &Bench<'_>, work: &Work, board: usize, m: Meeting) -> Result<Option<Shoulder>, Problem> {
    let Some(by) = work.options.number("shoulder").filter(|by| *by > 0.0) else { return Ok(None) };
    let blank = &bench.placed[board];
    let across = blank.at.z;
    let asked = work.options.sides("shoulder_on").and_then(|s| s.first()).map(|s| s.normal());
    let way = asked.unwrap_or(if front_part(across) < 0.0 { -across } else { across });
    let lean = way.dot(across);
    if lean.abs() < 0.5 || way.dot(m.normal).abs() > 0.5 {
        let message = format!(
            "`{}` has no face to the {} to cut a shoulder in",
            bench.name(board),
            side_of(way).name()
        );
        let sides = [side_of(across).name(), side_of(-across).name()];
        return Err(bench
            .error(work, "no-such-edge", message, &[board])
            .help(format!("write `shoulder_on: \"{}\"` or \"{}\"", sides[0], sides[1])));
    }
    // What goes in carries the load, so it is held to the least wall, not the shoulder.
    let left = blank.size.z - by;
    if left < WALL - NOISE {
        let message = format!(
            "a shoulder of {} leaves {} of `{}`, which is {} thick, to let in",
            bench.mm(by),
            bench.mm(left.max(0.0)),
            bench.name(board),
            bench.mm(blank.size.z)
        );
        return Err(bench.error(work, "nothing-left-to-house", message, &[board]).help(format!(
            "make `shoulder` less; a third of the thickness is {}",
            bench.mm(third(blank.size.z))
        )));
    }
    Ok(Some(Shoulder { side: across * lean.signum(), by }))
}

/// The part of a box between two places along `run` and two along `normal`
/// (both along its axes; the box reaches as far as asked).
pub(in crate::joinery) fn slab(
    blank: &Blank,
    run: DVec3,
    span: (f64, f64),
    normal: DVec3,
    deep: (f64, f64),
) -> Prism {
    let mut cut = *blank;
    for (along, (lo, hi)) in [(run, span), (normal, deep)] {
        let (from, to) = cut.reach(along);
        cut = cut.grown(-along, from - lo).unwrap_or(cut);
        cut = cut.grown(along, hi - to).unwrap_or(cut);
    }
    cut.prism()
}
