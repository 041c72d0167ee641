//! Stocks given to types of the library: one that nothing is made of is told, whatever type
//! it was given to. `UPDATE=1 cargo test --test suite library::stocks` writes the golden text
//! anew; read it before it is kept.

use rodwright::examine;
use rodwright::problem::{Severity, render_all};

use crate::library::made::request;
use crate::support::golden::golden;

/// Stocks of the script's own.
const OWN: &str = "let ply = sheet_stock(\"Own ply\", #{ thick: 18, sheet: [2440, 1220], grain: \"length\" });\n\
    let thin = sheet_stock(\"Own thin\", #{ thick: 6, sheet: [2440, 1220], grain: \"length\" });\n\
    let oak = board_stock(\"Own oak\", #{ thick: [27, 34], species: \"white oak\" });\n";

/// What each case asks for.
const GIVEN: [(&str, &str); 4] = [
    ("a back that is not there", "case::make(#{ back: \"none\", sheet: ply, thin: thin, timber: oak });"),
    ("a name of the library's", "case::make(#{ back: \"none\", thin: \"oak plywood\" });"),
    ("a solid top", "table::make(#{ top: \"solid\", sheet: ply });"),
    (
        "one map of which one is used nowhere",
        "let all = #{ sheet: ply, thin: thin, timber: oak };\ncase::make(#{ back: \"none\", stock: all });\n\
         piece(\"B\");\ntable::make(#{ stock: all });",
    ),
];

/// What is used after all, or is no stock of its own.
const USED: [&str; 4] = [
    "case::make(#{ back: \"none\", thin: \"as the sheet\" });",
    "case::make(#{ sheet: ply, thin: thin, timber: oak });",
    "for top in [\"solid\", \"panel\"] { moved(if top == \"solid\" { 0 } else { 3000 }, 0, 0, || table::make(#{ top: top, sheet: ply })); }",
    "let all = #{ sheet: ply, thin: thin, timber: oak };\ncase::make(#{ stock: all });\npiece(\"B\");\n\
     table::make(#{ stock: all });",
];

/// What is told of unused stocks in a script that asks for this.
fn told(asks: &str) -> String {
    let text = format!(
        "job(\"A\");\nimport \"case\" as case;\nimport \"table\" as table;\n{OWN}piece(\"A\");\n{asks}\n"
    );
    let done = examine(&request("a", &text, Vec::new()));
    let all = render_all(&done.problems, &done.sources);
    assert!(done.problems.iter().all(|p| p.severity != Severity::Error), "{asks}\n{all}");
    let told: Vec<_> = done.problems.into_iter().filter(|p| p.code == "unused-stock").collect();
    render_all(&told, &done.sources)
}

#[test]
fn a_stock_that_nothing_is_made_of_is_told() {
    let found: Vec<_> = GIVEN.into_iter().map(|(case, asks)| (case, told(asks))).collect();
    golden(file!(), &found);
    for asks in USED {
        assert_eq!(told(asks), "", "{asks}");
    }
}
