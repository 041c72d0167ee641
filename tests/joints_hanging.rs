//! Hanging cleats and panels that move. Volumes are closed forms derived beside
//! each. `UPDATE=1` writes the messages anew.

use rodwright::geometry::trig;

use super::joints::{clear_of_one_another, golden, good, near, problem, removed, round, worked};
use super::support::lot::Lot;
use super::support::said::{called, item};

/// A rail 18 thick from 300 to 400 high with a hung half standing on a wall half
/// behind it, at the height `level`.
fn cleat(thick: f64, high: [f64; 2], rail: f64, works: &str) -> String {
    let level = 340.0;
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet pine = board_stock(\"Pine\", #{{ thick: [27, 34] }});\n\
         piece(\"Piece\");\n\
         let rail = board(\"rail\", pine, #{{ x: [0, 800], y: [{:?}, 0], z: [300, 420], grain: \"x\" }});\n\
         let hung = board(\"hung\", pine, #{{ x: [20, 780], y: [0, {thick:?}], z: [{level:?}, {:?}], grain: \"x\" }});\n\
         let wall = board(\"wall\", pine, #{{ x: [20, 780], y: [0, {thick:?}], z: [{:?}, {level:?}], grain: \"x\" }});\n\
         {works}\n",
        -rail,
        level + high[0],
        level - high[1],
    )
}

#[test]
fn a_cleat_hooks_at_its_bevel() {
    let job =
        good(&cleat(20.0, [50.0, 70.0], 24.0, "hanging_cleat(hung, wall, rail, #{ screw: \"4.5x40\" });"));
    // 680 between screws 40 from the ends by 200 at most: five. 40 - 20 in the rail.
    assert_eq!(called(&job, 0), "5 screws 4.5 × 40");
    assert_eq!(called(&job, 1), "hangs on a cleat, bevel 45°, 3 wall fixings");
    near(removed(&job, 0), 5.0 * round(3.15) * 20.0);
    // At 45 degrees the strip grows by its thickness and gives half of that.
    near(job.parts[1].size.y.max(job.parts[1].size.z), 70.0);
    let triangle = 0.5 * 20.0 * 20.0 * 760.0;
    near(removed(&job, 1), triangle + 5.0 * round(4.5) * 20.0);
    near(removed(&job, 2), triangle + 3.0 * round(6.5) * 20.0);
    let fixings = &job.joints[1].inserts[0];
    assert_eq!((item(fixings).as_str(), fixings.at.len()), ("wall fixing ⌀ 6, rated for wall and load", 3));
}

#[test]
fn cleats_by_lot_hook_and_hold() {
    let mut made = 0;
    for seed in 700..740 {
        let mut lot = Lot(seed);
        let (thick, rail) = (lot.between(15.0, 28.0), lot.between(12.0, 40.0));
        let high = [lot.between(40.0, 75.0), lot.between(45.0, 90.0)];
        let bevel = [30.0, 45.0, 52.0][lot.of(3)];
        let hole = lot.between(4.0, 9.0);
        let works =
            format!("hanging_cleat(hung, wall, rail, #{{ bevel: {bevel:?}, fixing_hole: {hole:?} }});");
        let (job, problems) = worked("test", &cleat(thick, high, rail, &works), &[]);
        if problems.contains("error[") {
            assert!(
                problems.contains("[screw-too-short]") || problems.contains("[does-not-fit]"),
                "{problems}"
            );
            continue;
        }
        made += 1;
        clear_of_one_another(&job);
        let (sin, cos) = trig::sin_cos(f64::to_radians(bevel));
        let triangle = 0.5 * thick * thick * sin / cos * 760.0;
        let n = job.joints[0].inserts[0].at.len() as f64;
        near(removed(&job, 1), triangle + n * round(4.5) * thick);
        let n = job.joints[1].inserts[0].at.len() as f64;
        near(removed(&job, 2), triangle + n * round(hole) * thick);
    }
    assert!(made >= 20, "only {made} of 40 could be made");
}

/// A panel of white ash between two stiles, as wide as said.
fn panel(wide: f64, stock: &str, works: &str) -> String {
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet ash = board_stock(\"Ash\", #{{ {stock} }});\npiece(\"Piece\");\n\
         let left = board(\"left\", ash, #{{ x: [-60, 0], y: [0, 22], z: [0, 700], grain: \"z\" }});\n\
         let right = board(\"right\", ash, #{{ x: [{wide:?}, {:?}], y: [0, 22], z: [0, 700], grain: \"z\" }});\n\
         let panel = board(\"panel\", ash, #{{ x: [0, {wide:?}], y: [7, 15], z: [0, 700], grain: \"z\" }});\n{works}\n",
        wide + 60.0
    )
}

