//! Loose tenons: their mortises lie over one another.

use rodwright::joinery::WorkedJob;

use crate::support::joints::{good, near, removed, round, script, shelf_and_side};

#[test]
fn mortises_lie_over_one_another() {
    let job = good(&shelf_and_side("loose_tenons(a, b, #{ tenon: \"8x40\", count: 3 });"));
    let stadium = |width: f64, thick: f64| (width - thick) * thick + round(thick);
    // 18 thick less 3 of wall: 15 deep; the other 26 + 1 deep in the shelf.
    near(removed(&job, 1), 3.0 * stadium(40.0, 8.0) * 15.0);
    near(removed(&job, 0), 3.0 * stadium(40.0, 8.0) * 27.0);
    mouths_meet(&job, 3);
    for (name, settings) in [("low_bookcase", &[("width", "1011.3")][..]), ("notice_frame", &[])] {
        mouths_meet(&script(name, settings), 1);
    }
}

/// Every mortise of a tenon joint has its mouth on one of the other part, and
/// there are at least `least` pairs.
fn mouths_meet(job: &WorkedJob, least: usize) {
    let mut pairs = 0;
    for (j, joint) in job.joints.iter().enumerate().filter(|(_, j)| j.word == "loose_tenons") {
        let mouths = |part: usize| {
            let part = &job.parts[part];
            let mine = part.cuts.iter().filter(move |c| c.joint == Some(j));
            mine.map(|c| part.at.point(c.shape.at.origin)).collect::<Vec<_>>()
        };
        let (a, b) = (mouths(joint.parts[0]), mouths(joint.parts[1]));
        assert_eq!(a.len(), b.len());
        for (p, q) in a.iter().zip(&b) {
            assert!(p.distance(*q) < 0.001, "{p} is not over {q}");
            pairs += 1;
        }
        assert_eq!(joint.inserts[0].at.len(), a.len());
    }
    assert!(pairs >= least);
}
