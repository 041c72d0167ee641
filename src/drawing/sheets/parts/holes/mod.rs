//! Holes by number: where a part has many that no even row places, their figures leave
//! the views for a table.

pub(super) mod due;
pub(super) mod numbers;
pub(super) mod table;
