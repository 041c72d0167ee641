//! Holes, slots, notches, bevels, tapers and rounds take what geometry says.

use rodwright::geometry::DVec3;
use rodwright::joinery::WorkedPart;

use crate::support::golden::golden;
use crate::support::joints::{problem, round, shelf_and_side, worked};

#[test]
fn shaping_takes_what_geometry_says() {
    let size = 600.0 * 300.0 * 18.0;
    let quarter = 4.0 * 36.0 - round(12.0);
    for (works, gone) in [
        (
            "hole(a, \"top\", #{ diameter: 10, along: [100, 200], across: 50, depth: 12 });",
            2.0 * round(10.0) * 12.0,
        ),
        ("slot(a, \"top\", #{ along: [100, 140], width: 8 });", (32.0 * 8.0 + round(8.0)) * 18.0),
        ("notch(a, #{ x: [18, 68], y: [0, 20] });", 50.0 * 20.0 * 18.0),
        ("bevel(a, \"left\", #{ angle: 45, long: \"top\" });", 0.5 * 18.0 * 18.0 * 300.0),
        ("taper(a, \"front\", #{ by: 30, toward: \"left\", start: 100 });", 0.5 * 500.0 * 30.0 * 18.0),
        ("chamfer(a, \"top\", #{ width: 3, edges: \"front\" });", 0.5 * 9.0 * 600.0),
        (
            "round_over(a, \"top\", #{ radius: 6, edges: [\"front\", \"back\"] });",
            2.0 * 0.25 * quarter * 600.0,
        ),
        (
            "outline(a, \"top\", #{ points: [[0, 0], [600, 0], [600, 300], #{ at: [300, 300], rise: 50 }, [200, 300], [0, 300]] });",
            -1.0,
        ),
        // It touches the edge of the blank at one corner alone.
        (
            "outline(a, \"top\", #{ points: [[300, 0], [500, 150], [300, 250], [100, 150]] });",
            (600.0 * 300.0 - 0.5 * 400.0 * 250.0) * 18.0,
        ),
        (
            "outline(a, \"top\", #{ points: [[0, 0], [600, 0], [600, 100], [0, 300]] });",
            0.5 * 600.0 * 200.0 * 18.0,
        ),
    ] {
        let (job, problems) = worked("test", &shelf_and_side(works), &[]);
        if gone < 0.0 {
            // The arc to the outside leaves the part.
            assert!(problems.starts_with("error[off-the-part]"), "{problems}");
            continue;
        }
        assert_eq!(problems, "", "{works}");
        assert!(job.joints.is_empty());
        let left = job.parts[0].solid.volume();
        assert!(
            (size - left - gone).abs() < 1e-6 * gone.max(1000.0),
            "{works}: {} is not {gone}",
            size - left
        );
    }
}

/// An outline that keeps 300 of the front and of the left edge, and nothing of the others.
const QUARTER: &str = "outline(a, \"top\", #{ points: [[0, 0], #{ at: [300, 0], rise: -60 }, [0, 300]] });\n";

/// The arrises that an outline leaves are worked, and one that it took is no arris: by hand, a
/// round of 3 along 300 takes 300 times what is left of a square of 3 round a quarter circle.
#[test]
fn arrises_that_an_outline_leaves_are_worked() {
    let volume = |works: &str| {
        let (job, problems) = worked("test", &shelf_and_side(&format!("{QUARTER}{works}")), &[]);
        (job.parts[0].solid.volume(), problems)
    };
    let (plain, _) = volume("");
    for (edges, whole) in [("back", false), ("right", false), ("front", true), ("left", true)] {
        let (rounded, problems) =
            volume(&format!("round_over(a, \"top\", #{{ radius: 3, edges: [\"{edges}\"] }});"));
        assert_eq!(problems.contains("error[arris-gone]"), !whole, "{edges}: {problems}");
        let takes = 300.0 * (9.0 - round(6.0) / 4.0);
        assert!(!whole || (plain - rounded - takes).abs() < 0.02 * takes, "{edges}: {}", plain - rounded);
    }
}

/// A disc is an outline of two half rounds.
#[test]
fn two_half_rounds_make_a_disc() {
    let works =
        "outline(a, \"top\", #{ points: [#{ at: [150, 150], rise: 140 }, #{ at: [430, 150], rise: 140 }] });";
    let (job, problems) = worked("test", &shelf_and_side(works), &[]);
    assert_eq!(problems, "");
    let disc = std::f64::consts::PI * 140.0 * 140.0 * 18.0;
    let share = job.parts[0].solid.volume() / disc;
    assert!((share - 1.0).abs() < 0.01, "{share}");
}

#[test]
fn what_cannot_be_shaped_is_said_with_figures() {
    let said = |works: &str| problem(&shelf_and_side(works));
    let cases = [
        (
            "outline that crosses itself",
            said("outline(a, \"top\", #{ points: [[0, 0], [600, 300], [600, 0], [0, 300]] });"),
        ),
        ("slot shorter than wide", said("slot(a, \"top\", #{ along: [100, 104], width: 8 });")),
        ("slot without a place", said("slot(a, \"top\", #{ width: 8 });")),
        // A quarter round leaves nothing of the straight back.
        (
            "arris that an outline took",
            said(&format!("{QUARTER}round_over(a, \"top\", #{{ radius: 3, edges: [\"back\"] }});")),
        ),
    ];
    golden(file!(), &cases);
}

