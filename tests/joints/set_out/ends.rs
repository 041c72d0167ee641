//! Tenons, bridles, halvings, fingers and dovetails: every cut of both parts, worked by
//! hand from the rule of the word, and each refusal on both sides of its bound.

use crate::support::assert_near;
use crate::support::joints::{boards, good, rail_and_leg as wide_leg};
use crate::support::set_out::{Case, bound, bounds, check};

/// A rail 22 thick and 100 wide against the middle of a leg of 45.
fn rail_and_leg(works: &str) -> String {
    boards(
        [[45.0, 600.0], [10.0, 32.0], [600.0, 700.0]],
        [[0.0, 45.0], [0.0, 45.0], [0.0, 800.0]],
        ["x", "z"],
        works,
    )
}

/// The same with the leg as high as the rail.
fn at_the_top(works: &str) -> String {
    rail_and_leg(works).replace("800.0]", "700.0]")
}

/// Two rails of 60 by 24 drawn through one another at a corner.
fn corner(works: &str) -> String {
    boards(
        [[0.0, 400.0], [0.0, 24.0], [0.0, 60.0]],
        [[0.0, 60.0], [0.0, 24.0], [0.0, 600.0]],
        ["x", "z"],
        works,
    )
}

/// The side and the front of a box, 18 and 20 thick and so high.
fn side_and_front(high: f64, works: &str) -> String {
    boards(
        [[0.0, 18.0], [0.0, 400.0], [0.0, high]],
        [[0.0, 500.0], [0.0, 20.0], [0.0, high]],
        ["y", "x"],
        works,
    )
}

#[test]
fn tenons_by_hand() {
    // A third of 22 is nearest 8; 6 of shoulder; two thirds of 45 long and 2 to spare.
    check(&[
        Case {
            script: rail_and_leg("mortise_tenon(a, b);"),
            a: &[
                "blank x 15..600 y 10..32 z 600..700",
                "2 shoulder x 15..45 y 10..17 25..32 z 600..700",
                "2 shoulder x 15..45 y 10..32 z 600..606 694..700",
            ],
            b: &["mortise x 13..45 y 17..25 z 606..694"],
        },
        // The haunch a third of the rail wide, as deep as the tenon is thick.
        Case {
            script: at_the_top("mortise_tenon(a, b, #{ haunch: \"top\" });"),
            a: &[
                "shoulder x 15..37 y 10..32 z 667..700",
                "2 shoulder x 15..45 y 10..17 25..32 z 600..700",
                "shoulder x 15..45 y 10..32 z 600..606",
            ],
            b: &["mortise x 35..45 y 17..25 z 667..700", "mortise x 13..45 y 17..25 z 606..667"],
        },
        Case {
            script: rail_and_leg("mortise_tenon(a, b, #{ through: true, width: 60 });"),
            a: &[
                "blank x 0..600 y 10..32 z 600..700",
                "2 shoulder x 0..45 y 10..17 25..32 z 600..700",
                "2 shoulder x 0..45 y 10..32 z 600..620 680..700",
            ],
            b: &["mortise x 0..45 y 17..25 z 620..680"],
        },
        // Each of twins a fifth of 22, nearest 4, with 4 between them.
        Case {
            script: rail_and_leg("mortise_tenon(a, b, #{ twin: true });"),
            a: &[
                "shoulder x 15..45 y 19..23 z 606..694",
                "2 shoulder x 15..45 y 10..15 27..32 z 600..700",
                "2 shoulder x 15..45 y 10..32 z 600..606 694..700",
            ],
            b: &["2 mortise x 13..45 y 15..19 23..27 z 606..694"],
        },
        Case {
            script: rail_and_leg(
                "mortise_tenon(a, b, #{ thickness: 6, shoulder: 10, depth: 20, offset: 3, toward: \"front\" });",
            ),
            a: &[
                "shoulder x 25..45 y 10..15 z 600..700",
                "shoulder x 25..45 y 21..32 z 600..700",
                "2 shoulder x 25..45 y 10..32 z 600..610 690..700",
            ],
            b: &["mortise x 23..45 y 15..21 z 610..690"],
        },
    ]);
}

