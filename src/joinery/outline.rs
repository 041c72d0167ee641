//! Shaped outlines: all but the outline is cut away.

use super::CutKind;
use super::bench::{Bench, Joinery, Made, Sawn};
use super::face::{part_face, shaped};
use super::registry::ON_SIDE;
use crate::geometry::{DVec2, Outline, Ring};
use crate::model::{OptionKind, OptionSpec, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `outline`.
pub(super) struct Shape;

/// What `outline` says of itself.
static WORD: Word = Word {
    name: "outline",
    args: ON_SIDE,
    options: &[OptionSpec {
        key: "points",
        kind: OptionKind::Points,
        default: "",
        says: "corners [along, across] from the marked corner of the side, or [along, across, bulge] \
               where the edge that leaves the corner is an arc: tangent of a quarter of its angle",
    }],
    says: "cuts a part to an outline seen on one of its sides",
    rule: "",
    example: "outline(rail, \"front\", #{ points: [[0, 0], [600, 0], [600, 80, 0.1], [0, 80]] });",
};

/// How far outside the part the waste reaches, mm.
const BEYOND: f64 = 10.0;

impl Joinery for Shape {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = part_face(bench, work)?;
        let wrong = |code, says: String| bench.error(work, code, says, &[face.part]);
        let turn = if face.turned() { -1.0 } else { 1.0 };
        let mut corners = Vec::new();
        for [x, y, bulge] in work.options.points("points").unwrap_or_default() {
            corners.push([*x, turn * y, turn * bulge]);
        }
        let kept = Outline::bulged(&corners).filter(|o| o.rings.iter().all(simple)).ok_or_else(|| {
            let says =
                format!("the outline of `{}` crosses itself or encloses nothing", bench.name(face.part));
            wrong("bad-outline", says).help("list the corners in order round the part")
        })?;
        let Some((lo, hi)) = kept.bounds() else { return Ok(Vec::new()) };
        for corner in [lo, hi] {
            face.check(bench, work, DVec2::new(corner.x, turn * corner.y), 0.0)?;
        }
        let mut waste = kept;
        for ring in &mut waste.rings {
            ring.points.reverse();
            ring.edges.reverse();
            ring.edges.rotate_left(1);
        }
        let (a, b) = (face.place(0.0, 0.0), face.place(face.size.x, face.size.y));
        let (low, high) = (a.min(b) - BEYOND, a.max(b) + BEYOND);
        waste.rings.insert(0, Ring::straight(Outline::rect(low, high).rings.remove(0).points));
        let shape = Prism { at: face.frame(), outline: waste, from: -1.0, to: face.thick + 1.0 };
        Ok(shaped(face.part, vec![Sawn { part: face.part, kind: CutKind::Outline, shape }]))
    }
}

/// Whether no two edges of a ring cross.
fn simple(ring: &Ring) -> bool {
    let n = ring.points.len();
    let edge = |i: usize| (ring.points[i], ring.points[(i + 1) % n]);
    (0..n).all(|i| {
        let (a, b) = edge(i);
        (i + 1..n).all(|j| {
            let (c, d) = edge(j);
            let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
            !(side(a, b, c) * side(a, b, d) < -1e-9 && side(c, d, a) * side(c, d, b) < -1e-9)
        })
    })
}
