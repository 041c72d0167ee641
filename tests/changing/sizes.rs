//! A size that cannot be, and the folder a job begins with.

use rodwright::cli::Ended;

use super::compare::rodwright;
use crate::support::golden::golden;

/// Whole sets are made.
mod slow_tests {
    use super::*;

    /// A case 980 wide: its shelf may be 940 between uprights of 18, which makes 976. With a
    /// divider or without a shelf it can be as asked.
    #[test]
    fn a_size_that_cannot_be_is_answered_with_a_choice() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path();
        let start = ["start", "case", "--job", "@/hall"];
        assert_eq!(rodwright(at, &start).0, Ended::Done);
        let wide = ["setout", "@/hall/hall.rhai", "--out", "@/set", "--set", "width=980"];
        let (ended, refused) = rodwright(at, &wide);
        assert_eq!(ended, Ended::Problems);
        assert!(refused.contains("`width=976 mm`") && refused.contains("`dividers=1`"), "{refused}");
        let (ended, taken) = rodwright(at, &[&wide[..], &["--nearest"]].concat());
        assert_eq!(ended, Ended::Done, "{taken}");
        assert_eq!(rodwright(at, &[&wide[..], &["--set", "dividers=1"]].concat()).0, Ended::Done);
        let twice = rodwright(at, &start).1;
        golden(file!(), &[("too wide", refused), ("the nearest", taken), ("a job that is there", twice)]);
    }
}
