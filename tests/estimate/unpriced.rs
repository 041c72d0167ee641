//! What has no price is never quoted, and what a price is for.

use rodwright::estimate::{Decimal, read};
use rodwright::problem::render_all;
use rodwright::quoting::worked_out;

use crate::support::golden::golden;
use crate::support::scripts::request;

/// The least that rates must say.
const LEAST: &str = "currency = \"GBP\"\nhourly = 38.00\n[profit]\nmarkup = 20\n";

/// A board and a pane, so that lines of several units come.
const PIECE: &str = "job(\"Box\", #{ unit: \"mm\" });\n\
    let ash = board_stock(\"Ash\", #{ thick: [27] });\nlet glass = glass_stock(\"Float glass\", #{ thick: 4 });\n\
    piece(\"Box\");\nlet front = board(\"Front\", ash, #{ x: [0, 300], y: [0, 20], z: [0, 90], grain: \"x\" });\n\
    pane(\"Pane\", glass, #{ x: [0, 300], y: [30, 34], z: [0, 90] });\nfinish(\"Wax\", #{ coats: 1 });\n";

fn unquoted(more: &str) -> String {
    let (rates, problems, sources) = read("rates.toml", &format!("{LEAST}{more}"));
    assert_eq!(render_all(&problems, &sources), "");
    let (worked, found) = worked_out(&request("box.rhai", PIECE.into()), &rates.unwrap(), 1);
    assert!(worked.is_none(), "it is quoted");
    found.iter().map(|lot| render_all(&lot.problems, &lot.sources)).collect()
}

#[test]
fn nothing_is_quoted_without_all_prices() {
    let bare = "job(\"Bare\");\npiece(\"Nothing\");\n";
    let (rates, ..) = read("rates.toml", LEAST);
    let (none, found) = worked_out(&request("bare.rhai", bare.into()), &rates.unwrap(), 1);
    assert!(none.is_none());
    let bare: String = found.iter().map(|lot| render_all(&lot.problems, &lot.sources)).collect();
    let prices = "[prices]\n\"Float glass\" = 3\n\"Ash\" = { price = 40.0, per = \"l\" }\n\"Wax\" = 2\n";
    let sundries = "[allow]\nsundries = 4\n";
    let good = format!("{sundries}[prices]\n\"Float glass\" = 3\n\"Ash\" = 2900\n\"Wax\" = 2\n");
    let cases = [
        ("three without a price", unquoted(sundries)),
        ("priced by what it is not bought by", unquoted(&format!("{sundries}{prices}"))),
        (
            "lines that are not there",
            unquoted(&format!(
                "{good}[overrule.minutes]\n\"cut.mortice\" = 4\n[overrule.cost]\n\"Walnut\" = 4\n"
            )),
        ),
        ("no parts", bare),
    ];
    golden(file!(), &cases);
}

/// A price for a square metre is for the area of the panes, one for a board foot for that
/// of the boards.
#[test]
fn prices_are_for_what_they_say() {
    let text = format!(
        "{LEAST}[allow]\nsundries = 4\n[prices]\n\"Float glass\" = {{ price = 100.0, per = \"m2\" }}\n\"Ash\" = {{ price = 8.0, per = \"board foot\" }}\n\"Wax\" = 2\n"
    );
    let rates = read("rates.toml", &text).0.unwrap();
    let estimate = worked_out(&request("box", PIECE.into()), &rates, 1).0.unwrap().estimate;
    let line = |begins: &str| estimate.goods.iter().find(|line| line.name.starts_with(begins)).unwrap();
    // 0.3 by 0.09 m is 0.027 m², at 100.00.
    assert_eq!(line("Float glass").cost.to_string(), "2.70");
    assert_eq!(
        (line("Ash").unit, line("Ash").cost),
        ("board ft", line("Ash").quantity * "8.00".parse::<Decimal>().unwrap())
    );
}