/// Wood Handbook (FPL-GTR-190), ch. 13, Table 13-5: white ash, `C_T` 0.00274.
const ASH: f64 = 0.00274;

#[test]
fn panels_by_lot_have_room_for_the_season() {
    let mut held = 0;
    for seed in 800..840 {
        let mut lot = Lot(seed);
        let wide = lot.between(150.0, 900.0).round();
        let season = lot.between(1.0, 5.0);
        let depth = lot.between(8.0, 18.0);
        let works = format!(
            "for m in [left, right] {{ groove(panel, m, #{{ depth: {depth:?}, move: true, season: {season:?} }}); }}"
        );
        let (job, problems) = worked("test", &panel(wide, "species: \"white ash\"", &works), &[]);
        let swells = 0.5 * wide * ASH * season;
        let gap = ((swells + 0.5) * 2.0 - 1e-9).ceil() / 2.0;
        if gap > depth - 0.02 {
            assert!(problems.contains("[nothing-held]"), "{problems}");
            continue;
        }
        assert!(!problems.contains("error["), "{problems}");
        assert_eq!(
            problems.contains("[groove-too-shallow]"),
            depth - gap - swells < 3.0 - 1e-6,
            "{problems}"
        );
        held += 1;
        clear_of_one_another(&job);
        // Room at each edge: what it swells and half a millimetre, less than one more.
        let left = 0.5 * (wide + 2.0 * depth - job.parts[2].size.y);
        near(left, gap);
        assert!(left >= swells + 0.5 - 1e-9 && left < swells + 1.0 + 1e-9);
        near(removed(&job, 0), depth * 8.0 * 700.0);
    }
    assert!(held >= 20, "only {held} of 40 were held");
}

/// Message and help of the one warning of a script that is made all the same.
pub(crate) fn warned(text: &str) -> String {
    let (_, problems) = worked("test", text, &[]);
    assert!(problems.ends_with("\n1 warning\n"), "{problems}");
    let said = problems.lines().filter(|l| l.starts_with("warning") || l.contains("= help"));
    said.map(|l| l.trim_start().to_owned() + "\n").collect()
}

#[test]
fn hangings_and_panels_that_cannot_be_are_said_with_figures() {
    let hung = |works: &str| problem(&cleat(20.0, [50.0, 70.0], 24.0, works));
    let cases = [
        problem(&cleat(20.0, [50.0, 30.0], 24.0, "hanging_cleat(hung, wall, rail);")),
        problem(&cleat(20.0, [50.0, 70.0], 6.0, "hanging_cleat(hung, wall, rail);")),
        hung("hanging_cleat(hung, wall, rail, #{ screw: \"5x60\" });"),
        hung("hanging_cleat(hung, wall, rail, #{ screw: \"5x25\" });"),
        hung("hanging_cleat(wall, hung, rail);"),
        hung("hanging_cleat(hung, rail, wall);"),
        hung("hanging_cleat(hung, wall, rail, #{ bevel: 80 });"),
        problem(&cleat(20.0, [50.0, 70.0], 24.0, "hanging_cleat(hung, wall, rail);").replace(
            "\"wall\", pine, #{ x: [20, 780], y: [0, 20.0]",
            "\"wall\", pine, #{ x: [20, 780], y: [0, 25.0]",
        )),
        warned(
            &cleat(20.0, [50.0, 70.0], 24.0, "hanging_cleat(hung, wall, rail);")
                .replace("\"wall\", pine, #{ x: [20, 780]", "\"wall\", pine, #{ x: [320, 480]"),
        ),
        problem(&panel(600.0, "", "groove(panel, left, #{ move: true });")),
        warned(&panel(600.0, "species: \"white ash\"", "groove(panel, left, #{ depth: 8, move: true });")),
        warned(&panel(600.0, "species: \"white ash\"", "groove(panel, left, #{ depth: 12, gap: 1 });")),
        problem(&panel(600.0, "species: \"white ash\"", "groove(panel, left, #{ depth: 3, move: true });")),
    ];
    golden("tests/joints_hanging_problems.txt", &cases);
}
