//! Finger joints: square fingers of two boards interlocked at a corner.

use crate::joinery::bench::corner::{BEYOND, Corner, Limb, corner, wooden};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::facts::Facts;
use crate::joinery::facts::corners::{CornerJoint, Fingered};
use crate::joinery::facts::deep::Deep;
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;

/// The word `finger_joint`.
pub(in crate::joinery) struct FingerJoint;

/// What `finger_joint` says of itself.
static WORD: Word = Word {
    name: "finger_joint",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 2, max: 300 },
            default: &[Usual::Words(
                "an odd number, so that each finger is about as wide as the thinner board is thick",
            )],
            says: "fingers of both boards together, all of one width unless `width` is given",
        },
        OptionSpec {
            key: "width",
            kind: OptionKind::Length { min: 2.0, max: 200.0 },
            default: &[Usual::Words("the width of the corner over `count`")],
            says: "width of the cutter and so of each finger; the outer two take what is left over",
        },
        OptionSpec {
            key: "start",
            kind: OptionKind::Choice(&["first", "second"]),
            default: &[Usual::Words("\"first\"")],
            says: "the board that has the finger at the beginning: at the front, or else at the bottom or left",
        },
    ],
    says: "joins two boards at a corner with square fingers; draw both to the outside of the corner, as for a mitre",
    rule: "fingers about as wide as the thickness and an odd number, so that both edges are alike (common \
           practice, no source)",
    example: "finger_joint(side, front, #{ width: 12 });",
};

/// Least width of a finger, mm: thinner ones break in handling (common
/// practice, no source).
const LEAST: f64 = 3.0;
/// Widest finger as a multiple of the thickness that still glues on enough
/// long grain (common practice, no source).
const WIDEST: f64 = 3.0;

/// How the width is shared out, mm.
struct Fingers {
    /// Fingers of both boards.
    count: u32,
    /// Width of an inner finger.
    width: f64,
    /// Width of the first and the last.
    outer: f64,
}

impl Fingers {
    /// Where finger `i` begins, from the beginning of the corner.
    fn begin(&self, i: u32) -> f64 {
        if i == 0 {
            0.0
        } else if i == self.count {
            2.0 * self.outer + f64::from(self.count - 2) * self.width
        } else {
            self.outer + f64::from(i - 1) * self.width
        }
    }
}

impl Joinery for FingerJoint {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { takes_up: TakesUp::LetIn, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        wooden(bench, work, &[a, b])?;
        let corner = corner(bench, work, a, b)?;
        let fingers = fingers(bench, work, &corner)?;
        let mut made = Made {
            parts: vec![a, b],
            glued: true,
            ways_in: vec![corner.b.out, -corner.a.out],
            warnings: corner.short_grain(bench, work, "fingers"),
            ..Made::default()
        };
        let second_starts = work.options.text("start") == Some("second");
        for i in 0..fingers.count {
            // A finger of one board is a socket of the other.
            let firsts = (i % 2 == 0) != second_starts;
            let limb = if firsts { corner.b } else { corner.a };
            made.cuts.push(socket(bench, &corner, &fingers, i, limb));
        }
        made.warnings.extend(few(bench, work, &corner, &fingers));
        // Told only where it differs: the outer width is a setting of its own then.
        let odd = (fingers.outer - fingers.width).abs() > TOUCH;
        made.facts = Facts::Corners(CornerJoint::Fingered(Fingered {
            count: fingers.count as usize,
            width: fingers.width,
            outer: odd.then_some(fingers.outer),
            depths: [Deep { part: a, deep: corner.b.thick }, Deep { part: b, deep: corner.a.thick }],
        }));
        Ok(vec![made])
    }
}

/// The socket that takes finger `i` of the other board.
fn socket(bench: &Bench<'_>, corner: &Corner, fingers: &Fingers, i: u32, limb: Limb) -> Sawn {
    let deep = if limb.part == corner.a.part { corner.b.thick } else { corner.a.thick };
    let (low, high) = corner.flush(bench, limb);
    // Only where the board ends with the corner: else the socket would run into wood
    // that stays.
    let begin = fingers.begin(i) - if i == 0 && low { BEYOND } else { 0.0 };
    let end = fingers.begin(i + 1) + if i + 1 == fingers.count && high { BEYOND } else { 0.0 };
    let outline = [(begin, -BEYOND), (end, -BEYOND), (end, deep), (begin, deep)];
    let shape = corner.cut(limb, &outline, (-BEYOND, limb.thick + BEYOND));
    Sawn { part: limb.part, kind: CutKind::FingerSocket, shape }
}

