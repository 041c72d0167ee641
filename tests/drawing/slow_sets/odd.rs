//! Odd jobs through the whole tool: a legible sheet or a clear problem.

use std::fmt::Write as _;

use rodwright::drawing::{Look, Paper, Profile};
use rodwright::measure::Unit;
use rodwright::paper::lint::{Finding, judge_set};
use rodwright::problem::{Problem, render_all};
use rodwright::script::Request;
use rodwright::{Choices, draw, examine, look_over, too_many_sheets};

use crate::support::golden::{golden, without_places};
use crate::support::scripts;
use crate::support::sets::describe;

/// Two boards, butted; the first carries what is odd.
const BOARDS: &str = r#"
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
let thin = sheet_stock("Veneer", #{ thick: 1, sheet: [2440, 1220], grain: "length" });
"#;

fn request(head: &str, body: &str) -> Request {
    scripts::request("odd.rhai", format!("{head}{BOARDS}{body}"))
}

/// What the lint finds of a script on A3 and on letter paper.
fn findings(head: &str, body: &str) -> Vec<Finding> {
    let looks =
        [Look::new(Paper::A3, Unit::Mm, Profile::Iso), Look::new(Paper::Letter, Unit::Inch, Profile::Asme)];
    findings_on(&looks, head, body)
}

/// What the lint finds of a script in some looks.
fn findings_on(looks: &[Look], head: &str, body: &str) -> Vec<Finding> {
    let done = examine(&request(head, body));
    assert!(done.problems.is_empty(), "{:?}", done.problems);
    let (job, worked) = done.worked.unwrap();
    let mut found = Vec::new();
    for look in looks {
        let drawn = draw(&job, &worked, look);
        assert!(drawn.problems.is_empty(), "{:?}", drawn.problems);
        found.extend(judge_set(&drawn.sheets));
    }
    found
}

#[track_caller]
fn clean(head: &str, body: &str) {
    let found = findings(head, body);
    assert!(found.is_empty(), "{}", describe(&found));
}

#[test]
fn titles_and_names_of_two_hundred_letters() {
    let long = "A very long name ".repeat(12);
    let long = &long[..200];
    clean(
        &format!(
            "job(\"{long}\", #{{ unit: \"mm\", client: \"{long}\", place: \"{long}\", owner: \"{long}\" }});"
        ),
        &format!(
            r#"piece("{long}");
            let a = panel("{long}", ply, #{{ x: [0, 600], y: [0, 300], z: [0, 18], grain: "x" }});
            let b = panel("Back", ply, #{{ x: [0, 600], y: [300, 318], z: [0, 400], grain: "x" }});
            butt(a, b);
            note("{long}");"#
        ),
    );
}

#[test]
fn names_with_marks_and_accents() {
    clean(
        r#"job("Shelf <1> & \"more\"", #{ unit: "mm", client: "Größe Ærø Łódź ñandú" });"#,
        r#"piece("Regal für <Co> & Söhne");
        let a = panel("Tür \"links\" <a&b>", ply, #{ x: [0, 600], y: [0, 300], z: [0, 18], grain: "x" });
        let b = panel("Żagiel", ply, #{ x: [0, 600], y: [300, 318], z: [0, 400], grain: "x" });
        butt(a, b);"#,
    );
}

#[test]
fn names_in_greek_and_cyrillic() {
    clean(
        r#"job("Полка и Ράφι", #{ unit: "mm", client: "Читальня Ёж" });"#,
        r#"piece("Шкаф");
        let a = panel("Боковина", ply, #{ x: [0, 600], y: [0, 300], z: [0, 18], grain: "x" });
        let b = panel("Ράφι μέσο", ply, #{ x: [0, 600], y: [300, 318], z: [0, 400], grain: "x" });
        butt(a, b);"#,
    );
}

#[test]
fn letters_the_drawing_cannot_show_are_named() {
    let found = findings(
        r#"job("Shelf", #{ unit: "mm" });"#,
        r#"piece("Shelf");
        let a = panel("ארון", ply, #{ x: [0, 600], y: [0, 300], z: [0, 18], grain: "x" });
        let b = panel("Back", ply, #{ x: [0, 600], y: [300, 318], z: [0, 400], grain: "x" });
        butt(a, b);"#,
    );
    assert!(!found.is_empty());
    let others: Vec<Finding> = found.into_iter().filter(|f| f.rule != "character").collect();
    assert!(others.is_empty(), "{}", describe(&others));
}

#[test]
fn a_part_of_one_millimetre() {
    clean(
        r#"job("Thin", #{ unit: "mm" });"#,
        r#"piece("Thin");
        let a = panel("Face", thin, #{ x: [0, 600], y: [0, 1], z: [0, 300], grain: "x" });
        let b = panel("Core", ply, #{ x: [0, 600], y: [1, 19], z: [0, 300], grain: "x" });
        butt(a, b);"#,
    );
}

#[test]
fn two_millimetres_in_two_metres() {
    clean(
        r#"job("Long", #{ unit: "mm" });"#,
        r#"piece("Long");
        let a = panel("Long", ply, #{ x: [0, 2000], y: [0, 300], z: [0, 18], grain: "x" });
        let b = panel("Back", ply, #{ x: [0, 2000], y: [300, 318], z: [0, 200], grain: "x" });
        butt(a, b);
        hole(a, "top", #{ diameter: 2, depth: 5, along: [1000], across: 100 });"#,
    );
}

#[test]
fn three_hundred_holes() {
    clean(
        r#"job("Pegs", #{ unit: "mm" });"#,
        r#"piece("Pegs");
        let a = panel("Board", ply, #{ x: [0, 1600], y: [0, 18], z: [0, 900], grain: "x" });
        let b = panel("Shelf", ply, #{ x: [0, 1600], y: [18, 218], z: [0, 18], grain: "x" });
        butt(a, b);
        for r in 0..15 { for c in 0..20 {
            hole(a, "front", #{ diameter: 5, depth: 10, along: [50 + c * 75], across: 40 + r * 30 });
        } }"#,
    );
}

#[test]
fn a_thin_part_on_small_paper_keeps_circle_and_letter_together() {
    let found = findings_on(
        &[Look::new(Paper::A4, Unit::Mm, Profile::Iso), Look::new(Paper::A4, Unit::Inch, Profile::Asme)],
        r#"job("Thin", #{ unit: "mm" });"#,
        r#"piece("Thin");
        let a = panel("Face", thin, #{ x: [0, 600], y: [0, 1], z: [0, 300], grain: "x" });
        let b = panel("Core", ply, #{ x: [0, 600], y: [1, 19], z: [0, 300], grain: "x" });
        butt(a, b);"#,
    );
    assert!(found.is_empty(), "{}", describe(&found));
}

/// ISO 5455 goes to 1:10 000; the largest thing is refused by name, not drawn
/// over the edge.
#[test]
fn what_no_scale_fits_is_a_problem_by_name() {
    let done = examine(&request(
        r#"job("Fence", #{ unit: "mm" });"#,
        r#"piece("Fence");
        let a = panel("Rail", ply, #{ x: [0, 90000000], y: [0, 300], z: [0, 18], grain: "x" });
        let b = panel("Back", ply, #{ x: [0, 90000000], y: [300, 318], z: [0, 200], grain: "x" });
        butt(a, b);"#,
    ));
    let mut problems = done.problems;
    if let Some((job, worked)) = done.worked {
        let drawn = draw(&job, &worked, &Look::new(Paper::A4, Unit::Mm, Profile::Iso));
        let found = judge_set(&drawn.sheets);
        let off: Vec<Finding> = found.into_iter().filter(|f| f.rule == "D17").collect();
        assert!(off.is_empty(), "{}", describe(&off));
        problems.extend(drawn.problems);
    }
    let said: Vec<&str> = problems.iter().map(|p| p.code).collect();
    assert!(!said.is_empty(), "ninety kilometres of rail and no word of it");
}

#[test]
fn nothing_at_all_is_a_problem_and_no_sheet() {
    let done = examine(&request(r#"job("Nothing", #{ unit: "mm" });"#, r#"piece("Empty");"#));
    assert!(!done.problems.is_empty());
    if let Some((job, worked)) = done.worked {
        let drawn = draw(&job, &worked, &Look::new(Paper::A4, Unit::Mm, Profile::Iso));
        let found = judge_set(&drawn.sheets);
        assert!(found.is_empty(), "{}", describe(&found));
    }
}

/// ISO 7200: the mandatory fields stand in the block, each with its value, and a
/// long place is not cut off.
#[test]
fn title_blocks_say_what_iso_7200_asks() {
    let done = examine(&request(
        r#"job("Reading table", #{ unit: "mm", number: "SRR-07", client: "Saltmarsh reading room",
            place: "north wall, over the window bench by the door", owner: "Marram Workshop",
            drawn_by: "E. Sedge", checked_by: "A. Rush", approved_by: "R. Samphire", revision: "B" });"#,
        r#"piece("Table");
        let a = panel("Top", ply, #{ x: [0, 600], y: [0, 300], z: [0, 18], grain: "x" });
        let b = panel("Back", ply, #{ x: [0, 600], y: [300, 318], z: [0, 400], grain: "x" });
        butt(a, b);"#,
    ));
    assert!(done.problems.is_empty(), "{:?}", done.problems);
    let (job, worked) = done.worked.unwrap();
    for paper in [Paper::A4, Paper::A3, Paper::Letter, Paper::Tabloid] {
        let look = Look { date: Some("2026-11-25".into()), ..Look::new(paper, Unit::Mm, Profile::Iso) };
        let drawn = draw(&job, &worked, &look);
        let count = drawn.sheets.len();
        for (i, sheet) in drawn.sheets.iter().enumerate() {
            let texts: Vec<String> = sheet
                .marks
                .iter()
                .filter_map(|m| match &m.ink {
                    rodwright::paper::Ink::Text(text) => Some(text.reading()),
                    _ => None,
                })
                .collect();
            let all = texts.join("\n");
            // Owner, number, date of issue, sheet, title, approval, creator,
            // document type; then revision and number of sheets.
            let sheet_of = format!("{} / {count}", i + 1);
            // All of them on the first sheet; the strip of the others has no room for who
            // drew and approved it, which the first says for the set.
            let first = i == 0;
            let wanted = [
                "Marram Workshop",
                "SRR-07",
                "2026-11-25",
                &sheet_of,
                "Reading table",
                "R. Samphire",
                "A. Rush",
                "E. Sedge",
                "B",
            ];
            for value in wanted {
                assert!(
                    texts.iter().any(|t| t == value)
                        || !first && ["R. Samphire", "A. Rush", "E. Sedge"].contains(&value),
                    "{paper:?} sheet {}: no `{value}` in\n{all}",
                    i + 1
                );
            }
            for name in [
                "Owner",
                "Number",
                "Date of issue",
                "Sheet",
                "Title",
                "Approved by",
                "Drawn by",
                "Document type",
            ] {
                let opening = ["Approved by", "Drawn by", "Document type"].contains(&name);
                assert!(
                    texts.iter().any(|t| t == name) || !first && opening,
                    "{paper:?} sheet {}: no field `{name}`",
                    i + 1
                );
            }
            assert!(
                !first || all.contains("north wall, over") && all.contains("bench by the door"),
                "{paper:?}: {all}"
            );
        }
        let found = judge_set(&drawn.sheets);
        assert!(found.is_empty(), "{paper:?}: {}", describe(&found));
    }
}

/// A block bored so closely that its drawing cannot be clear: the first that is said
/// of its sheets, without the figures, which any change of a drawing moves.
fn crowded() -> String {
    let mut text = String::from(
        "job(\"Test\");\nlet ash = board_stock(\"Ash\");\npiece(\"Block\");\n\
         let a = board(\"Block\", ash, #{ x: [0, 100], y: [0, 60], z: [0, 20], grain: \"x\" });\n",
    );
    for i in 0..90 {
        let (along, across) = (5 + (i * 37) % 90, 3 + (i * 29) % 53);
        writeln!(
            text,
            "hole(a, \"top\", #{{ diameter: 1.3, along: [{along}.{i:02}], across: {across}.{i:02}, depth: {}.{i:02} }});",
            1 + i / 10
        )
        .unwrap();
    }
    let choices = Choices { paper: Some(Paper::A4), ..Choices::default() };
    let (problems, _) = look_over(&scripts::request("test", text), &choices);
    let unclean = problems.iter().find(|p| p.code == "unclean-sheet").unwrap();
    let (place, _) = unclean.message.split_once(": ").unwrap();
    let figures = |word: &str| word.contains(|c: char| c.is_ascii_digit());
    let place: Vec<&str> = place.split(' ').map(|word| if figures(word) { "#" } else { word }).collect();
    let first = Problem { message: place.join(" "), ..unclean.clone() };
    without_places(&[first])
}

/// Two parts and a note in letters that the lettering lacks: said once, at the first.
fn strange() -> String {
    let text = "job(\"Test\");\nlet ash = board_stock(\"Ash\");\npiece(\"Block\");\n\
                board(\"ארון\", ash, #{ x: [0, 100], y: [0, 60], z: [0, 20], grain: \"x\" });\n\
                board(\"書架\", ash, #{ x: [0, 100], y: [70, 130], z: [0, 20], grain: \"x\" });\n\
                note(\"架\");\n";
    let (problems, sources) = look_over(&scripts::request("test", text.into()), &Choices::default());
    assert!(problems.iter().all(|p| p.code != "unclean-sheet"));
    let of_letters: Vec<Problem> = problems.into_iter().filter(|p| p.code == "lacking-letters").collect();
    assert_eq!(of_letters[0].parts, ["ארון", "書架"]);
    render_all(&of_letters, &sources)
}

#[test]
fn a_sheet_that_cannot_be_clear_is_said() {
    assert_eq!(too_many_sheets(450), None);
    let many: Vec<Problem> = too_many_sheets(451).into_iter().collect();
    let cases = [("crowded", crowded()), ("strange letters", strange()), ("many", without_places(&many))];
    golden(file!(), &cases);
}
