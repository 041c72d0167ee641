//! Drawer runners and shelf pins: 37 and multiples of 32 mm, common practice, no
//! source.

use crate::support::said::called;
use rodwright::joinery::{CutKind, Opening};

use crate::support::golden::golden;
use crate::support::joints::{
    boards, clear_of_one_another, good, middles, near, problem, removed, round, worked,
};
use crate::support::lot::Lot;

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

/// A drawer's side 450 long on a runner, `gap` above it.
fn on_a_runner(gap: f64, works: &str) -> String {
    boards(
        [[6.0, 18.0], [0.0, 450.0], [22.0 + gap, 122.0]],
        [[0.0, 20.0], [0.0, 420.0], [0.0, 22.0]],
        ["y", "y"],
        works,
    )
}

/// Two thirds of the sliding length where nothing stops it: ASTM F2057-23 as told in 16 CFR
/// 1261, from memory.
#[test]
fn what_slides_stands_open_at_two_thirds_of_its_length() {
    let opens = |works: &str| match good(&on_a_runner(0.0, works)).joints[0].opens {
        Some(Opening::Slides { toward, by }) => (toward.y, by),
        _ => panic!(),
    };
    assert_eq!(opens("slides(a, b);"), (-1.0, 300.0));
    assert_eq!(opens("slides(a, b, #{ by: 450, toward: \"back\" });"), (1.0, 450.0));
    let job = good(&on_a_runner(3.0, "slides(a, b);"));
    assert!(job.parts.iter().all(|part| part.solid.volume() > 0.0) && removed(&job, 0) == 0.0);
    assert_eq!(called(&job, 0), "slides");
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
fn runners_and_pins_that_cannot_hold_are_said_with_figures() {
    let cases = [
        ("too little room", problem(&drawer(10.0, "runners(a, b);"))),
        ("runner too long", problem(&drawer(12.7, "runners(a, b, #{ long: 500 });"))),
        ("runner above the side", problem(&drawer(12.7, "runners(a, b, #{ height: 130 });"))),
        (
            "far too little room",
            problem(&drawer(12.7, "runners(a, b);").replace("30.7,", "23.0,").replace("[30.7", "[23.0")),
        ),
        ("slides in the air", problem(&on_a_runner(3.1, "slides(a, b);"))),
        ("slides off its runner", problem(&on_a_runner(0.0, "slides(a, b, #{ by: 450.1 });"))),
        ("slides two ways", problem(&on_a_runner(0.0, "slides(a, b, #{ toward: [\"front\", \"left\"] });"))),
        ("pins run out of the side", problem(&shelf("shelf_pins(a, [b], #{ down: 12 });"))),
        ("pin hole too deep", problem(&shelf("shelf_pins(a, [b], #{ pin: \"5x17\" });"))),
        ("rows past one another", problem(&shelf("shelf_pins(a, [b], #{ setback: 140 });"))),
        ("shelf slips off", problem(&shelf("shelf_pins(a, [b]);").replace("[19.0", "[25.0"))),
        ("shelf in the side", problem(&shelf("shelf_pins(a, [b]);").replace("[19.0", "[15.0"))),
    ];
    golden(file!(), &cases);
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

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
}
