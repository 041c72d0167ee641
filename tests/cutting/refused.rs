//! Orders that cannot be cut as they stand: each gets its whole message, kept in
//! `refused.txt`, and whatever is not laid out is named. `UPDATE=1`
//! writes the messages anew.

use rodwright::cutting::{CuttingList, Layouts, SheetRow, shop_lists};
use rodwright::machining::Machined;
use rodwright::problem::render_all;

use crate::support::golden::golden;
use crate::support::scripts::request;

/// What is wrong, how the shop cuts, the stock and its parts.
const CASES: [(&str, &str, &str); 11] = [
    ("larger than any sheet", "", "[2440, 1220], grain: \"length\""),
    ("no sheet left", "", "[300, 200], on_hand: [#{ size: [3000, 1220], count: 0 }]"),
    ("a price below nothing", "", "[2440, 1220], price: -4"),
    ("a kerf out of range", "cutting(#{ kerf: 30 });", "[2740, 1220], grain: \"length\""),
    ("a kerf wider than a part", "cutting(#{ kerf: 20 });", "[2740, 1220], grain: \"length\""),
    ("no cuts allowed", "cutting(#{ levels: 0 });", "[2440, 1220]"),
    ("a run of more cuts than allowed", "cutting(#{ levels: 2 });", "[3000, 1220], grain: \"length\""),
    ("trims leave nothing", "cutting(#{ edge_trim: 45 });", "[80, 60]"),
    ("a run longer than the sheet", "", "[2700, 1220], grain: \"length\""),
    ("no board thick enough", "", "[3000, 1220]"),
    ("too few on hand", "", "[10, 10], on_hand: [#{ size: [2700, 105], count: 1 }]"),
];

/// A shelf 2600 long with a slip 15 wide, in a run of two where the case is
/// about runs, on a bearer of solid timber where it is about boards.
fn script(case: &str, cutting: &str, sheet: &str) -> String {
    let run = if case.contains("run") { "grain_run([a, b]);" } else { "" };
    let board = if case.contains("board") {
        "let ash = board_stock(\"Ash\", #{ thick: [27, 34] });\n\
         board(\"Bearer\", ash, #{ x: [0, 2700], y: [0, 60], z: [100, 160], grain: \"x\" });"
    } else {
        ""
    };
    format!(
        "job(\"Shelf\", #{{ unit: \"mm\" }});\n{cutting}\n\
         let ply = sheet_stock(\"Ply\", #{{ thick: 18, sheet: {sheet} }});\n\
         piece(\"Shelf\");\n\
         let a = panel(\"Shelf\", ply, #{{ x: [0, 2600], y: [0, 100], z: [0, 18], grain: \"x\" }});\n\
         let b = panel(\"Slip\", ply, #{{ x: [2600, 2800], y: [0, 15], z: [0, 18], grain: \"x\" }});\n\
         {run}\n{board}\n"
    )
}

/// Two stocks of sheet, one of no size known, and a board.
const STOCKS: &str = "job(\"Shelf\", #{ unit: \"mm\" });\n\
    let ply = sheet_stock(\"Ply\", #{ thick: 18, sheet: [2440, 1220] });\n\
    let bare = sheet_stock(\"Bare\", #{ thick: 18 });\nlet ash = board_stock(\"Ash\");\npiece(\"Shelf\");\n\
    let two = board(\"Two\", ash, #{ x: [600, 900], y: [0, 60], z: [0, 18], grain: \"x\" });\n";

/// Rows of sheet goods and boards that stand on no layout.
fn missing<'a>(list: &'a CuttingList, layouts: &Layouts) -> Vec<&'a str> {
    let laid = layouts.sheets.iter().chain(&layouts.boards).flat_map(|cutting| {
        let out: Vec<usize> = cutting.plan.unplaced.iter().flat_map(|gap| &gap.parts).copied().collect();
        let placed = cutting.rows.iter().enumerate().filter(move |(at, _)| !out.contains(at));
        placed.flat_map(|(_, row)| match row {
            SheetRow::Part(row) => vec![*row],
            SheetRow::Lipping(_) => Vec::new(),
            SheetRow::Folded(panel) => (0..list.parts.len())
                .filter(|row| {
                    list.parts[*row].which.iter().any(|i| list.folded[*panel].row.which.contains(i))
                })
                .collect(),
        })
    });
    let laid: Vec<usize> = laid.collect();
    let rows = list.parts.iter().enumerate().filter(|(row, _)| !laid.contains(row));
    rows.map(|(_, row)| row.name.as_str()).collect()
}

