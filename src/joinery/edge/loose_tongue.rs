//! Loose tongues: grooves in both boards and a strip of wood in both.

use super::mitred_tongue;
use super::stops::{FAR_STOP, STOP, STOPS, Stops};
use crate::geometry::{DVec3, Interval, Placement};
use crate::joinery::bench::corner::{BEYOND, wooden};
use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::meet::Pair;
use crate::joinery::bench::pocket::{SLACK, third};
use crate::joinery::bench::seam::{CHEEK, DRY, GrooveAt, OFFSET, Seam, TOWARD, seam};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{PAIR, Tie};
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::Facts;
use crate::joinery::facts::edge::{EdgeJoint, Strip};
use crate::joinery::facts::item::{Wooden, sizes};
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::measure::near;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `loose_tongue`.
pub(in crate::joinery) struct LooseTongue;

/// What `loose_tongue` says of itself.
static WORD: Word = Word {
    name: "loose_tongue",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "tongue",
            kind: OptionKind::Pair,
            default: &[Usual::Words("a third of the thickness by three times that")],
            says: "thickness and width of the strip, such as \"6x18\"; half of the width lies in each board",
        },
        OptionSpec {
            key: "slack",
            kind: OptionKind::Length { min: 0.0, max: 20.0 },
            default: &[Usual::Length(SLACK)],
            says: "room left at the bottom of each groove, so that the faces close first",
        },
        STOP,
        FAR_STOP,
        OFFSET,
        TOWARD,
        DRY,
    ],
    says: "joins the edge or end of a board to another by a strip let into grooves of both; the boards are drawn \
           face to face, or mitred",
    rule: "strip a third of the thickness, half its width in each board; of plywood, or of solid wood with the \
           grain across the seam; in a mitre square to it and nearer its inside, where the wood is thicker, at three \
           fifths of what it could be moved (common practice, no source)",
    example: "loose_tongue(left_board, right_board, #{ tongue: \"6x18\" });",
};

/// Width of the usual strip in thicknesses: half as deep again as thick in either board.
const WIDE: f64 = 3.0;

impl Joinery for LooseTongue {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { takes_up: TakesUp::Tongue, ..Traits::default() }
    }

    fn ties(&self) -> &'static [Tie] {
        STOPS
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        wooden(bench, work, &[a, b])?;
        // In a mitre the tongue stands square to the mitre's plane, which no seam of
        // square boards has.
        if bench.mitred(a, b) {
            return mitred_tongue::tongued(bench, work, (a, b));
        }
        let seam = seam(bench, work, a, b)?;
        let third = near(bench.job.unit, third(seam.thick()));
        let (thick, width) = work.options.pair("tongue").unwrap_or((third, WIDE * third));
        let slack = bench.slack(work);
        let stops = Stops::asked(work, seam.run);
        let length = seam.along.length() - stops.taken();
        if length <= 2.0 * CHEEK {
            return Err(stops.refused(bench, work, (a, b), seam.along.length()));
        }
        if width < 2.0 * CHEEK {
            return Err(narrow(bench, work, Pair { a, b }, width));
        }
        let tongue = seam.tongue(bench, work, thick, (a, b))?;
        // Half in each board, so that one setting of the cutter serves both.
        let half = 0.5 * width;
        in_wood(bench, work, Pair { a, b }, &Lies { seam: &seam, tongue, half, stops })?;
        let mut made = Made {
            parts: vec![a, b],
            glued: !work.options.yes("dry"),
            ways_in: seam.ways_in(&bench.grown[b], stops.any()),
            ..Made::default()
        };
        let into_first = Interval { from: -BEYOND, to: half + slack };
        for (part, deep) in [(a, into_first), (b, into_first.turned())] {
            let stretch = stops.groove(seam.along, seam.stretch(&bench.grown[part]));
            made.cuts.push(seam.groove(bench, work, part, GrooveAt { stretch, tongue, deep })?);
        }
        made.inserts.push(Insert {
            item: Wooden::LooseTongue(sizes([thick, width, length])).into(),
            at: vec![middle(&seam, stops, tongue)],
            body: Some(Prism::cuboid(
                0.5 * DVec3::new(-length, -width, -thick),
                0.5 * DVec3::new(length, width, thick),
            )),
        });
        made.facts = Facts::Edge(EdgeJoint::LooseTongue {
            strip: Strip { thick, width, deep: half + slack },
            stopped: stops.told(seam.run),
        });
        Ok(vec![made])
    }
}

/// A strip that is let in too little to hold.
fn narrow(bench: &Bench<'_>, work: &Work, pair: Pair, width: f64) -> Problem {
    let message =
        format!("a tongue {} wide lies only {} in each board", bench.mm(width), bench.mm(0.5 * width));
    bench.error(work, "does-not-fit", message, &pair.parts()).help("write thickness first: \"6x18\"")
}

/// Where a strip lies, mm.
struct Lies<'a> {
    /// The seam it runs along.
    seam: &'a Seam,
    /// Its faces across the seam.
    tongue: Interval,
    /// How deep it stands in either board.
    half: f64,
    /// How far it stops from the ends of the seam.
    stops: Stops,
}

impl Lies<'_> {
    /// Whether it comes out of the boards where it stops so far from the ends.
    fn stands_out(&self, bench: &Bench<'_>, pair: Pair, stops: Stops) -> bool {
        let strip = self.seam.block(
            stops.of(self.seam.along),
            self.tongue,
            Interval { from: -self.half, to: self.half },
        );
        bench.stands_out(pair, &strip)
    }

    /// The least whole stop with which it lies in wood, mm.
    fn least_stop(&self, bench: &Bench<'_>, pair: Pair) -> Option<f64> {
        let most = (0.5 * self.seam.along.length() - CHEEK).ceil() - 1.0;
        let (mut low, mut high) = (self.stops.low.min(self.stops.high), most);
        if high <= low || self.stands_out(bench, pair, Stops::even(high)) {
            return None;
        }
        // What slopes leaves more wood the further from the end, so halving finds it.
        while high - low > 1.0 {
            let middle = (0.5 * (low + high)).ceil().min(high - 1.0);
            if self.stands_out(bench, pair, Stops::even(middle)) { low = middle } else { high = middle }
        }
        Some(high)
    }
}

/// Refuses a strip that comes out where shaping has taken wood of a board.
fn in_wood(bench: &Bench<'_>, work: &Work, pair: Pair, lies: &Lies<'_>) -> Result<(), Problem> {
    if !lies.stands_out(bench, pair, lies.stops) {
        return Ok(());
    }
    let message = format!(
        "a tongue {} long comes out of the wood that shaping leaves of `{}` and `{}` where they meet",
        bench.mm(lies.seam.along.length() - lies.stops.taken()),
        bench.name(pair.a),
        bench.name(pair.b)
    );
    let help = lies.least_stop(bench, pair).map_or_else(
        || "move it with `offset` and `toward`, make it narrower, or leave more wood there".to_owned(),
        |stop| format!("stop it short of both ends: `stop: {}`", bench.figure(stop)),
    );
    Err(bench.error(work, "breaks-through", message, &pair.parts()).help(help))
}

/// The middle of the strip: x along the seam, y across it, z through the boards.
fn middle(seam: &Seam, stops: Stops, tongue: Interval) -> Placement {
    let (along, across) = (stops.of(seam.along).middle(), tongue.middle());
    let origin = seam.run * along + seam.m.normal * seam.m.face + seam.across * across;
    Placement { origin, x: seam.run, y: seam.m.normal, z: seam.run.cross(seam.m.normal) }
}
