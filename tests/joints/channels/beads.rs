//! Beads round a pane or panel. Volumes and areas are closed forms of mitred strips,
//! derived beside each. `UPDATE=1` writes the messages anew.

use rodwright::joinery::WorkedJob;
use rodwright::solid::Standing;

use crate::support::golden::golden;
use crate::support::joints::{clear_of_one_another, good, near, problem, removed, worked};
use crate::support::lot::Lot;
use crate::support::said::{called, item};

/// A frame `w` by `h` of stiles and rails 50 wide and `t` thick about an opening, and
/// what is put in it, named `glass`.
fn frame([w, h, t]: [f64; 3], inside: &str, works: &str) -> String {
    let (x, z) = (w - 50.0, h - 50.0);
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet oak = board_stock(\"Oak\", #{{ thick: [27, 34] }});\n\
         let float = glass_stock(\"Float glass\", #{{ thick: 4 }});\npiece(\"Piece\");\n\
         let left = board(\"left\", oak, #{{ x: [0, 50], y: [0, {t:?}], z: [0, {h:?}], grain: \"z\" }});\n\
         let right = board(\"right\", oak, #{{ x: [{x:?}, {w:?}], y: [0, {t:?}], z: [0, {h:?}], grain: \"z\" }});\n\
         let bottom = board(\"bottom\", oak, #{{ x: [50, {x:?}], y: [0, {t:?}], z: [0, 50], grain: \"x\" }});\n\
         let top = board(\"top\", oak, #{{ x: [50, {x:?}], y: [0, {t:?}], z: [{z:?}, {h:?}], grain: \"x\" }});\n\
         let all = [left, right, bottom, top];\n{inside}\n{works}\n"
    )
}

/// A pane that laps the frame's inner edges and lies `seat` behind its face, in rebates.
fn glazed([w, h, t]: [f64; 3], [lap, clear, seat]: [f64; 3], works: &str) -> String {
    let (low, x, z) = (50.0 - lap + clear, w - 50.0 + lap - clear, h - 50.0 + lap - clear);
    let inside = format!(
        "let glass = pane(\"glass\", float, #{{ x: [{low:?}, {x:?}], y: [{seat:?}, {:?}], z: [{low:?}, {z:?}] }});\n\
         for member in all {{ rebate(glass, member, #{{ clearance: {clear:?} }}); }}",
        seat + 4.0
    );
    frame([w, h, t], &inside, works)
}

/// Area on which two parts touch, mm2.
fn touching(job: &WorkedJob, a: usize, b: usize) -> f64 {
    let stands = |i: usize| Standing::new(&job.parts[i].solid, &job.parts[i].at);
    stands(a).contacts(&stands(b)).iter().map(|c| c.area).sum()
}

#[test]
fn beads_by_lot_fill_the_rebate() {
    let mut made = 0;
    for seed in 0..40 {
        let mut lot = Lot(4_100 + seed);
        let (w, h, t) = (lot.between(220.0, 600.0), lot.between(220.0, 900.0), lot.between(18.0, 28.0));
        let (lap, clear) = (lot.between(6.0, 12.0), lot.between(0.0, 2.0));
        // Nearer the back than the front, to which the rebate is then open.
        let seat = 0.5 * (t - 4.0) + lot.between(0.5, 2.0);
        let text = glazed([w, h, t], [lap, clear, seat], "beads(glass, all, oak);");
        let (job, problems) = worked("test", &text, &[]);
        if problems.contains("error[") {
            assert!(problems.contains("[does-not-fit]"), "{problems}");
            continue;
        }
        made += 1;
        clear_of_one_another(&job);
        // As wide as the rebate, and from the pane's back to the frame's.
        let (wide, thick) = (lap, t - seat - 4.0);
        let lengths = [h, h, w, w].map(|all| all - 100.0 + 2.0 * lap);
        for (k, long) in lengths.into_iter().enumerate() {
            let bead = 5 + k;
            near(job.parts[bead].size.x, long);
            // Each mitre takes half a square: together as much as one length of `wide`.
            near(job.parts[bead].solid.volume(), wide * thick * (long - wide));
            // Against the shoulder over its whole length, but for the rails: the ends of
            // their beads lie in the rebates of the stiles.
            let ends = if k < 2 { 0.0 } else { 2.0 * lap };
            near(touching(&job, bead, k), (long - ends) * thick);
            // On the pane between `clear` and `wide` from the shoulder, where the bead is
            // twice as much shorter.
            near(touching(&job, bead, 4), (wide - clear) * (long - clear - wide));
        }
        // Left and right meet bottom and top on their mitres.
        for (a, b) in [(5, 7), (5, 8), (6, 7), (6, 8)] {
            near(touching(&job, a, b), std::f64::consts::SQRT_2 * wide * thick);
        }
    }
    assert!(made >= 30, "only {made} of 40 could be made");
}

