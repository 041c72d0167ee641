//! Plugged screws and pocket screws. A cylinder cut off by planes that meet its
//! axis holds its section times the length of its axis, however they lean.

use rodwright::geometry::trig;

use super::joints::{boards, clear_of_one_another, golden, good, near, problem, removed, round, worked};
use super::support::lot::Lot;
use super::support::said::{called, item};

/// A rail 80 wide that ends on a stile 60 wide, both as thick as said.
fn frame(thick: f64, works: &str) -> String {
    boards(
        [[60.0, 500.0], [0.0, thick], [0.0, 80.0]],
        [[0.0, 60.0], [0.0, thick], [0.0, 700.0]],
        ["x", "z"],
        works,
    )
}

/// What one pocket and its bore take of a part `thick`, for a screw.
fn pocket(thick: f64, (size, long): (f64, f64)) -> f64 {
    let (sin, cos) = trig::sin_cos(15.0_f64.to_radians());
    let seat = (0.4 * long).min((0.5 * thick - 4.75 * cos - 0.25) / sin);
    round(9.5) * (0.5 * thick / sin - seat) + round(size) * seat
}

#[test]
fn pockets_slope_fifteen_degrees_out_of_the_middle() {
    let job = good(&frame(19.0, "pocket_screws(a, b);"));
    assert_eq!(called(&job, 0), "2 pocket screws 4 × 32 from the back");
    near(removed(&job, 0), 2.0 * pocket(19.0, (4.0, 32.0)));
    near(removed(&job, 1), 0.0);
    let insert = &job.joints[0].inserts[0];
    assert_eq!(insert.at.len(), 2);
    for (place, z) in insert.at.iter().zip([20.0, 60.0]) {
        // Two fifths of 32 back along the bore from the middle of the end.
        let mouth = place.origin + place.z * 12.8;
        assert!((mouth - rodwright::geometry::DVec3::new(60.0, 9.5, z)).length() < 1e-9, "{mouth}");
        assert!((place.z.y + trig::sin_cos(15.0_f64.to_radians()).0).abs() < 1e-12);
    }
    let job = good(&frame(15.0, "pocket_screws(a, b, #{ screw: \"4x30\", count: 1, face: \"front\" });"));
    near(removed(&job, 0), pocket(15.0, (4.0, 30.0)));
    assert!(job.joints[0].inserts[0].at[0].z.y > 0.0);
}

#[test]
fn plugs_close_a_counterbore_over_each_head() {
    let text = boards(
        [[0.0, 600.0], [300.0, 320.0], [0.0, 400.0]],
        [[0.0, 600.0], [0.0, 300.0], [100.0, 118.0]],
        ["x", "x"],
        "screws(a, b, #{ screw: \"4x35\", spacing: 200, plug: 10 });",
    );
    let job = good(&text);
    // Three gaps of 520 / 3; three quarters of 10 deep, so 12.5 under the head.
    assert_eq!(called(&job, 0), "4 screws 4 × 35, plugged");
    near(removed(&job, 0), 4.0 * (round(10.0) * 7.5 + round(4.0) * 12.5));
    near(removed(&job, 1), 4.0 * round(2.8) * 22.5);
    let plugs = &job.joints[0].inserts[1];
    assert_eq!((item(plugs).as_str(), plugs.at.len()), ("plug ⌀ 10 × 7.5, face grain, of Pine", 4));
    let deep = text.replace("plug: 10", "plug: 12, plug_depth: 5");
    near(removed(&good(&deep), 0), 4.0 * (round(12.0) * 5.0 + round(4.0) * 15.0));
}

