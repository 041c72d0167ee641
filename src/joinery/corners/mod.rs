//! Corners: mitres, fingers, dovetails.

pub(in crate::joinery) mod compound;
pub(in crate::joinery) mod dovetails;
pub(in crate::joinery) mod finger_joint;
pub(in crate::joinery) mod folded_mitre;
pub(in crate::joinery) mod mitre;
