//! Scripts become jobs.

use std::sync::Arc;

use rodwright::geometry::DVec3;
use rodwright::model::{Job, Side, SizeKind};
use rodwright::problem::render_all;
use rodwright::script::{Evaluated, Limits, NoModules, Request, evaluate};

/// A request for a script that stands alone.
pub(super) fn request(name: &str, text: &str, settings: &[(&str, &str)]) -> Request {
    Request {
        name: name.into(),
        text: text.into(),
        settings: settings.iter().map(|(n, v)| ((*n).into(), (*v).into())).collect(),
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    }
}

/// The job of one of the scripts of the project, which must have no problem.
fn script(name: &str, settings: &[(&str, &str)]) -> Evaluated {
    let text = std::fs::read_to_string(format!("scripts/{name}.rhai")).unwrap();
    let evaluated = evaluate(&request(name, &text, settings));
    assert_eq!(render_all(&evaluated.problems, &evaluated.sources), "", "{name}");
    evaluated
}

#[test]
fn the_cabinet_is_a_job() {
    let job = script("periodicals_cabinet", &[("width", "1100")]).job.unwrap();
    assert_eq!(job.head.title, "Periodicals cabinet");
    assert_eq!(job.parts.len(), 10);
    // Mitres and their tongues, housings, grooves, the rail, its cleat, lippings.
    assert_eq!(job.works.len(), 4 + 4 + 4 + 4 + 3 + 1 + 1);
    assert_eq!(job.sizes.len(), 6);
    let top = &job.parts[0];
    // Set to 1100: 1100 along the grain, 300 deep, 18 thick; inside face down.
    assert_eq!(top.size, DVec3::new(1100.0, 300.0, 18.0));
    assert_eq!((top.face, top.edge), (Side::Bottom, Side::Front));
    let shelf = &job.parts[5];
    // From the left side's inside (18) to the divider's left face (540 - 9).
    assert_eq!(shelf.size, DVec3::new(513.0, 257.0, 18.0));
    assert_eq!((shelf.face, shelf.edge), (Side::Top, Side::Front));
}

#[test]
fn the_bookcase_and_the_frame_are_jobs() {
    let bookcase = script("low_bookcase", &[("inches", "yes"), ("shelves", "3")]).job.unwrap();
    assert_eq!(bookcase.parts.len(), 2 + 5 + 1 + 1);
    assert!((bookcase.parts[0].size.z - 19.05).abs() < 1e-9);
    let frame = script("notice_frame", &[]).job.unwrap();
    assert_eq!(frame.parts.len(), 6);
    let rebates: Vec<_> = frame.works.iter().filter(|w| w.parts[0].len() == 2).collect();
    assert_eq!(rebates.len(), 4);
    assert!(rebates.iter().all(|w| w.after_glue_up));
    assert_eq!(script("notice_frame", &[("glass", "no")]).job.unwrap().parts.len(), 5);
}

#[test]
fn the_same_script_gives_the_same_job() {
    let text = std::fs::read_to_string("scripts/low_bookcase.rhai").unwrap();
    let once = || format!("{:?}", evaluate(&request("a", &text, &[])));
    assert_eq!(once(), once());
}

/// Text of a span.
fn written(evaluated: &Evaluated, span: rodwright::source::Span) -> (String, String) {
    let source = evaluated.sources.get(span.source).unwrap();
    (source.name.clone(), source.text[span.start..span.end].to_owned())
}

#[test]
fn a_part_of_a_type_knows_the_users_line_and_the_librarys() {
    let text = "job(\"Case\");\nimport \"case\" as case;\nlet ply = sheet_stock(\"Ply\", #{ thick: 18 });\n\
                fn mine(ply) {\n    case::make(#{ width: 600, sheet: ply })\n}\npiece(\"Case\");\nmine(ply);\n";
    let evaluated = evaluate(&request("main.rhai", text, &[]));
    assert_eq!(render_all(&evaluated.problems, &evaluated.sources), "");
    let job = evaluated.job.clone().unwrap();
    assert_eq!(job.parts.len(), 6);
    let origin = job.parts[2].origin;
    assert_eq!(written(&evaluated, origin.user), ("main.rhai".into(), "make".into()));
    assert_eq!(evaluated.sources.line_column(origin.user), Some((5, 11)));
    let library = origin.library.unwrap();
    assert_eq!(written(&evaluated, library), ("stdlib/case.rhai".into(), "panel".into()));
    let line = evaluated.sources.line_column(library).map(|at| at.0);
    let text = std::fs::read_to_string("stdlib/case.rhai").unwrap();
    assert!(text.lines().nth(line.unwrap() - 1).unwrap().contains("\"Top\""));
}

