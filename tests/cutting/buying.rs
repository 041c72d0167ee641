//! The buying list and the settings sheet.

use rodwright::Choices;
use rodwright::cutting::{BOARD_FOOT, BuyLine, Group, Measure, shop_lists};
use rodwright::machining::Machined;
use rodwright::measure::Unit;
use rodwright::script::{Limits, NoModules, Request};
use rodwright::wording::Words;

use crate::support::scripts::family;
use crate::support::sets::{request, worked};

/// The lines of a script text.
fn mm() -> Words {
    Words::of(Unit::Mm)
}

fn lines(text: &str) -> Vec<BuyLine> {
    let request = Request {
        name: "test".into(),
        text: text.into(),
        settings: Vec::new(),
        loader: std::sync::Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    };
    let done = rodwright::examine(&request);
    let (job, worked) = done.worked.unwrap_or_else(|| panic!("{:#?}", done.problems));
    shop_lists(&Machined::new(&job, &worked)).0.buying.lines
}

fn of(lines: &[BuyLine], group: Group) -> Vec<&BuyLine> {
    lines.iter().filter(|line| line.group == group).collect()
}

/// Board feet as NHLA's rules for export buyers count them: 144 cubic inches,
/// so that 2 in × 6 1/4 in × 8 ft is 8.33 before the tally rounds it.
#[test]
fn a_board_foot_is_144_cubic_inches() {
    let inch = 0.0254_f64;
    assert!((BOARD_FOOT - 144.0 * inch.powi(3)).abs() < 1e-15);
    let example = 2.0 * inch * 6.25 * inch * 96.0 * inch / BOARD_FOOT;
    assert!((example - 8.333).abs() < 0.001);
}

