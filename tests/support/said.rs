//! What sheets in millimetres say of a joint.

#![allow(dead_code, reason = "each subject uses what it needs")]

use rodwright::joinery::{Insert, WorkedJob};
use rodwright::measure::LengthStyle;
use rodwright::wording::{Naming, Words};

/// The words of a sheet or list in millimetres.
pub(crate) const MM: Words = Words { lengths: LengthStyle::MM };

/// What a joint is called.
pub(crate) fn called(worked: &WorkedJob, joint: usize) -> String {
    MM.called(worked, &worked.joints[joint])
}

/// How the machine is set for a joint.
pub(crate) fn setting(worked: &WorkedJob, joint: usize) -> String {
    MM.setting_of(worked, &worked.joints[joint], Naming::ByName)
}

/// What is let in.
pub(crate) fn item(insert: &Insert) -> String {
    MM.item(&insert.item)
}
