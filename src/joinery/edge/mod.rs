//! Joints along an edge, and strips glued to it.

pub(in crate::joinery) mod butt;
pub(in crate::joinery) mod laminate;
pub(in crate::joinery) mod lipping;
pub(in crate::joinery) mod loose_tongue;
pub(in crate::joinery) mod mitred_tongue;
pub(in crate::joinery) mod sloping_lipping;
pub(in crate::joinery) mod stops;
pub(in crate::joinery) mod tongue;
