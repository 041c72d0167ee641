//! What opens: hinges, runners, handles, stops, catches.

pub(in crate::joinery) mod butt_hinges;
pub(in crate::joinery) mod catch_plate;
pub(in crate::joinery) mod cup_hinges;
pub(in crate::joinery) mod handles;
pub(in crate::joinery) mod runners;
pub(in crate::joinery) mod shut;
pub(in crate::joinery) mod slides;
pub(in crate::joinery) mod stop;
pub(in crate::joinery) mod weighed;
