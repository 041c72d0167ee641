//! Whole scripts worked, parts that are alike, and what no joint allows.

use std::sync::Arc;

use rodwright::joinery;
use rodwright::model::{Form, Part};

use crate::support::golden::{golden, without_places};
use crate::support::joints::{boards, clear_of_one_another, good, problem, script, shelf_and_side};
use crate::support::scripts;

#[test]
fn mirror_images_share_a_number() {
    let job = script("low_bookcase", &[]);
    let marks: Vec<String> = job.parts.iter().take(6).map(joinery::WorkedPart::mark).collect();
    assert_eq!(marks, ["1 L", "1 R", "2", "2", "2", "2"]);
    // Bottom and top are the same as they lie, so that they share one solid.
    assert!(Arc::ptr_eq(&job.parts[2].solid, &job.parts[5].solid));
}

/// What is said where the shelf of a job is made something that no script can ask for.
fn remade(change: impl Fn(&mut Part)) -> String {
    let (mut job, _) = scripts::made(&shelf_and_side("butt(a, b);"));
    job.works.clear();
    change(&mut job.parts[0]);
    let (_, problems) = joinery::work(&job);
    without_places(&problems)
}

#[test]
fn what_cannot_be_made_is_said_with_figures() {
    let apart = boards(
        [[18.0, 615.0], [0.0, 300.0], [400.0, 418.0]],
        [[618.0, 636.0], [0.0, 300.0], [0.0, 800.0]],
        ["x", "z"],
        "housing(a, b, #{ depth: 6 });",
    );
    // Placed with `between` already, but between others: to place it so again is no cure.
    let between = boards(
        [[18.0, 300.0], [0.0, 300.0], [400.0, 418.0]],
        [[618.0, 636.0], [0.0, 300.0], [0.0, 800.0]],
        ["x", "z"],
        "board(\"post\", pine, #{ x: [300, 318], y: [0, 300], z: [0, 800], grain: \"z\" });\nhousing(a, b, #{ depth: 6 });",
    );
    let crossing = apart.replace("615.0", "625.0").replace("housing(a, b, #{ depth: 6 })", "butt(a, b)");
    let cases = [
        ("apart", problem(&apart)),
        ("another stands between", problem(&between)),
        ("one in the other", problem(&crossing)),
        ("housing through the side", problem(&shelf_and_side("housing(a, b, #{ depth: 18 });"))),
        ("slack takes the groove", problem(&shelf_and_side("groove(a, b, #{ depth: 4, slack: 5 });"))),
        ("glued though it moves", problem(&shelf_and_side("groove(a, b, #{ move: true, dry: false });"))),
        ("tenon too thick", problem(&shelf_and_side("loose_tenons(a, b, #{ tenon: \"14x40\" });"))),
        (
            "a tenon at the lipping",
            problem(
                "job(\"Kick\");\nlet ply = sheet_stock(\"Ply\", #{ thick: 18 });\nlet oak = board_stock(\"Oak\");\n\
                 piece(\"Kick\");\nlet side = panel(\"side\", ply, #{ x: [0, 18], y: [0, 300], z: [0, 800], grain: \"z\" });\n\
                 let kick = board(\"kick\", oak, #{ x: [18, 400], y: [0, 18], z: [0, 90], grain: \"x\" });\n\
                 loose_tenons(kick, side, #{ tenon: \"6x12\", count: 1 });\nlipping(side, \"front\", oak, #{ thick: 6 });\n\
                 outline(kick, \"front\", #{ points: [[0, 0], [191, 10], [382, 0], [382, 90], [0, 90]] });\n",
            ),
        ),
        ("too many tenons", problem(&shelf_and_side("loose_tenons(a, b, #{ tenon: \"8x40\", count: 20 });"))),
        ("screw too short", problem(&shelf_and_side("screws(b, a, #{ screw: \"4x16\" });"))),
        ("mitre short of the corner", problem(&shelf_and_side("mitre(a, b);"))),
        ("lipping on a face", problem(&shelf_and_side("lipping(a, \"top\", pine, #{ thick: 6 });"))),
        (
            "bevel takes the lipping",
            problem(&shelf_and_side("lipping(a, \"front\", pine, #{ thick: 6, bevel: 45 });")),
        ),
        (
            "bevel and chamfer",
            problem(&shelf_and_side("lipping(a, \"front\", pine, #{ bevel: 5, chamfer: 2 });")),
        ),
        (
            "bevel on no face",
            problem(&shelf_and_side("lipping(a, \"front\", pine, #{ bevel: 5, long: \"front\" });")),
        ),
        (
            "long without a bevel",
            problem(&shelf_and_side("lipping(a, \"front\", pine, #{ long: \"top\" });")),
        ),
        (
            "lipping takes the part",
            problem(
                &shelf_and_side("lipping(a, \"front\", pine, #{ thick: 90 });").replace("300.0]", "60.0]"),
            ),
        ),
        (
            "chamfer takes the lipping",
            problem(&shelf_and_side("lipping(a, \"front\", pine, #{ thick: 3, chamfer: 5 });")),
        ),
        ("lipped twice", problem(&shelf_and_side("lipping(a, [\"front\", \"front\"], pine);"))),
        (
            "hole over the edge",
            problem(&shelf_and_side("hole(a, \"top\", #{ diameter: 20, along: [5], across: 50 });")),
        ),
        ("notch cuts it in two", problem(&shelf_and_side("notch(a, #{ x: [200, 260] });"))),
        ("joined to itself", problem(&shelf_and_side("butt(a, a);"))),
        (
            "of two pieces",
            problem(&shelf_and_side("butt(a, b);").replace("let b =", "piece(\"Other\");\nlet b =")),
        ),
        ("no size left", remade(|part| part.form = Form::Turned(Vec::new()))),
        ("far too long", remade(|part| part.size.x = 200_000.0)),
    ];
    golden(file!(), &cases);
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn the_three_scripts_are_worked() {
        for (name, settings) in [
            ("periodicals_cabinet", &[][..]),
            ("periodicals_cabinet", &[("tongue", "12"), ("width", "1211.3")]),
            ("low_bookcase", &[]),
            (
                "low_bookcase",
                &[("inches", "yes"), ("housing", "through"), ("shelves", "4"), ("height", "1300")],
            ),
            ("notice_frame", &[]),
            ("notice_frame", &[("glass", "no"), ("face", "60")]),
        ] {
            let job = script(name, settings);
            assert!(!job.joints.is_empty());
            for part in &job.parts {
                let (low, high) = part.solid.bounds().unwrap();
                // No part is larger than its blank, and none is wasted.
                assert!(low.abs().max_element() < 1e-6, "{name}: {} begins at {low}", part.name);
                assert!(
                    (high - part.size).abs().max_element() < 1e-6,
                    "{name}: {} ends at {high}",
                    part.name
                );
                assert!(part.number > 0);
            }
            clear_of_one_another(&job);
        }
    }
}

