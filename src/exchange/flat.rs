//! Flat parts as a machine that works from above sees them.
//!
//! The outline of a part is what its upright cuts leave of the blank: those whose sides all
//! stand square to the face and which go right through. All other upright cuts are pockets
//! and holes of the face they are sunk from. What leans, or is worked from an edge or end,
//! cannot be told in a flat drawing and is named instead.

use super::paths::{Circle, Cornered, Path, path};
use crate::drawing::finished_part;
use crate::geometry::{DVec2, DVec3, Outline};
use crate::joinery::{Cut, CutKind, PartSource, WorkedPart};
use crate::machining::Machined;
use crate::machining::feature::SAME;
use crate::machining::feature::outlines::{axis_of, bounds, cuts_blank, flats, is_rectangle};
use crate::model::{Face, StockKind};
use crate::solid::{Body, Prism, Solid, Surface, carve};
use crate::wording::Words;

pub use crate::machining::setting::Depth;

/// A side stands square to a face where its normal has less of that direction than this.
const UPRIGHT: f64 = 1e-5;

/// A flat part seen on one of its broad faces.
#[derive(Clone, Debug)]
pub struct FlatPart {
    /// Its number with its hand, as printed.
    pub mark: String,
    /// Its name.
    pub name: String,
    /// The face looked at: the marked one or its back.
    pub face: Face,
    /// What is to be cut, x along the part and y up, from the lower left corner of its
    /// blank, mm.
    pub shapes: Vec<FlatShape>,
    /// What is to be written beside it: what it is of, and what is cut that a flat drawing
    /// cannot show.
    pub notes: Vec<String>,
}

/// One thing to cut.
#[derive(Clone, Debug)]
pub struct FlatShape {
    /// What it is.
    pub does: Does,
    /// How deep.
    pub depth: Depth,
    /// Its path.
    pub path: Path,
}

/// What a path is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Does {
    /// The outline of the part.
    Outline,
    /// An opening in it.
    Opening,
    /// A pocket, groove or step: all within the path is taken out.
    Pocket,
    /// A round hole.
    Hole,
}

/// Cuts that a flat drawing does not show: what they are, whether they wait for a glue-up,
/// and how many.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct LeftOut {
    kind: CutKind,
    later: bool,
    count: usize,
}

/// The flat parts of a job, one of each number and hand in the order of their numbers: the
/// marked face, and the back where something is sunk into that.
pub fn flat_parts(machined: &Machined<'_>, words: Words) -> Vec<FlatPart> {
    let worked = machined.worked;
    let mut chosen: Vec<usize> = Vec::new();
    for (index, part) in worked.parts.iter().enumerate() {
        let known = chosen.iter().any(|at| worked.parts[*at].mark() == part.mark());
        if !known && is_flat(machined, part) {
            chosen.push(index);
        }
    }
    chosen.sort_by_key(|at| (worked.parts[*at].number, worked.parts[*at].hand));
    chosen.into_iter().flat_map(|at| of_part(machined, at, words)).collect()
}

/// Whether a part is flat and cut in a shop: strips that are glued on are trimmed with
/// what they are glued to.
fn is_flat(machined: &Machined<'_>, part: &WorkedPart) -> bool {
    let bought = machined.job.stock.get(part.stock.0).is_none_or(|s| matches!(s.kind, StockKind::Bought));
    matches!(part.body, Body::Prism(_)) && matches!(part.source, PartSource::Part(_)) && !bought
}

