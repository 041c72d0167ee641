//! Finger joints and dovetails: two boards that fill a corner together. Volumes
//! are closed forms; slopes are those of the trade, 1:6 and 1:8 (common
//! practice, no source), whose angles are their arc tangents.

use rodwright::geometry::{DVec3, trig};
use rodwright::joinery::{WorkedJob, WorkedPart};
use rodwright::solid::Standing;

use crate::support::golden::golden;
use crate::support::joints::{boards, clear_of_one_another, good, near, problem, removed, warned, worked};
use crate::support::lot::Lot;
use crate::support::said::{called, setting};

/// A side `a` of 300 and a front `b` of 400 that make the left front corner of
/// a box `high`, each as thick as said.
fn corner(thick: (f64, f64), high: f64, works: &str) -> String {
    boards(
        [[0.0, thick.0], [0.0, 300.0], [0.0, high]],
        [[0.0, 400.0], [0.0, thick.1], [0.0, high]],
        ["y", "x"],
        works,
    )
}

/// What both boards keep is the L they were drawn as: nothing is lost, nothing
/// is in both.
fn fills(job: &WorkedJob, whole: f64) {
    let kept: f64 = job.parts.iter().map(|p| p.solid.volume()).sum();
    near(kept, whole);
}

/// Area on which the two boards touch, mm2.
fn touching(job: &WorkedJob) -> f64 {
    let stands = |p: &WorkedPart| Standing::new(&p.solid, &p.at);
    stands(&job.parts[0]).contacts(&stands(&job.parts[1])).iter().map(|c| c.area).sum()
}

/// Places along z where corners of a part lie on the plane `on` of axis
/// `axis`, rising.
fn heights(part: &WorkedPart, axis: usize, on: f64) -> Vec<f64> {
    let all = part.solid.points.iter().map(|p| part.at.point(*p));
    let mut z: Vec<f64> = all.filter(|p| (p[axis] - on).abs() < 1e-6).map(|p| p.z).collect();
    z.sort_by(f64::total_cmp);
    z.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    z
}

#[test]
fn fingers_share_the_corner_evenly() {
    // 100 over 9 fingers where nothing is said: 2 x floor(100 / 24) + 1.
    let job = good(&corner((12.0, 12.0), 100.0, "finger_joint(a, b);"));
    assert_eq!(called(&job, 0), "9 fingers 11.1 mm wide");
    near(removed(&job, 0), 4.0 * 100.0 / 9.0 * 12.0 * 12.0);
    near(removed(&job, 1), 5.0 * 100.0 / 9.0 * 12.0 * 12.0);
    fills(&job, 100.0 * (300.0 * 12.0 + 388.0 * 12.0));
    // Eight faces between fingers, and nine where one ends on the other board.
    near(touching(&job), 8.0 * 12.0 * 12.0 + 100.0 * 12.0);
    // The blanks reach to the outside, so that the list has them that long.
    assert!(job.parts[0].size.abs_diff_eq(DVec3::new(300.0, 100.0, 12.0), 1e-9));
}

#[test]
fn a_cutter_sets_the_width_and_the_outer_fingers_take_the_rest() {
    let job = good(&corner((12.0, 15.0), 100.0, "finger_joint(a, b, #{ width: 12, start: \"second\" });"));
    // Nine in all, as ten would be even: seven of 12 and 8 at either end.
    assert_eq!(called(&job, 0), "9 fingers 12 mm wide, outer 8 mm");
    let marks: Vec<f64> = (0..8).map(|k| 8.0 + 12.0 * f64::from(k)).collect();
    let found = heights(&job.parts[0], 1, 0.0);
    assert_eq!(found.len(), 8);
    found.iter().zip(&marks).for_each(|(z, mark)| near(*z, *mark));
    // The second board begins: it keeps 8 + 3 x 12 + 8.
    near(removed(&job, 0), 52.0 * 12.0 * 15.0);
    near(removed(&job, 1), 48.0 * 12.0 * 15.0);
}

#[test]
fn a_lower_board_is_fingered_where_it_stands() {
    // A drawer's back stands on the bottom's groove and is lower than the side.
    let text = boards(
        [[0.0, 12.0], [0.0, 300.0], [0.0, 120.0]],
        [[0.0, 400.0], [0.0, 12.0], [20.0, 110.0]],
        ["y", "x"],
        "finger_joint(a, b, #{ count: 5 });",
    );
    let job = good(&text);
    near(removed(&job, 0), 2.0 * 18.0 * 144.0);
    near(removed(&job, 1), 3.0 * 18.0 * 144.0);
    assert_eq!(heights(&job.parts[0], 1, 0.0), [0.0, 38.0, 56.0, 74.0, 92.0, 120.0]);
}

