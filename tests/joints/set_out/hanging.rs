//! Buttons, rods, clips and feet: every hole, worked by hand from the rule of the word,
//! and each refusal on both sides of its bound.

use crate::support::joints::{boards, good};
use crate::support::set_out::{Case, bound, bounds, check};

/// A top 22 thick, whose edge moves 3, on a rail 25 thick and 80 high.
fn top_and_rail(works: &str) -> String {
    boards(
        [[-20.0, 920.0], [0.0, 500.0], [700.0, 722.0]],
        [[0.0, 900.0], [30.0, 55.0], [620.0, 700.0]],
        ["x", "x"],
        works,
    )
}

/// A shelf 220 deep and 36 thick, and a board that stands clear of it.
fn shelf(works: &str) -> String {
    boards(
        [[0.0, 900.0], [0.0, 220.0], [0.0, 36.0]],
        [[0.0, 900.0], [0.0, 220.0], [500.0, 536.0]],
        ["x", "x"],
        works,
    )
}

/// The rail of a picture frame, and a board that stands clear of it.
fn frame_rail(works: &str) -> String {
    boards(
        [[0.0, 600.0], [0.0, 22.0], [0.0, 50.0]],
        [[0.0, 900.0], [0.0, 22.0], [500.0, 536.0]],
        ["x", "x"],
        works,
    )
}

/// A leg 400 high of so much by so much.
fn leg(wide: f64, deep: f64, works: &str) -> String {
    boards(
        [[0.0, wide], [0.0, deep], [0.0, 400.0]],
        [[500.0, 545.0], [0.0, 45.0], [0.0, 400.0]],
        ["z", "z"],
        works,
    )
}

#[test]
fn buttons_by_hand() {
    // 75 from the ends in three steps of 250. A slot is as long as a button is wide and
    // its tongue thick and half a millimetre, as wide as the tongue and as much, and as
    // deep as the tongue reaches and the top moves and 1. The longest screw that leaves
    // 3 of the top is 40, of which the block takes 21.
    check(&[
        Case {
            script: top_and_rail("buttons(a, [b], #{ move: 3 });"),
            a: &["4 screw hole x 73.6..76.4 323.6..326.4 573.6..576.4 823.6..826.4 y 72.6..75.4 z 700..719"],
            b: &[
                "4 mortise x 57.75..92.25 307.75..342.25 557.75..592.25 807.75..842.25 y 41..55 z 678.5..688",
            ],
        },
        Case {
            script: top_and_rail(
                "buttons(a, [b], #{ move: 2, count: 1, button: \"30x40\", tongue: \"8x12\", down: 20, screw: \"5x40\" });",
            ),
            a: &["screw hole x 448.25..451.75 y 68.25..71.75 z 700..712"],
            b: &["mortise x 430.75..469.25 y 40..55 z 671.5..680"],
        },
    ]);
    let on = top_and_rail;
    // 72 high: a slot of 9.5 and a wall below it leave 59.5.
    let low = |works: &str| on(works).replace("620.0", "628.0");
    bounds(&[
        bound(on, "buttons(a, [b], #{ move: @ });", ["11", "11.1"], "breaks-through"),
        bound(on, "buttons(a, [b], #{ move: 3, button: \"25x@\" });", ["25", "24.9"], "does-not-fit"),
        bound(
            low,
            "buttons(a, [b], #{ move: 3, screw: \"4x85\", down: @ });",
            ["59.5", "59.6"],
            "breaks-through",
        ),
        bound(on, "buttons(a, [b], #{ move: 3, screw: \"4x@\" });", ["40", "40.1"], "breaks-through"),
        bound(on, "buttons(a, [b], #{ move: 3, screw: \"4x@\" });", ["29", "28.9"], "screw-too-short"),
    ]);
}

#[test]
fn rods_of_a_bracket_by_hand() {
    // Twelve thick at most, two thirds of 220 in steps of 5 long; 100 from the ends and
    // 350 apart.
    let bores = "3 fitting hole x 93.75..106.25 443.75..456.25 793.75..806.25 y 73..220 z 11.75..24.25";
    check(&[
        Case { script: shelf("wall_bracket(a, \"back\");"), a: &[bores], b: &[] },
        // A plate 750 long, its recess longer by its own height.
        Case {
            script: shelf("wall_bracket(a, \"back\", #{ plate: \"30x5\" });"),
            a: &[bores, "mortise x 60..840 y 215..220 z 3..33"],
            b: &[],
        },
        // In a thin shelf half its thickness, cut down.
        Case {
            script: shelf("wall_bracket(a, \"back\", #{ count: 2, inset: 80 });")
                .replacen("36.0]", "19.0]", 1),
            a: &["2 fitting hole x 75.25..84.75 815.25..824.75 y 73..220 z 4.75..14.25"],
            b: &[],
        },
    ]);
    bounds(&[
        bound(shelf, "wall_bracket(a, \"back\", #{ rod: \"@x140\" });", ["27.5", "27.6"], "breaks-through"),
        bound(shelf, "wall_bracket(a, \"back\", #{ rod: \"12x@\" });", ["208", "208.1"], "breaks-through"),
        bound(shelf, "wall_bracket(a, \"back\", #{ rod: \"12x@\" });", ["110", "109.9"], "bracket-too-short"),
        bound(shelf, "wall_bracket(a, \"back\", #{ plate: \"@x5\" });", ["30", "30.1"], "breaks-through"),
        bound(
            shelf,
            "wall_bracket(a, \"back\", #{ plate: \"20x5\", inset: @ });",
            ["38", "37.9"],
            "breaks-through",
        ),
        bound(shelf, "wall_bracket(a, @);", ["\"back\"", "\"top\""], "no-such-edge"),
        bound(shelf, "wall_bracket(a, \"back\", #{ inset: @ });", ["25", "24.9"], "too-near-the-edge"),
    ]);
}

