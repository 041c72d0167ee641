//! Checks find what is wrong, say it with figures, and stay silent on sound
//! work. `UPDATE=1` writes the messages anew.

use std::sync::Arc;

use rodwright::model::SizeKind;
use rodwright::problem::render_all;
use rodwright::script::{Limits, NoModules, Request, declared};

use crate::support::golden::golden;

/// A request for a script.
fn request(name: &str, text: &str, settings: Vec<(String, String)>) -> Request {
    Request {
        name: name.into(),
        text: text.into(),
        settings,
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    }
}

/// Everything found in a script, as the maker reads it.
pub(super) fn found(name: &str, text: &str, settings: Vec<(String, String)>) -> String {
    let examined = rodwright::examine(&request(name, text, settings));
    render_all(&examined.problems, &examined.sources)
}

/// A shelf of 600 × 300 × 18 against the side that stands to its right, and
/// more.
fn shelf_and_side(more: &str) -> String {
    let text = String::from(
        "job(\"Test\", #{ unit: \"mm\" });\nlet pine = board_stock(\"Pine\", #{ thick: [27, 34] });\npiece(\"Piece\");\n\
         let shelf = board(\"Shelf\", pine, #{ x: [18, 618], y: [0, 300], z: [400, 418], grain: \"x\" });\n\
         let side = board(\"Side\", pine, #{ x: [618, 636], y: [0, 300], z: [0, 800], grain: \"z\" });\n",
    );
    text + more + "\n"
}

/// A board more.
fn board(name: &str, x: &str, y: &str, z: &str, grain: &str) -> String {
    format!("let {name} = board(\"{name}\", pine, #{{ x: {x}, y: {y}, z: {z}, grain: \"{grain}\" }});\n")
}

/// A shelf on pins, reaching so far along.
fn loose_shelf(x: &str) -> String {
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet ply = sheet_stock(\"Ply\", #{{ thick: 18 }});\npiece(\"Piece\");\n\
         let left = panel(\"Left\", ply, #{{ x: [0, 18], y: [0, 280], z: [0, 700], grain: \"z\" }});\n\
         let right = panel(\"Right\", ply, #{{ x: [618, 636], y: [0, 280], z: [0, 700], grain: \"z\" }});\n\
         let bottom = panel(\"Bottom\", ply, #{{ x: between(left, right), y: [0, 280], z: [0, 18], grain: \"x\" }});\n\
         for side in [left, right] {{ loose_tenons(bottom, side, #{{ tenon: \"8x40\", count: 3 }}); }}\n\
         let shelf = panel(\"Shelf\", ply, #{{ x: {x}, y: [0, 280], z: [340, 358], grain: \"x\" }});\n\
         shelf_pins(shelf, [left, right]);\n"
    )
}

/// A mitred corner, its rebate cut after the glue-up.
const CORNER: &str = "job(\"Test\", #{ unit: \"mm\" });\nlet pine = board_stock(\"Pine\", #{ thick: [27, 34] });\n\
    piece(\"Piece\");\n\
    let head = board(\"Head\", pine, #{ x: [0, 400], y: [0, 22], z: [360, 400], grain: \"x\" });\n\
    let stile = board(\"Stile\", pine, #{ x: [0, 40], y: [0, 22], z: [0, 400], grain: \"z\" });\n\
    let pane = board(\"Pane\", pine, #{ x: [LAP, 400], y: [10, 16], z: [0, 400 - LAP], grain: \"z\" });\n\
    mitre(stile, head);\nloose_tenons(stile, head, #{ tenon: \"6x30\", count: 1 });\n\
    for member in [head, stile] { after_glue_up(|| rebate(pane, member, #{ depth: 12 })); }\n";

