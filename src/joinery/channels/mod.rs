//! Boards and panels let into a channel along or across a member.

pub(in crate::joinery) mod beads;
pub(in crate::joinery) mod crossing;
pub(in crate::joinery) mod groove;
pub(in crate::joinery) mod halving;
pub(in crate::joinery) mod housing;
pub(in crate::joinery) mod leaning;
pub(in crate::joinery) mod movement;
pub(in crate::joinery) mod rebate;
