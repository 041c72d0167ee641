//! Work of the lathe: spigots, inlaid rings, hollows.

pub(in crate::joinery) mod inlay;
pub(in crate::joinery) mod spigot;
