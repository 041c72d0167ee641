//! Brackets, clips, glazing points, feet and buttons. Volumes are closed forms
//! derived beside each. `UPDATE=1` writes the messages anew.

use std::fmt::Write as _;

use crate::support::golden::golden;
use crate::support::joints::{clear_of_one_another, good, near, problem, removed, round, warned, worked};
use crate::support::lot::Lot;
use crate::support::said::called;

/// Boards of white oak, each written as `name x y z grain`, then works.
fn oak(boards: &[(&str, [f64; 6], &str)], works: &str) -> String {
    let mut text = String::from(
        "job(\"Test\", #{ unit: \"mm\" });\nlet oak = board_stock(\"Oak\", #{ thick: [27, 34], species: \"white oak\" });\n\
         let float = glass_stock(\"Float glass\", #{ thick: 4 });\npiece(\"Piece\");\n",
    );
    for (name, [x, xx, y, yy, z, zz], grain) in boards {
        let _ = writeln!(
            text,
            "let {name} = board(\"{name}\", oak, #{{ x: [{x:?}, {xx:?}], y: [{y:?}, {yy:?}], z: [{z:?}, {zz:?}], grain: \"{grain}\" }});"
        );
    }
    text + works + "\n"
}

/// Area of a slot `long` over its round ends and `wide`: a rectangle and a circle
/// of 32 facets.
fn stadium(long: f64, wide: f64) -> f64 {
    (long - wide) * wide + round(wide)
}

#[test]
fn rods_by_lot_leave_wood_round_their_bores() {
    let mut made = 0;
    for seed in 900..930 {
        let mut lot = Lot(seed);
        let (long, deep, thick) =
            (lot.between(400.0, 1500.0), lot.between(150.0, 300.0), lot.between(24.0, 60.0));
        let (rod, reach) = (lot.between(8.0, 18.0), lot.between(90.0, 240.0));
        let count = 2 + lot.of(3);
        let works = format!(
            "wall_bracket(shelf, \"back\", #{{ rod: \"{rod:.1}x{reach:.1}\", count: {count}, clearance: 0.4 }});"
        );
        let text = oak(&[("shelf", [0.0, long, 0.0, deep, 0.0, thick], "x")], &works);
        let (job, problems) = worked("test", &text, &[]);
        if problems.contains("error[") {
            assert!(
                problems.contains("[breaks-through]") || problems.contains("[inserts-collide]"),
                "{problems}"
            );
            continue;
        }
        made += 1;
        let (rod, reach) = ((rod * 10.0).round() / 10.0, (reach * 10.0).round() / 10.0);
        near(removed(&job, 0), count as f64 * round(rod + 0.4) * (reach + 2.0));
    }
    assert!(made >= 15, "only {made} of 30 could be made");
}

#[test]
fn a_plate_is_let_in_before_its_rods() {
    let text = oak(
        &[("shelf", [0.0, 1000.0, 0.0, 220.0, 0.0, 40.0], "x")],
        "wall_bracket(shelf, \"back\", #{ rod: \"12x150\", count: 3, plate: \"20x5\" });",
    );
    let job = good(&text);
    assert_eq!(called(&job, 0), "3 rods ⌀ 12 × 150 out of the wall");
    // 800 between the outer rods, 25 on beyond them and half a height at each end.
    let recess = stadium(870.0, 20.0) * 5.0;
    near(removed(&job, 0), recess + 3.0 * round(12.5) * (152.0 - 5.0));
}

#[test]
fn feet_by_lot_stand_in_the_wood() {
    let mut made = 0;
    for seed in 930..960 {
        let mut lot = Lot(seed);
        let (wide, deep) = (lot.between(14.0, 70.0), lot.between(20.0, 300.0));
        let text = oak(&[("leg", [0.0, wide, 0.0, deep, 0.0, 400.0], "z")], "levelling_feet(leg);");
        let (job, problems) = worked("test", &text, &[]);
        if !problems.is_empty() {
            assert!(problems.contains("[breaks-through]"), "{problems}");
            continue;
        }
        made += 1;
        let (bore, deepness) = if wide.min(deep) < 20.0 { (8.0, 15.0) } else { (10.0, 18.0) };
        let count = if wide.max(deep) > 120.0 { 2.0 } else { 1.0 };
        near(removed(&job, 0), count * round(bore) * deepness);
    }
    assert!(made >= 20, "only {made} of 30 could be made");
}

