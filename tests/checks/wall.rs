//! The wall a job goes to: where pieces stand on it, where they are fixed, what has
//! no room.

use std::fmt::Write as _;

use rodwright::drawing::{Look, Paper, Profile};
use rodwright::geometry::DVec2;
use rodwright::joinery::{fixings, on_wall};
use rodwright::measure::Unit;
use rodwright::paper::{Ink, Role};
use rodwright::problem::render_all;
use rodwright::{draw, examine};

use crate::support::assert_near;
use crate::support::golden::golden;
use crate::support::scripts::{made, request};
use crate::support::sets::worked;

/// What is done on site by a script, step by step.
fn on_site(text: &str) -> String {
    let (job, parts) = made(text);
    let sheets = draw(&job, &parts, &Look::new(Paper::A3, Unit::Mm, Profile::Iso)).sheets;
    let read = |mark: &rodwright::paper::Mark| match &mark.ink {
        Ink::Text(text) => Some(text.reading()),
        _ => None,
    };
    let all: Vec<String> = sheets.iter().flat_map(|sheet| sheet.marks.iter().filter_map(read)).collect();
    let from = all.iter().position(|line| line == "On site, in this order").unwrap();
    all[from..].join(" ")
}

/// What hangs goes up while the floor under it is free, and says so; what rests on another piece
/// goes up after that.
#[test]
fn on_site_the_hung_goes_first_and_what_rests_on_another_after_it() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/window_wall.rhai");
    let hung = on_site(&std::fs::read_to_string(path).unwrap());
    let at = |words: &str| hung.find(words).unwrap_or_else(|| panic!("`{words}`: {hung}"));
    assert!(at("before Window bench stands under it") < at("Set Window bench level in its place"));
    let rests = on_site(&script(&format!(
        "site(\"North wall\", #{{ width: 2000, height: 2400 }});\n{}{}",
        shelf("Base", "left: 100, floor: 0"),
        shelf("Hutch", "left: 100, floor: 40")
    )));
    let at = |words: &str| rests.find(words).unwrap_or_else(|| panic!("`{words}`: {rests}"));
    assert!(at("Set Base level in its place") < at("Set Hutch level on Base, which carries it"));
}

/// The lines of text on the sheet of the wall, in drawing order, with their roles.
fn printed(script: &str, look: &Look) -> Vec<(Role, String)> {
    let (job, parts) = worked(script, &[]);
    let sheets = draw(&job, &parts, look).sheets;
    let wall = sheets.iter().find(|sheet| sheet.title.contains("furniture on the wall")).unwrap();
    let read = |mark: &rodwright::paper::Mark| match &mark.ink {
        Ink::Text(text) => Some((mark.role, text.reading())),
        _ => None,
    };
    wall.marks.iter().filter_map(read).collect()
}

/// The fixings stand where the holes of the wall strip are: the strip is moved with
/// its piece, and each fixing lies on the axis of one of its holes.
#[test]
fn fixings_stand_on_the_holes_bored_for_them() {
    let (job, parts) = worked("periodicals_cabinet", &[]);
    let pieces = on_wall(&job, &parts);
    let fixed = fixings(&parts, &pieces);
    assert_eq!((pieces.len(), fixed.len(), fixed[0].at.len()), (1, 1, 3));
    // 900 wide in the middle of 2800, 1150 over the floor, 420 high.
    assert_near(pieces[0].low.x, 950.0, 1e-6);
    assert_near(pieces[0].high.y, 1570.0, 1e-6);
    let strip = parts.parts.iter().find(|part| part.name == "Cleat on the wall").unwrap();
    let holes: Vec<DVec2> = strip
        .cuts
        .iter()
        .filter(|cut| cut.shape.outline.arcs.len() == 1)
        .map(|cut| strip.at.point(cut.shape.at.origin) + pieces[0].shift)
        .map(|p| DVec2::new(p.x, p.z))
        .collect();
    assert_eq!(holes.len(), 3);
    for at in &fixed[0].at {
        assert!(holes.iter().any(|hole| hole.distance(*at) < 1e-6), "{at} in {holes:?}");
    }
    // Holes right through the rail fix a piece that hangs by nothing else.
    let (job, parts) = worked("window_wall", &[]);
    let fixed = fixings(&parts, &on_wall(&job, &parts));
    let rail = fixed.iter().find(|f| job.pieces[f.piece.0].name == "Coat rail").unwrap();
    let x: Vec<f64> = rail.at.iter().map(|p| p.x).collect();
    for (found, expected) in x.iter().zip([120.0 + 50.0, 120.0 + 450.0 - 40.0 + 80.0, 120.0 + 850.0]) {
        assert!((found - expected).abs() < 100.0, "{x:?}");
    }
    assert_eq!(x.len(), 3);
    assert_near(rail.at[0].y, 1640.0 + 85.0, 1e-6);
}

