//! One file per joint family: where parts meet, cuts on both, inserts, ways in.
//!
//! Comes in: a [`Job`](crate::model::Job). Goes out: a [`WorkedJob`] whose parts
//! are stock minus cuts. Knows nothing of rhai and nothing of drawings.

mod worked;

pub use worked::{Cut, CutKind, Hand, Insert, PartSource, Stage, WorkedJob, WorkedJoint, WorkedPart};
