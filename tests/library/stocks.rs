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
const GIVEN: [(&str, &str); 8] = [
    ("a back that is not there", "case::make(#{ back: \"none\", sheet: ply, thin: thin, timber: oak });"),
    ("a name of the library's", "case::make(#{ back: \"none\", thin: \"oak plywood\" });"),
    ("as another is left out", "case::make(#{ back: \"none\", thin: \"as the sheet\" });"),
    ("all are used", "case::make(#{ sheet: ply, thin: thin, timber: oak });"),
    ("a solid top", "table::make(#{ top: \"solid\", sheet: ply });"),
    ("used in one of two", "table::make(#{ sheet: ply });\npiece(\"B\");\nmoved(2000, 0, 0, || table::make(#{ top: \"panel\", sheet: ply }));"),
    ("one map for two types", "let all = #{ sheet: ply, thin: thin, timber: oak };\ncase::make(#{ stock: all });\npiece(\"B\");\ntable::make(#{ stock: all });"),
    ("one map of which one is used nowhere", "let all = #{ sheet: ply, thin: thin, timber: oak };\ncase::make(#{ back: \"none\", stock: all });\npiece(\"B\");\ntable::make(#{ stock: all });"),
];

#[test]
fn a_stock_that_nothing_is_made_of_is_told() {
    let mut found = Vec::new();
    for (case, asks) in GIVEN {
        let text = format!("job(\"A\");\nimport \"case\" as case;\nimport \"table\" as table;\n{OWN}piece(\"A\");\n{asks}\n");
        let done = examine(&request("a", &text, Vec::new()));
        let errors = done.problems.iter().filter(|p| p.severity == Severity::Error).count();
        assert_eq!(errors, 0, "{case}\n{}", render_all(&done.problems, &done.sources));
        let told: Vec<_> = done.problems.into_iter().filter(|p| p.code == "unused-stock").collect();
        found.push((case, render_all(&told, &done.sources)));
    }
    golden(file!(), &found);
}
