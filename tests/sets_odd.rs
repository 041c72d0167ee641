//! Odd jobs through the whole tool: a legible sheet or a clear problem.

use std::sync::Arc;

use rodwright::drawing::{Look, Paper, Profile};
use rodwright::measure::Unit;
use rodwright::paper::lint::{Finding, judge_set};
use rodwright::script::{Limits, NoModules, Request};
use rodwright::{draw, examine};

use crate::sets::describe;

/// Two boards, butted; the first carries what is odd.
const BOARDS: &str = r#"
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
let thin = sheet_stock("Veneer", #{ thick: 1, sheet: [2440, 1220], grain: "length" });
"#;

/// What the lint finds of a script on A3 and on letter paper.
fn findings(head: &str, body: &str) -> Vec<Finding> {
    let request = Request {
        name: "odd.rhai".into(),
        text: format!("{head}{BOARDS}{body}"),
        settings: Vec::new(),
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    };
    let done = examine(&request);
    assert!(done.problems.is_empty(), "{:?}", done.problems);
    let (job, worked) = done.worked.unwrap();
    let looks =
        [Look::new(Paper::A3, Unit::Mm, Profile::Iso), Look::new(Paper::Letter, Unit::Inch, Profile::Asme)];
    let mut found = Vec::new();
    for look in looks {
        let drawn = draw(&job, &worked, &look);
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
