//! The wall that a job goes to.

use super::{PartId, Side};
use crate::source::Origin;
use crate::timber::moisture::{ROOM, equilibrium};

/// A wall between two ends, seen from the room.
#[derive(Clone, Debug)]
pub struct Site {
    /// Its name.
    pub name: String,
    /// From its left end to its right, mm.
    pub width: f64,
    /// From the floor to the ceiling, mm.
    pub height: f64,
    /// How deep the recess is that it is the back of, mm, if it is one.
    pub depth: Option<f64>,
    /// What it is built of, if the script says so.
    pub build: Option<String>,
    /// How it is out of true, as measured.
    pub truth: Truth,
    /// How dry the air of the room becomes over the year and how damp, relative humidity,
    /// per cent, if the script says so.
    pub air: Option<[f64; 2]>,
    /// Where it was declared.
    pub origin: Origin,
}

/// How a wall is out of true, as measured; by default it is square and plumb.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Truth {
    /// Its width at heights over the floor, mm, rising: at the floor, half way up and at
    /// the ceiling. Empty where it was measured once.
    pub widths: Vec<f64>,
    /// How far it leans into the room at the ceiling, mm; less than 0 where it leans back.
    pub lean: f64,
    /// Height of the ceiling at its left end and at its right, mm; `None` where it is level.
    pub ceiling: Option<[f64; 2]>,
    /// Height and depth of a skirting at its foot, mm.
    pub skirting: Option<[f64; 2]>,
    /// From its left end to the middle of the first stud, and from stud to stud, mm.
    pub studs: Option<[f64; 2]>,
    /// How much nearer to one another the walls at its left end and its right stand so far
    /// before it as [`Truth::TRIED`], mm each; less than 0 where they open out.
    pub corners: Option<[f64; 2]>,
}

impl Truth {
    /// How far before the wall its corners are tried, mm: as deep as most furniture.
    pub const TRIED: f64 = 600.0;
}

/// An edge or end that is left wide and scribed to the wall beside it, on site.
#[derive(Clone, Debug, PartialEq)]
pub struct Scribe {
    /// The part, drawn as it is when it is scribed.
    pub part: PartId,
    /// The side of the piece that the edge looks to.
    pub side: Side,
    /// What is left on it and taken off to the line, mm.
    pub allow: f64,
    /// Whether the script says how much; else it is what is usual.
    pub told: bool,
    /// Widths of the gap that the part fills, as measured, mm; empty where it fills none.
    pub gap: Vec<f64>,
    /// Where it was written.
    pub origin: Origin,
}

impl Site {
    /// Points of moisture content that wood gains and loses about the middle of what the
    /// room's air makes of it over the year; `None` where nothing is said of its air.
    pub fn season(&self) -> Option<f64> {
        let [dry, damp] = self.air?.map(|humidity| equilibrium(ROOM, humidity));
        Some(0.5 * (damp - dry))
    }

    /// Width of the wall so high over the floor, mm, straight between where it was
    /// measured.
    pub fn width_at(&self, high: f64) -> f64 {
        let [floor, middle, top] = self.truth.widths.as_slice() else { return self.width };
        let half = 0.5 * self.height;
        let share = |from: f64| ((high - from) / half).clamp(0.0, 1.0);
        if high < half {
            floor + (middle - floor) * share(0.0)
        } else {
            middle + (top - middle) * share(half)
        }
    }

    /// The least width between two heights, mm, and the height it is at.
    pub fn narrowest(&self, low: f64, high: f64) -> (f64, f64) {
        // Between the heights it was measured at it is straight, so that the least is at
        // one of them or at an end.
        let half = 0.5 * self.height;
        let heights = [low, high, half.clamp(low.min(high), high.max(low))];
        let widths = heights.map(|at| (self.width_at(at), at));
        widths.into_iter().fold((f64::INFINITY, low), |least, one| if one.0 < least.0 { one } else { least })
    }

    /// Height of the ceiling over a place so far from the left end, mm.
    pub fn ceiling_at(&self, along: f64) -> f64 {
        match self.truth.ceiling {
            Some([left, right]) if self.width > 0.0 => {
                left + (right - left) * (along / self.width).clamp(0.0, 1.0)
            }
            _ => self.height,
        }
    }
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