/// A shop that works in inches buys 5/16-18 where another buys M8; its insert goes into a
/// bore of 1/2 by 3/4 (common practice, no source). A thread told stays as told.
#[test]
fn feet_and_inserts_in_inches_have_threads_by_the_inch() {
    let leg = |works: &str| {
        let boards = [("leg", [0.0, 3.0, 0.0, 3.0, 0.0, 16.0], "z")];
        good(&oak(&boards, works).replace("unit: \"mm\"", "unit: \"in\"").replace("[27, 34]", "[1, 4]"))
    };
    let feet = leg("levelling_feet(leg);");
    near(removed(&feet, 0), round(12.7) * 19.05);
    assert_eq!(called(&feet, 0), "1 levelling foot 5/16-18");
    let nut = leg("insert_nut(leg, #{ side: \"front\", left: 1, top: 2 });");
    near(removed(&nut, 0), round(9.525) * 15.875);
    assert_eq!(called(&nut, 0), "insert nut 1/4-20");
    let told = leg("insert_nut(leg, #{ size: \"M8\", side: \"front\", left: 1, top: 2 });");
    near(removed(&told, 0), round(10.0) * 18.0);
}

#[test]
fn clips_by_lot_hold_in_the_back() {
    let mut made = 0;
    for seed in 960..990 {
        let mut lot = Lot(seed);
        let (long, thick, high) =
            (lot.between(200.0, 1200.0), lot.between(14.0, 30.0), lot.between(30.0, 90.0));
        let count = 2 + lot.of(2);
        let text = oak(
            &[("rail", [0.0, long, 0.0, thick, 0.0, high], "x")],
            &format!(
                "frame_clips(rail, \"back\", #{{ count: {count}, screw: \"3.5x{}\" }});",
                10 + lot.of(10)
            ),
        );
        let (job, problems) = worked("test", &text, &[]);
        if !problems.is_empty() {
            assert!(
                ["breaks-through", "inserts-collide", "does-not-fit"].iter().any(|c| problems.contains(c)),
                "{problems}"
            );
            continue;
        }
        made += 1;
        let screw = &job.joints[0].inserts[1];
        assert_eq!((screw.at.len(), job.joints[0].inserts[0].at.len()), (2 * count, count));
        near(removed(&job, 0), 2.0 * count as f64 * round(2.45) * screw.body.as_ref().unwrap().to);
    }
    assert!(made >= 15, "only {made} of 30 could be made");
}

#[test]
fn points_stand_in_the_shoulders_behind_the_pane() {
    let text = oak(
        &[("stile", [0.0, 50.0, 0.0, 22.0, 0.0, 600.0], "z")],
        "let glass = pane(\"glass\", float, #{ x: [50, 400], y: [10, 14], z: [0, 600] });\n\
         rebate(glass, stile, #{ lap: 8, clearance: 1.5 });\nglass_points(glass, stile);",
    );
    let job = good(&text);
    let points = &job.joints[1].inserts[0];
    // 500 between points 50 from the corners, by 150 at most: four gaps.
    assert_eq!(points.at.len(), 5);
    for (k, at) in points.at.iter().enumerate() {
        near(at.origin.x, 42.0);
        near(at.origin.y, 14.0);
        near((at.origin.z - 300.0).abs(), (50.0 + 125.0 * k as f64 - 300.0).abs());
    }
}

/// A top on two rails under its long edges and one under an end.
fn table(thick: f64, deep: f64, works: &str) -> String {
    oak(
        &[
            ("front", [100.0, 900.0, 30.0, 55.0, 620.0, 700.0], "x"),
            ("end", [60.0, 85.0, 60.0, deep - 60.0, 620.0, 700.0], "y"),
            ("top", [0.0, 1000.0, 0.0, deep, 700.0, 700.0 + thick], "x"),
        ],
        works,
    )
}

/// Wood Handbook (FPL-GTR-190), ch. 13, Table 13-5: white oak, `C_T` 0.00365.
const OAK: f64 = 0.00365;

#[test]
fn buttons_by_lot_let_the_top_move() {
    let mut made = 0;
    for seed in 990..1020 {
        let mut lot = Lot(seed);
        let (thick, deep) = (lot.between(18.0, 32.0), lot.between(350.0, 700.0));
        let season = lot.between(1.0, 4.0);
        let text =
            table(thick, deep, &format!("buttons(top, [front, end], #{{ count: 2, season: {season:?} }});"));
        let (job, problems) = worked("test", &text, &[]);
        if !problems.is_empty() {
            assert!(problems.contains("[breaks-through]"), "{problems}");
            continue;
        }
        made += 1;
        clear_of_one_another(&job);
        let moves = 0.5 * deep * OAK * season;
        // Square to the front rail the slot is deeper, along the end rail longer.
        near(removed(&job, 0), 2.0 * stadium(34.5, 9.5) * (11.0 + moves));
        near(removed(&job, 1), 2.0 * stadium(34.5 + 2.0 * moves, 9.5) * 11.0);
        let screw = job.joints[0].inserts[1].body.as_ref().unwrap().to;
        near(removed(&job, 2), 4.0 * round(2.8) * (screw - 21.0));
    }
    assert!(made >= 20, "only {made} of 30 could be made");
}

