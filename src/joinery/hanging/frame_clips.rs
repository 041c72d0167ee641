//! Clips that hang a frame or mirror: one half on its back, one on the wall.

use super::hanging_cleat::{rod, wall_fixing};
use crate::geometry::Placement;
use crate::joinery::bench::face::part_face;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::row::{self, COUNT, Named, Row};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::ON_SIDE;
use crate::joinery::bench::worked::{CutKind, Insert};
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::hanging::{Clips, Hanging};
use crate::joinery::facts::item::{Fastener, Support, sizes};
use crate::joinery::facts::traits::Traits;
use crate::joinery::inserts::screws::PILOT;
use crate::model::{OptionKind, OptionSpec, Side, Word, Work};
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
            default: "600 mm",
            says: "greatest distance between clips",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 0.0, max: 2000.0 },
            default: "80 mm, a quarter of a short part",
            says: "from the ends of the part to the middle of the outer clips",
        },
        OptionSpec {
            key: "screw",
            kind: OptionKind::Pair,
            default: "3.5 mm, as long as leaves 3 mm of the part",
            says: "screws of the clip's half on the part, such as \"3.5x16\"",
        },
        OptionSpec {
            key: "holes",
            kind: OptionKind::Length { min: 8.0, max: 100.0 },
            default: "30 mm",
            says: "distance between the two screws of a clip",
        },
        OptionSpec {
            key: "fixing",
            kind: OptionKind::Text,
            default: "wall fixing ⌀ 5, rated for wall and load",
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
const LONG: [f64; 6] = [30.0, 25.0, 20.0, 16.0, 13.0, 10.0];

impl Joinery for FrameClips {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { hangs_on_wall: true, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = part_face(bench, work)?;
        let part = face.part;
        if matches!(face.side, Side::Top | Side::Bottom) {
            let says = format!(
                "clips hang a part by a side that stands against a wall, not by its {}",
                face.side.name()
            );
            return Err(bench
                .error(work, "no-such-hanging", says, &[part])
                .help("name the side at the wall, such as \"back\""));
        }
        let (thick, length) = screw(bench, work, part, face.thick)?;
        // The clips stand side by side, so the row runs level.
        let across = face.side.normal().cross(crate::geometry::DVec3::Z);
        let (lo, hi) = face.whole.reach(across);
        let half = 0.5 * work.options.number("holes").unwrap_or(30.0);
        let near = half + 2.0 * thick;
        let row = Row { spacing: 600.0, inset: 80.0_f64.max(near), apart: 2.0 * near, edge: near };
        let places = row::places(bench, work, &row, hi - lo, &Named { one: "clip", many: "clips" })?;
        let out = face.side.normal();
        let centre = face.whole.centre();
        let middle = centre + out * (face.whole.reach(out).1 - out.dot(centre));
        let mut made = Made { parts: vec![part], ..Made::default() };
        let (mut screws, mut clips) = (Vec::new(), Vec::new());
        for place in places {
            let at = middle + across * place;
            clips.extend(Placement::looking(at, -out, across));
            for way in [-half, half] {
                let mouth = at + across * way;
                let shape = Prism::hole(mouth, -out, length, PILOT * thick);
                made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::FittingHole, shape }));
                screws.extend(Placement::looking(mouth, -out, across));
            }
        }
        let left = made.cuts.iter().map(|c| bench.wall_round(part, &c.shape)).fold(f64::INFINITY, f64::min);
        if left < WALL - 1e-6 {
            let says = format!(
                "the screws of the clips come within {} of an edge of `{}`; they need {}",
                bench.mm(left.max(0.0)),
                bench.name(part),
                bench.mm(WALL)
            );
            return Err(bench
                .error(work, "too-near-the-edge", says, &[part])
                .help("use thinner screws, or a wider part"));
        }
        made.facts = Facts::Hanging(Hanging::Clips(Clips {
            count: clips.len(),
            pilot: Bore { wide: PILOT * thick, deep: length },
            apart: 2.0 * half,
        }));
        let walls = [clips.clone(), clips.clone()].concat();
        made.inserts.push(Insert { item: Support::FrameClips.into(), at: clips, body: None });
        made.inserts.push(Insert {
            item: Fastener::Screw(sizes([thick, length])).into(),
            at: screws,
            body: Some(rod(thick, length)),
        });
        made.inserts.push(Insert { item: wall_fixing(work, Some(5.0)), at: walls, body: None });
        Ok(vec![made])
    }
}

/// Diameter and length of the screws; a problem where they come out in front.
fn screw(bench: &Bench<'_>, work: &Work, part: usize, whole: f64) -> Result<(f64, f64), Problem> {
    let asked = work.options.pair("screw");
    let room = whole - WALL;
    let usual = LONG.into_iter().find(|l| *l <= room + 1e-6).unwrap_or(10.0);
    let (thick, length) = asked.unwrap_or((3.5, usual));
    if length < room + 1e-6 {
        return Ok((thick, length));
    }
    let says = format!(
        "a screw {} long leaves {} of `{}`, which is {} thick",
        bench.mm(length),
        bench.mm((whole - length).max(0.0)),
        bench.name(part),
        bench.mm(whole)
    );
    Err(bench
        .error(work, "breaks-through", says, &[part])
        .help(format!("use a screw {} long at most", bench.mm(room.max(0.0).floor()))))
}