#[test]
fn dovetails_slope_one_in_six_and_one_in_eight() {
    for (pitch, degrees) in [(6.0, 9.46), (8.0, 7.13)] {
        let works = format!("dovetails(a, b, #{{ count: 3, pitch: {pitch:.0}, pin: 8, half_pin: 6 }});");
        let job = good(&corner((15.0, 18.0), 120.0, &works));
        // At the outside: 6, tail, 8, tail, 8, tail, 6; tails of 92 / 3.
        let tail = 92.0 / 3.0;
        let lean = 18.0 / pitch;
        let wide = heights(&job.parts[0], 1, 0.0);
        let neck = heights(&job.parts[0], 1, 18.0);
        let ends: Vec<f64> = (0..3)
            .flat_map(|k| [6.0 + f64::from(k) * (tail + 8.0), 6.0 + f64::from(k) * (tail + 8.0) + tail])
            .collect();
        assert_eq!(wide.len(), 6);
        for (k, end) in ends.iter().enumerate() {
            near(wide[k], *end);
            let side = if k % 2 == 0 { lean } else { -lean };
            assert!(neck.iter().any(|z| (z - end - side).abs() < 1e-6), "{neck:?}");
            let angle = trig::atan2(lean, 18.0).to_degrees();
            assert!((angle - degrees).abs() < 0.005);
        }
        // A tail is a trapezium, 15 through.
        let tails = 3.0 * (tail - lean) * 18.0 * 15.0;
        near(removed(&job, 0), 120.0 * 18.0 * 15.0 - tails);
        near(removed(&job, 1), tails);
        fills(&job, 120.0 * (300.0 * 15.0 + 385.0 * 18.0));
        // Six leaning sides, the ends of three tails' thickness on the neck
        // plane of the front, and the pins on the inner face of the side.
        let side = 15.0 * DVec3::new(18.0, lean, 0.0).length();
        near(
            touching(&job),
            6.0 * side + (120.0 - 3.0 * (tail - 2.0 * lean)) * 15.0 + 3.0 * (tail - lean) * 18.0,
        );
        assert_eq!(
            setting(&job, 0).split(',').next().unwrap(),
            format!("slope {}", ["9.46°", "7.13°"][usize::from(pitch > 7.0)])
        );
    }
}

#[test]
fn lapped_dovetails_stop_under_the_face() {
    let job =
        good(&corner((12.0, 20.0), 100.0, "dovetails(a, b, #{ kind: \"lapped\", count: 4, pitch: 8 });"));
    // A quarter of 20 is left; the side is cut that much shorter.
    assert_eq!(called(&job, 0), "4 lapped dovetails 1:8, lap 5 mm");
    near(job.parts[0].size.x, 295.0);
    // 100 over 4 x 4 + 1 is 5.9: pins of 6, tails of 70 / 4, leaning 15 / 8.
    let tails = 4.0 * (17.5 - 15.0 / 8.0) * 15.0 * 12.0;
    near(removed(&job, 1), tails);
    near(removed(&job, 0), 100.0 * 15.0 * 12.0 - tails);
    fills(&job, 100.0 * (300.0 * 12.0 + 388.0 * 20.0));
    // No corner of the tails lies on the shown face of the front.
    assert_eq!(heights(&job.parts[1], 1, 0.0), [0.0, 100.0]);
    near(good(&corner((12.0, 20.0), 100.0, "dovetails(a, b, #{ lap: 4 });")).parts[0].size.x, 296.0);
}

#[test]
fn the_slope_follows_the_species() {
    for (species, slope) in [("hard maple", "1:8"), ("ponderosa pine", "1:6"), ("", "1:7")] {
        let text = corner((12.0, 12.0), 100.0, "dovetails(a, b);");
        let named = format!("thick: [27, 34], species: \"{species}\"");
        let text = if species.is_empty() { text } else { text.replace("thick: [27, 34]", &named) };
        assert_eq!(called(&good(&text), 0), format!("4 dovetails {slope}"));
    }
}