#[test]
fn pins_stand_evenly_between_the_mitres_and_are_listed() {
    let text = glazed([400.0, 600.0, 22.0], [8.0, 1.5, 10.0], "beads(glass, all, oak, #{ round: 3 });");
    let job = good(&text);
    let beads: Vec<usize> = (0..job.joints.len()).filter(|j| job.joints[*j].word == "beads").collect();
    assert_eq!(beads.len(), 4);
    assert_eq!(called(&job, beads[0]), "bead 8 × 8 mm, mitred, arris rounded 3, 4 pins 1.2 × 20, no glue");
    let pins = &job.joints[beads[0]].inserts[0];
    assert_eq!(item(pins), "pin 1.2 × 20");
    // 516 from shoulder to shoulder, 500 between the mitres, 420 between the outer pins
    // that stand 40 in: three gaps of 140.
    assert_eq!(pins.at.len(), 4, "{:?}", pins.at);
}

#[test]
fn a_panel_without_a_rebate_stands_between_two_rows_of_beads() {
    let inside = "let thin = sheet_stock(\"Oak plywood\", #{ thick: 6 });\n\
        let glass = panel(\"panel\", thin, #{ x: [51, 349], y: [8, 14], z: [51, 549], grain: \"z\", face: \"front\" });";
    let works = "beads(glass, all, oak, #{ side: [\"front\", \"back\"], width: 9 });";
    let job = good(&frame([400.0, 600.0, 22.0], inside, works));
    // Four at the front, four at the back, all 8 thick: 8 of frame before the panel and 8
    // behind it.
    assert_eq!(job.parts.len(), 5 + 8);
    for bead in 5..13 {
        let long = if (bead - 5) % 4 < 2 { 500.0 } else { 300.0 };
        near(job.parts[bead].size.x, long);
        near(job.parts[bead].solid.volume(), 9.0 * 8.0 * (long - 9.0));
        near(removed(&job, bead), 9.0 * 9.0 * 8.0);
    }
    assert!((0..4).all(|part| removed(&job, part) < 1e-9), "the frame is left as it is");
}

#[test]
fn a_stack_is_held_by_what_lies_last() {
    let inside = "let glass = pane(\"glass\", float, #{ x: [43.5, 356.5], y: [8, 12], z: [43.5, 556.5] });\n\
        let thin = sheet_stock(\"Mount board\", #{ thick: 3 });\n\
        let back = panel(\"back\", thin, #{ x: [43.5, 356.5], y: [12, 15], z: [43.5, 556.5], grain: \"z\" });\n\
        for member in all { rebate([glass, back], member, #{ clearance: 1.5 }); }";
    let job = good(&frame([400.0, 600.0, 22.0], inside, "beads(back, all, oak);"));
    // 22 less 15.
    assert!(job.parts[6..10].iter().all(|bead| (bead.size.z - 7.0).abs() < 1e-9));
}

#[test]
fn messages_read_as_set() {
    let usual = |works: &str| glazed([400.0, 600.0, 22.0], [8.0, 1.5, 10.0], works);
    let open = "let glass = pane(\"glass\", float, #{ x: [51, 349], y: [8, 12], z: [51, 549] });";
    let cases = [
        (
            "no room behind",
            problem(&glazed([400.0, 600.0, 22.0], [8.0, 1.5, 15.0], "beads(glass, all, oak);")),
        ),
        ("wrong side", problem(&usual("beads(glass, all, oak, #{ side: \"front\" });"))),
        ("no face", problem(&usual("beads(glass, all, oak, #{ side: \"left\" });"))),
        (
            "nothing behind",
            problem(
                &frame([400.0, 600.0, 22.0], open, "butt(glass, left);\nbeads(glass, all, oak);")
                    .replace("butt(glass, left);\n", ""),
            ),
        ),
        (
            "far from the frame",
            problem(&frame(
                [400.0, 600.0, 22.0],
                &open.replace("[51, 349]", "[60, 340]"),
                "beads(glass, all, oak, #{ side: [\"front\", \"back\"] });",
            )),
        ),
        (
            "into the frame",
            problem(&frame(
                [400.0, 600.0, 22.0],
                &open.replace("[51, 349]", "[45, 349]"),
                "beads(glass, all, oak, #{ side: [\"front\", \"back\"] });",
            )),
        ),
        ("twice", problem(&usual("beads(glass, [left, right, left], oak);"))),
        (
            "too wide",
            problem(&glazed(
                [180.0, 180.0, 22.0],
                [8.0, 1.5, 10.0],
                "beads(glass, all, oak, #{ width: 50 });",
            )),
        ),
        ("round", problem(&usual("beads(glass, all, oak, #{ round: 9 });"))),
        ("short pin", problem(&usual("beads(glass, all, oak, #{ pin: \"1x14\" });"))),
        ("long pin", problem(&usual("beads(glass, all, oak, #{ pin: \"1x50\" });"))),
        ("not timber", problem(&usual("beads(glass, all, float);"))),
    ];
    golden(file!(), &cases.map(|(name, said)| (name.to_owned(), said)));
}
