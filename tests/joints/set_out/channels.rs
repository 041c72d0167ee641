//! Housings, grooves, rebates and tongues: every cut of both parts, worked by hand from
//! the rule of the word, and each refusal on both sides of its bound.

use crate::support::joints::{boards, good, shelf_and_side};
use crate::support::said::setting;
use crate::support::set_out::{Case, bound, bounds, check};

fn case<'c>(script: String, a: &'c [&'c str], b: &'c [&'c str]) -> Case<'c> {
    Case { script, a, b }
}

/// A shelf at the top of its side, so that it can lie in a rebate.
fn top_and_side(works: &str) -> String {
    boards(
        [[18.0, 618.0], [0.0, 300.0], [782.0, 800.0]],
        [[618.0, 636.0], [0.0, 300.0], [0.0, 800.0]],
        ["x", "z"],
        works,
    )
}

/// Two boards 600 high edge to edge, 100 and 20 wide and 18 thick.
fn edges(works: &str) -> String {
    boards(
        [[0.0, 100.0], [0.0, 18.0], [0.0, 600.0]],
        [[100.0, 120.0], [0.0, 18.0], [0.0, 600.0]],
        ["z", "z"],
        works,
    )
}

#[test]
fn housings_by_hand() {
    let s = shelf_and_side;
    // The shelf stands back from the front edge of the side.
    let back = |works: &str| s(works).replacen("y: [0.0", "y: [20.0", 1);
    check(&[
        case(
            s("housing(a, b);"),
            &["blank x 18..624 y 0..300 z 400..418"],
            &["housing x 618..624 y 0..300 z 400..418"],
        ),
        case(
            s("housing(a, b, #{ depth: 4, stop: 12 });"),
            &["blank x 18..622 y 0..300 z 400..418", "notch x 618..622 y 0..12 z 400..418"],
            &["housing x 618..622 y 12..300 z 400..418"],
        ),
        case(
            s("housing(a, b, #{ depth: 6, shoulder: 5 });"),
            &["shoulder x 618..624 y 0..300 z 413..418"],
            &["housing x 618..624 y 0..300 z 400..413"],
        ),
        case(
            s("housing(a, b, #{ depth: 6, shoulder: 5, shoulder_on: \"bottom\", stop: 10 });"),
            &["notch x 618..624 y 0..10 z 400..418", "shoulder x 618..624 y 0..300 z 400..405"],
            &["housing x 618..624 y 10..300 z 405..418"],
        ),
        case(back("housing(a, b, #{ stop: 12 });"), &[], &["housing x 618..624 y 20..300 z 400..418"]),
        case(
            back("housing(a, b, #{ stop: 21 });"),
            &["notch x 618..624 y 20..21 z 400..418"],
            &["housing x 618..624 y 21..300 z 400..418"],
        ),
        // Drawn two millimetres into the side it grows by what is wanting.
        case(
            s("housing(a, b, #{ depth: 6 });").replacen("618.0]", "620.0]", 1),
            &["blank x 18..624 y 0..300 z 400..418"],
            &["housing x 618..624 y 0..300 z 400..418"],
        ),
    ]);
}

#[test]
fn a_stop_is_told_from_the_front_of_its_side() {
    // A side whose front edge is 40 back: the channel begins 12 behind that, not 52 or 92.
    let text = shelf_and_side("housing(a, b, #{ depth: 6, stop: 12 });").replace("y: [0.0", "y: [40.0");
    let said = setting(&good(&text), 0);
    assert!(said.contains("12 mm") && !said.contains("52") && !said.contains("92"), "{said}");
}

#[test]
fn a_housed_board_comes_where_its_channel_is_open() {
    let ways = |script: String| {
        let mut ways: Vec<[i32; 3]> =
            good(&script).joints[0].ways_in.iter().map(|w| w.to_array().map(|v| v.round() as i32)).collect();
        ways.sort_unstable();
        ways
    };
    let s = shelf_and_side;
    let (straight, forwards, backwards) = ([-1, 0, 0], [0, -1, 0], [0, 1, 0]);
    assert_eq!(ways(s("housing(a, b);")), [straight, forwards, backwards]);
    assert_eq!(ways(s("housing(a, b, #{ stop: 12 });")), [straight, backwards]);
    let short = s("housing(a, b);").replacen("300.0]", "280.0]", 1);
    assert_eq!(ways(short), [straight, forwards]);
}

#[test]
fn grooves_and_rebates_by_hand() {
    let (s, t) = (shelf_and_side, top_and_side);
    check(&[
        case(
            s("groove(a, b, #{ depth: 8, slack: 1 });"),
            &["blank x 18..625 y 0..300 z 400..418"],
            &["groove x 618..626 y 0..300 z 400..418"],
        ),
        // A third of 18, and half a millimetre of room.
        case(
            s("groove(a, b);"),
            &["blank x 18..623.5 y 0..300 z 400..418"],
            &["groove x 618..624 y 0..300 z 400..418"],
        ),
        // A third of a post of 45 would be 15: ten at most.
        case(
            s("groove(a, b);").replace("636.0]", "663.0]"),
            &["blank x 18..627.5 y 0..300 z 400..418"],
            &["groove x 618..628 y 0..300 z 400..418"],
        ),
        case(
            t("rebate(a, b);"),
            &["blank x 18..627 y 0..300 z 782..800"],
            &["rebate x 618..627 y 0..300 z 782..800"],
        ),
        case(
            t("rebate(a, b, #{ lap: 10, clearance: 1 });"),
            &["blank x 18..628 y 0..300 z 782..800"],
            &["rebate x 618..629 y 0..300 z 782..800"],
        ),
        case(
            t("rebate(a, b, #{ lap: 5, depth: 20 });"),
            &["blank x 18..623 y 0..300 z 782..800"],
            &["rebate x 618..623 y 0..300 z 780..800"],
        ),
        // Drawn lying in the step nothing grows, unless the script says how far.
        case(
            t("rebate(a, b);").replacen("618.0]", "624.0]", 1),
            &["blank x 18..624 y 0..300 z 782..800"],
            &["rebate x 618..624 y 0..300 z 782..800"],
        ),
        case(
            t("rebate(a, b, #{ lap: 10 });").replacen("618.0]", "624.0]", 1),
            &["blank x 18..628 y 0..300 z 782..800"],
            &["rebate x 618..628 y 0..300 z 782..800"],
        ),
        // Short of the front edge, with room at its end; behind the step runs out.
        case(
            t("rebate(a, b, #{ lap: 9, clearance: 2 });").replacen("y: [0.0", "y: [40.0", 1),
            &["blank x 18..627 y 40..300 z 782..800"],
            &["rebate x 618..629 y 38..300 z 782..800"],
        ),
    ]);
}

#[test]
fn tongues_by_hand() {
    let e = edges;
    check(&[
        case(
            e("tongue(a, b);"),
            &["blank x 0..106 y 0..18 z 0..600", "2 shoulder x 100..106 y 0..6 12..18 z 0..600"],
            &["groove x 100..106.5 y 6..12 z 0..600"],
        ),
        case(
            e("tongue(a, b, #{ thick: 5, depth: 8, slack: 1, offset: 1.5, toward: \"back\" });"),
            &[
                "blank x 0..108 y 0..18 z 0..600",
                "shoulder x 100..108 y 13..18 z 0..600",
                "shoulder x 100..108 y 0..8 z 0..600",
            ],
            &["groove x 100..109 y 8..13 z 0..600"],
        ),
        // The other board ends 50 above the foot and 100 below the top of the first.
        case(
            e("tongue(a, b);").replacen(
                "120.0], y: [0.0, 18.0], z: [0.0, 600.0]",
                "120.0], y: [0.0, 18.0], z: [50.0, 500.0]",
                1,
            ),
            &[
                "2 shoulder x 100..106 y 0..6 12..18 z 0..600",
                "shoulder x 100..106 y 0..18 z 0..50",
                "shoulder x 100..106 y 0..18 z 500..600",
            ],
            &["groove x 100..106.5 y 6..12 z 50..500"],
        ),
        case(
            e("loose_tongue(a, b);"),
            &["groove x 90.5..100 y 6..12 z 0..600"],
            &["groove x 100..109.5 y 6..12 z 0..600"],
        ),
        case(
            e("loose_tongue(a, b, #{ tongue: \"4x20\", stop: 30, slack: 1, offset: 3, toward: \"front\" });"),
            &["groove x 89..100 y 4..8 z 30..570"],
            &["groove x 100..111 y 4..8 z 30..570"],
        ),
    ]);
}

#[test]
fn channels_at_their_bounds() {
    let (s, t, e) = (shelf_and_side, top_and_side, edges);
    let low = |works: &str| t(works).replace("z: [0.0, 800.0]", "z: [400.0, 800.0]");
    let toward = |thick: &str| format!("tongue(a, b, #{{ thick: {thick}, offset: @, toward: \"front\" }});");
    bounds(&[
        bound(s, "housing(a, b, #{ depth: @ });", ["17.9", "18"], "breaks-through"),
        bound(s, "housing(a, b, #{ stop: @ });", ["299.9", "300"], "nothing-left-to-house"),
        // Three millimetres are let in at least.
        bound(s, "housing(a, b, #{ shoulder: @ });", ["15", "15.1"], "nothing-left-to-house"),
        bound(
            s,
            "housing(a, b, #{ shoulder: 5, shoulder_on: @ });",
            ["\"top\"", "\"front\""],
            "no-such-edge",
        ),
        bound(s, "groove(a, b, #{ depth: @ });", ["17.9", "18"], "breaks-through"),
        bound(s, "groove(a, b, #{ depth: 4, slack: @ });", ["3.9", "4"], "nothing-held"),
        bound(t, "rebate(a, b, #{ lap: @ });", ["17.9", "18"], "breaks-through"),
        bound(low, "rebate(a, b, #{ depth: @ });", ["399.9", "400"], "breaks-through"),
        bound(t, "rebate(a, b, #{ depth: @ });", ["18", "17.9"], "parts-cross"),
        // Two millimetres stay beside a tongue, and behind its groove.
        bound(e, "tongue(a, b, #{ thick: @, depth: 6 });", ["14", "14.1"], "breaks-through"),
        bound(e, "tongue(a, b, #{ depth: @ });", ["17.5", "17.6"], "breaks-through"),
        bound(e, &toward("6"), ["4", "4.1"], "breaks-through"),
        bound(e, "tongue(a, b, #{ offset: 1, toward: @ });", ["\"back\"", "\"top\""], "missing-option"),
        bound(e, "loose_tongue(a, b, #{ tongue: @ });", ["\"6x4\"", "\"6x3.9\""], "does-not-fit"),
        bound(e, "loose_tongue(a, b, #{ stop: @ });", ["297.9", "298"], "does-not-fit"),
        bound(e, "loose_tongue(a, b, #{ tongue: \"6x@\" });", ["35", "35.1"], "breaks-through"),
    ]);
}
