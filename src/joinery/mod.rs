//! One file per joint family: where parts meet, cuts on both, inserts, ways in.
//!
//! Comes in: a [`Job`](crate::model::Job). Goes out: a [`WorkedJob`] whose parts
//! are stock minus cuts. Knows nothing of rhai and nothing of drawings.

mod bench;
mod bring;
mod channels;
mod corners;
mod doors;
mod edge;
pub mod facts;
mod hanging;
mod inserts;
mod meeting;
mod registry;
mod shaped;
mod shaping;
mod tenons;
mod tied;
mod turning;
mod work;

pub use bench::blank::corners;
pub use bench::cut_kind::{CutKind, Machine};
pub use bench::fill::{Fill, FillShape};
pub use bench::number::{lies_as_drawn, same_shape};
pub use bench::opening::Opening;
pub use bench::seen::wood;
pub(crate) use bench::tolerance::HOLDS;
pub use bench::worked::{
    Cut, CuttingPlane, Hand, Insert, PartSource, Stage, WorkedJob, WorkedJoint, WorkedPart,
};
pub use corners::folded_mitre::{Wrap, wraps};
pub use doors::weighed::{density_of, hinges_for};
pub use edge::laminate::{Layers, laminated};
pub use facts::Facts;
pub use facts::item::Item;
pub use facts::traits::{TakesUp, Traits};
pub use hanging::burden::{Bearing, Burden, bearing, burden};
pub use hanging::on_site::{TooWide, is_set_on_site, too_wide_to_set};
pub(crate) use hanging::on_wall::bored_through;
pub use hanging::on_wall::{Fixing, OnWall, fixings, hangs_unplaced, lift, on_wall};
pub use registry::{words, words_that};
pub use work::work;
