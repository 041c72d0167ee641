//! How a value is written that a word takes, for one that was given another.

use crate::model::{OptionKind, Takes};

/// How what an argument takes is written.
pub(in crate::script) fn cure(takes: Takes) -> &'static str {
    match takes {
        Takes::Part => "give a part by its name: `let side = panel(…);`, then `side`",
        Takes::Parts => "give a part by its name, or several as a list: `[left, right]`",
        Takes::Value(kind) => written(kind),
    }
}

/// How a value of a kind is written.
fn written(kind: OptionKind) -> &'static str {
    match kind {
        OptionKind::Length { .. } => {
            "write a number, or a text with its unit: `18`, `\"18 mm\"`, `\"3/4 in\"`"
        }
        OptionKind::Count { .. } | OptionKind::Angle { .. } | OptionKind::Ratio { .. } => {
            "write a number without quotes"
        }
        OptionKind::Choice(_) | OptionKind::Text => "write it in double quotes: `\"Oak\"`",
        OptionKind::YesNo => "write `true` or `false`, without quotes",
        OptionKind::Pair => "write both lengths in double quotes, joined by x: `\"8x40\"`",
        OptionKind::Lengths => "write a length, or a list of them: `[64, 96]`",
        OptionKind::Side | OptionKind::Sides => "write the side in double quotes: `\"left\"`",
        OptionKind::Stock => {
            "give a stock by its name: `let ply = sheet_stock(\"Birch plywood\", #{ thick: 18 });`, then `ply`"
        }
        OptionKind::Places => "write a list of places along and across: `[[40, 30], [260, 30]]`",
        OptionKind::Points => "write a list of corners: `[[0, 0], [300, 0], [0, 200]]`",
        OptionKind::Span => "write from where to where: `[0, 300]`, or `between(left, right)`",
        OptionKind::Texts => "write a list of texts: `[\"Side\", \"Shelf\"]`",
        OptionKind::Stations => "write a list of places and diameters: `[[0, 40], [300, 25]]`",
        OptionKind::Sheets => "write its length and width: `[2440, 1220]`",
        OptionKind::Boards => "write it as `#{ thick: 34, size: [2100, 240] }`",
        OptionKind::Turn => "write it as `#{ axis: \"x\", by: 10 }`",
        OptionKind::Runs => "write it as `#{ from: left, to: right }`",
        OptionKind::Revisions => "write it as `#{ rev: \"A\", says: \"first issue\" }`",
    }
}
