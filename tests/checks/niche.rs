//! A wall that is not square, plumb or level: what has no room, and what would fit.
//! `UPDATE=1` writes the messages anew.

use crate::support::golden::golden;
use crate::support::scripts::found;

const HEAD: &str = "job(\"Test\", #{ unit: \"mm\" });\n";

/// A case of 1200 × 2100 in a niche, as its wall is told.
fn niche(wall: &str) -> String {
    format!(
        "{HEAD}let ply = sheet_stock(\"Birch plywood\", #{{ thick: 18 }});\nsite(\"Niche\", #{{ {wall} }});\npiece(\"Case\", #{{ left: 0 }});\n\
         let left = panel(\"Left\", ply, #{{ x: [0, 18], y: [0, 300], z: [0, 2100], grain: \"z\" }});\n\
         let right = panel(\"Right\", ply, #{{ x: [1182, 1200], y: [0, 300], z: [0, 2100], grain: \"z\" }});\n\
         let foot = panel(\"Foot\", ply, #{{ x: between(left, right), y: [0, 300], z: [0, 18], grain: \"x\" }});\n\
         for side in [left, right] {{ loose_tenons(foot, side, #{{ tenon: \"8x40\", count: 3 }}); }}\n"
    )
}

/// A filler beside a case, and what is left on it to scribe.
fn filler(wide: u32, scribe: &str) -> String {
    let case = niche("width: 1240, height: 2400, widths: [1240, 1246, 1252], lean: 16");
    format!(
        "{case}let pine = board_stock(\"Pine\", #{{ thick: [27], species: \"ponderosa pine\" }});\n\
             let filler = board(\"Filler\", pine, #{{ x: [1200, 1200 + {wide}], y: [2, 22], z: [0, 2100], grain: \"z\" }});\n\
             butt(filler, right);\nscribe(filler, {scribe});\n"
    )
}

/// A frame between two walls, its stiles scribed to both.
fn built_in(more: &str) -> String {
    format!(
        "{HEAD}let oak = board_stock(\"Oak\", #{{ thick: [27], species: \"white oak\" }});\n\
         site(\"Niche\", #{{ width: 1200, height: 2400 }});\npiece(\"Frame\", #{{ left: 0 }});\n\
         let left = board(\"Left stile\", oak, #{{ x: [0, 70], y: [0, 22], z: [0, 900], grain: \"z\" }});\n\
         let right = board(\"Right stile\", oak, #{{ x: [1130, 1200], y: [0, 22], z: [0, 900], grain: \"z\" }});\n\
         let top = board(\"Top rail\", oak, #{{ x: between(left, right), y: [0, 22], z: [830, 900], grain: \"x\" }});\n\
         let foot = board(\"Foot rail\", oak, #{{ x: between(left, right), y: [0, 22], z: [0, 70], grain: \"x\" }});\n\
         for rail in [top, foot] {{ for stile in [left, right] {{ mortise_tenon(rail, stile); }} }}\n\
         scribe(left, \"left\", #{{ allow: 10 }});\nscribe(right, \"right\", #{{ allow: 10 }});\n"
    )
    .replace("left: 0", &format!("left: 0{more}").replace("left: 0, left", "left"))
}

/// The same with a strip before each stile that comes last.
fn built_in_strips() -> String {
    built_in("")
        .replace("scribe(left", "let a = board(\"Left strip\", oak, #{ x: [0, 30], y: [-20, 0], z: [0, 900], grain: \"z\" });\nscrews(a, left, #{ screw: \"4x30\" });\nscribe(a")
        .replace("scribe(right", "let b = board(\"Right strip\", oak, #{ x: [1170, 1200], y: [-20, 0], z: [0, 900], grain: \"z\" });\nscrews(b, right, #{ screw: \"4x30\" });\nscribe(b")
}

/// A case on its cleat, on a wall with studs.
fn on_studs(studs: &str) -> String {
    format!(
        "{HEAD}let ply = sheet_stock(\"Birch plywood\", #{{ thick: 18 }});\nlet pine = board_stock(\"Pine\", #{{ thick: [27], species: \"ponderosa pine\" }});\n\
         site(\"Wall\", #{{ width: 3000, height: 2400, studs: {studs} }});\npiece(\"Case\", #{{ floor: 1500, left: 400 }});\n\
         let rail = panel(\"Rail\", ply, #{{ x: [0, 900], y: [163, 181], z: [300, 400], grain: \"x\" }});\n\
         let own = board(\"Own cleat\", pine, #{{ x: [10, 890], y: [181, 200], z: [340, 390], grain: \"x\" }});\n\
         let wall = board(\"Wall cleat\", pine, #{{ x: [10, 890], y: [181, 200], z: [280, 340], grain: \"x\" }});\n\
         hanging_cleat(own, wall, rail);\n"
    )
}

#[test]
fn one_wall_told_three_ways_gives_three_answers() {
    let wall = |more: &str| niche(&format!("width: 1200, height: 2400{more}"));
    let cases = [
        ("square", wall("")),
        ("14 mm narrower at the ceiling", wall(", widths: [1200, 1200, 1186]")),
        (
            "narrower, with room on the left",
            wall(", widths: [1230, 1230, 1216]")
                .replace("left: 0", "left: 20")
                .replace("width: 1200", "width: 1230"),
        ),
        ("out of plumb", wall(", lean: 16")),
        ("leaning back", wall(", lean: -16")),
        ("a sloping ceiling", wall(", ceiling: [2400, 2050]")),
        ("a skirting", wall(", skirting: [120, 15]")),
        (
            "scribed to its lean",
            wall(", lean: 16")
                + "scribe(left, \"back\", #{ allow: 17 });\nscribe(right, \"back\", #{ allow: 17 });\n",
        ),
        (
            "scribed too little",
            wall(", lean: 16")
                + "scribe(left, \"back\", #{ allow: 6 });\nscribe(right, \"back\", #{ allow: 20 });\n",
        ),
        ("a filler with enough left on", filler(40, "\"right\", #{ allow: 15, gap: [40, 46, 52] }")),
        ("a filler cut too narrow", filler(40, "\"right\", #{ allow: 4, gap: [40, 46, 52] }")),
        ("a filler wider than told", filler(60, "\"right\", #{ allow: 12, gap: [40, 46, 52] }")),
        ("a filler with a negative gap", filler(40, "\"right\", #{ gap: [40, -3] }")),
        ("a frame scribed at both ends", built_in("")),
        (
            "a frame with room for what is left on it",
            built_in(", left: 20").replace("width: 1200", "width: 1240"),
        ),
        ("strips screwed on last", built_in_strips()),
        ("scribed on its face", filler(40, "\"front\"")),
        ("fixings in studs", on_studs("[50, 400]")),
        ("fixings beside studs", on_studs("[150, 400]")),
        ("studs nothing apart", on_studs("[150, 0]")),
        ("a corner that closes in", wall(", corners: [6, 0]")),
        ("a corner that opens out", wall(", corners: [-10, 0]")),
        ("three corners", wall(", corners: [1, 2, 3]")),
        ("two widths", wall(", widths: [1200, 1186]")),
        ("a width of nothing", wall(", widths: [1200, 0, 1186]")),
        ("leaning more than walls do", wall(", lean: 900")),
        ("air told the wrong way round", wall(", driest: 65, dampest: 30")),
        ("air told by half", wall(", driest: 30")),
    ];
    let found: Vec<(&str, String)> = cases
        .iter()
        .map(|(name, text)| {
            let said = found(text);
            (*name, if said.is_empty() { "nothing is found".to_owned() } else { said })
        })
        .collect();
    golden(file!(), &found);
}
