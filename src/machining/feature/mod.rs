//! What is to be read off a part: every cut as a pocket, hole, slope or shape.

pub(crate) mod faces;
pub(crate) mod flared;
pub(crate) mod form;
pub(crate) mod joined;
pub(crate) mod leaning;
pub(crate) mod outlines;
pub(crate) mod raked;
pub(crate) mod read;
pub(crate) mod sloped_bore;
pub(crate) mod slopes;
pub(crate) mod tenons;
pub(crate) mod through;
mod tilted;

pub(crate) use faces::{SAME, axis_side, face_on};
pub(crate) use flared::Flared;
pub(crate) use form::{Feature, Form};
pub(crate) use joined::{at_corner, shoulder_end};
pub(crate) use raked::Raked;
pub(crate) use read::read;
pub(crate) use sloped_bore::{SlopedBore, slope};
pub(crate) use slopes::{long_point, off_square, section_corner, short_end};
