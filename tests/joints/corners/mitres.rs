//! Mitres of square and other corners, against closed forms.

use crate::support::golden::golden;
use crate::support::said::called;
use rodwright::geometry::trig;

use crate::support::joints::{boards, good, near, problem, removed, round};

#[test]
fn a_mitre_makes_long_and_short_points() {
    // Square and equal: the short point is one thickness behind the long one.
    let corner = |thick: f64, works: &str| {
        boards(
            [[0.0, 20.0], [0.0, 100.0], [0.0, 400.0]],
            [[0.0, 600.0], [0.0, 100.0], [400.0 - thick, 400.0]],
            ["z", "x"],
            works,
        )
    };
    for thick in [20.0, 30.0] {
        let job = good(&corner(thick, "mitre(a, b);"));
        near(removed(&job, 0), 0.5 * 20.0 * thick * 100.0);
        near(removed(&job, 1), 0.5 * 20.0 * thick * 100.0);
        let mut along: Vec<f64> =
            job.parts[0].solid.points.iter().map(|p| (p.x * 1e6).round() / 1e6).collect();
        along.sort_by(f64::total_cmp);
        along.dedup();
        // Both ends of one and the short point of the other: 0, 400 - t, 400.
        let short = if along[1] > 200.0 { along[2] - along[1] } else { along[1] - along[0] };
        assert_eq!(along.len(), 3);
        near(short, thick);
    }
    let job = good(&corner(20.0, "mitre(a, b, #{ connectors: 1 });"));
    assert_eq!(job.joints[0].inserts[0].at.len(), 1);
    let pocket = (50.0 - 7.0) * 7.0 + round(7.0);
    near(removed(&job, 1), 0.5 * 20.0 * 20.0 * 100.0 + pocket * 9.0);
}

#[test]
fn boards_of_a_hexagon_mitre_at_thirty_degrees() {
    // Regular hexagon of outer side 300, boards 20 thick: 30 degrees off square.
    let mut text = String::from(
        "job(\"Six\", #{ unit: \"mm\" });\nlet pine = board_stock(\"Pine\", #{ thick: [27] });\npiece(\"Six\");\nlet all = [];\n",
    );
    text += "for k in -1..2 { all += board(\"Board \" + k, pine, #{ x: [-150, 150], y: [0, 100], z: [150 * sqrt(3.0) - 20, \
             150 * sqrt(3.0)], grain: \"x\", turn: #{ axis: \"y\", by: 60 * k, about: [0, 0, 0] } }); }\n\
             for k in 0..2 { mitre(all[k], all[k + 1]); }\n";
    let job = good(&text);
    for (i, part) in job.parts.iter().enumerate() {
        // A wedge at each mitred end: half of 20 by 20 tan 30.
        let wedge = 0.5 * 20.0 * 20.0 * trig::tan(std::f64::consts::PI / 6.0) * 100.0;
        near(removed(&job, i), if i == 1 { 2.0 * wedge } else { wedge });
        assert_eq!(part.number, if i == 1 { 2 } else { 1 });
    }
    assert_eq!(called(&job, 0), "mitred 30°");
}

/// Two rails 100 wide that meet at 60 degrees; the first has a hollow 20 wide and 50 deep
/// in its outer edge, so far from the corner.
fn hollowed(from: f64) -> String {
    let to = from + 20.0;
    format!(
        "job(\"Frame\", #{{ unit: \"mm\" }});\nlet ash = board_stock(\"Ash\", #{{ thick: [27] }});\npiece(\"Frame\");\n\
         let a = board(\"a\", ash, #{{ x: [0, 400], y: [0, 100], z: [0, 20], grain: \"x\" }});\n\
         let b = board(\"b\", ash, #{{ x: [0, 400], y: [-100, 0], z: [0, 20], grain: \"x\", \
         turn: #{{ axis: \"z\", by: 60, about: [0, 0, 0] }} }});\n\
         outline(a, \"top\", #{{ points: [[0, 0], [{from}, 0], [{from}, 50], [{to}, 50], [{to}, 0], [400, 0], \
         [400, 100], [0, 100]] }});\nmitre(a, b);\n"
    )
}

#[test]
fn a_mitre_does_not_saw_a_hollow_part_in_two() {
    // The saw runs 30 degrees off the rail from its outer corner: 60 along it is 35 in, so
    // a hollow 50 deep there parts the point from the rail. The cure is to begin it
    // behind the short point, 100 / tan 30 = 173 along.
    golden(file!(), &[("across a hollow", problem(&hollowed(60.0)))]);
    let job = good(&hollowed(200.0));
    let wedge = 0.5 * 100.0 * 100.0 / trig::tan(std::f64::consts::PI / 6.0) * 20.0;
    near(removed(&job, 0), wedge + 20.0 * 50.0 * 20.0);
    near(removed(&job, 1), wedge);
}
