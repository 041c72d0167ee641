//! Grooves: a panel held in a channel along a member.

use crate::geometry::DVec3;
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Meeting, Pair, TOUCH, side_of};
use crate::joinery::bench::pocket::{SLACK, third};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{LENGTH, PARTS_AND_MEMBER, Tie};
use crate::joinery::channels::leaning::{self, Slot};
use crate::joinery::channels::movement::{Held, SEASON, free, room, season};
use crate::joinery::facts::Facts;
use crate::joinery::facts::channels::{Channel, Grooved};
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::joinery::meeting::sawing::Fit;
use crate::joinery::meeting::trim::Trim;
use crate::measure::down;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;

/// The word `groove`.
pub(in crate::joinery) struct Groove;

/// What `groove` says of itself.
static WORD: Word = Word {
    name: "groove",
    args: PARTS_AND_MEMBER,
    options: &[
        OptionSpec {
            key: "depth",
            kind: LENGTH,
            default: &[Usual::Words("a third of the member, at most "), Usual::Length(DEEPEST)],
            says: "how deep the groove is",
        },
        OptionSpec {
            key: "slack",
            kind: LENGTH,
            default: &[Usual::Length(SLACK)],
            says: "room left at the bottom of the groove, so that the corners of the case close first",
        },
        OptionSpec {
            key: "move",
            kind: OptionKind::YesNo,
            default: &[Usual::YesNo(false)],
            says: "leaves a panel of solid wood room to swell and shrink across its grain with the seasons",
        },
        OptionSpec {
            key: "gap",
            kind: LENGTH,
            default: &[Usual::Words(
                "with `move`: the swelling at this edge and `slack`, rounded up to half a millimetre",
            )],
            says: "room left at the bottom of the groove for a panel that moves",
        },
        OptionSpec {
            key: "season",
            kind: OptionKind::Ratio { min: 0.5, max: 12.0 },
            default: &[Usual::Bare(SEASON)],
            says: "points of moisture content by which the panel gets damper, or drier, than at the bench",
        },
        OptionSpec {
            key: "dry",
            kind: OptionKind::YesNo,
            default: &[Usual::YesNo(true), Usual::Words(": not glued")],
            says: "left without glue; a panel of sheet, which does not move, may be glued in with false",
        },
    ],
    says: "holds the edge of a panel in a groove along a member; the panel grows into it",
    rule: "depth a third of the member (common practice, no source); a panel that moves: width × coefficient of the \
           flat-sawn wood × points of moisture, half of it at each edge (Wood Handbook, FPL-GTR-190, ch. 13); 3 mm \
           of the panel stay in the groove when it is driest, and it is not glued (common practice, no source)",
    example: "groove(back, side, #{ depth: 8, slack: 0.5 });",
};

/// Deepest that a groove is made where nothing is said, mm.
const DEEPEST: f64 = 10.0;