/// A door between a side and nothing: its free edge has only the bottom to shut against.
const DOOR: &str = r#"job("A", #{ unit: "mm" });
let ply = sheet_stock("Birch plywood", #{ thick: 18, sheet: [2440, 1220] });
piece("Case", #{ hung: false });
let left = panel("Left", ply, #{ x: [0, 18], y: [0, 300], z: [0, 600], grain: "z" });
let bottom = panel("Bottom", ply, #{ x: [18, 418], y: [0, 300], z: [0, 18], grain: "x" });
loose_tenons(bottom, left, #{ tenon: "8x40", count: 3 });
let door = panel("Door", ply, #{ x: [19.5, 416], y: [0, 18], z: [20, 598], grain: "z" });
butt_hinges(door, left);
"#;

/// A mitred corner of panels 19 thick with a tongue, and a back in a groove of both: by hand its
/// corner reaches 5.5 * 1.414 = 7.8 along the mitre, the tongue from 4.6 to 8.6.
const TONGUED: &str = r#"job("Test", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 19, sheet: [2440, 1220] });
let thin = sheet_stock("Thin ply", #{ thick: 6, sheet: [2440, 1220] });
piece("Piece");
let side = panel("Side", ply, #{ x: [0, 19], y: [0, 300], z: [0, 300], grain: "z" });
let bottom = panel("Bottom", ply, #{ x: [0, 400], y: [0, 300], z: [0, 19], grain: "x" });
mitre(side, bottom);
loose_tongue(side, bottom, #{ tongue: "4x12", stop: STOP });
let back = panel("Back", thin, #{ x: [19, 400], y: [256, 262], z: [19, 300], grain: "x" });
for member in [side, bottom] { groove(back, member, #{ depth: 6 }); }
"#;

/// Two rails at right angles in one leg of 40, their tenons of 30 each.
const RAILS_IN_A_LEG: &str = "job(\"Test\", #{ unit: \"mm\" });\nlet pine = board_stock(\"Pine\", #{ thick: 50 });\n\
    piece(\"Piece\");\n\
    let leg = board(\"Leg\", pine, #{ x: [0, 40], y: [0, 40], z: [0, 400], grain: \"z\" });\n\
    let rail = board(\"Rail\", pine, #{ x: [40, 400], y: [10, 30], z: [300, 360], grain: \"x\" });\n\
    let end = board(\"End rail\", pine, #{ x: [10, 30], y: [40, 300], z: [300, 360], grain: \"y\" });\n\
    mortise_tenon(rail, leg, #{ depth: 30 });\nmortise_tenon(end, leg, #{ depth: 30 });\n";

#[test]
fn what_is_wrong_is_said_with_figures() {
    let low = board("low", "[618, 1000]", "[0, 300]", "[409, 427]", "x");
    let other = board("other", "[636, 1000]", "[0, 300]", "[404, 422]", "x");
    let back = board("back", "[18, 618]", "[140, 146]", "[418, 700]", "x");
    let free = board("free", "[0, 300]", "[0, 300]", "[900, 918]", "x");
    let across = board("across", "[18, 618]", "[100, 106]", "[418, 800]", "x");
    let cases = [
        ("one runs into another", shelf_and_side(&format!("butt(shelf, side);\n{low}"))),
        (
            "one runs in from below",
            shelf_and_side(&format!(
                "butt(shelf, side);\n{}",
                board("across", "[300, 318]", "[0, 300]", "[411, 800]", "z")
            )),
        ),
        (
            "two joints that exclude one another",
            shelf_and_side("butt(shelf, side);\nhousing(shelf, side, #{ depth: 6 });"),
        ),
        (
            "one joint twice",
            shelf_and_side(
                "loose_tenons(shelf, side, #{ tenon: \"8x40\" });\nloose_tenons(shelf, side, #{ tenon: \"8x30\" });",
            ),
        ),
        ("held by nothing", shelf_and_side("")),
        ("free of all others", shelf_and_side(&format!("butt(shelf, side);\n{free}"))),
        (
            "housings meet",
            shelf_and_side(&format!(
                "{other}housing(shelf, side, #{{ depth: 10, stop: 12 }});\nhousing(other, side, #{{ depth: 10, stop: 12 }});"
            )),
        ),
        (
            "hole in a mortise",
            shelf_and_side(
                "loose_tenons(shelf, side, #{ tenon: \"8x40\" });\nhole(shelf, \"top\", #{ diameter: 10, along: [10], across: 75 });",
            ),
        ),
        (
            "dowels into a row of screws",
            shelf_and_side(
                "dowels(shelf, side, #{ dowel: \"8x40\", count: 3 });\nscrews(side, shelf, #{ screw: \"4x40\", count: 3 });",
            ),
        ),
        ("button in a bearer", include_str!("button_in_a_bearer.rhai").into()),
        ("pins back to back", include_str!("pins_back_to_back.rhai").into()),
        ("a loose shelf without play", loose_shelf("between(left, right)")),
        ("a door that shuts against nothing", DOOR.into()),
        ("two tenons in one leg", RAILS_IN_A_LEG.into()),
        (
            "groove in a mortise",
            shelf_and_side(&format!(
                "{back}loose_tenons(shelf, side, #{{ tenon: \"8x40\", count: 1 }});\nbutt(back, side);\ngroove(back, shelf, #{{ depth: 8 }});"
            )),
        ),
        (
            "groove shows",
            shelf_and_side(&format!(
                "{across}butt(shelf, side);\ngroove(across, side, #{{ depth: 8 }});\nbutt(across, shelf);"
            )),
        ),
        ("tongue in a back", TONGUED.replace("STOP", "20")),
        ("rebate in a tenon", CORNER.replace("LAP", "18")),
        (
            "rebate before the glue-up",
            CORNER.replace("LAP", "18").replace(
                "after_glue_up(|| rebate(pane, member, #{ depth: 12 }));",
                "rebate(pane, member, #{ depth: 12 });",
            ),
        ),
        (
            "offset without a side",
            shelf_and_side("loose_tenons(shelf, side, #{ tenon: \"8x40\", offset: 4 });"),
        ),
        (
            "offset along",
            shelf_and_side("loose_tenons(shelf, side, #{ tenon: \"8x40\", offset: 4, toward: \"right\" });"),
        ),
        (
            "offset too far",
            shelf_and_side(
                "loose_tenons(shelf, side, #{ tenon: \"8x40\", offset: 150, toward: \"front\" });",
            ),
        ),
    ];
    let all = cases.map(|(name, text)| (name, found("test", &text, Vec::new())));
    golden(file!(), &all);
}

#[test]
fn sound_work_is_left_alone() {
    for works in [
        "butt(shelf, side);\nscrews(side, shelf, #{ screw: \"4x40\", spacing: 150 });",
        "butt(shelf, side);\nloose_tenons(shelf, side, #{ tenon: \"8x40\" });",
        "loose_tenons(shelf, side, #{ tenon: \"8x40\", count: 3, offset: 20, toward: \"front\" });",
    ] {
        assert_eq!(found("test", &shelf_and_side(works), Vec::new()), "", "{works}");
    }
    assert_eq!(found("test", &CORNER.replace("LAP", "32"), Vec::new()), "");
    // A rebate cut when the corner is glued takes the tongue's end with it.
    let late = CORNER.replace("LAP", "32").replace(
        "loose_tenons(stile, head, #{ tenon: \"6x30\", count: 1 });",
        "loose_tongue(stile, head, #{ tongue: \"4x30\" });",
    );
    assert!(!found("test", &late, Vec::new()).contains("parts-cross"));
    // By hand: stopped 20 and 50 of 300 it ends at 250, before the back at 256.
    for stop in ["50", "20, far_stop: 50"] {
        let sound = found("test", &TONGUED.replace("STOP", stop), Vec::new());
        assert!(!sound.contains("parts-cross"), "{stop}: {sound}");
    }
    assert_eq!(found("test", &loose_shelf("[19, 617]"), Vec::new()), "");
    // A door with a block, a catch or a shelf behind it does not swing on into its case.
    for held in ["stop(door, bottom);", "catch_plate(door, bottom);", "SHELF"] {
        let shelf = "let shelf = panel(\"Shelf\", ply, #{ x: [18, 418], y: [20, 300], z: [300, 318], grain: \"x\" });\n\
                     loose_tenons(shelf, left, #{ tenon: \"8x40\", count: 3, offset: 10, toward: \"back\" });";
        let said = found("test", &format!("{DOOR}{}\n", held.replace("SHELF", shelf)), Vec::new());
        assert!(!said.contains("shuts-on-nothing"), "{said}");
        assert!(!said.contains("error"), "{said}");
    }
}

/// A number of 0 to 1 that depends on nothing but the ones before it:
/// a linear congruence, multiplier and step of Numerical Recipes.
fn next(state: &mut u32) -> f64 {
    *state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
    f64::from(*state >> 8) / f64::from(1 << 24)
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn the_three_scripts_are_sound_at_any_size() {
        for name in ["periodicals_cabinet", "low_bookcase", "notice_frame"] {
            let text = std::fs::read_to_string(format!("scripts/{name}.rhai")).unwrap();
            assert_eq!(found(name, &text, Vec::new()), "", "{name}");
            let sizes = declared(&request(name, &text, Vec::new())).sizes;
            let mut state = 7;
            for _ in 0..10 {
                let mut settings = Vec::new();
                let mut width = 0.0;
                for decl in &sizes {
                    let part = next(&mut state);
                    let value = match &decl.kind {
                        SizeKind::Length { from: Some(from), to: Some(to), .. } => {
                            // The divider stands inside the case.
                            let to = if decl.name == "divider" { width - 120.0 } else { *to };
                            let value = (from + part * (to - from)).round();
                            width = if decl.name == "width" { value } else { width };
                            value.to_string()
                        }
                        SizeKind::Count { from: Some(from), to: Some(to), .. } => {
                            (from + (part * (to - from + 1) as f64) as i64).min(*to).to_string()
                        }
                        SizeKind::Choice { among, .. } => among[(part * among.len() as f64) as usize].clone(),
                        SizeKind::YesNo { .. } => if part < 0.5 { "no" } else { "yes" }.to_owned(),
                        kind => panic!("{name} declares `{}` without a range: {kind:?}", decl.name),
                    };
                    settings.push((decl.name.clone(), value));
                }
                let examined = rodwright::examine(&request(name, &text, settings.clone()));
                // At some sizes a shelf bends more than is advised, and is said to.
                let wrong: Vec<_> = examined.problems.into_iter().filter(|p| p.code != "sags").collect();
                assert_eq!(render_all(&wrong, &examined.sources), "", "{name} {settings:?}");
            }
        }
    }
}
