//! What holds a door shut and what it is opened by: every hole, worked by hand from the
//! rule of the word, and each refusal on both sides of its bound.

use crate::support::joints::{boards, good};
use crate::support::said::item;
use crate::support::set_out::{Case, bound, bounds, check};

/// A door 376.5 wide and 20 thick that passes the bottom of its case 1.5 off.
fn over(works: &str) -> String {
    boards(
        [[21.5, 398.0], [0.0, 20.0], [21.5, 498.0]],
        [[20.0, 400.0], [0.0, 200.0], [0.0, 20.0]],
        ["z", "x"],
        works,
    )
}

/// The same door in front of the bottom, against which it shuts.
fn before(works: &str) -> String {
    boards(
        [[21.5, 398.0], [-20.0, 0.0], [0.0, 498.0]],
        [[20.0, 400.0], [0.0, 200.0], [0.0, 20.0]],
        ["z", "x"],
        works,
    )
}

/// The front of a drawer, so wide and so thick, and a board clear of it.
fn front(wide: f64, thick: f64, works: &str) -> String {
    boards(
        [[0.0, wide], [0.0, thick], [0.0, 180.0]],
        [[0.0, 300.0], [100.0, 120.0], [300.0, 480.0]],
        ["x", "x"],
        works,
    )
}

#[test]
fn stops_by_hand() {
    check(&[
        // Two on a long front, 60 from the ends; the middle of the block 6 behind the
        // back; 10 of the screw are in the block.
        Case {
            script: over("stop(a, b);"),
            a: &[],
            b: &["2 fitting hole x 80.275..82.725 336.775..339.225 y 24.775..27.225 z 10..20"],
        },
        // One in the middle, a quarter of it off for each pin; 2 of felt.
        Case {
            script: over("stop(a, b, #{ count: 1, by: \"pins\", clearance: 2 });"),
            a: &[],
            b: &["2 fitting hole x 199.15..200.35 219.15..220.35 y 27.4..28.6 z 10..20"],
        },
    ]);
    let blocks = |to: &str| good(&over("stop(a, b);").replacen("398.0]", to, 1)).parts[1].cuts.len();
    assert_eq!([blocks("271.5]"), blocks("271.6]")], [1, 2]);
    let deep = |to: &str| over("stop(a, b);").replace("200.0]", to);
    let gap = |z: &str| over("stop(a, b, #{ block: \"40x12\" });").replacen("z: [21.5", z, 1);
    bounds(&[
        (deep("32.0]"), deep("31.9]"), "does-not-fit"),
        (gap("z: [27.9"), gap("z: [28.1"), "parts-do-not-meet"),
        bound(over, "stop(a, b, #{ fixing: \"3.5x@\" });", ["18", "17.9"], "screw-too-short"),
        bound(over, "stop(a, b, #{ fixing: \"3.5x@\" });", ["29", "29.1"], "breaks-through"),
        bound(over, "stop(a, b, #{ block: \"40x@\" });", ["4.5", "4.4"], "does-not-fit"),
        bound(over, "stop(a, b, #{ count: 1, inset: @ });", ["20", "19.9"], "does-not-fit"),
        bound(over, "stop(a, b, #{ count: 2, inset: @ });", ["168.25", "168.3"], "does-not-fit"),
        (over("stop(a, b);"), before("stop(a, b);"), "no-such-stop"),
    ]);
}

