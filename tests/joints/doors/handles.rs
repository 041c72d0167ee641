//! Butt hinges, knobs, pulls and inserts. Half of the shut hinge in each part,
//! less half of the gap; pulls at multiples of 32 mm: common practice, no source.

use rodwright::joinery::{CutKind, Opening};

use crate::support::golden::golden;
use crate::support::joints::{boards, clear_of_one_another, good, near, problem, removed, round, worked};
use crate::support::lot::Lot;
use crate::support::said::called;

/// An inset door `a`, `gap` from the side `b`, both 20 thick.
fn inset(gap: f64, high: f64, works: &str) -> String {
    boards(
        [[20.0 + gap, 400.0], [0.0, 20.0], [2.0, high - 2.0]],
        [[0.0, 20.0], [0.0, 300.0], [0.0, high]],
        ["z", "z"],
        works,
    )
}

/// What one leaf takes: its recess, and the pilots below it.
fn leaf(long: f64, wide: f64, deep: f64, screws: f64, length: f64) -> f64 {
    long * wide * deep + screws * round(2.1) * (length - 2.0)
}

#[test]
fn a_leaf_is_let_in_by_half_of_what_the_gap_leaves() {
    let job = good(&inset(1.5, 600.0, "butt_hinges(a, b);"));
    assert_eq!(called(&job, 0), "2 butt hinges 50 × 14");
    for part in [0, 1] {
        near(removed(&job, part), 2.0 * leaf(50.0, 14.0, 2.0, 3.0, 16.0));
    }
    assert_eq!(job.joints[0].inserts[1].at.len(), 12);
    let Some(Opening::Swings { about, axis, toward, by: 90.0 }) = job.joints[0].opens else { panic!() };
    // The pin: in the middle of the gap, half a knuckle before the face.
    near(about.x, 20.75);
    near(about.y, -2.75);
    assert_eq!((axis.z.abs(), toward.y), (1.0, -1.0));
}

#[test]
fn a_lid_has_its_knuckle_at_the_flush_back() {
    let text = boards(
        [[0.0, 400.0], [0.0, 250.0], [200.0, 220.0]],
        [[0.0, 400.0], [230.0, 250.0], [0.0, 200.0]],
        ["x", "x"],
        "butt_hinges(a, b);",
    );
    let job = good(&text);
    let Some(Opening::Swings { about, toward, .. }) = job.joints[0].opens else { panic!() };
    assert_eq!((about.y, toward.z), (252.75, 1.0));
}

#[test]
fn handles_by_lot_stand_where_they_are_asked_for() {
    for seed in 1100..1125 {
        let mut lot = Lot(seed);
        let (right, top, centres) = (20 + lot.of(100), 90 + lot.of(100), 32 * (1 + lot.of(4)));
        let works = format!(
            "knob(a, #{{ right: {right}, top: {top} }});\npull(a, #{{ left: 30, bottom: 120, centres: {centres} }});\n\
             insert_nut(a, #{{ side: \"front\", left: 150 }});"
        );
        let job = good(&inset(2.0, 600.0, &works));
        let part = &job.parts[0];
        let holes: Vec<_> = part.cuts.iter().map(|cut| part.at.point(cut.shape.at.origin)).collect();
        assert_eq!(holes.len(), 4);
        near(holes[0].x, 400.0 - right as f64);
        near(holes[0].z, 598.0 - top as f64);
        near(holes[1].distance(holes[2]), centres as f64);
        near(removed(&job, 0), 3.0 * round(5.0) * 20.0 + round(8.0) * 15.0);
    }
}

#[test]
fn what_cannot_be_hung_or_fixed_is_said_with_figures() {
    let works = "butt_hinges(a, b);";
    let cases = [
        ("gap too wide for the hinge", problem(&inset(3.0, 600.0, works))),
        ("leaf too wide", problem(&inset(1.5, 600.0, "butt_hinges(a, b, #{ leaf: \"50x19\" });"))),
        ("door too low", problem(&inset(1.5, 120.0, works))),
        (
            "not flush",
            problem(
                &inset(1.5, 600.0, works)
                    .replace("y: [0, 20]", "y: [4, 24]")
                    .replace("[0.0, 20.0], z: [2", "[4.0, 24.0], z: [2"),
            ),
        ),
        ("opens where no edge is", problem(&inset(1.5, 600.0, "butt_hinges(a, b, #{ opens: \"top\" });"))),
        ("hinge screw too long", problem(&inset(1.5, 600.0, "butt_hinges(a, b, #{ screw: \"3x40\" });"))),
        ("left and right", problem(&inset(1.5, 600.0, "knob(a, #{ left: 30, right: 30 });"))),
        ("knob at the edge", problem(&inset(1.5, 600.0, "knob(a, #{ left: 4 });"))),
        ("from a side it does not lie in", problem(&inset(1.5, 600.0, "knob(a, #{ back: 40 });"))),
        ("bore too deep", problem(&inset(1.5, 600.0, "insert_nut(a, #{ bore: \"10x19\" });"))),
        (
            "bore too narrow for its thread",
            problem(&inset(1.5, 600.0, "insert_nut(a, #{ size: \"M8\", bore: \"8x15\" });")),
        ),
    ];
    golden(file!(), &cases);
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn butt_hinges_by_lot_take_the_same_from_both() {
        let mut made = 0;
        for seed in 1000..1120 {
            let mut lot = Lot(seed);
            let (gap, high) = (lot.between(0.0, 2.5), lot.between(200.0, 1500.0));
            let (long, wide) = (38 + lot.of(40), 8 + lot.of(12));
            let works = format!(
                "butt_hinges(a, b, #{{ leaf: \"{long}x{wide}\", count: {}, screws: 2 }});",
                1 + lot.of(3)
            );
            let (job, problems) = worked("test", &inset(gap, high, &works), &[]);
            if problems.contains("error[") {
                let told = ["[wrong-clearance]", "[breaks-through]", "[does-not-fit]"];
                assert!(told.iter().any(|code| problems.contains(code)), "{problems}");
                continue;
            }
            made += 1;
            assert!(gap <= 1.52 && wide <= 17);
            clear_of_one_another(&job);
            let n = job.joints[0].inserts[0].at.len() as f64;
            let deep = 0.5 * (5.5 - gap);
            for part in [0, 1] {
                near(removed(&job, part), n * leaf(long as f64, wide as f64, deep, 2.0, 16.0));
            }
            // Recess over recess.
            let middles = |part: usize| -> Vec<f64> {
                let part = &job.parts[part];
                let cuts = part.cuts.iter().filter(|cut| cut.kind == CutKind::Notch);
                cuts.map(|cut| part.at.point(cut.shape.at.origin).z).collect()
            };
            for (a, b) in middles(0).iter().zip(middles(1)) {
                near(*a, b);
            }
        }
        assert!(made >= 40, "only {made} of 120 could be made");
    }
}
