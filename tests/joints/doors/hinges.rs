//! Cup hinges. The practice of 37 and 32 mm, of the cup's middle at the boring
//! distance + 17.5 mm and of overlay = reach + boring distance - plate: common
//! practice, no source.

use crate::support::said::{called, item};
use rodwright::joinery::{CutKind, Opening};

use crate::support::golden::golden;
use crate::support::joints::{
    boards, clear_of_one_another, good, middles, near, problem, removed, round, warned, worked,
};
use crate::support::lot::Lot;

/// A door `a` that covers `over` of the side `b`, 2 before it, `high` high.
fn overlay(over: f64, high: f64, works: &str) -> String {
    boards(
        [[18.0 - over, 400.0], [-20.0, -2.0], [3.0, high - 3.0]],
        [[0.0, 18.0], [0.0, 300.0], [0.0, high]],
        ["z", "z"],
        works,
    )
}

#[test]
fn a_full_overlay_hinge_is_set_out_by_the_usual_figures() {
    // Covers 16: 13 + 5 - 2. The door is 794 high, so its hinges stand 100 from
    // its ends.
    let job = good(&overlay(16.0, 800.0, "cup_hinges(a, b);"));
    assert_eq!(called(&job, 0), "2 cup hinges ⌀ 35, overlay 16");
    let whats: Vec<String> = job.joints[0].inserts.iter().map(item).collect();
    assert_eq!(whats, ["cup hinge ⌀ 35, full overlay", "hinge plate 2 mm high, 2 screws"]);
    // The door's edge is at 2; 5 + 17.5 further in; its back at -2.
    assert_eq!(middles(&job, 0, CutKind::HingeCup), [[24.5, -2.0, 103.0], [24.5, -2.0, 697.0]]);
    // On the inner face, 37 behind the front edge, 16 above and below.
    let plates = middles(&job, 1, CutKind::FittingHole);
    assert_eq!(plates, [87.0, 119.0, 681.0, 713.0].map(|z| [18.0, 37.0, z]));
    // The pilots stand clear of the cup.
    near(removed(&job, 0), 2.0 * (round(35.0) * 13.0 + 2.0 * round(2.5) * 10.0));
    near(removed(&job, 1), 4.0 * round(5.0) * 12.0);
    let Some(Opening::Swings { about, axis, toward, by: 90.0 }) = job.joints[0].opens else { panic!() };
    // About the arris of the door's front, the free edge out to the front.
    near(about.x, 2.0);
    near(about.y, -20.0);
    near(axis.z.abs(), 1.0);
    near(toward.y, -1.0);
}

#[test]
fn an_inset_door_has_its_plate_behind_it() {
    let text = boards(
        [[20.0, 420.0], [0.0, 18.0], [3.0, 797.0]],
        [[0.0, 18.0], [0.0, 300.0], [0.0, 800.0]],
        ["z", "z"],
        "cup_hinges(a, b);",
    );
    let job = good(&text);
    assert_eq!(called(&job, 0), "2 cup hinges ⌀ 35, inset, gap 2");
    assert_eq!(middles(&job, 1, CutKind::FittingHole).first(), Some(&[18.0, 55.0, 87.0]));
    assert!(item(&job.joints[0].inserts[0]).ends_with("inset"));
}

/// Heights and masses at which the usual table asks for one hinge more.
#[test]
fn high_and_heavy_doors_have_more_hinges() {
    let count = |high: f64| good(&overlay(16.0, high, "cup_hinges(a, b);")).joints[0].inserts[0].at.len();
    assert_eq!([500.0, 1000.0, 1010.0, 1500.0, 1800.0, 2200.0].map(count), [2, 2, 3, 3, 4, 5]);
}

#[test]
fn hinges_that_cannot_hang_a_door_are_said_with_figures() {
    let thin = overlay(16.0, 800.0, "cup_hinges(a, b);").replace("-20.0", "-14.0");
    let cases = [
        ("door too thin for its cup", problem(&thin)),
        ("covers too much", problem(&overlay(26.0, 800.0, "cup_hinges(a, b);"))),
        (
            "too many hinges",
            problem(&overlay(16.0, 800.0, "cup_hinges(a, b, #{ count: 8, from_end: 300 });")),
        ),
        ("door too low", problem(&overlay(16.0, 90.0, "cup_hinges(a, b);"))),
        (
            "too far before the side",
            problem(&overlay(16.0, 800.0, "cup_hinges(a, b);").replace("-20.0, -2.0", "-30.0, -12.0")),
        ),
        (
            "behind the front edge",
            problem(&overlay(16.0, 800.0, "cup_hinges(a, b);").replace("-20.0, -2.0", "-10.0, 8.0")),
        ),
        (
            "door wider than high",
            warned(&overlay(16.0, 300.0, "cup_hinges(a, b);").replace("400.0]", "800.0]")),
        ),
    ];
    golden(file!(), &cases);
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn hinges_by_lot_cover_what_the_door_covers() {
        let mut made = 0;
        for seed in 800..840 {
            let mut lot = Lot(seed);
            let (over, high) = (lot.between(0.5, 19.0), lot.between(400.0, 2000.0));
            let works = match lot.of(3) {
                0 => "cup_hinges(a, b);".to_owned(),
                1 => format!("cup_hinges(a, b, #{{ boring: {} }});", 3 + lot.of(4)),
                _ => format!(
                    "cup_hinges(a, b, #{{ count: {}, from_end: {} }});",
                    2 + lot.of(3),
                    60 + lot.of(60)
                ),
            };
            let (job, problems) = worked("test", &overlay(over, high, &works), &[]);
            if problems.contains("error[") {
                assert!(problems.contains("[does-not-fit]"), "{problems}");
                continue;
            }
            made += 1;
            clear_of_one_another(&job);
            let cups = middles(&job, 0, CutKind::HingeCup);
            let n = cups.len() as f64;
            assert_eq!(middles(&job, 1, CutKind::FittingHole).len(), 2 * cups.len());
            near(removed(&job, 1), 2.0 * n * round(5.0) * 12.0);
            near(removed(&job, 0), n * (round(35.0) * 13.0 + 2.0 * round(2.5) * 10.0));
            // What arm, boring and plate give is what is drawn, within what the
            // hinge is adjusted by.
            let hinge = &job.joints[0].inserts;
            let reach = if item(&hinge[0]).ends_with("full overlay") { 13.0 } else { 4.0 };
            let plate: f64 = item(&hinge[1]).split(' ').nth(2).unwrap().parse().unwrap();
            let boring = cups[0][0] - (18.0 - over) - 17.5;
            assert!((reach + boring - plate - over).abs() <= 2.0 + 1e-9, "{over}: {boring} {plate}");
            // Cup and plate at one height.
            for (k, cup) in cups.iter().enumerate() {
                let plates = middles(&job, 1, CutKind::FittingHole);
                near(0.5 * (plates[2 * k][2] + plates[2 * k + 1][2]), cup[2]);
            }
        }
        assert!(made >= 25, "only {made} of 40 could be made");
    }
}
