//! Holes, slots, notches, arrises and rows of screws: worked by hand from the rule of
//! the word, and each refusal on both sides of its bound.

use crate::support::joints::{boards, shelf_and_side};
use crate::support::set_out::{Case, bound, bounds, check};

/// A side 18 thick, 280 deep and 400 high, and a board clear of it.
fn side(works: &str) -> String {
    boards(
        [[0.0, 18.0], [0.0, 280.0], [0.0, 400.0]],
        [[500.0, 518.0], [0.0, 280.0], [0.0, 400.0]],
        ["z", "z"],
        works,
    )
}

/// Two panels of 600 by 300 face to face, each 18 thick.
fn stacked(works: &str) -> String {
    boards(
        [[0.0, 600.0], [0.0, 300.0], [18.0, 36.0]],
        [[0.0, 600.0], [0.0, 300.0], [0.0, 18.0]],
        ["x", "x"],
        works,
    )
}

#[test]
fn holes_and_slots_by_hand() {
    check(&[
        Case {
            script: side("hole(a, \"right\", #{ diameter: 5, along: [64, 96], across: 37, depth: 12 });"),
            a: &["2 hole x 6..18 y 34.5..39.5 z 61.5..66.5 93.5..98.5"],
            b: &[],
        },
        // The same two by places, the second alone.
        Case {
            script: side("hole(a, \"right\", #{ diameter: 5, at: [[64, 37], [96, 40]], depth: 12 });"),
            a: &["2 hole x 6..18 y 34.5..39.5 37.5..42.5 z 61.5..66.5 93.5..98.5"],
            b: &[],
        },
        Case {
            script: side("hole(a, \"right\", #{ diameter: 5, at: [64, 37], depth: 12 });"),
            a: &["hole x 6..18 y 34.5..39.5 z 61.5..66.5"],
            b: &[],
        },
        Case {
            script: side("hole(a, \"left\", #{ diameter: 8, depth: 4 });"),
            a: &["hole x 0..4 y 136..144 z 196..204"],
            b: &[],
        },
        Case {
            script: side("slot(a, \"right\", #{ along: [40, 80], width: 8 });"),
            a: &["slot x 0..18 y 136..144 z 40..80"],
            b: &[],
        },
        // In an edge across is from the face mark, which looks inwards: to the right.
        Case {
            script: side("slot(a, \"front\", #{ along: [100, 150], width: 6, across: 5, depth: 20 });"),
            a: &["slot x 10..16 y 0..20 z 100..150"],
            b: &[],
        },
        Case {
            script: side("notch(a, #{ y: [0, 50], z: [0, 90] });"),
            a: &["notch x 0..18 y 0..50 z 0..90"],
            b: &[],
        },
        Case {
            script: side("notch(a, #{ x: [10, 30], y: [270, 290], z: [100, 200] });"),
            a: &["notch x 10..18 y 270..280 z 100..200"],
            b: &[],
        },
    ]);
    bounds(&[
        bound(side, "hole(a, \"right\", #{ diameter: 5, across: @ });", ["2.5", "2.4"], "off-the-part"),
        bound(side, "hole(a, \"right\", #{ diameter: 5, across: @ });", ["277.5", "277.6"], "off-the-part"),
        bound(side, "hole(a, \"right\", #{ diameter: 5, along: [@] });", ["397.5", "397.6"], "off-the-part"),
        bound(
            side,
            "hole(a, \"right\", #{ diameter: 5, at: [@, 100] });",
            ["397.5", "397.6"],
            "off-the-part",
        ),
        bound(
            side,
            "hole(a, \"right\", #{ diameter: 5, at: [[40, 100], [100, @]] });",
            ["277.5", "277.6"],
            "off-the-part",
        ),
        bound(side, "hole(a, \"right\", #{ diameter: 5, depth: @ });", ["18", "18.1"], "breaks-through"),
        bound(side, "slot(a, \"right\", #{ width: 8, along: [40, @] });", ["48", "47.9"], "bad-slot"),
        bound(side, "slot(a, \"right\", #{ width: 8, along: [@, 80] });", ["0", "-0.1"], "off-the-part"),
        bound(side, "notch(a, #{ y: [@, 300] });", ["279.9", "280"], "off-the-part"),
        bound(side, "notch(a, #{ y: [-20, @] });", ["0.1", "0"], "off-the-part"),
    ]);
}