#[test]
fn clips_and_feet_by_hand() {
    // 80 from the ends; two screws 30 apart in each, the longest that leaves 3 of 22.
    let clips = "4 fitting hole x 63.775..66.225 93.775..96.225 503.775..506.225 533.775..536.225 y 6..22 z 23.775..26.225";
    check(&[
        Case { script: frame_rail("frame_clips(a, \"back\");"), a: &[clips], b: &[] },
        Case {
            script: leg(45.0, 45.0, "levelling_feet([a]);"),
            a: &["fitting hole x 17..27 y 17.5..27.5 z 0..18"],
            b: &[],
        },
        // Thinner than 20: the thinner thread.
        Case {
            script: leg(45.0, 19.9, "levelling_feet([a]);"),
            a: &["fitting hole x 18..26 y 5.95..13.95 z 0..15"],
            b: &[],
        },
        Case {
            script: leg(120.0, 20.0, "levelling_feet([a]);"),
            a: &["fitting hole x 55..65 y 5..15 z 0..18"],
            b: &[],
        },
        // Longer than 120 two of them, a quarter of it from the ends.
        Case {
            script: leg(122.0, 30.0, "levelling_feet([a], #{ foot: \"M10\" });"),
            a: &["2 fitting hole x 25..37 85..97 y 9..21 z 0..22"],
            b: &[],
        },
        Case {
            script: leg(400.0, 30.0, "levelling_feet([a], #{ count: 3 });"),
            a: &["3 fitting hole x 35..45 195..205 355..365 y 10..20 z 0..18"],
            b: &[],
        },
    ]);
    let low = |to: &str| leg(45.0, 45.0, "levelling_feet([a]);").replacen("400.0]", to, 1);
    let thin = |deep: f64| leg(45.0, deep, "levelling_feet([a], #{ foot: \"M8\" });");
    let feet = |works: &str| leg(200.0, 45.0, &format!("levelling_feet([a], #{{ count: 2, {works} }});"));
    bounds(&[
        bound(
            frame_rail,
            "frame_clips(a, \"back\", #{ screw: \"3.5x@\" });",
            ["19", "19.1"],
            "breaks-through",
        ),
        bound(frame_rail, "frame_clips(a, @);", ["\"front\"", "\"top\""], "no-such-hanging"),
        (low("21.0]"), low("20.9]"), "breaks-through"),
        (thin(16.0), thin(15.9), "breaks-through"),
        bound(feet, "inset: @", ["8", "7.9"], "inserts-collide"),
        bound(feet, "inset: @", ["93.5", "93.6"], "inserts-collide"),
    ]);
    assert_eq!(good(&leg(120.1, 45.0, "levelling_feet([a]);")).parts[0].cuts.len(), 2);
}

/// A strip `a` that hangs on a strip `b` at the wall, 20 thick, and the rail that it is
/// screwed to.
fn cleats(options: &str) -> String {
    boards(
        [[20.0, 580.0], [18.0, 38.0], [340.0, 390.0]],
        [[20.0, 580.0], [18.0, 38.0], [280.0, 340.0]],
        ["x", "x"],
        &format!(
            "let c = board(\"c\", pine, #{{ x: [0, 600], y: [0, 18], z: [300, 400], grain: \"x\" }}); hanging_cleat(a, b, c, #{{ {options} }});"
        ),
    )
}

#[test]
fn cleats_by_hand() {
    // 45 degrees fall 20 in 20, by which the strip is longer. Screws 40 from the ends and
    // 160 apart, on the middle of what lies on the rail; fixings 240 apart, half way up
    // what stands at the wall.
    check(&[Case {
        script: cleats(""),
        a: &[
            "blank x 20..580 y 18..38 z 320..390",
            "bevel x 20..580 y 18..38 z 320..390",
            "4 screw hole x 57.75..62.25 217.75..222.25 377.75..382.25 537.75..542.25 y 18..38 z 362.75..367.25",
        ],
        b: &[
            "bevel x 20..580 y 18..38 z 280..340",
            "3 fitting hole x 56.75..63.25 296.75..303.25 536.75..543.25 y 18..38 z 296.75..303.25",
        ],
    }]);
    let wall = |z: &str| cleats("").replace("z: [280.0, 340.0]", z);
    let strip = |z: &str| cleats("").replace("z: [340.0, 390.0]", z);
    let short = |x: &str| {
        let (a, b) = ("x: [20.0, 580.0], y: [18.0, 38.0], z: [280", "y: [18.0, 38.0], z: [280");
        cleats("").replace(a, &format!("{x}, {b}"))
    };
    bounds(&[
        // The fall, a hole of 6.5 and a wall on either side.
        (wall("z: [307.5, 340.0]"), wall("z: [307.6, 340.0]"), "does-not-fit"),
        (strip("z: [340.0, 350.5]"), strip("z: [340.0, 350.4]"), "does-not-fit"),
        (short("x: [20.0, 320.0]"), short("x: [20.0, 319.9]"), "cleat-too-short"),
        // Two diameters in the rail at least, and not out of it.
        bound(cleats, "screw: \"4.5x@\"", ["29", "28.9"], "screw-too-short"),
        bound(cleats, "screw: \"4.5x@\"", ["37.9", "38"], "breaks-through"),
    ]);
}