/// The drawings of one part.
fn of_part(machined: &Machined<'_>, index: usize, words: Words) -> Vec<FlatPart> {
    let part = finished_part(machined, index);
    let loose: Vec<&Cut> = part.cuts.iter().filter(|cut| !cut.stage.waits()).collect();
    let through: Vec<Prism> =
        loose.iter().filter(|cut| goes_through(cut, part.size)).map(|cut| cut.shape.clone()).collect();
    let Ok(solid) = carve(&part.body, &through) else { return Vec::new() };
    let mut sunk: [Vec<FlatShape>; 2] = [Vec::new(), Vec::new()];
    let mut left: Vec<LeftOut> = Vec::new();
    for cut in &part.cuts {
        if (goes_through(cut, part.size) && !cut.stage.waits()) || misses(cut, part.size) {
            continue;
        }
        match pocket(cut, part.size).filter(|_| !cut.stage.waits()) {
            Some((face, shape)) => sunk[usize::from(face == Face::Back)].push(shape),
            None => leave_out(&mut left, cut),
        }
    }
    left.sort_unstable();
    let outlines = outline(&solid);
    let drawn = |(face, sunk): (Face, Vec<FlatShape>)| {
        let shapes = outlines.iter().cloned().chain(sunk).map(|shape| seen(shape, face, part.size));
        let mut shapes: Vec<FlatShape> = shapes.collect();
        shapes.sort_by_key(|shape| shape.does);
        FlatPart {
            mark: part.mark(),
            name: part.name.clone(),
            face,
            shapes,
            notes: notes(machined, &part, face, &left, words),
        }
    };
    let [marked, back] = sunk;
    let backs = Some((Face::Back, back)).filter(|(_, sunk)| !sunk.is_empty());
    [Some((Face::Marked, marked)), backs].into_iter().flatten().map(drawn).collect()
}

/// What is written beside a part.
fn notes(
    machined: &Machined<'_>,
    part: &WorkedPart,
    face: Face,
    left: &[LeftOut],
    words: Words,
) -> Vec<String> {
    let stock = machined.job.stock.get(part.stock.0).map_or("", |stock| stock.name.as_str());
    let head = [
        format!("{} {}", part.mark(), part.name),
        words.flat_stock(count(machined, part), stock, part.size.z),
        words.flat_face(face),
    ];
    head.into_iter().chain(left.iter().map(|one| words.not_flat(one.kind, one.count, one.later))).collect()
}

/// How many of a mark all pieces need.
fn count(machined: &Machined<'_>, part: &WorkedPart) -> u32 {
    let alike = machined.worked.parts.iter().filter(|other| other.mark() == part.mark());
    alike.map(|other| machined.job.pieces.get(other.piece.0).map_or(1, |piece| piece.count.max(1))).sum()
}

/// Counts a cut among those left out.
fn leave_out(left: &mut Vec<LeftOut>, cut: &Cut) {
    let later = cut.stage.waits();
    match left.iter_mut().find(|known| known.kind == cut.kind && known.later == later) {
        Some(known) => known.count += 1,
        None => left.push(LeftOut { kind: cut.kind, later, count: 1 }),
    }
}

/// The normals of the sides of a cutter that meet the blank.
fn sides(cut: &Cut, size: DVec3) -> impl Iterator<Item = DVec3> {
    let meets = move |(point, normal): &(DVec3, DVec3)| cuts_blank(*point, *normal, size);
    flats(&cut.shape).into_iter().filter(meets).map(|(_, normal)| normal)
}

/// Whether a cut is upright and goes right through.
fn goes_through(cut: &Cut, size: DVec3) -> bool {
    sides(cut, size).all(|normal| normal.z.abs() < UPRIGHT)
}

/// Whether a cutter lies outside the blank altogether.
fn misses(cut: &Cut, size: DVec3) -> bool {
    let (low, high) = bounds(&cut.shape);
    (0..3).any(|axis| high[axis] < SAME || low[axis] > size[axis] - SAME)
}

/// An upright cut that does not go through, and the face it is sunk from.
fn pocket(cut: &Cut, size: DVec3) -> Option<(Face, FlatShape)> {
    let lies = |normal: DVec3| normal.z.abs() < UPRIGHT || normal.truncate().length() < UPRIGHT;
    if !sides(cut, size).all(lies) {
        return None;
    }
    let (low, high) = bounds(&cut.shape);
    let (face, depth) = match (low.z < SAME, high.z > size.z - SAME) {
        (true, false) => (Face::Marked, high.z),
        (false, true) => (Face::Back, size.z - low.z),
        _ => return None,
    };
    let path = path(&plan(&cut.shape, size)?);
    let does = if matches!(path, Path::Circle { .. }) { Does::Hole } else { Does::Pocket };
    Some((face, FlatShape { does, depth: Depth::To(depth), path }))
}

