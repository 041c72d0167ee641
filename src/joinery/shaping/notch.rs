//! Notches: a box cut out of a part.

use crate::geometry::{DVec3, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::face::shaped;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PART;
use crate::joinery::bench::tolerance::NOISE;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `notch`.
pub(in crate::joinery) struct Notch;

/// One of the three spans.
const fn span(key: &'static str, message: &'static str) -> OptionSpec {
    OptionSpec { key, kind: OptionKind::Span, default: &[Usual::Words("right through")], says: message }
}

/// What `notch` says of itself.
static WORD: Word = Word {
    name: "notch",
    args: PART,
    options: &[
        span("x", "from and to, left to right in the piece"),
        span("y", "from and to, front to back in the piece"),
        span("z", "from and to, upwards in the piece"),
    ],
    says: "cuts a box out of a part, placed as parts are; what is left out goes right through",
    rule: "",
    example: "notch(side, #{ y: [0, 50], z: [0, 90] });",
};

impl Joinery for Notch {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn shapes(&self) -> bool {
        true
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let part = bench.part(work, 0)?;
        let whole = &bench.placed[part];
        let (mut low, mut high, mut given) = (DVec3::ZERO, DVec3::ZERO, false);
        for (i, (key, way)) in [("x", DVec3::X), ("y", DVec3::Y), ("z", DVec3::Z)].into_iter().enumerate() {
            let reach = whole.reach(way);
            let (lo, hi) = match work.options.lengths(key) {
                Some([lo, hi]) => {
                    given = true;
                    (*lo, *hi)
                }
                // What is left out goes right through, past both faces, so that no skin
                // is left.
                _ => (reach.0 - 1.0, reach.1 + 1.0),
            };
            // A notch beside its part cuts nothing, and is a slip of the pen.
            let apart = (lo - reach.1).max(reach.0 - hi);
            if apart > -NOISE {
                let message = format!(
                    "the notch lies {} beside `{}`, which fills {key} from {} to {}",
                    bench.mm(apart.max(0.0)),
                    bench.name(part),
                    bench.figure(reach.0),
                    bench.mm(reach.1)
                );
                let help = format!("let `{key}` overlap that; it is measured in the piece");
                return Err(bench.error(work, "off-the-part", message, &[part]).help(help));
            }
            (low[i], high[i]) = (lo, hi);
        }
        if !given {
            let message = format!("the notch takes all of `{}`", bench.name(part));
            return Err(bench
                .error(work, "nothing-left", message, &[part])
                .help("give at least one of `x`, `y`, `z`"));
        }
        let shape = Prism::block(Placement::IDENTITY, low, high);
        Ok(shaped(part, vec![Sawn { part, kind: CutKind::Notch, shape }]))
    }
}
