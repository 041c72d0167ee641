//! Points, planes, placements and flat outlines.
//!
//! Comes in: nothing. Goes out: the plain shapes of every later stage.
//! Knows nothing of wood. Lengths are millimetres, angles radians unless their
//! name has degrees in it. Space is right-handed.

mod outline;
mod placement;
mod plane;

pub use glam::{DVec2, DVec3};
pub use outline::{Arc, ArcId, Corner, Edge, Outline, Ring, rise_through};
pub use placement::Placement;
pub use plane::Plane;

/// Trigonometry that gives the same digits on every machine.
pub mod trig {
    /// Sine and cosine of `angle` in radians.
    pub fn sin_cos(angle: f64) -> (f64, f64) {
        libm::sincos(angle)
    }
    /// Tangent of `angle` in radians.
    pub fn tan(angle: f64) -> f64 {
        libm::tan(angle)
    }
    /// Angle of the vector (`x`, `y`) from the x axis, in radians, -pi to pi.
    pub fn atan2(y: f64, x: f64) -> f64 {
        libm::atan2(y, x)
    }
    /// Arc cosine in radians; the argument is clamped to -1..1.
    pub fn acos(c: f64) -> f64 {
        libm::acos(c.clamp(-1.0, 1.0))
    }
}