#[test]
fn tenons_at_their_bounds() {
    let (m, t) = (rail_and_leg, at_the_top);
    let front = |works: &str| m(works).replace("[10.0, 32.0]", "[0.0, 22.0]");
    bounds(&[
        // Two millimetres of shoulder are sawn at least, or none.
        bound(m, "mortise_tenon(a, b, #{ thickness: @ });", ["18", "18.1"], "tenon-too-thick"),
        bound(m, "mortise_tenon(a, b, #{ thickness: @ });", ["22", "22.1"], "tenon-too-thick"),
        bound(m, "mortise_tenon(a, b, #{ shoulder: @ });", ["2", "1.9"], "tenon-too-wide"),
        bound(m, "mortise_tenon(a, b, #{ width: @ });", ["96", "96.1"], "tenon-too-wide"),
        bound(m, "mortise_tenon(a, b, #{ width: @ });", ["100", "100.1"], "tenon-too-wide"),
        // 2 to spare and 3 of wood behind it.
        bound(m, "mortise_tenon(a, b, #{ depth: @ });", ["40", "40.1"], "breaks-through"),
        bound(
            front,
            "mortise_tenon(a, b, #{ offset: @, toward: \"front\" });",
            ["4", "4.1"],
            "breaks-through",
        ),
        bound(t, "mortise_tenon(a, b, #{ shoulder: @ });", ["3", "2.9"], "breaks-through"),
        // Half as far again from the end as it is thick.
        bound(t, "mortise_tenon(a, b, #{ shoulder: @ });", ["12", "11.9"], "short-grain"),
        bound(
            t,
            "mortise_tenon(a, b, #{ haunch: \"top\", haunch_depth: @ });",
            ["27.9", "28"],
            "does-not-fit",
        ),
        bound(m, "mortise_tenon(a, b, #{ haunch: \"top\", haunch_width: @ });", ["2.1", "2"], "does-not-fit"),
        bound(t, "mortise_tenon(a, b, #{ haunch: @ });", ["\"top\"", "\"front\""], "no-such-edge"),
    ]);
    // Whole millimetres of two thirds.
    let long = |leg: f64| {
        let text =
            m("mortise_tenon(a, b);").replace("x: [0.0, 45.0]", &format!("x: [{:?}, 45.0]", 45.0 - leg));
        good(&text).parts[0].size.x - 555.0
    };
    for (leg, tenon) in [(44.9, 29.0), (45.0, 30.0), (46.4, 30.0), (46.6, 31.0)] {
        assert_near(long(leg), tenon, 1e-9);
    }
}

#[test]
fn bridles_and_halvings_by_hand() {
    check(&[
        Case {
            script: corner("bridle(a, b);"),
            a: &["2 shoulder x 0..60 y 0..8 16..24 z 0..60"],
            b: &["open mortise x 0..60 y 8..16 z 0..60"],
        },
        Case {
            script: corner("bridle(a, b, #{ thickness: 6, offset: 2, toward: \"front\" });"),
            a: &["shoulder x 0..60 y 0..7 z 0..60", "shoulder x 0..60 y 13..24 z 0..60"],
            b: &["open mortise x 0..60 y 7..13 z 0..60"],
        },
        // The first lies in front.
        Case {
            script: corner("halving(a, b);"),
            a: &["halving x 0..60 y 12..24 z 0..60"],
            b: &["halving x 0..60 y 0..12 z 0..60"],
        },
        Case {
            script: corner("halving(a, b, #{ depth: 8, over: \"back\" });"),
            a: &["halving x 0..60 y 0..8 z 0..60"],
            b: &["halving x 0..60 y 8..24 z 0..60"],
        },
    ]);
    let wide_fork =
        |works: &str| corner(works).replacen("60.0], y: [0.0, 24.0]", "60.0], y: [-6.0, 30.0]", 1);
    bounds(&[
        bound(corner, "bridle(a, b, #{ thickness: @ });", ["18", "18.1"], "tenon-too-thick"),
        bound(corner, "bridle(a, b, #{ offset: @, toward: \"back\" });", ["5", "5.1"], "tenon-too-thick"),
        bound(wide_fork, "bridle(a, b, #{ thickness: @ });", ["24", "24.1"], "tenon-too-thick"),
        bound(corner, "halving(a, b, #{ depth: @ });", ["21", "21.1"], "too-little-left"),
        bound(corner, "halving(a, b, #{ depth: @ });", ["3", "2.9"], "too-little-left"),
    ]);
}

#[test]
fn fingers_by_hand() {
    let box_of = |works: &str| side_and_front(120.0, works);
    check(&[
        // Six widths of 20 and one more to share at the ends.
        Case {
            script: box_of("finger_joint(a, b, #{ width: 20 });"),
            a: &["3 finger socket x 0..18 y 0..20 z 10..30 50..70 90..110"],
            b: &[
                "2 finger socket x 0..18 y 0..20 z 0..10 110..120",
                "2 finger socket x 0..18 y 0..20 z 30..50 70..90",
            ],
        },
        Case {
            script: box_of("finger_joint(a, b, #{ count: 4, start: \"second\" });"),
            a: &["2 finger socket x 0..18 y 0..20 z 0..30 60..90"],
            b: &["2 finger socket x 0..18 y 0..20 z 30..60 90..120"],
        },
    ]);
    let fingers = |high: f64| {
        let job = good(&side_and_front(high, "finger_joint(a, b);"));
        job.parts.iter().map(|part| part.cuts.len()).sum::<usize>()
    };
    // One more than twice the whole number of pairs 18 thick.
    assert_eq!([35.9, 36.0, 107.9, 108.0].map(fingers), [3, 3, 5, 7]);
    bounds(&[
        bound(box_of, "finger_joint(a, b, #{ width: @ });", ["60", "60.1"], "does-not-fit"),
        bound(box_of, "finger_joint(a, b, #{ count: 6, width: @ });", ["24", "24.1"], "does-not-fit"),
        bound(box_of, "finger_joint(a, b, #{ count: @ });", ["40", "41"], "fingers-too-thin"),
        bound(box_of, "finger_joint(a, b, #{ width: @ });", ["54", "54.1"], "few-fingers"),
    ]);
}

