//! Folded mitres: parts of one panel that fold up round V grooves. Volumes,
//! contact areas and the lengths of the flat panel are closed forms of plane
//! geometry, derived beside each.

use std::fmt::Write as _;

use rodwright::cutting::{CuttingList, FoldedPanel, shop_lists};
use rodwright::joinery::WorkedJob;
use rodwright::machining::Machined;
use rodwright::model::Job;
use rodwright::solid::Standing;

use crate::support::golden::golden;
use crate::support::joints::{clear_of_one_another, good, near, problem};
use crate::support::lot::Lot;
use crate::support::said::{called, setting};
use crate::support::scripts::made;

/// A script with a sheet `thick`, the given parts and `works`. A part is its
/// name, spans and grain.
fn sheet(thick: f64, parts: &[(&str, [[f64; 2]; 3], &str)], works: &str) -> String {
    let mut text = format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\n\
         let ply = sheet_stock(\"Ply\", #{{ thick: {thick:?}, sheet: [4200, 2500], grain: \"length\" }});\n\
         piece(\"Piece\");\n"
    );
    for (name, [x, y, z], grain) in parts {
        writeln!(
            text,
            "let {name} = panel(\"{name}\", ply, #{{ x: {x:?}, y: {y:?}, z: {z:?}, grain: \"{grain}\" }});"
        )
        .unwrap();
    }
    text + works + "\n"
}

/// Top, front and underside of a shelf.
fn shelf(works: &str) -> String {
    sheet(
        12.0,
        &[
            ("top", [[0.0, 800.0], [0.0, 200.0], [38.0, 50.0]], "x"),
            ("front", [[0.0, 800.0], [0.0, 12.0], [0.0, 50.0]], "x"),
            ("foot", [[0.0, 800.0], [0.0, 200.0], [0.0, 12.0]], "x"),
        ],
        works,
    )
}

/// Four sides of a box, wrapped along the grain; `thick`, and x, y, z outside.
fn wrap(thick: f64, [long, wide, high]: [f64; 3], works: &str) -> String {
    sheet(
        thick,
        &[
            ("front", [[0.0, long], [0.0, thick], [0.0, high]], "x"),
            ("right", [[long - thick, long], [0.0, wide], [0.0, high]], "y"),
            ("back", [[0.0, long], [wide - thick, wide], [0.0, high]], "x"),
            ("left", [[0.0, thick], [0.0, wide], [0.0, high]], "y"),
        ],
        works,
    )
}

/// The job with its shop lists; no problem of any kind.
fn listed(text: &str) -> (Job, WorkedJob, CuttingList, Vec<[i64; 2]>) {
    let (job, worked) = made(text);
    let (lists, problems) = shop_lists(&Machined::new(&job, &worked));
    assert!(problems.is_empty(), "{text}{problems:?}");
    let laid = lists.layouts.sheets.iter().flat_map(|s| s.job.parts.iter().map(|p| p.size)).collect();
    (job, worked, lists.list, laid)
}

/// Area on which two parts touch, mm2.
fn touching(job: &WorkedJob, a: usize, b: usize) -> f64 {
    let stands = |i: usize| Standing::new(&job.parts[i].solid, &job.parts[i].at);
    stands(a).contacts(&stands(b)).iter().map(|c| c.area).sum()
}

#[test]
fn three_parts_are_grooved_on_one_panel() {
    let text = shelf("folded_mitre([top, front, foot]);");
    let job = good(&text);
    assert_eq!(job.joints.len(), 2);
    assert_eq!(called(&job, 0), "folded mitre 45°");
    assert_eq!(setting(&job, 0), "V groove 90°, 12 mm deep");
    // Each corner is shared by halves: 12 x 12 / 2 off either part.
    let volume = |i: usize| job.parts[i].solid.volume();
    near(volume(0), 800.0 * (200.0 * 12.0 - 72.0));
    near(volume(1), 800.0 * (50.0 * 12.0 - 144.0));
    near(touching(&job, 0, 1), 800.0 * 12.0 * 2.0_f64.sqrt());
    let (_, _, list, laid) = listed(&text);
    let [panel] = list.folded.as_slice() else { panic!("{:?}", list.folded) };
    // Nothing is lost on the face: 200 + 50 + 200.
    near(panel.row.length, 800.0);
    near(panel.row.width, 450.0);
    assert_eq!(panel.folds.iter().map(|f| f.at).collect::<Vec<_>>(), [200.0, 250.0]);
    for fold in &panel.folds {
        near(fold.angle, 90.0);
        near(fold.depth, 12.0);
    }
    assert!(!panel.along_grain);
    // One piece lies on the sheet, as large as the panel.
    assert_eq!(laid, [[8000, 4500]]);
    assert!(list.parts.iter().all(|row| row.rough.is_none()));
}

