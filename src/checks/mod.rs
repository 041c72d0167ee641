//! What a careful eye would stop at before wood is cut. One file per check.
//!
//! Comes in: a [`Job`](crate::model::Job) and its [`WorkedJob`](crate::joinery::WorkedJob), worked without an error. Goes
//! out: problems that name the parts and give the figure. Knows nothing of
//! drawings and changes nothing.

mod clash;
mod collide;
mod hung;
mod in_wood;
mod inlaid;
mod look_over;
mod measuring;
mod opening;
mod runs_out;
mod site;
mod twice;
mod unjoined;

pub use look_over::check;
