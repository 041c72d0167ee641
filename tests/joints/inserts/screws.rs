//! Plugged screws and pocket screws. A cylinder cut off by planes that meet its
//! axis holds its section times the length of its axis, however they lean.

use rodwright::geometry::trig;

use crate::support::golden::golden;
use crate::support::joints::{boards, clear_of_one_another, good, near, problem, removed, round, worked};
use crate::support::lot::Lot;
use crate::support::said::{called, item, setting};

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
fn screws_stand_in_a_row() {
    let text = boards(
        [[0.0, 600.0], [300.0, 306.0], [0.0, 400.0]],
        [[0.0, 600.0], [0.0, 300.0], [100.0, 118.0]],
        ["x", "x"],
        "screws(a, b, #{ screw: \"3.5x16\", spacing: 150 });",
    );
    let job = good(&text);
    // 520 between the outer screws: four gaps of 130, five screws.
    assert_eq!(called(&job, 0), "5 screws 3.5 × 16");
    near(removed(&job, 0), 5.0 * round(3.5) * 6.0);
    near(removed(&job, 1), 5.0 * round(0.7 * 3.5) * 10.0);
}

/// A screw by its number in white oak: #8 is 0.164 in (National Design Specification, Table
/// L3), its drills 11/64 for the shank and 1/8 in hard wood (a published trade chart).
#[test]
fn screws_by_number_have_drills_in_fractions() {
    let job = good(&batten(19.05, "count: 2").replace("4x35", "#8x1 1/2"));
    assert_eq!(called(&job, 0), "2 screws #8 × 1 1/2″");
    near(removed(&job, 0), 2.0 * round(11.0 / 64.0 * 25.4) * 19.05);
    near(removed(&job, 1), 2.0 * round(25.4 / 8.0) * 19.05);
}

/// A batten 80 wide and `thick` under a board of white oak 600 across, screwed to it.
fn batten(thick: f64, options: &str) -> String {
    boards(
        [[0.0, 600.0], [100.0, 180.0], [0.0, thick]],
        [[0.0, 600.0], [0.0, 400.0], [thick, thick + 27.0]],
        ["x", "y"],
        &format!("screws(a, b, #{{ screw: \"4x35\", {options} }});"),
    )
    .replace("thick: [27, 34]", "thick: [27, 34], species: \"white oak\"")
}

/// A back 6 thick in a rebate of a side, screwed to it: the works in the
/// order given.
fn backed(works: [&str; 2]) -> String {
    boards(
        [[18.0, 400.0], [294.0, 300.0], [0.0, 400.0]],
        [[0.0, 18.0], [0.0, 300.0], [0.0, 400.0]],
        ["z", "z"],
        &works.join("\n"),
    )
}

/// By hand: through the 6 of the back, 10 into the side, at the middle of a lap of 9: 4.5 in
/// from the back's edge, which lies 9 before the side's inner face at 18.
#[test]
fn a_back_in_a_rebate_is_screwed_to_its_floor_whichever_is_said_first() {
    let works = ["rebate(a, b, #{ lap: 9 });", "screws(a, b, #{ screw: \"3.5x16\", count: 3 });"];
    for (k, works) in [works, [works[1], works[0]]].into_iter().enumerate() {
        let job = good(&backed(works));
        let screws = &job.joints[1 - k];
        assert_eq!(called(&job, 1 - k), "3 screws 3.5 × 16");
        let at: Vec<[f64; 3]> = screws.inserts[0].at.iter().map(|at| at.origin.into()).collect();
        assert_eq!(at.len(), 3);
        for [x, y, _] in at {
            near(x, 13.5);
            near(y, 300.0);
        }
        near(removed(&job, 0), 3.0 * round(3.5) * 6.0);
        near(removed(&job, 1), 9.0 * 6.0 * 400.0 + 3.0 * round(0.7 * 3.5) * 10.0);
    }
}