/// One rail from one board: 2000 long, ripped 65 and a saw cut of 3.2, 27 thick,
/// and 15 % waste, by hand 2 × 0.0682 × 0.027 × 1.15 = 0.00423522 m³; at 1000
/// the m³ it costs 4.24. In feet: 0.00423522 / 0.00235974 = 1.8.
#[test]
fn boards_are_counted_by_volume_with_their_waste() {
    let text = r#"
job("Rail", #{ unit: "mm" });
let ash = board_stock("Ash", #{ thick: [27], lengths: [2000], price_m3: 1000.0 });
piece("Rail");
board("Rail", ash, #{ x: [0, 900], y: [0, 22], z: [0, 60], grain: "x" });
"#;
    let lines = lines(text);
    let boards = of(&lines, Group::Boards);
    assert_eq!(boards.len(), 1);
    assert!((boards[0].quantity - 0.004_24).abs() < 1e-9, "{}", boards[0].quantity);
    assert!((boards[0].cost().unwrap() - 4.24).abs() < 1e-9);
    assert_eq!(mm().note(boards[0].note.as_ref()), "1.8 board feet; 15 % waste in it");
}

/// Two boards glued to a third of which one joint face is 300 × 18: the glue is
/// that face twice at 180 g/m². What is left to finish is the surface of three
/// boards less both faces of both joints. By hand, mm².
#[test]
fn glue_goes_by_joint_area_and_finish_by_what_is_left() {
    let text = r#"
job("Stand", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "none" });
piece("Stand", #{ count: 2 });
let a = panel("A", ply, #{ x: [0, 18], y: [0, 300], z: [0, 400], grain: "z" });
let b = panel("B", ply, #{ x: [18, 518], y: [0, 300], z: [0, 18], grain: "x" });
let c = panel("C", ply, #{ x: [518, 536], y: [0, 300], z: [0, 400], grain: "z" });
butt(b, a);
butt(b, c);
finish("Oil", #{ coats: 2, coverage: 12 });
"#;
    let lines = lines(text);
    let glue = of(&lines, Group::Glue);
    let joints = 2.0 * 300.0 * 18.0 * 2.0;
    let mass = joints * 1e-6 * 0.18;
    assert!((glue[0].quantity - mass).abs() < 0.001, "{glue:?}");
    let surface = |a: f64, b: f64, c: f64| 2.0 * (a * b + b * c + c * a);
    let open = 2.0 * (2.0 * surface(18.0, 300.0, 400.0) + surface(500.0, 300.0, 18.0)) - 2.0 * joints;
    let litres = open * 1e-6 * 2.0 / 12.0;
    assert_eq!(glue[1].unit, Measure::Litres);
    assert!((glue[1].quantity - litres).abs() < 0.001, "{} {litres}", glue[1].quantity);
}

/// Sanding goes by the area finished. A tray bottom of 1000 × 500 × 20 has
/// 1.06 m²: two discs of each grit at 0.75 m² each, and for the one rub between
/// two coats one sheet, which does 4 m².
#[test]
fn abrasives_go_by_the_area_that_is_finished() {
    let text = r#"
job("Tray", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 20, sheet: [2440, 1220], grain: "none" });
piece("Tray");
panel("Bottom", ply, #{ x: [0, 1000], y: [0, 500], z: [0, 20], grain: "x" });
"#;
    assert!(of(&lines(text), Group::Abrasives).is_empty(), "nothing is sanded that is not finished");
    let lines = lines(&format!("{text}finish(\"Oil\", #{{ coats: 2 }});"));
    let said: Vec<(String, f64)> =
        of(&lines, Group::Abrasives).iter().map(|line| (mm().goods(&line.what), line.quantity)).collect();
    let wanted = [
        ("disc Ø 150 mm, grit 120", 2.0),
        ("disc Ø 150 mm, grit 180", 2.0),
        ("disc Ø 150 mm, grit 240", 2.0),
        ("sheet 230 × 280 mm, grit 320, between coats", 1.0),
    ];
    assert_eq!(said, wanted.map(|(what, count)| (what.to_owned(), count)));
}

/// Boards in the shop are cut first and only the rest is bought. Three rails of
/// 912.5 by 65 rough and 22 thick, which 27 sawn gives: out of a board of 2000
/// by 70, less 20 at both ends, come two; the third is bought. A board with a
/// defect in the middle of its first clear length gives one less.
#[test]
fn boards_in_the_shop_are_used_first() {
    let text = |more: &str| {
        format!(
            r#"
job("Rails", #{{ unit: "mm" }});
let ash = board_stock("Ash", #{{ thick: [27], lengths: [2000], price_m3: 1000.0, width: 150,
    on_hand: [#{{ thick: 27, size: [2000, 70]{more} }}] }});
piece("Rails");
for i in 0..3 {{ board("Rail " + i, ash, #{{ x: [0, 900], y: [i * 100, i * 100 + 22], z: [0, 60], grain: "x" }}); }}
"#
        )
    };
    let bought = |more: &str| -> (Option<f64>, f64) {
        let lines = lines(&text(more));
        let shop = of(&lines, Group::FromTheShop);
        let boards = of(&lines, Group::Boards);
        assert_eq!(boards.len(), 1, "{lines:?}");
        (shop.first().map(|line| line.size[0]), boards[0].quantity)
    };
    // Two rails bought come from one length of 2000 as one does.
    let one = 2.0 * 0.0682 * 0.027 * 1.15;
    let (used, left) = bought("");
    assert_eq!(used, Some(2000.0));
    assert!((left - one).abs() < 1e-5, "{left}");
    let (used, left) = bought(", defects: [[500, 600]]");
    assert_eq!(used, Some(1400.0), "the clear length beyond the defect");
    assert!((left - one).abs() < 1e-5, "{left}");
    let (used, left) = bought(", defects: [[900, 1100]]");
    assert_eq!(used, None, "no clear length is long enough");
    assert!((left - 2.0 * one).abs() < 1e-5, "{left}");
    let boards = lines(&text(""));
    let note = mm().note(of(&boards, Group::Boards)[0].note.as_ref());
    assert!(note.ends_with("about 1 of 2000 mm × 150 mm"), "{note}");
}

/// A board too thin, or thicker than one to be had, is left in the shop; one of
/// the only thickness that does is used and nothing is said of thin boards.
#[test]
fn boards_in_the_shop_serve_their_thickness() {
    let script = |thick: &str, have: f64| {
        format!(
            r#"
job("Rail", #{{ unit: "mm" }});
let ash = board_stock("Ash", #{{ thick: {thick}, lengths: [2000], on_hand: [#{{ thick: {have}, size: [2000, 90] }}] }});
piece("Rail");
board("Rail", ash, #{{ x: [0, 900], y: [0, 22], z: [0, 60], grain: "x" }});
"#
        )
    };
    let used = |thick: &str, have: f64| !of(&lines(&script(thick, have)), Group::FromTheShop).is_empty();
    assert!(!used("[27, 34]", 24.9), "22 and 3 to plane");
    assert!(used("[27, 34]", 25.0));
    assert!(used("[27, 34]", 27.0));
    assert!(!used("[27, 34]", 52.0), "a board of 27 is nearer");
    assert!(used("[20]", 52.0), "no board to be had is thick enough");
}

/// What is on hand is no cost and is not bought.
#[test]
fn what_lies_in_the_shop_is_not_bought() {
    let text = r#"
job("Shelf", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], price: 90.0, on_hand: [[1000, 400]] });
piece("Shelf");
panel("Shelf", ply, #{ x: [0, 900], y: [0, 300], z: [0, 18], grain: "x" });
"#;
    let lines = lines(text);
    assert!(of(&lines, Group::Sheets).is_empty());
    let shop = of(&lines, Group::FromTheShop);
    assert_eq!((shop[0].quantity, shop[0].cost()), (1.0, None));
    assert_eq!(shop[0].size, [1000.0, 400.0, 18.0]);
}

/// The cabinet's order, counted by hand from its script: a sheet of each
/// plywood, a tongue in each corner, 8 pocket screws of the hanging rail, and what its
/// cleat takes.
#[test]
fn the_order_of_the_cabinet() {
    let (job, parts) = worked("periodicals_cabinet", &[]);
    let lists = shop_lists(&Machined::new(&job, &parts)).0;
    let buying = &lists.buying;
    let sheets: Vec<(f64, f64)> =
        of(&buying.lines, Group::Sheets).iter().map(|line| (line.size[2], line.quantity)).collect();
    assert_eq!(sheets, [(18.0, 1.0), (6.0, 1.0)]);
    let fittings: Vec<(String, f64)> = of(&buying.lines, Group::Fittings)
        .iter()
        .map(|line| (mm().goods(&line.what), line.quantity))
        .collect();
    let fittings: Vec<(&str, f64)> = fittings.iter().map(|(what, count)| (what.as_str(), *count)).collect();
    assert_eq!(
        fittings,
        [
            ("loose tongue 4 × 14 × 254", 4.0),
            ("pocket screw 4 × 25", 8.0),
            ("screw 4.5 × 30", 5.0),
            ("wall fixing ⌀ 6, rated for wall and load", 3.0)
        ]
    );
    let (total, without) = buying.total();
    let priced: f64 = buying.lines.iter().filter_map(BuyLine::cost).sum();
    assert!((total - priced).abs() < 1e-9 && total > 137.0);
    // Tongues, screws of two kinds, wall fixings, glue, oil, three grits and one between
    // the coats.
    assert_eq!(without, 10);
}

/// Glass goes to the glazier by its finished size.
#[test]
fn glass_is_ordered_to_size() {
    let (job, parts) = worked("notice_frame", &[]);
    let lists = shop_lists(&Machined::new(&job, &parts)).0;
    let glass = of(&lists.buying.lines, Group::Glass);
    assert_eq!(glass.len(), 1);
    assert_eq!(glass[0].size, [594.0, 420.0, 2.0]);
}

/// Sheets in inches show the model of the script: tenons keep the chisels, and pins
/// the steps, of a shop that works in millimetres, and so the parts their mass.
#[test]
fn the_unit_of_the_sheets_leaves_the_model_alone() {
    for script in ["mortised_table", "dovetailed_box"] {
        let request = family(script);
        let [metric, inches] = [Unit::Mm, Unit::Inch].map(|unit| {
            let set = rodwright::set_out(&request, &Choices { unit: Some(unit), ..Choices::default() });
            let list = set.files.iter().find(|file| file.name == "-cutting-list.json").unwrap();
            serde_json::from_slice::<serde_json::Value>(&list.bytes).unwrap()
        });
        assert_eq!(metric["parts"], inches["parts"], "{script}");
    }
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    /// The lists come as files that agree with one another.
    #[test]
    fn lists_and_layouts_come_as_csv_and_json() {
        let set = rodwright::set_out(&request("periodicals_cabinet", &[]), &Choices::default());
        let file = |name: &str| {
            let file = set.files.iter().find(|file| file.name == name).unwrap_or_else(|| panic!("no {name}"));
            String::from_utf8(file.bytes.clone()).unwrap()
        };
        let layouts: serde_json::Value = serde_json::from_str(&file("-layouts.json")).unwrap();
        let pieces: usize =
            layouts.as_array().unwrap().iter().map(|one| one["pieces"].as_array().unwrap().len()).sum();
        assert_eq!(file("-layouts.csv").lines().count(), pieces + 1);
        let buying: serde_json::Value = serde_json::from_str(&file("-buying-list.json")).unwrap();
        assert_eq!(file("-buying-list.csv").lines().count(), buying["lines"].as_array().unwrap().len() + 1);
        // The run stands in order on one sheet.
        let run: Vec<&str> = layouts[0]["pieces"]
            .as_array()
            .unwrap()
            .iter()
            .filter(|piece| !piece["in_run"].is_null())
            .map(|piece| piece["name"].as_str().unwrap())
            .collect();
        assert_eq!(run, ["Left side", "Top", "Right side"]);
    }
}