/// The library is written in mm and asked in the unit of the script; the same stock
/// named by two types is one.
#[test]
fn a_type_keeps_what_is_given_and_takes_the_rest_as_an_inch_shop_has_it() {
    let mm = "job(\"Two\");\nimport \"bookcase\" as bookcase;\npiece(\"One\");\nbookcase::make(#{ width: 762, depth: 254 });\n\
              piece(\"Two\");\nbookcase::make(#{ width: 762, depth: 254 });\n";
    let inches = mm
        .replace("(\"Two\");\nimport", "(\"Two\", #{ unit: \"in\" });\nimport")
        .replace("762", "30")
        .replace("254", "10");
    let [mm, inches] = [mm, &inches].map(|text| {
        let evaluated = evaluate(&request("main.rhai", text, &[]));
        assert_eq!(render_all(&evaluated.problems, &evaluated.sources), "");
        evaluated.job.unwrap()
    });
    assert_eq!(mm.parts.len(), inches.parts.len());
    let [(a, b), (top_a, top_b)] = ["Left side", "Top"].map(|name| {
        let size = |job: &Job| job.parts.iter().find(|part| part.name == name).unwrap().size;
        (size(&mm), size(&inches))
    });
    // The depth is told, 10 in; the sheet is of 3/4 in where one of 18 mm is usual, and the
    // height a whole number of inches near the usual one.
    assert!((a.y - b.y).abs() < 1e-9 && (b.y - 254.0).abs() < 1e-9, "{a} {b}");
    assert!((a.z - 18.0).abs() < 1e-9 && (b.z - 0.75 * 25.4).abs() < 1e-9, "{a} {b}");
    assert!((b.x / 25.4 - (b.x / 25.4).round()).abs() < 1e-9 && (a.x - b.x).abs() < 25.4, "{a} {b}");
    assert!((top_a.x - (762.0 - 36.0)).abs() < 1e-9 && (top_b.x - (762.0 - 1.5 * 25.4)).abs() < 1e-9);
    assert_eq!(mm.stock.len(), 3);
    assert_eq!(mm.notes.len(), 1);
}

/// What `moved` makes stands elsewhere, whatever is written in it.
#[test]
fn parts_are_moved_with_what_is_written_in_them() {
    let text = "job(\"Moved\");\nlet ash = board_stock(\"Ash\");\nlet blank = blank_stock(\"Ash\");\npiece(\"Moved\");\n\
                let first = moved(100, 20, -30, || board(\"A\", ash, #{ x: [0, 300], y: [0, 40], z: [0, 20] }));\n\
                moved(0, 0, 500, || {\n    moved(10, 0, 0, || turned(\"B\", blank, #{ from: [0, 0, 0], along: \"z\", stations: [[0, 20], [90, 20]] }));\n\
                    board(\"C\", ash, #{ x: [against(first, \"left\"), 300], y: [0, 10], z: [0, 5] })\n});\n";
    let evaluated = evaluate(&request("main.rhai", text, &[]));
    assert_eq!(render_all(&evaluated.problems, &evaluated.sources), "");
    let job = evaluated.job.unwrap();
    let corners = |i: usize| {
        let part = &job.parts[i];
        let [a, b] = [DVec3::ZERO, part.size].map(|p| part.at.point(p));
        (a.min(b).to_array(), a.max(b).to_array())
    };
    assert_eq!(corners(0), ([100.0, 20.0, -30.0], [400.0, 60.0, -10.0]));
    assert_eq!(corners(1), ([0.0, -10.0, 500.0], [20.0, 10.0, 590.0]));
    assert_eq!(corners(2), ([100.0, 0.0, 500.0], [300.0, 10.0, 505.0]));
}

/// Numbers as makers write them: 5/8 is 0.625 and nothing truncates; angles
/// are degrees.
#[test]
fn numbers_are_meant_as_written() {
    let cases = [
        ("5/8", 0.625),
        ("23 + 5/8", 23.625),
        ("7 / 2 * 2", 7.0),
        ("1 + 2.5", 3.5),
        ("2 ** 10", 1024.0),
        ("sqrt(2) ** 2", 2.0),
        ("sin(30) * 100", 50.0),
        ("atan(1)", 45.0),
        ("floor(7 / 2)", 3.0),
        ("max(3, 2.5) + min(1, 2)", 4.0),
        ("inch(3/4)", 19.05),
        ("mm(18)", 18.0),
        ("[10, 20, 30][4 / 2]", 30.0),
        ("{ let t = 9; t /= 2; t }", 4.5),
        ("{ let list = [1]; list += 5; list += [2]; list.len() }", 3.0),
        ("abs(-3) + 7 % 4", 6.0),
    ];
    for (sum, value) in cases {
        let text = format!("job(\"Sum\"); let v = {sum}; size(\"v\", v);");
        let job = evaluate(&request("sum", &text, &[])).job.unwrap_or_else(|| panic!("{sum} does not run"));
        crate::support::assert_near(job.sizes[0].number.unwrap(), value, 1e-6);
    }
}

