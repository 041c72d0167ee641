//! Sets of many parts: crowded views take further sheets by themselves, and no
//! sheet has a finding of the drawing lint.

use std::fmt::Write as _;

use rodwright::drawing::{Look, Paper, Profile};
use rodwright::measure::Unit;
use rodwright::paper::Sheet;
use rodwright::paper::lint::judge_set;
use rodwright::{draw, examine};

use crate::support::scripts::request;
use crate::support::sets::describe;

/// A shelf wall of `bays` between shared uprights, no two of one width, with a
/// plinth under every three: about seven parts to a bay.
fn shelf_wall(bays: usize) -> String {
    let mut text = String::from(
        "job(\"Shelf wall\", #{ unit: \"mm\" });\n\
         let ply = sheet_stock(\"Ply\", #{ thick: 18, sheet: [2440, 1220], grain: \"length\" });\n\
         piece(\"Wall\");\nlet x = 18;\nlet from = 0;\n\
         let l = panel(\"U0\", ply, #{ x: [0, 18], y: [0, 280], z: [80, 2000], grain: \"z\" });\n",
    );
    for i in 1..=bays {
        let width = 280 + 3 * i;
        let _ = write!(
            text,
            "let r = panel(\"U{i}\", ply, #{{ x: [x + {width}, x + {width} + 18], y: [0, 280], z: [80, 2000], grain: \"z\" }});\n\
             for z in [80, 480, 850, 1200, 1600, 1982] {{\n\
             let b = panel(\"S{i}-\" + z, ply, #{{ x: between(l, r), y: [0, 280], z: [z, z + 18], grain: \"x\" }});\n\
             housing(b, l, #{{ depth: 6 }}); housing(b, r, #{{ depth: 6 }}); }}\n\
             x += {width} + 18; l = r;\n"
        );
        if i % 3 == 0 {
            let _ = write!(
                text,
                "let p = panel(\"P{i}\", ply, #{{ x: [from, x], y: [40, 58], z: [0, 80], grain: \"x\" }});\n\
                 butt(p, r); from = x;\n"
            );
        }
    }
    text
}

fn drawn(text: String, look: &Look) -> Vec<Sheet> {
    let request = request("large.rhai", text);
    let done = examine(&request);
    assert!(done.problems.is_empty(), "{:?}", done.problems);
    let (job, worked) = done.worked.unwrap();
    assert!(worked.parts.len() >= 120, "{} parts", worked.parts.len());
    let drawn = draw(&job, &worked, look);
    assert!(drawn.problems.is_empty(), "{:?}", drawn.problems);
    drawn.sheets
}

#[test]
fn walls_of_many_parts_are_clean() {
    let metric = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
    let inch = Look::new(Paper::Letter, Unit::Inch, Profile::Asme);
    for (bays, look) in [(17, inch), (27, metric)] {
        let sheets = drawn(shelf_wall(bays), &look);
        let found = judge_set(&sheets);
        assert!(found.is_empty(), "{}", describe(&found));
        let of = |words: &str| sheets.iter().filter(|sheet| sheet.title.contains(words)).count();
        assert!(of("parts apart") >= 3, "too many parts in one picture");
        assert!(bays < 20 || of("part numbers") >= 1, "too many numbers round one picture");
    }
}