/// A board as a piece, 900 wide and 40 high, placed by `options`.
fn shelf(name: &str, options: &str) -> String {
    format!(
        "piece(\"{name}\", #{{ hung: false, {options} }});\n\
         board(\"{name}\", ash, #{{ x: [0, 900], y: [0, 220], z: [0, 40], grain: \"x\" }});\n"
    )
}

fn script(body: &str) -> String {
    format!("job(\"Wall\", #{{ unit: \"mm\" }});\nlet ash = board_stock(\"Ash\");\n{body}")
}

#[test]
fn what_has_no_room_on_the_wall_is_told() {
    let site = "site(\"North wall\", #{ width: 2000, height: 2400 });\n";
    let window = "obstacle(\"Window\", #{ x: [700, 1500], z: [900, 2000] });\n";
    let cases = [
        ("past the right end", format!("{site}{window}{}", shelf("Ledge", "left: 1200, floor: 400"))),
        ("over a window", format!("{site}{window}{}", shelf("Ledge", "left: 100, floor: 1000"))),
        ("past the top", format!("{site}{}", shelf("Ledge", "floor: 2380"))),
        (
            "two in one place",
            format!("{site}{}{}", shelf("Ledge", "floor: 1000"), shelf("Shelf", "left: 0, floor: 1020")),
        ),
        (
            "hung, nobody says how high",
            format!(
                "{site}import \"wall_case\" as wall_case;\npiece(\"Wall case\");\nwall_case::make(#{{ width: 800 }});\n"
            ),
        ),
        ("no wall", format!("{window}{}", shelf("Ledge", "left: 100"))),
        ("two walls", format!("{site}{site}{}", shelf("Ledge", ""))),
        (
            "wall without a height",
            format!("site(\"North wall\", #{{ width: 2000 }});\n{}", shelf("Ledge", "")),
        ),
        (
            "wall of no width",
            format!("site(\"North wall\", #{{ width: 0, height: 2400 }});\n{}", shelf("Ledge", "")),
        ),
        (
            "socket without a height",
            format!("{site}obstacle(\"Socket\", #{{ x: [100, 180] }});\n{}", shelf("Ledge", "")),
        ),
        (
            "socket backwards",
            format!("{site}obstacle(\"Socket\", #{{ x: [180, 100], z: [0, 80] }});\n{}", shelf("Ledge", "")),
        ),
        (
            "deeper than its recess",
            format!(
                "site(\"Niche\", #{{ width: 2000, height: 2400, depth: 200 }});\n{}",
                shelf("Ledge", "floor: 1000")
            ),
        ),
        ("left of the wall", format!("{site}{}", shelf("Ledge", "left: -20"))),
    ];
    let all = cases.map(|(name, body)| {
        let done = examine(&request("test", script(&body)));
        (name, render_all(&done.problems, &done.sources))
    });
    golden(file!(), &all);
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    /// Pieces side by side to both ends of the wall, over and beside obstacles, drawn in
    /// every look: nothing for the lint, D22 among its rules.
    #[test]
    fn walls_by_lot_are_drawn_clean() {
        let mut lot = crate::support::lot::Lot(11);
        let looks = crate::support::sets::looks();
        let mut wrong = Vec::new();
        for round in 0..24 {
            let width = lot.between(1900.0, 5200.0).round();
            let height = lot.between(2200.0, 3000.0).round();
            let mut body = format!("site(\"North wall\", #{{ width: {width}, height: {height} }});\n");
            let high = lot.between(60.0, 900.0).round();
            let (right, top) = (width - 40.0, 1000.0 + high);
            writeln!(body, "obstacle(\"Window\", #{{ x: [950, {right}], z: [1000, {top}] }});").unwrap();
            body += &shelf("Ledge", "left: 0, floor: 1500");
            body += &shelf(
                "Bench",
                &format!("left: {}, floor: {}", width - 900.0, lot.between(120.0, 900.0).round()),
            );
            if lot.of(2) == 0 {
                body += &shelf("Shelf", &format!("left: {}", lot.between(0.0, 40.0).round()));
            }
            let (job, parts) = made(&script(&body));
            for look in looks.iter().skip(round % 3).step_by(3) {
                let sheets = draw(&job, &parts, look).sheets;
                assert!(sheets.iter().any(|s| s.title.contains("furniture on the wall")), "{look:?}");
                let found = rodwright::paper::lint::judge_set(&sheets);
                if !found.is_empty() {
                    let at = (look.paper, look.unit, look.profile);
                    wrong.push(format!("round {round} {at:?}: {}", crate::support::sets::describe(&found)));
                }
            }
        }
        assert!(wrong.is_empty(), "{} wrong\n{}", wrong.len(), wrong.join("\n"));
    }

    /// A blank sheet to measure the room by is in the set where it is asked for, in every
    /// look, and nothing on it runs into anything.
    #[test]
    fn the_sheet_to_measure_by_is_drawn_clean() {
        let body = "site(\"North wall\", #{ width: 3000, height: 2400, studs: [50, 400], ceiling: [2400, 2250], skirting: [110, 14] });\n";
        // With a strip on its cleat, whose level line is drawn.
        let hung = "piece(\"Rail\", #{ floor: 1800, left: 400 });\n\
                    let rail = board(\"Rail\", ash, #{ x: [0, 900], y: [163, 181], z: [300, 400], grain: \"x\" });\n\
                    let own = board(\"Own\", ash, #{ x: [10, 890], y: [181, 200], z: [340, 390], grain: \"x\" });\n\
                    let wall = board(\"Wall\", ash, #{ x: [10, 890], y: [181, 200], z: [280, 340], grain: \"x\" });\n\
                    hanging_cleat(own, wall, rail);\n";
        let (job, parts) = made(&script(&format!("{body}{hung}{}", shelf("Ledge", "floor: 1500"))));
        for look in crate::support::sets::looks() {
            let blank = |sheets: &[rodwright::paper::Sheet]| {
                sheets.iter().any(|s| s.title.contains("to measure on site"))
            };
            assert!(!blank(&draw(&job, &parts, &look).sheets));
            let look = Look { survey: true, ..look };
            let sheets = draw(&job, &parts, &look).sheets;
            assert!(blank(&sheets), "{look:?}");
            let found = rodwright::paper::lint::judge_set(&sheets);
            assert!(found.is_empty(), "{look:?}: {}", crate::support::sets::describe(&found));
        }
    }

    /// By hand from the script: the wall is 3400 wide and 2760 high; bench and case are
    /// 1200 wide and stand in the middle of a window from 1700 to 2950, so from 1725 to
    /// 2925; the case, 380 high, begins at 2130, the rail, 132 high with its ledge, at
    /// 1640; the rail stands 120 from the left end and is 900 long.
    #[test]
    fn sizes_on_the_wall_are_those_of_the_script() {
        let look = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
        let text = printed("window_wall", &look);
        let figures: Vec<&str> =
            text.iter().filter(|(role, _)| *role == Role::DimensionText).map(|(_, t)| t.as_str()).collect();
        for size in
            ["3400", "2760", "120", "900", "705", "1200", "(475)", "440", "132", "358", "380", "(250)"]
        {
            assert!(figures.contains(&size), "no {size} in {figures:?}");
        }
        let cells: Vec<&str> =
            text.iter().filter(|(role, _)| *role == Role::Table).map(|(_, t)| t.as_str()).collect();
        let all: Vec<&str> = text.iter().map(|(_, t)| t.as_str()).collect();
        for row in
            [["Window bench", "1725", "2925", "0", "440"], ["Wall case", "1725", "2925", "2130", "2510"]]
        {
            assert!(all.windows(5).any(|w| w == row), "no {row:?} in {cells:?}");
        }
    }
}
