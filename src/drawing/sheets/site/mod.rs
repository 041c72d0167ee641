//! The room: the wall with the pieces on it, what is done there in which order, and a blank
//! sheet to measure it by.

mod order;
mod survey;
mod tables;
mod wall;

pub(in crate::drawing) use survey::survey_sheet;
pub(in crate::drawing) use wall::site_sheet;
