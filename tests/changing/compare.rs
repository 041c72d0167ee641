//! `compare`, and sets that follow another: what becomes of parts, checked by hand, and
//! every message on the way.

use std::ffi::OsString;
use std::fs;
use std::path::Path;

use rodwright::cli::{Ended, Terminal, run};

use crate::support::golden::golden;

/// A case of our own to change: sides with a housed shelf, butted between top and bottom
/// on dowels, a door before it. `deep` is taken off at the back, where nothing is joined
/// but the back in its rebate.
pub(super) const CASE: &str = r#"job("Map case", #{ unit: "mm" });
let wide = size("wide", 600, #{ from: 300, to: 1200 });
let deep = size("deep", 320, #{ from: 200, to: 400 });
let door = yes_no("door", true);
let ply = sheet_stock("Birch plywood", #{ thick: 18, sheet: [2440, 1220], grain: "length", price: 74.42 });
let thin = sheet_stock("Birch plywood", #{ thick: 6, sheet: [2440, 1220], grain: "length", price: 40.0 });
piece("Case");
let left = panel("Left side", ply, #{ x: [0, 18], y: [0, deep], z: [0, 500], grain: "z" });
let right = panel("Right side", ply, #{ x: [wide - 18, wide], y: [0, deep], z: [0, 500], grain: "z" });
let top = panel("Top", ply, #{ x: between(left, right), y: [0, deep], z: [482, 500], grain: "x" });
let bottom = panel("Bottom", ply, #{ x: between(left, right), y: [0, deep], z: [0, 18], grain: "x" });
let shelf = panel("Shelf", ply, #{ x: between(left, right), y: [0, deep], z: [241, 259], grain: "x" });
for side in [left, right] {
    housing(shelf, side, #{ depth: 6, stop: 12 });
    for level in [top, bottom] { dowels(level, side, #{ count: 3 }); }
}
if door {
    let door = panel("Door", ply, #{ x: [2, wide - 2], y: [-18, 0], z: [2, 498], grain: "z" });
    butt(door, left);
}
"#;

/// A side with a back in a groove 12 before its far edge and a lipping in front. 5 less
/// deep, the old groove would show beside the new one unless the 5 come off in front, and
/// the lipping with them.
const LIPPED: &str = r#"job("Side", #{ unit: "mm" });
let deep = size("deep", 320, #{ from: 200, to: 400 });
let ply = sheet_stock("Birch plywood", #{ thick: 18, sheet: [2440, 1220], grain: "length", price: 74.42 });
let thin = sheet_stock("Birch plywood", #{ thick: 6, sheet: [2440, 1220], grain: "length", price: 40.0 });
let oak = board_stock("Oak", #{ thick: [27], price_m3: 3400.0 });
piece("Case");
let side = panel("Side", ply, #{ x: [0, 18], y: [0, deep], z: [0, 500], grain: "z" });
let back = panel("Back", thin, #{ x: [18, 400], y: [deep - 18, deep - 12], z: [0, 500], grain: "z" });
groove(back, side, #{ depth: 6 });
lipping(side, "front", oak, #{ thick: 6 });
"#;

pub(super) fn rodwright(folder: &Path, line: &[&str]) -> (Ended, String) {
    let place = folder.display().to_string();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = line.iter().map(|word| OsString::from(word.replace('@', &place)));
    let line = std::iter::once(OsString::from("rodwright")).chain(line);
    let ended = run(line, rodwright::words(), &mut Terminal::new(&mut out, &mut err));
    let text = String::from_utf8([err, out].concat()).unwrap();
    (ended, text.replace(&place, "."))
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("case.rhai"), CASE).unwrap();
    fs::write(folder.path().join("lipped.rhai"), LIPPED).unwrap();
    fs::write(folder.path().join("side.txt"), "Side\n").unwrap();
    fs::write(folder.path().join("cut.csv"), "part,cut\nLeft side,x\nRight side,x\n").unwrap();
    folder
}

/// Whole sets are made.
mod slow_tests {
    use super::*;

    #[test]
    fn what_compare_says() {
        let folder = folder();
        let at = folder.path();
        let asked = |name: &str, line: &[&str]| (name.to_owned(), rodwright(at, line).1);
        assert_eq!(rodwright(at, &["setout", "@/case.rhai", "--out", "@/set"]).0, Ended::Done);
        let job = fs::read_to_string(at.join("set/case-job.json")).unwrap();
        fs::write(at.join("newer.json"), job.replacen("\"version\": 2", "\"version\": 3", 1)).unwrap();
        fs::write(at.join("half.json"), &job[..job.len() / 2]).unwrap();
        fs::write(at.join("other.json"), job.replacen("500.0", "510.0", 1)).unwrap();
        fs::write(at.join("broken.json"), job.replacen("piece(", "peice(", 1)).unwrap();
        fs::write(at.join("typo.csv"), "part,cut\nLeft sde,x\nTop,7\n").unwrap();
        fs::write(at.join("heads.csv"), "stock,cut\nBirch,x\n").unwrap();
        let change = ["--set", "wide=680", "--set", "deep=300", "--set", "door=no"];
        let with = |line: &[&'static str]| [line, &change[..]].concat();
        let cases = [
            asked("nothing changes", &["compare", "@/set/case-job.json", "@/case.rhai"]),
            asked(
                "door dropped, 80 wider, 300 deep",
                &with(&["compare", "@/set/case-job.json", "@/case.rhai", "--cut", "@/cut.csv"]),
            ),
            asked(
                "two sets of sizes",
                &["compare", "@/case.rhai", "@/case.rhai", "--was", "wide=620", "--set", "wide=640"],
            ),
            asked("a newer job file", &["compare", "@/newer.json", "@/case.rhai"]),
            asked("half a job file", &["compare", "@/half.json", "@/case.rhai"]),
            asked("made otherwise", &["compare", "@/other.json", "@/case.rhai"]),
            asked("no job file", &["compare", "@/none.json", "@/case.rhai"]),
            asked("names of the list", &["compare", "@/case.rhai", "@/case.rhai", "--cut", "@/typo.csv"]),
            asked("heads of the list", &["compare", "@/case.rhai", "@/case.rhai", "--cut", "@/heads.csv"]),
            asked(
                "set out after, with cut parts",
                &with(&["setout", "@/case.rhai", "--out", "@/set", "--cut", "@/cut.csv"]),
            ),
            asked(
                "and wider than deep again",
                &["setout", "@/case.rhai", "--out", "@/set", "--set", "deep=340"],
            ),
            asked(
                "a saved script that runs no more",
                &[
                    "setout",
                    "@/case.rhai",
                    "--out",
                    "@/new",
                    "--since",
                    "@/broken.json",
                    "--cut",
                    "@/cut.csv",
                ],
            ),
        ];
        golden(file!(), &cases);
    }

    /// Worked with pencil and paper. Sides 500 × 320 × 18, the grain upright, marked edge at
    /// the front: 20 comes off the far edge. The housing of the shelf begins 12 behind the
    /// front and runs out at the back, before and after: true. Dowels stand by the depth of
    /// the board, so those at 320 are not those at 300: they are bored anew, and the old
    /// holes lie under the ends of top and bottom. Top and bottom, not cut, are 80 longer,
    /// the shelf too. The door is dropped.
    #[test]
    fn two_sides_that_are_cut_are_trimmed_and_kept() {
        let folder = folder();
        let at = folder.path();
        assert_eq!(rodwright(at, &["setout", "@/case.rhai", "--out", "@/set"]).0, Ended::Done);
        let line = [
            "setout",
            "@/case.rhai",
            "--out",
            "@/set",
            "--cut",
            "@/cut.csv",
            "--set",
            "wide=680",
            "--set",
            "deep=300",
            "--set",
            "door=no",
        ];
        assert_eq!(rodwright(at, &line).0, Ended::Done);
        let read = |file: &str| fs::read_to_string(at.join("set").join(file)).unwrap();
        let layouts: serde_json::Value = serde_json::from_str(&read("case-layouts.json")).unwrap();
        let text = layouts.to_string();
        assert!(!text.contains("Left side") && !text.contains("Right side"), "{text}");
        for rest in ["Top", "Bottom", "Shelf"] {
            assert!(text.contains(rest), "{rest}");
        }
        let list = read("case-cutting-list.csv");
        assert!(list.contains("cut already"), "{list}");
        // The job file remembers from which state they were cut: once more, they are kept.
        let saved: serde_json::Value = serde_json::from_str(&read("case-job.json")).unwrap();
        assert_eq!(saved["states"].as_array().unwrap().len(), 2);
        let (ended, text) = rodwright(at, &line[..4].iter().chain(&line[6..]).copied().collect::<Vec<_>>());
        assert_eq!(ended, Ended::Done);
        assert_eq!(text.matches("cut-part-changed").count(), 2, "{text}");
        assert!(!read("case-layouts.json").contains("Left side"));
        // Back to what it was, they are as they should be, and nothing is said.
        let (_, text) = rodwright(at, &line[..4]);
        assert!(!text.contains("cut-part"), "{text}");
        assert!(!read("case-layouts.json").contains("Left side"));
    }

    /// What the script marks is kept too, with its lippings.
    #[test]
    fn the_script_may_mark_what_is_cut() {
        let folder = folder();
        let at = folder.path();
        fs::write(at.join("case.rhai"), format!("{CASE}already_cut([left, top]);\n")).unwrap();
        assert_eq!(rodwright(at, &["setout", "@/case.rhai", "--out", "@/set"]).0, Ended::Done);
        let list = fs::read_to_string(at.join("set/case-cutting-list.csv")).unwrap();
        let row = |name: &str| list.lines().find(|line| line.contains(name)).unwrap().to_owned();
        // Both sides share a row, and top and bottom another.
        assert!(row("Left side").contains("1 of 2 cut already"), "{list}");
        assert!(row("Top").contains("1 of 2 cut already"), "{list}");
        let layouts = fs::read_to_string(at.join("set/case-layouts.csv")).unwrap();
        let laid = |name: &str| layouts.lines().filter(|line| line.contains(name)).count();
        assert_eq!((laid("Left side"), laid("Top"), laid("Shelf")), (1, 1, 1), "{layouts}");
    }

    #[test]
    fn a_lipping_comes_off_with_what_is_taken_off() {
        let folder = folder();
        let line = ["compare", "@/lipped.rhai", "@/lipped.rhai", "--set", "deep=315", "--cut", "@/side.txt"];
        let (ended, said) = rodwright(folder.path(), &line);
        assert_eq!(ended, Ended::Done, "{said}");
        assert!(said.contains("take 5 mm off the") && said.contains("make anew"), "{said}");
        assert!(said.contains("1 cut part is lost"), "{said}");
    }

    /// The client's file tells the change in words, marks what is changed and has none of
    /// the shop's costs; the shop's file has them.
    #[test]
    fn the_client_reads_what_changes_and_no_cost() {
        let folder = folder();
        let at = folder.path();
        let line = [
            "compare",
            "@/case.rhai",
            "@/case.rhai",
            "--set",
            "wide=680",
            "--set",
            "deep=340",
            "--set",
            "door=no",
            "--cut",
            "@/cut.csv",
            "--rates",
            "scripts/rates.toml",
            "--out",
            "@/out",
            "--date",
            "2026-11-27",
        ];
        let (ended, said) = rodwright(at, &line);
        assert_eq!(ended, Ended::Done, "{said}");
        // Two sides of 500 × 320: 0.32 m² of a sheet of 2.9768 m² at 74.00.
        assert!(said.contains("2 cut parts are lost: 0.32 m² of sheet, £7.95"), "{said}");
        let read = |file: &str| {
            let document = lopdf::Document::load_mem(&fs::read(at.join("out").join(file)).unwrap()).unwrap();
            let pages: Vec<u32> = document.get_pages().keys().copied().collect();
            document.extract_text(&pages).unwrap()
        };
        let (client, shop) = (read("case-change.pdf"), read("case-change-shop.pdf"));
        for words in [
            "As it was",
            "As it is now",
            "Wide: 600 mm before, now 680 mm",
            "No longer there: Door",
            "Revision A",
        ] {
            assert!(client.contains(words), "{words}: {client}");
        }
        assert!(shop.contains("£7.95") && !client.contains("7.95"), "{shop}");
        let marked = fs::read_to_string(at.join("out/case-change-02.svg")).unwrap();
        assert!(marked.contains(">A<"), "no triangle is lettered");
    }
}
