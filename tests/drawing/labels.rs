//! Labels: one for each part that is made, legible, on its own label.

use std::fs;
use std::path::PathBuf;

use rodwright::drawing::{LabelGrid, Look, Paper, PaperSeries, Profile, labels};
use rodwright::measure::Unit;
use rodwright::paper::lint::judge_set;
use rodwright::paper::{Ink, Role, Run, Sheet};
use rodwright::{draw, examine};

use crate::support::scripts::{request, scripts_in};

fn scripts() -> Vec<PathBuf> {
    ["scripts", "tests/drawing/families"].into_iter().flat_map(scripts_in).collect()
}

/// The texts of a sheet in reading order.
fn words(sheet: &Sheet) -> Vec<String> {
    let text = |ink: &Ink| match ink {
        Ink::Text(text) => {
            let run = |run: &Run| match run {
                Run::Plain(plain) => plain.clone(),
                Run::Fraction { num, den } => format!(" {num}/{den}"),
            };
            Some(text.runs.iter().map(run).collect::<String>())
        }
        _ => None,
    };
    sheet.marks.iter().filter_map(|mark| text(&mark.ink)).collect()
}

#[test]
fn a_label_says_what_the_part_is() {
    let text = r#"
job("Two shelves", #{ unit: "mm", owner: "Marram Workshop" });
let ply = sheet_stock("Birch plywood", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
let oak = board_stock("Oak", #{ thick: [27] });
piece("Shelf", #{ count: 2 });
let board = panel("Board", ply, #{ x: [0, 800], y: [0, 250], z: [0, 18], grain: "x" });
lipping(board, "front", oak, #{ thick: 6 });
"#;
    let done = examine(&request("two.rhai", text.into()));
    let (job, worked) = done.worked.unwrap_or_else(|| panic!("{:?}", done.problems));
    let look = Look::new(Paper::A4, Unit::Mm, Profile::Iso);
    let list = draw(&job, &worked, &look).lists.list;
    let sheets = labels(&job, &worked, &list, &look, &LabelGrid::usual(PaperSeries::Iso));
    let one = |copy: &'static str| {
        // What is sawn off when the lipping is on comes first: 2 mm by `cutting`.
        let sizes = ["rough 800 × 246 × 18", "800 × 244 × 18"];
        ["1", "Board", copy, sizes[0], sizes[1], "lip front 6: 2", "Birch plywood"]
    };
    // Two pieces are made, so there are two labels, each for one of them.
    assert_eq!(
        words(&sheets[0]),
        [one("Shelf 1 of 2, Two shelves"), one("Shelf 2 of 2, Two shelves")].concat()
    );
    let lipped = LabelGrid::usual(PaperSeries::Iso).with_lippings(true);
    let with: Vec<String> = labels(&job, &worked, &list, &look, &lipped).iter().flat_map(words).collect();
    assert_eq!(with.iter().filter(|word| *word == "lipping of Board").count(), 2, "{with:?}");
    // A lipping is sawn over size and trimmed: its rough size comes first.
    let rough = with.iter().rposition(|word| word.starts_with("rough ")).unwrap();
    // Ripped as 8 off the edge of a board sawn to 27.
    assert_eq!(with[rough], "rough 820 × 27 × 8");
    assert_eq!(with[rough + 1], "800 × 18 × 6", "{with:?}");
    assert_eq!((sheets.len(), sheets[0].width, sheets[0].height), (1, 210.0, 297.0));
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn every_part_has_a_label_and_nothing_runs_over_its_edge() {
        let papers = [
            (Look::new(Paper::A3, Unit::Mm, Profile::Iso), [(3, 8), (3, 7), (2, 4)]),
            (Look::new(Paper::Tabloid, Unit::Inch, Profile::Asme), [(2, 5), (3, 10), (2, 10)]),
        ];
        for path in scripts() {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            let done = examine(&request(&name, fs::read_to_string(&path).unwrap()));
            let (job, worked) = done.worked.unwrap_or_else(|| panic!("{name}: {:?}", done.problems));
            for (look, grids) in &papers {
                let list = draw(&job, &worked, look).lists.list;
                let wanted: usize = list.parts.iter().map(|row| row.quantity).sum();
                for (columns, rows) in grids {
                    let grid = LabelGrid::new(look.paper.series(), *columns, *rows).unwrap();
                    let sheets = labels(&job, &worked, &list, look, &grid);
                    assert_eq!(sheets.len(), wanted.div_ceil(grid.count()), "{name}");
                    let found = judge_set(&sheets);
                    assert!(found.is_empty(), "{name}, {columns} x {rows}: {found:?}");
                    let places: Vec<kurbo::Rect> = grid.places().collect();
                    let mut used = 0;
                    for sheet in &sheets {
                        let mut with_ink = vec![false; places.len()];
                        let (wide, high) = grid.paper();
                        let printed = kurbo::Rect::new(5.0, 5.0, wide - 5.0, high - 5.0).inflate(0.2, 0.2);
                        for mark in sheet.marks.iter().filter(|m| m.role != Role::Mask) {
                            let ink = mark.bounds();
                            assert!(
                                printed.union(ink) == printed,
                                "{name}: {ink:?} is within 5 mm of the edge"
                            );
                            let on = places
                                .iter()
                                .position(|p| p.inflate(0.3, 0.3).union(ink) == p.inflate(0.3, 0.3));
                            let on = on.unwrap_or_else(|| panic!("{name}: {ink:?} is on no label"));
                            with_ink[on] = true;
                        }
                        used += with_ink.iter().filter(|w| **w).count();
                    }
                    assert_eq!(used, wanted, "{name}");
                }
            }
        }
    }
}
