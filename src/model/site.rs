//! The wall that a job goes to.

use crate::source::Origin;

/// A wall between two ends, seen from the room.
#[derive(Clone, Debug)]
pub struct Site {
    /// Its name.
    pub name: String,
    /// From its left end to its right, mm.
    pub width: f64,
    /// From the floor to the ceiling, mm.
    pub height: f64,
    /// What it is built of, if the script says so.
    pub build: Option<String>,
    /// Where it was declared.
    pub origin: Origin,
}

/// Something on the wall that furniture keeps clear of: a window, a door, a
/// socket.
#[derive(Clone, Debug)]
pub struct Obstacle {
    /// What it is.
    pub name: String,
    /// From where to where it reaches from the left end of the wall, mm, rising.
    pub x: (f64, f64),
    /// The same over the floor.
    pub z: (f64, f64),
    /// Where it was declared.
    pub origin: Origin,
}
