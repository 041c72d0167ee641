//! Clips that hang a frame or mirror: one half on its back, one on the wall.

use super::hanging_cleat::{rod, wall_fixing};
use crate::geometry::{DVec3, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::face::{PartFace, square_face};
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::row::{self, COUNT, Named, Row};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::ON_SIDE;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::hanging::{Clips, Hanging};
use crate::joinery::facts::item::{Fastener, Support, sizes};
use crate::joinery::facts::traits::Traits;
use crate::model::{OptionKind, OptionSpec, Side, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `frame_clips`.
pub(in crate::joinery) struct FrameClips;

/// What `frame_clips` says of itself.
static WORD: Word = Word {
    name: "frame_clips",
    args: ON_SIDE,
    options: &[
        COUNT,
        OptionSpec {
            key: "spacing",
            kind: OptionKind::Length { min: 40.0, max: 1200.0 },
            default: &[Usual::Length(SPACING)],
            says: "greatest distance between clips",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 0.0, max: 2000.0 },
            default: &[Usual::Length(INSET), Usual::Words(", a quarter of a short part")],
            says: "from the ends of the part to the middle of the outer clips",
        },
        OptionSpec {
            key: "screw",
            kind: OptionKind::Pair,
            default: &[
                Usual::Length(SCREW),
                Usual::Words(", as long as leaves "),
                Usual::Length(WALL),
                Usual::Words(" of the part"),
            ],
            says: "screws of the clip's half on the part, such as \"3.5x16\"",
        },
        OptionSpec {
            key: "holes",
            kind: OptionKind::Length { min: 8.0, max: 100.0 },
            default: &[Usual::Length(HOLES)],
            says: "distance between the two screws of a clip",
        },
        OptionSpec {
            key: "fixing",
            kind: OptionKind::Text,
            default: &[
                Usual::Words("wall fixing ⌀ "),
                Usual::Bare(FIXING),
                Usual::Words(", rated for wall and load"),
            ],
            says: "what holds the other half to the wall, two to each clip, as it is bought",
        },
    ],
    says: "hangs a frame, or the board behind a mirror, by pairs of interlocking clips: one half screwed to this side \
           of the part, the other to the wall",
    rule: "two clips, a quarter of the width from the ends at most; two screws in each half; lifted 10 mm to hang, so \
           leave that much above (common practice, no source; the clip maker's load comes first)",
    example: "frame_clips(rail, \"back\", #{ count: 2, screw: \"3.5x16\" });",
};

/// Lengths of screws on sale, mm, longest first.
const LONG: &[f64] = &[30.0, 25.0, 20.0, 16.0, 13.0, SHORTEST];
/// The shortest of them, mm.
const SHORTEST: f64 = 10.0;
/// Diameter of the usual screws, mm.
const SCREW: f64 = 3.5;
/// Between the two screws of a clip, mm.
const HOLES: f64 = 30.0;
/// Greatest distance of clips, and from the ends of a frame to the outer ones, mm.
const SPACING: f64 = 600.0;
/// See `SPACING`.
const INSET: f64 = 80.0;
/// Diameter of the usual wall fixing, mm.
const FIXING: f64 = 5.0;

/// The clips as they are set out, mm.
struct Set {
    /// The part they hang, and out of its side at the wall.
    part: usize,
    out: DVec3,
    /// Level along that side: the clips stand side by side, so the row runs level.
    across: DVec3,
    /// The middles of the clips, on the side.
    at: Vec<DVec3>,
    /// Half of what the two screws of a clip stand apart.
    half: f64,
    /// Diameter and length of the screws.
    screw: (f64, f64),
    /// Diameter of their pilot holes.
    pilot: f64,
}

impl Joinery for FrameClips {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { hangs_on_wall: true, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = square_face(bench, work)?;
        let part = face.part;
        // A clip hooks downwards, which only an upright face lets it.
        if matches!(face.side, Side::Top | Side::Bottom) {
            let message = format!(
                "clips hang a part by a side that stands against a wall, not by its {}",
                face.side.name()
            );
            return Err(bench
                .error(work, "no-such-hanging", message, &[part])
                .help("name the side at the wall, such as \"back\""));
        }
        let clips = set_out(bench, work, &face)?;
        let (thick, length) = clips.screw;
        let mut made = Made { parts: vec![part], cuts: clips.bored(), ..Made::default() };
        near_an_edge(bench, work, part, &made.cuts)?;
        made.facts = Facts::Hanging(Hanging::Clips(Clips {
            count: clips.at.len(),
            pilot: Bore { wide: clips.pilot, deep: length },
            apart: 2.0 * clips.half,
        }));
        let at = clips.stand(&[0.0]);
        // Two fixings to each clip: its other half is screwed to the wall by two.
        let walls = [at.clone(), at.clone()].concat();
        made.inserts.push(Insert { item: Support::FrameClips.into(), at, body: None });
        made.inserts.push(Insert {
            item: Fastener::Screw(sizes([thick, length])).into(),
            at: clips.stand(&[-clips.half, clips.half]),
            body: Some(rod(thick, length)),
        });
        made.inserts.push(Insert { item: wall_fixing(work, Some(FIXING)), at: walls, body: None });
        Ok(vec![made])
    }
}

/// Where the clips of a side stand.
fn set_out(bench: &Bench<'_>, work: &Work, face: &PartFace) -> Result<Set, Problem> {
    let screw = screw(bench, work, face.part, face.thick)?;
    let out = face.side.normal();
    let across = out.cross(DVec3::Z);
    let (lo, hi) = face.whole.reach(across);
    let half = 0.5 * bench.length(work, "holes", HOLES);
    // The outer screw of a clip, not its middle, is what the end may split at.
    let near = half + 2.0 * screw.0;
    let row = Row { spacing: SPACING, inset: INSET.max(near), apart: 2.0 * near, edge: near };
    let places = row::places(bench, work, &row, hi - lo, &Named { one: "clip", many: "clips" })?;
    let centre = face.whole.centre();
    let middle = centre + out * (face.whole.reach(out).1 - out.dot(centre));
    let at = places.into_iter().map(|place| middle + across * place).collect();
    let pilot = bench.drills(face.part, screw.0).pilot;
    Ok(Set { part: face.part, out, across, at, half, screw, pilot })
}

impl Set {
    /// Places `ways` beside the middle of each clip.
    fn beside(&self, ways: &[f64]) -> impl Iterator<Item = DVec3> {
        self.at.iter().flat_map(move |at| ways.iter().map(move |way| *at + self.across * *way))
    }

    /// The same, as what stands there looks.
    fn stand(&self, ways: &[f64]) -> Vec<Placement> {
        self.beside(ways).filter_map(|at| Placement::looking(at, -self.out, self.across)).collect()
    }

    /// The pilot holes of the screws.
    fn bored(&self) -> Vec<Sawn> {
        let (_, length) = self.screw;
        let ways = [-self.half, self.half];
        let shapes = self.beside(&ways);
        let shapes = shapes.filter_map(|mouth| Prism::hole(mouth, -self.out, length, self.pilot));
        shapes.map(|shape| Sawn { part: self.part, kind: CutKind::FittingHole, shape }).collect()
    }
}

/// Refuses pilot holes too near to an edge.
fn near_an_edge(bench: &Bench<'_>, work: &Work, part: usize, cuts: &[Sawn]) -> Result<(), Problem> {
    let left = cuts.iter().map(|c| bench.wall_round(part, &c.shape)).fold(f64::INFINITY, f64::min);
    if left >= WALL - NOISE {
        return Ok(());
    }
    let message = format!(
        "the screws of the clips come within {} of an edge of `{}`; they need {}",
        bench.mm(left.max(0.0)),
        bench.name(part),
        bench.mm(WALL)
    );
    Err(bench.error(work, "too-near-the-edge", message, &[part]).help("use thinner screws, or a wider part"))
}

/// Diameter and length of the screws; a problem where they come out in front.
fn screw(bench: &Bench<'_>, work: &Work, part: usize, whole: f64) -> Result<(f64, f64), Problem> {
    let asked = work.options.pair("screw");
    let room = whole - WALL;
    let usual = LONG.iter().copied().find(|l| *l <= room + NOISE).unwrap_or(SHORTEST);
    let (thick, length) = asked.unwrap_or_else(|| bench.usual_screw((SCREW, usual)));
    if length < room + NOISE {
        return Ok((thick, length));
    }
    let message = format!(
        "a screw {} long leaves {} of `{}`, which is {} thick",
        bench.mm(length),
        bench.mm((whole - length).max(0.0)),
        bench.name(part),
        bench.mm(whole)
    );
    Err(bench
        .error(work, "breaks-through", message, &[part])
        .help(format!("use a screw {} long at most", bench.mm(room.max(0.0).floor()))))
}
