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

#[test]
fn one_wall_told_three_ways_gives_three_answers() {
    let wall = |more: &str| niche(&format!("width: 1200, height: 2400{more}"));
    let cases = [
        ("square", wall("")),
        ("14 mm narrower at the ceiling", wall(", widths: [1200, 1200, 1186]")),
        ("out of plumb", wall(", lean: 16")),
        ("leaning back", wall(", lean: -16")),
        ("a sloping ceiling", wall(", ceiling: [2400, 2050]")),
        ("a skirting", wall(", skirting: [120, 15]")),
        ("two widths", wall(", widths: [1200, 1186]")),
        ("a width of nothing", wall(", widths: [1200, 0, 1186]")),
        ("leaning more than walls do", wall(", lean: 900")),
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
