//! What slides on wood: a drawer on its runners or on a frame, a lid in its grooves.

use crate::geometry::DVec3;
use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::opening::Opening;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::worked::CuttingPlane;
use crate::joinery::facts::Facts;
use crate::joinery::facts::doors::DoorFitting;
use crate::measure::{Unit, down};
use crate::model::{OptionKind, OptionSpec, Side, Usual, Word, Work};
use crate::problem::Problem;

/// The word `slides`.
pub(in crate::joinery) struct Slides;

/// What `slides` says of itself.
static WORD: Word = Word {
    name: "slides",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "by",
            kind: OptionKind::Length { min: 10.0, max: 3000.0 },
            default: &[Usual::Words("two thirds of its length that way")],
            says: "how far it is drawn out: it is drawn so, and nothing may be in its way",
        },
        OptionSpec {
            key: "toward",
            kind: OptionKind::Sides,
            default: &[Usual::Words("the front")],
            says: "the side of the piece to which it is drawn",
        },
    ],
    says: "lets a part slide on another, with all that is joined to it: the side of a drawer on its runner, a lid in its \
           groove; cuts nothing",
    rule: "without a stop a drawer stands open at two thirds of its sliding length (ASTM F2057-23, as told in 16 CFR \
           1261, from memory)",
    example: "slides(drawer_side, runner);",
};

/// Share of its length that is drawn out where nothing is said.
const DRAWN: f64 = 2.0 / 3.0;
/// Farther than this from what it slides on it hangs in the air, mm: the room of a drawer
/// that fits loosely (common practice, no source).
const LOOSE: f64 = 3.0;

impl Joinery for Slides {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (part, on) = bench.pair(work)?;
        let toward = match work.options.sides("toward") {
            None => Side::Front,
            Some([side]) => *side,
            Some(_) => {
                let message = "`slides` is given more than one side to slide to".to_owned();
                return Err(bench
                    .error(work, "does-not-fit", message, &[part])
                    .help("name one: `toward: \"front\"`"));
            }
        };
        near(bench, work, (part, on))?;
        let way = toward.normal();
        let (low, high) = bench.placed[part].reach(way);
        let long = high - low;
        // Told in inches it comes to a mark of a rule.
        let usual = if bench.job.unit == Unit::Inch { down(Unit::Inch, DRAWN * long) } else { DRAWN * long };
        let by = work.options.number("by").unwrap_or(usual);
        if by > long + TOUCH {
            let message = format!(
                "`{}` is {} long towards the {}: drawn out by {} it falls off `{}`",
                bench.name(part),
                bench.mm(long),
                toward.name(),
                bench.mm(by),
                bench.name(on)
            );
            return Err(bench
                .error(work, "does-not-fit", message, &[part, on])
                .help(format!("give `by` {} at the most", bench.mm(long))));
        }
        let middle = |axis: DVec3| {
            let (a, b) = (bench.placed[part].reach(axis), bench.placed[on].reach(axis));
            axis * (0.5 * (a.0.max(b.0) + a.1.min(b.1)))
        };
        // Across the way it slides, in the middle of the stretch they share.
        let point = middle(DVec3::X) + middle(DVec3::Y) + middle(DVec3::Z);
        Ok(vec![Made {
            parts: vec![part, on],
            ways_in: vec![way],
            shown_by: Some(CuttingPlane { point, toward: way }),
            opens: Some(Opening::Slides { toward: way, by }),
            facts: Facts::Doors(DoorFitting::Slide(by)),
            ..Made::default()
        }])
    }
}

/// Refuses parts that stand too far apart for one to carry the other.
fn near(bench: &Bench<'_>, work: &Work, (part, on): (usize, usize)) -> Result<(), Problem> {
    let apart = |axis: DVec3| {
        let ((a, b), (c, d)) = (bench.placed[part].reach(axis), bench.placed[on].reach(axis));
        (c - b).max(a - d)
    };
    let gap = [DVec3::X, DVec3::Y, DVec3::Z].map(apart).into_iter().fold(0.0, f64::max);
    if gap <= LOOSE + TOUCH {
        return Ok(());
    }
    let message = format!(
        "`{}` stands {} off `{}` and can't slide on it",
        bench.name(part),
        bench.mm(gap),
        bench.name(on)
    );
    Err(bench.error(work, "wrong-clearance", message, &[part, on]).help(format!(
        "bring them together, {} apart at the most, or name the part that carries it",
        bench.mm(LOOSE)
    )))
}