#[test]
fn a_dovetail_lets_in_from_one_side_only() {
    let job = good(&corner((12.0, 12.0), 100.0, "dovetails(a, b);"));
    // The front moves to the left into the side, along its own length.
    assert_eq!(job.joints[0].ways_in, [DVec3::NEG_X]);
    let job = good(&corner((12.0, 12.0), 100.0, "finger_joint(a, b);"));
    assert_eq!(job.joints[0].ways_in, [DVec3::NEG_X, DVec3::Y]);
}

/// A corner by lot: which way the boards run, how thick, how high.
/// Also the wood of both together, and how much of that a millimetre off the
/// end of the first takes beside the second.
fn corner_by_lot(lot: &mut Lot, works: &str) -> (String, f64, f64) {
    let (ta, tb) = (lot.between(9.0, 30.0), lot.between(9.0, 30.0));
    let (la, lb) = (lot.between(120.0, 900.0), lot.between(120.0, 900.0));
    let wide = lot.between(90.0, 420.0);
    // One board may stand lower than the other.
    let (from, to) =
        if lot.of(3) == 0 { (lot.between(0.0, 15.0), wide - lot.between(0.0, 15.0)) } else { (0.0, wide) };
    let near_side =
        |flip: bool, long: f64, thick: f64| if flip { [long - thick, long] } else { [0.0, thick] };
    let (fa, fb) = (lot.of(2) == 0, lot.of(2) == 0);
    // a runs along u, b along v; the corner line is w.
    let a = [near_side(fa, lb, ta), [0.0, la], [0.0, wide]];
    let b = [[0.0, lb], near_side(fb, la, tb), [from, to]];
    let order = [[0, 1, 2], [2, 0, 1], [1, 2, 0], [1, 0, 2]][lot.of(4)];
    let turn = |s: [[f64; 2]; 3]| {
        let mut out = s;
        (0..3).for_each(|i| out[order[i]] = s[i]);
        out
    };
    let axes = ["x", "y", "z"];
    let text = boards(turn(a), turn(b), [axes[order[1]], axes[order[0]]], works);
    let whole = la * wide * ta + lb * (to - from) * tb - ta * tb * (to - from);
    (text, whole, ta * (wide - (to - from)))
}

#[test]
fn fingers_by_lot_fill_their_corner() {
    let mut made = 0;
    for seed in 0..60 {
        let mut lot = Lot(seed);
        let options = [
            String::new(),
            format!("count: {}", 2 + lot.of(14)),
            format!("width: {:.1}", lot.between(6.0, 30.0)),
            format!("width: {:.1}, start: \"second\"", lot.between(6.0, 30.0)),
            "start: \"second\"".into(),
        ];
        let works = format!("finger_joint(a, b, #{{ {} }});", options[lot.of(5)]);
        made += usize::from(stands_the_trial(&mut lot, &works));
    }
    assert!(made >= 50, "only {made} of 60 could be made");
}

#[test]
fn dovetails_by_lot_fill_their_corner() {
    let mut made = 0;
    for seed in 100..160 {
        let mut lot = Lot(seed);
        let mut options = vec![];
        if lot.of(2) == 0 {
            options.push(format!("count: {}", 1 + lot.of(6)));
        }
        if lot.of(2) == 0 {
            options.push(format!("pitch: {:.1}", lot.between(5.0, 10.0)));
        }
        match lot.of(3) {
            0 => options.push("kind: \"lapped\"".into()),
            1 => options.push(format!("lap: {:.1}", lot.between(3.0, 5.5))),
            _ => {}
        }
        if lot.of(3) == 0 {
            options.push(format!(
                "pin: {:.1}, half_pin: {:.1}",
                lot.between(3.0, 9.0),
                lot.between(3.0, 9.0)
            ));
        }
        let works = format!("dovetails(a, b, #{{ {} }});", options.join(", "));
        made += usize::from(stands_the_trial(&mut lot, &works));
    }
    assert!(made >= 45, "only {made} of 60 could be made");
}

/// Works a corner by lot: closed (a solid that does not close is an error), all
/// of the corner filled, nothing in both. False where it was refused.
fn stands_the_trial(lot: &mut Lot, works: &str) -> bool {
    let (text, whole, beside) = corner_by_lot(lot, works);
    let (job, problems) = worked("test", &text, &[]);
    if problems.contains("error[") {
        let codes = ["does-not-fit", "fingers-too-thin", "pins-too-thin"];
        assert!(codes.iter().any(|c| problems.contains(c)), "{text}{problems}");
        return false;
    }
    clear_of_one_another(&job);
    // Lapped tails shorten the whole end of a board that stands higher.
    let lap =
        called(&job, 0).split_once("lap ").map_or(0.0, |(_, l)| l.trim_end_matches(" mm").parse().unwrap());
    fills(&job, whole - lap * beside);
    // Each side of the joint lies on the other: what one lost the other fills.
    assert!(touching(&job) > 0.0);
    true
}

