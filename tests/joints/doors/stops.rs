//! Stops and catches: their holes by closed forms, their places by the door.
//! `UPDATE=1` writes the messages anew.

use rodwright::joinery::facts::item::Fastener;
use rodwright::joinery::{CutKind, Item};

use crate::support::golden::golden;
use crate::support::joints::{clear_of_one_another, good, near, problem, removed, round, worked};
use crate::support::lot::Lot;
use crate::support::said::called;

/// An inset door hung at the left of a case: `left`, `bottom`, `door`, `shelf`.
/// The door is `inset` back from the front and stands `gap` off all round.
fn case(wide: f64, thick: f64, (inset, gap): (f64, f64), works: &str) -> String {
    let (w, t) = (wide, thick);
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet ash = board_stock(\"Ash\", #{{ thick: [27, 34] }});\npiece(\"Case\");\n\
         let left = board(\"left\", ash, #{{ x: [0, {t:?}], y: [0, 220], z: [0, 600], grain: \"z\" }});\n\
         let bottom = board(\"bottom\", ash, #{{ x: [{t:?}, {w:?}], y: [0, 220], z: [0, {t:?}], grain: \"x\" }});\n\
         let shelf = board(\"shelf\", ash, #{{ x: [{t:?}, {w:?}], y: [{:?}, 220], z: [300, 320], grain: \"x\" }});\n\
         let door = board(\"door\", ash, #{{ x: [{:?}, {:?}], y: [{inset:?}, {:?}], z: [{:?}, 590], grain: \"z\", face: \"front\" }});\n\
         butt_hinges(door, left);\n{works}\n",
        inset + 20.0,
        t + gap,
        w - gap,
        inset + 20.0,
        t + gap,
    )
}

/// The usual case of 400 with a door flush with its front.
fn usual(works: &str) -> String {
    case(400.0, 20.0, (0.0, 1.5), works)
}

#[test]
fn a_stop_stands_at_the_free_edge_behind_the_door() {
    let job = good(&usual("stop(door, bottom, #{ clearance: 1 });"));
    let stop = &job.joints[1];
    assert_eq!(called(&job, 1), "1 stop block 40 × 12 × 10");
    // 60 from the free edge of the door; its back at 20, a pad of 1 and half of 12.
    let foot = stop.inserts[0].at[0].origin;
    near(foot.x, 400.0 - 1.5 - 60.0);
    near(foot.y, 20.0 + 1.0 + 6.0);
    near(foot.z, 20.0);
    near(removed(&job, 1), round(0.7 * 3.5) * 10.0);
}

/// In a job in inches the small screws and pins are those an inch shop has: a catch's #4
/// (0.112 in, ASME B18.6.1) by 1/2, pins of gauge 16 (1/16 in, the steel wire gauge) by 3/4.
#[test]
fn an_inch_shop_fixes_stops_and_catches_with_its_own_screws_and_pins() {
    let script = "job(\"Test\", #{ unit: \"in\" });\nlet ash = board_stock(\"Ash\", #{ thick: [1, 1 + 1/4] });\npiece(\"Case\");\n\
         let left = board(\"left\", ash, #{ x: [0, 3/4], y: [0, 9], z: [0, 24], grain: \"z\" });\n\
         let bottom = board(\"bottom\", ash, #{ x: [3/4, 16], y: [0, 9], z: [0, 3/4], grain: \"x\" });\n\
         let door = board(\"door\", ash, #{ x: [13/16, 16], y: [0, 3/4], z: [13/16, 23], grain: \"z\", face: \"front\" });\n\
         butt_hinges(door, left);\ncatch_plate(door, bottom);\nstop(door, bottom, #{ by: \"pins\", inset: 6 });\n";
    let job = good(script);
    let size = |at: usize, insert: usize| match &job.joints[at].inserts[insert].item {
        Item::Fastener(Fastener::Screw([wide, long]) | Fastener::Pin([wide, long])) => (wide.mm(), long.mm()),
        other => panic!("{other:?}"),
    };
    let ((screw, screw_long), (pin, pin_long)) = (size(1, 1), size(2, 1));
    near(screw, 0.112 * 25.4);
    near(screw_long, 12.7);
    near(pin, 25.4 / 16.0);
    near(pin_long, 19.05);
}

/// A lipping glued on is wood of the door: its plate's screw stands 6.5 over the bottom's
/// face, by hand, and so 5 in from the edge of the door, across the seam of a lipping of 4.5 or
/// beside that of one of 6.
#[test]
fn a_lipped_door_takes_a_catch_through_its_lipping() {
    for (lip, kind) in [(4.5, "magnetic"), (6.0, "magnetic"), (6.0, "ball")] {
        let works = format!(
            "lipping(door, \"bottom\", ash, #{{ thick: {lip:?} }}); catch_plate(door, bottom, #{{ kind: \"{kind}\" }});"
        );
        let job = good(&usual(&works));
        let of = |name: &str| job.parts.iter().find(|p| p.name == name).unwrap();
        let holes = |name: &str| of(name).cuts.iter().filter(|cut| cut.kind == CutKind::FittingHole).count();
        assert_eq!(holes("door lipping"), 1, "{lip} {kind}");
        clear_of_one_another(&job);
    }
}

