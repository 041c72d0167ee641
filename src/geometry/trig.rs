//! Trigonometry that gives the same digits on every machine.

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
