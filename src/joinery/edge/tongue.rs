//! Tongues: one along an edge or end of a board, in a groove of another.

use crate::geometry::Interval;
use crate::joinery::bench::corner::{BEYOND, wooden};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::pocket::{SLACK, third};
use crate::joinery::bench::seam::{DRY, GrooveAt, OFFSET, Seam, TOWARD, seam};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::facts::Facts;
use crate::joinery::facts::edge::{EdgeJoint, Tongued};
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::measure::near;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;

/// The word `tongue`.
pub(in crate::joinery) struct Tongue;

/// What `tongue` says of itself.
static WORD: Word = Word {
    name: "tongue",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "thick",
            kind: OptionKind::Length { min: 1.0, max: 100.0 },
            default: &[Usual::Words("a third of the thickness")],
            says: "thickness of the tongue and width of the groove",
        },
        OptionSpec {
            key: "depth",
            kind: OptionKind::Length { min: 1.0, max: 100.0 },
            default: &[Usual::Words("as `thick`")],
            says: "how far the tongue reaches into the other board; the first board grows by as much",
        },
        OptionSpec {
            key: "slack",
            kind: OptionKind::Length { min: 0.0, max: 20.0 },
            default: &[Usual::Length(SLACK)],
            says: "room left at the bottom of the groove, so that the faces close first",
        },
        OFFSET,
        TOWARD,
        DRY,
    ],
    says: "leaves a tongue along the edge or end of the first board and grooves the second for it; the boards are \
           drawn face to face",
    rule: "tongue a third of the thickness and as deep as it is thick (common practice, no source)",
    example: "tongue(left_board, right_board, #{ thick: 6, depth: 8 });",
};

/// The tongue and the room at the bottom of its groove, mm.
struct Sizes {
    thick: f64,
    depth: f64,
    slack: f64,
}

impl Joinery for Tongue {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { takes_up: TakesUp::LetIn, ..Traits::default() }
    }

    fn grow(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Growth>, Problem> {
        let (a, b) = bench.pair(work)?;
        wooden(bench, work, &[a, b])?;
        let seam = seam(bench, work, a, b)?;
        let depth = sizes(bench, work, &seam).depth;
        // The board was drawn to its shoulder; the tongue comes on, and a gap that
        // counts as touching with it.
        Ok(vec![Growth { part: a, toward: -seam.m.normal, by: depth + seam.m.gap, lipping: None }])
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        let seam = seam(bench, work, a, b)?;
        let sizes = sizes(bench, work, &seam);
        let tongue = seam.tongue(bench, work, sizes.thick, (a, b))?;
        let mut made = Made {
            parts: vec![a, b],
            ways_in: seam.ways_in(&bench.grown[b], false),
            glued: !work.options.yes("dry"),
            cuts: shoulders(bench, &seam, a, tongue, sizes.depth),
            ..Made::default()
        };
        let deep = Interval { from: -sizes.depth - sizes.slack, to: BEYOND };
        let stretch = seam.stretch(&bench.grown[b]);
        made.cuts.push(seam.groove(bench, work, b, GrooveAt { stretch, tongue, deep })?);
        made.facts = Facts::Edge(EdgeJoint::Tongued(Tongued {
            thick: sizes.thick,
            long: sizes.depth,
            deep: sizes.depth + sizes.slack,
        }));
        Ok(vec![made])
    }
}

/// Sizes as asked for, or by the rule.
fn sizes(bench: &Bench<'_>, work: &Work, seam: &Seam) -> Sizes {
    let thick = work.options.number("thick").unwrap_or_else(|| near(bench.job.unit, third(seam.thick())));
    let depth = work.options.number("depth").unwrap_or(thick);
    Sizes { thick, depth, slack: bench.slack(work) }
}

/// What is cut from the first board beside the tongue, and at its ends where
/// the other board is shorter.
fn shoulders(bench: &Bench<'_>, seam: &Seam, part: usize, tongue: Interval, depth: f64) -> Vec<Sawn> {
    let board = &bench.grown[part];
    let (ends, faces) = (board.span(seam.run), board.span(seam.across).grown(BEYOND));
    // From past the end, which the tongue is cut out of, to the shoulder on the seam.
    let deep = Interval { from: -depth - BEYOND, to: 0.0 };
    let whole = ends.grown(BEYOND);
    let mut list =
        vec![(whole, Interval { to: tongue.from, ..faces }), (whole, Interval { from: tongue.to, ..faces })];
    // Where the board runs on past the other, its tongue would stand in the air: it is
    // shouldered off.
    if seam.along.from > ends.from + TOUCH {
        list.push((Interval { to: seam.along.from, ..whole }, faces));
    }
    if seam.along.to < ends.to - TOUCH {
        list.push((Interval { from: seam.along.to, ..whole }, faces));
    }
    list.into_iter()
        .map(|(along, across)| Sawn { part, kind: CutKind::Shoulder, shape: seam.block(along, across, deep) })
        .collect()
}
