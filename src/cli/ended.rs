//! How a command ends.

use crate::problem::{Problem, Severity};

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// Done.
    Done,
    /// The script or job has errors.
    Problems,
    /// The command line is wrong.
    WrongUse,
    /// A file could not be read or written.
    Files,
}

impl Ended {
    /// The exit code.
    pub fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Problems => 1,
            Self::WrongUse => 2,
            Self::Files => 3,
        }
    }

    /// Done, or problems if any is an error.
    pub(super) fn of(problems: &[Problem]) -> Self {
        let wrong = problems.iter().any(|p| p.severity == Severity::Error);
        if wrong { Self::Problems } else { Self::Done }
    }
}
