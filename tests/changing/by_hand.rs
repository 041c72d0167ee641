//! Changes worked with pencil and paper: what becomes of each part, and what is cut from
//! what is lost and left over.

use std::fs;
use std::path::Path;

use rodwright::cli::Ended;

use super::compare::{CASE, rodwright};

/// What `compare` answers of a script and these settings, with this list of cut parts.
fn compared(folder: &Path, script: &str, cut: &str, line: &[&str]) -> String {
    fs::write(folder.join("job.rhai"), script).unwrap();
    fs::write(folder.join("cut.txt"), cut).unwrap();
    let whole = [&["compare", "@/job.rhai", "@/job.rhai", "--cut", "@/cut.txt"], line].concat();
    let (ended, said) = rodwright(folder, &whole);
    assert_eq!(ended, Ended::Done, "{said}");
    said
}

/// A rail from a board of oak, and blocks where it is longer than 900.
fn rail(boards: &str, block: u32) -> String {
    format!(
        r#"job("Blocks", #{{ unit: "mm" }});
let long = size("long", 900, #{{ from: 600, to: 1500 }});
cutting(#{{ offcut: 100 }});
let oak = board_stock("Oak", #{{ thick: [27], lengths: [2000], {boards} }});
piece("Blocks");
board("Rail", oak, #{{ x: [0, long], y: [0, 20], z: [0, 100], grain: "x" }});
if long > 900 {{
    for i in [1, 2] {{
        board("Block " + i, oak, #{{ x: [0, {block}], y: [i * 100, i * 100 + 20], z: [0, 80], grain: "x" }});
    }}
}}
"#
    )
}

/// Two sides from a sheet, which share a row of the cutting list, and a tray before a
/// case that is deeper.
const SIDES: &str = r#"job("Sides", #{ unit: "mm" });
let deep = size("deep", 320, #{ from: 200, to: 400 });
let ply = sheet_stock("Birch plywood", #{ thick: 18, sheet: [2440, 1220], grain: "length", price: 74.42 });
piece("Case");
for x in [0, 582] {
    let name = if x == 0 { "Left side" } else { "Right side" };
    panel(name, ply, #{ x: [x, x + 18], y: [0, deep], z: [0, 500], grain: "z" });
}
if deep > 320 { panel("Tray", ply, #{ x: [18, 582], y: [0, 300], z: [0, 18], grain: "x" }); }
"#;

/// Whole jobs are laid out.
mod slow_tests {
    use super::*;

    /// The rail has to be 300 longer: what was cut, 900 × 100 and 20 thick, is lost. Two
    /// blocks of 400 × 80 and 20 thick are sawn out 412.5 × 85, twice that and a saw cut
    /// of 3.2 is 828.2 of its 900. Both stand in one row of the cutting list.
    #[test]
    fn new_parts_come_out_of_a_lost_rail() {
        let folder = tempfile::tempdir().unwrap();
        let script = rail("widths: [120]", 400);
        let said = compared(folder.path(), &script, "Rail\n", &["--set", "long=1200"]);
        assert!(said.contains("it is 300 mm longer"), "{said}");
        assert!(
            said.contains("from Rail as cut: 900 × 100 of it is free: cut Block 1 and Block 2\n"),
            "{said}"
        );
    }

    /// Blocks of 950 are sawn out 962.5 long, too long for the rail. The board was 2000,
    /// less 20 at both ends, the rail of 912.5 and a saw cut: 1044.3 are left, which holds
    /// one of them. How wide a board was that no widths are told of, nobody knows.
    #[test]
    fn and_out_of_what_is_left_of_its_board_where_its_width_is_told() {
        let folder = tempfile::tempdir().unwrap();
        let long = ["--set", "long=1200"];
        let said = compared(folder.path(), &rail("widths: [120]", 950), "Rail\n", &long);
        assert!(said.contains("from offcut of Oak, 1044.3 × 120: cut Block 1\n"), "{said}");
        let said = compared(folder.path(), &rail("width: 120", 950), "Rail\n", &long);
        assert!(!said.contains("offcut of Oak"), "{said}");
    }

    /// One of two sides that share a row of the list is cut: the sheet is in pieces, and
    /// the tray, too long for the side of 500 × 320, comes out of what is left of it.
    #[test]
    fn a_sheet_is_in_pieces_when_one_of_two_like_parts_is_cut() {
        let folder = tempfile::tempdir().unwrap();
        let said = compared(folder.path(), SIDES, "Right side\n", &["--set", "deep=340"]);
        assert!(said.contains("it is 20 mm wider"), "{said}");
        let offcut = said.lines().find(|line| line.starts_with("from offcut of Birch plywood, "));
        assert!(offcut.is_some_and(|line| line.contains("Tray")), "{said}");
        let said = compared(folder.path(), SIDES, "", &["--set", "deep=340"]);
        assert!(!said.contains("from "), "{said}");
    }

    /// A hall case of the library loses its doors, is 80 wider and its shelf 300 deep; both
    /// sides are cut. By hand, in mm, sheet 18, lipping 6, back 6 in grooves 12 before the
    /// far edge, so that the shelf ends 18 before it: 318 deep overall for 300.
    ///
    /// - Sides: 318 - 6 = 312 of 332 wide. Taken off behind, the old housing would show
    ///   behind the new shelf; so 20 come off in front, and the lipping with them, and
    ///   groove and housing stay where they are. Three tenons an end stand closer: six old
    ///   mortises go under top and bottom, and what of the housing lies before its new stop
    ///   goes under the shoulder of the shelf. Two hinges with two screws each: 4 holes.
    /// - Top, bottom: 960 - 2 × 18 = 924 by 312. Shelf: 924 and 4 in each side, 932, by
    ///   300 - 6 = 294. Back: 924 and 5.5 in each groove, 935, its height 575 as it was.
    /// - Lippings of the sides come off; those of top, bottom and shelf are 924.
    /// - Doors go, with four lippings each.
    #[test]
    fn doors_dropped_80_wider_shelves_300_deep_with_both_sides_cut() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path();
        assert_eq!(rodwright(at, &["start", "case", "--job", "@/hall"]).0, Ended::Done);
        fs::write(at.join("cut.txt"), "Left side\nRight side\n").unwrap();
        let was = ["--was", "width=880", "--was", "depth=338", "--was", "doors=lipped"];
        let set = ["--set", "width=960", "--set", "depth=318", "--set", "doors=none"];
        let line =
            ["compare", "@/hall/hall.rhai", "@/hall/hall.rhai", "--cut", "@/cut.txt", "--out", "@/out"];
        let (ended, said) = rodwright(at, &[&line[..], &was[..], &set[..]].concat());
        assert_eq!(ended, Ended::Done, "{said}");
        assert!(said.contains("2 cut parts are lost"), "{said}");
        let text = fs::read_to_string(at.join("out/hall-change.csv")).unwrap();
        let rows: Vec<Vec<&str>> =
            text.lines().skip(1).map(|line| line.splitn(8, ',').skip(1).collect()).collect();
        let side = "\"take 20 mm off the face edge; a lipping comes off with that; plug 4 holes; 7 old cuts stay out \
                    of sight in the joints; to be cut: loose tenons with Top and Bottom; true as cut: housing with Shelf \
                    and groove with Back\"";
        let off = "it comes off with the part it is glued to";
        let by_hand = [
            ["Left side", "600 × 332 × 18", "600 × 312 × 18", "1", "1", "trim", side],
            ["Right side", "600 × 332 × 18", "600 × 312 × 18", "1", "1", "trim", side],
            ["Top", "844 × 332 × 18", "924 × 312 × 18", "1", "0", "other size", ""],
            ["Bottom", "844 × 332 × 18", "924 × 312 × 18", "1", "0", "other size", ""],
            ["Shelf", "852 × 314 × 18", "932 × 294 × 18", "1", "0", "other size", ""],
            ["Back", "575 × 855 × 6", "575 × 935 × 6", "1", "0", "other size", ""],
            ["Left side lipping", "600 × 18 × 6", "600 × 18 × 6", "1", "1", "make anew", off],
            ["Right side lipping", "600 × 18 × 6", "600 × 18 × 6", "1", "1", "make anew", off],
            ["Top lipping", "844 × 18 × 6", "924 × 18 × 6", "1", "0", "other size", ""],
            ["Bottom lipping", "844 × 18 × 6", "924 × 18 × 6", "1", "0", "other size", ""],
            ["Shelf lipping", "844 × 18 × 6", "924 × 18 × 6", "1", "0", "other size", ""],
        ];
        for row in by_hand {
            assert!(rows.iter().any(|one| one.as_slice() == row), "{row:?} in {text}");
        }
        let dropped: Vec<&Vec<&str>> = rows.iter().filter(|row| row.get(5) == Some(&"dropped")).collect();
        assert_eq!(dropped.len(), 10, "{text}");
        assert_eq!(rows.len(), by_hand.len() + dropped.len(), "{text}");
    }

    /// Layouts of sides, tops, shelf and door as pieces of one sheet: after the sides are
    /// cut, the rest comes out of what is left of it and nothing is bought; after the top
    /// is cut too, out of what is left of that. Nothing lies where something was cut: what
    /// is left and what is cut are together no more than the sheet inside its trims, 2420
    /// by 1200, less the saw cuts.
    #[test]
    fn what_is_cut_stays_where_it_is_and_the_rest_is_laid_out_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path();
        fs::write(at.join("case.rhai"), CASE).unwrap();
        let set = |list: &str, more: &[&str]| {
            fs::write(at.join("cut.txt"), list).unwrap();
            let line = ["setout", "@/case.rhai", "--out", "@/set", "--cut", "@/cut.txt"];
            let (ended, said) = rodwright(at, &[&line[..], more].concat());
            assert_eq!(ended, Ended::Done, "{said}");
            said
        };
        assert_eq!(rodwright(at, &["setout", "@/case.rhai", "--out", "@/set"]).0, Ended::Done);
        let read = |file: &str| fs::read_to_string(at.join("set").join(file)).unwrap();
        let bought = || {
            let list = read("case-buying-list.csv");
            list.lines().any(|line| line.contains("Birch plywood") && !line.contains("From the shop"))
        };
        assert!(bought());
        let said = set("Left side\nRight side\n", &[]);
        assert!(said.contains("left-of-cut"), "{said}");
        assert!(!bought(), "{}", read("case-buying-list.csv"));
        let left = area_left(&said);
        let cut = 2.0 * 500.0 * 320.0;
        assert!(left > 0.6 * (2420.0 * 1200.0 - cut) && left + cut < 2420.0 * 1200.0, "{said}");
        let laid = read("case-layouts.csv");
        for part in ["Top", "Bottom", "Shelf", "Door"] {
            assert!(laid.contains(part), "{laid}");
        }
        // Said once more, the same comes out, and nothing is used twice.
        let job = read("case-job.json");
        assert_eq!(set("Left side\nRight side\n", &[]), said);
        assert_eq!((read("case-layouts.csv"), read("case-job.json")), (laid, job));
        let said = set("Left side\nRight side\nTop\n", &[]);
        let less = area_left(&said);
        assert!(less <= left - 564.0 * 320.0 && less > 0.0, "{left} {said}");
        assert!(!bought());
        // The sides are too narrow for a case 340 deep; what is left of the sheet still serves.
        let said = set("Left side\nRight side\nTop\n", &["--set", "deep=340"]);
        assert!(said.contains("cut-part-lost") && said.contains("left-of-cut"), "{said}");
        assert!(read("case-layouts.csv").contains("Left side"));
    }

    /// What is left is read from the job file; sizes
    /// that were edited to nonsense count for nothing.
    #[test]
    fn sizes_that_cannot_be_are_left_out_of_account() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path();
        fs::write(at.join("job.rhai"), SIDES).unwrap();
        fs::write(at.join("cut.txt"), "Left side\n").unwrap();
        assert_eq!(rodwright(at, &["setout", "@/job.rhai", "--out", "@/set"]).0, Ended::Done);
        let job = fs::read_to_string(at.join("set/job-job.json")).unwrap();
        for wrong in ["-2420.0", "1e300", "0.0"] {
            fs::write(at.join("edited.json"), job.replace("2420.0", wrong).replace("500.0", wrong)).unwrap();
            let line =
                ["setout", "@/job.rhai", "--out", "@/new", "--since", "@/edited.json", "--cut", "@/cut.txt"];
            let (ended, said) = rodwright(at, &line);
            assert_eq!(ended, Ended::Done, "{wrong}: {said}");
            let shown = said.split("is cut: ").nth(1).map_or("", |rest| rest.lines().next().unwrap());
            let mut sides = shown.split([' ', ',']).filter_map(|word| word.parse::<f64>().ok());
            assert!(sides.all(|side| side > 0.0 && side <= 2440.0), "{wrong}: {shown}");
        }
    }

    /// The area in mm² of the sizes that are said to be left.
    fn area_left(said: &str) -> f64 {
        let line = said.lines().find(|line| line.contains("left-of-cut")).unwrap();
        let figures = line.split("is cut: ").nth(1).unwrap().replace(" and ", ", ");
        let number = |text: &str| text.trim().parse::<f64>().unwrap();
        figures.split(", ").map(|size| size.split(" × ").map(number).product::<f64>()).sum()
    }

    /// A piece in the shop that the script tells of is not there whole once a part is cut
    /// from it, however often the set is made.
    #[test]
    fn a_piece_on_hand_that_is_cut_is_not_there_twice() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path();
        let script = r#"job("Trays", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], price: 70, on_hand: [#{ size: [1300, 400], count: 1 }] });
piece("Trays");
for i in [1, 2] { panel("Tray " + i, ply, #{ x: [0, 600], y: [0, 300], z: [i * 100, i * 100 + 18], grain: "x" }); }
"#;
        fs::write(at.join("job.rhai"), script).unwrap();
        fs::write(at.join("cut.txt"), "Tray 1\n").unwrap();
        assert_eq!(rodwright(at, &["setout", "@/job.rhai", "--out", "@/set"]).0, Ended::Done);
        // Ripped to 300 first, and 1300 - 600 - 3.2 is left: the second tray lies in 696.8 by
        // 300, and so it stays.
        for _ in 0..2 {
            let (ended, said) =
                rodwright(at, &["setout", "@/job.rhai", "--out", "@/set", "--cut", "@/cut.txt"]);
            assert_eq!(ended, Ended::Done, "{said}");
            assert!(said.contains("left of `Ply` that is cut: 696.8 × 300"), "{said}");
            let layouts = fs::read_to_string(at.join("set/job-layouts.csv")).unwrap();
            assert!(layouts.contains("696.8") && !layouts.contains("1300"), "{layouts}");
        }
    }

    /// The client's sheet does not call a part of another size, or cut down, of which only
    /// holes are plugged: as wide as before and no doors, the sides are as they were.
    #[test]
    fn a_part_with_plugged_holes_is_not_said_to_be_smaller() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path();
        assert_eq!(rodwright(at, &["start", "case", "--job", "@/hall"]).0, Ended::Done);
        fs::write(at.join("cut.txt"), "Left side\nRight side\n").unwrap();
        let line =
            ["compare", "@/hall/hall.rhai", "@/hall/hall.rhai", "--cut", "@/cut.txt", "--out", "@/out"];
        let was = ["--was", "width=880", "--was", "doors=lipped", "--set", "width=960"];
        assert_eq!(rodwright(at, &[&line[..], &was[..]].concat()).0, Ended::Done);
        let file = fs::read(at.join("out/hall-change.pdf")).unwrap();
        let text = lopdf::Document::load_mem(&file).unwrap().extract_text(&[1]).unwrap();
        for words in [
            "Made in another size: Top, Bottom, Shelf and Back.",
            "Of the same size, worked otherwise: Left side and Right side.",
            "Used, with some more work: Left side and Right side.",
        ] {
            assert!(text.contains(words), "{words}: {text}");
        }
        assert!(!text.contains("Cut down"), "{text}");
    }
}
