//! One file per joint family: where parts meet, cuts on both, inserts, ways in.
//!
//! Comes in: a [`Job`](crate::model::Job). Goes out: a [`WorkedJob`] whose parts
//! are stock minus cuts. Knows nothing of rhai and nothing of drawings.

mod alike;
mod arris;
mod bench;
mod bevel;
mod biscuits;
mod blank;
mod bridle;
mod butt;
mod butt_hinges;
mod buttons;
mod catch_plate;
mod compound;
mod connector;
mod corner;
mod crossing;
mod cup_hinges;
mod dovetails;
mod dowels;
mod face;
mod fill;
mod finger_joint;
mod folded_mitre;
mod frame_clips;
mod glass_points;
mod groove;
mod halving;
mod handles;
mod hanging_cleat;
mod hole;
mod housing;
mod inlay;
mod laminate;
mod leaning_tenon;
mod let_in;
mod level;
mod levelling_feet;
mod lipping;
mod loose_tongue;
mod meet;
mod mitre;
mod mitre_plane;
mod mitred_tongue;
mod mortise_tenon;
mod movement;
mod notch;
mod number;
mod on_wall;
mod opening;
mod outline;
mod plane;
mod pocket;
mod pocket_screws;
mod rebate;
mod registry;
mod row;
mod runners;
mod screws;
mod seam;
mod shelf_pins;
mod shut;
mod spigot;
mod stop;
mod tenon_pegs;
mod tenon_size;
mod tenons;
mod ties;
mod tongue;
mod wall_bracket;
mod work;
mod worked;

pub use blank::corners;
pub use fill::{Fill, FillShape};
pub use folded_mitre::{Wrap, wraps};
pub use laminate::{Layers, laminated};
pub use on_wall::{Fixing, OnWall, fixings, on_wall};
pub(crate) use on_wall::{HANGS, bored_through};
pub use opening::Opening;
pub use registry::words;
pub use work::work;
pub use worked::{
    Cut, CutKind, CuttingPlane, Hand, Insert, PartSource, Stage, WorkedJob, WorkedJoint, WorkedPart,
};
