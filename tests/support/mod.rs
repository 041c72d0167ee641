//! Helpers shared by the integration tests.

pub(crate) mod golden;
pub(crate) mod joints;
pub(crate) mod lot;
pub(crate) mod pieces;
pub(crate) mod said;
pub(crate) mod scripts;
pub(crate) mod set_out;
pub(crate) mod sets;
pub(crate) mod solids;

/// Fails with both values unless they are within `tolerance`.
#[allow(dead_code, reason = "not every subject compares numbers")]
#[track_caller]
pub(crate) fn assert_near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "found {found}, expected {expected} within {tolerance}");
}
