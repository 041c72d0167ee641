//! The buying list as CSV and JSON. Lengths are millimetres.

use super::csv;
use super::number::short;
use crate::File;
use crate::cutting::{BuyingList, Group};
use crate::wording::Words;

/// The files of the list; none where nothing is bought.
pub(super) fn files(buying: &BuyingList, words: Words) -> Vec<File> {
    if buying.lines.is_empty() {
        return Vec::new();
    }
    let json = serde_json::to_string_pretty(&Order::of(buying, words)).unwrap_or_default() + "\n";
    vec![
        File { name: "-buying-list.csv".into(), bytes: csv::write(&rows(buying, words)).into_bytes() },
        File { name: "-buying-list.json".into(), bytes: json.into_bytes() },
    ]
}

/// The list as JSON has it.
#[derive(serde::Serialize)]
struct Order<'a> {
    lines: Vec<Line<'a>>,
}

/// One of its lines.
#[derive(serde::Serialize)]
struct Line<'a> {
    group: Group,
    what: String,
    size: &'a [f64],
    quantity: f64,
    unit: &'static str,
    note: String,
    price: Option<f64>,
}

impl<'a> Order<'a> {
    /// A list in words.
    fn of(buying: &'a BuyingList, words: Words) -> Self {
        let lines = buying.lines.iter().map(|line| Line {
            group: line.group,
            what: line.what.name(words),
            size: &line.size,
            quantity: line.quantity,
            unit: line.unit,
            note: line.remark(words),
            price: line.price,
        });
        Self { lines: lines.collect() }
    }
}

/// The list as rows, heads first.
pub(super) fn rows(buying: &BuyingList, words: Words) -> Vec<Vec<String>> {
    let head = [
        "group",
        "what",
        "length mm",
        "width mm",
        "thickness mm",
        "quantity",
        "unit",
        "price",
        "cost",
        "remark",
    ];
    let mut rows = vec![head.map(String::from).to_vec()];
    for line in &buying.lines {
        // A single size is a thickness.
        let size: Vec<String> = line.size.iter().map(|mm| short(*mm)).collect();
        let [long, wide, thick] = match size.as_slice() {
            [thick] => [String::new(), String::new(), thick.clone()],
            [long, wide] => [long.clone(), wide.clone(), String::new()],
            [long, wide, thick, ..] => [long.clone(), wide.clone(), thick.clone()],
            [] => Default::default(),
        };
        rows.push(vec![
            line.group.name().into(),
            line.what.name(words),
            long,
            wide,
            thick,
            quantity(line.quantity),
            line.unit.into(),
            line.price.map(short).unwrap_or_default(),
            line.cost().map(|cost| format!("{cost:.2}")).unwrap_or_default(),
            line.remark(words),
        ]);
    }
    rows
}

/// A quantity with up to five decimals: small boards are hundred thousandths
/// of a cubic metre.
fn quantity(amount: f64) -> String {
    crate::measure::number(amount, 5)
}
