//! Where parts meet as they are: on faces that are shaped, sawn or lean.
//!
//! Parts whose axes agree and that nothing shapes are joined by their boxes, which is fast
//! and exact. All others (`are_plain` in `met.rs`) are seen as they are: box less outlines,
//! slopes and ends sawn so far. In the order of the script each word that `trims` saws an
//! end to the face it runs into, and the words after it find the sawn face; when the joints
//! are cut, two parts meet where flat faces of both lie on one another.

pub(in crate::joinery) mod askew;
pub(in crate::joinery) mod met;
pub(in crate::joinery) mod real;
pub(in crate::joinery) mod room;
pub(in crate::joinery) mod sawing;
pub(in crate::joinery) mod trim;