#[test]
fn pocket_screws_by_lot_stay_in_the_wood() {
    let mut made = 0;
    for seed in 500..540 {
        let mut lot = Lot(seed);
        let thick = lot.between(12.0, 40.0);
        let works = match lot.of(3) {
            0 => "pocket_screws(a, b);".to_owned(),
            1 => format!("pocket_screws(a, b, #{{ count: {} }});", 1 + lot.of(4)),
            _ => format!("pocket_screws(a, b, #{{ screw: \"4x{}\", face: \"front\" }});", 25 + lot.of(20)),
        };
        let (high, wide) = (lot.between(45.0, 200.0), lot.between(30.0, 90.0));
        let text = boards(
            [[wide, 500.0], [0.0, thick], [0.0, high]],
            [[0.0, wide], [0.0, thick], [0.0, 700.0]],
            ["x", "z"],
            &works,
        );
        let (job, problems) = worked("test", &text, &[]);
        if problems.contains("error[") {
            assert!(
                problems.contains("[breaks-through]") || problems.contains("[does-not-fit]"),
                "{problems}"
            );
            continue;
        }
        made += 1;
        clear_of_one_another(&job);
        let body = job.joints[0].inserts[0].body.as_ref().unwrap();
        let size = 2.0 * body.outline.arcs[0].radius;
        let count = job.joints[0].inserts[0].at.len() as f64;
        near(removed(&job, 0), count * pocket(thick, (size, body.to)));
    }
    assert!(made >= 25, "only {made} of 40 could be made");
}

#[test]
fn plugs_by_lot_leave_wood_under_the_head() {
    let mut made = 0;
    for seed in 600..630 {
        let mut lot = Lot(seed);
        let (thick, behind) = (lot.between(12.0, 40.0), lot.between(18.0, 60.0));
        let plug = lot.between(8.0, 16.0);
        let depth = lot.between(3.0, 12.0);
        let long = (thick + lot.between(5.0, 15.0)).round();
        let text = boards(
            [[0.0, 500.0], [0.0, thick], [0.0, 200.0]],
            [[0.0, 500.0], [thick, thick + 60.0], [80.0, 80.0 + behind]],
            ["x", "x"],
            &format!("screws(a, b, #{{ screw: \"4x{long:.0}\", plug: {plug:.1}, plug_depth: {depth:.1} }});"),
        );
        let (job, problems) = worked("test", &text, &[]);
        if problems.contains("error[") {
            assert!(problems.contains("[breaks-through]"), "{problems}");
            continue;
        }
        made += 1;
        clear_of_one_another(&job);
        let n = job.joints[0].inserts[0].at.len() as f64;
        near(removed(&job, 0), n * (round(plug) * depth + round(4.0) * (thick - depth)));
        near(removed(&job, 1), n * round(2.8) * (long + depth - thick));
    }
    assert!(made >= 20, "only {made} of 30 could be made");
}

#[test]
fn screws_that_cannot_hold_are_said_with_figures() {
    let pocketed = |thick: f64, works: &str| problem(&frame(thick, works));
    let plugged = |works: &str| {
        problem(&boards(
            [[0.0, 600.0], [300.0, 320.0], [0.0, 400.0]],
            [[0.0, 600.0], [0.0, 300.0], [0.0, 12.0]],
            ["x", "x"],
            works,
        ))
    };
    let cases = [
        pocketed(9.0, "pocket_screws(a, b);"),
        pocketed(19.0, "pocket_screws(a, b, #{ count: 6 });"),
        pocketed(19.0, "pocket_screws(a, b, #{ screw: \"4x120\" });"),
        pocketed(19.0, "pocket_screws(a, b, #{ screw: \"9x32\" });"),
        pocketed(19.0, "pocket_screws(a, b, #{ face: \"top\" });"),
        problem(&frame(19.0, "pocket_screws(a, b);").replace("500.0]", "90.0]")),
        plugged("screws(a, b, #{ screw: \"4x35\", plug: 6 });"),
        plugged("screws(a, b, #{ screw: \"4x35\", plug: 10, plug_depth: 18 });"),
        plugged("screws(a, b, #{ screw: \"4x35\", plug: 10 });"),
        plugged("screws(a, b, #{ screw: \"4x35\", plug_depth: 8 });"),
    ];
    golden("tests/joints_screws_problems.txt", &cases);
}
