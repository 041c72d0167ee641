//! Holes and slots in a side of a part.

use crate::geometry::{Corner, DVec2, Outline};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::face::{PartFace, part_face, shaped};
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{LENGTH, ON_SIDE, Tie};
use crate::model::{OptionKind, OptionSpec, REQUIRED, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `hole`.
pub(in crate::joinery) struct Hole;
/// The word `slot`.
pub(in crate::joinery) struct Slot;

/// The option `depth`.
const DEPTH: OptionSpec = OptionSpec {
    key: "depth",
    kind: LENGTH,
    default: &[Usual::Words("right through")],
    says: "how deep, from the side named",
};
/// The option `across`.
const ACROSS: OptionSpec = OptionSpec {
    key: "across",
    kind: OptionKind::Length { min: 0.0, max: 1500.0 },
    default: &[Usual::Words("the middle")],
    says: "distance from the marked edge to the middle line",
};

/// What `hole` says of itself.
static HOLE: Word = Word {
    name: "hole",
    args: ON_SIDE,
    options: &[
        OptionSpec {
            key: "diameter",
            kind: OptionKind::Length { min: 0.5, max: 500.0 },
            default: REQUIRED,
            says: "diameter",
        },
        OptionSpec {
            key: "along",
            kind: OptionKind::Lengths,
            default: &[Usual::Words("the middle")],
            says: "distances along the grain from the near end of the part as it is drawn, before a joint makes it longer; one hole at each",
        },
        ACROSS,
        OptionSpec {
            key: "at",
            kind: OptionKind::Places,
            default: &[Usual::Words("by `along` and `across`")],
            says: "in place of `along` and `across`: where each hole is, `[along, across]`",
        },
        DEPTH,
    ],
    says: "drills round holes into a side of a part",
    rule: "",
    example: "hole(side, \"right\", #{ diameter: 5, along: [64, 96, 128], across: 37, depth: 12 });\nhole(side, \"right\", #{ diameter: 6, at: [[200, 40], [300, 40]] });",
};

/// What `slot` says of itself.
static SLOT: Word = Word {
    name: "slot",
    args: ON_SIDE,
    options: &[
        OptionSpec {
            key: "along",
            kind: OptionKind::Lengths,
            default: REQUIRED,
            says: "where it begins and ends along the grain, over its round ends",
        },
        OptionSpec {
            key: "width",
            kind: OptionKind::Length { min: 0.5, max: 500.0 },
            default: REQUIRED,
            says: "width",
        },
        ACROSS,
        DEPTH,
    ],
    says: "cuts a hole with round ends along a side of a part",
    rule: "",
    example: "slot(stretcher, \"front\", #{ along: [40, 80], width: 8 });",
};

/// Diameter of the usual hole, mm.
const DIAMETER: f64 = 5.0;
/// Width of the usual slot, mm.
const WIDTH: f64 = 8.0;

impl Joinery for Hole {
    fn word(&self) -> &'static Word {
        &HOLE
    }

    fn ties(&self) -> &'static [Tie] {
        &[Tie::Either("at", "along"), Tie::Either("at", "across")]
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = part_face(bench, work)?;
        let radius = 0.5 * bench.length(work, "diameter", DIAMETER);
        let across = work.options.number("across").unwrap_or(0.5 * face.size.y);
        let middle = [0.5 * face.size.x];
        // One depth for all of them: they are bored with one setting.
        let depth = face.depth(bench, work)?;
        let mut cuts = Vec::new();
        let row = || {
            let along = work.options.lengths("along").unwrap_or(&middle);
            along.iter().map(|along| DVec2::new(*along, across)).collect()
        };
        let listed = |corners: &[Corner]| corners.iter().map(|corner| corner.at).collect();
        let places: Vec<DVec2> = work.options.points("at").map_or_else(row, listed);
        for at in places {
            face.check(bench, work, at, radius)?;
            cuts.push(sunk(&face, CutKind::Hole, Outline::circle(face.place(at.x, at.y), radius), depth));
        }
        Ok(shaped(face.part, cuts))
    }
}

impl Joinery for Slot {
    fn word(&self) -> &'static Word {
        &SLOT
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = part_face(bench, work)?;
        let radius = 0.5 * bench.length(work, "width", WIDTH);
        let across = work.options.number("across").unwrap_or(0.5 * face.size.y);
        let depth = face.depth(bench, work)?;
        let (from, to) = match work.options.lengths("along") {
            // Over its round ends, which is what the maker measures; the cutter itself
            // turns a radius short of them.
            Some([from, to]) if to - from >= 2.0 * radius => (from + radius, to - radius),
            _ => {
                let message = format!(
                    "a slot in `{}` needs `along` with a begin and an end at least its width of {} apart",
                    bench.name(face.part),
                    bench.mm(2.0 * radius)
                );
                return Err(bench
                    .error(work, "bad-slot", message, &[face.part])
                    .help("write `along: [40, 80]`"));
            }
        };
        for along in [from, to] {
            face.check(bench, work, DVec2::new(along, across), radius)?;
        }
        let outline = Outline::stadium(face.place(from, across), face.place(to, across), radius);
        Ok(shaped(face.part, vec![sunk(&face, CutKind::Slot, outline, depth)]))
    }
}

/// An outline sunk into a side.
fn sunk(face: &PartFace, kind: CutKind, outline: Outline, depth: f64) -> Sawn {
    Sawn { part: face.part, kind, shape: Prism { at: face.frame(), outline, from: 0.0, to: depth } }
}
