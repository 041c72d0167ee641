//! The layouts of whole jobs: every printed layout judged by the independent
//! checker, and the printed cuts carried out one by one.

use rodwright::cutting::sheets::What;
use rodwright::cutting::{CutRow, SheetCutting, SheetRow, ShopLists, cutting_list, shop_lists};
use rodwright::drawing::{Look, Paper, Profile};
use rodwright::joinery::WorkedJob;
use rodwright::machining::Machined;
use rodwright::measure::Unit;
use rodwright::model::{Job, StockKind};
use rodwright::problem::Problem;
use rodwright::script::{Limits, NoModules, Request};
use rodwright::wording::Words;

use crate::cutting::checker::{faults, saw, sheets_of};
use crate::support::sets::{scripts, worked};

/// The worked job of a script text; errors fail the test.
fn job(text: &str) -> (Job, WorkedJob) {
    let request = Request {
        name: "test".into(),
        text: text.into(),
        settings: Vec::new(),
        loader: std::sync::Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    };
    let done = rodwright::examine(&request);
    done.worked.unwrap_or_else(|| panic!("{:#?}", done.problems))
}

/// Lays out a script text.
fn laid_out(text: &str) -> (Job, ShopLists, Vec<Problem>) {
    let (job, worked) = job(text);
    let (lists, problems) = shop_lists(&Machined::new(&job, &worked));
    judge(&lists, text);
    (job, lists, problems)
}

/// Judges every layout, and the cuts of every sheet.
fn judge(lists: &ShopLists, whose: &str) {
    for cutting in lists.layouts.sheets.iter().chain(&lists.layouts.boards) {
        assert_eq!(faults(&cutting.job, &cutting.plan), Vec::<String>::new(), "{whose}");
        let whole: usize = cutting.layouts.iter().map(|(one, _)| one.count).sum();
        assert_eq!(whole, cutting.plan.layouts.len(), "{whose}: a layout is lost");
        for (one, sequence) in &cutting.layouts {
            let plan = rodwright::cutting::sheets::SheetPlan {
                layouts: vec![one.layout.clone()],
                ..cutting.plan.clone()
            };
            let parts = sheets_of(&plan).remove(0).1;
            let bare = cutting.job.sheets[one.layout.sheet].size;
            assert_eq!(saw(bare, cutting.job.kerf, sequence, &parts), Vec::<String>::new(), "{whose}");
        }
    }
}

/// The parts of a plan, as rows of the cutting list.
fn on(cutting: &SheetCutting) -> Vec<SheetRow> {
    let sheets = sheets_of(&cutting.plan);
    sheets.iter().flat_map(|(_, parts)| parts).map(|part| cutting.rows[part.part]).collect()
}

/// Every part of sheet goods and of boards on the cutting list stands on the
/// layouts as often as it is needed.
#[test]
fn every_layout_of_every_script_holds_and_its_cuts_give_its_parts() {
    for script in scripts() {
        let (job, worked) = worked(&script, &[]);
        let (lists, problems) = shop_lists(&Machined::new(&job, &worked));
        assert!(problems.is_empty(), "{script}: {problems:?}");
        judge(&lists, &script);
        let list = cutting_list(&job, &worked);
        let of = |kind: fn(&StockKind) -> bool| -> usize {
            let rows = list.parts.iter().chain(&list.lippings);
            let stock = |row: &CutRow| worked.parts[row.which[0]].stock.0;
            rows.filter(|row| kind(&job.stock[stock(row)].kind)).map(|row| row.quantity).sum()
        };
        let sheets: usize = lists
            .layouts
            .sheets
            .iter()
            .map(|c| sheets_of(&c.plan).iter().map(|s| s.1.len()).sum::<usize>())
            .sum();
        assert_eq!(sheets, of(|kind| matches!(kind, StockKind::Sheet { .. })), "{script}");
        let cut: usize = lists.layouts.boards.iter().map(|cutting| on(cutting).len()).sum();
        // A part wider than a board is glued up from several.
        let rows = list.parts.iter().filter(|row| {
            matches!(job.stock[worked.parts[row.which[0]].stock.0].kind, StockKind::Board { .. })
        });
        let more: usize = rows.map(|row| row.quantity * (row.staves.unwrap_or(1) - 1)).sum();
        let boards = of(|kind| matches!(kind, StockKind::Board { .. }));
        assert_eq!(cut, boards + more, "{script}");
    }
}