impl Joinery for Groove {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { frees_panel: true, takes_up: TakesUp::LetIn, ..Traits::default() }
    }

    fn ties(&self) -> &'static [Tie] {
        &[Tie::Needs("season", &["move", "gap"]), Tie::Either("gap", "slack")]
    }

    fn trims(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Trim>, Problem> {
        let member = bench.member(work)?;
        let held = bench.held(work, member)?;
        let lean = held.into_iter().filter(|panel| leaning::leans(bench, *panel, member));
        lean.map(|panel| {
            let pair = Pair { a: panel, b: member };
            let way = bench.sawn_to(pair, Fit::LetIn { deep: 0.0 }).map_or(DVec3::Z, |trim| trim.into);
            let slack = room(bench, work, panel, way)?;
            leaning::let_in(bench, work, pair, |thick| {
                Ok(deep_enough(bench, work, (panel, member), (thick, slack))? - slack)
            })
        })
        .collect()
    }

    fn grow(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Growth>, Problem> {
        let member = bench.member(work)?;
        let mut list = Vec::new();
        for panel in bench.held(work, member)? {
            if leaning::leans(bench, panel, member) {
                continue;
            }
            let m = bench.let_in(work, panel, member)?;
            let (depth, slack) = depths(bench, work, panel, member, m)?;
            // A gap that counts as touching is bridged as well: the panel would be that
            // much short in its groove.
            list.push(Growth { part: panel, toward: -m.normal, by: depth - slack + m.gap, lipping: None });
        }
        Ok(list)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let member = bench.member(work)?;
        let panels = bench.held(work, member)?;
        let one = |panel: usize| match bench.trims_of(work).find(|trim| trim.part == panel) {
            Some(trim) => leaning_grooved(bench, work, trim),
            None => grooved(bench, work, panel, member),
        };
        let glued = work.options.said("dry") == Some(false);
        if glued && free(work) {
            let message = "a panel that moves is not glued, but `dry` is false".to_owned();
            return Err(bench
                .error(work, "contradiction", message, &[member])
                .help("leave `dry` out; a panel glued all round would split"));
        }
        panels.into_iter().map(|panel| one(panel).map(|made| Made { glued, ..made })).collect()
    }
}

/// Depth of the groove and room at its bottom, mm.
fn depths(
    bench: &Bench<'_>,
    work: &Work,
    panel: usize,
    member: usize,
    m: Meeting,
) -> Result<(f64, f64), Problem> {
    let (back, face) = bench.placed[member].reach(m.normal);
    let slack = room(bench, work, panel, m.normal)?;
    Ok((deep_enough(bench, work, (panel, member), (face - back, slack))?, slack))
}

/// Depth of the groove in a member `thick` there with so much room at its bottom, mm.
fn deep_enough(
    bench: &Bench<'_>,
    work: &Work,
    (panel, member): (usize, usize),
    (thick, slack): (f64, f64),
) -> Result<f64, Problem> {
    // A third of a thick post would be deeper than a panel needs to be held.
    let depth =
        work.options.number("depth").unwrap_or_else(|| down(bench.job.unit, third(thick).min(DEEPEST)));
    if depth > thick - TOUCH {
        let message = format!(
            "a groove {} deep goes through `{}`, which is {} thick there",
            bench.mm(depth),
            bench.name(member),
            bench.mm(thick)
        );
        let help = format!("make `depth` less; a third of the thickness is {}", bench.mm(third(thick)));
        return Err(bench.error(work, "breaks-through", message, &[member]).help(help));
    }
    if slack > depth - TOUCH {
        let message = format!(
            "a slack of {} in a groove {} deep leaves nothing to hold `{}`",
            bench.mm(slack),
            bench.mm(depth),
            bench.name(panel)
        );
        let cure = if free(work) { "make `depth` more" } else { "make `slack` less" };
        return Err(bench.error(work, "nothing-held", message, &[panel, member]).help(cure));
    }
    Ok(depth)
}

/// The groove of a panel that leans, its walls leaning with it.
fn leaning_grooved(bench: &Bench<'_>, work: &Work, trim: &Trim) -> Result<Made, Problem> {
    let (panel, member) = (trim.part, trim.to);
    let slack = room(bench, work, panel, trim.into)?;
    let slot = Slot::of(bench, trim);
    let depth = trim.deep + slack;
    let mut made = Made { parts: vec![panel, member], ways_in: vec![-trim.into], ..Made::default() };
    let (lo, hi) = slot.span;
    if lo < slot.member.0 + TOUCH {
        made.ways_in.push(slot.run);
    }
    if hi > slot.member.1 - TOUCH {
        made.ways_in.push(-slot.run);
    }
    let channel = slot.channel(depth, (lo - slack, hi + slack));
    let (from_edge, edge) = leaning::nearer_edge(bench, trim, &slot);
    leaning::holds(bench, work, trim, channel.as_ref(), from_edge)?;
    made.cuts.extend(channel.map(|shape| Sawn { part: member, kind: CutKind::Groove, shape }));
    if free(work) {
        made.warnings.extend(season(
            bench,
            work,
            &Held { panel, member, toward: trim.into, depth, gap: slack },
        ));
    }
    made.facts = Facts::Channels(Channel::Grooved(Grooved {
        width: slot.wide(),
        depth,
        room: slack,
        moves: free(work),
        from_edge,
        edge,
    }));
    Ok(made)
}

/// The groove: the grown panel and the room at its bottom and at its ends.
fn grooved(bench: &Bench<'_>, work: &Work, panel: usize, member: usize) -> Result<Made, Problem> {
    let m = bench.let_in(work, panel, member)?;
    let (depth, slack) = depths(bench, work, panel, member, m)?;
    let (placed, grown) = (&bench.placed[panel], &bench.grown[panel]);
    // Along the member, square to the panel's thickness and to the way it goes in.
    let run = m.normal.cross(grown.at.z);
    let mut channel = with_room(placed, grown, run, slack);
    // The panel reaches right across the frame; of its box only what lies between the
    // face and the bottom is the groove.
    let (lo, hi) = channel.reach(m.normal);
    channel = channel.grown(-m.normal, lo - (m.face - depth)).unwrap_or(channel);
    channel = channel.grown(m.normal, m.face - hi).unwrap_or(channel);
    let (ends, body) = (channel.reach(run), bench.placed[member].reach(run));
    let mut made = Made { parts: vec![panel, member], ways_in: vec![m.normal], ..Made::default() };
    // A groove that is open at an end of its member lets the panel slide in there, as
    // the last side of a frame needs.
    if ends.0 < body.0 + TOUCH {
        made.ways_in.push(run);
    }
    if ends.1 > body.1 - TOUCH {
        made.ways_in.push(-run);
    }
    made.cuts.push(Sawn { part: member, kind: CutKind::Groove, shape: channel.prism() });
    let wide = placed.size.z;
    let across = grown.at.z;
    let to_edge = bench.placed[member].reach(across).1 - channel.reach(across).1;
    let from = bench.placed[member].reach(-across).1 - channel.reach(-across).1;
    // From the nearer edge: that is the one a fence is set off.
    let (from, side) = if to_edge < from { (to_edge, across) } else { (from, -across) };
    if free(work) {
        made.warnings.extend(season(
            bench,
            work,
            &Held { panel, member, toward: m.normal, depth, gap: slack },
        ));
    }
    made.facts = Facts::Channels(Channel::Grooved(Grooved {
        width: wide,
        depth,
        room: slack,
        moves: free(work),
        from_edge: from,
        edge: side_of(side),
    }));
    Ok(made)
}

/// The grown box, longer by `room` at each end along `run` where it grew.
fn with_room(placed: &Blank, grown: &Blank, run: DVec3, room: f64) -> Blank {
    let mut channel = *grown;
    for end in [run, -run] {
        // Only where it grew: an end that did not runs out of the member, where there is
        // no bottom to stand off.
        if grown.reach(end).1 > placed.reach(end).1 + TOUCH {
            channel = channel.grown(end, room).unwrap_or(channel);
        }
    }
    channel
}