#[test]
fn a_skin_bends_round_the_corner() {
    // The point of a groove lies 0.5 inside both faces of its corner, so each
    // fold shortens the panel by twice that; grooves stand at 200 - 0.5 and
    // 200 + 50 - 0.5 - 2 x 0.5.
    let (_, worked, list, _) = listed(&shelf("folded_mitre([top, front, foot], #{ skin: 0.5 });"));
    assert_eq!(setting(&worked, 1), "V groove 90°, 11.5 mm deep");
    let panel = &list.folded[0];
    near(panel.row.width, 448.0);
    assert_eq!(panel.folds.iter().map(|f| f.at).collect::<Vec<_>>(), [199.5, 248.5]);
}

#[test]
fn a_box_closes_on_a_mitre() {
    let text =
        wrap(15.0, [500.0, 300.0, 120.0], "folded_mitre([front, right, back, left], #{ closed: true });");
    let job = good(&text);
    let said: Vec<String> = (0..job.joints.len()).map(|joint| called(&job, joint)).collect();
    assert_eq!(said, ["folded mitre 45°", "folded mitre 45°", "folded mitre 45°", "closing mitre 45°"]);
    let all: f64 = job.parts.iter().map(|p| p.solid.volume()).sum();
    near(all, 120.0 * (500.0 * 300.0 - 470.0 * 270.0));
    let (_, _, list, laid) = listed(&text);
    let panel = &list.folded[0];
    assert!(panel.along_grain);
    near(panel.row.length, 1600.0);
    near(panel.row.width, 120.0);
    // A millimetre is left on either free end for its mitre.
    assert_eq!(panel.row.rough, Some([1602.0, 120.0, 15.0]));
    assert_eq!(laid, [[16020, 1200]]);
}

#[test]
fn two_pieces_of_a_kind_take_two_panels() {
    let text = shelf("folded_mitre([top, front, foot]);")
        .replace("piece(\"Piece\")", "piece(\"Piece\", #{ count: 2 })");
    let (_, _, list, _) = listed(&text);
    assert_eq!(list.folded.iter().map(|p| p.row.quantity).collect::<Vec<_>>(), [2]);
    // Two more, drawn one by one: still one row.
    let more = shelf("folded_mitre([top, front, foot]);");
    let again =
        more.split_once("let top").unwrap().1.replace("let front", "front").replace("let foot", "foot");
    let text = format!("{more}piece(\"Other\");\ntop{again}");
    let (_, _, list, _) = listed(&text);
    assert_eq!(list.folded.iter().map(|p| p.row.quantity).collect::<Vec<_>>(), [2]);
}

/// The flat length of a fold, worked from the parts as drawn.
fn flat(panel: &FoldedPanel) -> f64 {
    if panel.along_grain { panel.row.length } else { panel.row.width }
}

#[test]
fn folds_by_lot_close_and_lose_nothing() {
    let mut made = 0;
    for seed in 0..40 {
        let mut lot = Lot(seed);
        let thick = lot.between(4.0, 25.0);
        let size = [lot.between(60.0, 700.0), lot.between(60.0, 500.0), lot.between(30.0, 400.0)];
        let skin = if lot.of(2) == 0 { lot.between(0.0, 2.0) } else { 0.0 };
        let count = 2 + lot.of(3);
        let closed = count == 4;
        let names = ["front", "right", "back", "left"];
        let first = lot.of(4);
        let order: Vec<&str> = (0..count).map(|k| names[(first + k) % 4]).collect();
        let works = format!("folded_mitre([{}], #{{ skin: {skin:?}, closed: {closed} }});", order.join(", "));
        let mut text = wrap(thick, size, &works);
        // Across the grain as well as along it.
        if lot.of(2) == 0 {
            text = text.replace("grain: \"x\"", "grain: \"z\"").replace("grain: \"y\"", "grain: \"z\"");
        }
        for name in names.iter().filter(|n| !order.contains(n)) {
            let keep = |l: &&str| !l.starts_with(&format!("let {name} "));
            text = text.lines().filter(keep).collect::<Vec<_>>().join("\n") + "\n";
        }
        let narrowest = if count > 2 { size[0].min(size[1]) } else { f64::INFINITY };
        if narrowest < 2.0 * thick + 0.1 || skin > 0.5 * thick {
            assert!(problem(&text).contains("does-not-fit"), "{text}");
            continue;
        }
        made += 1;
        let (_, worked, list, _) = listed(&text);
        clear_of_one_another(&worked);
        let corners = if closed { count } else { count - 1 };
        assert_eq!(worked.joints.len(), corners);
        for joint in &worked.joints {
            let area = touching(&worked, joint.parts[0], joint.parts[1]);
            assert!(
                (area - size[2] * thick * 2.0_f64.sqrt()).abs() < 1e-3 * area.max(1.0) * 1e-3 + 1e-3,
                "{area} {text}"
            );
        }
        // Each corner gives up half of its square on either part.
        let all: f64 = worked.parts.iter().map(|p| p.solid.volume()).sum();
        let lengths: f64 =
            order.iter().map(|n| if ["front", "back"].contains(n) { size[0] } else { size[1] }).sum();
        near(all, size[2] * (lengths * thick - corners as f64 * thick * thick));
        let [panel] = list.folded.as_slice() else { panic!("{text}") };
        assert!((flat(panel) - (lengths - 2.0 * skin * (count - 1) as f64)).abs() < 2e-3, "{panel:?} {text}");
        assert_eq!(panel.folds.len(), count - 1);
    }
    assert!(made >= 25, "only {made} of 40 could be made");
}

