//! Points, planes, placements and flat outlines.
//!
//! Comes in: nothing. Goes out: the plain shapes of every later stage.
//! Knows nothing of wood. Lengths are millimetres, angles radians unless their
//! name has degrees in it. Space is right-handed.

mod boxes;
mod extent;
mod interval;
mod outline;
mod placement;
mod plane;
pub mod tolerance;
pub mod trig;

pub use boxes::{Bounds, Boxes};
pub use extent::{extent_within, ring_within};
pub use glam::{DVec2, DVec3};
pub use interval::Interval;
pub use outline::{Arc, ArcId, Corner, Edge, Outline, Ring, rise_through};
pub use placement::Placement;
pub use plane::Plane;
