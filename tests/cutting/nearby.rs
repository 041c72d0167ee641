//! Sizes near by that save a sheet or a board, worked out by hand; what is said of them is
//! kept in `nearby.txt`.

use rodwright::problem::render_all;
use rodwright::{Choices, set_out};

use crate::support::golden::golden;
use crate::support::scripts::request;

/// Nine shelves 390 wide of sheets 2440 by 1220, which are 2420 by 1200 when their edges
/// are trimmed. Three strips of 390 go across with two saw cuts of 3.2 between them; along
/// a strip go two shelves of 810, and three where 3 w + 6.4 is at most 2420: 804.5.
fn shelves(width: &str, more: &str) -> String {
    format!(
        r#"job("Shelves", #{{ unit: "mm" }});
let width = size("width", {width}, #{{ {more} }});
let ply = sheet_stock("Birch plywood", #{{ thick: 18, sheet: [2440, 1220], grain: "length", price: 96 }});
piece("Shelves");
for i in range(0, 9) {{
    panel(`Shelf ${{i + 1}}`, ply, #{{ x: [0, width], y: [0, 390], z: [i * 100, i * 100 + 18], grain: "x" }});
}}
"#
    )
}

/// What is advised, and the files of the set.
fn said(script: String, near: Option<f64>) -> (String, String) {
    let choices = Choices { near, ..Choices::default() };
    let mut set = set_out(&request("shelves.rhai", script), &choices);
    set.problems.retain(|problem| problem.code == "near-size");
    let list = set.files.iter().find(|file| file.name == "-buying-list.csv");
    let list = list.map(|file| String::from_utf8(file.bytes.clone()).unwrap()).unwrap_or_default();
    (render_all(&set.problems, &set.sources), list)
}

#[test]
fn six_millimetres_less_save_a_sheet() {
    let (advice, list) = said(shelves("810", "from: 600, to: 900"), Some(3.0));
    let row = "Sizes near by that save,width 804 mm instead of 810 mm,";
    assert!(list.contains(row), "{list}");
    assert!(list.contains("\"saves 1 sheet of Birch plywood, 18 mm thick: 96.00\""), "{list}");
    golden(file!(), &[("a width that just misses three in a strip", advice)]);
}

#[test]
fn nothing_is_said_where_nothing_is_saved_or_asked() {
    // Not asked; not as near; not as far down as its range goes; three in a strip already.
    let range = "from: 600, to: 900";
    for (width, more, near) in [
        ("810", range, None),
        ("830", range, Some(3.0)),
        ("810", range, Some(0.5)),
        ("810", "from: 806, to: 900", Some(3.0)),
        ("800", range, Some(3.0)),
    ] {
        let (advice, list) = said(shelves(width, more), near);
        assert_eq!(advice, "", "{width} {more} {near:?}");
        assert!(!list.contains("near by"), "{list}");
    }
}