/// How many fingers, and how wide.
fn fingers(bench: &Bench<'_>, work: &Work, corner: &Corner) -> Result<Fingers, Problem> {
    let wide = corner.wide;
    let asked = work.options.count("count").map(|n| n.max(2));
    let found = if let Some(width) = work.options.number("width") {
        let count = asked.unwrap_or_else(|| {
            // As many as leave the outer two at least half a finger.
            let most = whole(wide / width + NOISE) + 1;
            if most.is_multiple_of(2) { most - 1 } else { most }
        });
        let outer = 0.5 * (wide - f64::from(count.max(2) - 2) * width);
        if count < 2 || outer < 0.5 * width - NOISE {
            return Err(too_wide(bench, work, corner, count, width));
        }
        Fingers { count, width, outer }
    } else {
        let thick = corner.a.thick.min(corner.b.thick);
        // Odd, so that the first board has a finger at both edges; at least three, for
        // two are no joint.
        let count = asked.unwrap_or_else(|| (2 * whole(0.5 * wide / thick) + 1).clamp(3, 299));
        let width = wide / f64::from(count);
        Fingers { count, width, outer: width }
    };
    // The outer fingers may be narrower than the rest: they break first.
    let least = found.width.min(found.outer);
    if least >= LEAST - NOISE {
        return Ok(found);
    }
    let message = format!(
        "{} fingers where `{}` and `{}` meet on {} are only {} wide",
        found.count,
        bench.name(corner.a.part),
        bench.name(corner.b.part),
        bench.mm(wide),
        bench.mm(least)
    );
    let help = format!("ask for at most {}; a finger keeps {}", whole(wide / LEAST).max(1), bench.mm(LEAST));
    Err(bench.error(work, "fingers-too-thin", message, &[corner.a.part, corner.b.part]).help(help))
}

/// The fingers asked for do not fit the corner.
fn too_wide(bench: &Bench<'_>, work: &Work, corner: &Corner, count: u32, width: f64) -> Problem {
    let message = format!(
        "{} fingers {} wide do not fit where `{}` and `{}` meet on {}",
        count.max(3),
        bench.mm(width),
        bench.name(corner.a.part),
        bench.name(corner.b.part),
        bench.mm(corner.wide)
    );
    let most = whole(corner.wide / width + NOISE) + 1;
    let help = if most >= 3 {
        format!("ask for at most {most}: the outer two keep half a finger at least")
    } else {
        format!("make `width` at most {}", bench.mm(0.5 * corner.wide))
    };
    bench.error(work, "does-not-fit", message, &[corner.a.part, corner.b.part]).help(help)
}

/// A warning where the fingers are so wide that few hold the corner.
fn few(bench: &Bench<'_>, work: &Work, corner: &Corner, fingers: &Fingers) -> Option<Problem> {
    let thick = corner.a.thick.min(corner.b.thick);
    (fingers.width > WIDEST * thick + TOUCH).then(|| {
        let message = format!(
            "fingers {} wide are too few for `{}` and `{}`, {} thick: they glue mostly on end grain",
            bench.mm(fingers.width),
            bench.name(corner.a.part),
            bench.name(corner.b.part),
            bench.mm(thick)
        );
        let count = 2 * whole(0.5 * corner.wide / thick) + 1;
        bench
            .warning(work, "few-fingers", message, &[corner.a.part, corner.b.part])
            .help(format!("{count} fingers are about as wide as the thickness"))
    })
}

/// Most fingers that are reckoned with: far over any corner, and safe to count in.
const MOST: f64 = 10_000.0;

/// A length in fingers, cut down to whole ones.
fn whole(n: f64) -> u32 {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to 0..=10000 first")]
    let n = n.clamp(0.0, MOST) as u32;
    n
}