const CASE: &str = r#"
job("Case", #{ unit: "mm" });
SHEETS
piece("Case", #{ count: COUNT });
let top   = panel("Top",   ply, #{ x: [0, 900],   y: [0, 300], z: [382, 400], grain: "x" });
let left  = panel("Left",  ply, #{ x: [0, 18],    y: [0, 300], z: [0, 400], grain: "z" });
let right = panel("Right", ply, #{ x: [882, 900], y: [0, 300], z: [0, 400], grain: "z" });
mitre(left, top);
mitre(top, right);
grain_run([left, top, right]);
"#;

fn case(sheets: &str, count: usize) -> String {
    CASE.replace("SHEETS", sheets).replace("COUNT", &count.to_string())
}

/// A mitred case: the run lies along the sheet in the order side, top, side,
/// long points a kerf and the mitre allowance of both ends apart. The lengths
/// are worked by hand: 400 and 1 at the one mitred end, 900 and 1 at both.
#[test]
fn a_mitred_run_is_one_strip_in_order() {
    let (_, lists, problems) = laid_out(&case(
        "let ply = sheet_stock(\"Ply\", #{ thick: 18, sheet: [2440, 1220], grain: \"length\" });",
        2,
    ));
    assert!(problems.is_empty(), "{problems:?}");
    let cutting = &lists.layouts.sheets[0];
    assert_eq!(cutting.job.runs.len(), 2, "one run for each piece made");
    for (_, parts) in sheets_of(&cutting.plan) {
        for run in 0..2 {
            let mut members: Vec<_> =
                parts.iter().filter(|part| part.run.is_some_and(|r| r.0 == run)).collect();
            members.sort_by_key(|part| part.run);
            // The sides are one shape and stand in one row of the list.
            let names: Vec<&str> =
                members.iter().map(|part| cutting.job.parts[part.part].id.as_str()).collect();
            assert_eq!(names, ["Left, Right", "Top", "Left, Right"]);
            let long: Vec<i64> = members.iter().map(|part| part.size[0]).collect();
            assert_eq!(long, [4010, 9020, 4010]);
            assert_eq!(members[1].at[0] - members[0].at[0], 4010 + 32);
            assert!(members.iter().all(|part| part.at[1] == members[0].at[1]));
        }
    }
}

/// Doors side by side, their grain upright: the run follows across the grain.
#[test]
fn a_row_of_doors_runs_across_the_grain() {
    let text = r#"
job("Doors", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
piece("Doors");
let doors = [];
for i in 0..3 { doors += panel("Door " + (i + 1), ply, #{ x: [i * 300, i * 300 + 297], y: [0, 18], z: [0, 600], grain: "z" }); }
grain_run(doors);
"#;
    let (_, lists, problems) = laid_out(text);
    assert!(problems.is_empty(), "{problems:?}");
    let cutting = &lists.layouts.sheets[0];
    let parts = sheets_of(&cutting.plan).remove(0).1;
    let mut doors: Vec<_> = parts.iter().collect();
    doors.sort_by_key(|part| part.run);
    assert!(
        doors.windows(2).all(|two| two[1].at[1] == two[0].at[1] + 2970 + 32 && two[1].at[0] == two[0].at[0])
    );
    assert!(doors.iter().all(|part| part.size == [6000, 2970] && !part.turned));
}

/// An offcut on hand is used first, and no sheet is bought where it will do.
#[test]
fn an_offcut_on_hand_is_used_first() {
    let stock = "let ply = sheet_stock(\"Ply\", #{ thick: 18, sheet: [2440, 1220], grain: \"length\", price: 90.0, \
                 on_hand: [#{ size: [2000, 400], count: 1 }] });";
    let (_, lists, problems) = laid_out(&case(stock, 1));
    assert!(problems.is_empty(), "{problems:?}");
    let cutting = &lists.layouts.sheets[0];
    assert_eq!(cutting.plan.layouts.len(), 1);
    assert!(cutting.sizes[cutting.plan.layouts[0].sheet].on_hand);
    // An offcut has no factory edges to trim.
    assert_eq!(cutting.job.sheets[cutting.plan.layouts[0].sheet].trim, [0; 4]);
}

/// Of two sizes the cheaper for the job is bought: worked by hand, one run of
/// 1718.4 mm needs the long sheet at any price or none.
#[test]
fn of_several_sizes_the_cheapest_that_does_is_bought() {
    let stock = "let ply = sheet_stock(\"Ply\", #{ thick: 18, grain: \"length\", \
                 sheets: [#{ size: [2440, 1220], price: 90.0 }, #{ size: [3050, 1525], price: 140.0 }, #{ size: [1500, 1220], price: 10.0 }] });";
    let (_, lists, problems) = laid_out(&case(stock, 1));
    assert!(problems.is_empty(), "{problems:?}");
    let cutting = &lists.layouts.sheets[0];
    let used: Vec<f64> = cutting.plan.layouts.iter().map(|one| cutting.sizes[one.sheet].length).collect();
    assert_eq!(used, [2440.0]);
}

/// Two copies of one piece with a run each, cut from sheets that hold one: one
/// picture, two off.
#[test]
fn like_layouts_are_drawn_once() {
    let stock = "let ply = sheet_stock(\"Ply\", #{ thick: 18, sheet: [1800, 340], grain: \"length\" });";
    let (_, lists, _) = laid_out(&case(stock, 2));
    let cutting = &lists.layouts.sheets[0];
    assert_eq!(cutting.plan.layouts.len(), 2);
    assert_eq!(cutting.layouts.len(), 1);
    assert_eq!(cutting.layouts[0].0.count, 2);
}

/// What fits no sheet is said with the figure: the run is 401 + 902 + 401 and
/// two kerfs of 3.2, 1710.4 mm; inside trims of 10 a sheet of 1500 has 1480,
/// so it is 230.4 mm too long.
#[test]
fn a_run_too_long_is_said_with_its_figure() {
    let stock = "let ply = sheet_stock(\"Ply\", #{ thick: 18, sheet: [1500, 1220], grain: \"length\" });";
    let (job, worked) = job(&case(stock, 1));
    let (lists, problems) = shop_lists(&Machined::new(&job, &worked));
    assert_eq!(problems.len(), 1, "{problems:?}");
    let problem = &problems[0];
    assert_eq!(problem.code, "no-place");
    assert!(problem.message.contains("230.4 mm too long"), "{}", problem.message);
    assert!(problem.help.as_ref().unwrap().contains("break the run"), "{problem:?}");
    assert_eq!(problem.parts, ["Left", "Top", "Right"]);
    assert!(!problem.places.is_empty());
    assert_eq!(lists.layouts.sheets[0].plan.unplaced.len(), 1);
}

/// A stock without a sheet size is advice, not silence.
#[test]
fn a_stock_without_a_sheet_is_said() {
    let (job, worked) = job(&case("let ply = sheet_stock(\"Ply\", #{ thick: 18 });", 1));
    let (lists, problems) = shop_lists(&Machined::new(&job, &worked));
    assert_eq!(problems.iter().map(|p| p.code).collect::<Vec<_>>(), ["no-sheet-size"]);
    assert!(lists.layouts.sheets.is_empty());
}

/// Sheets whose grain runs across: the part's length lies across the sheet.
#[test]
fn grain_across_the_sheet_turns_every_part() {
    let text = r#"
job("Shelf", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2500, 1250], grain: "width" });
piece("Shelf");
panel("Shelf", ply, #{ x: [0, 900], y: [0, 300], z: [0, 18], grain: "x" });
"#;
    let (_, lists, _) = laid_out(text);
    let parts = sheets_of(&lists.layouts.sheets[0].plan).remove(0).1;
    assert_eq!(parts[0].size, [3000, 9000]);
}

/// Solid parts: rough size is the finished with 12.5 on the length and 5 on the
/// width (E. Joyce, The Technique of Furniture Making), from the next thicker
/// board with 3 to plane; one too long for a board is said.
#[test]
fn solid_parts_come_from_the_next_thicker_board() {
    let text = r#"
job("Rails", #{ unit: "mm" });
let ash = board_stock("Ash", #{ thick: [27, 34], lengths: [2000] });
piece("Rails");
board("Rail",  ash, #{ x: [0, 900],  y: [0, 22], z: [0, 60], grain: "x" });
board("Thick", ash, #{ x: [0, 400],  y: [100, 125], z: [0, 60], grain: "x" });
board("Long",  ash, #{ x: [0, 1990], y: [200, 222], z: [0, 60], grain: "x" });
board("Heavy", ash, #{ x: [0, 400],  y: [300, 340], z: [0, 60], grain: "x" });
"#;
    let (_, lists, problems) = laid_out(text);
    let sawn: Vec<f64> = lists.layouts.boards.iter().map(|cutting| cutting.thick).collect();
    assert_eq!(sawn, [43.0, 34.0, 27.0]);
    assert!(
        lists.layouts.boards.iter().all(|cutting| cutting.job.parts.iter().all(|part| part.size[1] == 650))
    );
    let rail = lists.list.parts.iter().find(|row| row.name == "Rail").unwrap();
    assert_eq!(rail.rough, Some([912.5, 65.0, 27.0]));
    let codes: Vec<&str> = problems.iter().map(|p| p.code).collect();
    assert_eq!(codes, ["too-thin", "no-place"], "{problems:?}");
    // 1990 and 12.5 from 2000 less 20 at both ends.
    assert!(problems[1].message.contains("42.5 mm too long"), "{}", problems[1].message);
}

/// A leg of 54 does not come from a board sawn to 54: with 3 to plane it needs 57, so 66
/// (common practice, no source).
#[test]
fn a_leg_of_54_is_sawn_from_66() {
    let text = r#"
job("Leg", #{ unit: "mm" });
let ash = board_stock("Ash", #{ thick: [27, 34, 41, 54, 66, 80], lengths: [2000] });
piece("Leg");
board("Leg", ash, #{ x: [0, 54], y: [0, 54], z: [0, 720], grain: "z" });
"#;
    let (_, lists, problems) = laid_out(text);
    assert!(problems.is_empty(), "{problems:?}");
    let cutting = &lists.layouts.boards;
    assert_eq!(cutting.iter().map(|cutting| cutting.thick).collect::<Vec<_>>(), [66.0]);
    // 720 and 12.5, 54 and 5, as the list has them.
    assert_eq!(cutting[0].job.parts[0].size, [7325, 590]);
    assert_eq!(lists.list.parts[0].rough, Some([732.5, 59.0, 66.0]));
}

/// Boards of 200 with 15 of sapwood at each edge have 170 clear: a part of 160 and the 5
/// left on lies in it, one of 170 and 5 does not and is glued up of two. In the shop a board of
/// 120 with 20 of wane at each edge has 80 clear: the rail of 70 and 5 comes of it, whose
/// first cuts take its edges off.
#[test]
fn sapwood_and_wane_are_left_away() {
    let text = r#"
job("Sap", #{ unit: "mm" });
let oak = board_stock("Oak", #{ thick: [27], lengths: [2400], widths: [200], edge: 15,
    on_hand: [#{ thick: 27, size: [1500, 120], edge: 20 }] });
piece("Sap");
board("Clear", oak, #{ x: [0, 900], y: [0, 160], z: [0, 20], grain: "x" });
board("Wide", oak, #{ x: [0, 900], y: [0, 170], z: [100, 120], grain: "x" });
board("Rail", oak, #{ x: [0, 1200], y: [0, 70], z: [200, 220], grain: "x" });
"#;
    let (_, lists, problems) = laid_out(text);
    assert!(problems.is_empty(), "{problems:?}");
    let staves = |name: &str| lists.list.parts.iter().find(|row| row.name == name).unwrap().staves;
    assert_eq!((staves("Clear"), staves("Wide"), staves("Rail")), (None, Some(2), None));
    let trims = |at: usize| lists.layouts.boards[at].job.sheets[0].trim;
    assert_eq!((trims(0), trims(1)), ([200, 200, 200, 200], [200, 200, 150, 150]));
    for cutting in &lists.layouts.boards {
        for (_, parts) in sheets_of(&cutting.plan) {
            for part in parts {
                let [low, high] = [part.at[1], part.at[1] + part.size[1]];
                let board = &cutting.job.sheets[0];
                assert!(low >= board.trim[2] && high <= board.size[1] - board.trim[3], "{part:?}");
            }
        }
    }
    // The volume bought is that of whole boards, their edges too: 2.4 by 0.2 by 0.027 each.
    let line = lists.buying.lines.iter().find(|line| line.size == [27.0]).unwrap();
    let boards = line.quantity / (2.4 * 0.2 * 0.027);
    assert!((boards - boards.round()).abs() < 0.01, "{line:?}");
    let note = Words::of(Unit::Mm).line_remark(line);
    assert!(note.ends_with("15 mm of each long edge, sapwood or wane, is bought and left away"), "{note}");
}

/// What is fetched from the rack, by hand. A shelf of 19 needs 22 with 3 to plane: the board
/// of 25 in the shop does, so it says 25, not the 27 there is to buy; a beam of 60 needs 63,
/// which nothing to buy has and a board of 80 in the shop does; a lipping of 18 by 6 is
/// ripped as 8 off the edge of a board of 27 sawn, which is its width, and 20 over in length; one
/// of 40 by 6 is wider than any board is thick and lies flat in 27.
#[test]
fn the_cutting_list_says_what_is_fetched_from_the_rack() {
    let text = r#"
job("Rack", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2500, 1250] });
let core = sheet_stock("Core", #{ thick: 40, sheet: [2500, 1250] });
let oak = board_stock("Oak", #{ thick: [27, 34], lengths: [2400] });
let ash = board_stock("Ash", #{ thick: [27], lengths: [2400],
    on_hand: [#{ thick: 25, size: [1500, 200] }, #{ thick: 80, size: [1500, 200] }] });
piece("Rack");
board("Shelf", ash, #{ x: [0, 900], y: [0, 150], z: [0, 19], grain: "x" });
board("Beam", ash, #{ x: [0, 900], y: [0, 60], z: [100, 160], grain: "x" });
let thin = panel("Thin", ply, #{ x: [0, 900], y: [0, 300], z: [200, 218], grain: "x" });
let thick = panel("Thick", core, #{ x: [0, 900], y: [0, 300], z: [300, 340], grain: "x" });
lipping(thin, "front", oak, #{ thick: 6 });
lipping(thick, "front", oak, #{ thick: 6 });
"#;
    let (_, lists, problems) = laid_out(text);
    assert!(problems.is_empty(), "{problems:?}");
    let rough = |rows: &[CutRow], name: &str| rows.iter().find(|row| row.name == name).unwrap().rough;
    let list = &lists.list;
    assert_eq!(rough(&list.parts, "Shelf"), Some([912.5, 155.0, 25.0]));
    assert_eq!(rough(&list.parts, "Beam"), Some([912.5, 65.0, 80.0]));
    assert_eq!(rough(&list.lippings, "Thin lipping"), Some([920.0, 27.0, 8.0]));
    assert_eq!(rough(&list.lippings, "Thick lipping"), Some([920.0, 45.0, 27.0]));
}

/// A solid part wider than the widest board is glued up of staves: 500 wide
/// from boards of 200, 195 of which is left when jointed, takes three.
#[test]
fn wide_solid_parts_are_glued_up_of_staves() {
    let text = r#"
job("Top", #{ unit: "mm" });
let ash = board_stock("Ash", #{ thick: [34], lengths: [2000], widest: 200 });
piece("Top");
board("Top", ash, #{ x: [0, 900], y: [0, 500], z: [0, 25], grain: "x" });
"#;
    let (_, lists, problems) = laid_out(text);
    assert!(problems.is_empty(), "{problems:?}");
    let cutting = &lists.layouts.boards[0];
    assert_eq!((lists.list.parts[0].staves, on(cutting).len()), (Some(3), 3));
    // 500 / 3 to the next whole millimetre, and 5.
    assert_eq!(cutting.job.parts[0].size[1], 1720);
}

/// Staves suit the widths to be had: 480 wide of boards of 240, 235 of which is left,
/// takes three staves of 165, each from a board of 240, 720 in all; six of 85 come from
/// boards of 100, 600 in all. Where boards of 180 are to be had too, three of those are
/// 540.
#[test]
fn staves_suit_the_widths_to_be_had() {
    let staves = |widths: &str| {
        let (_, lists, problems) = laid_out(&format!(
            r#"
job("Top", #{{ unit: "mm" }});
let ash = board_stock("Ash", #{{ thick: [34], lengths: [2000], widths: {widths} }});
piece("Top");
board("Top", ash, #{{ x: [0, 900], y: [0, 480], z: [0, 25], grain: "x" }});
"#
        ));
        assert!(problems.is_empty(), "{problems:?}");
        lists.list.parts[0].staves
    };
    assert_eq!(staves("[100, 240]"), Some(6));
    assert_eq!(staves("[100, 180, 240]"), Some(3));
}

/// Where the widest board is not said, the usual width counts; the list says what a
/// part is glued up of: 720 wide from boards of 180, 175 of which is left, takes five.
#[test]
fn usual_boards_are_glued_up_and_the_list_says_so() {
    let text = r#"
job("Top", #{ unit: "mm" });
let ash = board_stock("Ash", #{ thick: [34], lengths: [2000], width: 180 });
piece("Top");
board("Top", ash, #{ x: [0, 900], y: [0, 720], z: [0, 25], grain: "x" });
board("Rail", ash, #{ x: [0, 900], y: [0, 175], z: [25, 50], grain: "x" });
"#;
    let (_, lists, _) = laid_out(text);
    let row = |name: &str| lists.list.parts.iter().find(|row| row.name == name).unwrap();
    assert_eq!((row("Top").staves, row("Rail").staves), (Some(5), None));
    assert_eq!(Words::of(Unit::Mm).remarks(row("Top")), "glued up of 5 boards 144 wide");
    assert_eq!(on(&lists.layouts.boards[0]).len(), 6);
}

/// The options of `cutting` reach the layout.
#[test]
fn the_shop_says_how_it_cuts() {
    let stock = "cutting(#{ kerf: 4, edge_trim: 0, levels: 3, mitre: 0 });\n\
                 let ply = sheet_stock(\"Ply\", #{ thick: 18, sheet: [2440, 1220], grain: \"length\" });";
    let (_, lists, _) = laid_out(&case(stock, 1));
    let task = &lists.layouts.sheets[0].job;
    assert_eq!((task.kerf, task.levels, task.sheets[0].trim), (40, Some(3), [0; 4]));
    let parts = sheets_of(&lists.layouts.sheets[0].plan).remove(0).1;
    let mut members: Vec<_> = parts.iter().collect();
    members.sort_by_key(|part| part.run);
    // Long points touch but for the saw cut.
    assert_eq!(members[1].at[0] - members[0].at[0], 4000 + 40);
}

/// Moves the first part found by a saw cut.
fn shift(piece: &mut rodwright::cutting::sheets::Piece) -> bool {
    match &mut piece.what {
        What::Part { .. } => {
            piece.at[0] += 32;
            true
        }
        What::Offcut => false,
        What::Divided { pieces, .. } => pieces.iter_mut().any(shift),
    }
}

/// A damaged layout is found out: the checker is no rubber stamp here either.
#[test]
fn a_part_moved_by_a_kerf_is_found_out() {
    let (_, lists, _) = laid_out(&case(
        "let ply = sheet_stock(\"Ply\", #{ thick: 18, sheet: [2440, 1220], grain: \"length\" });",
        1,
    ));
    let cutting = &lists.layouts.sheets[0];
    let mut plan = cutting.plan.clone();
    assert!(shift(&mut plan.layouts[0].usable));
    assert!(!faults(&cutting.job, &plan).is_empty());
}

/// Messages speak the unit of the job: 100 in and the mitres' none, of 96 in
/// less half an inch at both ends, is 5 in too long.
#[test]
fn what_has_no_place_is_said_in_the_unit_of_the_job() {
    let text = r#"
job("Shelf", #{ unit: "in" });
cutting(#{ edge_trim: 1/2 });
let ply = sheet_stock("Ply", #{ thick: 3/4, sheet: [96, 48], sheets: [[1, 1]], grain: "length" });
piece("Shelf");
panel("Shelf", ply, #{ x: [0, 100], y: [0, 12], z: [0, 3/4], grain: "x" });
"#;
    let (_, _, problems) = laid_out(text);
    let codes: Vec<&str> = problems.iter().map(|p| p.code).collect();
    assert_eq!(codes, ["sheet-too-small", "no-place"], "{problems:?}");
    assert!(problems[1].message.contains("is 5″ too long for sheet `96″ × 48″`"), "{}", problems[1].message);
}

/// Many parts, some too narrow for any label, on small paper and in inches:
/// the new sheets stay legible.
#[test]
fn crowded_layouts_stay_legible() {
    let text = r#"
job("Crowd", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
let free = sheet_stock("Board", #{ thick: 12, sheet: [1525, 1525], grain: "none" });
let oak = board_stock("Oak", #{ thick: [27], lengths: [2000] });
piece("Crowd");
let run = [];
for i in 0..16 {
    let l = 60 + (i * 137) % 700;
    let w = 12 + (i * 53) % 260;
    let p = panel("Part " + i, ply, #{ x: [0, l], y: [0, w], z: [i * 40, i * 40 + 18], grain: "x" });
    panel("Slip " + i, free, #{ x: [0, w], y: [400, 400 + l], z: [i * 40, i * 40 + 12], grain: "x" });
    board("Cleat " + i, oak, #{ x: [0, 30 + l], y: [1200, 1220], z: [i * 40, i * 40 + 22], grain: "x" });
    if i % 4 == 0 { run += p; }
}
grain_run(run);
"#;
    let (job, parts) = job(text);
    for (paper, unit, profile) in [
        (Paper::A4, Unit::Mm, Profile::Iso),
        (Paper::A3, Unit::Mm, Profile::Iso),
        (Paper::Letter, Unit::Inch, Profile::Asme),
    ] {
        let drawn = rodwright::draw(&job, &parts, &Look::new(paper, unit, profile));
        let new = |title: &str| ["layout", "Buying", "settings"].iter().any(|word| title.contains(word));
        // The section of sixteen parts in a heap is no drawing; the buying list may stand by it.
        let heap = |title: &str| title.contains("section");
        let sheets: Vec<_> =
            drawn.sheets.into_iter().filter(|sheet| new(&sheet.title) && !heap(&sheet.title)).collect();
        assert!(sheets.len() >= 2, "{paper:?}");
        let found: Vec<_> = sheets.iter().flat_map(rodwright::paper::lint::judge).collect();
        assert!(found.is_empty(), "{paper:?}: {found:#?}");
    }
}

/// A board is long and low: three of one thickness, each cut in its own way, share a
/// sheet, and the one of another thickness has its own.
#[test]
fn boards_of_one_thickness_share_a_sheet() {
    let text = r#"
job("Rails", #{ unit: "mm" });
let ash = board_stock("Ash", #{ thick: [27, 34], lengths: [2000], widths: [100] });
piece("Rails");
for i in 0..3 { board("Rail " + i, ash, #{ x: [0, 1300 + 100 * i], y: [i * 100, i * 100 + 22], z: [0, 80], grain: "x" }); }
board("Post", ash, #{ x: [0, 900], y: [400, 428], z: [0, 80], grain: "x" });
"#;
    let (job, parts) = job(text);
    let drawn = rodwright::draw(&job, &parts, &Look::new(Paper::A3, Unit::Mm, Profile::Iso));
    assert_eq!(drawn.lists.layouts.boards.iter().map(|one| one.layouts.len()).collect::<Vec<_>>(), [1, 3]);
    let titles: Vec<&str> = drawn.sheets.iter().map(|sheet| sheet.title.as_str()).collect();
    let of = |what: &str| titles.iter().filter(|title| title.contains(what)).count();
    assert_eq!((of("Ash 27: board layout"), of("Ash 34: board layout")), (1, 1), "{titles:?}");
}

/// Boards in the shop are laid out like sheets, saw cut by saw cut, with the
/// grain along them; lippings are ripped from them too, and what they do not
/// give is bought. Nothing is cut twice and nothing is dropped.
#[test]
fn boards_in_the_shop_are_laid_out() {
    let text = r#"
job("Frame", #{ unit: "mm" });
let oak = board_stock("Oak", #{ thick: [27, 34], lengths: [2400], widest: 200,
    on_hand: [#{ thick: 27, size: [2100, 240], count: 2, defects: [[1500, 1580]] }, #{ thick: 34, size: [900, 150] }] });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
piece("Frame");
let shelf = panel("Shelf", ply, #{ x: [0, 800], y: [0, 250], z: [0, 18], grain: "x" });
lipping(shelf, "front", oak, #{ thick: 6 });
for i in 0..7 {
    board("Rail " + i, oak, #{ x: [0, 500 + 90 * i], y: [300, 322], z: [i * 100, i * 100 + 40 + i], grain: "x" });
}
board("Post", oak, #{ x: [0, 700], y: [400, 428], z: [0, 60], grain: "x" });
board("Top", oak, #{ x: [0, 900], y: [500, 950], z: [0, 22], grain: "x" });
"#;
    let (_, lists, problems) = laid_out(text);
    assert!(problems.is_empty(), "{problems:?}");
    let boards = &lists.layouts.boards;
    // In the shop, then to buy.
    let thick = |to_buy: bool| -> Vec<f64> {
        boards.iter().filter(|one| one.boards_to_buy() == to_buy).map(|cutting| cutting.thick).collect()
    };
    assert_eq!(thick(false), [27.0, 34.0]);
    assert_eq!(thick(true), [27.0]);
    // A board of 2100 with a defect from 1500 to 1580 has 1500 and 520 clear.
    let clear: Vec<f64> = boards[0].sizes.iter().map(|size| size.length).collect();
    assert_eq!(clear, [1500.0, 520.0]);
    let list = &lists.list;
    // Parts, then lippings.
    let mut cut = vec![0; list.parts.len() + list.lippings.len()];
    for cutting in lists.layouts.sheets.iter().chain(boards) {
        for (_, parts) in sheets_of(&cutting.plan) {
            for part in &parts {
                match cutting.rows[part.part] {
                    SheetRow::Part(row) => cut[row] += 1,
                    SheetRow::Lipping(row) => cut[list.parts.len() + row] += 1,
                    SheetRow::Folded(_) => panic!("nothing is folded"),
                }
            }
        }
    }
    for (row, cut) in list.parts.iter().chain(&list.lippings).zip(cut) {
        // The top, 450 wide, is three staves of boards to 200 wide.
        let staves = if row.name == "Top" { 3 } else { 1 };
        assert_eq!(cut, row.quantity * staves, "{}", row.name);
    }
    // Both long boards of 27 are used for more than half; with 20 off both ends
    // the short ones are too short for any rail.
    let area = |size: [i64; 2]| size[0] * size[1];
    let sheets = sheets_of(&boards[0].plan);
    let cut: i64 = sheets.iter().flat_map(|(_, parts)| parts).map(|part| area(part.size)).sum();
    let used: i64 = sheets.iter().map(|(sheet, _)| area(boards[0].job.sheets[*sheet].size)).sum();
    assert!(sheets.len() == 2 && 2 * cut > used, "{} boards, {cut} of {used}", sheets.len());
}

/// What a list on paper remarks of a row stands in the files for a spreadsheet too: the
/// staves of a top wider than its boards, 500 of three; the settings of the saw for two
/// sides that lean out by 20° and are mitred at a square corner, sin 20° = 0.3420 being
/// the tangent of 18.9° and cos 20° / √2 = 0.6645 the sine of 41.6°.
#[test]
fn remarks_stand_in_the_files_too() {
    let text = r#"
job("Tray", #{ unit: "mm" });
let ash = board_stock("Ash", #{ thick: [20, 34], lengths: [2000], widest: 200 });
piece("Tray");
board("Top", ash, #{ x: [0, 900], y: [1000, 1500], z: [400, 425], grain: "x" });
let front = board("Front", ash, #{ x: [0, 420], y: [0, 10], z: [0, 60], grain: "x",
    turn: #{ axis: "x", by: 20, about: [0, 0, 0] } });
let left = board("Left", ash, #{ x: [0, 10], y: [0, 280], z: [0, 60], grain: "y",
    turn: #{ axis: "y", by: -20, about: [0, 0, 0] } });
mitre(front, left);
"#;
    let request = crate::support::scripts::request("tray.rhai", text.into());
    let set = rodwright::set_out(&request, &rodwright::Choices::default());
    let csv = set.files.iter().find(|file| file.name == "-cutting-list.csv").unwrap();
    let csv = String::from_utf8(csv.bytes.clone()).unwrap();
    let row = |name: &str| csv.lines().find(|line| line.contains(name)).unwrap();
    assert!(row("Top").contains("glued up of 3 boards 167 wide"), "{csv}");
    assert!(row("Front").contains("gauge 18.9°, blade 41.6°"), "{csv}");
}

/// Racks of forty loose pegs each, all alike and each with a name of its own.
fn pegs(racks: usize) -> String {
    format!(
        "job(\"Pegs\", #{{ unit: \"mm\" }});\n\
         let ply = sheet_stock(\"Ply\", #{{ thick: 18, sheet: [2440, 1220], grain: \"length\" }});\n\
         for p in 0..{racks} {{\n    piece(\"Rack \" + p);\n    for i in 0..40 {{\n\
         panel(\"Peg \" + p + \"-\" + i, ply, #{{ x: [i * 60, i * 60 + 50], y: [0, 80], z: [0, 18], grain: \"x\" }});\n\
         }}\n}}\n"
    )
}

mod slow_tests {
    use super::*;

    /// What is written is the work that can be counted: of twice the racks it is twice, and
    /// a little more for longer numbers. When each cut named every part of its row it was
    /// 2.99 times.
    #[test]
    fn twice_the_loose_parts_make_twice_the_files() {
        let bytes = |racks: usize| {
            let request = crate::support::scripts::request("pegs.rhai", pegs(racks));
            let set = rodwright::set_out(&request, &rodwright::Choices::default());
            assert!(!set.has_errors());
            set.files.iter().map(|file| file.bytes.len()).sum::<usize>()
        };
        let (some, twice) = (bytes(8), bytes(16));
        println!("{some} bytes, {twice} of twice the racks");
        assert!(10 * twice < 22 * some, "{some} bytes, {twice} of twice the racks");
    }
}

/// The right side of a plinth is set as its left, whose marks it has mirrored: the list names
/// the mitred end by the same mark, not by the end that looks so in the piece.
#[test]
fn a_mirror_pair_has_its_mitres_at_the_same_marked_end() {
    let (job, worked) = job(
        "job(\"Chest\", #{ unit: \"mm\" });\nimport \"chest\" as chest;\npiece(\"Chest\");\nchest::make(#{});\n",
    );
    let list = cutting_list(&job, &worked);
    let ends = |mark: &str| {
        let row = list.parts.iter().find(|row| row.mark == mark).unwrap();
        row.ends.as_ref().map(|ends| (ends.near.is_some(), ends.far.is_some())).unwrap()
    };
    let pairs: Vec<(String, String)> = list
        .parts
        .iter()
        .filter(|row| row.ends.is_some() && row.mark.ends_with('L'))
        .map(|row| (row.mark.clone(), row.mark.replace('L', "R")))
        .collect();
    assert!(!pairs.is_empty());
    for (left, right) in pairs {
        assert_eq!(ends(&left), ends(&right), "{left} and {right}");
    }
}
