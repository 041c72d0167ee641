//! Cup hinges. The practice of 37 and 32 mm, of the cup's middle at the boring
//! distance + 17.5 mm and of overlay = reach + boring distance - plate: common
//! practice, no source.

use rodwright::joinery::{CutKind, Opening, WorkedJob};

use super::joints::{boards, clear_of_one_another, golden, good, near, problem, removed, round, worked};
use super::support::lot::Lot;
use super::support::said::{called, item};

/// A door `a` that covers `over` of the side `b`, 2 before it, `high` high.
fn overlay(over: f64, high: f64, works: &str) -> String {
    boards(
        [[18.0 - over, 400.0], [-20.0, -2.0], [3.0, high - 3.0]],
        [[0.0, 18.0], [0.0, 300.0], [0.0, high]],
        ["z", "z"],
        works,
    )
}

/// Middles of the bores of a kind in a part, in piece coordinates.
fn middles(job: &WorkedJob, part: usize, kind: CutKind) -> Vec<[f64; 3]> {
    let part = &job.parts[part];
    let cuts = part.cuts.iter().filter(|cut| cut.kind == kind);
    cuts.map(|cut| part.at.point(cut.shape.at.origin).to_array().map(|v| (v * 1e6).round() / 1e6)).collect()
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
fn hinges_by_lot_cover_what_the_door_covers() {
    let mut made = 0;
    for seed in 800..840 {
        let mut lot = Lot(seed);
        let (over, high) = (lot.between(0.5, 19.0), lot.between(400.0, 2000.0));
        let works = match lot.of(3) {
            0 => "cup_hinges(a, b);".to_owned(),
            1 => format!("cup_hinges(a, b, #{{ boring: {} }});", 3 + lot.of(4)),
            _ => format!("cup_hinges(a, b, #{{ count: {}, from_end: {} }});", 2 + lot.of(3), 60 + lot.of(60)),
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

#[test]
fn hinges_that_cannot_hang_a_door_are_said_with_figures() {
    let thin = overlay(16.0, 800.0, "cup_hinges(a, b);").replace("-20.0", "-14.0");
    let cases = [
        problem(&thin),
        problem(&overlay(26.0, 800.0, "cup_hinges(a, b);")),
        problem(&overlay(16.0, 800.0, "cup_hinges(a, b, #{ count: 8, from_end: 300 });")),
        problem(&overlay(16.0, 90.0, "cup_hinges(a, b);")),
        problem(&overlay(16.0, 800.0, "cup_hinges(a, b);").replace("-20.0, -2.0", "-30.0, -12.0")),
        problem(&overlay(16.0, 800.0, "cup_hinges(a, b);").replace("-20.0, -2.0", "-10.0, 8.0")),
    ];
    golden("tests/joints_hinges_problems.txt", &cases);
}

/// The side `a` of a drawer 450 long and 120 high, `space` from the side `b`.
fn drawer(space: f64, works: &str) -> String {
    boards(
        [[18.0 + space, 30.0 + space], [0.0, 450.0], [100.0, 220.0]],
        [[0.0, 18.0], [0.0, 500.0], [0.0, 700.0]],
        ["y", "z"],
        works,
    )
}

/// 12.7 at each side and holes at 37 and multiples of 32 behind it: common
/// practice, from memory.
#[test]
fn a_runner_is_as_long_as_the_drawer_takes_and_holds_at_steps_of_32() {
    let job = good(&drawer(12.7, "runners(a, b);"));
    assert_eq!(called(&job, 0), "runner 450 long");
    let at = |y: f64| [18.0, y, 160.0];
    assert_eq!(middles(&job, 1, CutKind::FittingHole), [37.0, 37.0 + 6.0 * 32.0, 37.0 + 12.0 * 32.0].map(at));
    let on = |y: f64| [30.7, y, 160.0];
    assert_eq!(middles(&job, 0, CutKind::FittingHole), [35.0, 225.0, 415.0].map(on));
    let Some(Opening::Slides { toward, by }) = job.joints[0].opens else { panic!() };
    assert_eq!((toward.y, by), (-1.0, 450.0));
}

#[test]
fn runners_by_lot_need_their_space() {
    let mut made = 0;
    for seed in 900..930 {
        let mut lot = Lot(seed);
        let space = 12.0 + 0.1 * lot.of(20) as f64;
        let long = 250.0 + 50.0 * lot.of(5) as f64;
        let works = format!("runners(a, b, #{{ long: {long}, height: {} }});", 20 + lot.of(80));
        let (job, problems) = worked("test", &drawer(space, &works), &[]);
        let fits = (12.68..=13.52).contains(&space);
        assert_eq!(problems.contains("error[wrong-clearance]"), !fits, "{space}: {problems}");
        if !fits {
            continue;
        }
        assert_eq!(problems, "");
        made += 1;
        clear_of_one_another(&job);
        near(removed(&job, 0), 3.0 * round(2.5) * 9.0);
        near(removed(&job, 1), 3.0 * round(5.0) * 12.0);
        for hole in middles(&job, 1, CutKind::FittingHole) {
            assert!((hole[1] - 37.0).rem_euclid(32.0) < 1e-6 && hole[1] < long);
        }
    }
    assert!(made >= 8, "only {made} of 30 had their space");
}

/// A shelf 1 short of the sides at each end.
fn shelf(works: &str) -> String {
    boards(
        [[19.0, 581.0], [0.0, 270.0], [300.0, 318.0]],
        [[0.0, 18.0], [0.0, 300.0], [0.0, 700.0]],
        ["x", "z"],
        works,
    )
}

#[test]
fn pins_stand_under_the_shelf_in_rows_of_32() {
    let job = good(&shelf("shelf_pins(a, [b], #{ up: 1, down: 2 });"));
    let holes = middles(&job, 1, CutKind::FittingHole);
    assert_eq!(holes.len(), 8);
    // Two and a half below the shelf's underside, 37 from its edges.
    let row = |y: f64| [-64.0, -32.0, 0.0, 32.0].map(|by| [18.0, y, 297.5 + by]);
    let mut wanted = [row(37.0), row(233.0)].concat();
    let mut found = holes;
    let key = |p: &[f64; 3]| (p[1] as i64, p[2] as i64);
    wanted.sort_by_key(key);
    found.sort_by_key(key);
    assert_eq!(found, wanted);
    assert_eq!(job.joints[0].inserts[0].at.len(), 2);
    near(removed(&job, 1), 8.0 * round(5.0) * 12.0);
}

#[test]
fn pins_by_lot_stay_in_the_side() {
    let mut made = 0;
    for seed in 950..980 {
        let mut lot = Lot(seed);
        let (up, down, pitch) = (lot.of(12), lot.of(12), 20 + lot.of(40));
        let works = format!(
            "shelf_pins(a, [b], #{{ up: {up}, down: {down}, pitch: {pitch}, setback: {} }});",
            20 + lot.of(60)
        );
        let (job, problems) = worked("test", &shelf(&works), &[]);
        let runs_out =
            297.5 - (down * pitch) as f64 - 10.0 < 0.0 || 297.5 + (up * pitch) as f64 + 10.0 > 700.0;
        assert_eq!(problems.contains("error[does-not-fit]"), runs_out, "{works} {problems}");
        if runs_out {
            continue;
        }
        made += 1;
        clear_of_one_another(&job);
        near(removed(&job, 1), 2.0 * (up + down + 1) as f64 * round(5.0) * 12.0);
    }
    assert!(made >= 15, "only {made} of 30 could be made");
}

#[test]
fn runners_and_pins_that_cannot_hold_are_said_with_figures() {
    let cases = [
        problem(&drawer(10.0, "runners(a, b);")),
        problem(&drawer(12.7, "runners(a, b, #{ long: 500 });")),
        problem(&drawer(12.7, "runners(a, b, #{ height: 130 });")),
        problem(&drawer(12.7, "runners(a, b);").replace("30.7,", "23.0,").replace("[30.7", "[23.0")),
        problem(&shelf("shelf_pins(a, [b], #{ down: 12 });")),
        problem(&shelf("shelf_pins(a, [b], #{ pin: \"5x17\" });")),
        problem(&shelf("shelf_pins(a, [b], #{ setback: 140 });")),
        problem(&shelf("shelf_pins(a, [b]);").replace("[19.0", "[25.0")),
        problem(&shelf("shelf_pins(a, [b]);").replace("[19.0", "[15.0")),
    ];
    golden("tests/joints_runners_problems.txt", &cases);
}
