//! What one eye sees: perspective, and the visible regions of faces.

mod eye;
mod faces;

pub use eye::Eye;
pub use faces::{FaceSeen, faces_seen, in_both, only_in_first};