/// The corners of a part where it stands, to a hundredth of a millimetre, in order.
fn stands(part: &WorkedPart, mirrored: bool) -> Vec<[i64; 3]> {
    let place = |p: &DVec3| {
        let p = part.at.point(*p);
        let x = if mirrored { 600.0 - p.x } else { p.x };
        #[expect(clippy::cast_possible_truncation, reason = "a few metres")]
        [x, p.y, p.z].map(|v| (v * 100.0).round() as i64)
    };
    let mut all: Vec<_> = part.solid.points.iter().map(place).collect();
    all.sort_unstable();
    all
}

/// The same points of an outline, counted in the same way, on the left and the right of a
/// piece, upright and leaning: one is the mirror image of the other.
#[test]
fn outlines_run_the_same_way_round_on_a_left_and_a_right_part() {
    let pair = |lean: [&str; 2], side: [&str; 2]| {
        let text = format!(
            "job(\"Test\", #{{ unit: \"mm\" }});\nlet pine = board_stock(\"Pine\", #{{ thick: [27, 34] }});\npiece(\"Piece\");\n\
             let left = board(\"Left\", pine, #{{ x: [0, 20], y: [0, 300], z: [0, 700], grain: \"z\"{} }});\n\
             let right = board(\"Right\", pine, #{{ x: [580, 600], y: [0, 300], z: [0, 700], grain: \"z\"{} }});\n\
             let shape = [[0, 0], [500, 0], #{{ at: [700, 120], rise: -25 }}, [700, 300], [0, 300], [0, 260], [60, 220], [0, 180]];\n\
             outline(left, \"{}\", #{{ points: shape }});\noutline(right, \"{}\", #{{ points: shape }});\n",
            lean[0], lean[1], side[0], side[1],
        );
        let (job, problems) = worked("test", &text, &[]);
        assert_eq!(problems, "");
        job
    };
    let size = 700.0 * 300.0 * 20.0;
    for (lean, side) in [
        (["", ""], ["right", "left"]),
        (["", ""], ["left", "right"]),
        ([", splay: -12, rake: 5", ", splay: 12, rake: 5"], ["left", "right"]),
        (
            [
                ", turn: [#{ axis: \"z\", by: 30, about: [0, 0, 0] }, #{ axis: \"x\", by: 7, about: [0, 0, 0] }]",
                ", turn: [#{ axis: \"z\", by: -30, about: [600, 0, 0] }, #{ axis: \"x\", by: 7, about: [0, 0, 0] }]",
            ],
            ["right", "left"],
        ),
    ] {
        let job = pair(lean, side);
        let [left, right] = [&job.parts[0], &job.parts[1]];
        assert_eq!(stands(left, false), stands(right, true), "{lean:?}");
        // Turned over, one is the other: both are cut from one pattern.
        assert_eq!(left.number, right.number, "{lean:?}");
        assert!(left.solid.volume() < size - 4000.0);
    }
    // The foot is where it is counted from: the shape is cut out there, not at the top.
    let upright = pair(["", ""], ["right", "left"]);
    for part in &upright.parts {
        let tip = part.solid.points.iter().map(|p| part.at.point(*p)).find(|p| (p.z - 60.0).abs() < 1e-6);
        assert!(tip.is_some_and(|p| (p.y - 220.0).abs() < 1e-6), "{}: {tip:?}", part.name);
    }
}

/// Bevels, tapers and holes on a part that leans are those of the part that stands
/// upright.
#[test]
fn shaping_a_part_that_leans_takes_as_much_as_upright() {
    let shaped = |lean: &str, works: &str| {
        let text = format!(
            "job(\"Test\", #{{ unit: \"mm\" }});\nlet pine = board_stock(\"Pine\", #{{ thick: [27, 34] }});\npiece(\"Piece\");\n\
             let a = board(\"a\", pine, #{{ x: [0, 20], y: [0, 300], z: [0, 700], grain: \"z\"{lean} }});\n{works}\n"
        );
        let (job, problems) = worked("test", &text, &[]);
        assert_eq!(problems, "", "{works}");
        job.parts[0].solid.volume()
    };
    for works in [
        "bevel(a, \"top\", #{ angle: 20, long: \"left\" });",
        "taper(a, \"front\", #{ by: 40, toward: \"bottom\" });",
        "hole(a, \"left\", #{ diameter: 12, along: [100, 200], across: 50 });",
        "chamfer(a, \"left\", #{ width: 3, edges: \"front\" });",
        "outline(a, \"right\", #{ points: [[0, 0], [700, 0], #{ at: [700, 300], rise: -30 }, [0, 300]] });",
    ] {
        let upright = shaped("", works);
        for lean in [", splay: 9, rake: -6", ", turn: #{ axis: [1, 2, 3], by: 25, about: \"bottom\" }"] {
            let leaning = shaped(lean, works);
            assert!((upright - leaning).abs() < 1e-5 * upright, "{works} {lean}: {leaning}, not {upright}");
        }
    }
}
