//! Pieces as triangles, put together and taken apart.
//!
//! Parts of one shape share a mesh. Pieces of a job stand side by side, each before its own
//! place along the wall. Dowels, screws and what else is hidden in a joint is left out, as
//! are fittings, which are bought by their own drawings.

use std::sync::Arc;

use super::triangles::{Named, triangles};
use crate::assembly::Order;
use crate::drawing::taken_apart;
use crate::geometry::{DVec2, DVec3, Placement};
use crate::joinery::{WorkedJob, WorkedPart};
use crate::model::{Job, PieceId, StockKind};
use crate::solid::{Face, Solid};

/// A job as a three-dimensional picture.
#[derive(Clone, Debug, Default)]
pub struct Model {
    /// Whether it is taken apart.
    pub apart: bool,
    /// The shapes that its nodes show.
    pub meshes: Vec<Mesh>,
    /// What they are made of, one for each stock of the job.
    pub materials: Vec<Material>,
    /// Its pieces.
    pub pieces: Vec<(String, Vec<Node>)>,
}

/// A shape of triangles in the coordinates of its part, mm.
#[derive(Clone, Debug, Default)]
pub struct Mesh {
    /// Corners of its faces: each face has its own, since each looks its own way.
    pub points: Vec<DVec3>,
    /// For each the direction it looks, unit.
    pub normals: Vec<DVec3>,
    /// The corners of each triangle, counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
    /// Index of its material.
    pub material: usize,
}

/// What a stock looks like.
#[derive(Clone, Debug)]
pub struct Material {
    /// The name of the stock.
    pub name: String,
    /// How it looks.
    pub surface: Surface,
}

/// How a material looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// Solid wood.
    Wood,
    /// A sheet.
    Sheet,
    /// Glass, which is seen through.
    Glass,
    /// Anything bought.
    Bought,
}

/// A part where it stands.
#[derive(Clone, Debug)]
pub struct Node {
    /// Number, hand and name, as on the sheets.
    pub name: String,
    /// Index of its mesh.
    pub mesh: usize,
    /// Where it stands: x to the right, y back, z up, mm.
    pub at: Placement,
}

/// White between pieces that stand side by side, mm: an arm's width.
const BETWEEN: f64 = 300.0;

/// The job put together, and taken apart as its orders of assembly go.
pub fn models(job: &Job, worked: &WorkedJob, orders: &[Order]) -> Vec<Model> {
    let mut apart = vec![DVec3::ZERO; worked.parts.len()];
    for order in orders {
        for moved in taken_apart(worked, order).0 {
            if let Some(by) = apart.get_mut(moved.part) {
                *by = moved.by;
            }
        }
    }
    let together = vec![DVec3::ZERO; worked.parts.len()];
    vec![model(job, worked, &together, false), model(job, worked, &apart, true)]
}

fn model(job: &Job, worked: &WorkedJob, moved: &[DVec3], apart: bool) -> Model {
    let (meshes, of_part) = meshes(worked);
    let mut pieces = Vec::new();
    let mut right = None;
    for (index, piece) in job.pieces.iter().enumerate() {
        let parts = || {
            let all = worked.parts.iter().zip(moved).zip(&of_part);
            all.filter(|((part, _), _)| part.piece == PieceId(index))
        };
        let reach = parts().flat_map(|((part, by), _)| {
            part.solid.points.iter().map(move |point| part.at.point(*point).x + by.x)
        });
        let (low, high) = reach.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
        if low > high {
            continue;
        }
        // The first stands where its script has it.
        let shift = right.map_or(0.0, |right: f64| right + BETWEEN - low);
        right = Some(high + shift);
        let node = |((part, by), mesh): ((&WorkedPart, &DVec3), &usize)| Node {
            name: format!("{} {}", part.mark(), part.name),
            mesh: *mesh,
            at: part.at.moved(*by + DVec3::X * shift),
        };
        pieces.push((piece.name.clone(), parts().map(node).collect()));
    }
    Model { apart, meshes, materials: job.stock.iter().map(material).collect(), pieces }
}

fn material(stock: &crate::model::Stock) -> Material {
    let surface = match stock.kind {
        StockKind::Board { .. } | StockKind::Blank { .. } => Surface::Wood,
        StockKind::Sheet { .. } => Surface::Sheet,
        StockKind::Glass { .. } => Surface::Glass,
        StockKind::Bought => Surface::Bought,
    };
    Material { name: stock.name.clone(), surface }
}

/// The meshes of all parts, and which is that of each.
fn meshes(worked: &WorkedJob) -> (Vec<Mesh>, Vec<usize>) {
    let mut known: Vec<(&Arc<Solid>, usize)> = Vec::new();
    let mut of_part = Vec::with_capacity(worked.parts.len());
    for part in &worked.parts {
        let same =
            |(solid, stock): &(&Arc<Solid>, usize)| Arc::ptr_eq(solid, &part.solid) && *stock == part.stock.0;
        let at = known.iter().position(same).unwrap_or_else(|| {
            known.push((&part.solid, part.stock.0));
            known.len() - 1
        });
        of_part.push(at);
    }
    (known.into_iter().map(|(solid, material)| Mesh { material, ..mesh(solid) }).collect(), of_part)
}

/// The faces of a solid as triangles.
fn mesh(solid: &Solid) -> Mesh {
    let mut mesh = Mesh::default();
    for face in &solid.faces {
        let Some(frame) =
            Placement::looking(face.plane.normal * face.plane.offset, face.plane.normal, DVec3::X)
        else {
            continue;
        };
        let flat = |i: u32| -> Named {
            let at = solid.points.get(i as usize).map_or(DVec2::ZERO, |p| frame.local_point(*p).truncate());
            (at, i)
        };
        let rings: Vec<Vec<Named>> =
            face.loops.iter().map(|ring| ring.iter().map(|i| flat(*i)).collect()).collect();
        let mut own: Vec<(u32, u32)> = Vec::new();
        for triangle in triangles(&rings) {
            let corners = triangle.map(|i| corner(&mut mesh, &mut own, solid, face, i));
            mesh.triangles.push(corners);
        }
    }
    mesh
}

/// The corner of a mesh that stands for point `i` of a face. `own` keeps what the face has
/// so far.
fn corner(mesh: &mut Mesh, own: &mut Vec<(u32, u32)>, solid: &Solid, face: &Face, i: u32) -> u32 {
    if let Some((_, known)) = own.iter().find(|(point, _)| *point == i) {
        return *known;
    }
    let point = solid.points.get(i as usize).copied().unwrap_or_default();
    // Meshes never come near four thousand million corners.
    let new = u32::try_from(mesh.points.len()).unwrap_or(u32::MAX);
    mesh.points.push(point);
    mesh.normals.push(looks(solid, face, point));
    own.push((i, new));
    new
}

/// The way a face looks at one of its points: that of the true round it is a facet of.
fn looks(solid: &Solid, face: &Face, point: DVec3) -> DVec3 {
    let out = face.plane.normal;
    let Some(round) = solid.rounds.iter().find(|round| round.from == face.from) else { return out };
    let from = point - round.origin;
    let away = from - round.axis * round.axis.dot(from);
    let away = away.try_normalize().unwrap_or(out);
    if away.dot(out) < 0.0 { -away } else { away }
}
