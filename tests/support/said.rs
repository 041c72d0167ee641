//! What sheets in millimetres say of a joint.

#![allow(dead_code, reason = "each subject uses what it needs")]

use rodwright::joinery::WorkedJob;
use rodwright::measure::Unit;
use rodwright::wording::{Naming, Words};

/// What a joint is called.
pub(crate) fn called(worked: &WorkedJob, joint: usize) -> String {
    Words::of(Unit::Mm).called(worked, &worked.joints[joint])
}

/// How the machine is set for a joint.
pub(crate) fn setting(worked: &WorkedJob, joint: usize) -> String {
    Words::of(Unit::Mm).setting_of(worked, &worked.joints[joint], Naming::ByName)
}