#[test]
fn what_cannot_be_cut_is_told_and_never_dropped() {
    let mut found = Vec::new();
    for (case, cutting, sheet) in CASES {
        let text = script(case, cutting, sheet);
        let done = rodwright::examine(&request("shelf.rhai", text));
        // What holds them together is not the subject here.
        let mut problems = done.problems;
        problems.retain(|problem| problem.code != "held-by-nothing");
        if let Some((job, worked)) = &done.worked {
            let (lists, more) = shop_lists(&Machined::new(job, worked));
            problems.extend(more);
            let said = render_all(&problems, &done.sources);
            for name in missing(&lists.list, &lists.layouts) {
                let stock = said.contains("`Ply` is not laid out") || said.contains("no sheet of `Ply`");
                let named = problems.iter().any(|problem| problem.parts.iter().any(|part| part == name));
                assert!(stock || named, "{case}: `{name}` is dropped\n{said}");
            }
        }
        let said = render_all(&problems, &done.sources);
        found.push((case, said));
    }
    for (case, panel) in [
        (
            "a run of two stocks",
            "let one = panel(\"One\", ply, #{ x: [0, 600], y: [0, 60], z: [0, 18], grain: \"x\" });\ngrain_run([one, two]);",
        ),
        (
            "a run of boards too wide to lie side by side",
            "let one = board(\"One\", ash, #{ x: [0, 300], y: [0, 18], z: [0, 150], grain: \"x\" });\n\
             let two = board(\"Two\", ash, #{ x: [0, 300], y: [0, 18], z: [150, 300], grain: \"x\" });\ngrain_run([one, two]);",
        ),
        (
            "a run out of a panel of staves",
            "let one = board(\"One\", ash, #{ x: [0, 300], y: [0, 400], z: [0, 18], grain: \"x\" });\n\
             let two = board(\"Two\", ash, #{ x: [300, 600], y: [100, 160], z: [0, 18], grain: \"x\" });\ngrain_run([one, two]);",
        ),
        (
            "a run of boards of two thicknesses",
            "let elm = board_stock(\"Elm\", #{ thick: [27, 41] });\n\
             let one = board(\"One\", elm, #{ x: [0, 300], y: [100, 160], z: [0, 18], grain: \"x\" });\n\
             let two = board(\"Two\", elm, #{ x: [300, 600], y: [100, 160], z: [0, 32], grain: \"x\" });\ngrain_run([one, two]);",
        ),
        (
            "a run of boards of two pieces",
            "let one = board(\"One\", ash, #{ x: [0, 300], y: [100, 160], z: [0, 18], grain: \"x\" });\npiece(\"Other\");\n\
             let other = board(\"Other\", ash, #{ x: [0, 300], y: [100, 160], z: [0, 18], grain: \"x\" });\ngrain_run([one, other]);",
        ),
        (
            "a run against the grain",
            "let one = panel(\"One\", ply, #{ x: [0, 600], y: [100, 400], z: [0, 18], grain: \"x\" });\n\
             let two = panel(\"Cross\", ply, #{ x: [600, 900], y: [100, 400], z: [0, 18], grain: \"y\" });\ngrain_run([one, two]);",
        ),
        (
            "a run of glass",
            "let glass = glass_stock(\"Glass\", #{ thick: 4 });\n\
             let one = pane(\"One\", glass, #{ x: [0, 300], y: [100, 400], z: [0, 4] });\n\
             let two = pane(\"Other\", glass, #{ x: [300, 600], y: [100, 400], z: [0, 4] });\ngrain_run([one, two]);",
        ),
        (
            "a board narrower than every part",
            "let elm = board_stock(\"Elm\", #{ thick: [27], widths: [40], lengths: [2000] });\n\
             board(\"One\", elm, #{ x: [0, 600], y: [0, 44], z: [0, 18], grain: \"x\" });\n\
             board(\"Far\", elm, #{ x: [0, 2600], y: [200, 230], z: [0, 18], grain: \"x\" });",
        ),
        ("no sheet named", "panel(\"One\", bare, #{ x: [0, 600], y: [0, 60], z: [0, 18], grain: \"x\" });"),
    ] {
        let text = format!("{STOCKS}{panel}\n");
        let done = rodwright::examine(&request("shelf.rhai", text));
        let said = || render_all(&done.problems, &done.sources);
        let (job, worked) = done.worked.as_ref().unwrap_or_else(|| panic!("{case}\n{}", said()));
        found.push((case, render_all(&shop_lists(&Machined::new(job, worked)).1, &done.sources)));
    }
    golden(file!(), &found);
}
