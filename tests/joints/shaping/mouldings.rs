//! Mouldings run on arrises. What a profile takes is its area times the length of the
//! arris; where two meet, what both would take counts once. `UPDATE=1` writes the
//! messages anew.

use crate::support::golden::golden;
use crate::support::joints::{good, near, problem, removed, worked};
use crate::support::lot::Lot;

/// A top of 500 by 300 by 25, lying on a rail that keeps the job in one piece.
fn top(works: &str) -> String {
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet oak = board_stock(\"Oak\", #{{ thick: [34] }});\npiece(\"Piece\");\n\
         let top = board(\"top\", oak, #{{ x: [0, 500], y: [0, 300], z: [0, 25], grain: \"x\" }});\n{works}\n"
    )
}

#[test]
fn a_profile_takes_its_area_along_the_arris() {
    let profile = "profile: [[12, 0], [12, 2], [2, 12], [0, 12]]";
    let job = good(&top(&format!("mould(top, \"top\", #{{ {profile}, edges: \"front\" }});")));
    // Twelve square, of which the triangle of ten by ten at the far corner stays.
    near(removed(&job, 0), 94.0 * 500.0);
}

#[test]
fn mouldings_that_meet_are_mitred_round_the_corner() {
    let job = good(&top(
        "mould(top, \"top\", #{ profile: [[12, 0], [6, 4], [0, 8]], edges: [\"front\", \"left\"] });",
    ));
    // Triangles of 12 by 8. At depth y both reach 12 (1 - y / 8) in, so that they share
    // ∫ 144 (1 - y / 8)² dy from 0 to 8 = 144 · 8 / 3.
    near(removed(&job, 0), 48.0 * (500.0 + 300.0) - 384.0);
    let round = good(&top("mould(top, \"top\", #{ profile: [[12, 0], [6, 4], [0, 8]] });"));
    near(removed(&round, 0), 48.0 * 1600.0 - 4.0 * 384.0);
}

#[test]
fn usual_shapes_are_quarters_of_a_circle() {
    let area = |options: &str| {
        let job = good(&top(&format!("mould(top, \"top\", #{{ {options}, edges: \"back\" }});")));
        removed(&job, 0) / 500.0
    };
    let quarter = std::f64::consts::FRAC_PI_4 * 100.0;
    // Facets leave a quarter of radius 10 by half a square millimetre: 100 π / 4 less
    // 16 · 100 sin (2 π / 32) / 4.
    let about = |a: f64, b: f64| assert!((a - b).abs() < 0.55, "{a} is not {b}");
    about(area("shape: \"ovolo\", width: 10"), 100.0 - quarter);
    about(area("shape: \"cavetto\", width: 10"), quarter);
    // A hollow and a round of one size take of one another.
    near(area("shape: \"ogee\", width: 10"), 50.0);
    // Between fillets of 2 a quarter of radius 8 stays of the square.
    let eight = std::f64::consts::FRAC_PI_4 * 64.0;
    about(area("shape: \"ovolo\", width: 10, fillet: 2"), 100.0 - eight);
}

#[test]
fn mouldings_by_lot_take_no_more_than_their_box() {
    let mut made = 0;
    for seed in 800..840 {
        let mut lot = Lot(seed);
        let shape = ["ovolo", "cavetto", "ogee"][lot.of(3)];
        let (wide, deep) = (lot.between(4.0, 30.0), lot.between(4.0, 28.0));
        let text = top(&format!(
            "mould(top, \"top\", #{{ shape: \"{shape}\", width: {wide:?}, depth: {deep:?}, fillet: {:?}, edges: \"right\" }});",
            lot.between(0.0, 4.0)
        ));
        let (job, problems) = worked("test", &text, &[]);
        if !problems.is_empty() {
            assert!(problems.contains("[nothing-left]"), "{problems}");
            continue;
        }
        made += 1;
        let took = removed(&job, 0);
        assert!(took > 0.0 && took < wide * deep * 300.0, "{text}");
    }
    assert!(made >= 25, "only {made} of 40 could be made");
}

#[test]
fn profiles_that_cannot_be_run_are_said_with_figures() {
    let said = |options: &str| problem(&top(&format!("mould(top, \"top\", #{{ {options} }});")));
    let cases = [
        ("neither shape nor profile", said("edges: \"front\"")),
        ("does not reach the edge", said("profile: [[12, 0], [8, 4], [4, 8]]")),
        ("out of the wood", said("profile: [[12, 0], [-2, 6], [0, 12]]")),
        ("crosses itself", said("profile: [[12, 0], [2, 10], [10, 10], [2, 2], [0, 12]]")),
        ("too deep", said("shape: \"ovolo\", width: 10, depth: 26")),
        ("too wide", said("shape: \"ovolo\", width: 160, depth: 10")),
        ("fillets too large", said("shape: \"ogee\", width: 8, fillet: 8")),
        ("no such arris", said("shape: \"ogee\", edges: \"bottom\"")),
    ];
    golden(file!(), &cases);
}
