//! What a form gives its operation: setting, fence and stops.

use super::operation::{Extent, Reach};
use super::setting::{Against, Setting};

/// What a form gives its operation.
pub(super) struct Set {
    pub(super) setting: Setting,
    pub(super) against: Against,
    pub(super) fence: Option<Reach>,
    pub(super) along: Option<Extent>,
    pub(super) stopped: Option<Extent>,
}

impl Set {
    /// A setting that needs neither fence nor stop.
    pub(super) fn plain(setting: Setting, against: Against) -> Self {
        Self { setting, against, fence: None, along: None, stopped: None }
    }
}

/// Without the noise of sums, so that equal settings are equal: far finer than any fence is
/// set, and so that a sixty-fourth of an inch stays one.
pub(super) fn tidy(value: f64) -> f64 {
    const FINEST: f64 = 10_000.0;
    let rounded = (value * FINEST).round() / FINEST;
    if rounded == 0.0 { 0.0 } else { rounded }
}