/// What a cutter takes, seen along the thickness: its own outline where it stands upright,
/// else the box of one that is square to all axes. Boxes end with the blank.
fn plan(shape: &Prism, size: DVec3) -> Option<Vec<Cornered>> {
    if is_rectangle(&shape.outline) && [shape.at.x, shape.at.z].iter().all(|way| axis_of(*way).is_some()) {
        let (low, high) = bounds(shape);
        let box_of = Outline::rect(low.truncate().max(DVec2::ZERO), high.truncate().min(size.truncate()));
        return box_of.rings.first().map(|ring| ring.points.iter().map(|point| (*point, None)).collect());
    }
    let [ring] = shape.outline.rings.as_slice() else { return None };
    if axis_of(shape.at.z) != Some(2) {
        return None;
    }
    let flat = |p: DVec2| shape.at.point(p.extend(0.0)).truncate();
    let circle = |id: &Option<u16>| {
        let arc = shape.outline.arcs.get(usize::from((*id)?))?;
        Some(Circle { centre: flat(arc.centre), radius: arc.radius })
    };
    Some(ring.points.iter().zip(&ring.edges).map(|(p, edge)| (flat(*p), circle(edge))).collect())
}

/// The outline of a part and its openings: the rings of its marked face.
fn outline(solid: &Solid) -> Vec<FlatShape> {
    let lies =
        |face: &&crate::solid::Face| face.plane.normal.z < UPRIGHT - 1.0 && face.plane.offset.abs() < SAME;
    let rings = solid.faces.iter().filter(lies).flat_map(|face| &face.loops);
    let shapes = rings.map(|ring| {
        let corners: Vec<Cornered> = (0..ring.len())
            .map(|i| {
                (solid.points[ring[i] as usize].truncate(), facet(solid, ring[i], ring[(i + 1) % ring.len()]))
            })
            .collect();
        // Seen from behind, what runs counter-clockwise on the face runs clockwise.
        let area: f64 =
            (0..corners.len()).map(|i| corners[i].0.perp_dot(corners[(i + 1) % corners.len()].0)).sum();
        let path = path(&corners);
        let round_hole = matches!(path, Path::Circle { .. }) && area > 0.0;
        let does = match (area > 0.0, round_hole) {
            (_, true) => Does::Hole,
            (true, false) => Does::Opening,
            (false, false) => Does::Outline,
        };
        FlatShape { does, depth: Depth::Through, path }
    });
    shapes.collect()
}

/// The circle that the edge between two corners is a facet of.
fn facet(solid: &Solid, a: u32, b: u32) -> Option<Circle> {
    let edge = solid.edges.iter().find(|e| (e.a, e.b) == (a, b) || (e.a, e.b) == (b, a))?;
    let round = edge.faces.iter().find_map(|face| {
        let from = solid.faces.get(*face as usize)?.from;
        matches!(from.surface, Surface::Round { .. }).then_some(())?;
        solid.rounds.iter().find(|round| round.from == from && axis_of(round.axis) == Some(2))
    })?;
    Some(Circle { centre: round.origin.truncate(), radius: round.radius })
}

/// A shape as it is seen on a face: the marked one with the edge mark above, the back
/// turned over about the length.
fn seen(shape: FlatShape, face: Face, size: DVec3) -> FlatShape {
    if face == Face::Back {
        return shape;
    }
    let turned = |p: DVec2| DVec2::new(p.x, size.y - p.y);
    let path = match shape.path {
        Path::Circle { centre, radius } => Path::Circle { centre: turned(centre), radius },
        Path::Ring(ring) => Path::Ring(
            ring.into_iter().map(|v| super::Vertex { at: turned(v.at), bulge: -v.bulge }).collect(),
        ),
    };
    FlatShape { path, ..shape }
}
