//! Kinds of values in words.

use crate::measure;
use crate::model::{OptionKind, Side};

/// One of each kind, for the page that explains them all.
pub(super) const ALL: [OptionKind; 22] = [
    OptionKind::Length { min: 0.0, max: 0.0 },
    OptionKind::Lengths,
    OptionKind::Pair,
    OptionKind::Count { min: 0, max: 0 },
    OptionKind::Angle { min: 0.0, max: 0.0 },
    OptionKind::Ratio { min: 0.0, max: 0.0 },
    OptionKind::Text,
    OptionKind::Texts,
    OptionKind::Choice(&[]),
    OptionKind::YesNo,
    OptionKind::Side,
    OptionKind::Sides,
    OptionKind::Stock,
    OptionKind::Span,
    OptionKind::Turn,
    OptionKind::Runs,
    OptionKind::Points,
    OptionKind::Places,
    OptionKind::Stations,
    OptionKind::Sheets,
    OptionKind::Boards,
    OptionKind::Revisions,
];

/// What a kind is called.
pub(super) fn name(kind: OptionKind) -> &'static str {
    match kind {
        OptionKind::Length { .. } => "length",
        OptionKind::Count { .. } => "whole number",
        OptionKind::Angle { .. } => "angle",
        OptionKind::Ratio { .. } => "number",
        OptionKind::Choice(_) => "one of",
        OptionKind::YesNo => "yes or no",
        OptionKind::Text => "text",
        OptionKind::Pair => "two lengths",
        OptionKind::Lengths => "lengths",
        OptionKind::Side => "side",
        OptionKind::Sides => "sides",
        OptionKind::Stock => "stock",
        OptionKind::Points => "points",
        OptionKind::Places => "places",
        OptionKind::Span => "space",
        OptionKind::Texts => "texts",
        OptionKind::Stations => "stations",
        OptionKind::Sheets => "sheets",
        OptionKind::Boards => "boards",
        OptionKind::Turn => "turn",
        OptionKind::Runs => "line",
        OptionKind::Revisions => "revisions",
    }
}

/// What a value can be; empty where its kind is enough.
pub(super) fn range(kind: OptionKind) -> String {
    match kind {
        OptionKind::Length { min, max } => format!("{} mm", from_to(min, max)),
        OptionKind::Count { min, max } => format!("{min} to {max}"),
        OptionKind::Angle { min, max } => format!("{}°", from_to(min, max)),
        OptionKind::Ratio { min, max } => from_to(min, max),
        OptionKind::Choice(among) => {
            among.iter().map(|one| format!("\"{one}\"")).collect::<Vec<_>>().join(", ")
        }
        OptionKind::YesNo => "true, false".into(),
        _ => String::new(),
    }
}

/// Two numbers with `to` between them, in signs a keyboard has.
fn from_to(min: f64, max: f64) -> String {
    let shown = |value| measure::number(value, 2).replace('−', "-");
    format!("{} to {}", shown(min), shown(max))
}

/// A sentence about a kind whose name does not show how it is written.
pub(super) fn explained(kind: OptionKind) -> Option<String> {
    let message = match kind {
        OptionKind::Pair => "joined by x, such as \"8x40\", or as a list, [8, 40]".into(),
        OptionKind::Lengths => "one length or a list of them, such as [64, 96, 128]".into(),
        OptionKind::Side => format!("of the piece as one stands before it: {}", sides()),
        OptionKind::Sides => format!("one side of the piece or a list of them: {}", sides()),
        OptionKind::Stock => "what a word such as `sheet_stock` or `board_stock` gave".into(),
        OptionKind::Points => {
            "a list of corners [x, y], in order round the part and not closed: the last meets the first; x counts along \
             the grain from the near end (in an end along the width, from the edge mark), and y across it from the edge \
             mark (in an edge or end from the face mark), whatever side is named; where an arc leaves a corner, #{ at: [x, y], rise: 12 } with how far its \
             middle stands off the straight line to the next corner, above 0 outward and below 0 hollow, or #{ at: [x, \
             y], through: [x, y] } with a point it runs through"
                .into()
        }
        OptionKind::Places => {
            "one place or a list of them, [[40, 30], [260, 30]]: of each how far along the grain from the near end, then how \
             far across it from the marked edge"
                .into()
        }
        OptionKind::Span => {
            "[from, to], of which each may be `against(part)`, or `between(part, part)`".into()
        }
        OptionKind::Texts => "a list of texts, such as [\"groove\", \"rebate\"]".into(),
        OptionKind::Stations => {
            "a list of [along, diameter], from 0 upwards, with how the profile runs on as a third: \
             \"straight\", \"taper\" to another diameter, \"cove\", \"bead\", or \"fillet\", which keeps its \
             diameter and ends in a square step"
                .into()
        }
        OptionKind::Sheets => {
            "one or a list of #{ size: [2440, 1220], price: 96.0, count: 2 }, of which only the size \
                               must be given; [2440, 1220] is a size alone"
                .into()
        }
        OptionKind::Boards => {
            "one or a list of #{ thick: 34, size: [2100, 240], count: 2, edge: 15, defects: [[600, 680]] }, of \
                               which sawn thickness and size must be given; edge, sapwood or wane of each long edge, and \
                               defects, from and to along the length, are cut out"
                .into()
        }
        OptionKind::Turn => {
            "#{ axis: \"x\", by: 10, about: [0, 0, 0] }, or a list of them, each of the part as the last has left it: \
             the axis of the piece, a direction [1, 0, 1], or the part's own \"length\", \"width\" or \"thickness\"; \
             the angle in degrees; a point the line of the turn runs through, [0, 0, 0], an edge or corner of the \
             part, \"front bottom\", or of another, #{ of: seat, at: \"back top\" }"
                .into()
        }
        OptionKind::Runs => {
            "#{ from: left, to: right, through: [0, 20, 300], toward: [1, 0, 0.2], wide: 60, thick: 22, roll: 0 }: each \
             end on the face of a part or at a point of the middle line; the line by two points, or by one in \
             `through` and its way in `toward`; the width stands upright, or is rolled by so many degrees, counted \
             counter-clockwise looking back from where it ends"
                .into()
        }
        OptionKind::Revisions => {
            "a list of #{ rev: \"A\", date: \"2026-03-31\", says: \"wider by 40 mm\" }, oldest first".into()
        }
        OptionKind::Length { .. }
        | OptionKind::Count { .. }
        | OptionKind::Angle { .. }
        | OptionKind::Ratio { .. }
        | OptionKind::Choice(_)
        | OptionKind::YesNo
        | OptionKind::Text => return None,
    };
    Some(message)
}

/// A sentence about any kind.
pub(super) fn told(kind: OptionKind) -> String {
    explained(kind).unwrap_or_else(|| {
        match kind {
            OptionKind::Length { .. } => {
                "a number in the script's unit, such as 18 or 5/8, or a text with its unit, such as \"18 mm\" or \
                 \"23 5/8\"; ranges are given in mm"
            }
            OptionKind::Count { .. } => "a number without a fraction",
            OptionKind::Angle { .. } => "a number of degrees",
            OptionKind::Ratio { .. } => "a number without a unit",
            OptionKind::Choice(_) => "one of the texts named",
            OptionKind::YesNo => "true or false",
            _ => "a text in double quotes",
        }
        .into()
    })
}

/// The sides, as scripts name them.
fn sides() -> String {
    Side::ALL.map(|side| format!("\"{}\"", side.name())).join(", ")
}