/// Functions that are bounded here give what the language gives
/// (its reference), on constants too.
#[test]
fn bounded_functions_of_texts_and_lists_do_their_work() {
    let cases = [
        (r#"{ let t = "a-b-c"; t.replace("-", "+-"); t }"#, "a+-b+-c"),
        (r#"{ let t = "a-b"; t.replace('-', "long"); t }"#, "alongb"),
        (r#"{ let t = "a--b"; t.replace("--", '='); t }"#, "a=b"),
        (r#"{ let t = "abba"; t.replace('b', 'c'); t }"#, "acca"),
        (r#"{ let t = "ab"; t.replace("", "."); t }"#, ".a.b."),
        (r#"{ let t = ""; t.replace("", "."); t }"#, ""),
        (r#"{ let t = "hello"; t.pad(8, '!'); t.pad(5, '*'); t.pad(-1, '*'); t }"#, "hello!!!"),
        (r#"{ let t = "hello"; t.pad(10, "(!)"); t }"#, "hello(!)(!"),
        (r#"{ let t = "é"; t.pad(3, "ß"); t }"#, "éßß"),
        // The language's own never comes to an end here.
        (r#"{ let t = "same"; t.pad(10, ""); t }"#, "same"),
        ("{ let l = [1]; l.pad(3, 0); l.pad(2, 5); l.pad(-2, 5); `${l}` }", "[1, 0, 0]"),
        ("{ const L = [1, 2]; let m = L.map(|v, i| v * 10 + i); `${m}` }", "[10, 21]"),
        ("{ let m = [1, 2].map(|| this + 1); `${m}` }", "[2, 3]"),
        ("{ const L = [1, 2, 3]; let z = L.zip([10, 20], |a, b, i| a + b + i); `${z}` }", "[11, 23]"),
        ("{ const M = #{ a: 1, b: 2 }; let m = M.map(|k, v| k + v); `${m}` }", r#"#{"a": "a1", "b": "b2"}"#),
        ("{ let m = #{ a: 1 }; let n = m.map(|k| this + 1); `${n}` }", r#"#{"a": 2}"#),
    ];
    for (value, expected) in cases {
        let text = format!("job(\"Text\"); piece({value});");
        let evaluated = evaluate(&request("text", &text, &[]));
        let job = evaluated.job.unwrap_or_else(|| panic!("{value} does not run"));
        assert_eq!(job.pieces[0].name, expected, "{value}");
    }
}

#[test]
fn inch_scripts_count_in_inches() {
    let text = "job(\"Shelf\", #{ unit: \"in\" });\nlet w = size(\"width\", 23 + 5/8, #{ to: 30 });\n\
                let ply = sheet_stock(\"Ply\", #{ thick: \"3/4\" });\npiece(\"Shelf\");\n\
                panel(\"Top\", ply, #{ x: [0, w], y: [0, mm(300)], z: [0, 3/4] });\n";
    let job = evaluate(&request("a", text, &[("width", "24 1/2")])).job.unwrap();
    // 24 1/2 in of 25.4 mm each (ISO 31-1).
    let size = job.parts[0].size;
    assert!((size - DVec3::new(622.3, 300.0, 19.05)).abs().max_element() < 1e-6, "{size}");
}

#[test]
fn places_come_from_other_parts() {
    let text = "job(\"Shelf\");\nlet ply = sheet_stock(\"Ply\", #{ thick: 18 });\npiece(\"Shelf\");\n\
                let left = panel(\"Left\", ply, #{ x: [0, 18], y: [0, 300], z: [0, 400] });\n\
                let low = panel(\"Low\", ply, #{ x: [against(left), 500], y: [0, 300], z: [0, 18] });\n\
                let back = panel(\"Back\", ply, #{ x: [0, against(low, \"right\")], y: [300, 318], z: [against(low), 400] });\n";
    let evaluated = evaluate(&request("a", text, &[]));
    assert_eq!(render_all(&evaluated.problems, &evaluated.sources), "");
    let parts = evaluated.job.unwrap().parts;
    assert_eq!(parts[1].size, DVec3::new(482.0, 300.0, 18.0));
    assert_eq!(parts[2].size, DVec3::new(500.0, 382.0, 18.0));
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig { cases: 300, failure_persistence: None, ..Default::default() })]

    /// Whatever is typed, there is an answer.
    #[test]
    fn no_text_stops_the_program(text in "\\PC{0,80}", cut in 0usize..2000) {
        let script = std::fs::read_to_string("scripts/notice_frame.rhai").unwrap();
        let cut = (0..=cut.min(script.len())).rev().find(|at| script.is_char_boundary(*at)).unwrap_or(0);
        let whole = format!("{}{text}{}", &script[..cut], script.get(cut + 7..).unwrap_or(""));
        for text in [text.as_str(), &whole] {
            let evaluated = evaluate(&request("fuzz", text, &[]));
            let _ = render_all(&evaluated.problems, &evaluated.sources);
            let declared = rodwright::script::declared(&request("fuzz", text, &[]));
            let _ = render_all(&declared.problems, &declared.sources);
        }
    }
}

/// A leg turned about z stands where it is put; a part turned by 30 degrees
/// about x rises by the sine (0.5) of its depth.
#[test]
fn turned_and_tilted_parts_stand_where_they_are_put() {
    let text = "job(\"Stool\");\nlet elm = blank_stock(\"Elm\");\nlet ash = board_stock(\"Ash\");\npiece(\"Stool\");\n\
                turned(\"Leg\", elm, #{ from: [40, 50, 0], along: \"z\", stations: [[0, 24], [300, 38, \"cove\"], [400, 30]] });\n\
                board(\"Seat\", ash, #{ x: [0, 400], y: [0, 300], z: [0, 20], turn: #{ axis: \"x\", by: 30 } });\n";
    let evaluated = evaluate(&request("a", text, &[]));
    assert_eq!(render_all(&evaluated.problems, &evaluated.sources), "");
    let parts = evaluated.job.unwrap().parts;
    let leg = &parts[0];
    assert_eq!(leg.size, DVec3::new(400.0, 38.0, 38.0));
    assert_eq!(leg.at.point(DVec3::new(400.0, 19.0, 19.0)), DVec3::new(40.0, 50.0, 400.0));
    let seat = &parts[1];
    assert_eq!(seat.edge, Side::Front);
    let corner = seat.at.point(DVec3::new(0.0, 300.0, 20.0));
    let highest = (0..8u8)
        .map(|i| {
            let pick = |bit: u8, v: f64| if i & bit == 0 { 0.0 } else { v };
            seat.at.point(DVec3::new(pick(1, 400.0), pick(2, 300.0), pick(4, 20.0))).z
        })
        .fold(f64::MIN, f64::max);
    crate::support::assert_near(highest, 300.0 * 0.5 + 20.0 * 0.75_f64.sqrt(), 1e-9);
    assert!(corner.is_finite());
}

#[test]
fn sizes_are_read_whatever_stands_between_them() {
    let text = "job(\"Shelf\", #{ unit: \"in\" });\nlet t = 3/4;\nlet ply = sheet_stock(\"Ply\", #{ thick: t });\nlet made = [];\n\
                for i in 0..3 { made += i; }\nlet w = size(\"width\", 4 * t, #{ from: t });\nlet n = made.len();\n\
                count(\"shelves\", 2);\nlet h = size(\"height\", n * 10);\nlet twice = size(\"twice\", w + w);\n\
                panel(\"Top\", 3);\n";
    let declared = rodwright::script::declared(&request("a", text, &[]));
    let names: Vec<&str> = declared.sizes.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["width", "shelves", "twice"]);
    // 4 times 3/4 in, and twice that.
    let SizeKind::Length { default, from, .. } = &declared.sizes[0].kind else { panic!("a length") };
    crate::support::assert_near(*default, 76.2, 1e-9);
    crate::support::assert_near(from.unwrap(), 19.05, 1e-9);
    let SizeKind::Length { default, .. } = &declared.sizes[2].kind else { panic!("a length") };
    crate::support::assert_near(*default, 152.4, 1e-9);
    assert_eq!(
        render_all(&declared.problems, &declared.sources),
        "warning[worked-out-size]: what this `size` declares is worked out by the script, so it is not listed\n\
         \x20--> a:9:9\n\
         \x20 |\n\
         9 | let h = size(\"height\", n * 10);\n\
         \x20 |         ^^^^\n\
         \x20 |\n\
         \x20 = help: declare sizes at the top of the script with plain values, or values of plain names\n\n1 warning\n"
    );
}
