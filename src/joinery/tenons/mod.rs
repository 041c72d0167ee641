//! Tenons cut on the part itself, and bridles.

pub(in crate::joinery) mod bridle;
pub(in crate::joinery) mod chisels;
pub(in crate::joinery) mod lean;
pub(in crate::joinery) mod leaning_tenon;
pub(in crate::joinery) mod mortise_tenon;
pub(in crate::joinery) mod tenon_pegs;
pub(in crate::joinery) mod tenon_size;
pub(in crate::joinery) mod tenon_wedges;
