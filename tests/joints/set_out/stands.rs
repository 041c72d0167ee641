//! Where what a joint needs stands, and how what it hangs opens: worked by hand from the
//! rule of the word.

use rodwright::geometry::DVec3;
use rodwright::joinery::Opening;

use crate::support::joints::{boards, good, rail_and_leg, shelf_and_side};

/// Where the inserts of each kind stand, in order along the piece.
fn places(script: &str) -> Vec<Vec<[f64; 3]>> {
    let job = good(script);
    let exact = |at: DVec3| at.to_array().map(|v| (v * 1000.0).round() / 1000.0 + 0.0);
    let sorted = |mut all: Vec<[f64; 3]>| {
        all.sort_by(|a, b| a.partial_cmp(b).unwrap());
        all
    };
    let inserts = job.joints.iter().flat_map(|joint| &joint.inserts);
    inserts.map(|insert| sorted(insert.at.iter().map(|at| exact(at.origin)).collect())).collect()
}

/// A door beside or before its side.
fn door(x: [f64; 2], y: [f64; 2], side: [f64; 2], works: &str) -> String {
    boards([x, y, [2.0, 398.0]], [side, [0.0, 280.0], [0.0, 400.0]], ["z", "z"], works)
}

#[test]
fn inserts_stand_where_the_cuts_are() {
    let s = shelf_and_side;
    assert_eq!(
        places(&s("loose_tenons(a, b, #{ tenon: \"8x40\" });")),
        [[[618.0, 75.0, 409.0], [618.0, 225.0, 409.0]]]
    );
    assert_eq!(
        places(&s("dowels(a, b, #{ dowel: \"8x30\", count: 2, inset: 50 });")),
        [[[618.0, 50.0, 409.0], [618.0, 250.0, 409.0]]]
    );
    assert_eq!(places(&s("biscuits(a, b, #{ size: \"0\", count: 1 });")), [[[618.0, 150.0, 409.0]]]);
    // The head at the outside of the side, or at the bottom of its counterbore; the plug
    // begins at the outside.
    assert_eq!(places(&s("screws(b, a, #{ screw: \"4x40\", count: 1 });")), [[[636.0, 150.0, 409.0]]]);
    assert_eq!(
        places(&s("screws(b, a, #{ screw: \"4x40\", count: 1, plug: 8 });")),
        [[[630.0, 150.0, 409.0]], [[636.0, 150.0, 409.0]]]
    );
    assert_eq!(places(&rail_and_leg("pegs: 1")), [[[417.667, 0.0, 615.0]]]);
}

#[test]
fn what_hangs_a_door_stands_and_turns_about_its_pin() {
    // In the middle of a gap of 1.5, at the front; screws with their heads flush
    // in leaves 2 thick, which lie in recesses 2 deep.
    let butt = door([21.5, 400.0], [0.0, 20.0], [0.0, 20.0], "butt_hinges(a, b, #{ count: 1, screws: 2 });");
    assert_eq!(
        places(&butt),
        [
            vec![[20.75, 0.0, 200.0]],
            vec![[20.0, 7.0, 182.0], [20.0, 7.0, 218.0], [21.5, 7.0, 182.0], [21.5, 7.0, 218.0]]
        ]
    );
    let cup =
        door([2.0, 400.0], [-20.0, -2.0], [0.0, 18.0], "cup_hinges(a, b, #{ count: 2, from_end: 80 });");
    assert_eq!(
        places(&cup),
        [[[24.5, -2.0, 82.0], [24.5, -2.0, 318.0]], [[18.0, 37.0, 82.0], [18.0, 37.0, 318.0]]]
    );
    let about = |script: &str| match good(script).joints[0].opens {
        Some(Opening::Swings { about, axis, toward, by }) => {
            (about.to_array(), axis.abs().to_array(), toward.to_array(), by)
        }
        ref other => panic!("{other:?}"),
    };
    // Half of the knuckle before the faces; the arris of the front.
    let (up, forwards) = ([0.0, 0.0, 1.0], [0.0, -1.0, 0.0]);
    assert_eq!(about(&butt), ([20.75, -2.75, 200.0], up, forwards, 90.0));
    assert_eq!(about(&cup), ([2.0, -20.0, 200.0], up, forwards, 90.0));
    let drawer = boards(
        [[30.7, 42.7], [0.0, 450.0], [30.0, 130.0]],
        [[0.0, 18.0], [0.0, 480.0], [0.0, 400.0]],
        ["y", "y"],
        "runners(a, b);",
    );
    assert_eq!(places(&drawer), [[[30.7, 225.0, 80.0]]]);
    assert_eq!(good(&drawer).joints[0].opens, Some(Opening::Slides { toward: DVec3::NEG_Y, by: 450.0 }));
}

#[test]
fn fittings_stand_on_their_faces() {
    let over = |works: &str| {
        boards(
            [[21.5, 398.0], [0.0, 20.0], [21.5, 498.0]],
            [[20.0, 400.0], [0.0, 200.0], [0.0, 20.0]],
            ["z", "x"],
            works,
        )
    };
    // Blocks 10 high on the bottom, 6 behind the back; the heads of their screws on top.
    assert_eq!(
        places(&over("stop(a, b);")),
        [[[81.5, 26.0, 20.0], [338.0, 26.0, 20.0]], [[81.5, 26.0, 30.0], [338.0, 26.0, 30.0]]]
    );
    let top = boards(
        [[-20.0, 920.0], [0.0, 500.0], [700.0, 722.0]],
        [[0.0, 900.0], [30.0, 55.0], [620.0, 700.0]],
        ["x", "x"],
        "buttons(a, [b], #{ move: 3, count: 1 });",
    );
    // The shoulder 3 off the rail, the screw under a block of 21 half way along what lies
    // under the top.
    assert_eq!(places(&top), [[[450.0, 58.0, 700.0]], [[450.0, 74.0, 679.0]]]);
    let shelf = boards(
        [[0.0, 900.0], [0.0, 220.0], [0.0, 36.0]],
        [[0.0, 900.0], [0.0, 220.0], [500.0, 536.0]],
        ["x", "x"],
        "wall_bracket(a, \"back\", #{ count: 2, inset: 80 });",
    );
    let rods = [[80.0, 220.0, 18.0], [820.0, 220.0, 18.0]];
    assert_eq!(places(&shelf), [rods, rods]);
}
