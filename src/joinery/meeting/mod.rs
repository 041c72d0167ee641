//! Where parts meet as they are: on faces that are shaped, sawn or lean.

pub(in crate::joinery) mod met;
pub(in crate::joinery) mod real;
pub(in crate::joinery) mod room;
pub(in crate::joinery) mod sawing;
pub(in crate::joinery) mod trim;
