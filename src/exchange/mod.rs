//! The shapes that other programs are handed: flat parts as seen on a face with what is
//! sunk into it, and pieces as triangles.
//!
//! Comes in: machined parts and orders of assembly. Goes out: plain outlines and meshes in
//! mm, which know nothing of file formats.

mod flat;
mod model;
mod paths;
mod triangles;

pub use flat::{Depth, Does, FlatPart, FlatShape, flat_parts};
pub use model::{Material, Mesh, Model, Node, Surface, models};
pub use paths::{Path, Vertex};

/// All that is handed to other programs; nothing of what nobody asked for.
#[derive(Clone, Debug, Default)]
pub struct Exchange {
    /// Flat parts, in the order of their numbers.
    pub flats: Vec<FlatPart>,
    /// The job put together, then taken apart.
    pub models: Vec<Model>,
}
