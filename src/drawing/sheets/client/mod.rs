//! The sheet for the client, which opens a set where it is asked for; its picture opens
//! quotations too.

mod figure;
mod page;
mod picture;
mod scene;
mod tones;

pub(in crate::drawing) use page::client_sheets;
pub(in crate::drawing) use picture::{draw as draw_picture, proportion as picture_proportion};
