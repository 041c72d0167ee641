//! The notes on a part's cuts: which are said in one breath, and in what words.

pub(in crate::drawing) mod arrises;
pub(in crate::drawing) mod corner;
pub(in crate::drawing) mod group;
pub(in crate::drawing) mod leaning;
pub(in crate::drawing) mod phrases;
pub(in crate::drawing) mod printed;
pub(in crate::drawing) mod wording;
