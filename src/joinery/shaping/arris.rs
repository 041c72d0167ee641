//! Arrises broken: chamfers and round-overs.

use super::bevel::arris;
use crate::geometry::{DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::face::{PartFace, part_face, shaped};
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{TOUCH, side_of};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::ON_SIDE;
use crate::model::{OptionKind, OptionSpec, REQUIRED, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `chamfer`.
pub(in crate::joinery) struct Chamfer;
/// The word `round_over`.
pub(in crate::joinery) struct RoundOver;

/// The option `edges`.
pub(in crate::joinery) const EDGES: OptionSpec = OptionSpec {
    key: "edges",
    kind: OptionKind::Sides,
    default: &[Usual::Words("all four round the side")],
    says: "which arrises of the side: towards these sides",
};

/// What `chamfer` says of itself.
static CHAMFER: Word = Word {
    name: "chamfer",
    args: ON_SIDE,
    options: &[
        OptionSpec {
            key: "width",
            kind: OptionKind::Length { min: 0.2, max: 200.0 },
            default: REQUIRED,
            says: "how much goes from either face",
        },
        EDGES,
    ],
    says: "bevels the arrises of a side at 45°",
    rule: "",
    example: "chamfer(top, \"top\", #{ width: 3, edges: \"front\" });",
};

/// What `round_over` says of itself.
static ROUND_OVER: Word = Word {
    name: "round_over",
    args: ON_SIDE,
    options: &[
        OptionSpec {
            key: "radius",
            kind: OptionKind::Length { min: 0.2, max: 200.0 },
            default: REQUIRED,
            says: "radius of the quarter round",
        },
        EDGES,
    ],
    says: "rounds the arrises of a side",
    rule: "",
    example: "round_over(top, \"top\", #{ radius: 6, edges: [\"front\", \"left\"] });",
};

/// Radius of the usual rounded arris, mm.
const RADIUS: f64 = 3.0;

impl Joinery for Chamfer {
    fn word(&self) -> &'static Word {
        &CHAMFER
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = part_face(bench, work)?;
        let wide = bench.length(work, "width", 2.0);
        let out = face.out;
        // One plane for each arris, so that each is a cut with a fence of its own.
        let cut = |way| face.beyond(CutKind::Chamfer, arris(&face.whole, out, way) - way * wide, out + way);
        let cuts = face.on_arrises(bench, work, &ways(bench, work, &face, wide)?, cut)?;
        Ok(shaped(face.part, cuts))
    }
}

impl Joinery for RoundOver {
    fn word(&self) -> &'static Word {
        &ROUND_OVER
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = part_face(bench, work)?;
        let radius = bench.length(work, "radius", RADIUS);
        let ways = ways(bench, work, &face, radius)?;
        let cuts = face.on_arrises(bench, work, &ways, |way| rounded(&face, way, radius))?;
        Ok(shaped(face.part, cuts))
    }
}

/// What lies outside a quarter round along one arris.
fn rounded(face: &PartFace, way: DVec3, radius: f64) -> Option<Sawn> {
    let out = face.out;
    // x runs in from the arris on the side, y down from it on its neighbour.
    let at = Placement::from_axes(arris(&face.whole, out, way), -way, -out)?;
    let outline = Outline::outside_round(radius)?;
    let (lo, hi) = face.whole.reach(at.z);
    let middle = at.z.dot(at.origin);
    let shape = Prism { at, outline, from: lo - middle - 1.0, to: hi - middle + 1.0 };
    Some(Sawn { part: face.part, kind: CutKind::RoundOver, shape })
}

/// The arrises asked for, as ways from the side to its neighbours; an error
/// where they are too wide for the part.
fn ways(bench: &Bench<'_>, work: &Work, face: &PartFace, wide: f64) -> Result<Vec<DVec3>, Problem> {
    let ways = face.arrises(bench, work)?;
    for way in &ways {
        // It is as deep as it is wide.
        let room = face.room_from(*way, &ways).min(face.thick);
        if wide > room - TOUCH {
            let message = format!(
                "{} is too wide for the arris to the {} of `{}`, which has {}",
                bench.mm(wide),
                side_of(*way).name(),
                bench.name(face.part),
                bench.mm(room)
            );
            return Err(bench.error(work, "nothing-left", message, &[face.part]).help("make it less"));
        }
    }
    Ok(ways)
}
