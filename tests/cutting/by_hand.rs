//! Buying lists worked from the parts up by pencil, line by line. Rough sizes: 12.5 mm or
//! half an inch on the length of solid parts, 5 mm or 3/16 in on the width (E. Joyce, The
//! Technique of Furniture Making); the saw takes 3.2 mm or 1/8 in, 20 mm or 3/4 in is cut
//! off each end of a board, 10 mm off each edge of a sheet.

use rodwright::Choices;

use crate::support::scripts::request;

/// What of the written buying list stands in the columns for quantity, unit, price and
/// cost, line by line, after its name.
fn bought(script: &str) -> Vec<[String; 5]> {
    let set = rodwright::set_out(&request("hand.rhai", script.into()), &Choices::default());
    let file = set.files.iter().find(|file| file.name == "-buying-list.csv").unwrap();
    let text = String::from_utf8(file.bytes.clone()).unwrap();
    let row = |line: &str| {
        let cells = cells(line);
        [1, 5, 6, 7, 8].map(|at| cells[at].clone())
    };
    text.lines().skip(1).map(row).collect()
}

/// The cells of a line, of which some stand in quotation marks for a comma in them.
fn cells(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            c => cells.last_mut().unwrap().push(c),
        }
    }
    cells
}

fn lines(wanted: &[[&str; 5]]) -> Vec<[String; 5]> {
    wanted.iter().map(|line| line.map(str::to_owned)).collect()
}

/// A table in inches of boards 6 and 8 wide, 96 and 120 long, at 11.50 the board foot, each
/// board tallied by its surface to the nearest foot (NHLA rules as published for export
/// buyers) times its thickness in inches.
///
/// Legs, 28 1/2 by 2 3/16 of 10/4: two side by side take 4 1/2 of 6, two after one another
/// 57 1/8: a board of 96 by 6, 4 feet by 2 1/2 = 10.0, 115.00.
///
/// Top, four staves of 7 1/2, ripped 7 11/16, of 5/4: one to a board of 8, two after one
/// another 109 1/8: two boards of 120, each 6.67, so 7 feet by 1 1/4. What is left of them
/// is less than 15 %: a board of 96 by 6 more, 4 feet by 1 1/4. 17.5 + 5 = 22.5, 258.75.
///
/// Its three seams of 54 by 1 are 162 square inches, 1.125 square feet: at 0.6 oz each 0.675 oz
/// of glue, so 0.7.
///
/// Rails, 48 3/4 and 24 3/4 by 3 11/16 of 4/4: a long and a short one after one another
/// 73 5/8, two such strips side by side 7 1/2: a board of 96 by 8, 5.33, so 5 feet, 57.50.
///
/// Surface, sq in: legs 4 × (8 + 224), top 3240 + 168, rails 843.7 and 429.7: 5609 or
/// 38.95 sq ft. Two coats at 60 sq ft a pint: 1.298 pints, so 1.3, rounded once. Discs
/// 38.95 / 8 = 4.9, so 5 of each grit; a sheet does 40 sq ft.
#[test]
fn a_table_in_inches() {
    let script = r#"
job("Table", #{ unit: "in" });
let cherry = board_stock("Cherry", #{ thick: [1, 5/4, 6/4, 2, 10/4], lengths: [96, 120], widths: [6, 8], price_bf: 11.5 });
piece("Table");
for i in 0..4 { board("Leg " + i, cherry, #{ x: [i * 4, i * 4 + 2], y: [0, 2], z: [0, 28], grain: "z" }); }
board("Top", cherry, #{ x: [0, 54], y: [0, 30], z: [40, 41], grain: "x" });
for i in 0..2 { board("Rail " + i, cherry, #{ x: [0, 48 + 1/4], y: [10 + 4 * i, 10 + 4 * i + 13/16], z: [0, 3.5], grain: "x" }); }
for i in 0..2 { board("End " + i, cherry, #{ x: [0, 24 + 1/4], y: [20 + 4 * i, 20 + 4 * i + 13/16], z: [0, 3.5], grain: "x" }); }
finish("Oil", #{ coats: 2 });
"#;
    let wanted = lines(&[
        ["Cherry", "10", "board ft", "11.5", "115.00"],
        ["Cherry", "22.5", "board ft", "11.5", "258.75"],
        ["Cherry", "5", "board ft", "11.5", "57.50"],
        ["Wood glue", "0.7", "oz", "", ""],
        ["Oil", "1.3", "pints", "", ""],
        ["disc Ø 6″, grit 120", "5", "each", "", ""],
        ["disc Ø 6″, grit 180", "5", "each", "", ""],
        ["disc Ø 6″, grit 240", "5", "each", "", ""],
        ["sheet 9″ × 11″, grit 320, between coats", "1", "each", "", ""],
    ]);
    assert_eq!(bought(script), wanted);
}

/// Two cases of plywood, each of two sides and four shelves lipped in front, glued and
/// screwed.
///
/// Sheets: of 1200 inside the trims four strips of 296 and three saw cuts, 1193.6; along a
/// strip of 2420 two sides of 900 or three shelves of 764, 2298.4. Four sides are two
/// strips, eight shelves three: five, so two sheets, 192.00.
///
/// Lippings, 18 wide off boards of 27, ripped 8 for 6: 20 more than the parts are long, four
/// of 920 and eight of 784. Along 2360 go two of 920 or three of 784, 2358.4: five strips of
/// 8 and a saw cut, 56 of the width of a board of 2400. 2.4 × 0.056 × 0.027 × 1.15 =
/// 0.00417, so 0.0042 m³, at 2900 12.18.
///
/// Screws: four shelves, two ends, three each, two cases: 48; a box of 200 is 9.40.
///
/// Glue, m²: lippings 0.018 × 2 × (2 × 0.9 + 4 × 0.764) = 0.175, ends of shelves 16 × 0.018
/// × 0.3 = 0.086; 0.26 at 180 g is 47 g, so 0.05 kg of a bottle of 0.25 at 4.80.
#[test]
fn cases_of_sheet_goods() {
    let script = r#"
job("Cases", #{ unit: "mm" });
let ply = sheet_stock("Birch plywood", #{ thick: 18, sheet: [2440, 1220], grain: "length", price: 96 });
let ash = board_stock("Ash", #{ thick: [27, 34], lengths: [2400], width: 150, price_m3: 2900 });
piece("Case", #{ count: 2 });
let left = panel("Left side", ply, #{ x: [0, 18], y: [0, 300], z: [0, 900], grain: "z" });
let right = panel("Right side", ply, #{ x: [782, 800], y: [0, 300], z: [0, 900], grain: "z" });
let all = [left, right];
for i in 0..4 {
    let shelf = panel("Shelf " + i, ply, #{ x: [18, 782], y: [0, 300], z: [100 + i * 200, 118 + i * 200], grain: "x" });
    for side in [left, right] { butt(shelf, side); screws(side, shelf, #{ screw: "4x40", count: 3 }); }
    all += shelf;
}
lipping(all, "front", ash, #{ thick: 6 });
sold("screw 4 × 40", #{ pack: 200, price: 9.40 });
sold("Wood glue", #{ pack: 0.25, price: 4.80 });
"#;
    let wanted = lines(&[
        ["Birch plywood", "2", "off", "96", "192.00"],
        ["Ash", "0.0042", "m³", "2900", "12.18"],
        ["screw 4 × 40", "1", "packs", "9.4", "9.40"],
        ["Wood glue", "1", "packs", "4.8", "4.80"],
    ]);
    assert_eq!(bought(script), wanted);
}