#[test]
fn stops_by_lot_hold_in_the_case() {
    let mut made = 0;
    for seed in 1100..1130 {
        let mut lot = Lot(seed);
        let (wide, thick) = (lot.between(250.0, 700.0), lot.between(16.0, 28.0));
        let (inset, gap) = (lot.between(0.0, 6.0).min(0.5), lot.between(1.0, 2.0).min(1.5));
        let count = 1 + lot.of(3);
        let pins = lot.of(2) == 0;
        let (long, high) = (lot.between(25.0, 60.0), lot.between(7.0, 12.0));
        let by = if pins { ", by: \"pins\"" } else { "" };
        let works = format!("stop(door, bottom, #{{ block: \"{long}x{high}\", count: {count}{by} }});");
        let (job, problems) = worked("test", &case(wide, thick, (inset, gap), &works), &[]);
        if problems.contains("error[") {
            let codes = ["breaks-through", "screw-too-short", "does-not-fit"];
            assert!(codes.iter().any(|c| problems.contains(c)), "{problems}");
            continue;
        }
        made += 1;
        clear_of_one_another(&job);
        let holes = if pins { 2.0 * round(0.8 * 1.5) } else { round(0.7 * 3.5) };
        near(removed(&job, 1), count as f64 * holes * (20.0 - high));
        assert_eq!(job.joints[1].inserts[0].at.len(), count);
        for at in &job.joints[1].inserts[0].at {
            near(at.origin.y, inset + 20.0 + 6.0);
            assert!(at.origin.x - 0.5 * long > thick && at.origin.x + 0.5 * long < wide);
        }
    }
    assert!(made >= 20, "only {made} of 30 could be made");
}

#[test]
fn stops_and_catches_that_cannot_be_are_said_with_figures() {
    let cases = [
        ("shuts against it already", problem(&usual("stop(door, shelf);"))),
        (
            "too little behind the door",
            problem(
                &usual("stop(door, bottom, #{ thick: 60, clearance: 10 });")
                    .replace("y: [0, 220], z: [0, 20.0]", "y: [0, 60], z: [0, 20.0]"),
            ),
        ),
        ("fixing too short", problem(&usual("stop(door, bottom, #{ fixing: \"3.5x14\" });"))),
        ("fixing too long", problem(&usual("stop(door, bottom, #{ fixing: \"3.5x30\" });"))),
        ("block too low", problem(&usual("stop(door, bottom, #{ block: \"40x3\" });"))),
        ("too many blocks", problem(&usual("stop(door, bottom, #{ count: 6, block: \"80x10\" });"))),
        ("apart", problem(&usual("stop(door, bottom);").replace("z: [21.5, 590]", "z: [40, 590]"))),
        ("ball in the face", problem(&usual("catch_plate(door, shelf, #{ kind: \"ball\" });"))),
        ("bore without use", problem(&usual("catch_plate(door, bottom, #{ bore: \"8x14\" });"))),
        ("centres without use", problem(&usual("catch_plate(door, shelf, #{ centres: 32 });"))),
        ("centres too wide", problem(&usual("catch_plate(door, bottom, #{ centres: 44 });"))),
        ("catch too deep", problem(&usual("catch_plate(door, bottom, #{ body: \"46x250\" });"))),
        (
            "no room for the ball",
            problem(
                &usual("catch_plate(door, bottom, #{ kind: \"ball\" });")
                    .replace("z: [21.5, 590]", "z: [20, 590]"),
            ),
        ),
        (
            "bore leaves too little",
            problem(&usual("catch_plate(door, bottom, #{ kind: \"ball\", bore: \"16x14\" });")),
        ),
        ("too far from the ends", problem(&usual("catch_plate(door, bottom, #{ inset: 380 });"))),
    ];
    golden(file!(), &cases);
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn catches_by_lot_meet_their_plates() {
        let mut made = 0;
        for seed in 1130..1166 {
            let mut lot = Lot(seed);
            let (wide, thick, gap) = (lot.between(250.0, 700.0), lot.between(14.0, 28.0), 1.5);
            let inset = lot.between(30.0, 110.0);
            let (bore, deep) = (lot.between(6.0, 10.0), lot.between(10.0, 16.0));
            let works = match seed % 3 {
                0 => format!("catch_plate(door, bottom, #{{ inset: {inset} }});"),
                1 => format!(
                    "catch_plate(door, bottom, #{{ kind: \"ball\", bore: \"{bore}x{deep}\", inset: {inset} }});"
                ),
                _ => format!("catch_plate(door, shelf, #{{ bore: \"{bore}x{deep}\", inset: {inset} }});"),
            };
            let (job, problems) = worked("test", &case(wide, thick, (0.0, gap), &works), &[]);
            if problems.contains("error[") {
                let codes = ["breaks-through", "does-not-fit"];
                assert!(codes.iter().any(|c| problems.contains(c)), "{problems}");
                continue;
            }
            made += 1;
            clear_of_one_another(&job);
            let free = wide - gap - inset;
            let catch = &job.joints[1];
            let counts: Vec<usize> = catch.inserts.iter().map(|i| i.at.len()).collect();
            match seed % 3 {
                0 => {
                    near(removed(&job, 1), 2.0 * round(2.0) * 10.0);
                    assert_eq!(counts, [1, 2, 1]);
                }
                1 => {
                    // A recess of 44 by 12 with round ends, 1 deep, and two pilots on from it.
                    let recess = 32.0 * 12.0 + round(12.0);
                    near(removed(&job, 1), recess + 2.0 * round(2.0) * 10.0);
                    assert_eq!(counts, [1, 2]);
                }
                _ => {
                    near(removed(&job, 2), round(bore) * deep);
                    assert_eq!(counts, [1, 1]);
                }
            }
            // Both halves stand at one place along the run.
            for insert in &catch.inserts {
                let sum: f64 = insert.at.iter().map(|at| at.origin.x).sum();
                near(sum / insert.at.len() as f64, free);
            }
        }
        assert!(made >= 25, "only {made} of 36 could be made");
    }
}
