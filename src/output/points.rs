//! The unit of PDF.

/// Points in a millimetre (ISO 32000: a point is 1/72 inch).
pub(super) const POINTS: f64 = 72.0 / 25.4;
/// Steps a figure is rounded to in a point.
const STEPS: f64 = 10_000.0;

/// Rounded to a ten-thousandth, far below a printer's dot; never `-0`.
#[expect(clippy::cast_possible_truncation, reason = "pages are under ten thousand points")]
pub(super) fn points(value: f64) -> f32 {
    if !value.is_finite() {
        return 0.0;
    }
    let rounded = (value * STEPS).round() / STEPS;
    if rounded == 0.0 { 0.0 } else { rounded as f32 }
}