/// Message and help of the only problem, with that of the warnings.
fn said(thick: (f64, f64), high: f64, works: &str) -> String {
    problem(&corner(thick, high, works))
}

#[test]
fn corners_that_cannot_be_made_are_said_with_figures() {
    let plain = |works: &str| corner((12.0, 18.0), 100.0, works);
    let between = plain("finger_joint(a, b);").replace("y: [0.0, 300.0]", "y: [18.0, 300.0]");
    let past = plain("dovetails(a, b);").replace("x: [0.0, 400.0]", "x: [-30.0, 400.0]");
    let askew = plain("finger_joint(a, b);").replace("y: [0.0, 300.0]", "y: [40.0, 300.0]");
    let flat = boards(
        [[0.0, 12.0], [0.0, 300.0], [0.0, 100.0]],
        [[0.0, 12.0], [300.0, 500.0], [0.0, 100.0]],
        ["y", "y"],
        "dovetails(a, b);",
    );
    let turned = plain("finger_joint(a, b);")
        .replace("y: [0.0, 300.0]", "turn: #{ axis: \"z\", by: 30, about: [0, 0, 0] }, y: [0.0, 300.0]");
    let glass = plain("finger_joint(a, c);").replace(
        "finger_joint",
        "let glass = glass_stock(\"Float glass\", #{ thick: 6 });\nlet c = pane(\"c\", glass, #{ x: [0, 400], y: [0, 6], z: [0, 100] });\n\
         finger_joint",
    );
    let ply = plain("dovetails(a, b);")
        .replace("let pine = board_stock(\"Pine\", #{ thick: [27, 34] });", "let pine = board_stock(\"Pine\", #{ thick: [27, 34] });\nlet ply = sheet_stock(\"Birch plywood\", #{ thick: 18, sheet: [2440, 1220] });")
        .replace("board(\"b\", pine", "panel(\"b\", ply");
    let across = boards(
        [[0.0, 12.0], [0.0, 300.0], [0.0, 100.0]],
        [[0.0, 400.0], [0.0, 12.0], [0.0, 100.0]],
        ["z", "x"],
        "finger_joint(a, b);",
    );
    let cases = [
        ("short of the corner", problem(&between)),
        ("past the corner", problem(&past)),
        ("apart", problem(&askew)),
        ("corner of a hexagon", problem(&turned)),
        ("flat beside one another", problem(&flat)),
        ("glass", problem(&glass)),
        ("too many fingers", said((12.0, 12.0), 100.0, "finger_joint(a, b, #{ count: 60 });")),
        ("fingers wider than the board", said((12.0, 12.0), 20.0, "finger_joint(a, b, #{ width: 15 });")),
        (
            "fingers of a width and a count",
            said((12.0, 12.0), 100.0, "finger_joint(a, b, #{ width: 12, count: 11 });"),
        ),
        ("too many tails", said((12.0, 12.0), 100.0, "dovetails(a, b, #{ count: 20 });")),
        ("pins too thin", said((12.0, 12.0), 100.0, "dovetails(a, b, #{ count: 3, pin: 2 });")),
        ("pins too wide", said((12.0, 12.0), 100.0, "dovetails(a, b, #{ pin: 60 });")),
        ("lap too thin", said((12.0, 18.0), 100.0, "dovetails(a, b, #{ lap: 2 });")),
        ("lap too thick", said((12.0, 18.0), 100.0, "dovetails(a, b, #{ lap: 16 });")),
        (
            "lap of through dovetails",
            said((12.0, 18.0), 100.0, "dovetails(a, b, #{ kind: \"through\", lap: 4 });"),
        ),
        ("joined to itself", said((12.0, 12.0), 100.0, "dovetails(a, a);")),
        ("few fingers", warned(&plain("finger_joint(a, b, #{ count: 2 });"))),
        ("few dovetails", warned(&corner((12.0, 18.0), 160.0, "dovetails(a, b, #{ count: 1 });"))),
        ("dovetails in plywood", warned(&ply)),
        ("grain along the corner", warned(&across)),
    ];
    golden(file!(), &cases);
}