#[test]
fn rows_stand_side_by_side_and_staggered_ones_between() {
    let job = good(&batten(18.0, "rows: 2, count: 2"));
    assert_eq!(called(&job, 0), "4 screws 4 × 35 in 2 rows");
    // One in each corner: 40 from the ends, 20 from the edges.
    let mut found: Vec<[f64; 2]> =
        job.joints[0].inserts[0].at.iter().map(|at| [at.origin.x, at.origin.y].map(f64::round)).collect();
    found.sort_by(|a, b| a.partial_cmp(b).unwrap());
    assert_eq!(found, [[40.0, 120.0], [40.0, 160.0], [560.0, 120.0], [560.0, 160.0]]);
    let job = good(&batten(18.0, "rows: 3, count: 3, edge: 10, staggered: true, countersunk: true"));
    assert_eq!(called(&job, 0), "8 screws 4 × 35 in 3 rows, staggered, countersunk");
    assert_eq!(setting(&job, 0), "countersink to ⌀ 8, clearance ⌀ 4, pilot ⌀ 2.8 × 17 mm deep");
    let middle: Vec<f64> = job.joints[0].inserts[0].at[3..5].iter().map(|at| at.origin.x).collect();
    near(middle[0].min(middle[1]), 170.0);
    near(middle[0].max(middle[1]), 430.0);
    // Each bored over its shank as wide as the head, 8, and half of what that is wider deep.
    near(removed(&job, 0), 8.0 * (round(4.0) * 16.0 + round(8.0) * 2.0));
}

#[test]
fn a_counterbore_stays_open() {
    let job = good(&batten(40.0, "count: 2, counterbore: \"10x22\""));
    assert_eq!(called(&job, 0), "2 screws 4 × 35, counterbored");
    near(removed(&job, 0), 2.0 * (round(10.0) * 22.0 + round(4.0) * 18.0));
    near(removed(&job, 1), 2.0 * round(2.8) * 17.0);
    assert_eq!(job.joints[0].inserts.len(), 1, "no plugs");
}

#[test]
fn slots_let_a_wide_board_move_across_its_grain() {
    let job = good(&batten(18.0, "count: 3, slots: true"));
    // Wood Handbook (FPL-GTR-190), ch. 13, Table 13-5: white oak, `C_T` 0.00365. The outer
    // screws stand 260 from the middle: 260 × 0.00365 × 3 points is 2.8, to half a
    // millimetre 3, and a slot of 4.5 is 10.5 long.
    assert_eq!(called(&job, 0), "3 screws 4 × 35 in slots, free to move 3 mm");
    assert_eq!(setting(&job, 0), "slots 10.5 × 4.5, the middle one round, pilot ⌀ 2.8 × 17 mm deep");
    let slot = 6.0 * 4.5 + round(4.5);
    near(removed(&job, 0), 18.0 * (2.0 * slot + round(4.0)));
    assert_eq!(item(&job.joints[0].inserts[0]), "screw 4 × 35, round head, with washer");
}