/// A back grooved into a top that slopes is cut to it, and told as no part without a size.
#[test]
fn a_groove_into_a_slope_cuts_the_panel_to_it() {
    let job = good(
        "job(\"A\");\nlet ply = sheet_stock(\"Ply\", #{ thick: 18 });\nlet thin = sheet_stock(\"Thin\", #{ thick: 6 });\n\
         piece(\"A\");\nlet left = panel(\"Left\", ply, #{ x: [0, 18], y: [0, 300], z: [0, 500], grain: \"z\" });\n\
         let right = panel(\"Right\", ply, #{ x: [582, 600], y: [0, 300], z: [0, 700], grain: \"z\" });\n\
         let top = panel(\"Top\", ply, #{ runs: #{ from: left, to: right, through: [0, 150, 480], toward: [3, 0, 1], \
         wide: 300, thick: 18, roll: 90 } });\n\
         let back = panel(\"Back\", thin, #{ x: between(left, right), y: [282, 288], z: [0, 600], grain: \"z\" });\n\
         for member in [left, right, top] { groove(back, member, #{ depth: 6 }); }\n",
    );
    let back = &job.parts[3];
    // Between the sides and 5.5 into either; its upper edge slopes 1 in 3.
    assert!((back.size.y - 575.0).abs() < 1.0, "{}", back.size);
    assert!(back.solid.volume() < 0.98 * back.size.x * back.size.y * back.size.z, "{}", back.size);
}

/// Buttons under a top slide in a rail that runs across its grain.
#[test]
fn buttons_let_a_top_move_along_their_rail() {
    let held = |by: &str| {
        scripts::found(&boards(
            [[0.0, 600.0], [0.0, 400.0], [400.0, 422.0]],
            [[30.0, 52.0], [20.0, 380.0], [310.0, 400.0]],
            ["x", "y"],
            by,
        ))
    };
    assert!(held("screws(b, a, #{ screw: \"4x110\", count: 3 });").contains("held-across-grain"));
    assert!(!held("buttons(a, [b]);").contains("held-across-grain"));
}
