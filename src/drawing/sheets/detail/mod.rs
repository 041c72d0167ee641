//! Joint details: each distinct joint of a piece once, cut through and large.
//!
//! Joints between the same parts at the same place (a mitre and its tenons) are
//! one joint to the maker. Joints with the same words, stock and sizes share a
//! detail, drawn at one of their places; that place carries a narrow circle
//! and the letter on the general arrangement or the section (German teaching
//! on ISO 128, as given in public course notes).

pub(in crate::drawing) mod broken;
pub(in crate::drawing) mod circle;
pub(in crate::drawing) mod draw;
mod found;
mod heads;
pub(in crate::drawing) mod place;
pub(in crate::drawing) mod sheet;
pub(in crate::drawing) mod sizes;

pub use found::joint_details;
pub(in crate::drawing) use found::{Detail, details};
pub(in crate::drawing) use sheet::sheets;
