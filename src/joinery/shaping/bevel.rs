//! Saw cuts at an angle: bevels and tapers.

use crate::geometry::{DVec3, trig};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::face::{part_face, shaped};
use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{LENGTH, ON_SIDE};
use crate::model::{OptionKind, OptionSpec, REQUIRED, Usual, Word, Work};
use crate::problem::Problem;

/// The word `bevel`.
pub(in crate::joinery) struct Bevel;
/// The word `taper`.
pub(in crate::joinery) struct Taper;

/// What `bevel` says of itself.
static BEVEL: Word = Word {
    name: "bevel",
    args: ON_SIDE,
    options: &[
        OptionSpec {
            key: "angle",
            kind: OptionKind::Angle { min: 0.1, max: 80.0 },
            default: REQUIRED,
            says: "how far the saw leans from square",
        },
        OptionSpec {
            key: "long",
            kind: OptionKind::Side,
            default: REQUIRED,
            says: "the side on which the part keeps its length",
        },
    ],
    says: "saws an end or edge at an angle",
    rule: "",
    example: "bevel(top, \"right\", #{ angle: 30, long: \"top\" });",
};

/// What `taper` says of itself.
static TAPER: Word = Word {
    name: "taper",
    args: ON_SIDE,
    options: &[
        OptionSpec {
            key: "by",
            kind: LENGTH,
            default: REQUIRED,
            says: "how much is taken off at the thin end",
        },
        OptionSpec {
            key: "toward",
            kind: OptionKind::Side,
            default: REQUIRED,
            says: "the side where the thin end is",
        },
        OptionSpec {
            key: "start",
            kind: LENGTH,
            default: &[Usual::Length(0.0), Usual::Words(": from the other end")],
            says: "how far from the other end the taper begins",
        },
    ],
    says: "tapers a side of a part towards one end",
    rule: "",
    example: "taper(leg, \"right\", #{ by: 12, toward: \"bottom\", start: 120 });",
};

/// Slope of the usual bevel, degrees.
const ANGLE: f64 = 45.0;

impl Joinery for Bevel {
    fn word(&self) -> &'static Word {
        &BEVEL
    }

    fn shapes(&self) -> bool {
        true
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = part_face(bench, work)?;
        let long = side(work, "long").ok_or_else(|| missing(bench, work, face.part, "long"))?;
        let way = face.toward(bench, work, long)?;
        let lean = trig::tan(work.options.number("angle").unwrap_or(ANGLE).to_radians());
        let out = face.out;
        let (lo, hi) = face.whole.reach(way);
        let off = lean * (hi - lo);
        if off > face.thick - TOUCH {
            let message = format!(
                "the bevel takes {} of `{}`, which has only {}",
                bench.mm(off),
                bench.name(face.part),
                bench.mm(face.thick)
            );
            return Err(bench.error(work, "nothing-left", message, &[face.part]).help("make `angle` less"));
        }
        // Through the arris that stays: the long side keeps its size, and the figure
        // asked for is the one that can be set.
        let point = arris(&face.whole, out, way);
        // Away from the long side the plane falls back by the lean.
        let cut = face.beyond(CutKind::Bevel, point, out - way * lean);
        Ok(shaped(face.part, cut.into_iter().collect()))
    }
}

impl Joinery for Taper {
    fn word(&self) -> &'static Word {
        &TAPER
    }

    fn shapes(&self) -> bool {
        true
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = part_face(bench, work)?;
        let thin = side(work, "toward").ok_or_else(|| missing(bench, work, face.part, "toward"))?;
        let way = face.toward(bench, work, thin)?;
        let (lo, hi) = face.whole.reach(way);
        let (by, start) =
            (work.options.number("by").unwrap_or(0.0), work.options.number("start").unwrap_or(0.0));
        let run = hi - lo - start;
        if by > face.thick - TOUCH || run < TOUCH {
            let message = format!(
                "a taper of {} that begins {} from the end leaves nothing of `{}`, which is {} × {}",
                bench.mm(by),
                bench.mm(start),
                bench.name(face.part),
                bench.figure(hi - lo),
                bench.mm(face.thick)
            );
            return Err(bench
                .error(work, "nothing-left", message, &[face.part])
                .help("make `by` or `start` less"));
        }
        let out = face.out;
        let point = arris(&face.whole, out, -way) + way * start;
        let cut = face.beyond(CutKind::Taper, point, out * run + way * by);
        // A taper by nothing cuts nothing: a plane along the face would leave the
        // carving to decide.
        Ok(shaped(face.part, cut.into_iter().filter(|_| by > 0.0).collect()))
    }
}

/// A point on the arris between two sides.
pub(in crate::joinery) fn arris(whole: &crate::joinery::bench::blank::Blank, a: DVec3, b: DVec3) -> DVec3 {
    let third = a.cross(b);
    a * whole.reach(a).1 + b * whole.reach(b).1 + third * third.dot(whole.centre())
}

/// The first side of an option.
fn side(work: &Work, key: &str) -> Option<crate::model::Side> {
    work.options.sides(key)?.first().copied()
}

/// An option that must be given.
fn missing(bench: &Bench<'_>, work: &Work, part: usize, key: &str) -> Problem {
    let message = format!("`{}` needs `{key}`", work.word.name);
    bench.error(work, "missing-argument", message, &[part]).help("name a side of the piece")
}