#[test]
fn a_screw_through_a_breadboard_end_is_bored_through_its_tongue_and_holds_in_the_middle() {
    let text = r#"job("B", #{ unit: "mm" });
let oak = board_stock("Oak", #{ thick: [27, 34], species: "white oak" });
piece("B");
let top = board("Top", oak, #{ x: [60, 900], y: [0, 500], z: [0, 25], grain: "x" });
let end = board("End", oak, #{ x: [0, 60], y: [0, 500], z: [0, 25], grain: "y" });
tongue(top, end, #{ dry: true, thick: 9, depth: 20 });
screws(end, top, #{ slots: true, screw: "5x90" });"#;
    let job = good(text);
    // Through 60 of the end's width 30 are left in the top, behind a tongue of 20.
    assert_eq!(called(&job, 1), "5 screws 5 × 90 in slots, free to move 2.5 mm");
    assert_eq!(setting(&job, 1), "slots 10.5 × 5.5, the middle one round, pilot ⌀ 3.5 × 50 mm deep");
    let shoulders = 2.0 * (25.0 - 9.0) / 2.0 * 20.0 * 500.0;
    near(removed(&job, 0), shoulders + 5.0 * round(3.5) * 50.0);
}

#[test]
fn rows_and_slots_by_lot_stand_where_they_should() {
    let mut made = 0;
    for seed in 640..680 {
        let mut lot = Lot(seed);
        let (rows, count, slots) = (1 + lot.of(3), 1 + lot.of(5), lot.of(2) == 0);
        let staggered = rows > 1 && lot.of(2) == 0;
        let text = batten(
            lot.between(16.0, 26.0),
            &format!("rows: {rows}, count: {count}, slots: {slots}, staggered: {staggered}"),
        );
        let (job, problems) = worked("test", &text, &[]);
        if problems.contains("error[") {
            assert!(problems.contains("[contradiction]"), "{problems}");
            continue;
        }
        made += 1;
        clear_of_one_another(&job);
        let at = &job.joints[0].inserts[0].at;
        let between = if staggered { rows / 2 } else { 0 };
        assert_eq!(at.len(), rows * count - between, "{text}");
        // Their places are even about the middle of the batten.
        let mean = |axis: usize| at.iter().map(|p| p.origin[axis]).sum::<f64>() / at.len() as f64;
        near(mean(0), 300.0);
        // Two rows of which one is a screw shorter are not.
        if rows != 2 || !staggered {
            near(mean(1), 140.0);
        }
    }
    assert!(made >= 20, "only {made} of 40 could be made");
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
    let battened = |options: &str| problem(&batten(18.0, options));
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
        ("board too thin for a pocket", pocketed(9.0, "pocket_screws(a, b);")),
        ("too many pockets", pocketed(19.0, "pocket_screws(a, b, #{ count: 6 });")),
        ("pocket screw too long", pocketed(19.0, "pocket_screws(a, b, #{ screw: \"4x120\" });")),
        ("pocket screw too thick", pocketed(19.0, "pocket_screws(a, b, #{ screw: \"9x32\" });")),
        ("no such face", pocketed(19.0, "pocket_screws(a, b, #{ face: \"top\" });")),
        ("rail too short", problem(&frame(19.0, "pocket_screws(a, b);").replace("500.0]", "90.0]"))),
        ("plug too narrow", plugged("screws(a, b, #{ screw: \"4x35\", plug: 6 });")),
        ("counterbore too deep", plugged("screws(a, b, #{ screw: \"4x35\", plug: 10, plug_depth: 18 });")),
        ("plug near the edge", plugged("screws(a, b, #{ screw: \"4x35\", plug: 10 });")),
        ("rows too near one another", battened("rows: 6")),
        ("rows too near the edge", battened("rows: 2, edge: 3")),
        ("nothing to stand between", battened("rows: 2, count: 1, staggered: true")),
        ("head too wide for its bore", battened("counterbore: \"6x8\"")),
        ("bore too deep", battened("counterbore: \"10x16\"")),
        ("bore near the edge", plugged("screws(a, b, #{ screw: \"4x35\", counterbore: \"10x8\" });")),
        ("slots that gain nothing", battened("slots: true, count: 1")),
        ("slot runs out", battened("slots: true, count: 2, move: 38")),
        (
            "slots in wood not known",
            problem(&batten(18.0, "slots: true").replace(", species: \"white oak\"", "")),
        ),
        (
            "too thick for a lap",
            problem(&backed(["rebate(a, b, #{ lap: 7 });", "screws(a, b, #{ screw: \"3.5x16\" });"])),
        ),
        (
            "off the floor of its rebate",
            problem(&backed([
                "rebate(a, b, #{ lap: 9, depth: 10 });",
                "screws(a, b, #{ screw: \"3.5x16\" });",
            ])),
        ),
        (
            "shaped in its rebate",
            problem(&backed([
                "rebate(a, b, #{ lap: 9 }); bevel(a, \"top\", #{ angle: 10, long: \"front\" });",
                "screws(a, b, #{ screw: \"3.5x16\" });",
            ])),
        ),
        ("depth without a plug", plugged("screws(a, b, #{ screw: \"4x35\", plug_depth: 8 });")),
    ];
    golden(file!(), &cases);
}