#[test]
fn arrises_at_their_bounds() {
    // On the narrow edge arrises to left and right share 18.
    bounds(&[
        bound(
            side,
            "chamfer(a, \"right\", #{ width: @, edges: \"front\" });",
            ["17.9", "18"],
            "nothing-left",
        ),
        bound(
            side,
            "chamfer(a, \"front\", #{ width: @, edges: [\"left\", \"right\"] });",
            ["8.9", "9"],
            "nothing-left",
        ),
        bound(
            side,
            "round_over(a, \"front\", #{ radius: @, edges: \"left\" });",
            ["17.9", "18"],
            "nothing-left",
        ),
        bound(side, "round_over(a, \"front\", #{ radius: @ });", ["8.9", "9"], "nothing-left"),
        // 400 by the tangent of 2.57° is 17.95.
        bound(side, "bevel(a, \"right\", #{ angle: @, long: \"top\" });", ["2.57", "2.58"], "nothing-left"),
        bound(side, "bevel(a, \"right\", #{ angle: 1, long: @ });", ["\"top\"", "\"left\""], "no-such-edge"),
        bound(side, "taper(a, \"right\", #{ by: @, toward: \"top\" });", ["17.9", "18"], "nothing-left"),
        bound(
            side,
            "taper(a, \"right\", #{ by: 5, toward: \"top\", start: @ });",
            ["399.9", "400"],
            "nothing-left",
        ),
    ]);
}

#[test]
fn rows_of_screws_by_hand() {
    check(&[
        // In the corners: 40 from the ends and 20 from the edges.
        Case {
            script: stacked("screws(a, b, #{ screw: \"4x30\", rows: 2, count: 2 });"),
            a: &["4 screw hole x 38..42 558..562 y 18..22 278..282 z 18..36"],
            b: &["4 screw hole x 38.6..41.4 558.6..561.4 y 18.6..21.4 278.6..281.4 z 6..18"],
        },
        // The middle row stands between the others.
        Case {
            script: stacked(
                "screws(a, b, #{ screw: \"4x30\", rows: 3, count: 3, staggered: true, edge: 30 });",
            ),
            a: &[
                "8 screw hole x 38..42 168..172 298..302 428..432 558..562 y 28..32 148..152 268..272 z 18..36",
            ],
            b: &[
                "8 screw hole x 38.6..41.4 168.6..171.4 298.6..301.4 428.6..431.4 558.6..561.4 y 28.6..31.4 148.6..151.4 268.6..271.4 z 6..18",
            ],
        },
        Case {
            script: stacked("screws(a, b, #{ screw: \"4x30\", count: 1, offset: 100, toward: \"right\" });"),
            a: &["screw hole x 398..402 y 148..152 z 18..36"],
            b: &["screw hole x 398.6..401.4 y 148.6..151.4 z 6..18"],
        },
    ]);
    bounds(&[
        // Half of 4 and a wall.
        bound(
            stacked,
            "screws(a, b, #{ screw: \"4x30\", rows: 2, edge: @ });",
            ["5", "4.9"],
            "too-near-the-edge",
        ),
        // Four diameters from row to row.
        bound(
            stacked,
            "screws(a, b, #{ screw: \"4x30\", rows: 2, edge: @ });",
            ["142", "142.1"],
            "inserts-collide",
        ),
        bound(
            stacked,
            "screws(a, b, #{ screw: \"4x30\", rows: 2, staggered: true, count: @ });",
            ["2", "1"],
            "contradiction",
        ),
        bound(stacked, "screws(a, b, #{ screw: \"4x@\" });", ["36", "36.1"], "breaks-through"),
    ]);
}

#[test]
fn lippings_at_their_bounds() {
    let lip = |options: &str| shelf_and_side(&format!("lipping(a, \"front\", pine, #{{ {options} }});"));
    let narrow = |options: &str| lip(options).replacen("300.0]", "60.0]", 1);
    check(&[Case { script: lip("thick: 8"), a: &["blank x 18..618 y 8..300 z 400..418"], b: &[] }]);
    bounds(&[
        bound(narrow, "thick: @", ["59.9", "60"], "nothing-left"),
        // Half a millimetre of edge stays, of the thickness or of half the width.
        bound(lip, "thick: 6, chamfer: @", ["5.5", "5.6"], "nothing-left"),
        bound(lip, "thick: 12, chamfer: @", ["8.5", "8.6"], "nothing-left"),
        // 18 by the tangent of 17 degrees is 5.503.
        bound(lip, "thick: 6, bevel: @", ["16.9", "17"], "nothing-left"),
        bound(lip, "thick: 6, bevel: 5, long: @", ["\"top\"", "\"front\""], "no-such-edge"),
    ]);
}
