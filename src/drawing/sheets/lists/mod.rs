//! Sheets of lists.

pub(in crate::drawing) mod buying;
pub(in crate::drawing) mod cutting_list;