#[test]
fn catches_by_hand() {
    check(&[
        // The plate of 1.5 and half of 14 behind the back, screws 32 apart; the plate's
        // screw level with the middle of a magnet 13 high.
        Case {
            script: over("catch_plate(a, b);"),
            a: &["fitting hole x 208.75..210.75 y 10..20 z 25.5..27.5"],
            b: &["2 fitting hole x 192.75..194.75 224.75..226.75 y 27.5..29.5 z 10..20"],
        },
        // In a door of 11 its screw leaves 3.
        Case {
            script: over("catch_plate(a, b, #{ plate: 2, body: \"50x20\", centres: 40 });").replacen(
                "[0.0, 20.0]",
                "[0.0, 11.0]",
                1,
            ),
            a: &["fitting hole x 208.75..210.75 y 3..11 z 25.5..27.5"],
            b: &["2 fitting hole x 188.75..190.75 228.75..230.75 y 22..24 z 10..20"],
        },
        // A ball in the middle of the edge, its plate as long as its screws are apart and
        // 12, and 1 deep.
        Case {
            script: over("catch_plate(a, b, #{ kind: \"ball\" });"),
            a: &["fitting hole x 205.75..213.75 y 6..14 z 21.5..35.5"],
            b: &[
                "2 fitting hole x 192.75..194.75 224.75..226.75 y 9..11 z 9..20",
                "slot x 187.75..231.75 y 4..16 z 19..20",
            ],
        },
        // A magnet in the middle of what the door covers of the bottom.
        Case {
            script: before("catch_plate(a, b);"),
            a: &["fitting hole x 208.75..210.75 y -10..0 z 9..11"],
            b: &["fitting hole x 205.75..213.75 y 0..14 z 6..14"],
        },
    ]);
    let deep = |to: &str| over("catch_plate(a, b);").replace("200.0]", to);
    let gap = |z: &str| over("catch_plate(a, b, #{ kind: \"ball\" });").replacen("z: [21.5", z, 1);
    bounds(&[
        (deep("35.5]"), deep("35.4]"), "does-not-fit"),
        (gap("z: [20.5"), gap("z: [20.4"), "wrong-clearance"),
        (gap("z: [24.0"), gap("z: [24.1"), "wrong-clearance"),
        bound(over, "catch_plate(a, b, #{ centres: @ });", ["40", "40.1"], "does-not-fit"),
        bound(over, "catch_plate(a, b, #{ inset: @ });", ["23", "22.9"], "does-not-fit"),
        bound(
            over,
            "catch_plate(a, b, #{ kind: \"ball\", bore: \"@x14\" });",
            ["14", "14.1"],
            "breaks-through",
        ),
        bound(before, "catch_plate(a, b, #{ bore: \"@x14\" });", ["14", "14.1"], "breaks-through"),
        bound(over, "catch_plate(a, b, #{ @ });", ["centres: 30", "bore: \"8x10\""], "contradiction"),
        bound(before, "catch_plate(a, b, #{ @ });", ["bore: \"8x10\"", "centres: 30"], "contradiction"),
        bound(before, "catch_plate(a, b, #{ kind: @ });", ["\"magnetic\"", "\"ball\""], "no-such-catch"),
    ]);
}

#[test]
fn handles_by_hand() {
    let one = |works: &str| front(300.0, 20.0, works);
    check(&[
        Case { script: one("knob(a);"), a: &["fitting hole x 147.5..152.5 y 0..20 z 87.5..92.5"], b: &[] },
        Case {
            script: one("knob(a, #{ right: 40, top: 120, hole: 6 });"),
            a: &["fitting hole x 257..263 y 0..20 z 57..63"],
            b: &[],
        },
        // Level on a wide front, three steps of 32 apart.
        Case {
            script: one("pull(a, #{ left: 100 });"),
            a: &["2 fitting hole x 49.5..54.5 145.5..150.5 y 0..20 z 87.5..92.5"],
            b: &[],
        },
        Case {
            script: one("pull(a, #{ centres: 64, upright: true });"),
            a: &["2 fitting hole x 147.5..152.5 y 0..20 z 55.5..60.5 119.5..124.5"],
            b: &[],
        },
        Case {
            script: one("insert_nut(a, #{ side: \"back\", top: 60 });"),
            a: &["fitting hole x 146..154 y 5..20 z 116..124"],
            b: &[],
        },
        Case {
            script: one("insert_nut(a, #{ size: \"M4\", bottom: 30, left: 20 });"),
            a: &["fitting hole x 17..23 y 0..10 z 27..33"],
            b: &[],
        },
    ]);
    // As high as wide it is level; narrower it stands.
    let ways = |wide: f64| {
        let cuts = &good(&front(wide, 20.0, "pull(a);")).parts[0].cuts;
        (cuts[0].shape.at.origin - cuts[1].shape.at.origin).abs().to_array().map(|v| v.round() as i32)
    };
    assert!(ways(180.0) != ways(179.9));
    // The bolt goes 6 into the knob, and is one on sale in steps of 5.
    let bolt = |thick: f64| item(&good(&front(300.0, thick, "knob(a);")).joints[0].inserts[1]);
    assert!(bolt(19.0).contains("4 × 25") && bolt(19.1).contains("4 × 30"), "{} {}", bolt(19.0), bolt(19.1));
    bounds(&[
        bound(one, "knob(a, #{ right: @ });", ["5.5", "5.4"], "breaks-through"),
        bound(one, "knob(a, #{ top: @ });", ["174.5", "174.6"], "breaks-through"),
        bound(one, "knob(a, #{ left: 50, @: 50 });", ["top", "right"], "contradictory"),
        bound(one, "knob(a, #{ @: 50 });", ["top", "back"], "no-such-edge"),
        bound(one, "insert_nut(a, #{ bore: \"8x@\" });", ["17", "17.1"], "breaks-through"),
        bound(one, "insert_nut(a, #{ bore: \"@x12\" });", ["6.6", "6.5"], "does-not-fit"),
    ]);
}
