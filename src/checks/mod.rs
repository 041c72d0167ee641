//! What a careful eye would stop at before wood is cut. One file per check.
//!
//! Comes in: a [`Job`](crate::model::Job) and its [`WorkedJob`](crate::joinery::WorkedJob), worked without an error. Goes
//! out: problems that name the parts and give the figure. Knows nothing of
//! drawings and changes nothing.

mod apart;
mod bears;
mod clash;
mod collide;
mod cross_grain;
pub mod figures;
mod fittings;
mod hung;
mod in_wood;
mod inlaid;
mod look_over;
mod measuring;
mod opening;
mod parting;
mod room;
mod runs_out;
mod shelves;
mod shuts;
mod swings;
mod tips;
mod twice;
mod unjoined;

pub use look_over::{check, collisions};
pub use shelves::sags::shelf_load;
