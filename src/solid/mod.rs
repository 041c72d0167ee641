//! A body minus prisms: faces, edges, volume, section, what hides what.
//!
//! Comes in: one [`Body`] and the [`Prism`]s cut from it, in part
//! coordinates. Goes out: a closed [`Solid`] whose faces know which surface
//! of which cut they are. Knows nothing of wood.

mod carve;
mod curves;
mod cut;
mod lines;
mod near;
mod mass;
mod model;
mod patch;
mod poly;
mod region;
mod scribe;
mod seen;
mod shape;
mod stitch;
mod tolerance;
mod touch;
mod turning;
mod view;
mod view_line;
mod wood;

pub use carve::{CarveProblem, carve};
pub use cut::{CutRegion, Section, cut_regions, section};
pub use model::{Edge, Face, Provenance, Round, Solid, Surface, Surplus, Touched};
pub use patch::{Patch, is_flat, patches, plane_of};
pub use seen::{Eye, FaceSeen, faces_seen, in_both, only_in_first};
pub use shape::{Body, Prism, Station, Transition, Turning};
pub use touch::{Contact, Shadow, Standing};
pub use view::{Camera, HiddenLines, Viewed, view};
pub use view_line::{LineKind, ViewLine};
pub use wood::{Missing, Wood};