#[test]
fn dovetails_by_hand() {
    let box_of = |works: &str| side_and_front(120.0, works);
    check(&[
        // A thirteenth of 120 to half a millimetre is 9; three tails of 28 leave 9 for
        // the half-pins. One in seven over 20 is 2.86.
        Case {
            script: box_of("dovetails(a, b);"),
            a: &[
                "2 pin socket x 0..18 y 0..20 z 0..11.857 108.143..120",
                "2 pin socket x 0..18 y 0..20 z 34.143..48.857 71.143..85.857",
            ],
            b: &["3 tail socket x 0..18 y 0..20 z 9..37 46..74 83..111"],
        },
        // No lap is none.
        Case {
            script: box_of("dovetails(a, b, #{ lap: 0, count: 1, half_pin: 20 });"),
            a: &["2 pin socket x 0..18 y 0..20 z 0..22.857 97.143..120"],
            b: &["tail socket x 0..18 y 0..20 z 20..100"],
        },
        // Behind a lap of 5 the board is that much shorter; one in seven over 15.
        Case {
            script: box_of("dovetails(a, b, #{ lap: 5 });"),
            a: &[
                "blank x 0..18 y 5..400 z 0..120",
                "2 pin socket x 0..18 y 5..20 z 0..11.143 108.857..120",
                "2 pin socket x 0..18 y 5..20 z 34.857..48.143 71.857..85.143",
            ],
            b: &["3 tail socket x 0..18 y 5..20 z 9..37 46..74 83..111"],
        },
    ]);
    let tails = |high: f64| good(&side_and_front(high, "dovetails(a, b);")).parts[1].cuts.len();
    assert_eq!([125.9, 126.1].map(tails), [3, 4]);
    bounds(&[
        bound(box_of, "dovetails(a, b, #{ lap: @ });", ["3", "2.9"], "breaks-through"),
        bound(box_of, "dovetails(a, b, #{ lap: @ });", ["17", "17.1"], "does-not-fit"),
        bound(
            box_of,
            "dovetails(a, b, #{ lap: 5, kind: @ });",
            ["\"lapped\"", "\"through\""],
            "contradiction",
        ),
        bound(box_of, "dovetails(a, b, #{ pin: @ });", ["3", "2.9"], "pins-too-thin"),
        bound(box_of, "dovetails(a, b, #{ half_pin: @ });", ["3", "2.9"], "pins-too-thin"),
        bound(box_of, "dovetails(a, b, #{ count: 3, half_pin: @ });", ["37.9", "38"], "does-not-fit"),
        bound(box_of, "dovetails(a, b, #{ count: 1, half_pin: @ });", ["15", "14.9"], "few-dovetails"),
    ]);
}

#[test]
fn pegs_and_wedges_by_hand() {
    // A tenon of 12 by 78 by 53 from 576 up; a third of its length from the shoulder, in
    // whole millimetres 20 and 58 along it.
    check(&[Case {
        script: wide_leg("pegs: 2"),
        a: &[
            "blank x 0..453 y 10..50 z 570..660",
            "2 peg hole x 413.667..421.667 y 10..50 z 592..600 630..638",
            "2 shoulder x 400..453 y 10..24 36..50 z 570..660",
            "2 shoulder x 400..453 y 10..50 z 570..576 654..660",
        ],
        b: &[
            "mortise x 400..455 y 24..36 z 576..654",
            "2 peg hole x 413.667..421.667 y 0..60 z 592..600 630..638",
        ],
    }]);
    let thick = |width: &str| {
        let job = good(&wide_leg(&format!("pegs: 1, width: {width}")));
        let hole = job.parts[1].cuts.iter().find(|cut| cut.kind.name() == "peg hole").unwrap();
        let (low, high) = hole.shape.outline.bounds().unwrap();
        (high.x - low.x).round() as i32
    };
    assert_eq!([thick("40"), thick("39.9")], [8, 6]);
    let wedged = |options: &str| wide_leg(&format!("through: true, wedges: 2{options}"));
    let high = |to: &str| wedged("").replace("700.0]", to);
    bounds(&[
        // One and a half times as thick from the shoulder and once behind it: a third of 53.
        bound(wide_leg, "pegs: 1, peg: @", ["17.66", "17.7"], "breaks-through"),
        bound(wide_leg, "pegs: 1, drawbore: @", ["2", "2.1"], "does-not-fit"),
        bound(wide_leg, "pegs: @", ["5", "6"], "does-not-fit"),
        bound(wedged, ", wedge: \"4x@\"", ["12", "12.1"], "wedge-too-wide"),
        bound(wedged, ", wedge: \"@x12\"", ["1.5", "1.4"], "does-not-fit"),
        // Opened by 5.5 with 3 left.
        (high("662.5]"), high("662.4]"), "breaks-through"),
    ]);
}
