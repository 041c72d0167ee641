//! Clamping connectors in a mitre: a pocket on each side, a hole to reach them.

use crate::geometry::DVec3;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Made, Sawn};
use crate::joinery::bench::meet::Pair;
use crate::joinery::bench::mitre_plane::MitrePlane;
use crate::joinery::bench::pocket::{Oblong, WALL, pocket};
use crate::joinery::bench::row::{Ends, SetOut};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{ASKEW, STEPPED};
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::corners::Connectors;
use crate::joinery::facts::item::Fastener;
use crate::model::Work;
use crate::problem::{Problem, wording};
use crate::solid::Prism;

/// Pocket of one half of a connector: length along the corner, width, depth, mm.
const POCKET: Oblong = Oblong { length: 50.0, width: 7.0, depth: 9.0 };
/// Diameter of the hole the key goes through, mm.
const KEY: f64 = 6.0;
/// How finely a place for the pocket is looked for, mm.
const STEP: f64 = 0.25;

/// Connectors asked for in the mitre of two parts.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Wanted {
    /// The parts.
    pub(in crate::joinery) pair: Pair,
    /// How many.
    pub(in crate::joinery) count: u32,
}

/// Lets connectors into a mitre, one in the middle of each of as many equal lengths of it. Gives what they are.
pub(in crate::joinery) fn let_in(
    bench: &Bench<'_>,
    work: &Work,
    plane: &MitrePlane,
    wanted: Wanted,
    made: &mut Made,
) -> Result<Connectors, Problem> {
    let Wanted { pair: Pair { a, b }, count: n } = wanted;
    // Each in a field of its own, so that the pull is even along the mitre.
    let field = plane.length / f64::from(n);
    if field < POCKET.length + 2.0 * WALL {
        return Err(too_many(bench, work, plane, (a, b), n));
    }
    let across = (plane.outer - plane.inner).normalize_or_zero();
    let from_inner = place(bench, work, plane, (a, b))?;
    let centre = plane.inner + across * from_inner;
    let mut at = Vec::new();
    let row = SetOut { length: plane.length, count: n, ends: Ends::Shares, apart: POCKET.length + WALL };
    for shift in row.places(bench) {
        let mouth = centre + plane.line * shift;
        for (part, into) in [(a, -plane.normal), (b, plane.normal)] {
            let Some(shape) = pocket(mouth, plane.line, into, POCKET) else { continue };
            if part == a {
                at.push(shape.at);
            }
            made.cuts.push(Sawn { part, kind: CutKind::ConnectorPocket, shape });
        }
        let middle = mouth - plane.normal * (0.5 * POCKET.depth);
        if let Some(shape) = key_hole(bench, a, plane, middle) {
            made.cuts.push(Sawn { part: a, kind: CutKind::AccessHole, shape });
        }
    }
    made.inserts.push(Insert { item: Fastener::ClampingConnector.into(), at, body: body() });
    // The two halves lie flush in their pockets until the key draws them
    // together, so they leave the ways in to the mitre itself.
    Ok(Connectors {
        count: n as usize,
        pocket: [POCKET.length, POCKET.width, POCKET.depth],
        from_inner,
        key: KEY,
    })
}

/// A connector for pictures: it fills both its pockets.
fn body() -> Option<Prism> {
    let pocket = pocket(DVec3::ZERO, DVec3::X, DVec3::Z, POCKET)?;
    Some(Prism { from: -POCKET.depth, ..pocket })
}

/// More connectors than the mitre has length for.
fn too_many(bench: &Bench<'_>, work: &Work, plane: &MitrePlane, parts: (usize, usize), n: u32) -> Problem {
    let message = format!(
        "{} need {} of mitre, but there are {}",
        wording::count(n as usize, "connector", "connectors"),
        bench.mm(f64::from(n) * (POCKET.length + 2.0 * WALL)),
        bench.mm(plane.length)
    );
    bench.error(work, "does-not-fit", message, &[parts.0, parts.1]).help("ask for fewer connectors")
}

/// How far from the inner corner the pockets stand: as near to the middle of
/// the mitre as leaves a wall everywhere.
fn place(bench: &Bench<'_>, work: &Work, plane: &MitrePlane, (a, b): (usize, usize)) -> Result<f64, Problem> {
    let wide = plane.outer.distance(plane.inner);
    let across = (plane.outer - plane.inner).normalize_or_zero();
    let least = 0.5 * POCKET.width + WALL;
    let mut best = f64::NEG_INFINITY;
    let mut from = 0.5 * wide;
    // From the middle inwards: towards the outer corner both parts run out to a point.
    while from >= least {
        let mouth = plane.inner + across * from;
        let walls = [(a, -plane.normal), (b, plane.normal)].map(|(part, into)| {
            pocket(mouth, plane.line, into, POCKET).map_or(0.0, |p| deep_wall(bench, part, &p))
        });
        let wall = walls[0].min(walls[1]);
        if wall >= WALL - STEPPED {
            return Ok(from);
        }
        // Kept for the message: how near it came says whether another wood thickness
        // would do.
        best = best.max(wall);
        from -= STEP;
    }
    let message = if best.is_finite() {
        format!(
            "the pocket of a clamping connector leaves {} of wood at best between `{}` and `{}`; it needs {}",
            bench.beside(best.max(0.0), WALL),
            bench.name(a),
            bench.name(b),
            bench.beside(WALL, best.max(0.0))
        )
    } else {
        format!(
            "the mitre of `{}` and `{}` is {} wide; a clamping connector needs {}",
            bench.name(a),
            bench.name(b),
            bench.beside(wide, 2.0 * least),
            bench.beside(2.0 * least, wide)
        )
    };
    Err(bench
        .error(work, "breaks-through", message, &[a, b])
        .help("use thicker parts, or leave the connectors out"))
}

/// Wood left at the bottom of a pocket, mm.
fn deep_wall(bench: &Bench<'_>, part: usize, pocket: &Prism) -> f64 {
    bench.wall_round(part, pocket)
}

/// The hole the key goes through, from the inside face down to `middle`: it runs
/// beside the mitre towards its inner corner, since a hole square to the face would
/// come out in the mitre and be closed by the other part.
fn key_hole(bench: &Bench<'_>, part: usize, plane: &MitrePlane, middle: DVec3) -> Option<Prism> {
    let out = (plane.inner - plane.outer).try_normalize()?;
    let rise = out.dot(plane.inside_a);
    if rise < ASKEW {
        return None;
    }
    let face = bench.grown[part].reach(plane.inside_a).1;
    let deep = (face - plane.inside_a.dot(middle)) / rise;
    // Begun outside, so that the whole of its slanting mouth is open.
    let outside = 0.5 * KEY * (1.0 - rise * rise).max(0.0).sqrt() / rise;
    Prism::hole(middle + out * (deep + outside), -out, deep + outside, KEY)
}
