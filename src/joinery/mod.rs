//! One file per joint family: where parts meet, cuts on both, inserts, ways in.
//!
//! Comes in: a [`Job`](crate::model::Job). Goes out: a [`WorkedJob`] whose parts
//! are stock minus cuts. Knows nothing of rhai and nothing of drawings.

mod arris;
mod bench;
mod bevel;
mod blank;
mod butt;
mod connector;
mod corner;
mod dovetails;
mod face;
mod finger_joint;
mod groove;
mod hole;
mod housing;
mod let_in;
mod lipping;
mod loose_tongue;
mod meet;
mod mitre;
mod mitre_plane;
mod notch;
mod number;
mod outline;
mod pocket;
mod pocket_screws;
mod rebate;
mod registry;
mod screws;
mod seam;
mod tenons;
mod tongue;
mod work;
mod worked;

pub use blank::corners;
pub use registry::words;
pub use work::work;
pub use worked::{Cut, CutKind, Hand, Insert, PartSource, Stage, WorkedJob, WorkedJoint, WorkedPart};