#[test]
fn slotted_screws_give_way_where_the_top_moves() {
    let text = table(25.0, 500.0, "buttons(top, front, #{ by: \"slotted screws\", count: 3, move: 3 });");
    let job = good(&text);
    assert_eq!(called(&job, 0), "3 screws 4 × 40 in slots, top free to move 3 mm");
    let each = stadium(10.5, 4.5) * 20.0 + stadium(16.0, 10.0) * 60.0;
    near(removed(&job, 0), 3.0 * each);
    near(removed(&job, 2), 3.0 * round(2.8) * 20.0);
}

#[test]
fn fittings_that_do_not_fit_are_said_with_figures() {
    let shelf = |works: &str| oak(&[("shelf", [0.0, 900.0, 0.0, 220.0, 0.0, 30.0], "x")], works);
    let glazed = |y: &str, rebate: &str| {
        oak(
            &[("stile", [0.0, 50.0, 0.0, 22.0, 0.0, 600.0], "z")],
            &format!(
                "let glass = pane(\"glass\", float, #{{ x: [50, 400], y: {y}, z: [0, 600] }});\n{rebate}glass_points(glass, stile);"
            ),
        )
    };
    let cases = [
        ("rod too thick", problem(&shelf("wall_bracket(shelf, \"back\", #{ rod: \"24x140\" });"))),
        ("rod too long", problem(&shelf("wall_bracket(shelf, \"back\", #{ rod: \"12x215\" });"))),
        ("rod in a face", problem(&shelf("wall_bracket(shelf, \"top\");"))),
        ("plate too high", problem(&shelf("wall_bracket(shelf, \"back\", #{ plate: \"28x5\" });"))),
        (
            "plate too long",
            problem(&shelf("wall_bracket(shelf, \"back\", #{ plate: \"20x5\", inset: 30 });")),
        ),
        ("rod too short", warned(&shelf("wall_bracket(shelf, \"back\", #{ rod: \"12x90\" });"))),
        ("clip screw too long", problem(&shelf("frame_clips(shelf, \"front\", #{ screw: \"3.5x300\" });"))),
        ("clips on a face", problem(&shelf("frame_clips(shelf, \"top\");"))),
        ("too many clips", problem(&shelf("frame_clips(shelf, \"back\", #{ count: 30 });"))),
        ("glass in no rebate", problem(&glazed("[8, 12]", ""))),
        (
            "glass too deep in its rebate",
            problem(&glazed("[16, 20]", "rebate(glass, stile, #{ lap: 8 });\n")),
        ),
        ("rebate open to the front", problem(&glazed("[6, 10]", "rebate(glass, stile, #{ lap: 8 });\n"))),
        (
            "leg too thin for a foot",
            problem(&oak(&[("leg", [0.0, 12.0, 0.0, 60.0, 0.0, 400.0], "z")], "levelling_feet(leg);")),
        ),
        (
            "leg too low for a foot",
            problem(&oak(&[("leg", [0.0, 40.0, 0.0, 60.0, 0.0, 12.0], "x")], "levelling_feet(leg);")),
        ),
        (
            "foot above the floor",
            warned(&oak(
                &[
                    ("leg", [0.0, 40.0, 0.0, 60.0, 20.0, 400.0], "z"),
                    ("post", [40.0, 80.0, 0.0, 60.0, 0.0, 400.0], "z"),
                ],
                "butt(leg, post);\nlevelling_feet(leg);",
            )),
        ),
        (
            "too many feet",
            problem(&oak(
                &[("leg", [0.0, 40.0, 0.0, 60.0, 0.0, 400.0], "z")],
                "levelling_feet(leg, #{ count: 5 });",
            )),
        ),
        (
            "bore too narrow for its thread",
            problem(&oak(
                &[("leg", [0.0, 40.0, 0.0, 60.0, 0.0, 400.0], "z")],
                "levelling_feet(leg, #{ foot: \"M10\", bore: \"9x18\" });",
            )),
        ),
        ("button screw too long", problem(&table(22.0, 500.0, "buttons(top, front, #{ screw: \"4x60\" });"))),
        (
            "button screw too short",
            problem(&table(22.0, 500.0, "buttons(top, front, #{ screw: \"4x25\" });")),
        ),
        ("tongue too long", problem(&table(22.0, 500.0, "buttons(top, front, #{ tongue: \"9x24\" });"))),
        ("button too short", problem(&table(22.0, 500.0, "buttons(top, front, #{ button: \"25x20\" });"))),
        (
            "slots wider than the rail",
            problem(&table(22.0, 500.0, "buttons(top, front, #{ by: \"slotted screws\", move: 12 });")),
        ),
        (
            "species unknown",
            problem(&table(22.0, 500.0, "buttons(top, front);").replace(", species: \"white oak\"", "")),
        ),
    ];
    golden(file!(), &cases);
}
