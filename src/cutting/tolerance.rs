//! Every tolerance of the lists and layouts, with its reason.

pub(super) use crate::machining::tolerance::{APART, SAME};

/// What of a whole number of things to buy is noise, so that no more is bought for it.
pub(super) const WHOLE: f64 = 1e-9;

/// What of a count of boards is noise: it comes of products of lengths.
pub(super) const WHOLE_BOARDS: f64 = 1e-6;

/// How far two volumes of alike inlays may lie apart, mm3: a cut through a curved face
/// is faceted by where it lies.
pub(super) const SAME_VOLUME: f64 = 0.5;