#[test]
fn other_corners_than_square_fold_too() {
    // Two boards of 300 that turn by 60 degrees: each leans by 30, the groove is
    // 60 wide, and a skin of 0.5 takes 0.5 tan 30 off either.
    let text = sheet(
        12.0,
        &[
            ("a", [[0.0, 300.0], [0.0, 12.0], [0.0, 200.0]], "x"),
            ("b", [[0.0, 12.0], [0.0, 300.0], [0.0, 200.0]], "y"),
        ],
        "folded_mitre([a, b], #{ skin: 0.5 });",
    );
    // About the outer corner, from a quarter open to 120 degrees between them.
    let turned = "turn: #{ axis: \"z\", by: 30, about: [0, 0, 0] }, grain: \"y\"";
    let text = text.replace("grain: \"y\"", turned);
    let (_, worked, list, _) = listed(&text);
    clear_of_one_another(&worked);
    assert_eq!(setting(&worked, 0), "V groove 60°, 11.5 mm deep");
    let panel = &list.folded[0];
    let tan = 1.0 / 3.0_f64.sqrt();
    assert!((panel.folds[0].at - (worked.parts[0].size.x - 0.5 * tan)).abs() < 1e-3);
}

#[test]
fn folds_that_cannot_be_made_are_said_with_figures() {
    let all = "folded_mitre([top, front, foot]);";
    let short = shelf(all).replacen("[0.0, 800.0]", "[0.0, 790.0]", 1);
    let crossed = shelf(all).replacen("grain: \"x\"", "grain: \"y\"", 1);
    let solid = shelf(all)
        .replace("piece(\"Piece\");", "let oak = board_stock(\"Oak\");\npiece(\"Piece\");")
        .replace("panel(\"front\", ply", "board(\"front\", oak");
    let other = shelf(all)
        .replace(
            "piece(\"Piece\");",
            "let thin = sheet_stock(\"Other ply\", #{ thick: 12, sheet: [3050, 1525] });\npiece(\"Piece\");",
        )
        .replace("panel(\"front\", ply", "panel(\"front\", thin");
    let apart = shelf(all).replacen("y: [0.0, 200.0]", "y: [20.0, 200.0]", 1);
    let low = shelf(all).replace("[38.0, 50.0]", "[8.0, 20.0]").replace("[0.0, 50.0]", "[0.0, 20.0]");
    let around = shelf("folded_mitre([front, top, side]);").replace(
        "let foot",
        "let side = panel(\"side\", ply, #{ x: [0, 12], y: [0, 200], z: [0, 50], grain: \"y\" });\nlet foot",
    );
    let cases = [
        ("one part", problem(&shelf("folded_mitre([top]);"))),
        ("two parts closed", problem(&shelf("folded_mitre([top, front], #{ closed: true });"))),
        ("one part twice", problem(&shelf("folded_mitre([top, front, top]);"))),
        ("in two folds", problem(&shelf("folded_mitre([top, front]);\nfolded_mitre([front, foot]);"))),
        ("not beside one another", problem(&shelf("folded_mitre([top, foot]);"))),
        ("skin out of range", problem(&shelf("folded_mitre([top, front, foot], #{ skin: 9 });"))),
        (
            "skin most of the panel",
            problem(
                &shelf("folded_mitre([top, front, foot], #{ skin: 3 });")
                    .replace("12.0", "5.0")
                    .replace("38.0", "45.0"),
            ),
        ),
        ("one shorter", problem(&short)),
        ("grain across", problem(&crossed)),
        ("solid wood", problem(&solid)),
        ("two stocks", problem(&other)),
        ("apart", problem(&apart)),
        ("nothing left inside", problem(&low)),
        ("grain round the closing fold", problem(&around)),
    ];
    golden(file!(), &cases);
}
